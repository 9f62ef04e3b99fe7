"""What is used up: how far glue, finish and abrasive go, what is spare, what sizes are sold.

Takes the package's own table; gives frozen rows. Reckoned in m2 to the litre, m2 to the sheet and
litres. Must not know plans.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import Any, Final

from benchleaf.handbook.data_files import read_data_file
from benchleaf.handbook.records import Published
from benchleaf.lengths import MM_PER_INCH, UnitName

LITRES_PER_GALLON: Final = 231 * MM_PER_INCH**3 / 10**6
"""Litres in a US gallon: NIST Handbook 44, appendix C: 231 cubic inches, exactly."""
LITRES_PER_FL_OZ: Final = LITRES_PER_GALLON / 128
"""Litres in a US fluid ounce: NIST Handbook 44, appendix C: 128 to the gallon."""
M2_PER_FT2: Final = (12 * MM_PER_INCH / 1000) ** 2
"""Square metres in a square foot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """How far something goes."""

    low: Published
    """The thirsty end of the range: `m2/l`, or `m2` for one sheet."""
    high: Published
    """The other end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplies:
    """The whole table."""

    glue: Mapping[str, Reach]
    """Kind of glue to the glue line that a litre closes."""
    finish: Mapping[str, Reach]
    """Kind of finish to the wood that a litre covers in one coat."""
    abrasive: Reach
    """Wood that one sheet sands."""
    spare: Mapping[str, Fraction]
    """Kind of hardware to what is bought beyond the count, as a share of it."""
    sold_litres: Mapping[str, tuple[Fraction, ...]]
    """`glue in fl oz` and the like to the sizes sold, litres, rising."""

    def sold(self, what: str, unit: UnitName) -> tuple[Fraction, ...]:
        """The sizes that `glue` or `finish` is sold in where a plan's unit is used, litres."""
        return self.sold_litres[f"{what} in {'fl oz' if unit == 'in' else 'ml'}"]


@cache
def load_supplies() -> Supplies:
    """Read the table.

    >>> round(float(load_supplies().finish["solvent"].low.value), 2)
    7.36
    """
    data = read_data_file("benchleaf.handbook", "supplies.yml")
    return Supplies(
        glue=MappingProxyType({kind: _read_glue(row) for kind, row in data["glue"].items()}),
        finish=MappingProxyType({kind: _read_finish(row) for kind, row in data["finish"].items()}),
        abrasive=_reach(data["abrasive"]["sheet"], "m2", *_ends(data["abrasive"]["sheet"])),
        spare=MappingProxyType({kind: Fraction(share) for kind, share in data["spare"].items()}),
        sold_litres=MappingProxyType(dict(map(_read_sold, data["sold"].items()))),
    )


def _ends(row: Mapping[str, Any]) -> tuple[Fraction, Fraction]:
    return Fraction(row["low"]) * M2_PER_FT2, Fraction(row["high"]) * M2_PER_FT2


def _read_finish(row: Mapping[str, Any]) -> Reach:
    low, high = _ends(row)
    return _reach(row, "m2/l", low / LITRES_PER_GALLON, high / LITRES_PER_GALLON)


def _read_glue(row: Mapping[str, Any]) -> Reach:
    """The most pounds to 1000 sq ft are the least square feet to the gallon."""
    to_gallon = Fraction(str(row["lb_gal"])) * 1000 * M2_PER_FT2
    low, high = (to_gallon / row[end] / LITRES_PER_GALLON for end in ("high", "low"))
    return _reach(row, "m2/l", low, high)


def _reach(row: Mapping[str, Any], unit: str, *ends: Fraction) -> Reach:
    low, high = (
        Published(value=end, unit=unit, source=row["source"], status=row["status"]) for end in ends
    )
    return Reach(low=low, high=high)


def _read_sold(row: tuple[str, list[int]]) -> tuple[str, tuple[Fraction, ...]]:
    name, sizes = row
    litres = LITRES_PER_FL_OZ if name.endswith("fl oz") else Fraction(1, 1000)
    return name, tuple(size * litres for size in sizes)
