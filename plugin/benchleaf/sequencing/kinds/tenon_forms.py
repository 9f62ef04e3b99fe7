"""Operations of the further forms of mortise and tenon: pegs, wedges, loose and twin tenons.

Takes features of the roles that those forms add, gives drafts. The mortises and tenons themselves
are cut as plain ones are. Must not know how joints are put together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import partial
from typing import Final

from benchleaf.sequencing.drafting import Draft, Planner
from benchleaf.sequencing.jointwork import BoxCut, measure_box, measure_tenon
from benchleaf.sequencing.kinds.bits import largest_bit_mm
from benchleaf.sequencing.kinds.joint_drafts import joint_kind, mates_cut
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

_BY_DRILL: Final[dict[str, Fact]] = {
    **DRILLED,
    "cut.kind": "bore",
}
_BY_SAW: Final[dict[str, Fact]] = {"op.makes_dust": True, "cut.kind": "tenon"}


# Minutes chosen, as for all kinds: a careful beginner's.
_kind: Final = partial(joint_kind, minutes=(5, 8))

PARE_SLOPES: Final = _kind(
    "pare-slopes",
    "chisel",
    family="mortises",
    says={"op.makes_chips": True, "cut.kind": "mortise"},
)
DRILL_PEG_HOLES: Final = _kind("drill-peg-holes", "drill", family="holes", says=_BY_DRILL)
ROUT_LOOSE_MORTISES: Final = _kind(
    "rout-loose-mortises",
    "router",
    family="routing",
    says={
        **MACHINED,
        "cut.kind": "mortise",
        "cut.through": False,
        "cut.stopped": True,
    },
)
CUT_TWIN_TENONS: Final = _kind("cut-twin-tenons", "hand saw", family="tenons", says=_BY_SAW)
SAW_WEDGE_SLOTS: Final = _kind("saw-wedge-slots", "hand saw", family="tenons", says=_BY_SAW)
DRILL_DRAWN_HOLES: Final = _kind("drill-drawn-holes", "drill", family="tenons", says=_BY_DRILL)


def plan_tenon_forms(room: Workroom) -> Iterator[Draft]:
    """Plan what each form adds to a plain mortise and tenon."""
    yield from plan_roles(_ROWS, room)


def _box(piece: WorkPiece) -> BoxCut:
    cut = measure_box(piece)
    assert cut is not None  # noqa: S101 - the families make these roles boxes
    return cut


# Wedges.


def _slope_of(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    return (size_named(piece, "mortise slope at each end", room),)


def _say_slopes(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    marks = sort_marks(piece.mark for piece in pieces)
    slope = room.say.length(size_named(pieces[0], "mortise slope at each end", room))
    return Said(
        actions=[
            *spread("Turn up the face where the tenon comes out, on", marks),
            f"Mark {slope} outwards on this face, at both ends of each mortise.",
            "Pare from these lines down to nothing at the other face.",
        ],
        check=f"Each mortise is {slope} longer at each end of this face, and no wider.",
        facts={},
        takes=own_cuts(pieces, room, "mortise"),
    )


def _slot_of(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    return (size_named(piece, "wedge slot depth", room),)


def _say_slots(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    marks = sort_marks(piece.mark for piece in pieces)
    deep = size_named(pieces[0], "wedge slot depth", room)
    return Said(
        actions=[
            *spread("Clamp", marks, "upright in turn"),
            f"Saw down each slot line, {room.say.length(deep)} deep.",
            "Cut the wedges from straight hardwood, and try one in a slot.",
        ],
        check="Each slot runs straight along the tenon, and its root is whole.",
        settings=(Setting(name="depth", value_mm=deep),),
        facts={"cut.depth_mm": deep, "cut.through": False},
        takes=own_cuts(pieces, room, "tenon"),
    )


# Pegs.


def _say_peg_holes(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    return Said(
        actions=[
            *fit_bit_words(pieces, room),
            "Put a piece of scrap in each mortise, so that its cheeks do not break out.",
            *count_words("Drill", "hole", pieces, "from the marked side"),
        ],
        check="Every hole is on its mark and square to the face.",
        settings=hole_settings(pieces),
        facts=hole_facts(pieces),
        takes=own_cuts(pieces, room, "mortise"),
    )


def _drawn_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    return (*hole_setting(piece, room), size_named(piece, "draw", room))


def _say_drawn(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    marks = sort_marks(piece.mark for piece in pieces)
    draw = room.say.length(size_named(pieces[0], "draw", room))
    return Said(
        actions=[
            *spread("Put each tenon home, and prick it through the peg holes, on", marks),
            f"Take it out, and prick each new centre {draw} nearer to the shoulder.",
            f"Fit the {room.say.length(hole_bit(pieces))} bit, and drill through on scrap.",
        ],
        check=f"Seen through a peg hole, the tenon's hole stands {draw} towards the shoulder.",
        settings=(Setting(name="bit", value_mm=hole_bit(pieces)),),
        facts={**hole_facts(pieces), "cut.through": True},
        takes=own_cuts(pieces, room, "tenon", "haunch"),
    )


def hole_bit(pieces: Sequence[WorkPiece]) -> Fraction:
    """Diameter of the holes that are drilled, mm."""
    (bit, *_) = hole_settings(pieces)
    assert bit.value_mm is not None  # noqa: S101 - a bit has a size
    return bit.value_mm


# Loose tenons.


def _routed_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    del room
    cut = _box(piece)
    return (min(cut.width_mm, cut.run_mm), cut.depth_mm)


def _say_routed(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    say, cuts = room.say, [_box(piece) for piece in pieces]
    cut = cuts[0]
    bit = largest_bit_mm(min(cut.width_mm, cut.run_mm), room.plan.units, room.shop.router_bits_mm)
    marks = sort_marks(piece.mark for piece in pieces)
    passes = say.usual("3 mm", "1/8 in")
    return Said(
        actions=[
            f"Fit the {say.length(bit)} straight bit.",
            f"Set the depth stop to {say.length(cut.depth_mm)}.",
            "Clamp a block to each side of the work, level with the face, to carry the router.",
            "Set the edge guide so that the bit runs between the lines.",
            *spread(f"Rout the mortises, {passes} a pass at most, in", marks),
            "Square the ends with a chisel, or round the edges of the loose tenons.",
        ],
        check=f"A loose tenon slides in by hand; each mortise is {say.length(cut.depth_mm)} deep.",
        settings=(
            Setting(name="bit", value_mm=bit),
            Setting(name="depth stop", value_mm=cut.depth_mm),
        ),
        facts={
            "bit.diameter_mm": bit,
            "cut.depth_mm": cut.depth_mm,
            "cut.length_mm": max(max(own.run_mm, own.width_mm) for own in cuts),
        },
    )


# Twin tenons.


def _twin_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    return (piece.feature.joint, room.copy(piece.mark).part)


def _say_twins(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    marks = sort_marks(piece.mark for piece in pieces)
    tenon = measure_tenon(pieces[0])
    deep = room.say.length(tenon.length_mm) if tenon else ""
    return Said(
        actions=[
            *spread("Clamp", marks, "upright in turn"),
            f"Saw down beside every line, {deep} deep, to the shoulder line.",
            "Saw the outer shoulders, and lift the waste off.",
            "Saw out the wood between the tenons, and pare down to the shoulder line.",
            "Try each in its own mortises, and pare where it rubs.",
            "Write the mate's mark beside each joint.",
        ],
        check="Each goes home by hand, and all shoulders touch at once.",
        facts={"cut.length_mm": tenon.length_mm if tenon else None, "cut.through": True},
        takes=mates_cut(pieces, room),
    )


_ROWS: Final = (
    RoleWork(
        kind=PARE_SLOPES,
        role="mortise slope",
        verb="Pare",
        setting_of=_slope_of,
        say=_say_slopes,
    ),
    RoleWork(
        kind=DRILL_PEG_HOLES,
        role="peg hole",
        verb="Drill",
        setting_of=hole_setting,
        say=_say_peg_holes,
    ),
    RoleWork(
        kind=ROUT_LOOSE_MORTISES,
        role="loose mortise",
        verb="Rout",
        noun="mortise",
        setting_of=_routed_setting,
        say=_say_routed,
    ),
    RoleWork(
        kind=CUT_TWIN_TENONS,
        role="twin tenon",
        verb="Cut",
        setting_of=_twin_setting,
        say=_say_twins,
    ),
    RoleWork(
        kind=SAW_WEDGE_SLOTS,
        role="wedge slot",
        verb="Saw",
        setting_of=_slot_of,
        say=_say_slots,
    ),
    RoleWork(
        kind=DRILL_DRAWN_HOLES,
        role="drawn peg hole",
        verb="Drill",
        noun="tenon hole",
        setting_of=_drawn_setting,
        say=_say_drawn,
    ),
)
PLANNER: Final = Planner(
    kinds=(
        PARE_SLOPES,
        DRILL_PEG_HOLES,
        ROUT_LOOSE_MORTISES,
        CUT_TWIN_TENONS,
        SAW_WEDGE_SLOTS,
        DRILL_DRAWN_HOLES,
    ),
    plan=plan_tenon_forms,
)
