"""Operations for what no machine of the first form has a setting for: notches, and odd recesses.

Takes added wood that does not go in over its whole width, and square features of roles that no
other planner knows; gives drafts by hand saw and chisel.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from benchleaf.sequencing.drafting import Draft, OperationKind, Planner
from benchleaf.sequencing.jointwork import measure_box, measure_tenon
from benchleaf.sequencing.kinds import box_joints, dovetails
from benchleaf.sequencing.kinds.joint_drafts import (
    JointWork,
    draft_joint_work,
    keys_of,
    mates_cut,
)
from benchleaf.sequencing.kinds.mortises import ROLES as SQUARE_HOLES
from benchleaf.sequencing.kinds.role_work import ELSEWHERE
from benchleaf.sequencing.records import Fact
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

NOTCH: Final = OperationKind(
    code="notch",
    phase="joints",
    family="notches",
    tool="hand saw",
    minutes=5,
    minutes_each=5,
    says={"op.makes_dust": True, "cut.kind": "notch", "cut.through": True},
)
CUT_BY_HAND: Final = OperationKind(
    code="cut-by-hand",
    phase="joints",
    family="notches",
    tool="chisel",
    minutes=5,
    minutes_each=15,
    says={"op.makes_chips": True, "cut.kind": "recess"},
)
_KNOWN: Final = (
    SQUARE_HOLES
    | box_joints.ROLES
    | dovetails.ROLES
    | {"housing", "groove", "rebate", "lap", "shoulder"}
)
_FITTED: Final = frozenset({"tenon", "haunch"})


def plan_notches(room: Workroom) -> Iterator[Draft]:
    """Plan notches, then recesses that nothing else cuts."""
    notched: dict[tuple[int, str], list[WorkPiece]] = {}
    odd: dict[tuple[int, str], list[WorkPiece]] = {}
    for work in room.work:
        if work.feature.role in ELSEWHERE:
            continue
        key = (work.feature.joint, room.copy(work.mark).part)
        tenon = measure_tenon(work)
        if tenon is not None:
            if tenon.shoulders and work.feature.role not in _FITTED:
                notched.setdefault(key, []).append(work)
        elif measure_box(work) is not None and work.feature.role not in _KNOWN:
            odd.setdefault(key, []).append(work)
    for pieces in notched.values():
        yield _notch(pieces, room)
    for pieces in odd.values():
        yield _by_hand(pieces, room)


def _notch(pieces: list[WorkPiece], room: Workroom) -> Draft:
    marks = [piece.mark for piece in pieces]
    return draft_joint_work(
        NOTCH,
        pieces,
        JointWork(
            name=f"{room.copy(marks[0]).part} {pieces[0].feature.joint}",
            title=f"Notch {room.name_copies(marks)} for {room.name_copies(_mates(pieces))}",
            actions=_notch_words(pieces, room),
            check="The end goes home in its mate, and the notch hides the end of the recess.",
            facts={"cut.length_mm": _longest(pieces)},
            takes=mates_cut(pieces, room),
            finishes=keys_of(pieces),
        ),
        room,
    )


def _notch_words(pieces: list[WorkPiece], room: Workroom) -> Iterator[str]:
    marks = sort_marks(piece.mark for piece in pieces)
    cuts = {
        (face, depth, tenon.length_mm)
        for piece in pieces
        if (tenon := measure_tenon(piece)) is not None
        for face, depth in tenon.shoulders
    }
    yield from spread("Clamp", marks, "upright in turn")
    for face, depth, length in sorted(cuts):
        wide, deep = room.say.length(depth), room.say.length(length)
        yield f"At the {face}, saw a notch {wide} wide and {deep} down from the end."
    yield "Pare the bottom of the notch square with a chisel."


def _by_hand(pieces: list[WorkPiece], room: Workroom) -> Draft:
    marks = [piece.mark for piece in pieces]
    cut = measure_box(pieces[0])
    role = pieces[0].feature.role
    depth = f" to {room.say.length(cut.depth_mm)}" if cut else ""
    return draft_joint_work(
        CUT_BY_HAND,
        pieces,
        JointWork(
            name=f"{role} {room.copy(marks[0]).part} {pieces[0].feature.joint}",
            title=f"Cut the {role} in {room.name_copies(marks)}",
            actions=[
                *spread("Clamp", sort_marks(marks), "to the bench in turn"),
                "Cut along the lines with a knife, and deepen them with a chisel.",
                f"Chop and pare down{depth}.",
            ],
            check="The mate goes home by hand.",
            facts={"cut.depth_mm": cut.depth_mm if cut else None},
            finishes=keys_of(pieces),
        ),
        room,
    )


def _mates(pieces: Sequence[WorkPiece]) -> list[str]:
    return [piece.feature.mate for piece in pieces]


def _longest(pieces: Sequence[WorkPiece]) -> Fact | None:
    tenons = [tenon for piece in pieces if (tenon := measure_tenon(piece)) is not None]
    return max((tenon.length_mm for tenon in tenons), default=None)


PLANNER: Final = Planner(kinds=(NOTCH, CUT_BY_HAND), plan=plan_notches)
