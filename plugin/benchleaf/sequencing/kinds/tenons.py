"""Operations that finish tenons: saw them to width by hand, fit each to its mortise.

Takes tenons and haunches that are added, gives drafts. A tenon is fitted to its mortise, so its
mortise comes first. Must not know mortises but by what they give.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    feature_begun,
)
from benchleaf.sequencing.jointwork import measure_tenon
from benchleaf.sequencing.kinds.joint_drafts import (
    JointWork,
    draft_joint_work,
    keys_of,
    mates_cut,
)
from benchleaf.sequencing.kinds.shoulders import haunch_of, is_by_hand
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

TRIM_TENONS: Final = OperationKind(
    code="trim-tenons",
    phase="joints",
    family="tenons",
    tool="hand saw",
    minutes=5,
    minutes_each=6,
    says={"op.makes_dust": True, "cut.kind": "shoulder", "cut.through": True},
)
FIT_TENONS: Final = OperationKind(
    code="fit-tenons",
    phase="joints",
    family="tenons",
    tool="chisel",
    minutes=5,
    minutes_each=8,
    says={"op.makes_chips": True, "cut.kind": "tenon"},
)


def plan_tenons(room: Workroom) -> Iterator[Draft]:
    """Plan what is sawn by hand, then what is fitted."""
    work = room.work
    yield from _trim_all(work, room)
    tenons: dict[tuple[int, str], list[WorkPiece]] = {}
    for piece in work:
        if is_fitted(piece) and piece.feature.role in {"tenon", "haunch"}:
            part = room.copy(piece.mark).part
            tenons.setdefault((piece.feature.joint, part), []).append(piece)
    for pieces in tenons.values():
        yield _fit(pieces, room)


def is_fitted(piece: WorkPiece) -> bool:
    """Tell whether added wood has a shoulder, so that it is cut and fitted.

    Wood that is added without one, such as the end of a shelf in a full housing, is there as soon
    as the blank has its length.
    """
    tenon = measure_tenon(piece)
    return tenon is not None and bool(tenon.shoulders)


def _trim_all(work: Sequence[WorkPiece], room: Workroom) -> Iterator[Draft]:
    groups: dict[tuple[str, Fraction, Fraction], list[WorkPiece]] = {}
    for piece in work:
        tenon = measure_tenon(piece)
        if tenon is None or piece.feature.role != "tenon":
            continue
        haunch = haunch_of(piece, work)
        if any(is_by_hand(d, piece, has_haunch=haunch is not None) for _, d in tenon.shoulders):
            length = _length_of(haunch) if haunch else Fraction(0)
            key = (room.copy(piece.mark).part, tenon.width_mm, length)
            groups.setdefault(key, []).append(piece)
    for (_, width, haunch_mm), pieces in groups.items():
        yield _trim(pieces, width, haunch_mm, room)


def _length_of(haunch: WorkPiece) -> Fraction:
    tenon = measure_tenon(haunch)
    return tenon.length_mm if tenon else Fraction(0)


def _trim(pieces: list[WorkPiece], width: Fraction, haunch_mm: Fraction, room: Workroom) -> Draft:
    marks = sort_marks(piece.mark for piece in pieces)
    shown = room.say.length(width)
    leave = "right up to the shoulder line."
    if haunch_mm:
        leave = f"as far as a haunch {room.say.length(haunch_mm)} long at the shoulder."
    return draft_joint_work(
        TRIM_TENONS,
        pieces,
        JointWork(
            name=f"{room.copy(marks[0]).part} {width} {haunch_mm}",
            title=f"Saw the tenons of {room.name_copies(marks)} to {shown} wide",
            actions=[
                *spread("Clamp", marks, "upright in turn"),
                f"Saw down the edge lines of the tenon, {leave}",
                "Saw across to meet the cut, and lift the waste off.",
            ],
            check=f"Each tenon is {shown} wide, and its shoulders are in line.",
            begins=keys_of(pieces),
            clears=_sides_by_hand(pieces, room),
        ),
        room,
    )


def _sides_by_hand(pieces: Sequence[WorkPiece], room: Workroom) -> Iterator[tuple[str, int, str]]:
    for piece in pieces:
        tenon = measure_tenon(piece)
        has_haunch = haunch_of(piece, room.work) is not None
        for face, depth in tenon.shoulders if tenon else ():
            if is_by_hand(depth, piece, has_haunch=has_haunch):
                yield (*piece.key, face)


# Fitting.


def _fit(pieces: list[WorkPiece], room: Workroom) -> Draft:
    joint = pieces[0].feature.joint
    marks = [piece.mark for piece in pieces]
    mates = [piece.feature.mate for piece in pieces]
    return draft_joint_work(
        FIT_TENONS,
        pieces,
        JointWork(
            name=f"{room.copy(marks[0]).part} {joint}",
            title=f"Fit {room.name_copies(marks)} to {room.name_copies(mates)}",
            actions=_FIT_WORDS,
            check="Each goes home by hand, and stays on when it is lifted.",
            takes=[*(feature_begun(*key) for key in keys_of(pieces)), *mates_cut(pieces, room)],
            finishes=keys_of(pieces),
        ),
        room,
    )


_FIT_WORDS: Final = (
    "Try each in its own mate, and mark where it rubs.",
    "Pare the marked places, a shaving at a time, until it goes home by hand.",
    "Write the mate's mark beside each joint.",
)
PLANNER: Final = Planner(kinds=(TRIM_TENONS, FIT_TENONS), plan=plan_tenons)
