"""No shelf, seat or rail is strained near to breaking.

What:
    The bending stress in a shelf, seat, slat, rail or cleat is more than the share of its wood's
    strength that may be counted on.

Why:
    Boards have knots and grain that runs out; what small clear pieces bear in a test, furniture
    does not. Past half of that it is an error, since somebody may fall.

Limit:
    A fifth of the strength of small clear pieces. Holes, mortises and notches are left out.

Source:
    Wood Handbook FPL-GTR-282 (2021), Table 5-3b, for strength (status by species); moment over
    section modulus, textbook statics; the fifth is chosen.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checking.bent_parts import (
    depth_of_section,
    load_of_member,
    second_moment_of_section,
    worst_of_parts,
)
from benchleaf.checking.members import Crosswise, Member
from benchleaf.checking.records import Check, Quantity, Topic, Verdict, Working
from benchleaf.checking.survey import Survey
from benchleaf.handbook.tables import load_rules


def reckon_stress(survey: Survey) -> Iterator[Working]:
    """Reckon the stress in what bends: of each part's copies, the most strained."""
    for worst, marks in worst_of_parts(survey, lambda member: _share(member.hardest)):
        yield _working(survey, worst, marks)


def _share(way: Crosswise) -> float:
    """Stress as a share of the strength."""
    return way.stress_mpa / way.stuff.strength_mpa


def _working(survey: Survey, member: Member, marks: tuple[str, ...]) -> Working:
    way = member.hardest
    stress = Quantity(symbol="f", name="stress", value=way.stress_mpa, unit="MPa")
    limit, verdict = _limit(way), _verdict(way)
    told = f"{member.part.name} is strained to {survey.show(stress)} under {member.carried.words}"
    return Working(
        topic=Topic.BENDING,
        code="K222",
        title=f"Strain of {member.part.name} under {member.carried.words}",
        subject=f"parts.{member.part.name}",
        marks=marks,
        formula="f = M h / (2 I)",
        inputs=_inputs(member),
        result=stress,
        limit=limit,
        verdict=verdict,
        words=told if verdict is not Verdict.HOLDS else f"{told}; at most {survey.show(limit)}.",
        note="Holes and notches are left out.",
        remedy=f"Needed: at most {survey.show(limit)}. Make it deeper or broader, or carry it in "
        "more places.",
    )


def _limit(way: Crosswise) -> Quantity:
    """The share of the strength that may be counted on."""
    rule = load_rules("rules")["strength allowed"]
    return Quantity(
        symbol="",
        name="limit",
        value=way.stuff.strength_mpa * float(rule.value),
        unit="MPa",
        source=f"{rule.cited}; {way.stuff.strength_source}",
    )


def _verdict(way: Crosswise) -> Verdict:
    """Over where it is past the limit, a danger where breaking is at hand."""
    rules, strength = load_rules("rules"), way.stuff.strength_mpa
    if way.stress_mpa > strength * float(rules["strength at hand"].value):
        return Verdict.DANGER
    is_over = way.stress_mpa > strength * float(rules["strength allowed"].value)
    return Verdict.OVER if is_over else Verdict.HOLDS


def _inputs(member: Member) -> tuple[Quantity, ...]:
    """What the stress is worked out from."""
    way = member.hardest
    return (
        Quantity(symbol="M", name="moment", value=way.bent.moment_n_mm / 1000, unit="N m"),
        load_of_member(member),
        depth_of_section(way.section),
        second_moment_of_section(way.section),
        Quantity(
            symbol="",
            name="strength of small clear pieces",
            value=way.stuff.strength_mpa,
            unit="MPa",
            source=way.stuff.strength_source,
        ),
    )


CHECK = Check(
    code="K222",
    name="breaking",
    title="No shelf, seat or rail is strained near to breaking.",
    reckon=reckon_stress,
)
