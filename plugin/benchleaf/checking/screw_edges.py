"""No screw stands so near an edge or an end that the wood splits.

What:
    A screw's hole is nearer to an edge of its part than one and a quarter shanks, or in solid wood
    nearer to an end than five.

Why:
    Wood splits along the grain from a screw near its end, and breaks out beside one near its edge.

Limit:
    2.5 shank diameters to the edge, 10 to the end of solid wood, where the hole is bored. What is
    nearer is told; nearer than half of it is a warning.

Source:
    NDS commentary on wood screws (from memory); half of it as the warning is chosen: a No. 8 screw
    in the middle of an 18 mm edge is everyday practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from benchleaf.checking.records import Check, Quantity, Topic, Verdict, Working
from benchleaf.checking.stays import largest_axis
from benchleaf.checking.survey import Survey
from benchleaf.forms import Bore
from benchleaf.frames import Axis
from benchleaf.handbook.materials import find_material
from benchleaf.handbook.tables import load_rules
from benchleaf.joinery.records import Feature
from benchleaf.piece.records import Part

_HOLES = frozenset({"clearance hole", "pilot hole"})
# chosen: half of the distance that a design code asks for; see the module's docstring.
_SHORT = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class _Near:
    """A screw's hole and the face nearest to it."""

    mark: str
    part: Part
    joint: int
    distance_mm: float
    is_end: bool
    shank_mm: float

    @property
    def needed_mm(self) -> float:
        key = "end distance" if self.is_end else "edge distance"
        return self.shank_mm * float(load_rules("fastener rules")[key].value)


def reckon_edges(survey: Survey) -> Iterator[Working]:
    """Reckon how near to edges and ends screws stand: of each joint and part, the nearest."""
    shanks = {
        fit.joint: float(item.diameter_mm)
        for fit in survey.joinery.fits
        for item in fit.hardware
        if item.kind == "wood screw"
    }
    held: dict[tuple[int, str, bool], list[_Near]] = {}
    for mark, cut in survey.joinery.copies.items():
        for feature in cut.features:
            if feature.role in _HOLES and feature.joint in shanks:
                part = survey.piece.parts[cut.part]
                for near in _near(mark, part, feature, shank_mm=shanks[feature.joint]):
                    held.setdefault((near.joint, part.name, near.is_end), []).append(near)
    for group in held.values():
        worst = min(group, key=lambda near: near.distance_mm - near.needed_mm)
        if worst.distance_mm < worst.needed_mm:
            yield _working(survey, worst, tuple(dict.fromkeys(near.mark for near in group)))


def _near(mark: str, part: Part, feature: Feature, *, shank_mm: float) -> Iterator[_Near]:
    """The nearest edge and, in solid wood, the nearest end of one hole."""
    bore = feature.shape
    if not isinstance(bore, Bore):
        return
    material = find_material(part.stock.material)
    is_solid = material is not None and material.panel is None
    along = largest_axis(bore.direction)
    for axis in Axis:
        is_end = axis == part.grain_axis
        if axis == along or (is_end and not is_solid):
            continue
        place, size = float(bore.mouth[axis]), float(part.box.size[axis])
        yield _Near(
            mark=mark,
            part=part,
            joint=feature.joint,
            distance_mm=min(place, size - place),
            is_end=is_end,
            shank_mm=shank_mm,
        )


def _working(survey: Survey, near: _Near, marks: tuple[str, ...]) -> Working:
    rules = load_rules("fastener rules")
    rule = rules["end distance" if near.is_end else "edge distance"]
    where = "end" if near.is_end else "edge"
    least = Quantity(symbol="", name="at least", value=near.needed_mm, unit="mm", source=rule.cited)
    found = Quantity(symbol="", name=f"to the {where}", value=near.distance_mm, unit="mm")
    is_over = near.distance_mm < near.needed_mm * _SHORT
    told = f"screws stand {survey.show(found)} from the {where} of {near.part.name}"
    return Working(
        topic=Topic.FASTENERS,
        code="K227",
        title=f"Screws near the {where} of {near.part.name}",
        subject=f"joints[{near.joint}]",
        marks=marks,
        formula=f"{float(rule.value):g} × shank",
        inputs=(Quantity(symbol="D", name="shank", value=near.shank_mm, unit="mm"),),
        result=found,
        limit=least,
        verdict=Verdict.OVER if is_over else Verdict.WATCH,
        words=told if is_over else f"{told}; {survey.show(least)} would be better.",
        remedy=f"Needed: at least {survey.show(least)}. Move them by `inset` or `offset`, or take "
        "a thinner screw.",
    )


CHECK = Check(
    code="K227",
    name="screw_edges",
    title="No screw stands so near an edge or an end that the wood splits.",
    reckon=reckon_edges,
)
