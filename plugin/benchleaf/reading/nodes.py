"""YAML text to a tree of text, lists and keyed values, each with its path and place.

Takes the text of a plan, gives nodes and findings. Nothing is typed here: YAML's own guesses turn
`1:6` into 66 and `no` into False, so every scalar stays the text that the author wrote. The tree is
built from parse events, without recursion, because depth and number must be bounded on the way in:
plans come from strangers. Must not know what a plan holds.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Final, Protocol

import yaml

from benchleaf.findings import Place
from benchleaf.reading.desk import Desk, Spot
from benchleaf.reading.showing import quote, show
from benchleaf.reading.syntax import describe_syntax_error

# chosen: a plan of two hundred parts with notes takes some 60 kB; four times that is no plan.
MAX_CHARACTERS: Final = 262_144
# chosen: the plan's own format nests five deep (`parts.leg.row.count` and its value).
MAX_DEPTH: Final = 12
# chosen: two hundred parts of fifteen keys come to six thousand nodes.
MAX_NODES: Final = 20_000
# YAML 1.1, section 5.1 (c-printable): everything else is refused by its parsers.
_NOT_PRINTABLE: Final = re.compile(
    "[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TextNode:
    """A scalar, as text."""

    path: str
    place: Place
    text: str
    is_quoted: bool
    """Whether it stood in quotes or in a block: then an empty text is meant."""
    comment: str
    """The comment that follows on the same line, from its `#`, or empty."""
    first_column: int | None
    """Column of the first character of `text`, where columns run along with the text."""

    def place_at(self, offset: int) -> Place:
        """The place of one character of the text, where it can be known."""
        if self.first_column is None:
            return self.place
        return Place(file=self.place.file, line=self.place.line, column=self.first_column + offset)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A key and its value."""

    key: TextNode
    value: Node


@dataclass(frozen=True, slots=True, kw_only=True)
class MapNode:
    """Keys with values, in the order written, each key once."""

    path: str
    place: Place
    entries: tuple[Entry, ...]

    def get(self, key: str) -> Entry | None:
        """The entry of a key, if there is one."""
        return next((entry for entry in self.entries if entry.key.text == key), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class ListNode:
    """A list."""

    path: str
    place: Place
    items: tuple[Node, ...]


Node = TextNode | MapNode | ListNode


@dataclass(slots=True)
class _Open:
    """A list or map that is not closed yet; lives while the events inside it are read."""

    path: str
    place: Place
    is_map: bool
    items: list[Node] = field(default_factory=list)
    entries: dict[str, Entry] = field(default_factory=dict)
    key: TextNode | None = None
    awaits_value: bool = False
    """True after a key, even one that was refused."""

    def child_path(self) -> str:
        """The path of what comes next."""
        if not self.is_map:
            return f"{self.path}[{len(self.items)}]"
        if self.key is None:
            return self.path
        name = show(self.key.text)
        return f"{self.path}.{name}" if self.path else name

    def close(self) -> Node:
        """Make the finished node."""
        if self.is_map:
            return MapNode(path=self.path, place=self.place, entries=tuple(self.entries.values()))
        return ListNode(path=self.path, place=self.place, items=tuple(self.items))


class _Mark(Protocol):
    """A place as the YAML parsers give it, lines and columns from 0."""

    line: int
    column: int


def _mark(mark: _Mark | None) -> _Mark:
    if mark is None:
        raise ValueError("events that come from text always have a mark")
    return mark


class _Stop(Exception):  # noqa: N818 - no error: the reading ends early, with a finding made
    """Ends the reading of events."""


class _Composer:
    """Builds the tree of one text; lives for one call of `compose_nodes`."""

    def __init__(self, text: str, desk: Desk) -> None:
        self.desk = desk
        self.lines = text.splitlines()
        self.stack: list[_Open] = []
        self.root: Node | None = None
        self.count = 0

    def take(self, event: yaml.Event) -> None:
        """Take the next event in."""
        place = self._place(_mark(event.start_mark))
        if isinstance(event, yaml.DocumentStartEvent) and self.root is not None:
            message = f"a second {self.desk.kind.noun} begins here"
            self._stop("R006", place, message, remedy="Remove the line `---`.")
        if isinstance(event, yaml.NodeEvent):
            self._check_bounds(place)
            self._refuse_extras(event, place)
        if isinstance(event, yaml.ScalarEvent):
            self._take_scalar(event, place)
        elif isinstance(event, yaml.CollectionStartEvent):
            is_map = isinstance(event, yaml.MappingStartEvent)
            path = self.stack[-1].child_path() if self.stack else ""
            self.stack.append(_Open(path=path, place=place, is_map=is_map))
        elif isinstance(event, yaml.CollectionEndEvent):
            self._attach(self.stack.pop().close())

    def _take_scalar(self, event: yaml.ScalarEvent, place: Place) -> None:
        is_block = event.style in {"|", ">"}
        start, end = _mark(event.start_mark), _mark(event.end_mark)
        raw_length = end.column - start.column
        quotes = 2 if event.style in {"'", '"'} else 0
        runs_along = (
            start.line == end.line and not is_block and raw_length == len(event.value) + quotes
        )
        self._attach(
            TextNode(
                path=self.stack[-1].child_path() if self.stack else "",
                place=place,
                text=event.value,
                is_quoted=bool(event.style),
                comment="" if is_block else self._comment_after(end),
                first_column=place.column + quotes // 2 if runs_along else None,
            )
        )

    def _attach(self, node: Node) -> None:
        if not self.stack:
            self.root = node
            return
        parent = self.stack[-1]
        if not parent.is_map:
            parent.items.append(node)
            self.desk.places[node.path] = node.place
        elif parent.awaits_value:
            self._attach_value(parent, node)
        else:
            self._attach_key(parent, node)

    def _attach_key(self, parent: _Open, node: Node) -> None:
        parent.awaits_value = True
        parent.key = None
        if not isinstance(node, TextNode):
            needed = "Needed: one word or a few as the key. Quote a value that starts with `{`."
            self.desk.report(
                "R009", Spot(node.place, parent.path), "a key is not plain text", remedy=needed
            )
        elif node.text in parent.entries:
            line = parent.entries[node.text].key.place.line
            message = f"{quote(node.text)} stands here again; it is already on line {line}"
            self.desk.report(
                "R008", Spot(node.place, parent.path), message, remedy="Remove one of the two."
            )
        else:
            parent.key = node

    def _attach_value(self, parent: _Open, node: Node) -> None:
        parent.awaits_value = False
        if parent.key is not None:
            parent.entries[parent.key.text] = Entry(key=parent.key, value=node)
            # What is said of a part as a whole is said of its name, not of the line below it.
            is_below = node.place.line > parent.key.place.line
            self.desk.places[node.path] = parent.key.place if is_below else node.place
            self.desk.places[f"{node.path}#key"] = parent.key.place
        parent.key = None

    def _check_bounds(self, place: Place) -> None:
        self.count += 1
        if self.count > MAX_NODES:
            message = f"{self.desk.kind.whole} has more than {MAX_NODES} keys and values"
            self._stop("R003", place, message, remedy=self.desk.kind.too_much)
        if len(self.stack) >= MAX_DEPTH:
            message = f"lists and keys are nested more than {MAX_DEPTH} deep"
            self._stop("R003", place, message, remedy="Remove brackets that are not needed.")

    def _refuse_extras(self, event: yaml.NodeEvent, place: Place) -> None:
        if isinstance(event, yaml.AliasEvent):
            message = f"{quote(f'*{event.anchor}')} repeats a value by a YAML alias"
            self._stop(
                "R007", place, message, remedy="Write the value out, or quote it if it is text."
            )
        if event.anchor is not None:
            message = f"{quote('&' + event.anchor)} names a value by a YAML anchor"
            self._stop(
                "R007", place, message, remedy="Remove it, or quote the value if it is text."
            )
        tag = getattr(event, "tag", None)
        if tag is not None:
            message = "a YAML tag (a word that starts with `!`) stands before the value"
            self._stop(
                "R007", place, message, remedy="Remove it, or quote the value if it is text."
            )

    def _comment_after(self, mark: _Mark) -> str:
        line = self.lines[mark.line] if mark.line < len(self.lines) else ""
        rest = line[mark.column :].strip()
        return rest if rest.startswith("#") else ""

    def _place(self, mark: _Mark) -> Place:
        return Place(file=self.desk.file, line=mark.line + 1, column=mark.column + 1)

    def _stop(self, code: str, place: Place, message: str, *, remedy: str) -> None:
        path = self.stack[-1].child_path() if self.stack else ""
        self.desk.report(code, Spot(place, path), message, remedy=remedy)
        raise _Stop


def compose_nodes(text: str, desk: Desk) -> Node | None:
    """Read YAML text as a tree of nodes; report what keeps it from being one.

    Args:
        text: The whole text of a plan file.
        desk: Takes the findings and the place of every path.

    Returns:
        The root, or None if the text is empty, too large, or no YAML.
    """
    if len(text) > MAX_CHARACTERS:
        message = f"{desk.kind.whole} has {len(text)} characters"
        needed = f"Needed: at most {MAX_CHARACTERS}. {desk.kind.too_much}"
        desk.report("R003", desk.top, message, remedy=needed)
        return None
    # One spelling for letters with marks: `é` typed as one sign or as two is the same name.
    text = unicodedata.normalize("NFC", text.removeprefix("\ufeff"))
    control = _NOT_PRINTABLE.search(text)
    if control:
        before = text[: control.start()]
        line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
        place = Place(file=desk.file, line=line, column=column)
        remedy = "Remove it, or type the line anew."
        desk.report(
            "R005", Spot(place, ""), "a control character stands in the text", remedy=remedy
        )
        return None
    return _compose(text, desk)


def _compose(text: str, desk: Desk) -> Node | None:
    composer = _Composer(text, desk)
    try:
        for event in _parse_events(text):
            composer.take(event)
    except _Stop:
        return None
    except yaml.YAMLError as error:
        found = describe_syntax_error(error, text, desk.file)
        desk.add(replace(found, subject=desk.kind.whole))
        return None
    if composer.root is None:
        needed = f"Needed: {desk.kind.keys}."
        desk.report("R006", desk.top, "the file is empty", remedy=needed)
    return composer.root


def _parse_events(text: str) -> Iterator[yaml.Event]:
    # The C parser is ten times faster; where PyYAML was built without it, the other one serves.
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    return yaml.parse(text, Loader=loader)
