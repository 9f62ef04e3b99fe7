"""What is told alike of every part that bends: its worst copy, and the figures that it bends by.

Takes a survey, gives members and quantities. Must not know limits or verdicts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from benchleaf.checking.bending import Section
from benchleaf.checking.members import Member
from benchleaf.checking.records import Quantity
from benchleaf.checking.survey import Survey
from benchleaf.frames import Number


def worst_of_parts(
    survey: Survey, badness: Callable[[Member], float]
) -> Iterator[tuple[Member, tuple[str, ...]]]:
    """Of each part's copies that bend the worst one, with the marks of all."""
    held: dict[str, list[Member]] = {}
    for member in survey.members.members:
        held.setdefault(member.part.name, []).append(member)
    for members in held.values():
        yield max(members, key=badness), tuple(member.mark for member in members)


def load_of_member(member: Member) -> Quantity:
    """All of the load that reaches a member."""
    return Quantity(
        symbol="W", name="load", value=member.load_n, unit="N", source=member.carried.source
    )


def depth_of_section(section: Section) -> Quantity:
    """How deep a section is."""
    return Quantity(symbol="h", name="depth", value=exact(section.depth_mm), unit="mm")


def second_moment_of_section(section: Section) -> Quantity:
    """How much a section resists bending by its shape."""
    return Quantity(symbol="I", name="b h³ / 12", value=section.second_moment_mm4, unit="mm4")


def exact(length_mm: float) -> Number:
    """A length of the plan, which floats carry to a millionth of a millimetre."""
    return Fraction(length_mm).limit_denominator(100_000)
