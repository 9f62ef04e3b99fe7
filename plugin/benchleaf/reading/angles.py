"""Angles of a plan: the shapes of `turn`, `splay` and `trim`, and the records made of them.

Takes nodes and the desk, gives typed values like every shape. Must not know where parts stand.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from benchleaf.frames import FACES
from benchleaf.reading.containers import Key, ListOf, Record
from benchleaf.reading.desk import Desk
from benchleaf.reading.expressions import PartSize
from benchleaf.reading.grammar import EXTENTS
from benchleaf.reading.nodes import Node, TextNode
from benchleaf.reading.shapes import JsonSchema, TextShape, Words, read_expression
from benchleaf.reading.showing import quote
from benchleaf.reading.turned import PlanSplay, PlanTrim, PlanTurn

FLOOR: Final = "floor"
MITRE_WITH: Final = "mitre with "
_NUMBER: Final = re.compile(r"([+-]?)\s*(?:([0-9]{1,3})(?:-([0-9]{1,2})/([0-9]{1,2}))?|"
                            r"([0-9]{1,3})\.([0-9]{1,6}))\s*(?:°|deg|degrees)?")  # fmt: skip
# chosen: a leg that leans more than this is no leg, and no usual saw tilts further.
_MOST_SPLAY: Final = 45


@dataclass(frozen=True, slots=True)
class Degrees(TextShape):
    """An angle in degrees."""

    most: int
    """Largest, either way."""

    @property
    def needed(self) -> str:  # type: ignore[override]
        """The range."""
        return f"an angle in degrees from -{self.most} to {self.most}, such as 12 or 7-1/2"

    def read_text(self, node: TextNode, desk: Desk) -> Fraction | None:
        """Give the angle, exact."""
        angle = parse_degrees(node.text.strip())
        if angle is not None and abs(angle) <= self.most:
            return angle
        message = f"{quote(node.text.strip())} is not {self.needed.partition(',')[0]}"
        desk.report("R045", node, message, remedy=f"Needed: {self.needed}.")
        return None

    def schema(self) -> JsonSchema:
        """A number, or text with a sign for degrees."""
        return {"type": ["string", "number"]}


def parse_degrees(text: str) -> Fraction | None:
    """Read an angle; None where the text is none.

    >>> parse_degrees("7-1/2"), parse_degrees("-12.5°"), parse_degrees("1/0")
    (Fraction(15, 2), Fraction(-25, 2), None)
    """
    match = _NUMBER.fullmatch(text)
    if match is None or match[4] in {"0", "00"}:
        return None
    sign, whole, top, bottom, before, after = match.groups()
    if before is not None:
        value = Fraction(f"{before}.{after}")
    else:
        value = Fraction(whole) + (Fraction(int(top), int(bottom)) if top else 0)
    return -value if sign == "-" else value


@dataclass(frozen=True, slots=True)
class FaceOf(TextShape):
    """A face of another part, or the floor."""

    needed: str = (
        "a face of another part, such as `seat.bottom` or `mitre with side.left`, or `floor`"
    )

    def read_text(self, node: TextNode, desk: Desk) -> tuple[PartSize | None, str] | None:
        """Give the face (None for the floor) and the text."""
        text = " ".join(node.text.split())
        if text == FLOOR:
            return None, text
        face = text.removeprefix(MITRE_WITH)
        at = node.text.find(face) if face != text and face in node.text else 0
        expression = read_expression(node.text[at:], node, desk, offset=at)
        if expression is None:
            return None
        term = expression.term
        if isinstance(term, PartSize) and term.what in FACES:
            return term, text
        message = f"{quote(text)} is no face"
        desk.report("R033", node, message, remedy=f"Needed: {self.needed}.")
        return None

    def schema(self) -> JsonSchema:
        """Text."""
        return {"type": "string"}


@dataclass(frozen=True, slots=True)
class Corner(ListOf):
    """Faces of a part that have a corner, an edge or a middle in common."""

    def read(self, node: Node, desk: Desk) -> tuple[Any, ...] | None:
        """Read the faces; two that lie across from one another have nothing in common."""
        faces = ListOf.read(self, node, desk)
        known = [face for face in faces or () if face is not None]
        axes = [FACES[face][0] for face in known]
        if len(set(axes)) < len(set(known)):
            message = f"{quote(' and '.join(known))} have no point in common"
            desk.report("R026", node, message, remedy="Keep one face for each direction.")
        return faces


_ANGLE: Final = Degrees(180)
_FACE: Final = Words({face: face for face in FACES})

_TURN: Final = Record(
    (
        Key("about", Words(dict(EXTENTS)), "Axis of the piece that it is turned about.",
            required=True),
        Key("by", _ANGLE, "How far, in degrees. Above 0: about `wide` the top comes to the front, "
            "about `deep` the top goes to the right, about `high` the right side goes to the back.",
            required=True),
        Key("at", Corner(_FACE, most=3, what="faces", lone=True, unique=True, least=1),
            "Faces of the part, as placed, whose corner, edge or middle stays where it is.",
            default="the middle of the part"),
    ),
    "a turn",
)  # fmt: skip
_SPLAY: Final = Record(
    (
        Key("side", Degrees(_MOST_SPLAY), "How far its foot goes out to the side, seen from the "
            "front.", default="0"),
        Key("front", Degrees(_MOST_SPLAY), "How far its foot goes out to the front, or to the back "
            "where it stands behind the middle, seen from the side.", default="0"),
    ),
    "a splay",
)  # fmt: skip
_TRIM: Final = Record(
    tuple(
        Key(face, FaceOf(), f"The face that its {face} is cut to, or drawn out to.")
        for face in FACES
    ),
    "a trim",
)

ANGLE_KEYS: Final = (
    Key("turn", ListOf(_TURN, most=6, what="turns", lone=True),
        "Turns of the part from where it is placed, one after the other.", default="not turned"),
    Key("splay", _SPLAY, "How far a leg's foot goes out, in degrees; its top stays where it is "
        "placed, and both ends are level.", default="upright"),
    Key("trim", _TRIM, "Ends or edges of the part that meet a face of another part, or the "
        "floor.", default="square ends, where they are placed"),
)  # fmt: skip
"""Keys of a part."""


def check_angles(values: Mapping[str, Any], desk: Desk) -> None:
    """Refuse parts that are both turned and splayed."""
    for name, part in (values.get("parts") or {}).items():
        if part and part.get("turn") and part.get("splay"):
            message = "`turn` and `splay` exclude each other"
            path = f"parts.{name}.splay"
            desk.report("R026", desk.spot(path), message, remedy="Keep one of them.")


def build_turns(values: Mapping[str, Any]) -> tuple[PlanTurn, ...]:
    """The turns of a part, in the order written."""
    return tuple(
        PlanTurn(about=turn["about"], angle_deg=turn["by"], pivot=turn.get("at", ()))
        for turn in values.get("turn", ())
    )


def build_splay(values: Mapping[str, Any]) -> PlanSplay | None:
    """The splay of a part, or None."""
    splay = values.get("splay")
    if splay is None:
        return None
    zero = Fraction(0)
    return PlanSplay(side_deg=splay.get("side", zero), front_deg=splay.get("front", zero))


def build_trims(values: Mapping[str, Any]) -> tuple[PlanTrim, ...]:
    """The trims of a part, in the order of faces."""
    return tuple(
        PlanTrim(face=face, to=to, text=text, is_mitre=text.startswith(MITRE_WITH))
        for face, (to, text) in values.get("trim", {}).items()
    )
