"""The shopping list: stock, hardware, glue and finish, and the tools to have at hand.

Takes a `SoundPlan`; gives its page. Quantities of stock are those of the cut plan; glue and finish
are estimates, and say by what figure.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.cutting.records import Measure
from benchleaf.frames import Number
from benchleaf.lengths import MM_PER_INCH
from benchleaf.piece.records import ContactKind
from benchleaf.reading.plan import Finish, Stock, StockKind
from benchleaf.sequencing.finishes import find_finish, grit_between_coats, sanding_grits
from benchleaf.site.records import Page, Section
from benchleaf.site.show import show_count, show_list
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Cell, Column, Table, write_row
from benchleaf.site.views.taken import count_taken
from benchleaf.site.views.tools import list_tools

# from memory: PVA is spread at 35 to 50 lb to 1000 sq ft of single glue line, which is a wet film
# of 5.5 to 8 mil; 0.2 mm is the heavy end, as a shopping list should be.
GLUE_FILM_MM: Final = Fraction(2, 10)
# from memory: data sheets of film finishes state 10 to 12 m2 to the litre and coat; 10 is the
# thirsty end.
FINISH_M2_PER_LITRE: Final = 10
# NIST SP 811 (2008), appendix B.8: US fluid ounce, US gallon, square foot.
_ML_PER_FL_OZ: Final = 29.5735
_LITRES_PER_GALLON: Final = 3.785412
_M2_PER_SQUARE_FOOT: Final = 0.09290304


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialsView:
    """Context of `materials.html`."""

    stock: Table
    hardware: Table | None
    supplies: Table


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolsView:
    """Context of `tools.html`."""

    shelves: tuple[Table, ...]


def view_materials(sound: SoundPlan) -> Page:
    """Make the page of all that has to be bought and found before the work begins."""
    view = MaterialsView(
        stock=_list_stock(sound),
        hardware=_list_hardware(sound),
        supplies=_list_supplies(sound),
    )
    sections = [Section(heading="", anchor="list", template="materials.html", view=view)]
    shelves = list_tools(sound)
    if shelves:
        tools = ToolsView(shelves=shelves)
        sections.append(Section(heading="Tools", anchor="tools", template="tools.html", view=tools))
    return Page(
        key="materials",
        title="Materials",
        short_title="Materials",
        description=f"Shopping list for {sound.plan.title}: stock, hardware, finish and tools.",
        sections=tuple(sections),
        parent="index",
        place=sound.place("stock"),
    )


def _list_stock(sound: SoundPlan) -> Table:
    bounds = dict(sound.cut_plan.lower_bounds)
    proofs = {proof.stock: proof for proof in sound.cut_plan.proofs}
    rows = []
    for stock in sound.cut_plan.stock:
        proof = proofs.get(stock.name)
        is_counted = proof is None or proof.measure is Measure.PIECES
        fewest = str(bounds.get(stock.name, "")) if is_counted else ""
        sizes = [size for size in count_taken(sound, stock) if not size[0]]
        for index, (_, length_mm, width_mm, count) in enumerate(sizes):
            rows.append(
                (
                    Cell(""),
                    Cell(str(count)),
                    Cell(f"{stock.kind} of {stock.material}", note=_note_stock(sound, stock)),
                    Cell(_size_of_stock(sound, stock, (length_mm, width_mm))),
                    # of all lengths of the stock together
                    Cell("" if index else fewest),
                )
            )
    columns = (
        Column("Got it", "tick"),
        Column("Buy", "number"),
        Column("What"),
        Column(f"Size, {sound.show.unit}"),
        Column("Fewest possible", "number"),
    )
    return Table(caption="Stock to buy", columns=columns, rows=tuple(rows))


def _note_stock(sound: SoundPlan, stock: Stock) -> str:
    """The stock's name; of a rod that is cut up for joints, the pegs that it gives."""
    parts = [b.part for b in sound.cut_plan.blanks if b.is_hardware and b.stock == stock.name]
    pegs = [
        f"{show_count(count, kind)} {size}"
        for (kind, _, size), count in Counter(part.partition(" ") for part in parts).items()
    ]
    return f"{stock.name}; gives {show_list(pegs)}" if pegs else stock.name


def _size_of_stock(sound: SoundPlan, stock: Stock, size_mm: tuple[Fraction, Fraction]) -> str:
    show = sound.show
    length_mm, width_mm = size_mm
    if stock.kind is StockKind.ROD:
        return f"⌀ {show.length(stock.thickness_mm)}, {show.length(length_mm)} long"
    if stock.kind is StockKind.BOARD:
        return f"{show.size(stock.thickness_mm, stock.width_mm)}, {show.length(length_mm)} long"
    return f"{show.size(*sorted((width_mm, length_mm)))}, {show.length(stock.thickness_mm)} thick"


def _list_hardware(sound: SoundPlan) -> Table | None:
    counts: Counter[tuple[str, str]] = Counter()
    for fit in sound.joinery.fits:
        for item in fit.hardware:
            counts[item.kind, item.size] += item.count
    # What is cut from rods is bought as rods.
    cut = Counter(blank.part for blank in sound.cut_plan.blanks if blank.is_hardware)
    counts = Counter({key: count - cut[" ".join(key)] for key, count in counts.items()})
    counts = +counts
    if not counts:
        return None
    items = {(item.kind, item.size): item for fit in sound.joinery.fits for item in fit.hardware}
    rows = tuple(
        write_row("", str(count), kind, items[kind, size].size_in(sound.show.unit))
        for (kind, size), count in sorted(counts.items())
    )
    columns = (
        Column("Got it", "tick"),
        Column("Need", "number"),
        Column("What"),
        Column("Size"),
    )
    return Table(caption="Hardware", columns=columns, rows=rows)


def _list_supplies(sound: SoundPlan) -> Table:
    rows = [*_glue_row(sound), *_finish_rows(sound)]
    columns = (
        Column("Got it", "tick"),
        Column("What"),
        Column("About", "number"),
        Column("Reckoned from"),
    )
    return Table(caption="Glue, abrasives and finish", columns=columns, rows=tuple(rows))


def _glue_row(sound: SoundPlan) -> list[tuple[Cell, ...]]:
    area_mm2 = glue_area_mm2(sound)
    if not area_mm2:
        return []
    litres = float(area_mm2 * GLUE_FILM_MM) / 1e6
    film = f"{sound.show.area(area_mm2)} of glue line, {_show_film(sound)} of wet glue"
    return [write_row("", f"{sound.plan.shop.glue} glue", _show_volume(sound, litres), film)]


def glue_area_mm2(sound: SoundPlan) -> Number:
    """Area of all glue lines: of glued joints, and between the layers of glued-up blanks."""
    joints = sum(
        (fit.glue_area_mm2 for fit in sound.joinery.fits if fit.is_glued), start=Fraction(0)
    )
    between_layers = sum(
        (
            blank.length_mm
            * (sound.plan.stock[blank.stock].thickness_mm if blank.is_strip else blank.width_mm)
            for blank in sound.cut_plan.blanks
            if blank.layer > 1  # each layer or board after the first lies on a glue line
        ),
        start=Fraction(0),
    )
    return joints + between_layers


def _finish_rows(sound: SoundPlan) -> list[tuple[Cell, ...]]:
    finish = sound.plan.finish
    grits = show_list([str(grit) for grit in sanding_grits(finish)])
    rows = [write_row("", f"abrasive, grit {grits}", "", "bare wood, coarse to fine")]
    if finish is None or not finish.coats:
        return rows
    if finish.coats > 1:
        grit = f"abrasive, grit {grit_between_coats(finish)}"
        rows.append(write_row("", grit, "", "between the coats"))
    area_mm2 = outside_area_mm2(sound)
    litres = float(area_mm2) / 1e6 * finish.coats / FINISH_M2_PER_LITRE
    reckoned = (
        f"{show_count(finish.coats, 'coat')} on {sound.show.area(area_mm2)}, "
        f"{_show_coverage(sound)}"
    )
    rows.append(write_row("", finish.material, _show_volume(sound, litres), reckoned))
    return [*rows, *_rag_rows(finish)]


def _rag_rows(finish: Finish) -> list[tuple[Cell, ...]]:
    """Rags, where the finish is wiped on."""
    if not find_finish(finish.material).is_wiped:
        return []
    # Common practice, no source: one to put a coat on, one to wipe it off; none is used twice.
    words = "two for each coat, one on and one off"
    return [write_row("", "lint-free rags", str(2 * finish.coats), words)]


def outside_area_mm2(sound: SoundPlan) -> Number:
    """Area of all faces of all parts, shoulder to shoulder, less what touches another part."""
    faces: Number = Fraction(0)
    for copy in sound.piece.copies.values():
        wide, deep, high = copy.box.size
        faces += 2 * (wide * deep + deep * high + high * wide)
    contacts = [contact for joint in sound.piece.joints for contact in joint.contacts]
    touching = (c for c in (*contacts, *sound.piece.loose_contacts) if c.kind is ContactKind.FACE)
    # each contact hides the same area on both of its parts
    return faces - sum((2 * contact.u_mm * contact.v_mm for contact in touching), start=Fraction(0))


def _show_film(sound: SoundPlan) -> str:
    if sound.show.unit == "mm":
        return f"{float(GLUE_FILM_MM):.1f} mm"
    return f"{float(GLUE_FILM_MM / MM_PER_INCH):.3f} in"


def _show_coverage(sound: SoundPlan) -> str:
    if sound.show.unit == "mm":
        return f"{FINISH_M2_PER_LITRE} m² to the litre"
    square_feet = FINISH_M2_PER_LITRE * _LITRES_PER_GALLON / _M2_PER_SQUARE_FOOT
    # chosen: to the nearest 50, no closer than labels say it
    return f"{round(square_feet / 50) * 50} sq ft to the gallon"


def _show_volume(sound: SoundPlan, litres: float) -> str:
    """A volume rounded up to what a shop would ask for."""
    millilitres = litres * 1000
    if sound.plan.units == "mm":
        # chosen: steps of 50 ml, the least that is worth telling apart on a shopping list
        return f"{-(-millilitres // 50) * 50:.0f} ml"
    return f"{-(-millilitres // _ML_PER_FL_OZ):.0f} fl oz"
