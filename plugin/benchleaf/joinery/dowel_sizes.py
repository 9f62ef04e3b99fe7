"""The size of a dowel: how thick, how long, and how far into each part.

Takes a Marking; gives the dowel and the row that it stands in. Knows nothing of holes.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from benchleaf.handbook.tables import load_dowels
from benchleaf.joinery.glue_lines import move_off_glue_lines
from benchleaf.joinery.marking import Marking, block
from benchleaf.joinery.proportions import factor, planned, proposed, round_down, usual_mm, worked
from benchleaf.joinery.reach import bearable_mm, clear_mm
from benchleaf.joinery.records import Hardware, JointSize
from benchleaf.joinery.rows import Row, lay_out_row
from benchleaf.piece.records import SolvedRound

_SPACING = "dowel spacing, most"
"""Key of the largest spacing of a row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dowel:
    """One dowel: its size and how far it goes into each part, mm."""

    diameter_mm: Fraction
    into_first_mm: Fraction
    into_second_mm: Fraction
    clearance_mm: Fraction
    """How much deeper each hole is than the dowel goes."""
    sizes: tuple[JointSize, ...]

    @property
    def length_mm(self) -> Fraction:
        """Its whole length, mm."""
        return self.into_first_mm + self.into_second_mm

    @property
    def shares_mm(self) -> tuple[Fraction, Fraction]:
        """How far it goes into the first part, and into the second, mm."""
        return self.into_first_mm, self.into_second_mm


def choose_dowel(marking: Marking) -> tuple[Dowel, Row, Marking]:
    """Choose a dowel and its row, by the author's choices or by what both parts bear.

    Returns:
        The dowel, its row, and the Marking that the row is laid out in: turned where the row runs
        the other way, off the glue lines.
    """
    diameter, row = _choose_diameter(marking)
    marking, row = move_off_glue_lines(
        marking, row, diameter_mm=diameter.value_mm, spacing_key=_SPACING
    )
    return _cut_to_length(marking, diameter, row), row, marking


def _choose_diameter(marking: Marking) -> tuple[JointSize, Row]:
    """The diameter and the row: the author's, or the thickest stock dowel that both parts bear."""
    given = marking.chosen.choices.get("size")
    if isinstance(given, SolvedRound):
        diameter = _checked_diameter(marking, given.diameter_mm)
        return planned("dowel diameter", diameter), _row(marking, diameter)
    fitting = _stock_diameters(marking)
    chosen = next((d for d in reversed(fitting) if _holds(marking, d)), fitting[0])
    size = proposed("dowel diameter", chosen, key="dowel diameter, most")
    return size, _row(marking, chosen)


def _row(marking: Marking, diameter: Fraction) -> Row:
    edge = diameter * factor("dowel edge distance to diameter, least")
    return lay_out_row(marking, edge_mm=edge, spacing_key=_SPACING)


def _holds(marking: Marking, diameter: Fraction) -> bool:
    """Tell whether a dowel goes deep enough into both parts."""
    least = diameter * factor("dowel depth to diameter, least")
    return min(_usual(marking, diameter, _row(marking, diameter))) >= least


def _stock_diameters(marking: Marking) -> list[Fraction]:
    """Stock diameters that are at most half of the thinner part, ascending."""
    thin = marking.contact.v_mm
    most = thin * factor("dowel diameter, most")
    fitting = [d for d in load_dowels(marking.units).diameters_mm if d <= most]
    if fitting:
        return fitting
    least = load_dowels(marking.units).diameters_mm[0]
    raise marking.refuse(
        "J106",
        f"no stock dowel is at most half of the {marking.show(thin)} where {marking.first} "
        f"and {marking.second} meet; the thinnest is {marking.show(least)}",
        f"Needed: {marking.show(2 * least)} of wood, or a `size` of your own.",
    )


def _checked_diameter(marking: Marking, diameter: Fraction) -> Fraction:
    thin = marking.contact.v_mm
    # chosen: beyond two thirds less than a sixth of the thickness is left on each side.
    most = round_down(thin * Fraction(2, 3), marking.units)
    if 0 < diameter <= most:
        return diameter
    raise marking.refuse(
        "J107",
        f"a dowel of {marking.show(diameter)} does not suit the {marking.show(thin)} where "
        f"{marking.first} and {marking.second} meet",
        f"Needed: more than 0 and at most {marking.show(most)}; half of the thickness is usual.",
        option="size",
    )


def _cut_to_length(marking: Marking, diameter: JointSize, row: Row) -> Dowel:
    clearance = _clearance(marking)
    given = marking.chosen.choices.get("size")
    if isinstance(given, SolvedRound):
        length = planned("dowel length", given.length_mm)
        first, second = _bearable(marking)
    else:
        length, (first, second) = _stock_length(marking, diameter.value_mm, row)
    into_second = _share(marking, length.value_mm, (first, second))
    into_first = length.value_mm - into_second
    _refuse_too_long(marking, (into_first, into_second))
    share = (
        planned("depth in the second part", into_second)
        if marking.length("depth") is not None
        else worked("depth in the second part", into_second, "half of the dowel, if it bears that")
    )
    rule = "the dowel's share and the clearance"
    depths = (
        worked("hole depth in the first part", into_first + clearance, rule),
        worked("hole depth in the second part", into_second + clearance, rule),
    )
    room = proposed("hole clearance", clearance, key="dowel hole clearance")
    return Dowel(
        diameter_mm=diameter.value_mm,
        into_first_mm=into_first,
        into_second_mm=into_second,
        clearance_mm=clearance,
        sizes=(diameter, length, share, *depths, room),
    )


def _clearance(marking: Marking) -> Fraction:
    return usual_mm("dowel hole clearance", marking.units)


def _bearable(marking: Marking) -> tuple[Fraction, Fraction]:
    """How far a dowel may go into each part at the very most, mm."""
    first, second = marking.contact.first, marking.contact.second
    clearance = _clearance(marking)
    return (
        max(bearable_mm(marking, first) - clearance, Fraction(0)),
        max(bearable_mm(marking, second) - clearance, Fraction(0)),
    )


def _usual(marking: Marking, diameter: Fraction, row: Row) -> tuple[Fraction, Fraction]:
    """How far a dowel usually goes into each part, mm."""
    low_u, row_v = row.centres[0]
    high_u = row.centres[-1][0]
    half = diameter / 2
    footprint = block(
        (low_u - half, high_u + half), (row_v - half, row_v + half), (Fraction(0), Fraction(0))
    )
    usual = diameter * factor("dowel depth to diameter, most")
    first, second = (
        max(min(usual, clear_mm(marking, mark, footprint) - _clearance(marking)), Fraction(0))
        for mark in (marking.contact.first, marking.contact.second)
    )
    return first, second


def _stock_length(
    marking: Marking, diameter: Fraction, row: Row
) -> tuple[JointSize, tuple[Fraction, Fraction]]:
    """The length of a stock dowel, and how far it may go into each part, mm.

    It is the longest that fits; where none does, the shortest, deeper in the part that bears more.
    """
    lengths = load_dowels(marking.units).lengths_mm
    key = "dowel depth to diameter, most"
    usual = _usual(marking, diameter, row)
    fitting = [length for length in lengths if length <= sum(usual)]
    if fitting:
        rounding = "to the next stock length below"
        return proposed("dowel length", fitting[-1], key=key, rounding=rounding), usual
    first, second = _bearable(marking)
    grown = (first, usual[1]) if first >= second else (usual[0], second)
    if lengths[0] <= sum(grown):
        rounding = "the shortest sold, deeper in the thicker part"
        return proposed("dowel length", lengths[0], key=key, rounding=rounding), grown
    raise marking.refuse(
        "J108",
        f"{marking.first} and {marking.second} take {marking.show(sum(grown))} of a "
        f"{marking.show(diameter)} dowel between them, and the shortest sold is "
        f"{marking.show(lengths[0])}",
        "Needed: thicker parts, a thinner `wall` in the shop settings, or a `size` of your own.",
    )


def _share(marking: Marking, length: Fraction, most: tuple[Fraction, Fraction]) -> Fraction:
    """How much of a dowel goes into the second part, mm: half, or what each can bear."""
    given = marking.length("depth")
    if given is not None:
        return given
    half = length / 2
    first, second = most
    if length > first + second:
        return half
    if second < half:
        return second
    return length - first if first < half else half


def _refuse_too_long(marking: Marking, into: tuple[Fraction, Fraction]) -> None:
    bearable = _bearable(marking)
    names = (marking.first, marking.second)
    for name, goes, most in zip(names, into, bearable, strict=True):
        if 0 < goes <= most:
            continue
        given = "depth" if marking.length("depth") is not None else "size"
        raise marking.refuse(
            "J109",
            f"{marking.show(goes)} of the dowel would go into {name}, which takes "
            f"{marking.show(most)} with {marking.show(marking.bench.wall_mm)} left beyond the hole",
            f"Needed: more than 0 and at most {marking.show(most)} in {name}.",
            option=given,
        )


def round_area_mm2(diameter_mm: Fraction, length_mm: Fraction) -> Fraction:
    """The area round a dowel, mm2; pi as 355/113, good to seven figures."""
    return Fraction(355, 113) * diameter_mm * length_mm


def dowels_needed(
    marking: Marking, *, diameter_mm: Fraction, length_mm: Fraction, count: int
) -> Hardware:
    """The dowels of a joint, to be cut from a rod or bought."""
    return Hardware(
        kind="dowel",
        size=marking.show_round(diameter_mm, length_mm),
        diameter_mm=diameter_mm,
        length_mm=length_mm,
        count=count,
    )
