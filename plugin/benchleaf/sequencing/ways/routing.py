"""Ways of cutting what a router cuts: housings, grooves, rebates, dovetails, slots, edges.

Takes nothing, gives ways by the kind of operation. Where a channel lies stands on the part, set out
already.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from benchleaf.sequencing.kinds.machine_facts import DRILLED, MACHINED
from benchleaf.sequencing.records import Operation, Setting
from benchleaf.sequencing.ways.records import (
    PARED,
    Told,
    Way,
    drop,
    fact_mm,
    keep,
    lacks_machine,
    planned,
    renamed,
    setting,
    setting_text,
)
from benchleaf.sequencing.wording import spread
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shops import Shop

_HOLD: Final = "two clamps, to hold work and guides"


# What a shop's bits and heads can do.


def _lacks_bit(operation: Operation, shop: Shop) -> str:
    bits, bit = shop.router_bits_mm, setting(operation, "bit")
    if bits is not None and not any(own <= bit for own in bits):
        return "a router bit that is narrow enough"
    return ""


def _lacks_dado(operation: Operation, shop: Shop) -> str:
    saw = shop.table_saw
    if saw is None:
        return "a table saw with a dado head"
    if operation.facts.get("cut.stopped") is True:
        return "a machine that stops a channel inside the wood"
    if setting(operation, "bit") > saw.dado_mm:
        return "a wider dado head"
    # A cut across a piece rides on the sled: wider ones are not steered by the fence.
    across = operation.kind == "rout-housings"
    if across and fact_mm(operation, "stock.longest_mm") > saw.sled_mm:
        return "a longer sled"
    return ""


def _lacks_table(operation: Operation, shop: Shop) -> str:
    del operation
    return "" if shop.has_router_table else "a router table"


def _depth(operation: Operation, room: Workroom) -> str:
    return room.say.length(setting(operation, "depth stop"))


def _gauged(operation: Operation) -> tuple[Setting, ...]:
    return (Setting(name="depth", value_mm=setting(operation, "depth stop")),)


# Channels.


def _say_dado(operation: Operation, room: Workroom) -> Told:
    bit, deep = room.say.length(setting(operation, "bit")), _depth(operation, room)
    guide = "sled's stop" if operation.kind == "rout-housings" else "fence"
    return Told(
        actions=(
            f"Make the dado head up to {bit}, and set it {deep} high.",
            f"Set the {guide} so that the head runs between the lines.",
            "Cut a trial channel in scrap, and try the mate in it.",
            *spread("Cut", operation.copies, "marked face down, one pass after another"),
        ),
        settings=renamed(operation, ("dado head", "bit"), ("blade height", "depth stop")),
    )


def _say_housings(operation: Operation, room: Workroom) -> Told:
    is_stopped = operation.facts.get("cut.stopped") is True
    return Told(
        actions=(
            "Knife both lines, and clamp a straight batten along each in turn.",
            *(("Chop a recess at each stopped end first, for the toe of the saw.",)
              if is_stopped else ()),
            *spread(f"Saw along the battens, {_depth(operation, room)} deep, on", operation.copies),
            "Chop the waste out from both sides towards the middle.",
            "Level the bottom with a router plane, and try the mate in it.",
        ),
        settings=_gauged(operation),
    )  # fmt: skip


def _say_grooves(operation: Operation, room: Workroom) -> Told:
    is_stopped = operation.facts.get("cut.stopped") is True
    return Told(
        actions=(
            "Fit the plough plane's iron that is no wider than the groove.",
            f"Set its fence to the lines, and its depth stop to {_depth(operation, room)}.",
            *(("Chop a recess at each stopped end first, longer than the plane's toe.",)
              if is_stopped else ("Start at the far end, and lengthen each stroke backwards.",)),
            *spread("Plough the grooves in", operation.copies),
            *(("Cut what the plane does not reach with a chisel.",) if is_stopped else ()),
        ),
        settings=_gauged(operation),
    )  # fmt: skip


def _say_rebates(operation: Operation, room: Workroom) -> Told:
    wide = room.say.length(setting(operation, "fence"))
    return Told(
        actions=(
            f"Set the rebate plane's fence to {wide}, its depth stop to {_depth(operation, room)}.",
            "Knife the inner line first where the rebate runs across the grain.",
            "Start at the far end, and lengthen each stroke backwards.",
            *spread("Plane the rebates in", operation.copies),
            *(("Chop the stopped ends with a chisel.",)
              if operation.facts.get("cut.stopped") is True else ()),
        ),
        settings=(Setting(name="fence", value_mm=setting(operation, "fence")), *_gauged(operation)),
    )  # fmt: skip


def _say_edge_grooves(operation: Operation, room: Workroom) -> Told:
    in_mm = room.say.length(setting(operation, "fence"))
    return Told(
        actions=(
            f"Set the plough plane's fence so that the iron runs {in_mm} in.",
            f"Set its depth stop to {_depth(operation, room)}.",
            *keep(operation, "Keep the fence"),
            *spread("Plough the groove along the edge of", operation.copies),
        ),
        settings=(Setting(name="fence", value_mm=setting(operation, "fence")), *_gauged(operation)),
    )


def _say_tongues(operation: Operation, room: Workroom) -> Told:
    off = room.say.length(setting(operation, "fence"))
    return Told(
        actions=(
            f"Set the rebate plane's fence to {off}, its depth stop to {_depth(operation, room)}.",
            "Plane both faces of a trial edge, and try the tongue in a groove.",
            *spread("Plane both faces along the edge of", operation.copies),
        ),
        settings=(Setting(name="fence", value_mm=setting(operation, "fence")), *_gauged(operation)),
    )


# Frames and panels.


def _say_panel_grooves(operation: Operation, room: Workroom) -> Told:
    wall = room.say.length(setting(operation, "fence"))
    deep = setting(operation, "depth stop") or setting(operation, "blade height")
    is_stopped = operation.kind == "rout-panel-grooves"
    return Told(
        actions=(
            "Fit the plough plane's iron that is no wider than the groove.",
            f"Set its fence {wall} from the iron, its depth stop to {room.say.length(deep)}.",
            *keep(operation, "Keep the fence"),
            *(("Chop a recess at each marked end first, longer than the plane's toe.",)
              if is_stopped else ("Keep the fence on the same face of every part.",)),
            *spread("Plough the grooves in", operation.copies),
            "Try a scrap of the panel, and widen the grooves until it slides.",
        ),
        settings=(
            Setting(name="fence", value_mm=setting(operation, "fence")),
            Setting(name="depth", value_mm=deep),
        ),
    )  # fmt: skip


def _say_panel_edges(operation: Operation, room: Workroom) -> Told:
    reach, deep = room.say.length(setting(operation, "fence")), _depth(operation, room)
    return Told(
        actions=(
            f"Set the rebate plane's fence to {reach}, its depth stop to {deep}.",
            "Knife the shoulder across the grain, and plane the ends first.",
            *spread("Plane the edges of", operation.copies),
            "Try each edge in a groove, and ease what is tight.",
        ),
        settings=(Setting(name="fence", value_mm=setting(operation, "fence")), *_gauged(operation)),
    )


# Dovetails.


def _say_sockets(operation: Operation, room: Workroom) -> Told:
    angle = setting_text(operation, "bit angle")
    return Told(
        actions=(
            f"Plane the edge of a block to {angle} off square, to lead the saw.",
            "Mark the slopes on the edges, wider at the bottom of the socket.",
            *spread(f"Saw along the block, {_depth(operation, room)} deep, on", operation.copies),
            "Chop the waste out from both sides, and level it with a router plane.",
        ),
        settings=(Setting(name="slope", value_mm=None, text=angle), *_gauged(operation)),
    )


def _say_tails(operation: Operation, room: Workroom) -> Told:
    high = room.say.length(setting(operation, "bit height"))
    return Told(
        actions=(
            f"Gauge the shoulder {high} from the end, on both faces.",
            *spread("Saw the shoulders, as far as the slope begins, on", operation.copies),
            "Pare both slopes with a chisel laid on the block that led the saw.",
            "Try it in its socket, and pare where it rubs.",
            *keep(operation, "Saw the tail away"),
        ),
        settings=renamed(operation, ("shoulder", "bit height")),
    )


# Mortises and slots.


def _say_loose_mortises(operation: Operation, room: Workroom) -> Told:
    bit = room.say.length(setting(operation, "bit"))
    return Told(
        actions=(
            f"Fit the {bit} bit, and set its depth stop to {_depth(operation, room)}.",
            *spread("Drill out the mortises between the lines, hole beside hole, in",
                    operation.copies),
            "Pare the walls flat to the lines with a chisel.",
            "Square the ends with a chisel, or round the edges of the loose tenons.",
        ),
        settings=renamed(operation, ("bit", "bit"), ("depth stop", "depth stop")),
    )  # fmt: skip


def _say_slots(operation: Operation, room: Workroom) -> Told:
    bit = room.say.length(setting(operation, "bit"))
    deep = room.say.length(setting(operation, "depth"))
    return Told(
        actions=(
            *drop(operation, "Clamp two stops", "Plunge"),
            f"Bore a {bit} hole at each end, and more between, {deep} deep.",
            "Pare the sides of the slot flat with a chisel.",
        ),
        settings=renamed(operation, ("bit", "bit"), ("depth", "depth")),
    )


# Edges.


def _say_edges(operation: Operation, room: Workroom) -> Told:
    size = setting(operation, "depth")
    shown = room.say.length(size)
    form = next((own.name for own in operation.settings if own.name.endswith(" bit")), "")
    return Told(
        actions=(
            f"Pencil lines {shown} from each edge, on both faces that meet there.",
            "Work across the ends first, then along the sides.",
            *_EDGES.get(form, _EDGES["chamfer bit"]),
            *keep(operation, "Stop short"),
        ),
        settings=(Setting(name="size", value_mm=size),),
    )


_EDGES: Final = {
    "chamfer bit": ("Plane each edge down to both lines.",),
    "round-over bit": (
        "Plane each edge down to both lines, then take the two new corners off.",
        "Round what is left with a fine plane and paper on a block.",
    ),
    "cove bit": (
        "Hollow each edge between the lines with a gouge, along the grain.",
        "Scrape the hollow even, and sand it on a dowel.",
    ),
}
_CARVED: Final = {**PARED, "cut.through": False}
_DADO: Final = Way(
    code="with a dado head", tool="table saw", minutes=(20, 3),
    says={**MACHINED, "op.dado_head": True, "cut.through": False, "stock.edge_straight": True},
    takes=("dado head", "sled for the table saw", "push block", "scrap board"),
    lacks=_lacks_dado, say=_say_dado,
)  # fmt: skip


def _hand(
    tool: str, minutes: tuple[int, int], takes: tuple[str, ...], say: object, word: str
) -> Way:
    return Way(
        code="by hand",
        tool=tool,
        minutes=minutes,
        says={**_CARVED, "cut.kind": word},
        takes=takes,
        say=say,  # type: ignore[arg-type] # one of the functions above
    )


_SET_OUT: Final = ("marking gauge", "marking knife", _HOLD)
ROUTING_WAYS: Final[Mapping[str, tuple[Way, ...]]] = MappingProxyType(
    {
        "rout-housings": (
            planned(_lacks_bit),
            _DADO,
            _hand("hand saw", (10, 15), ("chisel", "mallet", "router plane", *_SET_OUT),
                  _say_housings, "housing"),
        ),
        "rout-grooves": (
            planned(_lacks_bit),
            _DADO,
            _hand("plough plane", (10, 10), ("chisel", "mallet", *_SET_OUT), _say_grooves,
                  "groove"),
        ),
        "rout-rebates": (
            planned(_lacks_bit),
            _hand("rebate plane", (10, 10), ("chisel", *_SET_OUT), _say_rebates, "rebate"),
        ),
        "rout-edge-grooves": (
            planned(_lacks_bit),
            _hand("plough plane", (10, 8), (_HOLD,), _say_edge_grooves, "groove"),
        ),
        "rout-tongues": (
            planned(_lacks_bit),
            _hand("rebate plane", (10, 10), (_HOLD, "scrap board"), _say_tongues, "tongue"),
        ),
        "saw-panel-grooves": (
            planned(),
            _hand("plough plane", (10, 8), ("scrap board", _HOLD), _say_panel_grooves, "groove"),
        ),
        "rout-panel-grooves": (
            planned(_lacks_bit),
            _hand("plough plane", (10, 10), ("chisel", "mallet", "scrap board", _HOLD),
                  _say_panel_grooves, "groove"),
        ),
        "rout-panel-edges": (
            planned(_lacks_bit),
            _hand("rebate plane", (10, 10), ("marking knife", _HOLD), _say_panel_edges, "rebate"),
        ),
        "rout-dovetail-sockets": (
            planned(),
            _hand("hand saw", (20, 20), ("chisel", "mallet", "router plane", *_SET_OUT),
                  _say_sockets, "dovetail"),
        ),
        "rout-dovetail-tails": (
            planned(_lacks_table),
            _hand("hand saw", (10, 15), ("chisel", *_SET_OUT), _say_tails, "dovetail"),
        ),
        "rout-loose-mortises": (
            planned(_lacks_bit),
            Way(code="with a drill", tool="drill", minutes=(5, 12),
                says={**DRILLED, "cut.kind": "bore", "cut.stopped": True},
                takes=("chisel", "mallet", "drilling guide", _HOLD),
                lacks=lacks_machine("drill"), say=_say_loose_mortises),
            Way(code="with a brace", tool="brace", minutes=(5, 18),
                says={**PARED, "cut.kind": "bore", "cut.stopped": True},
                takes=("chisel", "mallet", _HOLD), say=_say_loose_mortises),
        ),
        "rout-slots": (
            planned(_lacks_bit),
            Way(code="with a drill", tool="drill", minutes=(10, 15),
                says={**DRILLED, "cut.kind": "bore"},
                takes=("chisel", "scrap board", _HOLD), lacks=lacks_machine("drill"),
                say=_say_slots),
            Way(code="with a brace", tool="brace", minutes=(10, 20),
                says={**PARED, "cut.kind": "bore"},
                takes=("chisel", "scrap board", _HOLD), say=_say_slots),
        ),
        "rout-edges": (
            planned(),
            _hand("block plane", (5, 8), ("pencil", "sanding block", _HOLD), _say_edges, "edge"),
        ),
    }
)  # fmt: skip
"""Code of a kind to its ways, those that are preferred first. Common practice, no source."""
