"""What moves once the piece stands: drawers on their runners, doors on their hinges.

Takes the placed piece and the worked joints, gives which copies move as one and which way; and the
findings on what cannot come out again. Must not know orders of assembly.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.findings import Finding, Severity
from benchleaf.frames import Vector
from benchleaf.joinery.locks import way_words
from benchleaf.joinery.records import JointFit, Stops
from benchleaf.piece.records import Piece

SLIDES: Final = "slides on"
HANGS: Final = "hinges"
CLOSES: Final = "closes against"
MOVING: Final = frozenset({SLIDES, HANGS, CLOSES})
"""Joints of what moves once the piece stands."""
STAYS_LOOSE: Final = MOVING | {"rests on"}
"""Joints that leave a drawer or a door free to move."""
# chosen: as many things in the way are named.
_MOST_NAMED: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Mover:
    """Copies that slide or swing as one."""

    title: str
    """What they are called: `drawer 2`."""
    path: str
    """Where they stand in the plan."""
    marks: tuple[str, ...]
    ways: tuple[Vector, ...]
    """Unit directions, in the piece's axes, in which it slides out; none for what is hung."""

    @property
    def is_hung(self) -> bool:
        """Tell whether it swings on hinges."""
        return not self.ways


def find_movers(piece: Piece, fits: Iterable[JointFit]) -> tuple[Mover, ...]:
    """Find what slides or swings: what is hung before what slides, each in order of marks.

    A group moves as one; so does a part alone. Something held to the rest by any other joint stays.
    """
    units = units_of(piece)
    own = {mark: index for index, unit in enumerate(units) for mark in unit}
    outside: dict[int, list[JointFit]] = {index: [] for index in range(len(units))}
    for fit in fits:
        first, second = own[fit.contact.first], own[fit.contact.second]
        if first != second:
            outside[first].append(fit)
            outside[second].append(fit)
    movers = [
        _mover(units[index], held, piece)
        for index, held in outside.items()
        if _does_move(index, held, own)
    ]
    return tuple(sorted(movers, key=lambda mover: not mover.is_hung))


def _does_move(index: int, held: Sequence[JointFit], own: dict[str, int]) -> bool:
    is_free = all(fit.kind in STAYS_LOOSE and not fit.is_glued for fit in held)
    # The first part of these joints is the one that moves.
    return is_free and any(
        fit.kind in {SLIDES, HANGS} and own[fit.contact.first] == index for fit in held
    )


def units_of(piece: Piece) -> tuple[tuple[str, ...], ...]:
    """What moves as one while the piece goes together: copies of groups, and copies by themselves.

    In the order of their first marks.
    """
    among = {mark: group.marks for group in piece.groups for mark in group.marks}
    return tuple(dict.fromkeys(among.get(mark, (mark,)) for mark in piece.copies))


def _mover(marks: tuple[str, ...], held: Iterable[JointFit], piece: Piece) -> Mover:
    group = piece.group_of(marks[0])
    ways = [
        _whole(fit.contact.frame.outward_direction(fit.free_directions[0]))
        for fit in held
        if fit.kind == SLIDES and fit.contact.first in marks
    ]
    return Mover(
        title=group.title if group else piece.copies[marks[0]].part,
        path=f"groups.{group.group}" if group else f"parts.{piece.copies[marks[0]].part}",
        marks=marks,
        ways=tuple(dict.fromkeys(ways)),
    )


def _whole(way: Vector) -> Vector:
    """A direction along an axis in whole numbers, as it is looked up."""
    x, y, z = (round(part) if part == round(part) else part for part in way)
    return (x, y, z)


def say_stuck(movers: Sequence[Mover], piece: Piece, stops: Stops) -> Iterator[Finding]:
    """Findings on drawers that do not come out again once all else stands; doors stand open."""
    doors = {mark for mover in movers if mover.is_hung for mark in mover.marks}
    for mover in movers:
        rest = [mark for mark in piece.copies if mark not in doors and mark not in mover.marks]
        for way in mover.ways:
            held = stops.in_the_way(mover.marks, rest, way)
            if held:
                yield _stuck(mover, way, held, piece)


def _stuck(mover: Mover, way: Vector, held: Sequence[str], piece: Piece) -> Finding:
    named = [f"{piece.copies[mark].part} ({mark})" for mark in held[:_MOST_NAMED]]
    more = f" and {len(held) - len(named)} more" if len(held) > len(named) else ""
    return Finding(
        code="J300",
        severity=Severity.WARNING,
        place=piece.plan.place(mover.path),
        subject=mover.path,
        message=f"{mover.title} does not slide out {way_words(way)}: {', '.join(named)}{more} "
        f"{'is' if len(held) == 1 else 'are'} in its way",
        remedy=f"Needed: a clear way {way_words(way)}. Move or shorten what stands in it, or write "
        "`out` at `slides on` where it slides out another way.",
    )
