"""What keeps copies locked together, and what would free them.

Takes what stops what, gives the copy that comes nearest to coming off and the few that hold it;
and the finding that says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from benchleaf.findings import Finding, Severity
from benchleaf.frames import Vector
from benchleaf.joinery.blocking import Blocking
from benchleaf.joinery.partings import bits_of
from benchleaf.joinery.records import JointFit
from benchleaf.piece.records import Piece

_TOWARDS = (("to the left", "to the right"), ("forwards", "backwards"), ("downwards", "upwards"))
# chosen: a direction that leans less than 3 deg out of a plane is said to lie in it.
_LEAST_LEAN = 0.05
# chosen: a finding names as many marks and mates; more are counted.
_MOST_NAMED = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Holder:
    """A copy that keeps another from coming off."""

    mark: str
    fits: tuple[JointFit, ...]
    """The joints between the two; none where it only stands in the way."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lock:
    """Copies that nothing takes apart, and how the one that is held by the fewest is held."""

    copies: tuple[str, ...]
    nearest: str
    """Mark of the copy that comes nearest to coming off."""
    way: Vector
    """Unit direction in the piece's axes in which it would come off."""
    holders: tuple[Holder, ...]
    is_searched: bool = True
    """False where there was too much to look at for all but straight slides."""


def find_lock(group: int, blocking: Blocking) -> Lock:
    """Find the copy of a locked group that fewest others hold, and the direction."""
    members = list(bits_of(group))
    pairs = [(a, b) for a in members for b in members if a != b]
    best: tuple[int, int, Vector] | None = None
    for way in blocking.ways:
        stopped: dict[int, list[int]] = {number: [] for number in members}
        for (a, b), stops in zip(pairs, blocking.stops(pairs, way), strict=True):
            if stops:
                stopped[a].append(b)
        number = min(members, key=lambda one: len(stopped[one]))
        if best is None or len(stopped[number]) < best[0]:
            best = (len(stopped[number]), number, way)
            held = stopped[number]
    if best is None:
        raise ValueError("a group with no directions to look in")
    _, number, way = best
    return Lock(
        copies=tuple(blocking.marks[one] for one in members),
        nearest=blocking.marks[number],
        way=way,
        holders=tuple(_holder(number, other, blocking) for other in held),
    )


def _holder(number: int, other: int, blocking: Blocking) -> Holder:
    holds = blocking.holds.get((number, other), ())
    return Holder(mark=blocking.marks[other], fits=tuple(hold.fit for hold in holds))


def say_lock(lock: Lock, piece: Piece) -> Finding:
    """Say which copies lock one another, and what would free them."""
    part = piece.part_of(lock.nearest).name
    towards = way_words(lock.way)
    held = [_hold_words(holder) for holder in lock.holders]
    searched = ", nor two in turn, nor several parts moved at once" if lock.is_searched else ""
    return Finding(
        code="J190",
        severity=Severity.WARNING,
        place=piece.plan.place(f"parts.{part}"),
        subject=f"parts.{part}",
        message=f"{_listed(lock.copies)} lock one another: no straight slide takes them apart"
        f"{searched}; what is held least is "
        f"{lock.nearest}, which would come off {towards} but for {_listed(held)}",
        remedy=f"Needed: a way for {lock.nearest} {towards}. {_change_words(lock)}, "
        f"or make {lock.nearest} in two parts.",
    )


def _hold_words(holder: Holder) -> str:
    joints = sorted({(fit.joint, fit.kind) for fit in holder.fits})
    if not joints:
        return f"{holder.mark} in its way"
    return f"{holder.mark} ({', '.join(f'{kind}, joints[{index}]' for index, kind in joints)})"


def _change_words(lock: Lock) -> str:
    joints = sorted({fit.joint for holder in lock.holders for fit in holder.fits})
    if not joints:
        return "Shorten or move what stands in its way"
    named = " and ".join(f"joints[{index}]" for index in joints)
    kind = "one that slides" if len(joints) == 1 else "joints that slide"
    return f"Make {named} {kind} that way"


def way_words(way: Vector) -> str:
    """Say a direction of the piece.

    >>> way_words((0, 0, 1))
    'upwards'
    >>> way_words((-0.6, 0.0, 0.8))
    'upwards and to the left'
    """
    leaning = [(abs(float(part)), axis, part > 0) for axis, part in enumerate(way)]
    leaning.sort(key=lambda one: -one[0])
    return " and ".join(_TOWARDS[axis][up] for lean, axis, up in leaning if lean > _LEAST_LEAN)


def _listed(names: Sequence[str]) -> str:
    """Names as a list; the rest of a long one counted."""
    shown = list(names[:_MOST_NAMED])
    if len(names) > _MOST_NAMED:
        shown.append(f"{len(names) - _MOST_NAMED} more")
    return ", ".join(shown[:-1]) + (" and " if len(shown) > 1 else "") + shown[-1]
