"""Glue, abrasives and finish to buy: areas, by how far a unit goes, rounded up to what is sold.

Takes Joinery and CutPlan; gives purchases, each with its rate and the rate's source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from math import ceil
from typing import Final

from benchleaf.buying.areas import faces_m2, hidden_m2, joint_glue_m2, layer_glue_m2
from benchleaf.buying.records import Pack, Purchase, Shelf
from benchleaf.checking.records import Quantity
from benchleaf.cutting.records import CutPlan
from benchleaf.handbook.records import Published
from benchleaf.handbook.supplies import load_supplies
from benchleaf.joinery.records import Joinery
from benchleaf.lengths import UnitName
from benchleaf.piece.records import Piece
from benchleaf.reading.plan import Finish
from benchleaf.sequencing.finishes import find_finish, grit_between_coats, sanding_grits
from benchleaf.sequencing.glues import find_glue

# chosen: one pack rather than several where it holds at most half as much again.
_FOR_ONE: Final = Fraction(3, 2)
# Common practice, no source: one rag to put a coat on, one to wipe it off; none is used twice.
_RAGS_TO_A_COAT: Final = 2


def list_supplies(joinery: Joinery, cut_plan: CutPlan) -> Iterator[Purchase]:
    """Glue, then abrasives from coarse to fine, then the finish and its rags."""
    yield from _list_glue(joinery, cut_plan)
    surface = _surface(joinery.piece)
    finish = joinery.piece.plan.finish
    for grit, times in _list_grits(finish):
        yield _abrasive(grit, surface, times)
    if finish and finish.coats:
        yield _finish(finish, surface, joinery.piece.plan.units.value)
        if find_finish(finish.material).is_wiped:
            yield _rags(finish.coats)


def _surface(piece: Piece) -> tuple[Quantity, ...]:
    return (
        _area("all faces of all parts", faces_m2(piece)),
        _area("faces against one another", -hidden_m2(piece)),
    )


def _area(name: str, area_m2: Fraction) -> Quantity:
    return Quantity(symbol="", name=name, value=area_m2, unit="m2")


def _list_glue(joinery: Joinery, cut_plan: CutPlan) -> Iterator[Purchase]:
    plan = joinery.piece.plan
    areas = (
        _area("in joints", joint_glue_m2(joinery)),
        _area("between layers and boards", layer_glue_m2(joinery, cut_plan)),
    )
    addends = tuple(area for area in areas if area.value)
    if addends:
        reach = load_supplies().glue[find_glue(plan.shop.glue).kind]
        words = plan.shop.glue if "glue" in plan.shop.glue.lower() else f"{plan.shop.glue} glue"
        yield _liquid(("glue", words), addends, _rate(reach.low), plan.units.value)


def _finish(finish: Finish, surface: tuple[Quantity, ...], unit: UnitName) -> Purchase:
    reach = load_supplies().finish[find_finish(finish.material).kind]
    return _liquid(("finish", finish.material), surface, _rate(reach.low), unit, times=finish.coats)


def _rate(published: Published) -> Quantity:
    return Quantity(
        symbol="", name="", value=published.value, unit=published.unit, source=published.cited
    )


def _liquid(
    what: tuple[str, str],
    addends: tuple[Quantity, ...],
    rate: Quantity,
    unit: UnitName,
    *,
    times: int = 1,
) -> Purchase:
    """A liquid that is spread on areas, in the packs that it is sold in."""
    kind, words = what
    area = sum((Fraction(one.value) for one in addends), start=Fraction(0)) * times
    litres = area / Fraction(rate.value)
    return Purchase(
        shelf=Shelf.SUPPLIES,
        name=words,
        what=words,
        size="",
        addends=addends,
        times=times,
        rate=rate,
        needed=Quantity(symbol="", name="", value=litres, unit="l"),
        packs=choose_packs(litres, load_supplies().sold(kind, unit)),
    )


def choose_packs(litres: Fraction, sold: tuple[Fraction, ...]) -> tuple[Pack, ...]:
    """The packs that are bought: one that holds it all, or full ones and one for the rest.

    >>> [(p.count, int(p.holds.value)) for p in choose_packs(Fraction(47), (8, 16, 32, 128))]
    [(1, 32), (1, 16)]
    """
    sizes = Counter(_choose_sizes(litres, sold))
    return tuple(
        Pack(count=count, holds=Quantity(symbol="", name="", value=Fraction(size), unit="l"))
        for size, count in sizes.items()
    )


def _choose_sizes(litres: Fraction, sold: tuple[Fraction, ...]) -> list[Fraction]:
    """One pack, unless several come to much less; largest first."""
    whole, rest = divmod(litres, sold[-1])
    full = [sold[-1]] * int(whole)
    if not rest:
        return full
    one = next(size for size in sold if size >= rest)
    smaller = [size for size in sold if size < rest]
    if not smaller:
        return [*full, one]
    several = [smaller[-1], *_choose_sizes(rest - smaller[-1], sold)]
    return [*full, *([one] if one <= _FOR_ONE * sum(several) else several)]


def _list_grits(finish: Finish | None) -> list[tuple[int, int]]:
    """Each grit, with how often it goes over everything."""
    times = dict.fromkeys(sanding_grits(finish), 1)
    if finish and finish.coats > 1:
        between = grit_between_coats(finish)
        times[between] = times.get(between, 0) + finish.coats - 1
    return sorted(times.items())


def _abrasive(grit: int, surface: tuple[Quantity, ...], times: int) -> Purchase:
    rate = _rate(load_supplies().abrasive.low)
    area = sum((Fraction(one.value) for one in surface), start=Fraction(0)) * times
    sheets = max(ceil(area / Fraction(rate.value)), 1)
    return Purchase(
        shelf=Shelf.SUPPLIES,
        name=f"abrasive, grit {grit}",
        what=f"abrasive, grit {grit}",
        size="",
        addends=surface,
        times=times,
        rate=rate,
        needed=Quantity(symbol="", name="", value=area / Fraction(rate.value), unit="sheets"),
        packs=(Pack(count=sheets, holds=None),),
    )


def _rags(coats: int) -> Purchase:
    count = _RAGS_TO_A_COAT * coats
    return Purchase(
        shelf=Shelf.SUPPLIES,
        name="lint-free rag",
        what="lint-free rag",
        size="",
        addends=(
            Quantity(symbol="", name="for each coat", value=Fraction(_RAGS_TO_A_COAT), unit=""),
        ),
        times=coats,
        needed=Quantity(symbol="", name="", value=Fraction(count), unit=""),
        packs=(Pack(count=count, holds=None),),
        note="one on and one off",
    )
