"""Operations that rout boards to go edge to edge: grooves in their edges, then the tongues.

Takes features of the roles edge groove and edge tongue, gives drafts, one for each size. Must not
know what the boards make.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.frames import Axis, Box
from benchleaf.sequencing.drafting import Draft, OperationKind, Planner
from benchleaf.sequencing.kinds.bits import largest_bit_mm
from benchleaf.sequencing.kinds.joint_drafts import mates_cut
from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.kinds.role_work import RoleWork, Said, plan_roles
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

GROOVE: Final = "edge groove"
TONGUE: Final = "edge tongue"


def _kind(code: str, word: str) -> OperationKind:
    return OperationKind(
        code=code,
        phase="joints",
        family="routing",
        tool="router",
        minutes=15,
        minutes_each=4,
        says={
            **MACHINED,
            "cut.kind": word,
            "cut.through": False,
            "cut.on_edge": True,
        },
    )


GROOVES: Final = _kind("rout-edge-grooves", "groove")
TONGUES: Final = _kind("rout-tongues", "tongue")


def plan_tongues(room: Workroom) -> Iterator[Draft]:
    """Plan the grooves, then the tongues, each size once."""
    yield from plan_roles(_ROWS, room)


def _box(piece: WorkPiece) -> Box:
    box = piece.feature.shape
    assert isinstance(box, Box)  # noqa: S101 - the family makes these roles square
    return box


def _thin(piece: WorkPiece) -> Axis:
    """The own axis through the board's thickness."""
    return Axis(3 - piece.into - piece.grain)


def _wide_mm(piece: WorkPiece) -> Fraction:
    return Fraction(_box(piece).size[_thin(piece)])


def _deep_mm(piece: WorkPiece) -> Fraction:
    return Fraction(_box(piece).size[piece.into])


def _shoulder_mm(piece: WorkPiece) -> Fraction:
    """What is taken off each face beside a tongue."""
    return Fraction(_box(piece).low[_thin(piece)] - piece.body.low[_thin(piece)])


def _setting_of(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    del room
    return (_wide_mm(piece), _deep_mm(piece), _shoulder_mm(piece))


def _facts(pieces: Sequence[WorkPiece], bit: Fraction, depth: Fraction) -> dict[str, Fact | None]:
    return {
        "bit.diameter_mm": bit,
        "cut.depth_mm": depth,
        "cut.length_mm": max(Fraction(_box(piece).size[piece.grain]) for piece in pieces),
        "cut.stopped": False,
        "cut.end_grain": False,
    }


def _say_grooves(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    first, say = pieces[0], room.say
    wide, deep = _wide_mm(first), _deep_mm(first)
    bit = largest_bit_mm(wide, room.plan.units, room.shop.router_bits_mm)
    marks = sort_marks(piece.mark for piece in pieces)
    most = say.usual("3 mm", "1/8 in")
    widened = () if bit == wide else (f"Widen each groove to {say.length(wide)}.",)
    return Said(
        actions=(
            f"Fit the {say.length(bit)} straight bit.",
            f"Set the edge fence so that the bit runs {say.length(_shoulder_mm(first))} in.",
            f"Set the depth stop to {say.length(deep)}, {most} a pass at most.",
            "Keep the fence on the face side of every board.",
            *spread("Rout the groove along the edge of", marks),
            *widened,
        ),
        check=f"The groove is {say.length(wide)} wide and {say.length(deep)} deep all along.",
        settings=(
            Setting(name="bit", value_mm=bit),
            Setting(name="fence", value_mm=_shoulder_mm(first)),
            Setting(name="depth stop", value_mm=deep),
        ),
        facts=_facts(pieces, bit, deep),
    )


def _say_tongues(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    first, say = pieces[0], room.say
    long, shoulder = _deep_mm(first), _shoulder_mm(first)
    bit = largest_bit_mm(max(long, shoulder), room.plan.units, room.shop.router_bits_mm)
    marks = sort_marks(piece.mark for piece in pieces)
    return Said(
        actions=(
            f"Fit the {say.length(bit)} straight bit, or the next larger one.",
            f"Set the edge fence so that the bit takes {say.length(long)} off the edge.",
            f"Set the depth stop to {say.length(shoulder)}.",
            "Rout both faces of a trial edge, and try the tongue in a groove.",
            *spread("Rout both faces along the edge of", marks),
        ),
        check="The tongue slides in by hand, and the shoulders close on both faces.",
        settings=(
            Setting(name="bit", value_mm=bit),
            Setting(name="fence", value_mm=long),
            Setting(name="depth stop", value_mm=shoulder),
        ),
        facts=_facts(pieces, bit, shoulder),
        takes=tuple(mates_cut(pieces, room)),
    )


_ROWS: Final = (
    RoleWork(kind=GROOVES, role=GROOVE, verb="Rout", setting_of=_setting_of, say=_say_grooves),
    RoleWork(
        kind=TONGUES, role=TONGUE, verb="Rout", setting_of=_setting_of, say=_say_tongues,
        noun="tongue",
    ),
)  # fmt: skip
PLANNER: Final = Planner(kinds=(GROOVES, TONGUES), plan=plan_tongues)
