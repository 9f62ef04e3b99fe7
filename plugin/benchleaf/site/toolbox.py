"""What each kind of operation takes besides its own tool: the table behind the list of tools.

Takes nothing; gives the tables. An operation says its tool, its settings and its facts itself; what
it asks for beyond them stands here, by its kind, by its settings, by its facts and by the rules of
its call-outs. Must not know plans.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

MACHINES: Final = "Machines"
CUTTERS: Final = "Bits and cutters"
CLAMPS: Final = "Clamps"
HAND_TOOLS: Final = "Hand tools"
HELPS: Final = "Jigs and helps"
WORN: Final = "To wear, and against dust"
SHELVES: Final = (MACHINES, CUTTERS, CLAMPS, HAND_TOOLS, HELPS, WORN)
"""Headings of the list, in its order."""

# Common practice, no source: where a workshop keeps what; a tool that is not named stands with the
# hand tools.
_ON_SHELVES: Final = {
    MACHINES: (
        "bandsaw",
        "circular saw",
        "table saw",
        "mitre saw",
        "drill press",
        "jigsaw",
        "biscuit jointer",
        "jointer",
        "planer",
        "drill",
        "router",
        "sander",
        "vacuum cleaner",
    ),
    CUTTERS: (
        "chamfer bit",
        "cove bit",
        "round-over bit",
        "dado head",
        "dovetail router bit",
        "drill bit",
        "straight router bit",
        "countersink",
    ),
    CLAMPS: ("two clamps, to hold work and guides",),
    HELPS: (
        "bed of foam or battens for a sheet",
        "bench hook with a stop",
        "dowel jig",
        "drilling guide",
        "featherboards",
        "key and spacer of hardwood",
        "length stop",
        "lidded metal can, for oily rags",
        "masking tape",
        "mitre gauge",
        "push block",
        "push stick",
        "router table",
        "scrap board",
        "template for pin holes",
        "sled for the table saw",
        "straightedge",
        "support behind the saw",
        "supports for long boards",
        "tall fence",
        "taper sled",
        "guide for the router",
        "edge fence for the router",
    ),
    WORN: ("dust mask", "ear defenders", "nitrile gloves", "safety glasses"),
}
SHELF_OF: Final[Mapping[str, str]] = MappingProxyType(
    {tool: shelf for shelf, tools in _ON_SHELVES.items() for tool in tools}
)
"""Tool to the heading that it stands under."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """A tool, and where its size comes from."""

    tool: str
    setting: str = ""
    """Name of the setting that is its size."""
    fact: str = ""
    """Name of the fact that is its size, a length."""
    words: str = ""
    """How its largest size is said, `{}` for the size; empty where every size is named."""


def _needs(*tools: str | Need) -> tuple[Need, ...]:
    return tuple(tool if isinstance(tool, Need) else Need(tool=tool) for tool in tools)


_HOLD: Final = "two clamps, to hold work and guides"
_SQUARE: Final = "try square"
_TAPE: Final = "tape measure"
_GUIDE: Final = Need(tool="straightedge", fact="cut.length_mm", words="{} or longer")
_STOP: Final = Need(tool="length stop", setting="stop", words="up to {} from the blade")
_SLED: Final = "sled for the table saw"
_SPREADER: Final = "glue brush or roller"

BY_KIND: Final[Mapping[str, tuple[Need, ...]]] = MappingProxyType(
    {
        "break-down": _needs(
            _GUIDE, _HOLD, _TAPE, _SQUARE, "bed of foam or battens for a sheet", "chalk"
        ),
        "rip": _needs("push stick", "chalk", _TAPE),
        "crosscut": _needs(_SLED, _STOP, "chalk", _TAPE),
        "cut-boards": _needs(_STOP, "chalk", _SQUARE, _TAPE),
        "cut-panels": _needs(_GUIDE, _HOLD, _SQUARE, _TAPE, "chalk"),
        "cut-rods": _needs("bench hook with a stop", _TAPE),
        "glue-up": _needs("cauls", _SPREADER),
        "glue-panel": _needs("hand plane", "straightedge", "cauls", _SPREADER, "wet rag"),
        "true-thickness": _needs("tall fence", "featherboards", "push stick"),
        "true-width": _needs("scraper", "hand plane", _SQUARE, "push stick"),
        "true-width-by-hand": _needs("scraper", "marking gauge", _SQUARE),
        "true-length": _needs(_SLED, _STOP, _SQUARE),
        "true-length-on-mitre-saw": _needs(_STOP, _SQUARE),
        "true-length-along-guide": _needs("straightedge", _HOLD, _SQUARE, _TAPE, "pencil"),
        "set-out": _needs("marking gauge", _SQUARE, "rule", "pencil"),
        "rout-housings": _needs("guide for the router", _HOLD, "scrap board"),
        "rout-grooves": _needs("edge fence for the router", "guide for the router", "scrap board"),
        "saw-panel-grooves": _needs("featherboards", "push stick", "scrap board"),
        "rout-panel-grooves": _needs("edge fence for the router", "chisel", _HOLD),
        "rout-panel-edges": _needs("edge fence for the router", "scrap board", _HOLD),
        "raise-panels": _needs("marking gauge", "rule", _HOLD),
        "prefinish-panels": _needs("scrap board"),
        "rout-rebates": _needs("edge fence for the router", "scrap board"),
        "drill-waste": _needs(_HOLD, "scrap board"),
        "drill-openings": _needs(_HOLD, "keyhole saw", "scrap board"),
        "chop": _needs("mallet", _HOLD, _SQUARE, "masking tape"),
        "saw-shoulders": _needs(_SLED, _STOP, "scrap board"),
        "pare-shoulders": _needs("hand plane", "straightedge"),
        "trim-tenons": _needs(_HOLD),
        "fit-tenons": _needs("pencil"),
        "cut-laps": _needs(_SLED, "chisel", "scrap board", _SQUARE),
        "cut-fingers": _needs(
            _SLED,
            Need(tool="dado head", setting="dado head"),
            "key and spacer of hardwood",
            "mallet",
            "scrap board",
        ),
        "saw-tails": _needs("dovetail saw", "sliding bevel", "pencil", _HOLD),
        "chop-tails": _needs("mallet", "coping saw", "straightedge", _HOLD),
        "rout-dovetail-sockets": _needs(
            Need(tool="straight router bit", words="narrower than the socket"),
            "guide for the router",
            _HOLD,
        ),
        "rout-dovetail-tails": _needs("router table", "scrap board"),
        "rout-edge-grooves": _needs("edge fence for the router", _HOLD),
        "rout-tongues": _needs("edge fence for the router", _HOLD, "scrap board"),
        "saw-bridle-slots": _needs("coping saw", "chisel", "mallet", _HOLD),
        "cut-bridle-cheeks": _needs(_SLED, "chisel", "scrap board"),
        "mark-pins": _needs(_SQUARE, "pencil", _HOLD),
        "saw-pins": _needs("dovetail saw", _HOLD),
        "chop-pins": _needs("mallet", "coping saw", _HOLD),
        "notch": _needs("chisel", _HOLD),
        "cut-by-hand": _needs("mallet", "marking knife", _HOLD),
        "drill-dowel-holes": _needs(Need(tool="dowel jig", setting="bit", words="for {}"), _HOLD),
        "drill-clearance": _needs("scrap board", _HOLD),
        "pare-slopes": _needs("mallet", "rule", _HOLD),
        "drill-peg-holes": _needs("scrap board", _HOLD),
        "rout-loose-mortises": _needs("edge fence for the router", "chisel", _HOLD),
        "cut-twin-tenons": _needs("coping saw", "chisel", _HOLD),
        "saw-wedge-slots": _needs(_HOLD),
        "drill-drawn-holes": _needs("centre punch", "scrap board", _HOLD),
        "drill-pockets": _needs("pocket jig", "stepped bit with a collar", "vacuum cleaner", _HOLD),
        "cut-biscuit-slots": _needs("straightedge", _HOLD),
        "cut-mitres": _needs("shooting board", "hand plane", _SQUARE, "scrap board"),
        "cut-bevels": _needs(_SLED, _SQUARE, "scrap board"),
        "cut-spline-grooves": _needs("jig that holds mitres", "hand plane", "scrap board"),
        "drill-mitres": _needs(Need(tool="dowel jig", setting="bit", words="for {}"), _HOLD),
        "saw-key-slots": _needs("cradle for corners", "hand saw", "block plane", _SPREADER),
        "trim-ends": _needs(_SLED, "length stop", "scrap board"),
        "plane-edges": _needs("marking gauge", _SQUARE, _HOLD),
        "drill-pin-holes": _needs("template for pin holes", _HOLD),
        "cut-hinge-mortises": _needs("mallet", "marking gauge", "marking knife", "awl", _HOLD),
        "drill-bolt-holes": _needs("drilling guide", _HOLD),
        "drill-cross-dowel-holes": _needs("awl", _HOLD),
        "countersink": _needs(_HOLD),
        "drill-holes": _needs("scrap board", _HOLD),
        "crosscut-at-angle": _needs(
            "mitre gauge", "sliding bevel", "protractor", "pencil", "scrap board"
        ),
        "rip-at-angle": _needs("push stick", "sliding bevel", "protractor", "scrap board"),
        "saw-to-line": _needs("sliding bevel", "protractor", "pencil", "block plane", _HOLD),
        "bore-round-mortises": _needs("sliding bevel", "protractor", "scrap board", _HOLD),
        "chop-slanting-mortises": _needs("mallet", "sliding bevel", "protractor", _HOLD),
        "saw-slanting-tenons": _needs("sliding bevel", "marking gauge", "chisel", _HOLD),
        "shave-round-tenons": _needs("hand saw", "chisel", "sliding bevel", "pencil", _HOLD),
        "bore-holes": _needs("awl", "scrap board", "drilling guide", _SQUARE, _HOLD),
        "rout-slots": _needs("edge fence for the router", "scrap board", _HOLD),
        "saw-cut-outs": _needs("drill", "file", "scrap board", _HOLD),
        "saw-notches": _needs("chisel", "mallet", "marking knife", _SQUARE, _HOLD),
        "saw-tapers": _needs("taper sled", "hand plane", "pencil"),
        "saw-curves": _needs("pencil"),
        "saw-large-curves": _needs("pencil", _HOLD),
        "fair-curves": _needs("file", "sanding block", _HOLD),
        "rout-edges": _needs("scrap board", _HOLD),
        "sand-inside": _needs("sanding block"),
        "sand-outside": _needs("sanding block", "scraper", "block plane"),
        "dry-fit": _needs("mallet", _TAPE, "pencil", "cauls"),
        "drill-pilots": _needs("masking tape", _HOLD),
        "assemble": _needs("mallet", _TAPE, _SPREADER, "wet rag", "cauls"),
        "screw-together": (),
        "bolt-together": (),
        "set-in-place": (),
        "coat": (),
    }
)
"""Code of an operation kind to what it takes besides its own tool.

Common practice, no source; each row follows from what the kind's own actions say.
"""

BY_SETTING: Final[Mapping[tuple[str, str], Need]] = MappingProxyType(
    {
        ("drill", "bit"): Need(tool="drill bit", setting="bit"),
        ("drill press", "bit"): Need(tool="drill bit", setting="bit"),
        ("brace", "bit"): Need(tool="drill bit", setting="bit"),
        ("brace", "countersink"): Need(tool="countersink", setting="countersink"),
        ("router", "dovetail bit"): Need(tool="dovetail router bit", setting="dovetail bit"),
        ("router", "chamfer bit"): Need(tool="chamfer bit", setting="chamfer bit"),
        ("router", "round-over bit"): Need(tool="round-over bit", setting="round-over bit"),
        ("router", "cove bit"): Need(tool="cove bit", setting="cove bit"),
        ("router", "bit"): Need(tool="straight router bit", setting="bit"),
        ("drill", "countersink"): Need(tool="countersink", setting="countersink"),
        ("drill", "depth stop"): Need(tool="depth stop for the drill"),
        ("hand plane", "gauge"): Need(tool="marking gauge"),
        ("table saw", "face edge"): Need(tool="jointer"),
        ("hand plane", "face edge"): Need(tool="jointer"),
    }
)
"""(tool, name of a setting) to what is set."""

BY_FACT: Final[Mapping[str, tuple[Need, ...]]] = MappingProxyType(
    {
        "op.loud": _needs("ear defenders"),
        "op.makes_chips": _needs("safety glasses"),
        "op.makes_dust": _needs("dust mask", "vacuum cleaner"),
        "cut.stopped": _needs("chisel"),
    }
)
"""Fact that is true to what it asks for.

The rules SH-01 to SH-04 of the call-outs; and the ends of a stopped channel are squared by hand.
"""

BY_RULE: Final[Mapping[str, tuple[Need, ...]]] = MappingProxyType(
    {
        "TS-01": _needs("push stick"),
        "TS-02": _needs("push block"),
        "TS-07": _needs("support behind the saw"),
        "TS-13": _needs(_HOLD),
        "TS-15": _needs("support behind the saw"),
        "BS-03": _needs("push stick"),
        "BS-08": _needs("supports for long boards"),
        "TS-17": _needs("tall fence", "featherboards"),
        "TS-25": _needs("support behind the saw"),
        "TS-33": _needs(_HOLD),
        "TS-34": _needs("featherboards", "push block"),
        "MS-01": _needs(_HOLD),
        "MS-03": _needs("supports for long boards"),
        "RT-02": _needs("scrap board"),
        "RT-07": _needs("scrap board"),
        "RT-11": _needs("scrap board"),
        "RT-13": _needs("scrap board"),
        "DR-03": _needs("scrap board"),
        "CH-05": _needs("scrap board"),
        "GL-02": _needs("nitrile gloves"),
        "GL-03": _needs("nitrile gloves"),
        "FN-01": _needs("lidded metal can, for oily rags"),
        "SA-01": _needs("dust mask", "vacuum cleaner"),
        "SA-05": _needs("dust mask", "vacuum cleaner"),
        "SA-06": _needs("dust mask"),
    }
)
"""Rule of a call-out to what its control asks for."""

BY_HARDWARE: Final[Mapping[str, tuple[Need, ...]]] = MappingProxyType(
    {
        "peg": _needs("hammer", "chisel"),
        "wedge": _needs("hammer", "hand plane"),
        "coarse pocket screw": _needs("long driver bit", "face clamp"),
        "fine pocket screw": _needs("long driver bit", "face clamp"),
        "hinge screw": _needs("awl", "screwdriver"),
        "carriage bolt": _needs("hammer", "spanner"),
        "connector bolt": _needs("key for the bolts"),
        "wood screw": _needs("screwdriver"),
    }
)
"""Hardware that an assembly drives to what drives it."""

# Common practice, no source: lengths in which clamps are sold, inches and millimetres.
CLAMP_OPENINGS_IN: Final = (6, 12, 18, 24, 36, 48, 60, 72, 96)
CLAMP_OPENINGS_MM: Final = (150, 300, 450, 600, 900, 1200, 1500, 1800, 2400)
