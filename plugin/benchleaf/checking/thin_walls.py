"""No hole or channel breaks out of its part or leaves a wall too thin to hold.

What:
    A mortise, dowel hole or screw hole comes through a face that it should not reach, or leaves
    less than is needed between itself and a face; a housing, groove, rebate or lap leaves a thin
    strip beside it.

Why:
    A bit that breaks through spoils the show face; a thin wall splits when the joint is driven
    home.

Limit:
    Beyond the bottom of a blind hole: the shop's wall. Beside a cut: half of its own width, at most
    the shop's wall. Exact.

Source:
    The plan's shop settings; beside a hole, common practice, no source: a third of the thickness
    for a mortise, one diameter from centre to edge for a dowel.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.checking.cuts import Cut, least_beside_mm, list_cuts
from benchleaf.checking.records import Check, Voice
from benchleaf.findings import Finding
from benchleaf.frames import Axis, Box, face_name
from benchleaf.joinery.records import Joinery

_THROUGH = frozenset(
    {"bolt hole", "clearance hole", "cross dowel hole", "peg hole", "through hole"}
)
"""Roles of holes that are meant to go right through."""


@dataclass(frozen=True, slots=True)
class _Wall:
    """The wood between a cut and a face of its part."""

    joint: int
    part: str
    role: str
    face: str
    left_mm: Fraction
    """Less than 0 where the cut reaches out of the face."""
    needed_mm: Fraction


def find_thin_walls(joinery: Joinery) -> Iterator[Finding]:
    """Find cuts that break out or leave too little."""
    voice = Voice(joinery.piece, "K206")
    found: dict[_Wall, list[str]] = {}
    for mark in joinery.copies:
        cuts = tuple(list_cuts(joinery, mark))
        for cut in cuts:
            for wall in _walls(joinery, cut, cuts):
                marks = found.setdefault(wall, [])
                if mark not in marks:
                    marks.append(mark)
    for wall, marks in found.items():
        yield _say(voice, wall, marks)


def _walls(joinery: Joinery, cut: Cut, cuts: Sequence[Cut]) -> Iterator[_Wall]:
    """Walls of one cut that are too thin or gone, save where another cut takes them anyway."""
    part = joinery.piece.part_of(cut.mark)
    size = part.box.size
    wall_mm = joinery.piece.plan.shop.wall_mm
    for axis in Axis:
        for is_high in (False, True):
            if axis == cut.axis and is_high != (cut.way[axis] > 0):
                continue  # the face that it is cut from
            left = size[axis] - cut.box.high[axis] if is_high else cut.box.low[axis]
            is_bottom = axis == cut.axis
            needed = wall_mm if is_bottom and cut.is_hole else least_beside_mm(cut, wall_mm)
            if left >= needed or _may_open(cut, is_bottom, Fraction(left)):
                continue
            strip = _strip(cut, axis, is_high, left=Fraction(left))
            if left <= 0 or not any(other.box.contains(strip) for other in cuts):
                face = face_name(axis, is_high)
                yield _Wall(cut.joint, part.name, cut.role, face, Fraction(left), needed)


def _strip(cut: Cut, axis: Axis, is_high: bool, *, left: Fraction) -> Box:
    """The wood between a cut and a face."""
    low, high = list(cut.box.low), list(cut.box.high)
    if is_high:
        low[axis], high[axis] = high[axis], high[axis] + left
    else:
        low[axis], high[axis] = low[axis] - left, low[axis]
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _may_open(cut: Cut, is_bottom: bool, left: Fraction) -> bool:
    """Tell whether a cut is meant to be open at a face that it reaches."""
    if not cut.is_hole:
        return left <= 0
    if is_bottom:
        if cut.role == "round mortise" and left <= 0:
            return True  # a through tenon's, slantwise or not
        # A mortise that ends exactly in the far face is a through mortise.
        return cut.role in _THROUGH or (cut.role == "mortise" and left == 0)
    # A post that stands at the panel's edge stands in a notch.
    return cut.role == "through hole" and left == 0


def _say(voice: Voice, wall: _Wall, marks: list[str]) -> Finding:
    path = f"joints[{wall.joint}]"
    where = f"the {wall.role} in {wall.part} ({', '.join(marks)})"
    needed = f"Needed: at least {voice.show(wall.needed_mm)}."
    if wall.left_mm <= 0:
        out = f", by {voice.show(-wall.left_mm)}" if wall.left_mm else ""
        return voice.error(
            path,
            f"{where} breaks out of its {wall.face}{out}",
            f"{needed[:-1]} to the {wall.face}. Make it shallower or smaller, or move it.",
        )
    return voice.warning(
        path,
        f"{where} leaves {voice.show(wall.left_mm)} to its {wall.face}",
        f"{needed} Make it shallower or smaller, or move it.",
    )


CHECK = Check(
    code="K206",
    name="thin_walls",
    title="No hole or channel breaks out of its part or leaves a wall too thin to hold.",
    run=find_thin_walls,
)
