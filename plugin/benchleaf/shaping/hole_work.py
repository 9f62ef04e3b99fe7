"""What kinds that cut holes through a face have in common: the outline, its depth, its eased rim.

Takes a part on the bench and an outline, gives the cuts. Knows no single kind.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from benchleaf.frames import FACES, Axis
from benchleaf.outlines import Arc, Line, Outline, Point, limits, polygon
from benchleaf.reading.vocabulary import Option, OptionType
from benchleaf.shaping.bench import Workpiece, describe_place, face_axes, opposite
from benchleaf.shaping.drawing_out import into, through
from benchleaf.shaping.edge_work import the_size
from benchleaf.shaping.edges import CannotFollowError, around, corner_profile
from benchleaf.shaping.records import ShapedCut, ShapedSize

EASED_ROLE: Final = "eased rim"
"""Role of the round-over along the rim of a hole."""
AT = Option(
    name="at",
    type=OptionType.PAIR,
    help="Where its middle is on the face: from the left (on an end from the front) x from the "
    "bottom (on top and bottom from the front); the middle of the face when left out.",
)
DEPTH = Option(
    name="depth", type=OptionType.LENGTH, help="How deep it goes; through when left out."
)


def face_size(work: Workpiece) -> tuple[Fraction, Fraction]:
    """The two extents of the face named."""
    u, v = face_axes(work.face)
    return work.extent(u), work.extent(v)


def middle_of(work: Workpiece) -> tuple[Fraction, Fraction]:
    """Where the middle is: as the author says, else the middle of the face."""
    wide, high = face_size(work)
    return work.place("at") or (wide / 2, high / 2)


def need_inside(work: Workpiece, outline: Outline, *, may_touch: bool = False) -> None:
    """Refuse an outline that runs out of its face."""
    (u0, v0), (u1, v1) = limits(outline)
    wide, high = face_size(work)
    spare = min(u0, v0, wide - u1, high - v1)
    # chosen: a curve's farthest point is known to a hundredth of a millimetre.
    if spare >= Fraction(-1, 100) if may_touch else spare > 0:
        return
    u, v = face_axes(work.face)
    message = (
        f"it lies from {work.show(u0)} to {work.show(u1)} {u.extent} and from {work.show(v0)} to "
        f"{work.show(v1)} {v.extent} on the {work.face} face, which is {work.show(wide)} x "
        f"{work.show(high)}"
    )
    inside = "on the face" if may_touch else "inside the face, with wood all round"
    needed = f"Needed: {inside}; places are from the {describe_place(work.face)}."
    raise work.refuse("F102", message, needed)


def rounded(centre: Point, size: Point, radius: Fraction) -> Outline:
    """A rectangle with round corners, anticlockwise; square ones where the radius is 0."""
    (x, y), (wide, high) = centre, size
    x0, x1, y0, y1 = x - wide / 2, x + wide / 2, y - high / 2, y + high / 2
    if not radius:
        return polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    r = radius
    turns = (
        ((x1 - r, y0), (x1, y0 + r), (x1 - r, y0 + r)),
        ((x1, y1 - r), (x1 - r, y1), (x1 - r, y1 - r)),
        ((x0 + r, y1), (x0, y1 - r), (x0 + r, y1 - r)),
        ((x0, y0 + r), (x0 + r, y0), (x0 + r, y0 + r)),
    )
    segments: list[Line | Arc] = []
    at: Point = (x0 + r, y0)
    for begin, end, middle in turns:
        if begin != at:
            segments.append(Line(begin))
        segments.append(Arc(end, middle, (r, r), is_clockwise=False))
        at = end
    return Outline((x0 + r, y0), tuple(segments))


def cut_hole(
    work: Workpiece,
    role: str,
    outline: Outline,
    *,
    sizes: tuple[ShapedSize, ...],
    has_template: bool = True,
) -> ShapedCut:
    """The hole that an outline on the face named makes, as deep as the author says."""
    axis = FACES[work.face][0]
    depth = work.length("depth")
    if depth is not None and depth >= work.extent(axis):
        message = f"a depth of {work.show(depth)} goes through {work.show(work.extent(axis))}"
        needed = f"Needed: less than {work.show(work.extent(axis))}, or no `depth` to go through."
        raise work.refuse("F102", message, needed, option="depth")
    form = (
        into(work.face, outline, depth, work.body)
        if depth
        else through(work.face, outline, work.body)
    )
    return ShapedCut(
        kind=work.chosen.kind,
        index=work.chosen.index,
        role=role,
        form=form,
        keeps=False,
        face=work.face,
        sizes=(*sizes, the_size("deep", depth)) if depth else sizes,
        places=middle_places(work),
        template=outline if has_template else None,
    )


def middle_places(work: Workpiece) -> tuple[tuple[Axis, Fraction], ...]:
    """The middle of a hole as places to set out."""
    return tuple(zip(face_axes(work.face), middle_of(work), strict=True))


def ease_rim(work: Workpiece, outline: Outline, radius: Fraction) -> tuple[ShapedCut, ...]:
    """Round over the rim of a hole, on both faces where it goes through."""
    line = Arc((Fraction(0), radius), (radius, radius), (radius, radius), is_clockwise=True)
    profile = corner_profile((radius, Fraction(0)), (line,))
    faces = (work.face,) if work.length("depth") else (work.face, opposite(work.face))
    cuts = []
    for face in faces:
        try:
            form = around(outline, face, profile, work.body)
        except CannotFollowError as fault:
            message = f"its rim cannot be rounded over: {fault}"
            raise work.refuse("F104", message, "Make the round-over smaller.") from fault
        cuts.append(
            ShapedCut(
                kind=work.chosen.kind,
                index=work.chosen.index,
                role=EASED_ROLE,
                form=form,
                keeps=False,
                face=face,
                sizes=(the_size("radius", radius),),
                places=(),
            )
        )
    return tuple(cuts)
