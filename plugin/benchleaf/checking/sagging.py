"""No shelf, seat or rail sags more than the trade allows.

What:
    A shelf, seat, slat, rail or cleat bends more under its load than the limit.

Why:
    A shelf that hangs through looks tired, spills what rolls and rubs on a door; a rail that gives
    opens its joints.

Limit:
    1/144 of the span under the load at once; of what stands out from one line, of twice its length.
    More than 1/600 after years is told, since it is seen. The load is the plan's, or the usual one
    for a seat or shelf. A part is a beam that rests on its supports, as stiff as its material's
    modulus in that direction; a back's help is left out. Posts and uprights are taken to stand
    firm.

Source:
    Architectural Woodwork Standards (2009), 1.2.21, p. 253, for load and limit (read); Wood
    Handbook FPL-GTR-282 (2021), Eq. 9-2, for bending (transcription); creep by NDS 3.5.2 (read for
    solid wood, from memory for panels).
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checking.bent_parts import (
    depth_of_section,
    exact,
    load_of_member,
    second_moment_of_section,
    worst_of_parts,
)
from benchleaf.checking.members import Member
from benchleaf.checking.records import Check, Quantity, Topic, Verdict, Working
from benchleaf.checking.survey import Survey
from benchleaf.frames import Axis
from benchleaf.handbook.tables import load_rules

# chosen: four fifths of a span is along it.
_BACKED = 0.8


def reckon_sag(survey: Survey) -> Iterator[Working]:
    """Reckon the sag of what bends: of each part's copies, the one that sags the most."""
    for worst, marks in worst_of_parts(survey, _share):
        yield _working(survey, worst, marks)


def _share(member: Member) -> float:
    """Sag as a share of the span."""
    return member.sag_mm / member.span.longest_mm


def _working(survey: Survey, member: Member, marks: tuple[str, ...]) -> Working:
    rules = load_rules("rules")
    part, span = member.part, member.span
    length = span.longest_mm * (2 if span.is_cantilever else 1)
    limit_mm = length * float(rules["sag"].value)
    later_mm = member.sag_mm * member.stuff.creep if member.carried.lasts else member.sag_mm
    sag = Quantity(symbol="s", name="sag at once", value=member.sag_mm, unit="mm")
    limit = Quantity(symbol="", name="limit", value=limit_mm, unit="mm", source=rules["sag"].cited)
    later = Quantity(symbol="", name="sag after years", value=later_mm, unit="mm")
    is_seen = member.carried.lasts and later_mm > length * float(rules["seen sag"].value)
    is_over = member.sag_mm > limit_mm
    told = f"{part.name} sags {survey.show(sag)} under {member.carried.words}"
    if member.carried.lasts:
        told += f", {survey.show(later)} after years"
    holds = f"{told}; at most {survey.show(limit)} at once."
    return Working(
        topic=Topic.BENDING,
        code="K221",
        title=f"Sag of {part.name} under {member.carried.words}",
        subject=f"parts.{part.name}",
        marks=marks,
        formula=formula_of(member),
        inputs=(*inputs_of(member), _creep(member)) if member.carried.lasts else inputs_of(member),
        result=sag,
        limit=limit,
        verdict=Verdict.OVER if is_over else Verdict.WATCH if is_seen else Verdict.HOLDS,
        words=told if is_over else f"{holds[:-1]}, and it will be seen." if is_seen else holds,
        note=_note(survey, member),
        remedy=f"Needed: at most {survey.show(limit)}. Make it thicker, carry it in the middle, or "
        "say what it carries under `load`.",
    )


def formula_of(member: Member) -> str:
    """The formula, as a handbook prints it for the case; any other is solved by stiffness."""
    lines, is_person = len(member.span.lines), member.carried.person_n > 0
    if is_person:
        return "E I s″″ = w, with W over 250 mm where it bends the most; near W L³ / (48 E I)"
    plain = {1: "s = W L³ / (8 E I)", 2: "s = 5 W L³ / (384 E I)"}.get(lines)
    if plain and member.is_plain:
        return plain
    if plain:
        return f"E I s″″ = w, solved for where its supports and loads are; near {plain[4:]}"
    return f"E I s″″ = w, continuous over {lines} supports"


def inputs_of(member: Member) -> tuple[Quantity, ...]:
    """What a beam is worked out from."""
    section, span = member.section, member.span
    ends = f"between {len(span.lines)} supports" if len(span.lines) > 1 else "out from one support"
    return (
        load_of_member(member),
        Quantity(symbol="L", name=f"span, {ends}", value=exact(span.longest_mm), unit="mm"),
        Quantity(symbol="b", name="breadth", value=exact(section.breadth_mm), unit="mm"),
        depth_of_section(section),
        second_moment_of_section(section),
        Quantity(
            symbol="E",
            name="modulus of elasticity",
            value=section.modulus_mpa,
            unit="MPa",
            source=member.stuff.modulus_source,
        ),
    )


def _creep(member: Member) -> Quantity:
    return Quantity(
        symbol="",
        name="sag after years to sag at once",
        value=member.stuff.creep,
        unit="",
        source=member.stuff.creep_source,
    )


def _note(survey: Survey, member: Member) -> str:
    notes = []
    # chosen: a tenth of the sag is worth a word
    if member.across and member.across.bent.sag_mm > member.sag_mm / 10:
        own = Quantity(symbol="", name="", value=member.across.bent.sag_mm, unit="mm")
        notes.append(
            f"It lies on points, so it bends both ways: {survey.show(own)} of the sag is across."
        )
    backed = _backing(survey, member)
    if backed:
        notes.append(f"It is fastened along its length to {backed} too; that help is left out.")
    if member.bent_fixed:
        own = Quantity(symbol="", name="", value=member.bent_fixed.sag_mm, unit="mm")
        notes.append(f"With both ends held fast by its joints it would be {survey.show(own)}.")
    return " ".join(notes)


def _backing(survey: Survey, member: Member) -> str:
    """Name of a part that a plate is fastened to along most of its span, or empty."""
    axis = member.span.axis
    carrying = {tie.other for line in member.span.lines for tie in line.ties}
    for tie in survey.stays.ties[member.mark]:
        size = float(tie.region.size[axis])
        is_along = tie.is_fastened and size >= _BACKED * member.span.longest_mm
        if is_along and tie.normal is not Axis.HIGH and tie.other not in carrying:
            return survey.piece.copies[tie.other].part
    return ""


CHECK = Check(
    code="K221",
    name="sagging",
    title="No shelf, seat or rail sags more than the trade allows.",
    reckon=reckon_sag,
)
