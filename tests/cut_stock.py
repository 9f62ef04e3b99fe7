"""Stock and blanks for trials of cutting, and an exact answer for a handful of blanks.

The exact answer shares nothing with the planner: it builds every shape that can be cut apart edge
to edge, subset by subset.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import cache, lru_cache

from hypothesis import strategies as st

from benchleaf.cutting.planning import lay_out_stock
from benchleaf.cutting.records import Blank, CutNode, CutPlan
from benchleaf.findings import Place
from benchleaf.reading.plan import Grain, Stock, StockKind, Units

Size = tuple[int, int]


def sheet(
    length: object,
    width: object,
    *,
    grain: Grain = Grain.LONG,
    trim: object = 0,
    name: str = "ply",
) -> Stock:
    """A sheet stock; sizes in mm, as numbers or as text such as `3/2`."""
    return _stock(name, StockKind.SHEET, width, (length,), grain=grain, trim=trim)


def board(width: object, *lengths: object, trim: object = 0, name: str = "pine") -> Stock:
    """A board stock."""
    return _stock(name, StockKind.BOARD, width, lengths, trim=trim)


def rod(diameter: object, *lengths: object, trim: object = 0, name: str = "peg rod") -> Stock:
    """A rod stock."""
    return _stock(name, StockKind.ROD, diameter, lengths, trim=trim)


def _stock(
    name: str,
    kind: StockKind,
    width: object,
    lengths: Sequence[object],
    *,
    grain: Grain = Grain.LONG,
    trim: object = 0,
) -> Stock:
    return Stock(
        name=name,
        kind=kind,
        material="birch",
        thickness_mm=Fraction(str(width)) if kind is StockKind.ROD else Fraction(18),
        width_mm=Fraction(str(width)),
        lengths_mm=tuple(sorted(Fraction(str(length)) for length in lengths)),
        grain=grain,
        trim_mm=Fraction(str(trim)),
    )


def blank(
    label: str, length: object, width: object, *, stock: str = "ply", may_turn: bool = False
) -> Blank:
    """A blank of a part named like its label."""
    return Blank(
        label=label,
        part=f"part {label}",
        copy=label,
        layer=1,
        length_mm=Fraction(str(length)),
        width_mm=Fraction(str(width)),
        final_length_mm=Fraction(str(length)),
        final_width_mm=Fraction(str(width)),
        stock=stock,
        may_turn=may_turn,
    )


def blanks(
    sizes: Iterable[Size], *, stock: str = "ply", may_turn: bool = False
) -> tuple[Blank, ...]:
    """Blanks A1, A2... of (length, width)."""
    return tuple(
        blank(f"A{number}", *size, stock=stock, may_turn=may_turn)
        for number, size in enumerate(sizes, start=1)
    )


def place_in_plan(path: str) -> Place:
    """A place for any path: line 7 for parts, line 3 for stock."""
    return Place(file="plans/test.plan.yml", line=7 if path.startswith("parts") else 3, column=3)


def lay_out(
    given: tuple[Blank, ...], *stock: Stock, kerf: object = 0, units: Units = Units.MILLIMETRE
) -> CutPlan:
    """Lay blanks out."""
    return lay_out_stock(
        given, stock, kerf_mm=Fraction(str(kerf)), units=units, place_of=place_in_plan
    )


def nodes_of(tree: CutNode | None) -> list[CutNode]:
    """A tree's nodes, each before its own."""
    if tree is None:
        return []
    return [tree, *nodes_of(tree.first), *nodes_of(tree.second)]


def fewest_by_trying(ways: Sequence[Sequence[Size]], room: Size) -> int:
    """The fewest sheets for a few blanks, no kerf: by trying every way to cut them.

    Args:
        ways: For each blank, the (wide, high) in which it may lie; at most six or so blanks.
        room: (wide, high) of a sheet.
    """
    every = (1 << len(ways)) - 1
    fits = {
        subset for subset in range(1, every + 1) if _shapes(subset, tuple(map(tuple, ways)), room)
    }

    @cache
    def fewest(left: int) -> int:
        if not left:
            return 0
        lowest = left & -left
        return 1 + min(
            fewest(left & ~subset) for subset in fits if subset & left == subset and subset & lowest
        )

    return fewest(every)


@lru_cache(maxsize=20_000)
def _shapes(subset: int, ways: tuple[tuple[Size, ...], ...], room: Size) -> frozenset[Size]:
    """Smallest shapes within the room from which a subset can be cut edge to edge."""
    if subset & (subset - 1) == 0:
        found = set(ways[subset.bit_length() - 1])
    else:
        found = set()
        part = (subset - 1) & subset
        while part:
            if part > subset ^ part:
                for wide, high in _shapes(part, ways, room):
                    for beside, above in _shapes(subset ^ part, ways, room):
                        found.add((wide + beside, max(high, above)))
                        found.add((max(wide, beside), high + above))
            part = (part - 1) & subset
    return frozenset(_least({size for size in found if size[0] <= room[0] and size[1] <= room[1]}))


def _least(sizes: set[Size]) -> list[Size]:
    return [
        size
        for size in sizes
        if not any(other != size and other[0] <= size[0] and other[1] <= size[1] for other in sizes)
    ]


# Halves, fifths and the sixteenths of an inch in mm: the grid must take any of them together.
_PARTS = (Fraction(1), Fraction(1, 2), Fraction(1, 5), Fraction(127, 80))


@st.composite
def sheet_jobs(draw: st.DrawFn, most: int = 25) -> tuple[tuple[Blank, ...], Stock, Fraction]:
    """Blanks that fit a sheet, the sheet, and a kerf."""
    trim = draw(st.sampled_from([Fraction(0), Fraction(2), Fraction(127, 20), Fraction(10)]))
    kerf = draw(st.sampled_from([Fraction(0), Fraction(3), Fraction(127, 40)]))
    stock = sheet(1220, 610, grain=draw(st.sampled_from(list(Grain))), trim=trim)
    along, across = 1220 - 2 * trim, 610 - 2 * trim
    if stock.grain is Grain.SHORT:
        along, across = across, along
    made = []
    for number in range(draw(st.integers(1, most))):
        step = draw(st.sampled_from(_PARTS))
        length = min(draw(st.integers(5, 1200)) * step, along)
        width = min(draw(st.integers(5, 600)) * step, across)
        may_turn = stock.grain is Grain.NONE or draw(st.booleans())
        made.append(blank(f"A{number + 1}", length, width, may_turn=may_turn))
    return tuple(made), stock, kerf


@st.composite
def board_jobs(draw: st.DrawFn, most: int = 20) -> tuple[tuple[Blank, ...], Stock, Fraction]:
    """Blanks that fit a board, the board, and a kerf."""
    trim = draw(st.sampled_from([Fraction(0), Fraction(1), Fraction(127, 10)]))
    kerf = draw(st.sampled_from([Fraction(0), Fraction(3), Fraction(127, 40)]))
    lengths = draw(st.lists(st.sampled_from([900, 1200, 1830, 2440]), min_size=1, unique=True))
    stock = board(140, *lengths, trim=trim)
    most_long = max(stock.lengths_mm) - 2 * trim
    made = []
    for number in range(draw(st.integers(1, most))):
        step = draw(st.sampled_from(_PARTS))
        length = min(draw(st.integers(20, 2400)) * step, most_long)
        width = min(draw(st.sampled_from([20, 45, 68, 70, 90, 139, 140])) * step, Fraction(140))
        made.append(blank(f"A{number + 1}", length, width, stock="pine"))
    return tuple(made), stock, kerf
