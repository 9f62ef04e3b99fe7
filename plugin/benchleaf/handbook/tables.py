"""The one loader of the handbook's tables: YAML rows to frozen records, read once.

Takes the package's own files; gives records with a source in each. Must not know plans or joints.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import Any, Final

from benchleaf.handbook.data_files import read_data_file
from benchleaf.handbook.records import Lateral, Load, Panel, Published, Withdrawal, Wood
from benchleaf.handbook.units import UNITS
from benchleaf.handbook.wood import SHOP_MOISTURE, gravity_from_basic
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
    rows = load_table("proportions.yml")
    return MappingProxyType({key: _proportion(key, row) for key, row in rows.items()})


@cache
def load_screws() -> Screws:
    """Read the table of wood screws.

    >>> load_screws().shank_mm[8] / MM_PER_INCH
    Fraction(41, 250)
    """
    table = load_table("screws.yml")
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
    table = load_table("dowels.yml")
    return StockDowels(
        diameters_mm=_lengths(table[units]["diameters"], units),
        lengths_mm=_lengths(table[units]["lengths"], units),
        source=table["source"],
    )


@cache
def load_woods() -> Mapping[str, Wood]:
    """Read the species, by name.

    >>> white_oak = load_woods()["oak white"]
    >>> round(float(white_oak.modulus.value)), white_oak.change["tangential"].status
    (12273, 'read')
    """
    table = load_table("species.yml")
    sources = {str(key): text for key, text in table["tables"].items()}
    return MappingProxyType(
        {name: _wood(name, row, sources) for name, row in table["woods"].items()}
    )


def _wood(name: str, row: Mapping[str, Any], sources: Mapping[str, str]) -> Wood:
    metric = row.get("metric", {})
    shrinkage, change = row.get("shrinkage", {}), row.get("change", {})
    return Wood(
        name=name,
        label=row["label"],
        group=row["group"],
        gravity=_gravity(row, sources),
        strength=_better(row, ("mor_psi", "psi"), ("mor_kpa", "kpa"), sources=sources),
        modulus=_better(row, ("moe_mpsi", "mpsi"), ("moe_mpa", "mpa"), sources=sources),
        hardness=_cell(row.get("strength", {}), "hardness_lbf", "lbf", sources=sources),
        shrinkage=_cells(shrinkage, ("radial", "tangential", "volume"), "percent", sources=sources),
        change=_cells(change, ("radial", "tangential"), "value", sources=sources),
        metric=MappingProxyType(
            {key: Fraction(str(metric[key])) for key in ("mor_kpa", "moe_mpa") if key in metric}
        ),
        notes=tuple(row[key] for key in ("strength note", "change note") if key in row),
    )


def _cell(
    row: Mapping[str, Any], key: str, unit: str, *, sources: Mapping[str, str]
) -> Published | None:
    """One cell of a species' row; its own status stands beside it where it differs."""
    if key not in row:
        return None
    factor, base = UNITS[unit]
    return Published(
        value=Fraction(str(row[key])) * factor,
        unit=base,
        source=sources[str(row["table"])],
        status=row.get(f"{key} status", row["status"]),
    )


def _cells(
    row: Mapping[str, Any], keys: tuple[str, ...], unit: str, *, sources: Mapping[str, str]
) -> Mapping[str, Published]:
    cells = ((key, _cell(row, key, unit, sources=sources)) for key in keys)
    return MappingProxyType({key: cell for key, cell in cells if cell})


def _better(
    row: Mapping[str, Any],
    inch: tuple[str, str],
    metric: tuple[str, str],
    *,
    sources: Mapping[str, str],
) -> Published | None:
    """The inch-pound figure, which is the table's own; its metric twin where only that was read."""
    own = _cell(row.get("strength", {}), *inch, sources=sources)
    twin = _cell(row.get("metric", {}), *metric, sources=sources)
    return twin if own and twin and own.status.startswith("from memory") else own


def _gravity(row: Mapping[str, Any], sources: Mapping[str, str]) -> Published | None:
    strength = row.get("strength", {})
    basic = _cell(strength, "sg_basic", "value", sources=sources)
    if basic is None:
        return _cell(strength, "sg12", "value", sources=sources)
    return replace(
        basic,
        value=gravity_from_basic(basic.value, SHOP_MOISTURE),
        source=f"{basic.source} (green volume), by Eq. 4-13",
        status=f"{basic.status}, computed",
    )


@cache
def load_panels() -> Mapping[str, Panel]:
    """Read the panels, by name.

    >>> load_panels()["mdf"].modulus.value
    Fraction(3590, 1)
    """
    rows = {name: row for name, row in load_table("panels.yml").items() if "density" in row}
    return MappingProxyType({name: _panel(name, row) for name, row in rows.items()})


def _panel(name: str, row: Mapping[str, Any]) -> Panel:
    across = row["modulus along"] if row["across"] == "same" else row.get("modulus across")
    return Panel(
        name=name,
        density=_published(row["density"]),
        modulus=_published(row["modulus along"]),
        modulus_across=_published(across) if across else None,
        strength=_published(row["strength along"]),
        is_plied=row["across"] == "plies",
    )


@cache
def load_lay_up() -> tuple[Published, Mapping[str, Any]]:
    """Read how plywood is taken to be laid up: stiffness across a ply to along it, and plies."""
    lay_up = load_table("panels.yml")["lay-up"]
    return _published(lay_up["across the ply"]), MappingProxyType(lay_up["plies"])


@cache
def load_loads() -> Mapping[str, Load]:
    """Read the usual loads, by the word that a plan names them with.

    >>> load_loads()["people"].person.value, load_loads()["books"].lasts
    (Fraction(1112, 1), True)
    """
    rows = load_table("loads.yml")["loads"]
    return MappingProxyType({word: _load(word, row) for word, row in rows.items()})


def _load(word: str, row: Mapping[str, Any]) -> Load:
    figure = _published(row)
    return Load(
        word=word,
        spread=figure if "psf" in row else None,
        person=figure if "n" in row else None,
        lasts=row["lasts"],
    )


_OF_FASTENERS: Final = {"fastener rules": "rules", "bolts": "bolts"}


@cache
def load_rules(section: str) -> Mapping[str, Published]:
    """Read single figures: `rules`, `tipping` and `movement` of loads, `fastener rules`, `bolts`.

    >>> load_rules("rules")["sag"].value
    Fraction(1, 144)
    """
    if section in _OF_FASTENERS:
        rows = load_table("fasteners.yml")[_OF_FASTENERS[section]]
    else:
        rows = load_table("loads.yml")[section]
    return MappingProxyType({key: _published(row) for key, row in rows.items()})


@cache
def load_withdrawal() -> Mapping[str, Withdrawal]:
    """Read the formulae of withdrawal, by fastener.

    >>> load_withdrawal()["wood screw"].coefficient
    Fraction(433, 4)
    """
    rows = load_table("fasteners.yml")["withdrawal"]
    return MappingProxyType(
        {
            name: Withdrawal(
                equation=row["equation"],
                coefficient=Fraction(str(row["coefficient"])),
                gravity_power=Fraction(str(row["g"])),
                diameter_power=Fraction(str(row["d"])),
                inch_lb=Fraction(str(row["inch_lb"])),
                source=row["source"],
                status=row["status"],
            )
            for name, row in rows.items()
        }
    )


@cache
def load_lateral() -> Mapping[str, Lateral]:
    """Read the formulae of lateral loads, by fastener.

    >>> load_lateral()["wood screw"].factors[0][3]
    Fraction(2317, 100)
    """
    table = load_table("fasteners.yml")
    return MappingProxyType(
        {
            name: Lateral(
                equation=row["equation"],
                diameter_power=Fraction(str(row["d"])),
                source=row["source"],
                status=row["status"],
                factors=tuple(
                    (k["group"], *(Fraction(str(k[key])) for key in ("from", "to", name)))
                    for k in table["lateral K"]
                ),
            )
            for name, row in table["lateral"].items()
        }
    )


@cache
def load_sizes() -> Mapping[str, Any]:
    """Read the sizes of lumber, panels and furniture, as the file has them."""
    return MappingProxyType(load_table("sizes.yml"))


def _published(row: Mapping[str, Any]) -> Published:
    """A row with one figure, by the key of its unit."""
    unit = next(key for key in UNITS if key in row)
    factor, base = UNITS[unit]
    return Published(
        value=Fraction(str(row[unit])) * factor,
        unit=base,
        source=row["source"],
        status=row["status"],
    )


def load_table(name: str) -> Any:
    """Read a file of the handbook as plain data."""
    return read_data_file("benchleaf.handbook", name)


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
