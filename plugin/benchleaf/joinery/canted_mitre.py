"""A mitre of sides that lean, or that meet at another angle than square: a hopper, an octagon.

Takes a Marking of two parts whose ends are trimmed to one plane, gives the joint: the saw's
settings for each part. The cuts themselves are the parts' trims.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.frames import Vector, dot
from benchleaf.joinery.marking import OFF, Marking, N, U, V, unit
from benchleaf.joinery.records import JointFit, JointSize
from benchleaf.piece.records import ContactKind, Trim
from benchleaf.piece.trim_angles import TrimAngles, trim_angles

# chosen: far less than a saw is set to, far more than floats lose; cosine short of 1.
_ALIKE = 1e-7


def fit_canted_mitre(marking: Marking) -> JointFit:
    """Work out a mitre whose ends are cut by trims."""
    marking.need(ContactKind.FACE)
    ways = (unit(N, True), unit(N, False))
    cuts = [
        (mark, trim_angles(marking.part_of(mark), _trim(marking, mark, way)))
        for mark, way in zip(marking.marks, ways, strict=True)
    ]
    glued = marking.is_yes("glue", usually=True)
    level = (unit(axis, is_high) for axis in (U, V) for is_high in (False, True))
    return marking.made(
        ((), ()),
        numbers=(tuple(_sizes(marking, cuts)), ()),
        free=(OFF, *level),
        glued_mm2=marking.contact.area_mm2 if glued else Fraction(0),
    )


def _trim(marking: Marking, mark: str, way: Vector) -> Trim:
    """The trim of a copy that lies on the touching face."""
    outward = marking.contact.frame.outward_direction(way)
    own = marking.bench.piece.copies[mark].frame.inward_direction(outward)
    for trim in marking.part_of(mark).trims:
        if float(dot(trim.normal, own)) > 1 - _ALIKE:
            return trim
    part = marking.part_of(mark).name
    raise marking.refuse(
        "J361",
        f"the end of {part} that meets {_other(marking, mark)} is not cut to their corner",
        "Needed: both parts trimmed to one another, such as `trim: {left: mitre with end.left}`; "
        "or a `butt`.",
    )


def _other(marking: Marking, mark: str) -> str:
    return marking.second if mark == marking.contact.first else marking.first


def _sizes(marking: Marking, cuts: list[tuple[str, TrimAngles]]) -> Iterator[JointSize]:
    shown = [(round(own.gauge_deg, 3), round(own.tilt_deg, 3)) for _, own in cuts]
    for index, (mark, own) in enumerate(cuts):
        if index and shown[0] == shown[1]:
            return
        of = "" if shown[0] == shown[1] else f" of {marking.part_of(mark).name}"
        yield _angle(f"mitre gauge{of}", own.gauge_deg, ("off square", "from the blade"))
        yield _angle(f"blade tilt{of}", own.tilt_deg, ("from upright", "to the table"))


def _angle(name: str, angle_deg: float, ways: tuple[str, str]) -> JointSize:
    """One angle, with its complement in the rule."""
    return JointSize(
        name=name,
        value_mm=Fraction(round(angle_deg * 1000), 1000),
        rule=f"{ways[0]}; {90 - angle_deg:.2f} degrees {ways[1]}",
        source="worked out",
        is_angle=True,
    )
