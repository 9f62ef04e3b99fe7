"""What one value of a plan may be: text, words, numbers, lengths. Each shape reads and describes.

A shape's `read` takes a node and the desk and gives the typed value, or None with a finding made;
its `schema` gives the JSON Schema of the same. Must not know the plan's keys: `table` does.

Why not a validation library: the findings are the product here. Each needs the author's spelling,
line and column, the nearest names and the next act, before the value is typed at all; and every
scalar must stay text until its shape is known. With a library the model, its error texts and its
positions would all be overridden, and the table would be written twice.
"""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from benchleaf.lengths import LengthError, parse_length
from benchleaf.reading.desk import Desk, Spot
from benchleaf.reading.expressions import Expression
from benchleaf.reading.grammar import ExpressionError, parse_expression
from benchleaf.reading.nodes import ListNode, Node, TextNode
from benchleaf.reading.plan import Fastener, Round
from benchleaf.reading.showing import has_hidden, join_words, needed_word, quote

# An x or a multiplication sign between spaces, or one that no letter touches: `3/8x2`, never `box`.
_BY: Final = re.compile(r"\s+[x\u00d7]\s+|(?<![^\W\d_])\s*[x\u00d7]\s*(?![^\W\d_])")

JsonSchema = dict[str, Any]
"""A JSON Schema, draft-07, as plain data."""


class Shape(ABC):
    """What a value may be."""

    needed: str
    """What an author should write, to follow `Needed: `."""

    @abstractmethod
    def read(self, node: Node, desk: Desk) -> Any:
        """Type the node's value; None with a finding if it cannot be."""

    @abstractmethod
    def schema(self) -> JsonSchema:
        """Describe the value in JSON Schema, draft-07."""


class TextShape(Shape):
    """A value that is written as one scalar."""

    def read(self, node: Node, desk: Desk) -> Any:
        """Type a scalar; lists, maps and empty values are findings."""
        if not isinstance(node, TextNode):
            what = "a list" if isinstance(node, ListNode) else "keys with values"
            message = f"{what} where a single value is needed"
            desk.report("R012", node, message, remedy=f"Needed: {self.needed}.")
            return None
        if not node.text.strip() and not self.may_be_empty(node):
            report_empty(node, desk, self.needed)
            return None
        warn_of_cut(node, desk)
        return self.read_text(node, desk)

    def may_be_empty(self, node: TextNode) -> bool:  # noqa: ARG002 - text may, where quoted
        """Tell whether an empty value is meant."""
        return False

    @abstractmethod
    def read_text(self, node: TextNode, desk: Desk) -> Any:
        """Type the text of a scalar that is not empty."""


def report_empty(node: TextNode, desk: Desk, needed: str) -> None:
    """Report a key without a value, and the comment that may have swallowed it."""
    if not node.comment:
        message = "there is no value after the key"
        desk.report("R013", node, message, remedy=f"Needed: {needed}.")
        return
    message = f"there is no value: {quote(node.comment)} is read as a comment, because of its `#`"
    remedy = f"Put the value in quotes, or leave the `#` out. Needed: {needed}."
    desk.report("R014", node, message, remedy=remedy)


def warn_of_cut(node: TextNode, desk: Desk) -> None:
    """Warn where a comment looks as if it belonged to the value: `drill #8 hole`."""
    if re.match(r"#[0-9]", node.comment):
        message = f"{quote(node.comment)} is read as a comment; the value is {quote(node.text)}"
        remedy = "Put the whole value in quotes, or a space after `#` if it is a comment."
        desk.warn("R014", node, message, remedy=remedy)


@dataclass(frozen=True, slots=True)
class Prose(TextShape):
    """Text for people."""

    longest: int
    """Most characters allowed."""
    needed: str = "a few words"
    is_line: bool = False
    """Whether line ends are only spaces: titles and names."""

    def may_be_empty(self, node: TextNode) -> bool:
        """Tell whether an empty text was written as such, in quotes."""
        return node.is_quoted

    def read_text(self, node: TextNode, desk: Desk) -> str | None:
        """Give the text, trimmed."""
        text = " ".join(node.text.split()) if self.is_line else node.text.strip()
        if len(text) > self.longest:
            message = f"the text has {len(text)} characters"
            needed = f"Needed: at most {self.longest} characters."
            desk.report("R016", node, message, remedy=needed)
            return None
        if has_hidden(text):
            message = f"{quote(text)} holds signs that do not show"
            desk.report("R016", node, message, remedy="Type the text anew.")
            return None
        return text

    def schema(self) -> JsonSchema:
        """Text; editors take an unquoted number for one."""
        return {"type": ["string", "number"], "maxLength": self.longest}


@dataclass(frozen=True, slots=True)
class Words(TextShape):
    """One of a few fixed words, each standing for a value."""

    values: dict[str, Any]
    """Word to what it stands for."""
    code: str = "R018"
    what: str = "one of the words"

    @property
    def needed(self) -> str:  # type: ignore[override]
        """The words."""
        return join_words(self.values)

    def read_text(self, node: TextNode, desk: Desk) -> Any:
        """Give what the word stands for."""
        word = " ".join(node.text.split())
        if word in self.values:
            return self.values[word]
        remedy = needed_word(self.what, word, self.values)
        message = f"{quote(word)} is none of the words allowed"
        desk.report(self.code, node, message, remedy=remedy)
        return None

    def schema(self) -> JsonSchema:
        """The words."""
        return {"enum": list(self.values)}


@dataclass(frozen=True, slots=True)
class YesNo(TextShape):
    """Yes or no."""

    needed: str = "`yes` or `no`"

    def read_text(self, node: TextNode, desk: Desk) -> bool | None:
        """Give the truth; the words of YAML for it are taken too."""
        word = node.text.strip().lower()
        if word in {"yes", "true", "on"}:
            return True
        if word in {"no", "false", "off"}:
            return False
        message = f"{quote(node.text)} is neither yes nor no"
        desk.report("R019", node, message, remedy=f"Needed: {self.needed}.")
        return None

    def schema(self) -> JsonSchema:
        """A truth, which editors may take for a word or for a YAML truth."""
        return {"enum": [True, False, "yes", "no"]}


@dataclass(frozen=True, slots=True)
class Whole(TextShape):
    """A whole number."""

    least: int
    most: int

    @property
    def needed(self) -> str:  # type: ignore[override]
        """The range."""
        return f"a whole number from {self.least} to {self.most}"

    def read_text(self, node: TextNode, desk: Desk) -> int | None:
        """Give the number."""
        text = node.text.strip()
        # chosen: six digits are past every range here; more are not even converted.
        if re.fullmatch(r"[0-9]{1,6}", text) and self.least <= int(text) <= self.most:
            return int(text)
        message = f"{quote(text)} is not {self.needed}"
        remedy = f"Needed: {self.needed}, such as {max(self.least, 1)}."
        desk.report("R017", node, message, remedy=remedy)
        return None

    def schema(self) -> JsonSchema:
        """The range."""
        return {"type": "integer", "minimum": self.least, "maximum": self.most}


_LENGTH_SCHEMA: Final[JsonSchema] = {"type": ["string", "number"]}


@dataclass(frozen=True, slots=True)
class PlainLength(TextShape):
    """A length written out, without names: what is bought, and what the shop is like."""

    may_be_zero: bool = False
    needed: str = "a length written out, such as 3/4 or 18 mm"

    def read_text(self, node: TextNode, desk: Desk) -> Fraction | None:
        """Give the length, mm."""
        return read_length(node.text, node, desk, may_be_zero=self.may_be_zero)

    def schema(self) -> JsonSchema:
        """Text, or a bare number."""
        return dict(_LENGTH_SCHEMA)


def read_length(
    text: str, node: TextNode, desk: Desk, *, may_be_zero: bool = False
) -> Fraction | None:
    """Read a length written out; report one that is not, or is too small."""
    try:
        length_mm = parse_length(text, desk.units)
    except LengthError as error:
        desk.report("R020", node, error.what, remedy=error.needed)
        return None
    if length_mm > 0 or (may_be_zero and not length_mm):
        return length_mm
    least = "0 or more" if may_be_zero else "more than 0"
    message = f"{quote(text.strip())} is not {least}"
    desk.report("R021", node, message, remedy=f"Needed: {least}.")
    return None


@dataclass(frozen=True, slots=True)
class PlainPair(TextShape):
    """Two lengths written out with an x between: `48 x 96`."""

    needed: str = "two lengths with an x between, such as 48 x 96"

    def read_text(self, node: TextNode, desk: Desk) -> tuple[Fraction, Fraction] | None:
        """Give both lengths, mm, in the order written."""
        halves = split_by(node.text)
        if halves is None:
            message = f"{quote(node.text)} is not two lengths with an x between"
            desk.report("R022", node, message, remedy=f"Needed: {self.needed}.")
            return None
        first, second = (read_length(text, node, desk) for text, _ in halves)
        return None if first is None or second is None else (first, second)

    def schema(self) -> JsonSchema:
        """Text with an x in it."""
        return {"type": "string", "pattern": "[x\u00d7]"}


def split_by(text: str) -> list[tuple[str, int]] | None:
    """Split `a x b` at its x, into both texts with their offsets; None unless there is just one.

    >>> split_by("3/8 x box")
    [('3/8', 0), ('box', 6)]
    """
    marks = list(_BY.finditer(text))
    if len(marks) != 1:
        return None
    mark = marks[0]
    return [(text[: mark.start()], 0), (text[mark.end() :], mark.end())]


@dataclass(frozen=True, slots=True)
class Arithmetic(TextShape):
    """A length, or arithmetic over lengths, names and other parts' faces."""

    needed: str = "a length such as 3/4, or arithmetic such as `depth - 2 * leg`"

    def read_text(self, node: TextNode, desk: Desk) -> Expression | None:
        """Give the expression and lay it on the desk, to have its names checked."""
        return read_expression(node.text, node, desk)

    def schema(self) -> JsonSchema:
        """Text, or a bare number."""
        return dict(_LENGTH_SCHEMA)


def read_expression(text: str, node: TextNode, desk: Desk, *, offset: int = 0) -> Expression | None:
    """Read arithmetic that starts at an offset of a node's text; report what is wrong where."""
    try:
        expression = parse_expression(text, node.place_at(offset), node.path)
    except ExpressionError as error:
        place = node.place_at(offset + error.offset)
        desk.report(error.code, Spot(place, node.path), error.what, remedy=error.needed)
        return None
    desk.expressions.append(expression)
    return expression


@dataclass(frozen=True, slots=True)
class RoundShape(TextShape):
    """A dowel: `3/8 x 2`, diameter x length."""

    needed: str = "diameter x length, such as 3/8 x 2"

    def read_text(self, node: TextNode, desk: Desk) -> Round | None:
        """Give diameter and length."""
        halves = split_by(node.text)
        if halves is None:
            message = f"{quote(node.text)} is not a diameter and a length with an x between"
            desk.report("R022", node, message, remedy=f"Needed: {self.needed}.")
            return None
        diameter, length = (read_expression(text, node, desk, offset=at) for text, at in halves)
        return (
            None if diameter is None or length is None else Round(diameter=diameter, length=length)
        )

    def schema(self) -> JsonSchema:
        """Text with an x in it."""
        return {"type": "string", "pattern": "[x\u00d7]"}


@dataclass(frozen=True, slots=True)
class FastenerShape(TextShape):
    """A wood screw: `8 x 1-1/4`, gauge x length."""

    needed: str = "gauge x length, such as 8 x 1-1/4"

    def read_text(self, node: TextNode, desk: Desk) -> Fastener | None:
        """Give gauge and length."""
        halves = split_by(node.text)
        gauge = re.fullmatch(r"(?:#|[Nn]o\.?)? *([0-9]{1,2})", halves[0][0]) if halves else None
        # Wood screws run from gauge 0 to 24: ASME B18.6.1, from memory.
        if halves is None or gauge is None or int(gauge[1]) > 24:
            message = f"{quote(node.text)} is not a screw's gauge (0 to 24) and length"
            desk.report("R023", node, message, remedy=f"Needed: {self.needed}.")
            return None
        length = read_expression(halves[1][0], node, desk, offset=halves[1][1])
        return None if length is None else Fastener(gauge=int(gauge[1]), length=length)

    def schema(self) -> JsonSchema:
        """Text with an x in it."""
        return {"type": "string", "pattern": "[x\u00d7]"}
