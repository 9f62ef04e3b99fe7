"""Operations for what moves: hinges let in, holes for shelf pins, clearance sawn off.

Takes features of the roles hinge mortise, pin hole, end clearance and edge clearance, gives drafts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import partial
from typing import Final

from benchleaf.sequencing.drafting import Draft, Planner
from benchleaf.sequencing.jointwork import measure_box
from benchleaf.sequencing.kinds.joint_drafts import joint_kind
from benchleaf.sequencing.kinds.machine_facts import DRILLED, MACHINED
from benchleaf.sequencing.kinds.role_work import (
    RoleWork,
    Said,
    count_words,
    fit_bit_words,
    hole_facts,
    hole_setting,
    hole_settings,
    own_cuts,
    plan_roles,
    size_named,
)
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

_SAW: Final[dict[str, Fact]] = {
    **MACHINED,
    "stock.edge_straight": True,
}


# Minutes chosen, as for all kinds: a careful beginner's.
_kind: Final = partial(joint_kind, minutes=(5, 5))

TRIM_ENDS: Final = _kind(
    "trim-ends",
    "table saw",
    family="clearance",
    says={**_SAW, "cut.kind": "trim", "op.uses_stop": True},
)
PLANE_EDGES: Final = _kind(
    "plane-edges",
    "hand plane",
    family="clearance",
    says={"op.makes_chips": True, "cut.kind": "trim"},
)
DRILL_PIN_HOLES: Final = _kind(
    "drill-pin-holes",
    "drill",
    family="holes",
    says={
        **DRILLED,
        "cut.kind": "bore",
        "cut.through": False,
    },
)
CUT_HINGE_MORTISES: Final = _kind(
    "cut-hinge-mortises",
    "chisel",
    family="mortises",
    says={"op.makes_chips": True, "cut.kind": "mortise"},
)


def plan_hanging(room: Workroom) -> Iterator[Draft]:
    """Plan what is taken off first, then holes and mortises."""
    yield from plan_roles(_ROWS, room)


def _deep_mm(piece: WorkPiece) -> Fraction:
    cut = measure_box(piece)
    assert cut is not None  # noqa: S101 - the families make these roles boxes
    return cut.depth_mm


def _clearance_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    return (_deep_mm(piece), room.copy(piece.mark).part)


def _say_ends(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    off = _deep_mm(pieces[0])
    marks = sort_marks(piece.mark for piece in pieces)
    return Said(
        actions=[
            "Set the stop on the sled for the finished length, and try it on scrap.",
            *spread(f"Saw {room.say.length(off)} off each end that stands on pins, on", marks),
        ],
        check="Each shelf drops in between its sides, and shifts by hand.",
        settings=(Setting(name="off each end", value_mm=off),),
        facts={"cut.depth_mm": off, "cut.through": True},
    )


def _say_edges(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    off = _deep_mm(pieces[0])
    marks = sort_marks(piece.mark for piece in pieces)
    return Said(
        actions=[
            f"Gauge a line {room.say.length(off)} from the edge at the hinges.",
            *spread("Plane that edge down to the line, square, on", marks),
        ],
        check=f"The gap at the hinges is {room.say.length(off)} all along.",
        settings=(Setting(name="gauge", value_mm=off),),
        facts={"cut.depth_mm": off},
    )


def _say_pin_holes(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    step = size_named(pieces[0], "from hole to hole", room)
    return Said(
        actions=[
            *fit_bit_words(pieces, room),
            f"Make a template with holes {room.say.length(step)} apart, and mark its lower end.",
            "Clamp the template on each centre line, its first hole on the lowest mark.",
            *count_words("Drill", "hole", pieces, "through the template"),
        ],
        check="Four pins pushed in at one height carry a straight shelf without rocking.",
        settings=(*hole_settings(pieces), Setting(name="step", value_mm=step)),
        facts=hole_facts(pieces),
    )


def _hinge_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    return (size_named(piece, "hinge length", room), size_named(piece, "mortise depth", room))


def _say_hinges(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    say = room.say
    leaf = size_named(pieces[0], "leaf let in", room)
    deep = size_named(pieces[0], "mortise depth", room)
    marks = sort_marks(piece.mark for piece in pieces)
    return Said(
        actions=[
            "Lay a hinge between its two marks, and knife round the leaf.",
            f"Gauge the width, {say.length(leaf)}, and the depth, {say.length(deep)}.",
            *spread("Chop and pare the hinge mortises in", marks),
            "Try a leaf in each: it lies level with the wood, its pin clear of the face.",
        ],
        check="Every leaf lies level, and both halves of each hinge meet.",
        settings=(
            Setting(name="gauge, width", value_mm=leaf),
            Setting(name="gauge, depth", value_mm=deep),
        ),
        facts={"cut.depth_mm": deep},
        takes=own_cuts(pieces, room, "edge clearance"),
    )


_ROWS: Final = (
    RoleWork(
        kind=TRIM_ENDS,
        role="end clearance",
        verb="Trim",
        noun="end",
        where="of",
        setting_of=_clearance_setting,
        say=_say_ends,
    ),
    RoleWork(
        kind=PLANE_EDGES,
        role="edge clearance",
        verb="Plane",
        noun="hinge edge",
        where="of",
        setting_of=_clearance_setting,
        say=_say_edges,
    ),
    RoleWork(
        kind=DRILL_PIN_HOLES,
        role="pin hole",
        verb="Drill",
        setting_of=hole_setting,
        say=_say_pin_holes,
    ),
    RoleWork(
        kind=CUT_HINGE_MORTISES,
        role="hinge mortise",
        verb="Cut",
        setting_of=_hinge_setting,
        say=_say_hinges,
    ),
)
PLANNER: Final = Planner(
    kinds=(TRIM_ENDS, PLANE_EDGES, DRILL_PIN_HOLES, CUT_HINGE_MORTISES), plan=plan_hanging
)
