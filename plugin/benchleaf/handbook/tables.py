"""The one loader of the handbook's tables: YAML rows to frozen records, read once.

Takes the package's own files; gives records with a source in each. Must not know plans or joints.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Any

import yaml

from benchleaf.lengths import MM_PER_INCH, UnitName, parse_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Proportion:
    """One row: a factor, or a length in either unit, with its rule and source."""

    key: str
    factor: Fraction
    """Plain number; 0 for a row that holds a length."""
    inch_mm: Fraction
    """The length for plans in inches, mm; 0 for a row that holds a factor."""
    metric_mm: Fraction
    """The length for plans in millimetres, mm; 0 for a row that holds a factor."""
    rule: str
    source: str
    status: str
    """`read`, `secondary`, `practice`, `chosen` or `from memory`."""

    def length_mm(self, units: UnitName) -> Fraction:
        """The length for a plan's units, mm."""
        return self.inch_mm if units == "in" else self.metric_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Screws:
    """Wood screws: shank diameters by gauge, and the rules for their holes."""

    shank_mm: Mapping[int, Fraction]
    """Shank diameter by gauge number, mm."""
    source: str
    rules: Mapping[str, Proportion]
    """`root diameter`, `pilot in softwood`, `pilot in hardwood`, `head diameter`,
    `countersink depth`."""
    plugs_inch_mm: tuple[Fraction, ...]
    """Diameters of plugs for plans in inches, mm, ascending."""
    plugs_metric_mm: tuple[Fraction, ...]
    """Diameters of plugs for plans in millimetres, mm, ascending."""

    def plugs_mm(self, units: UnitName) -> tuple[Fraction, ...]:
        """Diameters of plugs for a plan's units, mm, ascending."""
        return self.plugs_inch_mm if units == "in" else self.plugs_metric_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class StockDowels:
    """Joinery dowels as sold, in one unit."""

    diameters_mm: tuple[Fraction, ...]
    """Ascending, mm."""
    lengths_mm: tuple[Fraction, ...]
    """Ascending, mm."""
    source: str


@cache
def load_proportions() -> Mapping[str, Proportion]:
    """Read the proportions of joints, by key.

    >>> load_proportions()["tenon thickness"].factor
    Fraction(1, 3)
    >>> load_proportions()["mortise depth clearance"].length_mm("in")
    Fraction(127, 40)
    """
    rows = _read("proportions.yml")
    return MappingProxyType({key: _proportion(key, row) for key, row in rows.items()})


@cache
def load_screws() -> Screws:
    """Read the table of wood screws.

    >>> load_screws().shank_mm[8] / MM_PER_INCH
    Fraction(41, 250)
    """
    table = _read("screws.yml")
    shanks = table["shank diameter"]
    plugs = table["plug diameters"]
    return Screws(
        shank_mm=MappingProxyType(
            {int(gauge): Fraction(str(size)) * MM_PER_INCH for gauge, size in shanks["in"].items()}
        ),
        source=shanks["source"],
        rules=MappingProxyType(
            {key: _proportion(key, row) for key, row in table.items() if "value" in row}
        ),
        plugs_inch_mm=_lengths(plugs["in"], "in"),
        plugs_metric_mm=_lengths(plugs["mm"], "mm"),
    )


@cache
def load_dowels(units: UnitName) -> StockDowels:
    """Read the sizes in which joinery dowels are sold.

    >>> [float(size) for size in load_dowels("mm").diameters_mm]
    [6.0, 8.0, 10.0, 12.0]
    """
    table = _read("dowels.yml")
    return StockDowels(
        diameters_mm=_lengths(table[units]["diameters"], units),
        lengths_mm=_lengths(table[units]["lengths"], units),
        source=table["source"],
    )


def _read(name: str) -> Any:
    text = resources.files("benchleaf.handbook").joinpath(name).read_text(encoding="utf-8")
    return yaml.safe_load(text)


def _proportion(key: str, row: Mapping[str, Any]) -> Proportion:
    return Proportion(
        key=key,
        factor=Fraction(str(row.get("value", 0))),
        inch_mm=parse_length(str(row.get("in", 0)), "in"),
        metric_mm=parse_length(str(row.get("mm", 0)), "mm"),
        rule=row["rule"],
        source=row["source"],
        status=row["status"],
    )


def _lengths(texts: list[str], units: UnitName) -> tuple[Fraction, ...]:
    return tuple(sorted(parse_length(text, units) for text in texts))
