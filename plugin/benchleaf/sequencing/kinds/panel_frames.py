"""Operations for frames with panels: grooves in rails and stiles, edges of panels, a first coat.

Takes features of the roles panel groove, rebate and bevel, gives drafts. A groove that runs out is
sawn, one that stops is routed. A panel that stands loose has its first coat before it is closed in.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import partial
from typing import Final

from benchleaf.forms import box_round
from benchleaf.frames import Axis, face_name
from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    Work,
    copy_jointed,
    copy_prefinished,
    copy_sanded,
    draft,
)
from benchleaf.sequencing.finishes import find_finish
from benchleaf.sequencing.kinds.bits import largest_bit_mm
from benchleaf.sequencing.kinds.joint_drafts import joint_kind, mates_cut
from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.kinds.role_work import RoleWork, Said, plan_roles, size_named
from benchleaf.sequencing.loose_panels import GROOVE, find_loose_panels
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.stating import state_materials
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

TONGUE: Final = "panel tongue"
REBATE: Final = "panel rebate"
BEVEL: Final = "panel bevel"

# Minutes chosen, as for all kinds: a careful beginner's, with a trial cut.
_kind: Final = partial(joint_kind, family="frames", minutes=(15, 4))
_SAYS: Final[dict[str, Fact]] = {**MACHINED, "cut.through": False}

SAW_GROOVES: Final = _kind(
    "saw-panel-grooves",
    "table saw",
    says={**_SAYS, "cut.kind": "panel groove", "stock.edge_straight": True},
)
ROUT_GROOVES: Final = _kind(
    "rout-panel-grooves", "router", says={**_SAYS, "cut.kind": "groove", "cut.stopped": True}
)
ROUT_EDGES: Final = _kind(
    "rout-panel-edges", "router", says={**_SAYS, "cut.kind": "rebate", "cut.stopped": False}
)
RAISE: Final = _kind(
    "raise-panels", "hand plane", says={"op.makes_chips": True, "cut.kind": "bevel"}
)
PREFINISH: Final = OperationKind(
    code="prefinish-panels",
    phase="assembly",
    family="finishing",
    tool="brush",
    minutes=10,
    minutes_each=5,
    says={},
)


def plan_panel_frames(room: Workroom) -> Iterator[Draft]:
    """Plan the grooves, then the panels' edges and their first coat."""
    yield from plan_roles(_ROWS, room)
    yield from _prefinish(room)


# Grooves.


def _thin(piece: WorkPiece) -> Axis:
    """The own axis across the groove, or across the panel's edge."""
    box = box_round(piece.feature.shape)
    others = [axis for axis in Axis if axis is not piece.into]
    return min(others, key=lambda axis: box.size[axis])


def _run(piece: WorkPiece) -> Axis:
    return Axis(3 - piece.into - _thin(piece))


def _runs_out(piece: WorkPiece, room: Workroom) -> bool:
    """Tell whether a groove runs from end to end of its part, so that a saw can make it."""
    del room
    box, run = box_round(piece.feature.shape), _run(piece)
    return box.low[run] <= piece.body.low[run] and box.high[run] >= piece.body.high[run]


def _stops(piece: WorkPiece, room: Workroom) -> bool:
    return not _runs_out(piece, room)


def _wide_mm(piece: WorkPiece) -> Fraction:
    return Fraction(box_round(piece.feature.shape).size[_thin(piece)])


def _deep_mm(piece: WorkPiece) -> Fraction:
    return Fraction(box_round(piece.feature.shape).size[piece.into])


def _walls(piece: WorkPiece) -> tuple[Fraction, Fraction]:
    """Wood beside a groove, towards the low face and the high one."""
    box, thin = box_round(piece.feature.shape), _thin(piece)
    return (
        Fraction(box.low[thin] - piece.body.low[thin]),
        Fraction(piece.body.high[thin] - box.high[thin]),
    )


def _fence(piece: WorkPiece) -> tuple[Fraction, str]:
    """What stays between fence and groove, and the own face that runs along the fence."""
    low, high = _walls(piece)
    return min(low, high), face_name(_thin(piece), high < low)


def _groove_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    del room
    return (_wide_mm(piece), _deep_mm(piece), *_fence(piece))


def _is_centred(piece: WorkPiece) -> bool:
    low, high = _walls(piece)
    return low == high


def _groove_facts(pieces: Sequence[WorkPiece]) -> dict[str, Fact | None]:
    runs = [box_round(piece.feature.shape).size[_run(piece)] for piece in pieces]
    return {"cut.depth_mm": _deep_mm(pieces[0]), "cut.length_mm": Fraction(max(runs))}


def _say_sawn(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    wall, _ = _fence(pieces[0])
    return Said(
        actions=tuple(_sawn_words(pieces, room)),
        check="A scrap of the panel slides along the groove by hand, and does not rattle.",
        settings=(
            Setting(name="blade height", value_mm=_deep_mm(pieces[0])),
            Setting(name="fence", value_mm=wall),
            Setting(name="groove width", value_mm=_wide_mm(pieces[0])),
        ),
        facts=_groove_facts(pieces),
    )


def _sawn_words(pieces: Sequence[WorkPiece], room: Workroom) -> Iterator[str]:
    first, say = pieces[0], room.say
    wall, face = _fence(first)
    yield f"Set the blade {say.length(_deep_mm(first))} high, or a router table's bit."
    yield f"Set the fence {say.length(wall)} from the cut."
    yield f"Keep the {face} of every part against the fence."
    yield from spread("Run the groove from end to end in", sort_marks(p.mark for p in pieces))
    if _is_centred(first) and _wide_mm(first) > room.plan.shop.kerf_mm:
        yield "Turn each end for end and run it again: so the groove is centred."
    yield "Move the fence a little until a trial groove takes the panel; then widen every one."


def _say_routed(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    first, say = pieces[0], room.say
    wall, face = _fence(first)
    bit = largest_bit_mm(_wide_mm(first), room.plan.units, room.shop.router_bits_mm)
    most = say.usual("3 mm", "1/8 in")
    return Said(
        actions=(
            f"Fit the {say.length(bit)} straight bit.",
            f"Set the edge fence so that {say.length(wall)} stays beside the groove.",
            f"Set the depth stop to {say.length(_deep_mm(first))}, {most} a pass at most.",
            f"Keep the fence on the {face} of every part.",
            *spread("Rout between the marked ends in", sort_marks(p.mark for p in pieces)),
            *(
                ()
                if bit == _wide_mm(first)
                else ("Move the fence and widen each to the far line.",)
            ),
            "Square the ends with a chisel.",
        ),
        check="A scrap of the panel slides along the groove by hand, and does not rattle.",
        settings=(
            Setting(name="bit", value_mm=bit),
            Setting(name="fence", value_mm=wall),
            Setting(name="depth stop", value_mm=_deep_mm(first)),
        ),
        facts={"bit.diameter_mm": bit, "cut.end_grain": False, **_groove_facts(pieces)},
    )


# Edges of panels.


def _enters_mm(piece: WorkPiece, room: Workroom) -> Fraction:
    depth = size_named(piece, "groove depth", room)
    return depth - size_named(piece, "clearance at the bottom", room)


def _off_face_mm(piece: WorkPiece, room: Workroom) -> Fraction:
    """How deep the waste is from the face of the panel."""
    return Fraction(box_round(piece.feature.shape).size[room.part_of(piece.mark).thickness_axis])


def _reach_mm(piece: WorkPiece, room: Workroom) -> Fraction:
    """From the panel's edge to its shoulder."""
    return size_named(piece, "margin", room) + _enters_mm(piece, room)


def _edge_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    width = size_named(piece, "groove width", room)
    return (_reach_mm(piece, room), _off_face_mm(piece, room), width)


def _say_edges(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    first, say = pieces[0], room.say
    reach, deep = _reach_mm(first, room), _off_face_mm(first, room)
    bit = largest_bit_mm(reach, room.plan.units, room.shop.router_bits_mm)
    tongue = say.length(size_named(first, "groove width", room))
    return Said(
        actions=(
            f"Fit the {say.length(bit)} straight bit, or the next larger one.",
            f"Set the edge fence so that the bit takes {say.length(reach)} off the edge.",
            f"Set the depth stop to {say.length(deep)}.",
            f"Rout the edge of a trial piece: a tongue {tongue} thick is left.",
            "Rout across the grain first; what breaks out goes with the long edges.",
            *spread("Rout the edges of", sort_marks(piece.mark for piece in pieces)),
        ),
        check="The edge slides along its groove by hand, and the shoulder stands clear of it.",
        settings=(
            Setting(name="bit", value_mm=bit),
            Setting(name="fence", value_mm=reach),
            Setting(name="depth stop", value_mm=deep),
        ),
        facts={
            "bit.diameter_mm": bit,
            "cut.depth_mm": deep,
            "cut.length_mm": max(_long_mm(piece) for piece in pieces),
            "cut.end_grain": True,
        },
        takes=tuple(mates_cut(pieces, room)),
    )


def _long_mm(piece: WorkPiece) -> Fraction:
    return Fraction(max(box_round(piece.feature.shape).size))


def _say_raised(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    first, say = pieces[0], room.say
    enters, margin = _enters_mm(first, room), size_named(first, "margin", room)
    raised = size_named(first, "width of the slope and margin", room)
    tongue = say.length(size_named(first, "groove width", room))
    degrees = math.degrees(math.atan2(_off_face_mm(first, room), raised - margin))
    return Said(
        actions=(
            f"Pencil the field on the face: it begins {say.length(raised + enters)} from the edge.",
            f"Gauge the edge {tongue} thick all round.",
            f"Gauge a second line {say.length(margin + enters)} from it: so far it stays level.",
            "Plane across the grain first, then along it, down to the lines.",
            *spread("Plane the slopes of", sort_marks(piece.mark for piece in pieces)),
        ),
        check="The edge slides along its groove by hand, and the slopes meet in a clean line.",
        settings=(Setting(name="slope", value_mm=None, text=f"{degrees:.1f}°"),),
        facts={"cut.depth_mm": _off_face_mm(first, room)},
        takes=tuple(mates_cut(pieces, room)),
    )


# The first coat.


def _prefinish(room: Workroom) -> Iterator[Draft]:
    finish, marks = room.plan.finish, sorted(find_loose_panels(room.joinery))
    if finish is None or not marks:
        return
    row = find_finish(finish.material)
    hours = f"{row.drying_hours} hours" if row.drying_hours != 1 else "an hour"
    yield draft(
        PREFINISH,
        Work(
            id="prefinish-panels",
            title=f"Put a first coat on {room.name_copies(marks)}",
            copies=marks,
            actions=(
                *spread("Lay", sort_marks(marks), "on strips of scrap"),
                f"Brush {finish.material} thinly on both faces and every edge.",
                "Leave no edge bare: it shows when the panel shrinks in its grooves.",
                f"Let it dry for {hours}, or as the label says.",
            ),
            check="The edges have their coat all round, and no run in it.",
            facts={"finish.kind": row.kind, **state_materials(marks, room)},
            takes=[thing for mark in marks for thing in (copy_sanded(mark), copy_jointed(mark))],
            gives=[copy_prefinished(mark) for mark in marks],
            pieces=len(marks),
            waiting_hours=Fraction(row.drying_hours),
        ),
    )


_ROWS: Final = (
    RoleWork(
        kind=SAW_GROOVES, role=GROOVE, verb="Saw", setting_of=_groove_setting, say=_say_sawn,
        picks=_runs_out,
    ),
    RoleWork(
        kind=ROUT_GROOVES, role=GROOVE, verb="Rout", setting_of=_groove_setting, say=_say_routed,
        picks=_stops,
    ),
    RoleWork(
        kind=ROUT_EDGES, role=REBATE, verb="Rout", setting_of=_edge_setting, say=_say_edges,
        with_roles=(TONGUE,), where="of", noun="rebated edge",
    ),
    RoleWork(
        kind=RAISE, role=BEVEL, verb="Plane", setting_of=_edge_setting, say=_say_raised,
        with_roles=(TONGUE,), where="of", noun="raised edge",
    ),
)  # fmt: skip
PLANNER: Final = Planner(
    kinds=(SAW_GROOVES, ROUT_GROOVES, ROUT_EDGES, RAISE, PREFINISH), plan=plan_panel_frames
)
