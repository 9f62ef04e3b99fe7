"""Which copies hold up which: ties, how far each is from the ground, what carries it.

Takes a Joinery, gives a `Stays`. What carries a part is read from where it meets others: what it
lies on, what its ends and edges stand against, as long as that reaches the ground without it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from benchleaf.checking.standing import how_it_stands
from benchleaf.frames import Axis, Box, Vector
from benchleaf.joinery.records import Joinery, JointFit
from benchleaf.joinery.rests_on import KIND as RESTS_ON
from benchleaf.joinery.through_post import KIND as THROUGH_POST
from benchleaf.piece.records import ChosenJoint, Contact, Copy, Part, Piece
from benchleaf.reading.plan import Stands


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """Where a copy meets another, seen from it."""

    other: str
    """Mark of the other copy."""
    joint: int
    kind: str
    """Kind of the joint."""
    region: Box
    """Where they meet, in the piece's axes."""
    normal: Axis | None
    """The axis of the piece across the place where they meet; None where it is turned."""
    is_fastened: bool
    """True where glue, dowels or screws hold them together."""
    is_first: bool
    """True where the joint names this copy's part first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stays:
    """The ties of all copies, and how far each is from the ground."""

    ties: Mapping[str, tuple[Tie, ...]]
    """By mark; empty for a copy that meets nothing by a joint."""
    grounded: frozenset[str]
    """Marks of copies that stand on the floor, or against the wall that the piece hangs on."""
    levels: Mapping[str, int]
    """Ties between each copy and the ground; a mark that no tie leads to is missing."""


def find_stays(joinery: Joinery) -> Stays:
    """Find the ties of a piece and its ground."""
    piece = joinery.piece
    fits = {(fit.joint, fit.contact.first, fit.contact.second): fit for fit in joinery.fits}
    ties: dict[str, list[Tie]] = {mark: [] for mark in piece.copies}
    for joint in piece.joints:
        for contact in joint.contacts:
            fit = fits.get((joint.index, contact.first, contact.second))
            one = _tie(joint, contact, is_fastened=is_fastened(joint, fit))
            ties[contact.first].append(one)
            ties[contact.second].append(replace(one, other=contact.first, is_first=False))
    frozen = {mark: tuple(own) for mark, own in ties.items()}
    grounded = _grounded(piece)
    return Stays(ties=frozen, grounded=grounded, levels=levels_without(frozen, grounded))


def is_fastened(joint: ChosenJoint, fit: JointFit | None) -> bool:
    """Tell whether anything holds two parts together."""
    return joint.kind != RESTS_ON.code and (
        fit is not None and (fit.is_glued or bool(fit.hardware))
    )


def _tie(joint: ChosenJoint, contact: Contact, *, is_fastened: bool) -> Tie:
    """A tie as the first copy of a contact sees it."""
    corner = Box((0, 0, 0), (contact.u_mm, contact.v_mm, contact.n_mm))
    across = contact.frame.axes[2]
    normal = largest_axis(across)
    return Tie(
        other=contact.second,
        joint=joint.index,
        kind=joint.kind,
        region=contact.frame.box_outward(corner),
        normal=normal if abs(across[normal]) == 1 else None,
        is_fastened=is_fastened,
        is_first=True,
    )


def largest_axis(direction: Vector) -> Axis:
    """The axis along which a direction points the most."""
    return max(Axis, key=lambda axis: abs(float(direction[axis])))


def _grounded(piece: Piece) -> frozenset[str]:
    """Copies on the floor, or, of a piece that hangs, copies against the wall behind it."""
    if how_it_stands(piece.plan) is Stands.HUNG:
        wall = max(copy.box.high[Axis.DEEP] for copy in piece.copies.values())
        return frozenset(m for m, copy in piece.copies.items() if copy.box.high[Axis.DEEP] == wall)
    floor = min(copy.box.low[Axis.HIGH] for copy in piece.copies.values())
    return frozenset(m for m, copy in piece.copies.items() if copy.box.low[Axis.HIGH] == floor)


def levels_without(
    ties: Mapping[str, tuple[Tie, ...]], grounded: frozenset[str], without: str = ""
) -> dict[str, int]:
    """Ties between each copy and the ground, as if one copy were not there."""
    levels = {mark: 0 for mark in ties if mark in grounded and mark != without}
    reached = list(levels)
    for mark in reached:  # grows as it goes: breadth first
        for tie in ties[mark]:
            if tie.other not in levels and tie.other != without:
                levels[tie.other] = levels[mark] + 1
                reached.append(tie.other)
    return levels


def is_plate(part: Part) -> bool:
    """Tell whether a part lies flat: its thickness stands upright."""
    return part.thickness_axis is Axis.HIGH


def carriers_of_plate(stays: Stays, piece: Piece, mark: str) -> Iterator[Tie]:
    """Ties of a copy that lies flat to those that carry it: a splayed leg does so from below."""
    own = piece.copies[mark]
    for tie in _grounded_ties(stays, mark):
        other = piece.copies[tie.other]
        if tie.kind == THROUGH_POST.code:
            if not tie.is_first:
                yield tie
        elif tie.normal is Axis.HIGH:
            if _is_below(other, own):
                yield tie
        elif other.frame.is_square and not is_plate(piece.parts[other.part]):
            yield tie


def carriers_of_bearer(stays: Stays, piece: Piece, mark: str) -> Iterator[Tie]:
    """Ties of a rail or cleat to what carries it: what it lies on, what is nearer to ground."""
    own = piece.copies[mark]
    for tie in _grounded_ties(stays, mark):
        other = piece.copies[tie.other]
        if is_plate(piece.parts[other.part]) and not _is_below(other, own):
            continue
        if tie.normal is Axis.HIGH:
            if _is_below(other, own):
                yield tie
        elif stays.levels.get(tie.other, 0) < stays.levels.get(mark, 0):
            yield tie


def _grounded_ties(stays: Stays, mark: str) -> Iterator[Tie]:
    """Ties of a copy, square to the piece, to those that reach the ground without it."""
    levels = levels_without(stays.ties, stays.grounded, mark)
    yield from (t for t in stays.ties[mark] if t.other in levels and t.normal is not None)


def _is_below(one: Copy, other: Copy) -> bool:
    return one.box.low[Axis.HIGH] < other.box.low[Axis.HIGH]
