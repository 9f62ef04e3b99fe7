"""Places on a part: its faces, and its edges by the two faces that meet there.

Takes nodes and the desk, gives names of faces and edges in one spelling. Must not know what is done
there.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import Any, Final

from benchleaf.frames import FACES
from benchleaf.reading.desk import Desk
from benchleaf.reading.nodes import TextNode
from benchleaf.reading.plan import Pair
from benchleaf.reading.shapes import JsonSchema, TextShape, read_expression, split_by
from benchleaf.reading.showing import join_words, needed_word, quote

EDGES: Final[tuple[str, ...]] = tuple(
    f"{one} {other}" for one, other in combinations(FACES, 2) if FACES[one][0] != FACES[other][0]
)
"""The twelve edges, each by its two faces in the order wide, deep, high."""
_ALL: Final = "all edges"


def edges_of(face: str) -> tuple[str, ...]:
    """The four edges round a face.

    >>> edges_of("top")
    ('left top', 'right top', 'front top', 'back top')
    """
    return tuple(edge for edge in EDGES if face in edge.split())


@dataclass(frozen=True, slots=True)
class FacePlace(TextShape):
    """A face by its name."""

    needed: str = f"a face: {join_words(FACES)}"

    def read_text(self, node: TextNode, desk: Desk) -> str | None:
        """Give the name."""
        word = " ".join(node.text.split())
        if word in FACES:
            return word
        message = f"{quote(word)} is no face"
        desk.report("R040", node, message, remedy=needed_word("a face", word, FACES))
        return None

    def schema(self) -> JsonSchema:
        """The faces."""
        return {"enum": list(FACES)}


@dataclass(frozen=True, slots=True)
class EdgePlace(TextShape):
    """An edge by its two faces, or several by a word for all of them."""

    needed: str = "an edge by its two faces, such as `top front`, or `all edges of top`"

    def read_text(self, node: TextNode, desk: Desk) -> tuple[str, ...] | None:
        """Give the names of the edges meant, one or more."""
        words = node.text.split()
        if words == _ALL.split():
            return EDGES
        if words[:-1] == [*_ALL.split(), "of"] and words[-1] in FACES:
            return edges_of(words[-1])
        for edge in EDGES:
            if len(words) == 2 and set(edge.split()) == set(words):
                return (edge,)
        message = f"{quote(' '.join(words))} is no edge"
        desk.report("R040", node, message, remedy=f"Needed: {self.needed}.")
        return None

    def schema(self) -> JsonSchema:
        """The edges as they may be written, either face first."""
        turned = [" ".join(reversed(edge.split())) for edge in EDGES]
        return {"enum": [*EDGES, *turned, _ALL, *(f"{_ALL} of {face}" for face in FACES)]}


@dataclass(frozen=True, slots=True)
class PairShape(TextShape):
    """Two lengths with an x between, each of which may be arithmetic: `4 x depth / 2`."""

    needed: str = "two lengths with an x between, such as 4 x 2-1/2"

    def read_text(self, node: TextNode, desk: Desk) -> Any:
        """Give both."""
        halves = split_by(node.text)
        if halves is None:
            message = f"{quote(node.text)} is not two lengths with an x between"
            desk.report("R022", node, message, remedy=f"Needed: {self.needed}.")
            return None
        first, second = (read_expression(text, node, desk, offset=at) for text, at in halves)
        return None if first is None or second is None else Pair(first=first, second=second)

    def schema(self) -> JsonSchema:
        """Text with an x in it."""
        return {"type": "string", "pattern": "[x\u00d7]"}
