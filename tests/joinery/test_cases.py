"""Every case of every joint family: a small plan in, sizes, cuts, numbers or findings out."""

from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

import pytest
import yaml

from benchleaf.joinery import JOINT_KINDS
from benchleaf.joinery.records import Joinery, JointFit, SettingOut
from benchleaf.lengths import MM_PER_INCH, UnitName, format_length
from small_plans import show_findings, show_shape, ways_off, work_small_plan

CASES = Path(__file__).parents[1] / "cases"
_EXPECTATIONS = frozenset(
    {
        "bearing in2", "comes off", "features", "glue area", "glued", "hardware", "joint",
        "set out", "sizes",
    }
)  # fmt: skip


def _load() -> list[tuple[str, Mapping]]:
    return [
        (code, case)
        for code in JOINT_KINDS
        for case in yaml.safe_load(
            (CASES / f"{code.replace(' ', '_')}.yml").read_text(encoding="utf-8")
        )
    ]


@pytest.mark.parametrize(
    ("code", "case"), [pytest.param(code, c, id=f"{code}: {c['name']}") for code, c in _load()]
)
def test_case(code: str, case: Mapping):
    joinery, findings = work_small_plan(case["given"])
    # Findings of the engine as a whole, J19x, are not the families'.
    said = [finding for finding in findings if not finding.code.startswith("J19")]
    assert show_findings(said) == case.get("findings", [])
    assert "expect" in case or "findings" in case
    if "expect" in case:
        expected = case["expect"]
        assert case["source"]
        assert set(expected) <= _EXPECTATIONS
        fits = [fit for fit in joinery.fits if fit.joint == expected.get("joint", 0)]
        assert fits
        assert fits[0].kind == code
        _check(joinery, fits[0], expected, units=case["given"]["units"])


def _check(joinery: Joinery, fit: JointFit, expected: Mapping, *, units: UnitName) -> None:
    shown = {size.name: format_length(size.value_mm, units) for size in fit.sizes}
    sizes = expected.get("sizes", {})
    assert {name: shown.get(name) for name in sizes} == sizes
    for mark, features in expected.get("features", {}).items():
        found = [f"{f.role}: {show_shape(f, units)}" for f in joinery.copies[mark].features]
        assert sorted(found) == sorted(features)
    if "hardware" in expected:
        items = [item for each in joinery.fits for item in each.hardware]
        assert [f"{i.count} {i.kind} {i.size}" for i in items] == expected["hardware"]
    if "comes off" in expected:
        assert ways_off(fit) == expected["comes off"]
    if "glued" in expected:
        assert fit.is_glued == expected["glued"]
    if "set out" in expected:
        assert [_show(row, units) for row in fit.setting_out] == expected["set out"]
    _check_areas(fit, expected)


def _check_areas(fit: JointFit, expected: Mapping) -> None:
    if "glue area" in expected:
        assert fit.glue_area_mm2 == Fraction(expected["glue area"]) * MM_PER_INCH**2
    if "bearing in2" in expected:
        (area,) = (size.value_mm for size in fit.sizes if size.is_area)
        assert float(area / MM_PER_INCH**2) == pytest.approx(expected["bearing in2"], abs=5e-5)


def _show(row: SettingOut, units: UnitName) -> str:
    by = f" ({row.spacer})" if row.spacer else ""
    distance = format_length(row.distance_mm, units)
    return f"{row.copy}: {row.what}, {distance} from {row.reference}{by}"
