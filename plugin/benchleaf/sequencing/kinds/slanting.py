"""Operations that bore pockets for slanting screws, and cut slots for biscuits.

Takes features of the roles screw pocket, pocket pilot and biscuit slot, gives drafts. Must not know
how the parts are put together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Final

from benchleaf.sequencing.drafting import Draft, Planner
from benchleaf.sequencing.kinds.joint_drafts import joint_kind
from benchleaf.sequencing.kinds.machine_facts import DRILLED, MACHINED
from benchleaf.sequencing.kinds.role_work import (
    RoleWork,
    Said,
    bore,
    count_words,
    plan_roles,
    size_named,
)
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

_BY_DRILL: Final[dict[str, Fact]] = {
    **DRILLED,
    "cut.kind": "bore",
    "cut.through": False,
}


# Minutes chosen, as for all kinds: a careful beginner's.
_kind: Final = partial(joint_kind, minutes=(10, 2))

DRILL_POCKETS: Final = _kind("drill-pockets", "drill", family="holes", says=_BY_DRILL)
CUT_BISCUIT_SLOTS: Final = _kind(
    "cut-biscuit-slots",
    "biscuit jointer",
    family="slots",
    says={
        **MACHINED,
        "cut.kind": "slot",
        "cut.through": False,
    },
)


def plan_slanting(room: Workroom) -> Iterator[Draft]:
    """Plan pockets with their pilots, then slots."""
    yield from plan_roles(_ROWS, room)


def _pocket_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    thick = size_named(piece, "jig set for stock", room)
    return (thick, bore(piece).diameter_mm, bore(piece).depth_mm)


def _say_pockets(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    thick = size_named(pieces[0], "jig set for stock", room)
    seat = size_named(pieces[0], "screw in the first part", room)
    marks = sort_marks(piece.mark for piece in pieces)
    return Said(
        actions=[
            f"Set the pocket jig for stock {room.say.length(thick)} thick.",
            f"Set the bit's collar so that {room.say.about(seat)} is left in front of the pocket.",
            *spread("Clamp the jig on the marks of", marks, "the end against its stop"),
            *count_words("Bore", "pocket", pieces),
        ],
        check="A screw goes in to its head, and shows in the middle of the end.",
        settings=(
            Setting(name="jig", value_mm=thick),
            Setting(name="bit", value_mm=bore(pieces[0]).diameter_mm),
        ),
        facts={
            "bit.diameter_mm": bore(pieces[0]).diameter_mm,
            "cut.depth_mm": bore(pieces[0]).depth_mm,
        },
    )


def _slot_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    return (_number(piece, room),)


def _number(piece: WorkPiece, room: Workroom) -> str:
    fit = room.fit_between(piece.mark, piece.feature.mate, piece.feature.joint)
    items = fit.hardware if fit is not None else ()
    return next((item.size for item in items if item.kind == "biscuit"), "")


def _say_slots(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    number, deep = _number(pieces[0], room), size_named(pieces[0], "slot depth", room)
    return Said(
        actions=[
            f"Set the biscuit jointer's depth to {number}, and try it in scrap.",
            "Set its fence so that the cutter runs on the centre line.",
            "Clamp a straight batten beside a line in the middle of a face instead.",
            *count_words("Cut", "slot", pieces, "at the marks"),
        ],
        check=f"Each slot is {room.say.about(deep)} deep, and a biscuit goes half way in.",
        settings=(Setting(name="depth setting", value_mm=None, text=number),),
        facts={"cut.depth_mm": deep},
    )


_ROWS: Final = (
    RoleWork(
        kind=DRILL_POCKETS,
        role="screw pocket",
        verb="Bore",
        setting_of=_pocket_setting,
        say=_say_pockets,
        with_roles=("pocket pilot",),
    ),
    RoleWork(
        kind=CUT_BISCUIT_SLOTS,
        role="biscuit slot",
        verb="Cut",
        setting_of=_slot_setting,
        say=_say_slots,
    ),
)
PLANNER: Final = Planner(kinds=(DRILL_POCKETS, CUT_BISCUIT_SLOTS), plan=plan_slanting)
