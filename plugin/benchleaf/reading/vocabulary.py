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
    Fastener, ROUND (`3/8 x 2`: diameter x length) -> Round, TEXT -> str.
    """

    LENGTH = "length"
    LENGTH_LIST = "lengths"
    COUNT = "count"
    YES_NO = "yes or no"
    CHOICE = "choice"
    CHOICE_LIST = "choices"
    FASTENER = "gauge x length"
    ROUND = "diameter x length"
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
