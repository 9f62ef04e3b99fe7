"""One part shaped for trial: a box, entries of `shape`, and the solid that is left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from manifold3d import Manifold
from tests.pieces import box, build_piece

from benchleaf.findings import Finding
from benchleaf.piece.records import ChosenShaping, Part, SolvedPair
from benchleaf.piece.solids import solid_of_box
from benchleaf.reading.places import EDGES, edges_of
from benchleaf.reading.plan import Units
from benchleaf.shaping import shape_part
from benchleaf.shaping.records import ShapedCut
from benchleaf.shaping.solids import shape_solid

Entry = tuple[str, str, dict[str, object]]
"""Kind, places with commas between, and choices: numbers for lengths, pairs for places."""


def part_of(size: Sequence[object], entries: Sequence[Entry]) -> Part:
    """A part of a size in mm, with its shaping chosen."""
    piece = build_piece({"part": box(0, 0, 0, *map(Fraction, size))})
    chosen = tuple(
        ChosenShaping(
            index=index,
            kind=kind,
            places=_places(places),
            choices={name.replace("_", " "): _choice(value) for name, value in choices.items()},
            note="",
        )
        for index, (kind, places, choices) in enumerate(entries)
    )
    return replace(piece.parts["part"], shaping=chosen)


def _places(places: str) -> tuple[str, ...]:
    found: list[str] = []
    for place in places.split(","):
        words = place.split()
        if words[:2] == ["all", "edges"]:
            found += edges_of(words[-1]) if len(words) > 2 else EDGES
        else:
            found.append(" ".join(words))
    return tuple(found)


def _choice(value: object) -> object:
    if isinstance(value, list):
        return tuple(_choice(each) for each in value)
    if isinstance(value, tuple):
        return SolvedPair(first_mm=Fraction(value[0]), second_mm=Fraction(value[1]))
    return value if isinstance(value, str) else Fraction(value)


def shape(
    size: Sequence[object], entries: Sequence[Entry], units: Units = Units.MILLIMETRE
) -> tuple[tuple[ShapedCut, ...], tuple[Finding, ...]]:
    """The cuts of a part, and what there is to say."""
    part = part_of(size, entries)
    return shape_part(part, build_piece({"part": part.box}, units=units).plan)


def solid_left(size: Sequence[object], entries: Sequence[Entry]) -> Manifold:
    """What is left of a part; shaping must say nothing."""
    cuts, said = shape(size, entries)
    assert [str(finding) for finding in said] == []
    body = box(0, 0, 0, *map(Fraction, size))
    return shape_solid(solid_of_box(body), body, cuts)


def waste_mm3(size: Sequence[object], entries: Sequence[Entry]) -> float:
    """How much wood shaping takes off."""
    wide, deep, high = (float(Fraction(each)) for each in size)
    return wide * deep * high - float(solid_left(size, entries).volume())
