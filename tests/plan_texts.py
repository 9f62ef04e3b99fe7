"""Plan texts for trial, and a small table of joint words that stands for the joint families'."""

from __future__ import annotations

from benchleaf.reading import read_plan
from benchleaf.reading.vocabulary import JointWords, Option, OptionType, PlaceType, ShapingWords

FILE = "plans/boot-bench.plan.yml"


def _option(name, kind, choices=()):
    return Option(name=name, type=kind, help=f"Sets the {name}.", choices=choices)


def _words(code, first, second, *options):
    return JointWords(
        code=code, first=first, second=second, options=options, help=f"What {code} is."
    )


WORDS = {
    words.code: words
    for words in (
        _words(
            "dowels",
            "one part",
            "the other part",
            _option("size", OptionType.ROUND),
            _option("count", OptionType.COUNT),
            _option("offsets", OptionType.LENGTH_LIST),
        ),
        _words(
            "mortise and tenon",
            "the part with the tenon",
            "the part with the mortise",
            _option("through", OptionType.YES_NO),
            _option("shoulder", OptionType.LENGTH),
            _option("haunch", OptionType.CHOICE, ("none", "square", "sloping")),
            _option("edges", OptionType.CHOICE_LIST, ("front", "back")),
        ),
        _words(
            "butt",
            "the part with the clearance hole",
            "the part with the pilot hole",
            _option("screws", OptionType.FASTENER),
            _option("with", OptionType.TEXT),
        ),
        _words("rests on", "the upper part", "the lower part"),
    )
}

BENCH = """\
plan: Boot bench
by: Fernhill community workshop
licence: CC BY 4.0
revision: A
units: in
summary: A bench for the porch of the workshop.
overall: {wide: length, deep: depth, high: seat}
sizes:
  length: 44
  depth: 14
  seat: 18
  leg: 2-1/8
stock:
  ply: {sheet: 96 x 48, thickness: 23/32, of: birch plywood, grain: long, trim: 1/4}
  pine: {board: 3/4 x 5-1/2, lengths: [96, 72], of: pine}
  peg rod: {rod: 3/8, length: 48, of: birch}
shop: {kerf: 1/8, allowance: 1/4, wall: 1/4, glue: PVA}
parts:
  leg:
    stock: ply
    layers: 3
    thickness: wide
    grain: high
    left: 0
    front: 0
    bottom: 0
    wide: leg
    deep: leg
    high: seat - ply.thickness
    mirror: [left-right, front-back]
    allowance: 1/8
    note: Glue up four at once.
  long rail:
    stock: ply
    layers: 2
    left: leg.right
    right: leg.mirrored(left-right).left
    front: leg.front + 3/8
    deep: 1-3/8
    bottom: 6
    high: 3
    mirror: front-back
  seat:
    stock: ply
    left: 0
    right: length
    front: 0
    deep: depth
    top: seat
  slat:
    stock: pine
    left: 4
    wide: 3/4
    front: 3
    deep: 5-1/2
    bottom: long rail.top
    top: seat.bottom
    row: {along: wide, count: 5, gap: 1}
joints:
  - {dowels: [long rail, leg], size: 3/8 x 2, count: 2}
  - {mortise and tenon: [leg, seat], through: yes, shoulder: 3/8, note: Dry fit first.}
  - {rests on: [slat, long rail]}
  - {butt: [seat, slat], screws: 8 x 1-1/4}
finish: {coats: 3, of: water-based polyurethane, sand: [120, 220, 400]}
steps:
  - {title: Glue up the legs, text: Three layers each., covers: [glue-up: leg]}
notes: [Made for the porch., Wants a dry day.]
"""


_SIZE = Option(name="size", type=OptionType.LENGTH, help="How wide it is.")
_AT = Option(name="at", type=OptionType.PAIR_LIST, help="Where the holes are.")
_CENTRE = Option(name="centre", type=OptionType.PAIR, help="Where its middle is.")
SHAPING = {
    "chamfer": ShapingWords(
        code="chamfer",
        takes=PlaceType.EDGES,
        place="the edges",
        options=(_SIZE,),
        help="Takes the corner off edges.",
    ),
    "hole": ShapingWords(
        code="hole",
        takes=PlaceType.FACE,
        place="the face that is bored",
        options=(_SIZE, _AT),
        help="Bores holes.",
    ),
    "taper": ShapingWords(
        code="taper",
        takes=PlaceType.FACES,
        place="the sides that are tapered",
        options=(_SIZE, _CENTRE),
        help="Narrows a part towards one end.",
    ),
}
"""Kinds of shaping for trial."""


def change(old, new, text=BENCH):
    """The text with one thing changed, which must be there just once."""
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the text"
    return text.replace(old, new)


def read(text, file=FILE):
    """Read a text with the words for trial."""
    return read_plan(text, file, WORDS, shaping=SHAPING)


def shown(text, file=FILE):
    """What is shown about a text: each finding, without the file's name."""
    return [str(finding).removeprefix(f"{file}:") for finding in read(text, file)[1]]
