"""Operations that cut mitres, and the grooves and holes in them.

Takes features of the roles mitre, spline groove and mitre dowel hole, gives drafts. The slots of
keys are sawn when the corner is glued, and are planned with its glue-up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial
from typing import Final

from benchleaf.forms import Prism
from benchleaf.frames import main_axis
from benchleaf.outlines import limits
from benchleaf.sequencing.closing import hardware_of
from benchleaf.sequencing.drafting import (
    PIECE_TOGETHER,
    Draft,
    Planner,
    Work,
    draft,
    feature_cut,
    group_joined,
)
from benchleaf.sequencing.groups import Group
from benchleaf.sequencing.hardware_words import count_hardware
from benchleaf.sequencing.kinds.joint_drafts import joint_kind
from benchleaf.sequencing.kinds.machine_facts import DRILLED, MACHINED
from benchleaf.sequencing.kinds.role_work import (
    RoleWork,
    Said,
    bore,
    count_words,
    fit_bit_words,
    hole_facts,
    own_cuts,
    plan_roles,
    size_named,
)
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.stating import state_copies
from benchleaf.sequencing.wording import join_marks, make_slug, sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

_SAW: Final[dict[str, Fact]] = {
    **MACHINED,
    "stock.edge_straight": True,
}
_KEY: Final = "key slot"


# Minutes chosen, as for all kinds: a careful beginner's, with a trial corner.
_kind: Final = partial(joint_kind, minutes=(20, 4))

CUT_MITRES: Final = _kind(
    "cut-mitres",
    "mitre saw",
    family="mitres",
    says={**_SAW, "cut.kind": "mitre", "cut.through": True},
)
CUT_BEVELS: Final = _kind(
    "cut-bevels",
    "table saw",
    family="mitres",
    says={**_SAW, "cut.kind": "mitre", "cut.through": True},
)
CUT_SPLINE_GROOVES: Final = _kind(
    "cut-spline-grooves",
    "table saw",
    family="mitres",
    says={**_SAW, "cut.kind": "groove", "cut.through": False},
)
DRILL_MITRES: Final = _kind(
    "drill-mitres",
    "drill",
    family="holes",
    says={
        **DRILLED,
        "cut.kind": "bore",
        "cut.through": False,
    },
)
SAW_KEY_SLOTS: Final = replace(
    _kind("saw-key-slots", "table saw", family="assembly", says={**_SAW, "cut.kind": "slot"}),
    phase="assembly",
)


def plan_mitring(room: Workroom) -> Iterator[Draft]:
    """Plan the mitres, then what is cut into them."""
    yield from plan_roles(_ROWS, room)


# The cut itself.


def _prism(piece: WorkPiece) -> Prism:
    shape = piece.feature.shape
    assert isinstance(shape, Prism)  # noqa: S101 - the families make these roles prisms
    return shape


def is_flat(piece: WorkPiece, room: Workroom) -> bool:
    """Tell whether a mitre runs across the face of its part, and not through its thickness."""
    return main_axis(_prism(piece).frame.axes[2]) is room.part_of(piece.mark).thickness_axis


def angle_deg(piece: WorkPiece) -> float:
    """How far the cut stands off square, degrees, to a hundredth."""
    prism = _prism(piece)
    low, high = limits(prism.outline)
    sizes = [float(b - a) for a, b in zip(low, high, strict=True)]
    along = main_axis(prism.frame.axes[0]) is piece.grain
    reach, width = sizes if along else sizes[::-1]
    return round(math.degrees(math.atan2(reach, width)), 2)


def _mitre_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    del room
    return (angle_deg(piece),)


def _is_bevel(piece: WorkPiece, room: Workroom) -> bool:
    return not is_flat(piece, room)


def _say_mitres(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    del room
    angle = f"{angle_deg(pieces[0]):g}°"
    return Said(
        actions=[
            f"Turn the saw to {angle} off square, and cut a trial corner in scrap.",
            "Hold the trial corner in a try square; it closes without a gap.",
            *spread("Cut the mitres, on the waste side of the lines, of", _marks(pieces)),
            "Shave them to the line on a shooting board.",
        ],
        check="Opposite parts are of one length, and two together make a square corner.",
        settings=(Setting(name="mitre angle", value_mm=None, text=angle),),
        facts={
            "cut.depth_mm": Fraction(_prism(pieces[0]).depth_mm),
            "cut.gauge_deg": angle_deg(pieces[0]),
        },
    )


def _say_bevels(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    del room
    angle = f"{angle_deg(pieces[0]):g}°"
    return Said(
        actions=[
            f"Tilt the blade to {angle}, and cut a trial corner in scrap.",
            "Hold the trial corner in a try square; it closes without a gap.",
            *spread("Bevel the ends on the sled, outer faces up, of", _marks(pieces)),
        ],
        check="Opposite parts are of one length, and two together make a square corner.",
        settings=(Setting(name="blade tilt", value_mm=None, text=angle),),
        facts={
            "cut.length_mm": Fraction(_prism(pieces[0]).depth_mm),
            "cut.tilt_deg": angle_deg(pieces[0]),
        },
    )


def _marks(pieces: Sequence[WorkPiece]) -> tuple[str, ...]:
    return sort_marks(piece.mark for piece in pieces)


# Splines and dowels.


def _groove_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    return (
        size_named(piece, "spline thickness", room),
        size_named(piece, "groove depth", room),
    )


def _say_grooves(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    say = room.say
    thick = size_named(pieces[0], "spline thickness", room)
    deep = size_named(pieces[0], "groove depth", room)
    return Said(
        actions=[
            f"Set the blade {say.length(deep)} high, and widen its cut to {say.length(thick)}.",
            "Clamp each part in a jig that holds its mitre flat on the table.",
            "Keep the outer face of every part against the same side of the jig.",
            *spread("Groove the mitres of", _marks(pieces)),
            "Plane the splines to a sliding fit, their grain across the joint.",
        ],
        check=f"Grooves meet when the corner is closed, each {say.length(deep)} deep.",
        settings=(
            Setting(name="blade height", value_mm=deep),
            Setting(name="groove width", value_mm=thick),
        ),
        facts={"cut.depth_mm": deep, "cut.width_mm": thick},
        takes=own_cuts(pieces, room, "mitre"),
    )


def _dowel_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    del room
    return (bore(piece).diameter_mm, bore(piece).depth_mm)


def _say_dowels(pieces: Sequence[WorkPiece], room: Workroom) -> Said:
    own = bore(pieces[0])
    return Said(
        actions=[
            *fit_bit_words(pieces, room),
            "Clamp the dowel jig square on each mitre, from its outer corner.",
            *count_words("Drill", "hole", pieces, "square to the cut"),
        ],
        check="A corner closes on its dowels without a gap.",
        settings=(
            Setting(name="bit", value_mm=own.diameter_mm),
            Setting(name="depth stop", value_mm=own.depth_mm),
        ),
        facts={**hole_facts(pieces), "cut.through": False},
        takes=own_cuts(pieces, room, "mitre"),
    )


# Keys.


def keys_in(group: Group, work: Sequence[WorkPiece]) -> list[WorkPiece]:
    """The slots of keys in the corners that close in a group."""
    pairs = {(f.joint, *sort_marks((f.contact.first, f.contact.second))) for f in group.fits}
    return [
        piece
        for piece in work
        if piece.feature.role == _KEY
        and (piece.feature.joint, *sort_marks((piece.mark, piece.feature.mate))) in pairs
    ]


def draft_keys(group: Group, slots: list[WorkPiece], room: Workroom) -> Draft:
    """Make the draft that saws a group's slots and glues its keys in."""
    marks = _marks(slots)
    keys = tuple(piece.key for piece in slots)
    thick = size_named(slots[0], "key thickness", room)
    deep = size_named(slots[0], "key depth", room)
    items = [item for item in hardware_of(group) if item.kind == "key"]
    return draft(
        SAW_KEY_SLOTS,
        Work(
            id=make_slug(f"saw-key-slots {join_marks(group.copies)}"),
            title=f"Key the corners of {room.name_copies(marks)}",
            copies=marks,
            actions=[
                "Leave the glue overnight: the corners are sawn into.",
                "Stand each corner in a cradle, outer edge down, and clamp it.",
                f"Set the blade {room.say.about(deep)} above the bottom of the cradle.",
                "Saw the slots through every corner, where the drawing has them.",
                *(
                    f"Glue in {count_hardware(item, room.say.units)}, grain across the corner."
                    for item in items
                ),
                "Saw the keys off when the glue is hard, and plane them flush.",
            ],
            check="Every key is tight, and level with both faces.",
            settings=(
                Setting(name="blade height", value_mm=deep),
                Setting(name="slot width", value_mm=thick),
            ),
            facts={**state_copies(marks, room), "cut.depth_mm": deep, "cut.through": False},
            takes=[group_joined(group.copies)],
            gives=[PIECE_TOGETHER, *(feature_cut(*key) for key in keys)],
            pieces=len(slots),
            joints=sorted({piece.feature.joint for piece in slots}),
            features=keys,
        ),
    )


_ROWS: Final = (
    RoleWork(
        kind=CUT_MITRES,
        role="mitre",
        verb="Cut",
        setting_of=_mitre_setting,
        say=_say_mitres,
        picks=is_flat,
    ),
    RoleWork(
        kind=CUT_BEVELS,
        role="mitre",
        verb="Cut",
        setting_of=_mitre_setting,
        say=_say_bevels,
        picks=_is_bevel,
    ),
    RoleWork(
        kind=CUT_SPLINE_GROOVES,
        role="spline groove",
        verb="Cut",
        setting_of=_groove_setting,
        say=_say_grooves,
    ),
    RoleWork(
        kind=DRILL_MITRES,
        role="mitre dowel hole",
        verb="Drill",
        noun="dowel hole",
        setting_of=_dowel_setting,
        say=_say_dowels,
    ),
)
PLANNER: Final = Planner(
    kinds=(CUT_MITRES, CUT_BEVELS, CUT_SPLINE_GROOVES, DRILL_MITRES, SAW_KEY_SLOTS),
    plan=plan_mitring,
)
