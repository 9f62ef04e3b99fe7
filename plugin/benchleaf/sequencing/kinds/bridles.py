"""Operations that cut bridle joints: slots by hand, then the cheeks on the sled.

Takes features of the roles bridle slot and bridle cheek, gives drafts. Must not know corner from
tee.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.sequencing.drafting import Draft, OperationKind, Planner
from benchleaf.sequencing.kinds.joint_drafts import mates_cut
from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.kinds.role_work import RoleWork, Said, plan_roles, size_named
from benchleaf.sequencing.kinds.shoulders import ABOVE_SLED
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

SLOT: Final = "bridle slot"
CHEEK: Final = "bridle cheek"
SAW_SLOTS: Final = OperationKind(
    code="saw-bridle-slots",
    phase="joints",
    family="bridles",
    tool="hand saw",
    minutes=5,
    minutes_each=15,
    says={"op.makes_dust": True, "cut.kind": "slot", "cut.through": False},
)
CUT_CHEEKS: Final = OperationKind(
    code="cut-bridle-cheeks",
    phase="joints",
    family="bridles",
    tool="table saw",
    minutes=15,
    minutes_each=5,
    says={
        **MACHINED,
        "op.uses_stop": False,
        "cut.kind": "lap",
        "cut.through": False,
        "stock.edge_straight": True,
    },
)


def plan_bridles(room: Workroom) -> Iterator[Draft]:
    """Plan the slots, then the tongues that go into them, each depth once."""
    yield from plan_roles(_ROWS, room)


def _slot_mm(piece: WorkPiece, room: Workroom) -> Fraction:
    return size_named(piece, "slot depth", room)


def _cheek_mm(piece: WorkPiece, room: Workroom) -> Fraction:
    return size_named(piece, "depth of each cheek", room)


def _say_slots(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    deep = room.say.length(_slot_mm(pieces[0], room))
    return Said(
        actions=(
            *spread("Clamp", sort_marks(piece.mark for piece in pieces), "upright in turn"),
            f"Saw down both lines, in the waste, to the shoulder {deep} down.",
            "Saw out most of the waste with a coping saw.",
            "Chop the bottom square, half way from each edge.",
            "Pare the walls flat to the gauge lines.",
        ),
        check="A straightedge laid in the slot touches both walls all the way down.",
        settings=(Setting(name="slot depth", value_mm=_slot_mm(pieces[0], room)),),
        facts={"cut.depth_mm": _slot_mm(pieces[0], room)},
    )


def _say_cheeks(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    depth = _cheek_mm(pieces[0], room)
    marks = sort_marks(piece.mark for piece in pieces)
    return Said(
        actions=(
            f"Set the blade {room.say.length(depth)} {ABOVE_SLED}, and try it on scrap.",
            *spread("Saw just inside the shoulder lines on one face of", marks),
            "Nibble away the wood between, out to the end at a corner.",
            "Turn each over, and do the same on the other face.",
            "Pare both cheeks flat, and try the tongue in its slot.",
        ),
        check="The tongue goes home by hand, and faces and shoulders come flush.",
        settings=(Setting(name="blade height", value_mm=depth, text=ABOVE_SLED),),
        facts={"cut.depth_mm": depth},
        takes=tuple(mates_cut(pieces, room)),
    )


_ROWS: Final = (
    RoleWork(
        kind=SAW_SLOTS,
        role=SLOT,
        verb="Saw",
        setting_of=lambda piece, room: (_slot_mm(piece, room), room.copy(piece.mark).part),
        say=_say_slots,
    ),
    RoleWork(
        kind=CUT_CHEEKS,
        role=CHEEK,
        verb="Cut",
        setting_of=lambda piece, room: (_cheek_mm(piece, room),),
        say=_say_cheeks,
    ),
)
PLANNER: Final = Planner(kinds=(SAW_SLOTS, CUT_CHEEKS), plan=plan_bridles)
