"""Operations that make dovetails by hand: tails first, then pins that are marked from them.

Takes features of the roles pin socket (between the tails) and tail socket (between the pins), gives
drafts for each joint and part. Must not know how the tails were laid out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    Thing,
    feature_begun,
)
from benchleaf.sequencing.jointwork import end_face
from benchleaf.sequencing.kinds.joint_drafts import (
    JointWork,
    draft_joint_work,
    keys_of,
    mates_cut,
)
from benchleaf.sequencing.records import Fact
from benchleaf.sequencing.wording import join_marks, sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

TAIL_WASTE: Final = "pin socket"
PIN_WASTE: Final = "tail socket"
ROLES: Final = frozenset({TAIL_WASTE, PIN_WASTE})
_BLIND: Final = "half blind dovetail"


def _kind(
    code: str, tool: str, minutes: tuple[int, int], says: dict[str, Fact] | None = None
) -> OperationKind:
    return OperationKind(
        code=code,
        phase="joints",
        family="dovetails",
        tool=tool,
        minutes=minutes[0],
        minutes_each=minutes[1],
        says={**(says or {}), "cut.kind": "dovetail"},
    )


SAW_TAILS: Final = _kind("saw-tails", "hand saw", (5, 2), {"op.makes_dust": True})
CHOP_TAILS: Final = _kind("chop-tails", "chisel", (5, 5), {"op.makes_chips": True})
MARK_PINS: Final = _kind("mark-pins", "marking knife", (5, 1), {"op.makes_lines": True})
SAW_PINS: Final = _kind("saw-pins", "hand saw", (5, 2), {"op.makes_dust": True})
CHOP_PINS: Final = _kind("chop-pins", "chisel", (5, 6), {"op.makes_chips": True})


def plan_dovetails(room: Workroom) -> Iterator[Draft]:
    """Plan dovetails joint by joint: all tails, then all pins."""
    held: dict[tuple[int, str, str], list[WorkPiece]] = {}
    for piece in room.work:
        if piece.feature.role in ROLES:
            key = (piece.feature.joint, room.copy(piece.mark).part, piece.feature.role)
            held.setdefault(key, []).append(piece)
    for (_, _, role), pieces in held.items():
        yield from _tails(pieces, room) if role == TAIL_WASTE else _pins(pieces, room)


def _name(pieces: Sequence[WorkPiece], room: Workroom) -> str:
    return f"{room.copy(pieces[0].mark).part} {pieces[0].feature.joint}"


def _marked(pieces: Sequence[WorkPiece]) -> list[Thing]:
    """The pins are marked from the tails that go between them."""
    return [("marked from mate", p.mark, p.feature.mate, p.feature.joint) for p in pieces]


# Tails.


def _tails(pieces: list[WorkPiece], room: Workroom) -> Iterator[Draft]:
    named = room.name_copies(piece.mark for piece in pieces)
    yield draft_joint_work(
        SAW_TAILS,
        pieces,
        JointWork(
            name=_name(pieces, room),
            title=f"Saw the tails of {named}",
            actions=(
                *spread("Clamp", sort_marks(p.mark for p in pieces), "upright in turn"),
                "Join the corners on the end to the roots on the face with a bevel.",
                "Hatch the waste between the tails, and at both edges.",
                "Saw down each sloping line, on the waste side, square across the end.",
                "Stop at the shoulder line on both faces.",
            ),
            check="Every kerf stands in the waste and stops at the shoulder line.",
            begins=keys_of(pieces),
        ),
        room,
    )
    yield draft_joint_work(
        CHOP_TAILS,
        pieces,
        JointWork(
            name=_name(pieces, room),
            title=f"Clear the waste between the tails of {named}",
            actions=(
                "Saw the waste off at both edges, along the shoulder line.",
                "Saw out most of the waste between the tails with a coping saw.",
                "Chop to the shoulder line, half way from each face.",
                "Pare the corners clean.",
            ),
            check="A straightedge touches the shoulder all along, from face to face.",
            takes=[feature_begun(*piece.key) for piece in pieces],
            finishes=keys_of(pieces),
        ),
        room,
    )


# Pins.


def _pins(pieces: list[WorkPiece], room: Workroom) -> Iterator[Draft]:
    yield _mark_pins(pieces, room)
    named = room.name_copies(piece.mark for piece in pieces)
    is_blind = _is_blind(pieces[0], room)
    yield draft_joint_work(
        SAW_PINS,
        pieces,
        JointWork(
            name=_name(pieces, room),
            title=f"Saw the pins of {named}",
            actions=_sawing_words(pieces, is_blind=is_blind),
            check="The knife lines still show on every pin.",
            takes=_marked(pieces),
            begins=keys_of(pieces),
        ),
        room,
    )
    yield draft_joint_work(
        CHOP_PINS,
        pieces,
        JointWork(
            name=_name(pieces, room),
            title=f"Clear the waste between the pins of {named}",
            actions=_chopping_words(is_blind=is_blind),
            check="Each corner goes home with light taps, without force, and stands square.",
            takes=[*(feature_begun(*piece.key) for piece in pieces), *mates_cut(pieces, room)],
            finishes=keys_of(pieces),
        ),
        room,
    )


def _is_blind(piece: WorkPiece, room: Workroom) -> bool:
    fit = room.fit_between(piece.mark, piece.feature.mate, piece.feature.joint)
    return fit is not None and fit.kind == _BLIND


def _mark_pins(pieces: list[WorkPiece], room: Workroom) -> Draft:
    corners = dict.fromkeys(_corner_words(piece, room) for piece in pieces)
    mates = sort_marks(piece.feature.mate for piece in pieces)
    made = draft_joint_work(
        MARK_PINS,
        pieces,
        JointWork(
            name=_name(pieces, room),
            title=f"Mark the pins of {room.name_copies(p.mark for p in pieces)} from the tails",
            actions=(
                *spread("Clamp", sort_marks(p.mark for p in pieces), "upright, end up, in turn"),
                "Lay the tail board on the end, its shoulder at the inner face, edges in line.",
                *corners,
                "Carry the lines square down to the shoulder line, and hatch the waste.",
                f"Write {join_marks(mates)} beside the corners they belong to.",
            ),
            check="No tail board has moved: its edges are in line with the pin board's.",
            takes=mates_cut(pieces, room),
        ),
        room,
    )
    return Draft(
        operation=made.operation, takes=made.takes, gives=made.gives | frozenset(_marked(pieces))
    )


def _corner_words(piece: WorkPiece, room: Workroom) -> str:
    """Which tails are knifed round on which end."""
    mate = piece.feature.mate
    tails = room.work_at(mate, piece.mark, piece.feature.joint)
    ends = [own for work in tails if (own := end_face(work))]
    of = f"{ends[-1]} tails of {mate}" if ends else f"tails of {mate}"
    return f"Knife round the {of} on the {end_face(piece) or 'marked'} end of {piece.mark}."


def _sawing_words(pieces: Sequence[WorkPiece], *, is_blind: bool) -> Iterator[str]:
    yield from spread("Clamp", sort_marks(piece.mark for piece in pieces), "upright in turn")
    yield "Saw beside each line, in the waste, so that the line stays on the pin."
    if is_blind:
        yield "Slant the saw: stop at the lap line on the end, at the shoulder inside."
    else:
        yield "Stop at the shoulder line on both faces."


def _chopping_words(*, is_blind: bool) -> Iterator[str]:
    if is_blind:
        yield "Lay the board down, inner face up, on the bench."
        yield "Chop across the shoulder line and split from the end, a layer at a time."
        yield "Deepen the corners that the saw did not reach, down to the lap line."
        yield "Pare the sloping sides back to the knife lines."
    else:
        yield "Saw out most of the waste between the pins with a coping saw."
        yield "Chop to the shoulder line, half way from each face."
    yield "Try the mate, tap it half way, and pare where it rubs."


PLANNER: Final = Planner(
    kinds=(SAW_TAILS, CHOP_TAILS, MARK_PINS, SAW_PINS, CHOP_PINS), plan=plan_dovetails
)
