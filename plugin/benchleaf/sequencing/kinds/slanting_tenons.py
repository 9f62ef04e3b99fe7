"""Operations of mortises and tenons between parts that meet at an angle.

Takes slanting mortises and tenons, gives drafts for each part and lean. Must not know trims.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.lengths import format_degrees
from benchleaf.sequencing.drafting import Draft, OperationKind, Planner
from benchleaf.sequencing.kinds.joint_drafts import mates_cut
from benchleaf.sequencing.kinds.role_work import RoleWork, Said, plan_roles
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

# Minutes chosen, as for all kinds: a careful beginner's.
CHOP_SLANTING: Final = OperationKind(
    code="chop-slanting-mortises",
    phase="joints",
    family="mortises",
    tool="chisel",
    minutes=10,
    minutes_each=20,
    says={"op.makes_chips": True, "cut.kind": "mortise"},
)
SAW_SLANTING: Final = OperationKind(
    code="saw-slanting-tenons",
    phase="joints",
    family="tenons",
    tool="hand saw",
    minutes=10,
    minutes_each=15,
    says={"op.makes_dust": True, "cut.kind": "tenon"},
)


def _size(piece: WorkPiece, name: str, room: Workroom) -> Fraction:
    fit = room.fit_between(piece.mark, piece.feature.mate, piece.feature.joint)
    sizes = fit.sizes if fit is not None else ()
    return next((size.value_mm for size in sizes if size.name == name), Fraction(0))


def _setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    names = ("tenon thickness", "tenon width", "tenon length", "lean")
    return (room.part_of(piece.mark).name, *(_size(piece, name, room) for name in names))


def _bevel(piece: WorkPiece, room: Workroom, square: str, other: str) -> Setting:
    lean = float(_size(piece, "lean", room))
    text = f"{format_degrees(lean)} from {square} ({format_degrees(90 - lean)} {other})"
    return Setting(name="sliding bevel", value_mm=None, text=text, value_deg=lean)


def _say_mortises(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    one, say = pieces[0], room.say
    wide = say.length(_size(one, "tenon thickness", room))
    long = say.about(_size(one, "tenon width", room))
    deep = _size(one, "mortise depth", room)
    bevel = _bevel(one, room, "upright", "to the face")
    return Said(
        actions=[
            f"Mark each mortise {wide} by {long}, round the middle that is set out.",
            f"Set the bevel {bevel.text}, and stand it beside the mortise, leaning with its mate.",
            *spread("Chop the mortises in", sort_marks(p.mark for p in pieces), "along the bevel"),
            f"Stop when it is {say.about(deep)} deep along the slope.",
        ],
        check="A strip as thick as the tenon lies along the bevel in each mortise.",
        settings=(bevel, Setting(name="depth", value_mm=deep)),
        facts={"cut.depth_mm": deep},
    )


def _say_tenons(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    one, say = pieces[0], room.say
    thick = say.length(_size(one, "tenon thickness", room))
    wide = say.about(_size(one, "tenon width", room))
    long = say.about(_size(one, "tenon length", room))
    bevel = _bevel(one, room, "square", "to the edge")
    return Said(
        actions=[
            f"Mark the shoulder through its middle, {long} from the end, at {bevel.text}.",
            "Run the line round all four sides; the waste is towards the end.",
            f"Gauge the tenon {thick} thick and {wide} wide in the middle of the end.",
            *spread("Saw cheeks, then shoulders, of", sort_marks(p.mark for p in pieces)),
            "Pare each until it goes home by hand.",
        ],
        check="Each shoulder closes on its mate all round.",
        settings=(bevel,),
        facts={},
        takes=mates_cut(pieces, room),
    )


_ROWS: Final = (
    RoleWork(
        kind=CHOP_SLANTING,
        role="slanting mortise",
        verb="Chop",
        setting_of=_setting,
        say=_say_mortises,
    ),
    RoleWork(
        kind=SAW_SLANTING,
        role="slanting tenon",
        verb="Saw",
        setting_of=_setting,
        say=_say_tenons,
    ),
)


def plan_slanting_tenons(room: Workroom) -> Iterator[Draft]:
    """Plan the mortises, then the tenons that are tried in them."""
    yield from plan_roles(_ROWS, room)


PLANNER: Final = Planner(kinds=(CHOP_SLANTING, SAW_SLANTING), plan=plan_slanting_tenons)
