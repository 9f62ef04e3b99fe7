"""How heavy the piece and its parts are, and where they balance.

Takes a survey, gives workings without a limit: a mass is told, not judged. Hardware, glue and
finish are left out.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checking.mass import Weight, weigh_marks
from benchleaf.checking.records import Quantity, Topic, Verdict, Working
from benchleaf.checking.survey import Survey
from benchleaf.frames import Axis
from benchleaf.handbook.materials import find_material
from benchleaf.joinery.records import Assembly


def reckon_weights(survey: Survey) -> Iterator[Working]:
    """Weigh the whole, its sub-assemblies and each part."""
    whole = weigh_marks(survey.weights, survey.piece.copies)
    if whole:
        yield _whole(survey, whole)
    told: dict[str, Working] = {}
    for assembly in _groups(survey.joinery.assembly):
        weight = weigh_marks(survey.weights, assembly.copies)
        if weight:
            working = _sub_assembly(survey, assembly, weight)
            told.setdefault(f"{working.title}, {survey.show(working.result)}", working)
    yield from told.values()
    for name in survey.piece.parts:
        own = [c.mark for c in survey.piece.copies_of(name) if c.mark in survey.weights]
        if own:
            yield _part(survey, name, own)


def _groups(assembly: Assembly) -> Iterator[Assembly]:
    """Sub-assemblies that are put together before they join the rest, the largest first."""
    for side in (assembly.moved, assembly.fixed):
        if side is None or side.moved is None:
            continue
        if side is assembly.moved:
            yield side
        yield from _groups(side)


def _balance(survey: Survey, weight: Weight) -> str:
    """Where something balances, from the piece's own left, front and floor."""
    low = survey.piece.overall.low
    words = []
    for axis, face in ((Axis.WIDE, "left"), (Axis.DEEP, "front"), (Axis.HIGH, "floor")):
        place = weight.centre_mm[axis] - float(low[axis])
        own = Quantity(symbol="", name="", value=place, unit="mm")
        words.append(f"{survey.show(own)} from the {face}")
    return f"{words[0]}, {words[1]} and {words[2]}"


def _mass(weight: Weight) -> Quantity:
    return Quantity(symbol="m", name="mass", value=weight.mass_kg, unit="kg")


def _whole(survey: Survey, weight: Weight) -> Working:
    lightest = min(survey.weights.values(), key=lambda own: own.mass_kg)
    return Working(
        topic=Topic.WEIGHT,
        code="",
        title="Mass of the piece",
        subject="plan",
        marks=(),
        formula="m = sum of volume × density; centre = sum of m × place / m",
        inputs=(
            Quantity(symbol="", name="copies", value=len(survey.weights), unit=""),
            Quantity(symbol="", name="lightest of them", value=lightest.mass_kg, unit="kg"),
        ),
        result=_mass(weight),
        limit=None,
        verdict=Verdict.TOLD,
        words=f"The piece weighs {survey.show(_mass(weight))} and balances "
        f"{_balance(survey, weight)}.",
        note="Of the finished solids, at 12 % moisture, without hardware, glue and finish.",
    )


def _sub_assembly(survey: Survey, assembly: Assembly, weight: Weight) -> Working:
    group = survey.piece.group_of(assembly.copies[0])
    is_group = group is not None and set(group.marks) == set(assembly.copies)
    names = list(dict.fromkeys(survey.piece.copies[mark].part for mark in assembly.copies))
    # chosen: a title names three parts; the marks tell the rest.
    shown = ", ".join(names[:3]) + (" and others" if len(names) > 3 else "") + ", together"
    if group is not None and is_group:
        shown = group.title
    return Working(
        topic=Topic.WEIGHT,
        code="",
        title=f"Mass of {shown}",
        subject=f"groups.{group.group}" if group is not None and is_group else "plan",
        marks=assembly.copies,
        formula="m = sum of volume × density",
        inputs=(Quantity(symbol="", name="copies", value=len(assembly.copies), unit=""),),
        result=_mass(weight),
        limit=None,
        verdict=Verdict.TOLD,
        words=f"Together they weigh {survey.show(_mass(weight))} and balance "
        f"{_balance(survey, weight)}.",
    )


def _one(name: str, marks: list[str]) -> str:
    return name if len(marks) == 1 else f"one {name}"


def _part(survey: Survey, name: str, marks: list[str]) -> Working:
    weight = survey.weights[marks[0]]
    material = find_material(survey.piece.parts[name].stock.material)
    assert material is not None  # noqa: S101 - what is weighed has a material
    density = material.density
    return Working(
        topic=Topic.WEIGHT,
        code="",
        title=f"Mass of {_one(name, marks)}",
        subject=f"parts.{name}",
        marks=tuple(marks),
        formula="m = volume × density",
        inputs=(
            Quantity(symbol="", name="volume", value=weight.volume_mm3 * 1e-9, unit="m3"),
            Quantity(
                symbol="",
                name="density at 12 % moisture",
                value=density.value,
                unit="kg/m3",
                source=density.cited,
            ),
        ),
        result=_mass(weight),
        limit=None,
        verdict=Verdict.TOLD,
        words=f"{_one(name, marks)} weighs {survey.show(_mass(weight))}.",
    )
