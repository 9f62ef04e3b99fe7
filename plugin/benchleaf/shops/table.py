"""The keys of a shop file: one table, from which come the reading, the schema and the docs page.

Takes nothing, gives the shape of a whole shop file. A new capacity is a row here, a field of the
record and a line in `building`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from benchleaf.handbook.units import KG_PER_LB
from benchleaf.reading.containers import Key, ListOf, Record
from benchleaf.reading.desk import Desk
from benchleaf.reading.nodes import Node, TextNode
from benchleaf.reading.plan import Units
from benchleaf.reading.shapes import (
    JsonSchema,
    PlainLength,
    PlainPair,
    Prose,
    Shape,
    TextShape,
    Whole,
    Words,
    YesNo,
    read_length,
    split_by,
)
from benchleaf.reading.showing import quote
from benchleaf.shops.records import ClampStock

USUAL: Final = "usual"
"""Word for a machine with the usual capacities."""
# chosen: several times what one workshop holds.
_MOST_BITS: Final = 60
_MOST_CLAMPS: Final = 30
_LENGTH: Final = PlainLength()
_NONE_TOO: Final = PlainLength(may_be_zero=True)
# chosen: six digits and three decimals weigh anything that is lifted.
_MASS: Final = re.compile("([0-9]{1,6}(?:[.][0-9]{1,3})?) *(kg|lb)")
_KG: Final = {"kg": Fraction(1), "lb": KG_PER_LB}


@dataclass(frozen=True, slots=True)
class MassShape(TextShape):
    """A mass with its unit."""

    needed: str = "a mass with its unit, such as 45 lb or 20 kg"
    code: str = "R980"

    def read_text(self, node: TextNode, desk: Desk) -> Fraction | None:
        """Give the mass, kg."""
        text = " ".join(node.text.split())
        mass = _MASS.fullmatch(text)
        if mass and Fraction(mass[1]):
            return Fraction(mass[1]) * _KG[mass[2]]
        message = f"{quote(text)} is not a mass"
        desk.report(self.code, node, message, remedy=f"Needed: {self.needed}.")
        return None

    def schema(self) -> JsonSchema:
        """A number and a unit."""
        return {"type": "string", "pattern": f"^{_MASS.pattern}$"}


@dataclass(frozen=True, slots=True)
class ClampShape(TextShape):
    """Clamps of one length: `8 x 24`, count x opening."""

    needed: str = "count x opening, such as 8 x 24"

    def read_text(self, node: TextNode, desk: Desk) -> ClampStock | None:
        """Give how many, and how far they open."""
        halves = split_by(node.text)
        count = halves[0][0].strip() if halves else ""
        # chosen: three digits count any shop's clamps.
        if halves is None or not re.fullmatch("[1-9][0-9]{0,2}", count):
            message = f"{quote(node.text)} is not a number of clamps and how far they open"
            desk.report("R981", node, message, remedy=f"Needed: {self.needed}.")
            return None
        opening = read_length(halves[1][0], node, desk)
        return None if opening is None else ClampStock(count=int(count), opening_mm=opening)

    def schema(self) -> JsonSchema:
        """Text with an x in it."""
        return {"type": "string", "pattern": "[x\u00d7]"}


@dataclass(frozen=True, slots=True)
class MachineShape(Shape):
    """A machine: the word `usual`, or those of its capacities that are not the usual ones."""

    record: Record

    @property
    def needed(self) -> str:  # type: ignore[override]
        """The word, or a key."""
        return f"`{USUAL}`, or what it takes, such as `{self.record.keys[0].name}`"

    def read(self, node: Node, desk: Desk) -> dict[str, Any] | None:
        """Give the capacities that are told."""
        if not isinstance(node, TextNode) or not node.text.strip():
            return self.record.read(node, desk)
        if node.text.strip() == USUAL:
            return {}
        message = f"{quote(node.text)} says nothing of {self.record.what}"
        desk.report("R982", node, message, remedy=f"Needed: {self.needed}.")
        return None

    def schema(self) -> JsonSchema:
        """The word, or the keys."""
        return {"anyOf": [{"enum": [USUAL]}, self.record.schema()]}


def _machine(what: str, *keys: Key) -> MachineShape:
    return MachineShape(Record(keys, what))


_BITS: Final = ListOf(_LENGTH, most=_MOST_BITS, what="diameters", lone=True, unique=True)
_HAS: Final = YesNo()

MACHINES: Final = Record(
    (
        Key("table saw", _machine(
            "a table saw",
            Key("rip", _LENGTH, "From the blade to the fence, to the right of it.",
                default="24 in (chosen)"),
            Key("rip left", _NONE_TOO, "From the blade to the fence, to the left of it; 0 where it "
                "does not go there.", default="12 in (from memory)"),
            Key("height", _LENGTH, "Of the blade above the table, raised fully.",
                default="79 mm, 3-1/8 in (common practice, no source)"),
            Key("tilt", Whole(0, 60), "How far the blade tilts, degrees.",
                default="45 (from memory)"),
            Key("gauge", Whole(0, 80), "How far the mitre gauge turns, degrees.",
                default="60 (from memory)"),
            Key("dado", _NONE_TOO, "The widest cut of its dado head; 0 where it takes none.",
                default="13/16 in (from memory)"),
            Key("sled", PlainPair("length x depth, such as 36 x 24"), "The longest piece on its "
                "sled, along the sled's fence, x the widest, along the cut.",
                default="915 x 609.6 mm, 36 x 24 in (chosen)"),
            Key("panel", PlainPair("two lengths with an x between, such as 48 x 24"),
                "The largest panel that its table carries alone.",
                default="1200 x 600 mm, or 0.75 m² (chosen)"),
            Key("carries", MassShape(), "The heaviest panel that its table carries alone.",
                default="20 kg (chosen)"),
        ), "A saw with its blade in a table."),
        Key("mitre saw", _machine(
            "a mitre saw",
            Key("wide", _LENGTH, "The widest piece that it cuts square.",
                default="300 mm (from memory)"),
            Key("high", _LENGTH, "The thickest piece that it cuts square.",
                default="85 mm (from memory)"),
            Key("wide at 45", _LENGTH, "The widest piece, turned to 45 degrees.",
                default="212 mm (worked out: 300 by the cosine)"),
            Key("high at 45", _LENGTH, "The thickest piece, tilted to 45 degrees.",
                default="50 mm (from memory)"),
            Key("rigid", _LENGTH, "The widest piece without drawing out the slide.",
                default="140 mm (from memory), at most `wide`"),
        ), "A saw that swings down on what lies against its fence."),
        Key("circular saw", _machine(
            "a circular saw",
            Key("deep", _LENGTH, "How deep it cuts.", default="60 mm (from memory)"),
            Key("guide", _LENGTH, "The longest cut along its guide.", default="2500 mm (chosen)"),
        ), "A saw held in the hand, with a guide."),
        Key("band saw", _machine(
            "a band saw",
            Key("throat", _LENGTH, "From the blade to the frame.",
                default="343 mm, 13-1/2 in (common practice, no source)"),
            Key("high", _LENGTH, "The thickest piece below its guides.",
                default="6 in (from memory)"),
        ), "A saw with an endless blade."),
        Key("drill press", _machine(
            "a drill press",
            Key("throat", _LENGTH, "From the bit to the post.", default="6 in (from memory)"),
            Key("stroke", _LENGTH, "How far the bit comes down.", default="3-1/8 in (from memory)"),
        ), "A drill on a post."),
        Key("planer", _machine(
            "a planer",
            Key("wide", _LENGTH, "The widest piece that it planes.",
                default="12-1/2 in (from memory)"),
        ), "A thickness planer."),
        Key("jointer", _machine(
            "a jointer",
            Key("wide", _LENGTH, "The widest face that it planes.", default="6 in (from memory)"),
        ), "A planer that makes edges and faces straight."),
        Key("drill", _HAS, "A drill held in the hand, with a motor.", default="no"),
        Key("router", _HAS, "A router.", default="no"),
        Key("router table", _HAS, "A table for the router.", default="no"),
        Key("jigsaw", _HAS, "A jigsaw.", default="no"),
        Key("sander", _HAS, "A sander with a motor.", default="no"),
        Key("biscuit jointer", _HAS, "A biscuit jointer.", default="no"),
    ),
    "the machines",
)  # fmt: skip

SHOP: Final = Record(
    (
        Key("units", Words({unit.value: unit for unit in Units}), "Unit of bare numbers.",
            required=True),
        Key("shop", Prose(80, is_line=True), "What pages call the shop.", required=True),
        Key("machines", MACHINES, "The machines that are there, and no others.",
            default="those of the usual shop"),
        Key("router bits", _BITS, "Diameters of the straight bits.", default="the usual ones"),
        Key("drill bits", _BITS, "Diameters of the drill bits.", default="any"),
        Key("dowel jig", _BITS, "Dowels that the dowelling jig is made for; `[]` where there is "
            "none.", default="any"),
        Key("clamps", ListOf(ClampShape(), most=_MOST_CLAMPS, what="clamps", lone=True),
            "How many of each opening.", default="as many as are asked for"),
    ),
    "a shop",
)  # fmt: skip


def schema() -> JsonSchema:
    """Describe the shop file in JSON Schema, draft-07, for editors."""
    head: JsonSchema = {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": "Benchleaf shop",
    }
    return {**head, **SHOP.schema()}
