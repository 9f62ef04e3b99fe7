"""Hardware as sold: bolts, cross dowels, biscuits, pocket screws and hinges, by the plan's units.

Takes the package's own file; gives frozen records in mm. Must not know plans or joints.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import Any

from benchleaf.handbook.tables import load_table
from benchleaf.lengths import UnitName, parse_length


@dataclass(frozen=True, slots=True, kw_only=True)
class StockBolts:
    """Carriage bolts as sold, in one unit."""

    diameters_mm: tuple[Fraction, ...]
    """Ascending, mm."""
    lengths_mm: tuple[Fraction, ...]
    """Under the head, ascending, mm."""
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossDowels:
    """Connector bolts and the cross dowels that they screw into."""

    bolt_mm: Fraction
    """Diameter of the bolt."""
    dowel_mm: Fraction
    """Diameter of the cross dowel."""
    lengths_mm: tuple[Fraction, ...]
    """Lengths of the cross dowel, ascending, mm; its thread is in the middle."""
    bolt_lengths_mm: tuple[Fraction, ...]
    """Under the head, ascending, mm."""
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Biscuit:
    """One size of pressed biscuit, mm."""

    number: str
    """`20`."""
    length_mm: Fraction
    width_mm: Fraction
    """Half of it goes into each part."""
    thickness_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketScrews:
    """Screws for angled pockets, and the stepped bit that bores them."""

    angle_deg: Fraction
    """Between the bore and the face that it starts from."""
    by_thickness: tuple[tuple[Fraction, Fraction], ...]
    """(thickest stock, length of the screw), ascending, mm."""
    pocket_mm: Fraction
    """Diameter that lets the head in."""
    pilot_mm: Fraction
    """Diameter of the bit's tip, which lets the shank through."""
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ButtHinge:
    """One size of butt hinge."""

    length_mm: Fraction
    """Along the pin."""
    leaf_mm: Fraction
    """From the pin's centre to the edge of one leaf."""
    thickness_mm: Fraction
    """Of one leaf."""
    gauge: int
    """Of its screws."""
    screw_mm: Fraction
    """Length of its screws."""
    screws: int
    """In one leaf."""


@cache
def load_bolts(units: UnitName) -> StockBolts:
    """Read the sizes in which bolts are sold.

    >>> [float(size) for size in load_bolts("mm").diameters_mm]
    [6.0, 8.0, 10.0, 12.0]
    """
    table = load_table("hardware.yml")["bolts"]
    return StockBolts(
        diameters_mm=_lengths(table[units]["diameters"], units),
        lengths_mm=_lengths(table[units]["lengths"], units),
        source=table["source"],
    )


@cache
def load_cross_dowels(units: UnitName) -> CrossDowels:
    """Read the sizes in which connector bolts and cross dowels are sold.

    >>> float(load_cross_dowels("mm").dowel_mm)
    10.0
    """
    table = load_table("hardware.yml")["cross dowels"]
    own = table[units]
    return CrossDowels(
        bolt_mm=_length(own["bolt"], units),
        dowel_mm=_length(own["dowel"], units),
        lengths_mm=_lengths(own["lengths"], units),
        bolt_lengths_mm=_lengths(own["bolt lengths"], units),
        source=table["source"],
    )


@cache
def load_biscuits() -> Mapping[str, Biscuit]:
    """Read the sizes of biscuits, by number, smallest first.

    >>> {number: float(own.length_mm) for number, own in load_biscuits().items()}
    {'0': 47.0, '10': 53.0, '20': 56.0}
    """
    rows = load_table("hardware.yml")["biscuits"]["rows"]
    found = {}
    for number, row in rows.items():
        length, width, thickness = _lengths(row, "mm")
        found[number] = Biscuit(
            number=number, length_mm=length, width_mm=width, thickness_mm=thickness
        )
    return MappingProxyType(found)


@cache
def load_biscuit_cutter_mm() -> Fraction:
    """Read the diameter of a biscuit jointer's cutter, mm."""
    return _length(load_table("hardware.yml")["biscuits"]["cutter"], "mm")


@cache
def load_pocket_screws(units: UnitName) -> PocketScrews:
    """Read the screws for angled pockets.

    >>> float(load_pocket_screws("mm").angle_deg)
    15.0
    """
    table = load_table("hardware.yml")["pocket screws"]
    own = table[units]
    rows = (_lengths(row, units) for row in own["rows"])
    return PocketScrews(
        angle_deg=Fraction(str(table["angle_deg"])),
        by_thickness=tuple((thickness, length) for thickness, length in rows),
        pocket_mm=_length(own["pocket"], units),
        pilot_mm=_length(own["pilot"], units),
        source=table["source"],
    )


@cache
def load_butt_hinges(units: UnitName) -> tuple[ButtHinge, ...]:
    """Read the sizes in which butt hinges are sold, shortest first.

    >>> [float(hinge.length_mm) for hinge in load_butt_hinges("mm")]
    [40.0, 50.0, 63.0, 75.0, 100.0]
    """
    return tuple(_hinge(row, units) for row in load_table("hardware.yml")["butt hinges"][units])


def _hinge(row: list[Any], units: UnitName) -> ButtHinge:
    length, leaf, thickness, gauge, screw, screws = row
    return ButtHinge(
        length_mm=_length(length, units),
        leaf_mm=_length(leaf, units),
        thickness_mm=_length(thickness, units),
        gauge=int(gauge),
        screw_mm=_length(screw, units),
        screws=int(screws),
    )


def _lengths(texts: list[Any], units: UnitName) -> tuple[Fraction, ...]:
    return tuple(_length(text, units) for text in texts)


def _length(text: object, units: UnitName) -> Fraction:
    return parse_length(str(text), units)
