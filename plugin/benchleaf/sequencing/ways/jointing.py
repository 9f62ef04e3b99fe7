"""Ways of cutting what a table saw or a mitre saw cuts of a joint, and of drilling holes.

Takes nothing, gives ways by the kind of operation. Must not know what goes into what.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from benchleaf.sequencing.kinds.machine_facts import DRILLED, MACHINED
from benchleaf.sequencing.records import Operation, Setting
from benchleaf.sequencing.ways.records import (
    BY_HAND,
    PARED,
    Lack,
    Told,
    Way,
    drop,
    fact_mm,
    keep,
    lacks_machine,
    lacks_nothing,
    planned,
    renamed,
    setting,
    setting_text,
)
from benchleaf.sequencing.wording import spread
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shops import Shop

_HOLD: Final = "two clamps, to hold work and guides"
_WITH_SAW: Final = ("marking knife", "marking gauge", "chisel", "mallet", _HOLD)
# chosen: the floor of a usual sled, 3/4 in.
_SLED_FLOOR_MM: Final = 19
_AGAINST_STOP: Final = re.compile(r"With (.+) against the stop, saw (.+)\.")


# What a shop's saws can do.


def _lacks_height(operation: Operation, shop: Shop) -> str:
    """A blade that stands high enough above the floor of the sled."""
    saw = shop.table_saw
    if saw is not None and setting(operation, "blade height") > saw.height_mm - _SLED_FLOOR_MM:
        return "a table saw whose blade rises higher"
    return ""


def _lacks_head(operation: Operation, shop: Shop) -> str:
    saw = shop.table_saw
    if saw is not None and setting(operation, "dado head") > saw.dado_mm:
        return "a wider dado head" if saw.dado_mm else "a table saw that takes a dado head"
    return _lacks_height(operation, shop)


def _lacks_tilt(operation: Operation, shop: Shop) -> str:
    saw = shop.mitre_saw
    if saw is None:
        return "a mitre saw"
    if fact_mm(operation, "stock.thickness_mm") > saw.high_at_45_mm:
        return "a mitre saw that cuts higher when it is tilted"
    if fact_mm(operation, "stock.widest_mm") > saw.wide_mm:
        return "a wider mitre saw"
    return ""


def _lacks_turn(operation: Operation, shop: Shop) -> str:
    saw = shop.mitre_saw
    if saw is not None and fact_mm(operation, "stock.widest_mm") > saw.wide_at_45_mm:
        return "a mitre saw that cuts wider when it is turned"
    return ""


def _lacks_gauge(operation: Operation, shop: Shop) -> str:
    saw = shop.table_saw
    if saw is None or not saw.sled_mm:
        return "a table saw with a sled"
    if fact_mm(operation, "stock.longest_mm") > saw.sled_mm:
        return "a longer sled"
    return ""


# Shoulders, laps and fingers.


def _say_shoulders(operation: Operation, room: Workroom) -> Told:
    far, deep = setting(operation, "stop"), setting(operation, "blade height")
    sawn = [match for own in operation.actions if (match := _AGAINST_STOP.fullmatch(own))]
    return Told(
        actions=(
            f"Knife a line {room.say.length(far)} from the end, all round.",
            f"Gauge {room.say.length(deep)} from each face to be cut, round the end.",
            *(f"Saw {own[2]}, at {own[1]}, down to the gauge line." for own in sawn),
            "Saw or split the waste off from the end, and pare down to the line.",
        ),
        settings=(
            Setting(name="shoulder", value_mm=far, text="from the end"),
            Setting(name="depth", value_mm=deep),
        ),
    )


def _say_laps(operation: Operation, room: Workroom) -> Told:
    deep = room.say.length(setting(operation, "blade height"))
    return Told(
        actions=(
            f"Gauge the depth, {deep}, on both edges between the lines.",
            *spread("Saw just inside the two lines, down to the gauge, on", operation.copies),
            "Saw once or twice between, and chop the waste out from both edges.",
            *keep(operation, "Pare the bottom", "Try the mate"),
        ),
        settings=renamed(operation, ("depth", "blade height")),
    )


def _say_cheeks(operation: Operation, room: Workroom) -> Told:
    del room
    return Told(
        actions=(
            *spread("Saw the shoulders, just inside the lines, on both faces of", operation.copies),
            "Saw down the cheeks from the end, on the waste side of the gauge lines.",
            *keep(operation, "Pare both"),
        )
    )


def _say_fingers(operation: Operation, room: Workroom) -> Told:
    wide, deep = (setting(operation, name) for name in ("dado head", "blade height"))
    return Told(
        actions=(
            f"Gauge a line {room.say.length(deep)} from the end, all round.",
            f"Square the fingers over the end, {room.say.length(wide)} each, by the drawing.",
            *spread("Saw down on the waste side of each line, on", operation.copies),
            "Saw the waste out with a coping saw, and chop to the line from both faces.",
            "Try a corner, and pare where it is tight.",
        ),
        settings=(
            Setting(name="finger", value_mm=wide),
            Setting(name="depth", value_mm=deep),
        ),
    )


# Mitres and angles.


def _say_tilted(operation: Operation, room: Workroom) -> Told:
    del room
    angle = setting_text(operation, "blade tilt")
    return Told(
        actions=(
            f"Tilt the mitre saw to {angle}, and cut a trial corner in scrap.",
            *keep(operation, "Hold the trial"),
            *spread("Bevel the ends, outer faces up, of", operation.copies),
        ),
        settings=operation.settings,
    )


def _say_gauged(operation: Operation, room: Workroom) -> Told:
    del room
    angle = setting_text(operation, "mitre angle")
    return Told(
        actions=(
            f"Turn the mitre gauge to {angle} off square, and cut a trial corner in scrap.",
            *drop(operation, "Turn the saw"),
        ),
        settings=operation.settings,
    )


def _say_mitred_by_hand(operation: Operation, room: Workroom) -> Told:
    del room
    name = "mitre angle" if operation.kind == "cut-mitres" else "blade tilt"
    angle = setting_text(operation, name)
    return Told(
        actions=(
            f"Mark {angle} with a sliding bevel, and knife the lines round every end.",
            *spread("Saw on the waste side of the lines, on", operation.copies),
            "Plane each end to its line on a shooting board of the same angle.",
            "Hold two ends in a try square; they close without a gap.",
        ),
        settings=(Setting(name="angle", value_mm=None, text=angle),),
    )


def _say_spline_grooves(operation: Operation, room: Workroom) -> Told:
    wide, deep = setting(operation, "groove width"), setting(operation, "blade height")
    return Told(
        actions=(
            f"Gauge two lines {room.say.length(wide)} apart along each mitre, from the outer face.",
            *spread(f"Saw along both, {room.say.length(deep)} deep, on", operation.copies),
            "Clear the groove between them with a narrow chisel.",
            *keep(operation, "Plane the splines"),
        ),
        settings=(
            Setting(name="groove width", value_mm=wide),
            Setting(name="depth", value_mm=deep),
        ),
    )


def _say_key_slots(operation: Operation, room: Workroom) -> Told:
    wide, deep = setting(operation, "slot width"), setting(operation, "blade height")
    return Told(
        actions=(
            *keep(operation, "Leave the glue"),
            "Clamp each corner in a vice, outer edge up.",
            f"Mark the slots, {room.say.length(deep)} deep, where the drawing has them.",
            f"Saw them {room.say.length(wide)} wide, two cuts side by side where one is narrower.",
            *keep(operation, "Glue in", "Saw the keys"),
        ),
        settings=(
            Setting(name="depth", value_mm=deep),
            Setting(name="slot width", value_mm=wide),
        ),
    )


def _say_trimmed(operation: Operation, room: Workroom) -> Told:
    off = room.say.length(setting(operation, "off each end"))
    return Told(
        actions=(
            f"Knife a line {off} from each end that stands on pins, square all round.",
            *spread("Saw near the lines, and plane to them on a shooting board, on",
                    operation.copies),
        ),
        settings=operation.settings,
    )  # fmt: skip


def _say_line(operation: Operation, room: Workroom) -> Told:
    del room
    return Told(
        actions=(
            *keep(operation, "Start the line", "Run it back", "Mark the waste"),
            *spread("Saw to the line on two neighbouring faces at once, on", operation.copies),
            "Plane to the lines, and hold the bevel to the cut.",
        )
    )


# Holes.


def _holes(*also: str) -> tuple[Way, ...]:
    """Holes that a drill makes: by its own motor, or turned by hand with the same bit."""
    brace = Way(
        code="with a brace",
        tool="brace",
        times=3,
        says={**PARED, "cut.kind": "bore"},
        takes=("try square", *also),
    )
    return (planned(_lacks_drill_bit), brace)


def _lacks_drill_bit(operation: Operation, shop: Shop) -> str:
    bits, bit = shop.drill_bits_mm, setting(operation, "bit")
    # chosen: a tenth of a millimetre is as near as bits are ground.
    if bits is not None and bit and not any(abs(own - bit) <= Fraction(1, 10) for own in bits):
        return "a drill bit of that size"
    if operation.kind == "drill-dowel-holes" and shop.dowel_jig_mm is not None:
        fits = any(abs(own - bit) <= Fraction(1, 10) for own in shop.dowel_jig_mm)
        return "" if fits else "a dowelling jig for that size"
    return ""


def _lacks_stroke(operation: Operation, shop: Shop) -> str:
    press = shop.drill_press
    if press is not None and fact_mm(operation, "cut.depth_mm") > press.stroke_mm:
        return "a drill press whose bit comes down farther"
    # The middle of a part is its farthest place from an edge.
    if press is not None and fact_mm(operation, "stock.widest_mm") > 2 * press.throat_mm:
        return "a drill press with a deeper throat"
    return ""


def _say_by_eye(operation: Operation, room: Workroom) -> Told:
    del room
    return Told(
        actions=(
            *drop(operation, "Clamp the dowel jig"),
            "Start every hole on a pricked centre, sighting along a try square from two sides.",
        ),
        settings=operation.settings,
    )


def _by_eye(tool: str, lacks: Lack, says: Mapping[str, object], minutes: tuple[int, int]) -> Way:
    return Way(
        code=f"by eye, with a {tool}",
        tool=tool,
        minutes=minutes,
        says={**says, "cut.kind": "bore"},  # type: ignore[dict-item] # facts
        takes=("awl", "try square", _HOLD),
        lacks=lacks,
        say=_say_by_eye,
    )


_SAWN: Final = {**BY_HAND, "cut.through": False}
_OFF: Final = {**BY_HAND, "cut.through": True}


def _hand(minutes: tuple[int, int], word: str, say: object, *also: str) -> Way:
    return Way(
        code="by hand",
        tool="hand saw",
        minutes=minutes,
        says={**(_OFF if word in {"mitre", "trim", "saw"} else _SAWN), "cut.kind": word},
        takes=(*_WITH_SAW, *also),
        say=say,  # type: ignore[arg-type] # one of the functions above
    )


_DRILLED: Final[Iterable[str]] = (
    "drill-openings",
    "drill-peg-holes",
    "drill-drawn-holes",
    "drill-mitres",
    "drill-clearance",
    "countersink",
    "drill-holes",
    "bore-round-mortises",
    "drill-bolt-holes",
    "drill-cross-dowel-holes",
    "drill-pockets",
    "drill-pin-holes",
    "bore-holes",
    "drill-pilots",
)
_MACHINE_MITRE: Final = {**MACHINED, "cut.kind": "mitre", "cut.through": True}
JOINTING_WAYS: Final[Mapping[str, tuple[Way, ...]]] = MappingProxyType(
    {
        "saw-shoulders": (planned(_lacks_height), _hand((5, 10), "shoulder", _say_shoulders)),
        "cut-laps": (planned(_lacks_height), _hand((5, 15), "lap", _say_laps, "try square")),
        "cut-bridle-cheeks": (planned(_lacks_height), _hand((5, 12), "lap", _say_cheeks)),
        "cut-fingers": (
            planned(_lacks_head),
            _hand((15, 4), "box joint", _say_fingers, "coping saw", "try square"),
        ),
        "cut-mitres": (
            planned(_lacks_turn),
            Way(code="on the table saw", tool="table saw", minutes=(20, 4),
                says={**_MACHINE_MITRE, "stock.edge_straight": True},
                takes=("mitre gauge", "shooting board", "hand plane", "scrap board"),
                lacks=_lacks_gauge, say=_say_gauged),
            _hand((10, 8), "mitre", _say_mitred_by_hand, "sliding bevel", "protractor",
                  "shooting board", "hand plane"),
        ),
        "cut-bevels": (
            planned(_lacks_gauge),
            Way(code="on the mitre saw", tool="mitre saw", minutes=(20, 4), says=_MACHINE_MITRE,
                takes=("try square", "scrap board"), lacks=_lacks_tilt, say=_say_tilted),
            _hand((10, 12), "mitre", _say_mitred_by_hand, "sliding bevel", "protractor",
                  "shooting board", "hand plane"),
        ),
        "cut-spline-grooves": (planned(), _hand((10, 10), "groove", _say_spline_grooves)),
        "saw-key-slots": (
            planned(),
            _hand((10, 6), "slot", _say_key_slots, "vice", "block plane", "glue brush or roller"),
        ),
        "trim-ends": (
            planned(),
            _hand((5, 10), "trim", _say_trimmed, "shooting board", "hand plane", "try square"),
        ),
        "crosscut-at-angle": (
            planned(_lacks_gauge),
            _hand((10, 8), "saw", _say_line, "sliding bevel", "protractor", "block plane"),
        ),
        "rip-at-angle": (
            planned(),
            _hand((10, 12), "saw", _say_line, "sliding bevel", "protractor", "hand plane"),
        ),
        "drill-waste": (
            planned(_lacks_stroke),
            Way(code="with a drill", tool="drill", minutes=(10, 8),
                says={**DRILLED, "cut.kind": "bore"}, takes=("drilling guide", _HOLD),
                lacks=lacks_machine("drill")),
            Way(code="with a brace", tool="brace", minutes=(5, 15),
                says={**PARED, "cut.kind": "bore"}, takes=("try square", _HOLD)),
        ),
        "drill-dowel-holes": (
            planned(_lacks_drill_bit),
            Way(code="with a brace", tool="brace", minutes=(5, 6),
                says={**PARED, "cut.kind": "bore"}, takes=("dowel jig", _HOLD),
                lacks=_lacks_drill_bit),
            _by_eye("drill", lacks_machine("drill"), DRILLED, (10, 6)),
            _by_eye("brace", lacks_nothing, PARED, (10, 9)),
        ),
        **{code: _holes(_HOLD) for code in _DRILLED},
    }
)  # fmt: skip
"""Code of a kind to its ways, those that are preferred first. Common practice, no source."""
