"""The tables of docs/plan-format.md, written from the table that the reader reads by.

Run this file to write them into the page; a test holds that they are there as written.
"""

from __future__ import annotations

import re
from pathlib import Path

from benchleaf.joinery import JOINT_WORDS
from benchleaf.piece.codes import CODES as PIECE_CODES
from benchleaf.reading import CODES as READING_CODES
from benchleaf.reading.angles import ANGLE_KEYS
from benchleaf.reading.containers import ListOf, Named, Record, Variants
from benchleaf.reading.shapes import Arithmetic, PlainLength, Prose, Words
from benchleaf.reading.table import option_shape, plan_record
from benchleaf.reading.vocabulary import PlaceType
from benchleaf.sequencing import OPERATION_KINDS
from benchleaf.shaping import SHAPING_WORDS

PAGE = Path(__file__).parents[1] / "docs" / "plan-format.md"
_MARK = re.compile(r"<!-- (?P<what>.+?) -->\n(?P<body>.*?)<!-- end -->\n", re.DOTALL)


def written():
    """The page's text with every table written anew."""
    return _MARK.sub(_write, PAGE.read_text("utf-8"))


def _write(mark):
    what = mark["what"]
    if what == "joints":
        body = "\n".join(map(_joint, JOINT_WORDS.values()))
    elif what == "shaping":
        body = "\n".join(map(_shaping, SHAPING_WORDS.values()))
    elif what == "codes":
        body = _codes({**READING_CODES, **PIECE_CODES})
    elif what == "operations":
        body = _operations()
    else:
        body = _keys(_records()[what.removeprefix("table: ")])
    # Blank lines keep Markdown from taking the table for part of the comment.
    return f"<!-- {what} -->\n\n{body}\n<!-- end -->\n"


def _records():
    plan = plan_record(JOINT_WORDS, SHAPING_WORDS)
    shapes = {key.name: key.shape for key in plan.keys}
    part = shapes["parts"].item
    row = next(key.shape for key in part.keys if key.name == "row")
    ways = [record.keys[-1] for record in row.records.values()]
    shared = row.records["step"].keys[:-1]
    return {
        "plan": plan,
        "overall": shapes["overall"],
        **shapes["stock"].item.records,
        "shop": shapes["shop"],
        "room": shapes["room"],
        "part": part,
        "row": Record((*shared, *ways), "a row", one_of=("step", "gap", "to")),
        **{key.name: getattr(key.shape, "item", key.shape) for key in ANGLE_KEYS},
        "group": shapes["groups"].item,
        "finish": shapes["finish"],
        "step": shapes["steps"].item,
    }


def _keys(record):
    lines = ["| key | value | what it says | left out |", "|---|---|---|---|"]
    for key in record.keys:
        left_out = key.default or "-"
        if key.required and key.name not in record.one_of:
            left_out = "**needed**"
        elif key.name in record.one_of:
            left_out = "one is needed"
        lines.append(f"| `{key.name}` | {_value(key.shape, key.name)} | {key.help} | {left_out} |")
    return "\n".join(lines) + "\n"


_ANCHORS = {
    "row": "copies",
    "steps": "steps-and-notes",
    "shape": "shaping",
    **dict.fromkeys(("turn", "splay", "trim"), "angles"),
}
_SHORT = {PlainLength: "length", Arithmetic: "length or arithmetic"}


def _value(shape, key=""):
    if isinstance(shape, Prose):
        return "text" if shape.needed == "a few words" else shape.needed
    if isinstance(shape, ListOf) and isinstance(shape.item, Words):
        return f"any of {shape.item.needed}"
    if isinstance(shape, ListOf) and not isinstance(shape.item, Variants | Record):
        return f"one or more: {_value(shape.item)}"
    if isinstance(shape, Record | Variants | Named | ListOf):
        return f"[see below](#{_ANCHORS.get(key, key)})"
    return _SHORT.get(type(shape), shape.needed)


def _joint(words):
    head = f"### {words.code[0].upper()}{words.code[1:]}\n\n{words.help} "
    head += f"`{words.code}: [{words.first}, {words.second}]`\n"
    if not words.options:
        return f"{head}\nIt has no keys of its own.\n"
    lines = ["", "| key | value | what it sets |", "|---|---|---|"]
    lines += [
        f"| `{option.name}` | {_value(option_shape(option))} | {option.help} |"
        for option in words.options
    ]
    return head + "\n".join(lines) + "\n"


_TAKES = {PlaceType.FACE: "face", PlaceType.FACES: "[faces]", PlaceType.EDGES: "[edges]"}


def _shaping(words):
    head = f"#### {words.code[0].upper()}{words.code[1:]}\n\n{words.help} "
    head += f"`{words.code}: {_TAKES[words.takes]}`: {words.place}.\n"
    lines = ["", "| key | value | what it sets |", "|---|---|---|"]
    lines += [
        f"| `{option.name}` | {_value(option_shape(option))} | {option.help} |"
        for option in words.options
    ]
    return head + "\n".join(lines) + "\n"


def _codes(codes):
    lines = ["| code | what it means |", "|---|---|"]
    lines += [f"| {code} | {meaning} |" for code, meaning in codes.items()]
    return "\n".join(lines) + "\n"


def _operations():
    lines = ["| operation | with | in the phase |", "|---|---|---|"]
    lines += [
        f"| `{code}` | {kind.tool} | {kind.phase} |" for code, kind in OPERATION_KINDS.items()
    ]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    PAGE.write_text(written(), "utf-8")
