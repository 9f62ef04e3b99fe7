"""Operations that drill for bolts and cross dowels.

Takes features of the roles bolt hole and cross dowel hole, gives drafts. Must not know how the
parts are bolted together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Final

from benchleaf.sequencing.drafting import Draft, Planner
from benchleaf.sequencing.kinds.joint_drafts import joint_kind
from benchleaf.sequencing.kinds.machine_facts import DRILLED
from benchleaf.sequencing.kinds.role_work import (
    RoleWork,
    Said,
    count_words,
    fit_bit_words,
    hole_facts,
    hole_setting,
    hole_settings,
    plan_roles,
)
from benchleaf.sequencing.records import Fact
from benchleaf.sequencing.workroom import WorkPiece, Workroom

_DRILL: Final[dict[str, Fact]] = {
    **DRILLED,
    "cut.kind": "bore",
}


# Minutes chosen, as for all kinds: a careful beginner's.
_kind: Final = partial(joint_kind, tool="drill", family="holes", minutes=(5, 3), says=_DRILL)

DRILL_BOLT_HOLES: Final = _kind("drill-bolt-holes")
DRILL_CROSS_DOWEL_HOLES: Final = _kind("drill-cross-dowel-holes")


def plan_bolting(room: Workroom) -> Iterator[Draft]:
    """Plan the holes for bolts, then those that cross them."""
    yield from plan_roles(_ROWS, room)


def _say_bolt_holes(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    return Said(
        actions=[
            *fit_bit_words(pieces, room),
            "Clamp a drilling guide over each mark, so that the hole runs square.",
            *count_words("Drill", "hole", pieces, "from the marked side"),
        ],
        check="The bolt slides through every hole by hand.",
        settings=hole_settings(pieces),
        facts=hole_facts(pieces),
    )


def _say_cross_dowel_holes(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    return Said(
        actions=[
            *fit_bit_words(pieces, room),
            "Prick each centre with an awl, and drill square to the face.",
            *count_words("Drill", "hole", pieces, "from the marked side"),
            "Push a bolt in from the end; it shows in the middle of each hole.",
        ],
        check="A cross dowel drops in, and a bolt from the end finds its thread.",
        settings=hole_settings(pieces),
        facts=hole_facts(pieces),
    )


_ROWS: Final = (
    RoleWork(
        kind=DRILL_BOLT_HOLES,
        role="bolt hole",
        verb="Drill",
        setting_of=hole_setting,
        say=_say_bolt_holes,
    ),
    RoleWork(
        kind=DRILL_CROSS_DOWEL_HOLES,
        role="cross dowel hole",
        verb="Drill",
        setting_of=hole_setting,
        say=_say_cross_dowel_holes,
    ),
)
PLANNER: Final = Planner(kinds=(DRILL_BOLT_HOLES, DRILL_CROSS_DOWEL_HOLES), plan=plan_bolting)
