"""The keys of a plan: one table, from which come the reading, the JSON Schema and the docs page.

Takes the words of the joint kinds, gives the shape of a whole plan. The one place that knows what a
plan holds; a new key is a row here and a line in `building`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any, Final

from benchleaf.frames import Axis
from benchleaf.reading.angles import ANGLE_KEYS
from benchleaf.reading.containers import LONGEST_NAME, Key, ListOf, Named, Record, Variants
from benchleaf.reading.covers import Covers
from benchleaf.reading.grammar import EXTENTS, MIRRORS
from benchleaf.reading.hauls import HaulShape
from benchleaf.reading.loads import LoadShape
from benchleaf.reading.places import EdgePlace, FacePlace, PairShape
from benchleaf.reading.plan import Grain, Stands, Units
from benchleaf.reading.shapes import (
    Arithmetic,
    FastenerShape,
    JsonSchema,
    PlainLength,
    PlainPair,
    Prose,
    RoundShape,
    Shape,
    Whole,
    Words,
    YesNo,
)
from benchleaf.reading.stocking import LENGTH_RACK, MOST_SIZES, PRICE, SHEET_RACK
from benchleaf.reading.vocabulary import (
    JointWords,
    Option,
    OptionType,
    PlaceType,
    ShapingWords,
)

# Bounds keep a stranger's plan from filling memory. chosen: several times what one person's piece
# of furniture holds.
MOST_PARTS: Final = 200
MOST_COPIES: Final = 1_000
MOST_JOINTS: Final = 400
_MOST_SIZES: Final = 200
_MOST_STOCK: Final = 50
_MOST_STEPS: Final = 200
_MOST_ROW: Final = 200
_MOST_LAYERS: Final = 40
_MOST_SHAPINGS: Final = 40
_MOST_GROUPS: Final = 40
MOST_SHAPINGS_IN_ALL: Final = 400
MOST_TOGETHER: Final = 30
_LINE: Final = Prose(120, is_line=True)
_PARAGRAPHS: Final = Prose(4_000)
_NAME: Final = Prose(LONGEST_NAME, "a name", is_line=True)
_LENGTH: Final = Arithmetic()

_FORM: Final = (
    Key("of", _LINE, "What it is made of.", default="the name of the stock"),
    Key(
        "trim",
        PlainLength(may_be_zero=True),
        "What no part may have of each edge of a sheet, or end of a board or rod. It comes off "
        "where one measures from, and on the far side where a blank would reach into it.",
        default="0",
    ),
)
_SOLD: Final = Key(
    "lengths",
    ListOf(PlainLength(), most=20, what="lengths", lone=True, least=1),
    "Length, or lengths, that it is sold in; `length` will do too.",
)
_SOLD_ALSO: Final = Key("length", _SOLD.shape, "Another word for `lengths`.")

_STOCK: Final = Variants(
    {
        "sheet": Record(
            (
                Key("sheet", ListOf(PlainPair(), most=MOST_SIZES, what="sizes", lone=True, least=1),
                    "Both sides of a sheet, in either order; a list where several sizes are sold.",
                    required=True),
                Key("thickness", PlainLength(), "Thickness, as measured.", required=True),
                Key(
                    "grain",
                    Words({grain.value: grain for grain in Grain}),
                    "The side that the grain runs along, or `none` where it does not matter.",
                    default="long",
                ),
                *_FORM, PRICE, SHEET_RACK,
            ),
            "a sheet",
        ),
        "board": Record(
            (
                Key("board", PlainPair("thickness x width, such as 3/4 x 5-1/2"),
                    "Thickness and width of a board, as measured.", required=True),
                _SOLD, _SOLD_ALSO, *_FORM, PRICE, LENGTH_RACK,
            ),
            "a board",
            one_of=("lengths", "length"),
        ),
        "rod": Record(
            (
                Key("rod", PlainLength(), "Diameter of a rod.", required=True),
                _SOLD, _SOLD_ALSO, *_FORM, PRICE, LENGTH_RACK,
            ),
            "a rod",
            one_of=("lengths", "length"),
        ),
    },
    "kind of stock",
)  # fmt: skip


def _axis_keys(axis: Axis) -> tuple[Key, ...]:
    low, high, extent = axis.low_face, axis.high_face, axis.extent
    return (
        Key(low, _LENGTH, f"Where its {low} face lies."),
        Key(high, _LENGTH, f"Where its {high} face lies."),
        Key(extent, _LENGTH, f"How {extent} it is."),
        Key(f"centre {extent}", _LENGTH, f"Where the middle between {low} and {high} lies."),
    )


def _row_record(way: str, text: str) -> Record:
    return Record(
        (
            Key("along", Words(dict(EXTENTS)), "Axis along which the copies stand.", required=True),
            Key("count", Whole(2, _MOST_ROW), "Copies in all.", required=True),
            Key(way, _LENGTH, text, required=True),
        ),
        "a row",
    )


_ROW: Final = Variants(
    {
        "step": _row_record("step", "From one copy to the next, like face to like face."),
        "gap": _row_record("gap", "Clear space between neighbours."),
        "to": _row_record("to", "Where the far face of the last copy lies."),
    },
    "way of spacing",
)

_PART: Final = Record(
    (
        Key("stock", _NAME, "Name of the stock that it is made from.", required=True),
        Key("layers", Whole(1, _MOST_LAYERS), "Layers glued up to make its thickness.",
            default="as many as the thickness takes"),
        Key("edge glued", YesNo(), "Whether boards are glued edge to edge to make its width.",
            default="no"),
        Key("thickness", Words(dict(EXTENTS)), "Extent that the stock's thickness lies along.",
            default="the extent left to the stock, or else the one that the layers come to"),
        Key("grain", Words(dict(EXTENTS)), "Extent that the grain runs along.",
            default="the longest that is not the thickness"),
        *(key for axis in Axis for key in _axis_keys(axis)),
        Key(
            "mirror",
            ListOf(Words(dict(MIRRORS)), most=3, what="mirrors", lone=True, unique=True),
            "Centre planes of the piece across which it is copied.",
            default="no copies",
        ),
        Key("row", _ROW, "Copies of it in a row.", default="no row"),
        *ANGLE_KEYS,
        Key("allowance", _LENGTH, "Rough minus final, on length and on width.",
            default="the shop's where layers or edges are glued, else 0"),
        Key("load", LoadShape(), "What each copy carries: a usual load, or a mass spread over it.",
            default="proposed for seats and shelves, else none"),
        Key("note", _PARAGRAPHS, "Anything the builder should know."),
    ),
    "a part",
)  # fmt: skip

_TOGETHER: Final = ListOf(
    ListOf(_NAME, most=MOST_TOGETHER, what="parts", unique=True, least=1),
    most=20,
    what="lists of parts",
)

_FINISH: Final = Record(
    (
        Key("of", _LINE, "What is put on.", required=True),
        Key("coats", Whole(1, 20), "Coats in all.", required=True),
        Key(
            "sand",
            # Coated abrasives run from P12 to P2500: ISO 6344, from memory.
            ListOf(Whole(12, 2500), most=10, what="grits", lone=True, unique=True),
            "Abrasive grits before the first coat, coarse to fine.",
            default="none",
        ),
    ),
    "a finish",
)

_SHOP: Final = Record(
    (
        Key("kerf", PlainLength(), "Width of the saw's cut.", default="1/8 in, or 3 mm"),
        Key("allowance", PlainLength(may_be_zero=True), "Rough minus final of what is glued up.",
            default="1/4 in, or 6 mm"),
        Key("wall", PlainLength(), "Least wood to leave beyond a blind mortise or hole.",
            default="1/4 in, or 6 mm"),
        Key("glue", _LINE, "The glue used.", default="PVA"),
        Key("haul", HaulShape(), "Largest piece of a sheet that fits the car, heaviest that one "
            "person lifts; the cuts that the store makes for it are listed apart.",
            default="whole sheets"),
        Key("people", Whole(1, 9), "How many work at the piece, for its schedule.", default="1"),
        Key("hours", Whole(1, 24), "Hours of work in a day, for its schedule.", default="6"),
        Key("clamps", Whole(1, 999), "How many clamps there are.",
            default="as many as the largest glue-up asks for"),
    ),
    "the shop",
)  # fmt: skip

_ROOM: Final = Record(
    (
        Key("driest", Whole(0, 95), "Relative humidity in the driest season, percent.",
            required=True),
        Key("dampest", Whole(0, 95), "Relative humidity in the dampest season, percent.",
            required=True),
        Key("built at", Whole(3, 25), "Moisture of the wood itself when the piece is built, "
            "percent, as a meter shows it.", default="anything that the two seasons bring"),
    ),
    "the room",
)  # fmt: skip

_STEP: Final = Record(
    (
        Key("title", _LINE, "What is done.", required=True),
        Key("text", _PARAGRAPHS, "How, in the author's words."),
        Key(
            "covers",
            ListOf(Covers(), most=50, what="operations", lone=True, unique=True),
            "Operations done in this step, such as `glue-up: leg`.",
        ),
    ),
    "a step",
)

_OPTION_SHAPES: Final[dict[OptionType, Shape]] = {
    OptionType.LENGTH: _LENGTH,
    OptionType.LENGTH_LIST: ListOf(_LENGTH, most=50, what="lengths", lone=True, least=1),
    OptionType.COUNT: Whole(1, 200),
    OptionType.YES_NO: YesNo(),
    OptionType.FASTENER: FastenerShape(),
    OptionType.ROUND: RoundShape(),
    OptionType.PAIR: PairShape(),
    OptionType.PAIR_LIST: ListOf(PairShape(), most=40, what="pairs", lone=True, least=1),
    OptionType.TEXT: _LINE,
}


def option_shape(option: Option) -> Shape:
    """The shape of a joint's option."""
    words = Words({word: word for word in option.choices})
    if option.type is OptionType.CHOICE:
        return words
    if option.type is OptionType.CHOICE_LIST:
        return ListOf(words, most=20, what="words", lone=True, unique=True, least=1)
    return _OPTION_SHAPES[option.type]


def _joint_record(words: JointWords) -> Record:
    pair = ListOf(_NAME, most=2, what=f"two parts: {words.first}, {words.second}", least=2)
    options = tuple(Key(o.name, option_shape(o), o.help) for o in words.options)
    note = Key("note", _PARAGRAPHS, "Anything the builder should know.")
    return Record((Key(words.code, pair, words.help, required=True), *options, note), "this joint")


_PLACES: Final[dict[PlaceType, Shape]] = {
    PlaceType.FACE: FacePlace(),
    PlaceType.FACES: ListOf(FacePlace(), most=6, what="faces", lone=True, unique=True, least=1),
    PlaceType.EDGES: ListOf(EdgePlace(), most=12, what="edges", lone=True, unique=True, least=1),
}


def _shaping_record(words: ShapingWords) -> Record:
    places = Key(words.code, _PLACES[words.takes], words.help, required=True)
    options = tuple(Key(o.name, option_shape(o), o.help) for o in words.options)
    note = Key("note", _PARAGRAPHS, "Anything the builder should know.")
    return Record((places, *options, note), "this shaping")


def _part_record(shaping: Mapping[str, ShapingWords]) -> Record:
    """A part; what it can be shaped by is a key of its own where kinds of shaping are known."""
    if not shaping:
        return _PART
    kinds = Variants(
        {code: _shaping_record(kind) for code, kind in shaping.items()}, "kind of shaping"
    )
    shape = Key(
        "shape",
        ListOf(kinds, most=_MOST_SHAPINGS, what="kinds of shaping", lone=True),
        "How it is shaped: tapers, chamfers, curves, holes and the like.",
        default="square all over",
    )
    return replace(_PART, keys=(*_PART.keys, shape))


def _group_record(part: Record) -> Record:
    """A group: placed and copied like a part, with parts of its own and no stock."""
    placed = {own.name for axis in Axis for own in _axis_keys(axis)} | {"mirror", "row"}
    return Record(
        (
            *(key for key in part.keys if key.name in placed),
            Key("note", _PARAGRAPHS, "Anything the builder should know."),
            Key("parts", Named(part, MOST_PARTS, "parts"), "Its parts, placed in the group's own "
                "axes: from 0, 0, 0 to how wide, deep and high it is.", required=True),
        ),
        "a group",
    )  # fmt: skip


def plan_record(
    words: Mapping[str, JointWords], shaping: Mapping[str, ShapingWords] = MappingProxyType({})
) -> Record:
    """The shape of a whole plan.

    Args:
        words: The words of each kind of joint, by the key that names the kind.
        shaping: The words of each kind of shaping, by the key that names the kind.
    """
    joints = Variants({code: _joint_record(kind) for code, kind in words.items()}, "kind of joint")
    overall = Record(
        tuple(
            Key(axis.extent, _LENGTH, f"How {axis.extent} the whole piece is.", required=True)
            for axis in Axis
        ),
        "the whole piece",
    )
    body = _body(overall, joints, part=_part_record(shaping))
    return Record((*_HEAD, *body, *_TAIL), "a plan")


_HEAD: Final = (
    Key("units", Words({unit.value: unit for unit in Units}), "Unit of bare numbers and of the "
        "pages.", required=True),
    Key("plan", _LINE, "Title of the piece.", required=True),
    Key("by", _LINE, "Author.", required=True),
    Key("licence", _LINE, "Licence of the plan, such as CC BY 4.0.", required=True),
    Key("revision", Prose(20, is_line=True), "What the author calls this revision, such as A."),
    Key("summary", _PARAGRAPHS, "One or two sentences."),
)  # fmt: skip
_TAIL: Final = (
    Key("finish", _FINISH, "How the piece is finished.", default="unfinished"),
    Key("steps", ListOf(_STEP, most=_MOST_STEPS, what="steps"), "The author's words on steps.",
        default="the steps are planned"),
    Key("notes", ListOf(_PARAGRAPHS, most=50, what="notes", lone=True), "Notes on the piece."),
)  # fmt: skip


def _body(overall: Record, joints: Variants, *, part: Record) -> tuple[Key, ...]:
    return (
        Key("overall", overall, "The box that the piece stands in.", required=True),
        Key("sizes", Named(_LENGTH, _MOST_SIZES, "sizes"), "Named sizes, to use in arithmetic."),
        Key("stock", Named(_STOCK, _MOST_STOCK, "lines of stock"), "What is bought.",
            required=True),
        Key("shop", _SHOP, "What the plan assumes of the shop.", default="usual values"),
        Key("room", _ROOM, "The air that the piece lives in.", default="30 and 55 %"),
        Key("stands", Words({how.value: how for how in Stands}), "Whether it stands on the floor "
            "by itself, is anchored to the wall behind it, or is hung on it.",
            default="hung where the text says so, else floor"),
        Key("parts", Named(part, MOST_PARTS, "parts"), "The parts, in building order or any "
            "other.", required=True),
        Key("groups", Named(_group_record(part), _MOST_GROUPS, "groups"), "Parts that are placed "
            "and copied as one: a drawer, a door, a frame.", default="no groups"),
        Key("joints", ListOf(joints, most=MOST_JOINTS, what="joints"), "Where parts join."),
        Key("grain matched", _TOGETHER, "Runs of parts that keep their figure: each is cut from "
            "one strip, in the order named.", default="none"),
        Key("from one piece", _TOGETHER, "Parts that must come from one sheet, board or rod.",
            default="none"),
    )  # fmt: skip


def schema(
    words: Mapping[str, JointWords], shaping: Mapping[str, ShapingWords] = MappingProxyType({})
) -> JsonSchema:
    """Describe the plan file in JSON Schema, draft-07, for editors.

    Args:
        words: The words of each kind of joint, by the key that names the kind.
        shaping: The words of each kind of shaping, by the key that names the kind.
    """
    head: dict[str, Any] = {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": "Benchleaf plan",
    }
    return {**head, **plan_record(words, shaping).schema()}
