"""Typed values to the record of a shop.

Takes what the table's shapes made of a shop file without errors, gives a `Shop`. What is left out
keeps its usual value, once and here.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any, Final

from benchleaf.shops.records import (
    BandSaw,
    CircularSaw,
    DrillPress,
    Jointer,
    MitreSaw,
    Planer,
    Shop,
    TableSaw,
)

Values = Mapping[str, Any]

# The half of the square root of two, to four places.
_COSINE_OF_45: Final = Fraction(7071, 10000)


def build_shop(name: str, values: Values) -> Shop:
    """Put a shop together from typed values in which nothing is wrong.

    Args:
        name: The shop's name, from its file.
        values: What `SHOP` read.
    """
    shop = Shop(
        name=name,
        title=values["shop"],
        router_bits_mm=_rising(values, "router bits"),
        drill_bits_mm=_rising(values, "drill bits"),
        dowel_jig_mm=_rising(values, "dowel jig"),
        clamps=_build_clamps(values),
        is_assumed="machines" not in values,
    )
    return shop if shop.is_assumed else _with_machines(shop, values["machines"])


def _rising(values: Values, key: str) -> tuple[Fraction, ...] | None:
    return tuple(sorted(values[key])) if key in values else None


def _build_clamps(values: Values) -> Any:
    if "clamps" not in values:
        return None
    return tuple(sorted(values["clamps"], key=lambda own: (own.opening_mm, own.count)))


def _with_machines(shop: Shop, machines: Values) -> Shop:
    return Shop(
        name=shop.name,
        title=shop.title,
        table_saw=_build_table_saw(machines["table saw"]) if "table saw" in machines else None,
        mitre_saw=_build_mitre_saw(machines["mitre saw"]) if "mitre saw" in machines else None,
        circular_saw=_build(CircularSaw, machines, "circular saw"),
        band_saw=_build(BandSaw, machines, "band saw"),
        drill_press=_build(DrillPress, machines, "drill press"),
        planer=_build(Planer, machines, "planer"),
        jointer=_build(Jointer, machines, "jointer"),
        has_drill=machines.get("drill", False),
        has_router=machines.get("router", False),
        has_router_table=machines.get("router table", False),
        has_jigsaw=machines.get("jigsaw", False),
        has_sander=machines.get("sander", False),
        has_biscuit_jointer=machines.get("biscuit jointer", False),
        router_bits_mm=shop.router_bits_mm,
        drill_bits_mm=shop.drill_bits_mm,
        dowel_jig_mm=shop.dowel_jig_mm,
        clamps=shop.clamps,
        is_assumed=False,
    )


def _build(machine: Any, machines: Values, key: str) -> Any:
    """A machine all of whose capacities are lengths: `wide` fills `wide_mm`."""
    if key not in machines:
        return None
    return machine(**{f"{name}_mm": value for name, value in machines[key].items()})


def _build_table_saw(values: Values) -> TableSaw:
    told: dict[str, Any] = {}
    plain = {"rip": "rip_mm", "rip left": "rip_left_mm", "height": "height_mm", "dado": "dado_mm"}
    plain |= {"tilt": "tilt_deg", "gauge": "gauge_deg", "carries": "carries_kg"}
    told |= {field: values[key] for key, field in plain.items() if key in values}
    if "sled" in values:
        told["sled_mm"], told["sled_deep_mm"] = values["sled"]
    if "panel" in values:
        told["panel_mm"] = (max(values["panel"]), min(values["panel"]))
    return TableSaw(**told)


def _build_mitre_saw(values: Values) -> MitreSaw:
    told = {f"{key.replace(' ', '_')}_mm": value for key, value in values.items()}
    if "wide" in values:
        told.setdefault("wide_at_45_mm", values["wide"] * _COSINE_OF_45)
        told["rigid_mm"] = min(told.get("rigid_mm", MitreSaw().rigid_mm), values["wide"])
    return MitreSaw(**told)
