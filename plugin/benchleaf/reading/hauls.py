"""What can be hauled, as a plan writes it: the largest piece, the heaviest, or both.

Takes a node, gives `size` and `weight` of those that are written.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from benchleaf.handbook.units import KG_PER_LB
from benchleaf.reading.containers import Key, Record
from benchleaf.reading.desk import Desk
from benchleaf.reading.nodes import MapNode, Node, TextNode
from benchleaf.reading.shapes import JsonSchema, PlainPair, Shape, TextShape
from benchleaf.reading.showing import quote

# chosen: four digits and three decimals weigh anything that one person lifts.
_MASS: Final = re.compile("([0-9]{1,4}(?:[.][0-9]{1,3})?) *(kg|lb)")
_KG: Final = {"kg": Fraction(1), "lb": KG_PER_LB}


@dataclass(frozen=True, slots=True)
class WeightShape(TextShape):
    """A weight with its unit."""

    needed: str = "a weight with its unit, such as 50 lb or 20 kg"

    def read_text(self, node: TextNode, desk: Desk) -> Fraction | None:
        """Give the mass, kg."""
        weight = _MASS.fullmatch(" ".join(node.text.split()))
        if weight and Fraction(weight[1]):
            return Fraction(weight[1]) * _KG[weight[2]]
        message = f"{quote(node.text)} is not a weight with its unit"
        desk.report("R053", node, message, remedy=f"Needed: {self.needed}.")
        return None

    def schema(self) -> JsonSchema:
        """A number and its unit."""
        return {"type": "string", "pattern": f"^ *{_MASS.pattern} *$"}


_SIZE: Final = PlainPair()
_BOTH: Final = Record(
    (
        Key("size", _SIZE, "Largest piece of a sheet that fits the car."),
        Key("weight", WeightShape(), "Heaviest piece of a sheet that one person lifts."),
    ),
    "what can be hauled",
)


@dataclass(frozen=True, slots=True)
class HaulShape(Shape):
    """A size, a weight, or keys with one of these or both."""

    needed: str = "a size such as 48 x 60, a weight such as 50 lb, or `{size: ..., weight: ...}`"

    def read(self, node: Node, desk: Desk) -> dict[str, Any] | None:
        """Give what is written, by its key."""
        if not isinstance(node, MapNode):
            if isinstance(node, TextNode) and _MASS.fullmatch(" ".join(node.text.split())):
                return {"weight": WeightShape().read(node, desk)}
            return {"size": _SIZE.read(node, desk)}
        if not any(node.get(key.name) for key in _BOTH.keys) and not node.entries:
            message = "`size` or `weight` is missing"
            desk.report("R010", node, message, remedy=f"Needed: {self.needed}.")
        return _BOTH.read(node, desk)

    def schema(self) -> JsonSchema:
        """Any of the three."""
        both = {**_BOTH.schema(), "minProperties": 1}
        return {"anyOf": [_SIZE.schema(), WeightShape().schema(), both]}
