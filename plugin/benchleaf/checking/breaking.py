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

from benchleaf.checking.members import Crosswise, Member
from benchleaf.checking.records import Check, Quantity, Topic, Verdict, Working
from benchleaf.checking.sagging import by_part, exact
from benchleaf.checking.survey import Survey
from benchleaf.handbook.tables import load_rules


def reckon_stress(survey: Survey) -> Iterator[Working]:
    """Reckon the stress in what bends: of each part's copies, the most strained."""
    for members in by_part(survey):
        worst = max(members, key=lambda member: _share(member.hardest))
        yield _working(survey, worst, tuple(member.mark for member in members))


def _share(way: Crosswise) -> float:
    """Stress as a share of the strength."""
    return way.stress_mpa / way.stuff.strength_mpa


def _working(survey: Survey, member: Member, marks: tuple[str, ...]) -> Working:
    rules, way = load_rules("rules"), member.hardest
    strength, section = way.stuff.strength_mpa, way.section
    allowed = strength * float(rules["strength allowed"].value)
    stress = Quantity(symbol="f", name="stress", value=way.stress_mpa, unit="MPa")
    limit = Quantity(
        symbol="",
        name="limit",
        value=allowed,
        unit="MPa",
        source=f"{rules['strength allowed'].cited}; {way.stuff.strength_source}",
    )
    verdict = Verdict.OVER if way.stress_mpa > allowed else Verdict.HOLDS
    if way.stress_mpa > strength * float(rules["strength at hand"].value):
        verdict = Verdict.DANGER
    told = f"{member.part.name} is strained to {survey.show(stress)} under {member.carried.words}"
    return Working(
        topic=Topic.BENDING,
        code="K222",
        title=f"Strain of {member.part.name} under {member.carried.words}",
        subject=f"parts.{member.part.name}",
        marks=marks,
        formula="f = M h / (2 I)",
        inputs=(
            Quantity(symbol="M", name="moment", value=way.bent.moment_n_mm / 1000, unit="N m"),
            Quantity(
                symbol="W", name="load", value=member.load_n, unit="N", source=member.carried.source
            ),
            Quantity(symbol="h", name="depth", value=exact(section.depth_mm), unit="mm"),
            Quantity(symbol="I", name="b h³ / 12", value=section.second_moment_mm4, unit="mm4"),
            Quantity(
                symbol="",
                name="strength of small clear pieces",
                value=strength,
                unit="MPa",
                source=way.stuff.strength_source,
            ),
        ),
        result=stress,
        limit=limit,
        verdict=verdict,
        words=told if verdict is not Verdict.HOLDS else f"{told}; at most {survey.show(limit)}.",
        note="Holes and notches are left out.",
        remedy=f"Needed: at most {survey.show(limit)}. Make it deeper or broader, or carry it in "
        "more places.",
    )


CHECK = Check(
    code="K222",
    name="breaking",
    title="No shelf, seat or rail is strained near to breaking.",
    reckon=reckon_stress,
)
