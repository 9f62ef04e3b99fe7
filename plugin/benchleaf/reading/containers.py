"""Lists, maps and records of a plan: shapes that hold shapes.

Takes nodes and the desk, gives tuples and dicts of typed values, with a None where a value could
not be read. Every fault inside is found in one pass. Must not know the plan's keys: `table` does.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, Final

from benchleaf.reading.desk import Desk, Spot
from benchleaf.reading.nodes import Entry, ListNode, MapNode, Node, TextNode
from benchleaf.reading.shapes import JsonSchema, Shape, report_empty
from benchleaf.reading.showing import join_words, needed_word, quote, show

# chosen: three or four words name a part; longer names do not fit a cutting diagram.
LONGEST_NAME: Final = 40
NAME_PATTERN: Final = r"[^\W\d_A-Z][^\W_A-Z]*(?: [^\W_A-Z]+)*"
# `overall` is the whole piece in arithmetic, and ` x ` stands between two lengths.
_RESERVED: Final = ("overall", "x")


@dataclass(frozen=True, slots=True)
class ListOf(Shape):
    """A list of one shape; a lone value is taken as a list of one where `lone` says so."""

    item: Shape
    most: int
    """Most items allowed."""
    what: str
    """What the items are, in the plural."""
    lone: bool = False
    unique: bool = False
    least: int = 0

    @property
    def needed(self) -> str:  # type: ignore[override]
        """A list, with what is in it."""
        return f"a list of {self.what}"

    def read(self, node: Node, desk: Desk) -> tuple[Any, ...] | None:
        """Read every item."""
        items = (node,) if self.lone and not isinstance(node, ListNode) else _items(node)
        if items is None or (isinstance(node, TextNode) and not node.text.strip()):
            _report_form(node, desk, self.needed)
            return None
        if not self._has_right_number(len(items), node, desk):
            return None
        values = tuple(self.item.read(item, desk) for item in items)
        if self.unique:
            self._refuse_repeats(items, values, desk)
        return values

    def _has_right_number(self, number: int, node: Node, desk: Desk) -> bool:
        if self.least == self.most != number:
            message = f"the list holds {number}, and {self.most} are needed"
            desk.report("R012", node, message, remedy=f"Needed: {self.needed}.")
        elif number > self.most:
            message = f"there are {number} {self.what}"
            desk.report("R024", node, message, remedy=f"Needed: at most {self.most}.")
        elif number < self.least:
            message = "the list is empty" if not number else f"the list holds {number}"
            desk.report("R012", node, message, remedy=f"Needed: {self.needed}.")
        return self.least <= number <= self.most

    def _refuse_repeats(self, items: tuple[Node, ...], values: tuple[Any, ...], desk: Desk) -> None:
        for index, (item, value) in enumerate(zip(items, values, strict=True)):
            if value is not None and value in values[:index]:
                message = f"{quote(getattr(item, 'text', ''))} is in the list already"
                desk.report("R025", item, message, remedy="Remove one of the two.")

    def schema(self) -> JsonSchema:
        """A list, or its lone item."""
        listed: JsonSchema = {
            "type": "array",
            "items": self.item.schema(),
            "maxItems": self.most,
            "uniqueItems": self.unique,
        }
        if self.least:
            listed["minItems"] = self.least
        return {"anyOf": [listed, self.item.schema()]} if self.lone else listed


def _items(node: Node) -> tuple[Node, ...] | None:
    return node.items if isinstance(node, ListNode) else None


def _report_form(node: Node, desk: Desk, needed: str) -> None:
    if isinstance(node, TextNode) and not node.text.strip():
        report_empty(node, desk, needed)
        return
    found = {ListNode: "a list stands here", MapNode: "keys with values stand here"}
    message = found.get(type(node), f"{quote(getattr(node, 'text', ''))} stands here")
    desk.report("R012", node, message, remedy=f"Needed: {needed}.")


@dataclass(frozen=True, slots=True)
class Named(Shape):
    """Names that the author chooses, each with a value of one shape."""

    item: Shape
    most: int
    what: str
    """What the names name, in the plural."""

    @property
    def needed(self) -> str:  # type: ignore[override]
        """Names with values."""
        return f"{self.what}, each with a name, a colon and what it is"

    def read(self, node: Node, desk: Desk) -> dict[str, Any] | None:
        """Read every entry; an entry whose name or value is not usable is None."""
        if not isinstance(node, MapNode):
            _report_form(node, desk, self.needed)
            return None
        if len(node.entries) > self.most:
            message = f"there are {len(node.entries)} {self.what}"
            desk.report("R024", node, message, remedy=f"Needed: at most {self.most}.")
            return None
        values: dict[str, Any] = {}
        for entry in node.entries:
            _check_name(entry.key, node.path, desk)
            values[entry.key.text] = self.item.read(entry.value, desk)
        return values

    def schema(self) -> JsonSchema:
        """Names with values of one shape."""
        return {
            "type": "object",
            "maxProperties": self.most,
            "propertyNames": {"maxLength": LONGEST_NAME, "not": {"enum": list(_RESERVED)}},
            "additionalProperties": self.item.schema(),
        }


def _check_name(key: TextNode, path: str, desk: Desk) -> None:
    name = key.text
    fits = re.fullmatch(NAME_PATTERN, name) and name == name.lower()
    if fits and len(name) <= LONGEST_NAME and not set(_RESERVED) & set(name.split()):
        return
    spelt = " ".join(re.sub(r"[\W_]+", " ", name.lower()).split())
    such_as = f", such as {quote(spelt)}" if re.fullmatch(NAME_PATTERN, spelt) else ""
    message = f"{quote(name)} cannot be used as a name"
    needed = f"Needed: lower-case words of letters and digits with single spaces{such_as}."
    if "-" in name:
        message += ": in arithmetic its hyphen is a minus sign"
    elif set(_RESERVED) & set(name.split()):
        message += f": {join_words(_RESERVED, 'and')} have a meaning of their own"
        needed = "Needed: another name."
    elif len(name) > LONGEST_NAME:
        message += f": it has {len(name)} characters"
        needed = f"Needed: at most {LONGEST_NAME} characters."
    desk.report("R015", Spot(key.place, path), message, remedy=needed)


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a record."""

    name: str
    shape: Shape
    help: str
    """One sentence for the plan author."""
    required: bool = False
    default: str = ""
    """What applies where the key is left out, in words."""


@dataclass(frozen=True, slots=True)
class Record(Shape):
    """Fixed keys, each with a shape of its own."""

    keys: tuple[Key, ...]
    what: str
    """What the record is, for findings: `a part`."""
    one_of: tuple[str, ...] = ()
    """Keys of which exactly one must be there."""

    @property
    def needed(self) -> str:  # type: ignore[override]
        """The keys."""
        names = [key.name for key in self.keys if key.required] or [self.keys[0].name]
        return f"{self.what}, with {join_words(names, 'and')}"

    def read(self, node: Node, desk: Desk) -> dict[str, Any] | None:
        """Read every key in the table's order; a key that is not there is left out."""
        if not isinstance(node, MapNode):
            _report_form(node, desk, self.needed)
            return None
        self._refuse_unknown(node, desk)
        values: dict[str, Any] = {}
        for key in self.keys:
            entry = node.get(key.name)
            if entry is not None:
                values[key.name] = key.shape.read(entry.value, desk)
            elif key.required:
                message = f"{quote(key.name)} is missing"
                needed = f"Needed: {quote(key.name)}: {key.shape.needed}."
                desk.report("R010", node, message, remedy=needed)
        self._check_one_of(node, desk)
        return values

    def _check_one_of(self, node: MapNode, desk: Desk) -> None:
        given = [name for name in self.one_of if node.get(name)]
        if len(given) > 1:
            message = f"{join_words(given, 'and')} exclude each other"
            desk.report("R026", node, message, remedy="Keep one of them.")
        elif self.one_of and not given:
            message = f"{join_words(self.one_of)} is missing"
            shape = next(key.shape for key in self.keys if key.name == self.one_of[0])
            needed = f"Needed: {quote(self.one_of[0])}: {shape.needed}."
            desk.report("R010", node, message, remedy=needed)

    def _refuse_unknown(self, node: MapNode, desk: Desk) -> None:
        names = [key.name for key in self.keys]
        for entry in node.entries:
            if desk.is_full:
                return
            if entry.key.text not in names:
                self._report_unknown(entry, Spot(entry.key.place, node.path), desk)

    def _report_unknown(self, entry: Entry, spot: Spot, desk: Desk) -> None:
        name = entry.key.text
        remedy = needed_word("one of its keys", name, [key.name for key in self.keys])
        is_glued = isinstance(entry.value, TextNode) and not entry.value.text and ":" in name
        if is_glued:
            remedy = f"Put a space after the colon: `{show(name.partition(':')[0])}: ...`."
        desk.report("R011", spot, f"{quote(name)} is no key of {self.what}", remedy=remedy)

    def schema(self) -> JsonSchema:
        """Keys and nothing else."""
        described = {key.name: _describe(key) for key in self.keys}
        required = [key.name for key in self.keys if key.required]
        schema: JsonSchema = {
            "type": "object",
            "properties": described,
            "additionalProperties": False,
        }
        if required:
            schema["required"] = required
        if self.one_of:
            schema["oneOf"] = [{"required": [name]} for name in self.one_of]
        return schema


def _describe(key: Key) -> JsonSchema:
    usual = f" Left out: {key.default}." if key.default else ""
    return {**key.shape.schema(), "description": key.help + usual}


@dataclass(frozen=True, slots=True)
class Variants(Shape):
    """Records that are told apart by one key, such as `sheet`, `board` or `rod`.

    Gives the telling key's name under `KIND_KEY` of the record read.
    """

    records: dict[str, Record]
    """Telling key to the record that it stands for."""
    what: str
    """What the telling keys tell, for findings: `kind of joint`."""

    @property
    def needed(self) -> str:  # type: ignore[override]
        """The telling keys."""
        return f"{self.what}: one of {join_words(self.records)}"

    def read(self, node: Node, desk: Desk) -> dict[str, Any] | None:
        """Read the record that the telling key stands for."""
        if not isinstance(node, MapNode):
            _report_form(node, desk, self.needed)
            return None
        told = [entry.key.text for entry in node.entries if entry.key.text in self.records]
        if len(told) == 1:
            values = self.records[told[0]].read(node, desk)
            return None if values is None else {**values, KIND_KEY: told[0]}
        if told:
            message = f"{join_words(told, 'and')} exclude each other"
            desk.report("R026", node, message, remedy="Keep one of them.")
        else:
            self._report_untold(node, desk)
        return None

    def _report_untold(self, node: MapNode, desk: Desk) -> None:
        known = {key.name for record in self.records.values() for key in record.keys}
        strange = [entry for entry in node.entries if entry.key.text not in known]
        if strange:
            key = strange[0].key
            message = f"{quote(key.text)} is no {self.what}"
            remedy = needed_word("one of these", key.text, self.records)
            desk.report("R026", Spot(key.place, node.path), message, remedy=remedy)
            return
        message = f"no {self.what} is given"
        remedy = f"Needed: one of {join_words(self.records)}."
        desk.report("R026", node, message, remedy=remedy)

    def schema(self) -> JsonSchema:
        """Any one of the records."""
        return {"anyOf": [record.schema() for record in self.records.values()]}


KIND_KEY: Final = "\N{BULLET} kind"
"""Where `Variants` leaves the telling key; no author's key can be this, since names are checked."""
