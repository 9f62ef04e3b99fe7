"""Twin tenons: two or more tenons side by side on one end, each in a mortise of its own.

Dimensions:
    section: shoulders, tenons and the gaps between them alike: a fifth of the width each for two,
        a seventh for three. Source: common practice, no source.
    the other way: as for a plain mortise and tenon. Source: Port Townsend School of Woodworking.
    length: 5 times the thickness of one tenon, or what the mortised part bears. Source: Port
        Townsend School of Woodworking.

Limits:
    At least two, with wood between them. They stand beside one another across the width of a wide
    rail, or across the thickness of a thick one.

Tools:
    A mortise gauge and a marking knife, a chisel and mallet, a tenon saw, a coping saw for the wood
    between the tenons, a shoulder plane.

Source:
    A tenon over 6 times as wide as thick is split in two: Port Townsend School of Woodworking, as
    reproduced in 2015. How it is parted is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Box
from benchleaf.joinery.marking import Marking, U, V, at_the_bench
from benchleaf.joinery.proportions import (
    grid_mm,
    planned,
    round_down,
    round_nearest,
    worked,
)
from benchleaf.joinery.records import (
    Feature,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.setting_out import mark_span
from benchleaf.joinery.tenon_forms import block_of, plain_options, plain_tenon
from benchleaf.joinery.tenon_section import Span
from benchleaf.piece.records import Choice
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

# chosen: more than four are combs, which a box joint is made for.
_MOST = 4
_WAYS = {"width": U, "thickness": V}
_NAMES = {U: ("tenon width", "edge"), V: ("tenon thickness", "cheek")}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """Tenons beside one another, mm."""

    axis: int
    """U where the width is parted, V where the thickness is."""
    spans: tuple[Span, ...]
    size: JointSize
    gap: JointSize


@at_the_bench
def fit_twin_tenons(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work twin tenons out at one contact."""
    row = _part(marking)
    name = "width" if row.axis == U else "thickness"
    settled: dict[str, Choice] = {"haunch": False, name: row.size.value_mm}
    plain, said = plain_tenon(_without(marking, row.axis), **settled)
    tenon = block_of(plain.first_features, "tenon")
    mortise = block_of(plain.second_features, "mortise")
    fit = replace(
        plain,
        kind=marking.chosen.kind,
        first_features=_tenons(marking, row, tenon),
        second_features=_mortises(marking, row, mortise),
        sizes=(*_other_sizes(plain.sizes, row), row.gap),
        setting_out=tuple(_setting_out(marking, row, plain.setting_out)),
        glue_area_mm2=plain.glue_area_mm2 * len(row.spans),
    )
    return fit, said


def _without(marking: Marking, axis: int) -> Marking:
    """The joint without the shoulders that the row of tenons settles."""
    names = {"shoulder", "edge shoulder" if axis == U else "face shoulder"}
    kept = {k: v for k, v in marking.chosen.choices.items() if k not in names}
    return replace(marking, chosen=replace(marking.chosen, choices=kept))


def _part(marking: Marking) -> _Row:
    words = marking.words("across")
    axis = _WAYS[words[0]] if words else U
    name, _ = _NAMES[axis]
    count = _count(marking)
    whole = marking.contact.u_mm if axis == U else marking.contact.v_mm
    size = _size(marking, whole, count, name)
    gap = (whole - count * size.value_mm) / (count + 1)
    if gap <= 0:
        raise marking.refuse(
            "J268",
            f"{count} tenons {marking.show(size.value_mm)} each leave nothing between them on "
            f"the {marking.show(whole)} where {marking.first} meets {marking.second}",
            f"Needed: less than {marking.show(whole / count)} each.",
            option=name.removeprefix("tenon "),
        )
    # What a rule does not show is left to the two outer shoulders.
    inner = max(round_down(gap, marking.units), min(gap, grid_mm(marking.units)))
    outer = (whole - count * size.value_mm - (count - 1) * inner) / 2
    starts = [outer + index * (size.value_mm + inner) for index in range(count)]
    return _Row(
        axis=axis,
        spans=tuple(Span(start, start + size.value_mm) for start in starts),
        size=size,
        gap=worked("gap between tenons", inner, "what the tenons leave, as the shoulders"),
    )


def _count(marking: Marking) -> int:
    count = marking.count("count") or 2
    if 2 <= count <= _MOST:
        return count
    raise marking.refuse(
        "J267",
        f"a count of {count} makes no twin tenons",
        f"Needed: from 2 to {_MOST}; a single one is a `mortise and tenon`.",
        option="count",
    )


def _size(marking: Marking, whole: Fraction, count: int, name: str) -> JointSize:
    given = marking.length(name.removeprefix("tenon "))
    if given is not None:
        return planned(f"{name}, each", given)
    parts = 2 * count + 1
    usual = max(round_nearest(whole / parts, marking.units), grid_mm(marking.units))
    return JointSize(
        name=f"{name}, each",
        value_mm=usual,
        rule=f"1/{parts} of the {marking.show(whole)} where the parts meet, rounded",
        source="common practice, no source",
    )


def _other_sizes(sizes: Sequence[JointSize], row: _Row) -> Iterator[JointSize]:
    name, _ = _NAMES[row.axis]
    shoulder = "edge shoulder" if row.axis == U else "face shoulder"
    yield row.size
    yield from (own for own in sizes if own.name != name and not own.name.startswith(shoulder))


def _moved(box: Box, axis: int, span: Span) -> Box:
    low, high = list(box.low), list(box.high)
    low[axis], high[axis] = span.low, span.high
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _tenons(marking: Marking, row: _Row, tenon: Box) -> tuple[Feature, ...]:
    return tuple(
        marking.on_first("twin tenon", _moved(tenon, row.axis, span), adds=True)
        for span in row.spans
    )


def _mortises(marking: Marking, row: _Row, mortise: Box) -> tuple[Feature, ...]:
    return tuple(
        marking.on_second("mortise", _moved(mortise, row.axis, span)) for span in row.spans
    )


def _setting_out(marking: Marking, row: _Row, plain: Sequence[SettingOut]) -> Iterator[SettingOut]:
    _, side = _NAMES[row.axis]
    for number, span in enumerate(row.spans, start=1):
        yield from mark_span(marking, f"{side} of tenon {number}", axis=row.axis, ends=span.ends)
    yield from (own for own in plain if f"{side} of the tenon" not in own.what)


KIND = JointKind(
    code="twin tenons",
    title="Twin tenons",
    words=JointWords(
        code="twin tenons",
        first="the part with the tenons",
        second="the part with the mortises",
        options=(
            Option(
                name="count",
                type=OptionType.COUNT,
                help="How many tenons, 2 to 4; 2 when left out.",
            ),
            Option(
                name="across",
                type=OptionType.CHOICE,
                choices=tuple(_WAYS),
                help="Whether they stand beside one another across the width or the thickness of "
                "the part; the width when left out.",
            ),
            *plain_options("haunch", "haunch length"),
        ),
        help="Two or more tenons side by side on one end, each in a mortise of its own.",
    ),
    fit=fit_twin_tenons,
)
