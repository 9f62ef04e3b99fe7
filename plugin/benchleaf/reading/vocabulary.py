"""The words that a joint may be described with: how a kind tells the reader what it takes.

Joint kinds live further down the flow; they declare their words with these records and the pipeline
hands the table to `read_plan`, so that a new kind touches one place and the reader knows none.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class OptionType(StrEnum):
    """What the value of a joint's option may be; each is typed by the reader.

    LENGTH -> Expression, LENGTH_LIST -> tuple[Expression, ...], COUNT -> int, YES_NO -> bool,
    CHOICE -> str, CHOICE_LIST -> tuple[str, ...], FASTENER (`8 x 1-1/4`: gauge x length) ->
    Fastener, ROUND (`3/8 x 2`: diameter x length) -> Round, PAIR (`4 x 2-1/2`: two lengths, such as
    a place on a face) -> Pair, PAIR_LIST -> tuple[Pair, ...], TEXT -> str.
    """

    LENGTH = "length"
    LENGTH_LIST = "lengths"
    COUNT = "count"
    YES_NO = "yes or no"
    CHOICE = "choice"
    CHOICE_LIST = "choices"
    FASTENER = "gauge x length"
    ROUND = "diameter x length"
    PAIR = "length x length"
    PAIR_LIST = "lengths x lengths"
    TEXT = "text"


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One key that a joint entry may carry."""

    name: str
    """The YAML key, in plain words: `edge shoulder`."""
    type: OptionType
    help: str
    """One sentence for the plan author: what it sets and what is proposed when left out."""
    choices: tuple[str, ...] = ()
    """The words allowed, for CHOICE and CHOICE_LIST."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JointWords:
    """How one kind of joint is written in a plan."""

    code: str
    """The YAML key that names the kind: `mortise and tenon`."""
    first: str
    """Role of the first part named: `the part with the tenon`."""
    second: str
    """Role of the second part named."""
    options: tuple[Option, ...]
    help: str
    """One sentence: what the joint is."""


class PlaceType(StrEnum):
    """What the key that names a kind of shaping takes: where on the part it is done.

    FACE -> one face's name; FACES -> faces' names; EDGES -> edges, each by its two faces (`top
    front`), or by groups: `all edges of top`, `all edges`.
    """

    FACE = "a face"
    FACES = "faces"
    EDGES = "edges"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapingWords:
    """How one kind of shaping is written in a plan, under a part's `shape`."""

    code: str
    """The YAML key that names the kind: `round over`."""
    takes: PlaceType
    place: str
    """What the places are to the kind: `the face that the arc is seen on`."""
    options: tuple[Option, ...]
    help: str
    """One sentence: what the shaping does."""
