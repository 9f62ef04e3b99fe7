"""Typed values to the records of a plan.

Takes what the table's shapes made of a plan without errors, gives a `Plan`. Defaults are put in
here, once; after this nothing is text but names and prose.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any, Final

from benchleaf.findings import Place
from benchleaf.frames import Axis
from benchleaf.lengths import MM_PER_INCH
from benchleaf.reading.angles import build_splay, build_trims, build_turns
from benchleaf.reading.containers import KIND_KEY
from benchleaf.reading.groups import IN_GROUP, build_axis, build_group
from benchleaf.reading.plan import (
    Finish,
    Grain,
    Plan,
    PlanJoint,
    PlanPart,
    PlanShaping,
    PlanStep,
    Room,
    Row,
    ShopSettings,
    Stock,
    StockKind,
    Units,
)
from benchleaf.reading.stocking import build_offers

Values = Mapping[str, Any]

# Usual values of a shop: common practice, no source. A full kerf is 1/8 in, or 3 mm; a quarter of
# an inch, or 6 mm, trues a glue-up and is the least wall that does not break out.
_USUAL: Final[Mapping[Units, Mapping[str, Fraction]]] = {
    Units.INCH: {
        "kerf": MM_PER_INCH / 8,
        "allowance": MM_PER_INCH / 4,
        "wall": MM_PER_INCH / 4,
    },
    Units.MILLIMETRE: {"kerf": Fraction(3), "allowance": Fraction(6), "wall": Fraction(6)},
}


def build_plan(name: str, file: str, values: Values, *, places: Mapping[str, Place]) -> Plan:
    """Put a plan together from typed values in which nothing is missing.

    Args:
        name: The plan's name, from its file.
        file: The path shown in findings.
        values: What `plan_record` read.
        places: Path to place, for later findings.
    """
    units: Units = values["units"]
    overall = values["overall"]
    return Plan(
        name=name,
        file=file,
        title=values["plan"],
        author=values["by"],
        licence=values["licence"],
        summary=values.get("summary", ""),
        revision=values.get("revision", ""),
        units=units,
        sizes=dict(values.get("sizes", {})),
        overall=(overall["wide"], overall["deep"], overall["high"]),
        stock={key: _build_stock(key, value) for key, value in values["stock"].items()},
        parts={key: _build_part(key, value) for key, value in values["parts"].items()},
        joints=tuple(_build_joint(i, value) for i, value in enumerate(values.get("joints", ()))),
        finish=_build_finish(values["finish"]) if "finish" in values else None,
        shop=_build_shop(units, values.get("shop", {})),
        steps=tuple(_build_step(value) for value in values.get("steps", ())),
        notes=tuple(values.get("notes", ())),
        places=dict(places),
        room=_build_room(values["room"]) if "room" in values else None,
        stands=values.get("stands"),
        groups={
            key: build_group(key, value, row=_build_row(value))
            for key, value in values.get("groups", {}).items()
        },
        matched=values.get("grain matched", ()),
        one_piece=values.get("from one piece", ()),
    )


def _build_room(values: Values) -> Room:
    return Room(driest=values["driest"], dampest=values["dampest"], built_at=values.get("built at"))


def _build_stock(name: str, values: Values) -> Stock:
    kind = StockKind(values[KIND_KEY])
    if kind is StockKind.SHEET:
        sides = [(max(pair), min(pair)) for pair in values["sheet"]]
        # The largest stands for the stock where one size is asked for.
        length, width = max(sides, key=lambda size: (size[0] * size[1], size))
        thickness, lengths = values["thickness"], (length,)
    else:
        thickness, width = values["board"] if kind is StockKind.BOARD else (values["rod"],) * 2
        sold = values.get("lengths") or values["length"]
        lengths = tuple(sorted(set(sold)))
        has_more = bool(values.get("price") or values.get("rack"))
        sides = [(length, width) for length in (sold if has_more else sold[:1])]
    return Stock(
        name=name,
        kind=kind,
        material=values.get("of") or name,
        thickness_mm=thickness,
        width_mm=width,
        lengths_mm=lengths,
        # Sheets are sold with the grain along; where it does not matter the author says so.
        grain=values.get("grain", Grain.LONG),
        trim_mm=values.get("trim", Fraction(0)),
        offers=build_offers(sides, width, values),
    )


def _build_part(name: str, values: Values) -> PlanPart:
    wide, deep, high = (build_axis(axis, values) for axis in Axis)
    return PlanPart(
        name=name,
        stock=values["stock"],
        layers=values.get("layers"),
        is_edge_glued=values.get("edge glued", False),
        axes=(wide, deep, high),
        thickness_axis=values.get("thickness"),
        grain_axis=values.get("grain"),
        mirror=values.get("mirror", ()),
        row=_build_row(values),
        allowance=values.get("allowance"),
        note=values.get("note", ""),
        load=values.get("load"),
        turns=build_turns(values),
        splay=build_splay(values),
        trims=build_trims(values),
        group=values.get(IN_GROUP, ""),
        shaping=tuple(_build_shaping(i, value) for i, value in enumerate(values.get("shape", ()))),
    )


def _build_shaping(index: int, values: Values) -> PlanShaping:
    kind = values[KIND_KEY]
    told = values[kind]
    named = (told,) if isinstance(told, str) else told
    # An edge's item is the edges that it names: `all edges of top` is four.
    places = [one for item in named for one in ((item,) if isinstance(item, str) else item)]
    apart = {kind, KIND_KEY, "note"}
    return PlanShaping(
        index=index,
        kind=kind,
        places=tuple(dict.fromkeys(places)),
        choices={key: value for key, value in values.items() if key not in apart},
        note=values.get("note", ""),
    )


def _build_row(values: Values) -> Row | None:
    row = values.get("row")
    if row is None:
        return None
    return Row(
        axis=row["along"],
        count=row["count"],
        step=row.get("step"),
        gap=row.get("gap"),
        to=row.get("to"),
    )


def _build_joint(index: int, values: Values) -> PlanJoint:
    kind = values[KIND_KEY]
    first, second = values[kind]
    apart = {kind, KIND_KEY, "note"}
    return PlanJoint(
        index=index,
        kind=kind,
        first=first,
        second=second,
        choices={key: value for key, value in values.items() if key not in apart},
        note=values.get("note", ""),
    )


def _build_finish(values: Values) -> Finish:
    return Finish(material=values["of"], coats=values["coats"], grits=values.get("sand", ()))


def _build_step(values: Values) -> PlanStep:
    return PlanStep(
        title=values["title"], text=values.get("text", ""), covers=values.get("covers", ())
    )


def _build_shop(units: Units, values: Values) -> ShopSettings:
    usual = _USUAL[units]
    return ShopSettings(
        kerf_mm=values.get("kerf", usual["kerf"]),
        allowance_mm=values.get("allowance", usual["allowance"]),
        wall_mm=values.get("wall", usual["wall"]),
        glue=values.get("glue") or "PVA",
        haul_mm=values.get("haul", {}).get("size"),
        haul_kg=values.get("haul", {}).get("weight"),
        people=values.get("people", 1),
        hours=values.get("hours", 6),
        clamps=values.get("clamps"),
    )
