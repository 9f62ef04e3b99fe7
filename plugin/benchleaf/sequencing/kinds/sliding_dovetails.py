"""Operations that rout sliding dovetails: sockets first, then the tails that fit them.

Takes features of the roles dovetail socket and dovetail tail, gives drafts, one for each bit and
depth. Must not know where on its part a socket lies.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import partial
from typing import Final

from benchleaf.forms import box_round
from benchleaf.sequencing.drafting import Draft, Planner
from benchleaf.sequencing.kinds.bits import largest_bit_mm
from benchleaf.sequencing.kinds.grooves import MOST_PASS_MM
from benchleaf.sequencing.kinds.joint_drafts import joint_kind, mates_cut
from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.kinds.role_work import RoleWork, Said, plan_roles, size_named
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

SOCKET: Final = "dovetail socket"
TAIL: Final = "dovetail tail"


_ROUTED: Final[dict[str, Fact]] = {
    **MACHINED,
    "cut.kind": "dovetail",
    "cut.through": False,
}
_kind: Final = partial(joint_kind, tool="router", family="routing", minutes=(20, 6), says=_ROUTED)

SOCKETS: Final = _kind("rout-dovetail-sockets")
TAILS: Final = _kind("rout-dovetail-tails")


def plan_sliding_dovetails(room: Workroom) -> Iterator[Draft]:
    """Plan the sockets, then the tails, each bit and depth once."""
    yield from plan_roles(_ROWS, room)


def _setting_of(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    depth = size_named(piece, "dovetail socket depth", room)
    return (_bit(piece, room), _angle_deg(piece, room), depth, _high_mm(piece))


def _bit(piece: WorkPiece, room: Workroom) -> Fraction:
    return size_named(piece, "bit", room)


def _angle_deg(piece: WorkPiece, room: Workroom) -> int:
    flare = size_named(piece, "flare of each side", room)
    return round(math.degrees(math.atan2(flare, size_named(piece, "dovetail socket depth", room))))


def _high_mm(piece: WorkPiece) -> Fraction:
    """How deep a socket is, or how long a tail: along the way in."""
    return Fraction(box_round(piece.feature.shape).size[piece.into])


def _run_mm(piece: WorkPiece) -> Fraction:
    return Fraction(max(box_round(piece.feature.shape).size))


def _is_stopped(piece: WorkPiece) -> bool:
    """Tell whether a socket, or a tail, ends inside the length of its part."""
    box = box_round(piece.feature.shape)
    run = max(range(3), key=lambda axis: box.size[axis])
    return box.low[run] > piece.body.low[run] or box.high[run] < piece.body.high[run]


def _settings(piece: WorkPiece, room: Workroom, name: str) -> tuple[Setting, ...]:
    return (
        Setting(name="dovetail bit", value_mm=_bit(piece, room)),
        Setting(name="bit angle", value_mm=None, text=f"{_angle_deg(piece, room)} degrees"),
        Setting(name=name, value_mm=_high_mm(piece)),
    )


def _facts(pieces: Sequence[WorkPiece], room: Workroom) -> dict[str, Fact | None]:
    return {
        "bit.diameter_mm": _bit(pieces[0], room),
        "cut.depth_mm": _high_mm(pieces[0]),
        "cut.length_mm": max(map(_run_mm, pieces)),
        "cut.stopped": any(map(_is_stopped, pieces)),
    }


def _say_sockets(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    return Said(
        actions=tuple(_socket_words(pieces, room)),
        check="The bit leaves one clean cut, as deep at the end as at the start.",
        settings=_settings(pieces[0], room, "depth stop"),
        facts=_facts(pieces, room),
    )


def _socket_words(pieces: Sequence[WorkPiece], room: Workroom) -> Iterator[str]:
    first, say = pieces[0], room.say
    deep, marks = _high_mm(first), sort_marks(piece.mark for piece in pieces)
    straight = largest_bit_mm(
        size_named(first, "neck of the tail", room), room.plan.units, room.shop.router_bits_mm
    )
    most = say.usual("3 mm", "1/8 in")
    yield f"Clear the waste with the {say.length(straight)} straight bit, between the lines."
    if deep > MOST_PASS_MM:
        yield f"Take {most} a pass at most, down to {say.length(deep)}."
    else:
        yield f"Take it down to {say.length(deep)} in one pass."
    bit, angle = say.length(_bit(first, room)), _angle_deg(first, room)
    yield f"Fit the {bit} dovetail bit of {angle} degrees."
    yield f"Set its depth stop to {say.length(deep)}. It cuts its full depth at once."
    yield from spread("Clamp a guide and rout the socket in", marks)
    if any(map(_is_stopped, pieces)):
        yield "Start from the open end, and stop at the marked one."


def _say_tails(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    return Said(
        actions=tuple(_tail_words(pieces, room)),
        check="Each slides half way by hand, and home with light taps.",
        settings=_settings(pieces[0], room, "bit height"),
        facts=_facts(pieces, room),
        takes=tuple(mates_cut(pieces, room)),
    )


def _tail_words(pieces: Sequence[WorkPiece], room: Workroom) -> Iterator[str]:
    first, say = pieces[0], room.say
    yield f"Fit the same dovetail bit in the router table, {say.length(_high_mm(first))} high."
    yield "Set the fence so that a trial piece of the same thickness keeps too thick a tail."
    yield "Run both faces of its end past the bit, and try it in a socket."
    yield "Move the fence back, half of what is too much at a time, until it slides."
    marks = sort_marks(piece.mark for piece in pieces)
    yield from spread("Run the end upright, first one face, then the other, of", marks)
    if any(map(_is_stopped, pieces)):
        yield "Saw the tail away where its socket stops, and pare the shoulder level."


_ROWS: Final = (
    RoleWork(kind=SOCKETS, role=SOCKET, verb="Rout", setting_of=_setting_of, say=_say_sockets),
    RoleWork(kind=TAILS, role=TAIL, verb="Rout", setting_of=_setting_of, say=_say_tails),
)
PLANNER: Final = Planner(kinds=(SOCKETS, TAILS), plan=plan_sliding_dovetails)
