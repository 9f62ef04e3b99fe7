"""What a step says it covers: `glue-up: leg`, one operation in words.

YAML takes `[glue-up: leg]` for a list with a key and a value in it; this shape puts the words
together again.
"""

from __future__ import annotations

from dataclasses import dataclass

from benchleaf.reading.desk import Desk
from benchleaf.reading.nodes import MapNode, Node, TextNode
from benchleaf.reading.shapes import JsonSchema, Prose, Shape
from benchleaf.reading.showing import quote


@dataclass(frozen=True, slots=True)
class Covers(Shape):
    """One operation, as `kind: part`."""

    needed: str = "an operation and a part, such as `glue-up: leg`"

    def read(self, node: Node, desk: Desk) -> str | None:
        """Give `kind: part`, with single spaces."""
        if isinstance(node, MapNode) and len(node.entries) == 1:
            entry = node.entries[0]
            part = Prose(80, "the name of a part").read(entry.value, desk)
            return None if part is None else _join(entry.key.text, part)
        if not isinstance(node, TextNode):
            message = "this is not one operation"
            desk.report("R012", node, message, remedy=f"Needed: {self.needed}.")
            return None
        text = Prose(120, self.needed).read(node, desk)
        if text is None:
            return None
        kind, colon, part = text.partition(":")
        if colon and kind.strip() and part.strip():
            return _join(kind, part)
        message = f"{quote(text)} does not say which part"
        desk.report("R012", node, message, remedy=f"Needed: {self.needed}.")
        return None

    def schema(self) -> JsonSchema:
        """Words with a colon, or one key with a value."""
        pair: JsonSchema = {
            "type": "object",
            "minProperties": 1,
            "maxProperties": 1,
            "additionalProperties": {"type": ["string", "number"]},
        }
        return {"anyOf": [pair, {"type": "string", "pattern": ":"}]}


def _join(kind: str, part: str) -> str:
    return f"{' '.join(kind.split())}: {' '.join(part.split())}"
