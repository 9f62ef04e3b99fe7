"""What to say of blanks that cannot be hauled even by themselves, and of stock that is not weighed.

Takes blanks, their stock and what can be hauled, gives findings. Must not know layouts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from benchleaf.cutting.fitting import Reporter
from benchleaf.cutting.hauling import Haul, kg_per_mm2
from benchleaf.cutting.records import Blank
from benchleaf.findings import Finding, Severity
from benchleaf.handbook.units import KG_PER_LB
from benchleaf.reading.plan import Stock, Units


def report_hauls(
    blanks: Sequence[Blank], stock: Stock, haul: Haul | None, reporter: Reporter
) -> tuple[Finding, ...]:
    """Say which blanks are too large or too heavy to be hauled: once for each part."""
    found: dict[tuple[str, str], Finding] = {}
    for blank in blanks if haul else ():
        size = blank.length_mm, blank.width_mm
        if haul and haul.size_mm and not haul.holds_size(*size):
            found.setdefault(("C307", blank.part), _too_large(blank, haul.size_mm, reporter))
        if haul and haul.area_mm2 is not None and not haul.holds_weight(*size):
            finding = _too_heavy(blank, haul.area_mm2, kg_per_mm2(stock) or Fraction(0), reporter)
            found.setdefault(("C308", blank.part), finding)
    return tuple(found.values())


def report_not_weighed(stock: Stock, reporter: Reporter) -> tuple[Finding, ...]:
    """Say that a sheet is not weighed, since the density of what it is made of is not known."""
    if kg_per_mm2(stock) is not None:
        return ()
    finding = reporter.find(
        "C309",
        f"stock.{stock.name}",
        message=f"the density of {stock.material} is not known, so its pieces are not weighed",
        remedy=(
            "Say in `of` what it is made of, such as birch plywood, or weigh a sheet and have it "
            "cut small enough yourself."
        ),
    )
    return (replace(finding, severity=Severity.WARNING),)


def _too_large(blank: Blank, haul_mm: tuple[Fraction, Fraction], reporter: Reporter) -> Finding:
    most = f"{reporter.show(min(haul_mm))} x {reporter.show(max(haul_mm))}"
    message = f"its blank is {_size(blank, reporter)}, and {most} is the most that can be hauled"
    return _warn("C307", blank, message, reporter)


def _too_heavy(
    blank: Blank, most_mm2: Fraction, kg_per_area: Fraction, reporter: Reporter
) -> Finding:
    weight = show_weight(blank.length_mm * blank.width_mm * kg_per_area, reporter.units)
    most = show_weight(most_mm2 * kg_per_area, reporter.units)
    message = (
        f"its blank of {_size(blank, reporter)} weighs {weight}, and {most} is the most that can "
        "be hauled"
    )
    return _warn("C308", blank, message, reporter)


def _size(blank: Blank, reporter: Reporter) -> str:
    return f"{reporter.show(blank.length_mm)} x {reporter.show(blank.width_mm)}"


def _warn(code: str, blank: Blank, message: str, reporter: Reporter) -> Finding:
    remedy = f"Have it delivered, or make `{blank.part}` of smaller parts."
    finding = reporter.find(code, f"parts.{blank.part}", message=message, remedy=remedy)
    return replace(finding, severity=Severity.WARNING)


def show_weight(mass_kg: Fraction, units: Units) -> str:
    """A weight to a tenth, in the units that go with the plan's lengths.

    >>> show_weight(Fraction(20), Units.MILLIMETRE), show_weight(Fraction(20), Units.INCH)
    ('20 kg', '44.1 lb')
    """
    is_inch = units is Units.INCH
    value = round(mass_kg / (KG_PER_LB if is_inch else 1), 1)
    return f"{float(value):g} {'lb' if is_inch else 'kg'}"
