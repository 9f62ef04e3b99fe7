"""A call-out's words with the operation's own figures in them.

Takes a rule's control text, facts and units, gives the text as the page shows it. Must not know
which rule it is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Final

from benchleaf.lengths import format_with_unit
from benchleaf.reading.plan import Units
from benchleaf.sequencing.facts import FACTS, FactKind
from benchleaf.sequencing.records import Fact

# International yard and pound agreement, 1959: 1 lb = 0.45359237 kg exactly.
KG_PER_POUND: Final = Fraction(45359237, 100_000_000)
_HOLE = re.compile(r"\{([^{}]+)\}")


def facts_named(control: str) -> Iterator[str]:
    """The names of the facts that a control text shows."""
    for inner in _HOLE.findall(control):
        if not inner.startswith("either:"):
            yield inner


def fill_control(control: str, facts: Mapping[str, Fact], units: Units) -> str:
    """Put figures into a control text.

    >>> fill_control("Only {cut.fence_gap_mm} is left.", {"cut.fence_gap_mm": 50.8}, Units.INCH)
    'Only 2 in is left.'
    >>> fill_control("Seat it {either:3 mm|1/8 in} deep.", {}, Units.INCH)
    'Seat it 1/8 in deep.'
    """
    return _HOLE.sub(lambda match: _show(match[1], facts, units), control)


def _show(inner: str, facts: Mapping[str, Fact], units: Units) -> str:
    if inner.startswith("either:"):
        metric, inch = inner.removeprefix("either:").split("|")
        return inch if units is Units.INCH else metric
    value = facts[inner]
    if isinstance(value, str):
        return value
    match FACTS[inner]:
        case FactKind.LENGTH:
            return format_with_unit(Fraction(value), units.value, show_rounding=False)
        case FactKind.MASS:
            return show_mass(value, units)
        case _ if inner == "bit.fastest_rpm":
            return f"{float(value):,.0f}".replace(",", " ")
        case _:
            return f"{float(value):.1f}" if inner == "lift.index" else f"{float(value):.0f}"


def show_mass(mass_kg: Fraction | float, units: Units) -> str:
    """A mass rounded for lifting, in the units that go with the plan's lengths.

    >>> show_mass(36.4, Units.INCH), show_mass(36.4, Units.MILLIMETRE)
    ('80 lb', '36 kg')
    """
    if units is Units.INCH:
        return f"{float(mass_kg) / float(KG_PER_POUND):.0f} lb"
    return f"{float(mass_kg):.0f} kg"
