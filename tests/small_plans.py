"""Small plans for trial: parts as two corners and joints as the plan writes them, worked out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

import yaml

from benchleaf.findings import Finding
from benchleaf.forms import Prism
from benchleaf.frames import Axis, Box, Vector, direction_name, scale
from benchleaf.joinery import JOINT_WORDS, cut_joints
from benchleaf.joinery.records import Feature, Joinery, JointFit
from benchleaf.lengths import UnitName, format_length, parse_length
from benchleaf.piece.placing import place_parts
from benchleaf.reading import read_plan
from benchleaf.shaping import SHAPING_WORDS

FILE = "plans/small.plan.yml"
Given = Mapping[str, object]


def write_small_plan(given: Given) -> str:
    """Write a plan from parts given as corners.

    Args:
        given: `units`; `parts`, each `0 0 0 to 2-1/4 2-1/4 18` or a mapping with that under
            `box` and `of`, `grain`, `thickness`, `mirror`, `row` or `sheet` beside it; `joints`;
            `overall` where the parts do not settle it; `shop`; `room`.
    """
    units = str(given["units"])
    parts = {name: _spread(value) for name, value in given["parts"].items()}
    boxes = {name: _corners(str(part["box"]), units) for name, part in parts.items()}
    plan = {
        "plan": "Small plan",
        "by": "Fernhill community workshop",
        "licence": "CC BY 4.0",
        "units": units,
        "overall": given.get("overall") or _overall(boxes),
        "stock": {f"{name} stock": _stock(parts[name], boxes[name]) for name in parts},
        "parts": {name: _part(name, parts[name], boxes[name]) for name in parts},
        "joints": list(given.get("joints", ())),
    }
    plan |= {key: given[key] for key in ("shop", "room") if key in given}
    return yaml.safe_dump(plan, sort_keys=False)


def work_small_plan(given: Given) -> tuple[Joinery, tuple[Finding, ...]]:
    """Read a small plan, place it and cut its joints; reading and placing must say nothing."""
    plan, said = read_plan(write_small_plan(given), FILE, JOINT_WORDS, shaping=SHAPING_WORDS)
    assert [str(finding) for finding in said] == []
    assert plan is not None
    piece, said = place_parts(plan)
    assert [str(finding) for finding in said] == []
    assert piece is not None
    return cut_joints(piece)


def _spread(value: object) -> dict[str, object]:
    return dict(value) if isinstance(value, Mapping) else {"box": value}


def _corners(text: str, units: UnitName) -> Box:
    low, high = (
        tuple(parse_length(word, units) for word in corner.split()) for corner in text.split(" to ")
    )
    return Box(low, high)


def _mm(value: object) -> str:
    return f"{float(Fraction(value)):.9f}".rstrip("0").rstrip(".") + " mm"


def _overall(boxes: Mapping[str, Box]) -> dict[str, str]:
    return {axis.extent: _mm(max(box.high[axis] for box in boxes.values())) for axis in Axis}


def _stock(part: Mapping[str, object], box: Box) -> dict[str, object]:
    thickness, width, length = sorted(box.size)
    material = str(part.get("of", "pine"))
    if "thickness" in part:
        axis = next(axis for axis in Axis if axis.extent == part["thickness"])
        thickness, (width, length) = (
            box.size[axis],
            sorted(box.size[other] for other in Axis if other != axis),
        )
    if part.get("sheet"):
        side = _mm(length + width)
        return {
            "sheet": f"{side} x {side}",
            "thickness": _mm(thickness),
            "of": material,
            "grain": part["sheet"],
        }
    return {"board": f"{_mm(thickness)} x {_mm(width)}", "lengths": [_mm(length)], "of": material}


_PASSED = ("grain", "mirror", "row", "shape", "splay", "trim", "turn")


def _part(name: str, part: Mapping[str, object], box: Box) -> dict[str, object]:
    thin = min(Axis, key=lambda axis: (box.size[axis], axis))
    written: dict[str, object] = {
        "stock": f"{name} stock",
        "layers": 1,
        "thickness": part.get("thickness", thin.extent),
    }
    for axis in Axis:
        written[axis.low_face] = _mm(box.low[axis])
        written[axis.extent] = _mm(box.size[axis])
    return written | {key: part[key] for key in _PASSED if key in part}


def show_size(fit: JointFit, name: str, units: UnitName) -> str:
    """A size of a joint by its name, in the plan's units."""
    (size,) = (size for size in fit.sizes if size.name == name)
    return format_length(size.value_mm, units)


def show_shape(feature: Feature, units: UnitName) -> str:
    """A feature in the part's own axes: corners of a box, or mouth, way and sizes of a bore.

    Of a prism with straight sides, the corners of its outline and how far it is drawn out.
    """
    shape = feature.shape
    if isinstance(shape, Prism):
        points = [end for end, _ in shape.outline.steps()]
        corners = (shape.frame.outward((u, v, 0)) for u, v in points)
        shown = [_show_point(corner, units) for corner in corners]
        drawn_out = _show_point(scale(shape.frame.axes[2], shape.depth_mm), units)
        return f"{', '.join(shown)} by {drawn_out}"
    if isinstance(shape, Box):
        corners = (
            " ".join(format_length(Fraction(c), units) for c in end)
            for end in (shape.low, shape.high)
        )
        return " to ".join(corners)
    mouth = " ".join(format_length(Fraction(c), units) for c in shape.mouth)
    way = direction_name(shape.direction)
    sizes = f"{format_length(shape.diameter_mm, units)} x {format_length(shape.depth_mm, units)}"
    return f"{mouth} towards {way}, {sizes}"


def _show_point(point: Vector, units: UnitName) -> str:
    return " ".join(format_length(Fraction(part), units) for part in point)


def ways_off(fit: JointFit) -> list[str]:
    """The faces of the piece towards which the first copy comes off the second."""
    return sorted(
        direction_name(fit.contact.frame.outward_direction(way)) for way in fit.free_directions
    )


def show_findings(findings: Sequence[Finding]) -> list[str]:
    """Findings without their place, as a case file holds them."""
    return [f"{f.severity} {f.subject}: {f.message} / {f.remedy} [{f.code}]" for f in findings]
