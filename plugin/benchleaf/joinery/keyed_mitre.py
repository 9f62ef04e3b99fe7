"""Keyed mitre: a glued mitre, sawn across its outer corner afterwards, with keys glued in.

Dimensions:
    angle: as for a plain mitre. Source: worked out.
    key thickness: the kerf of a common saw blade, 1/8 in (3 mm). Source: common practice, no
        source.
    key depth: half of the cut deep, from the outer corner. Source: common practice, no source.
    spacing: one key in the middle of a frame's thickness; along the corner of a box at most 3 in
        (75 mm) from centre to centre. Source: common practice, no source.

Limits:
    The slots stop short of the inner corner, and leave wood between them. They are sawn when the
    glue is hard.

Tools:
    Those of a mitre, a cradle that carries the corner over the blade of a table saw, a flush saw.

Source:
    Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.joinery.marking import Marking, at_the_bench
from benchleaf.joinery.mitring import Flat, Mitre, find_mitre
from benchleaf.joinery.proportions import factor, planned, proposed, round_down, usual_mm, worked
from benchleaf.joinery.records import Feature, Hardware, JointFit, JointKind, JointSize
from benchleaf.reading.vocabulary import JointWords, Option, OptionType


@dataclass(frozen=True, slots=True, kw_only=True)
class _Keys:
    """Keys across one corner, mm."""

    thick_mm: Fraction
    deep_mm: Fraction
    """From the outer corner, along the cut."""
    places: tuple[Fraction, ...]
    """Centre lines along the corner's edge."""
    sizes: tuple[JointSize, ...]


@at_the_bench
def fit_keyed_mitre(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a keyed mitre out at one corner."""
    mitre = find_mitre(marking)
    keys = _key(mitre)
    first, second = mitre.waste()
    sides = len(keys.places) * 4 * keys.deep_mm**2
    fit = mitre.marking.made(
        (
            (first, *_slots(mitre, keys, is_first=True)),
            (second, *_slots(mitre, keys, is_first=False)),
        ),
        numbers=((*mitre.sizes(), *keys.sizes), tuple(mitre.setting_out())),
        free=mitre.opening,
        glued_mm2=mitre.length_mm * mitre.edge_mm + sides,
        hardware=(_pieces(marking, keys),),
    )
    return fit, ()


def _key(mitre: Mitre) -> _Keys:
    marking = mitre.marking
    thick = _given(
        marking,
        "thickness",
        proposed("key thickness", usual_mm("key thickness", marking.units), key="key thickness"),
    )
    usual = round_down(mitre.length_mm * factor("key depth"), marking.units)
    deep = _given(marking, "depth", proposed("key depth", usual, key="key depth"))
    if not 0 < deep.value_mm < mitre.length_mm:
        raise marking.refuse(
            "J279",
            f"a key {marking.show(deep.value_mm)} deep does not stay in a cut "
            f"{marking.show(mitre.length_mm)} long",
            f"Needed: more than 0 and less than {marking.show(mitre.length_mm)}; half is usual.",
            option="depth",
        )
    count = _count(mitre)
    step = mitre.edge_mm / count
    if step < 2 * thick.value_mm or not thick.value_mm:
        raise marking.refuse(
            "J280",
            f"{count} keys {marking.show(thick.value_mm)} thick leave too little between them on "
            f"{marking.show(mitre.edge_mm)}",
            "Needed: a thickness of more than 0, and as much wood between two keys as they are "
            "thick. Use fewer.",
            option="count",
        )
    return _Keys(
        thick_mm=thick.value_mm,
        deep_mm=deep.value_mm,
        places=tuple(step / 2 + index * step for index in range(count)),
        sizes=(
            thick,
            deep,
            worked("key, from the edge", step / 2, f"{count} spread evenly along the corner"),
        ),
    )


def _given(marking: Marking, option: str, usual: JointSize) -> JointSize:
    given = marking.length(option)
    return usual if given is None else planned(usual.name, given)


def _count(mitre: Mitre) -> int:
    most = usual_mm("key spacing, most", mitre.marking.units)
    return mitre.marking.count("count") or max(1, math.ceil(mitre.edge_mm / most))


def _slots(mitre: Mitre, keys: _Keys, *, is_first: bool) -> Iterator[Feature]:
    side = 1 if is_first else -1
    hold = mitre.marking.on_first if is_first else mitre.marking.on_second
    # Out past both faces of the corner, however it slants.
    wide = side * 2 * (mitre.first_mm + mitre.second_mm)
    low, zero, half = -keys.deep_mm, Fraction(0), keys.thick_mm / 2
    flat: list[Flat] = [(low, zero), (keys.deep_mm, zero), (keys.deep_mm, wide), (low, wide)]
    for at in keys.places:
        yield hold("key slot", mitre.prism(flat, (at - half, at + half)))


def _pieces(marking: Marking, keys: _Keys) -> Hardware:
    # Half of the corner's square, with as much again to saw off.
    sizes = (keys.thick_mm, keys.deep_mm, 2 * keys.deep_mm)
    return Hardware(
        kind="key",
        size=" x ".join(marking.show(own) for own in sizes),
        diameter_mm=keys.thick_mm,
        length_mm=2 * keys.deep_mm,
        count=len(keys.places),
    )


KIND = JointKind(
    code="keyed mitre",
    title="Keyed mitre",
    words=JointWords(
        code="keyed mitre",
        first="one part",
        second="the other part",
        options=(
            Option(
                name="count",
                type=OptionType.COUNT,
                help="Keys in each corner; by the length of its edge when left out.",
            ),
            Option(
                name="thickness",
                type=OptionType.LENGTH,
                help="Thickness of the keys; the kerf of a common blade, 1/8 in (3 mm), when left "
                "out.",
            ),
            Option(
                name="depth",
                type=OptionType.LENGTH,
                help="How deep the slots are, from the outer corner; half of the cut when left "
                "out.",
            ),
        ),
        help="A glued mitre, sawn across its outer corner afterwards, with keys glued in.",
    ),
    fit=fit_keyed_mitre,
)
