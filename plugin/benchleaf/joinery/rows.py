"""Dowels or screws in a row along a contact: how many, where, and whether they stand clear.

Takes a Marking and a thickness; gives centres in the contact's frame. Knows no single family.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.joinery.marking import Marking, V
from benchleaf.joinery.proportions import (
    factor,
    grid_mm,
    planned,
    proposed,
    round_down,
    usual_mm,
    worked,
)
from benchleaf.joinery.records import JointSize
from benchleaf.reading.vocabulary import Option, OptionType

_INSET: Final = Option(
    name="inset",
    type=OptionType.LENGTH,
    help="From each end of the joint to the nearest centre; a quarter of its length, at most 2 in "
    "(50 mm), when left out.",
)
OFFSET: Final = Option(
    name="offset",
    type=OptionType.LENGTH,
    help="How far the row stands off the middle, towards the back, right or top of the first part "
    "as drawn; 0 when left out.",
)
"""The option of families whose row may stand off the middle."""


def count_option(what: str) -> Option:
    """The option for how many there are; `what` names them, in the plural."""
    return Option(
        name="count",
        type=OptionType.COUNT,
        help=f"{what} at each place where the parts meet; by the joint's length when left out.",
    )


def row_options(what: str) -> tuple[Option, Option]:
    """The options of a row: how many there are, and how far from the ends."""
    return count_option(what), _INSET


# chosen: the most that a plan may ask for; no joint of furniture needs more.
_MOST = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Centres in a row along u."""

    centres: tuple[tuple[Fraction, Fraction], ...]
    """(u, v) of each centre, in the contact's frame, mm, ascending."""
    sizes: tuple[JointSize, ...]
    """Inset and spacing, with their rules."""

    @property
    def spacing_mm(self) -> Fraction:
        """From centre to centre, mm; 0 for a single one."""
        return self.centres[1][0] - self.centres[0][0] if len(self.centres) > 1 else Fraction(0)

    @property
    def inset_mm(self) -> Fraction:
        """From the end of the contact to the first centre, mm."""
        return self.centres[0][0]


def lay_out_row(marking: Marking, *, edge_mm: Fraction, spacing_key: str) -> Row:
    """Lay out a row by the author's count, inset and offset, or by what is usual.

    Args:
        marking: The joint; its options `count`, `inset` and `offset` are looked at.
        edge_mm: Least distance from a centre to an edge, mm.
        spacing_key: Key of the handbook's largest spacing.
    """
    length = marking.contact.u_mm
    inset = _inset(marking, edge_mm)
    count = marking.count("count") or _usual_count(
        marking, inset, edge_mm=edge_mm, spacing_key=spacing_key
    )
    if marking.count("count") != 1 and marking.length("inset") is not None and 2 * inset >= length:
        raise marking.refuse(
            "J103",
            f"an inset of {marking.show(inset)} from each end leaves no room on a joint "
            f"{marking.show(length)} long",
            f"Needed: an inset under {marking.show(length / 2)}, or a count of 1.",
            option="inset",
        )
    _refuse_crowd(marking, (length - 2 * inset) / max(count - 1, 1), count, least_mm=edge_mm)
    row_v = marking.contact.v_mm / 2 + _offset(marking)
    centres = tuple((u, row_v) for u in _spread(marking, inset, count))
    return Row(centres=centres, sizes=_sizes(marking, centres, spacing_key))


def _refuse_crowd(marking: Marking, step: Fraction, count: int, *, least_mm: Fraction) -> None:
    if count == 1 or step > least_mm:
        return
    raise marking.refuse(
        "J104",
        f"{count} on a joint {marking.show(marking.contact.u_mm)} long stand "
        f"{marking.show(step)} from centre to centre, and run into one another",
        f"Needed: more than {marking.show(least_mm)} from centre to centre. Use fewer.",
        option="count",
    )


def edge_distance_mm(marking: Marking, row: Row) -> Fraction:
    """The least distance from a centre of a row to an edge of the contact, mm."""
    contact = marking.contact
    return min(min(u, contact.u_mm - u, v, contact.v_mm - v) for u, v in row.centres)


def _inset(marking: Marking, edge_mm: Fraction) -> Fraction:
    given = marking.length("inset")
    if given is not None:
        return given
    quarter = marking.contact.u_mm * factor("row inset")
    usual = min(quarter, usual_mm("row inset, most", marking.units))
    return max(round_down(usual, marking.units), edge_mm)


def _usual_count(marking: Marking, inset: Fraction, *, edge_mm: Fraction, spacing_key: str) -> int:
    """Two where they fit, more where they would stand further apart than is usual."""
    between = marking.contact.u_mm - 2 * inset
    if between < 2 * edge_mm:
        return 1
    wanted = math.ceil(between / usual_mm(spacing_key, marking.units)) + 1
    return min(max(2, wanted), _MOST)


def _spread(marking: Marking, inset: Fraction, count: int) -> tuple[Fraction, ...]:
    """Centres along u, alike from both ends; a proposed spacing is on the grid."""
    length = marking.contact.u_mm
    if count == 1:
        return (length / 2,)
    step = (length - 2 * inset) / (count - 1)
    if marking.length("inset") is None:
        step = _on_the_rule(marking, step, count)
    start = (length - (count - 1) * step) / 2
    return tuple(start + index * step for index in range(count))


def _on_the_rule(marking: Marking, step: Fraction, count: int) -> Fraction:
    """A spacing that a rule shows, and that leaves an inset which it shows as well."""
    # An odd number of spaces is halved between the two ends, so its spaces are twice as coarse.
    coarse = grid_mm(marking.units) * (1 + (count - 1) % 2)
    return step if step < coarse else math.floor(step / coarse) * coarse


def _offset(marking: Marking) -> Fraction:
    """How far the row stands from the middle of the contact along v, mm.

    The author's offset is towards the back, right or top of the first part as drawn, so that
    mirrored copies are bored alike.
    """
    given = marking.length("offset") or Fraction(0)
    return given * marking.sign_of(marking.contact.first, V)


def _sizes(
    marking: Marking, centres: tuple[tuple[Fraction, Fraction], ...], spacing_key: str
) -> tuple[JointSize, ...]:
    inset = centres[0][0]
    if len(centres) == 1:
        return (worked("inset", inset, "in the middle of the joint"),)
    return (_inset_size(marking, inset), _spacing_size(marking, centres, spacing_key))


def _inset_size(marking: Marking, inset: Fraction) -> JointSize:
    if marking.length("inset") is not None:
        return planned("inset", inset)
    quarter = marking.contact.u_mm * factor("row inset")
    if inset <= min(quarter, usual_mm("row inset, most", marking.units)):
        return proposed("inset", inset, key="row inset")
    return worked("inset", inset, "what even spaces on the rule leave at each end")


def _spacing_size(
    marking: Marking, centres: tuple[tuple[Fraction, Fraction], ...], spacing_key: str
) -> JointSize:
    """The spacing, with the rule that it really follows: the author's count, or what is usual."""
    spacing = centres[1][0] - centres[0][0]
    count = marking.count("count")
    if count is None:
        return proposed("spacing", spacing, key=spacing_key, rounding="spread evenly")
    most = usual_mm(spacing_key, marking.units)
    usual = f"; at most {marking.show_with_unit(most)} is usual" if spacing > most else ""
    return JointSize(
        name="spacing",
        value_mm=spacing,
        rule=f"from the plan's count of {count}, spread evenly{usual}",
        source="the plan",
    )
