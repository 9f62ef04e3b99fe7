"""What becomes of bought hardware when parts come together: what goes in before, what after.

Takes Hardware, gives sentences. Must not know groups or operations.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.joinery.records import Hardware
from benchleaf.sequencing.wording import pluralise

SLIPPED: Final = {
    "biscuit": "slots",
    "dowel": "holes",
    "loose tenon": "mortises",
    "spline": "grooves",
}
"""Kinds that are glued into one part before the other goes on, and what they go into."""
BOLTS: Final = frozenset({"carriage bolt", "connector bolt"})
"""Kinds that hold parts together so that they come apart again."""


@dataclass(frozen=True, slots=True)
class _Driven:
    """What is said of a kind of hardware when the parts stand together; `{}` for how many."""

    words: tuple[str, ...]


# Common practice, no source.
_AFTER: Final = {
    "shelf pin": _Driven(("Push {} in by hand, all under one shelf at one height.",)),
    "peg": _Driven(("Taper the ends of {}, and drive them through, tapered end first.",)),
    "wedge": _Driven(
        (
            "Put glue on {}, and start them in the slots.",
            "Drive the wedges in turn, a little at a time, until they sound solid.",
        )
    ),
    "carriage bolt": _Driven(
        (
            "Push {} through, and tap the heads home.",
            "Put a washer and a nut on each, and tighten until the washers just bite.",
        )
    ),
    "connector bolt": _Driven(
        (
            "Push {} through, and turn each by hand into its cross dowel.",
            "Tighten the bolts with their key until no joint gapes.",
        )
    ),
}
_WHEN_HARD: Final = {
    "peg": "Saw the pegs off when the glue is hard, and pare them flush.",
    "wedge": "Saw the wedges and tenons off when the glue is hard, and plane them flush.",
}
_BEFORE: Final = {
    "cross dowel": "Drop {} into their holes, slots in line with the bolts' holes.",
}


def count_hardware(item: Hardware, unit: str) -> str:
    """How many of what size: `4 carriage bolts (3/8 x 4 in)`."""
    noun = item.kind if item.count == 1 else pluralise(item.kind)
    return f"{item.count} {noun} ({item.size_in(unit)})"


def slip_words(items: Sequence[Hardware], unit: str, *, is_dry: bool) -> Iterator[str]:
    """What goes into one part before the other goes on: dry, or glued in."""
    for item in items:
        if item.kind not in SLIPPED:
            continue
        seat = SLIPPED[item.kind]
        what = f"{count_hardware(item, unit)} into the {seat} on one side"
        if not is_dry:
            yield f"Glue {what}."
        elif item.kind == "dowel":
            yield f"Push {what}; sand those that stick."
        else:
            yield f"Push {what}, without glue."


def has_bolts(items: Sequence[Hardware]) -> bool:
    """Tell whether bolts draw the parts together."""
    return any(item.kind in BOLTS for item in items)


def before_words(items: Sequence[Hardware], unit: str) -> Iterator[str]:
    """What goes into its hole before the parts come together, without glue."""
    for item in items:
        if item.kind in _BEFORE:
            yield _BEFORE[item.kind].format(count_hardware(item, unit))


def clamp_words(items: Sequence[Hardware], unit: str) -> Iterator[str]:
    """What is held flush before its screws are driven on a slant, or it slides."""
    if any(item.kind.endswith("pocket screw") for item in items):
        yield "Clamp each joint flush before its screws go in, or they push it out of line."
    for item in items:
        if item.kind == "butt hinge":
            hinges = count_hardware(item, unit)
            yield f"Lay {hinges} in their mortises, and bore a pilot for every screw."


def hard_words(items: Sequence[Hardware]) -> Iterator[str]:
    """What is sawn off when the glue is hard."""
    for kind in dict.fromkeys(item.kind for item in items):
        if kind in _WHEN_HARD:
            yield _WHEN_HARD[kind]


def after_words(items: Sequence[Hardware], unit: str) -> Iterator[str]:
    """What is driven, turned or pushed in when the parts stand together."""
    for item in items:
        if item.kind in _AFTER:
            for words in _AFTER[item.kind].words:
                yield words.format(count_hardware(item, unit))
