"""Pieces built by hand for tests: boxes in, a placed Piece out, with no plan text to read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from benchleaf.findings import Place
from benchleaf.frames import Axis, Box
from benchleaf.piece.placing import place_solved
from benchleaf.piece.records import Piece
from benchleaf.piece.solved import SolvedJoint, SolvedPart, SolvedPlan
from benchleaf.reading.expressions import Expression, Literal
from benchleaf.reading.plan import (
    AxisSpec,
    Grain,
    Plan,
    PlanPart,
    ShopSettings,
    Stock,
    StockKind,
    Units,
)

HERE = Place(file="plans/test.plan.yml", line=1, column=1)
_ZERO = Expression(term=Literal(Fraction(0), True), text="0", place=HERE, path="overall")


def box(*sides: float) -> Box:
    """A box from left, front, bottom, right, back, top in whole or rational mm."""
    a, b, c, d, e, f = (Fraction(side) for side in sides)
    return Box((a, b, c), (d, e, f))


def stock(name: str, thickness: Fraction, *, kind: StockKind = StockKind.SHEET) -> Stock:
    return Stock(
        name=name,
        kind=kind,
        material="birch plywood",
        thickness_mm=thickness,
        width_mm=Fraction(1220) if kind is StockKind.SHEET else thickness,
        lengths_mm=(Fraction(2440),),
        grain=Grain.LONG,
        trim_mm=Fraction(0),
    )


def build_piece(
    parts: Mapping[str, Box],
    joints: Sequence[tuple[str, str, str]] = (),
    *,
    mirror: Mapping[str, tuple[Axis, ...]] | None = None,
    rows: Mapping[str, tuple[Axis, Sequence[int]]] | None = None,
    choices: Mapping[int, Mapping[str, object]] | None = None,
    units: Units = Units.MILLIMETRE,
) -> Piece:
    """Place parts given as boxes; joints are (kind, first, second)."""
    lines = {name: stock(name, _thickness(solid)) for name, solid in parts.items()}
    solved = {
        name: _solved_part(name, solid, (mirror or {}).get(name, ()), (rows or {}).get(name))
        for name, solid in parts.items()
    }
    plan = _plan(parts, lines, units)
    overall = _overall(parts, mirror or {})
    return place_solved(
        SolvedPlan(
            plan=plan,
            sizes={},
            overall=overall,
            parts=solved,
            joints=tuple(
                SolvedJoint(
                    index=index,
                    kind=kind,
                    first=first,
                    second=second,
                    choices=(choices or {}).get(index, {}),  # type: ignore[arg-type]
                    note="",
                )
                for index, (kind, first, second) in enumerate(joints)
            ),
        )
    )


def _thickness(solid: Box) -> Fraction:
    return Fraction(min(solid.size))


def _overall(parts: Mapping[str, Box], mirror: Mapping[str, tuple[Axis, ...]]) -> Box:
    high = [max(solid.high[axis] for solid in parts.values()) for axis in range(3)]
    for name, axes in mirror.items():
        for axis in axes:
            # Mirrored parts are given on the low side of a piece 1000 mm in that extent.
            high[axis] = max(Fraction(1000), Fraction(parts[name].high[axis]))
    return Box((Fraction(0),) * 3, (high[0], high[1], high[2]))


def _solved_part(
    name: str, solid: Box, mirror: tuple[Axis, ...], row: tuple[Axis, Sequence[int]] | None
) -> SolvedPart:
    order = sorted(Axis, key=lambda axis: (solid.size[axis], axis))
    return SolvedPart(
        name=name,
        stock=name,
        box=solid,
        layers=1,
        thickness_axis=order[0],
        grain_axis=order[2],
        allowance_mm=Fraction(0),
        row_axis=row[0] if row else None,
        row_offsets_mm=tuple(Fraction(offset) for offset in row[1]) if row else (Fraction(0),),
        mirror=mirror,
    )


def _plan(parts: Mapping[str, Box], lines: Mapping[str, Stock], units: Units) -> Plan:
    empty = AxisSpec()
    return Plan(
        name="test",
        file="plans/test.plan.yml",
        title="Test piece",
        author="Fernhill community workshop",
        licence="CC BY 4.0",
        summary="",
        revision="",
        units=units,
        sizes={},
        overall=(_ZERO, _ZERO, _ZERO),
        stock=lines,
        parts={
            name: PlanPart(
                name=name,
                stock=name,
                layers=None,
                axes=(empty, empty, empty),
                thickness_axis=None,
                grain_axis=None,
                mirror=(),
                row=None,
                allowance=None,
                note="",
            )
            for name in parts
        },
        joints=(),
        finish=None,
        shop=ShopSettings(
            kerf_mm=Fraction(3), allowance_mm=Fraction(6), wall_mm=Fraction(6), glue="PVA"
        ),
        steps=(),
        notes=(),
        places={},
    )
