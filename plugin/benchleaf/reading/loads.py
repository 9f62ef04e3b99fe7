"""What a part carries, as a plan writes it: a word for a usual load, or a mass.

Takes a node's text, gives a `PlanLoad`. The words are those of the handbook's loads.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.handbook.tables import load_loads
from benchleaf.handbook.units import KG_PER_LB
from benchleaf.reading.desk import Desk
from benchleaf.reading.nodes import TextNode
from benchleaf.reading.plan import PlanLoad
from benchleaf.reading.shapes import JsonSchema, TextShape
from benchleaf.reading.showing import join_words, needed_word, quote

NO_LOAD: Final = "none"
"""Word for a part that carries nothing but itself."""
_EXAMPLE: Final = "60 lb"
# chosen: six digits and three decimals weigh anything that furniture carries.
_MASS: Final = re.compile("([0-9]{1,6}(?:[.][0-9]{1,3})?) *(kg|lb)")
_KG: Final = {"kg": Fraction(1), "lb": KG_PER_LB}


@dataclass(frozen=True, slots=True)
class LoadShape(TextShape):
    """A word for a usual load, or a mass spread over the part."""

    @property
    def words(self) -> tuple[str, ...]:
        """The words, in the handbook's order."""
        return (*load_loads(), NO_LOAD)

    @property
    def needed(self) -> str:  # type: ignore[override]
        """The words, and a mass."""
        return f"{join_words((*self.words, _EXAMPLE))}, or another mass"

    def read_text(self, node: TextNode, desk: Desk) -> PlanLoad | None:
        """Give the load."""
        text = " ".join(node.text.split())
        if text in self.words:
            return PlanLoad(word=text, mass_kg=None)
        mass = _MASS.fullmatch(text)
        if mass:
            return PlanLoad(word="", mass_kg=Fraction(mass[1]) * _KG[mass[2]])
        message = f"{quote(text)} is neither a usual load nor a mass"
        remedy = needed_word("a mass such as 60 lb or 25 kg, or one of the words", text, self.words)
        desk.report("R038", node, message, remedy=remedy)
        return None

    def schema(self) -> JsonSchema:
        """The words, or a mass."""
        return {"type": "string", "pattern": f"^({'|'.join(self.words)}|{_MASS.pattern})$"}
