"""What kinds that work edges have in common: one profile, cut along each edge named.

Takes a part on the bench and a profile, gives the cuts. Knows no single kind.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.frames import FACES, Axis
from benchleaf.outlines import Outline, Segment
from benchleaf.reading.places import edges_of
from benchleaf.shaping.bench import Workpiece, sizes
from benchleaf.shaping.edges import (
    CannotFollowError,
    around,
    corner_profile,
    cut_along,
    find_edge,
)
from benchleaf.shaping.records import Shaped, ShapedCut, ShapedForm, ShapedSize


def work_edges(
    work: Workpiece, role: str, size: ShapedSize, *, line: tuple[Segment, ...]
) -> Shaped:
    """Cut a profile along every edge named.

    Args:
        work: The part.
        role: Trade word.
        size: The one size of the profile: how far it comes in on each face.
        line: The profile's line, from (width, 0) to (0, width).
    """
    width = size.value_mm
    profile = corner_profile((width, Fraction(0)), line)
    cuts = []
    rims = dict(_rims_among(work))
    rounds = {edge for face in rims for edge in edges_of(face)}
    for name in (*rims, *(edge for edge in work.places if edge not in rounds)):
        try:
            if name in rims:
                form: ShapedForm = around(rims[name], name, profile, work.body, is_hole=False)
                shows = name
            else:
                _need_width(work, name, size)
                edge = find_edge(name, work.body, work.lines)
                form, shows = cut_along(edge, profile), showing_face(edge.along)
        except CannotFollowError as fault:
            where = f"rim of the {name}" if name in rims else f"edge `{name}`"
            raise work.refuse(
                "F104",
                f"the {role} cannot follow the {where}: {fault}",
                "Needed: an edge that the cutter can follow. Leave this one out, or make it "
                "smaller.",
            ) from fault
        cuts.append(_cut(work, role, form, face=shows, size=size))
    return Shaped(cuts=tuple(cuts))


def _cut(work: Workpiece, role: str, form: ShapedForm, *, face: str, size: ShapedSize) -> ShapedCut:
    return ShapedCut(
        kind=work.chosen.kind,
        index=work.chosen.index,
        role=role,
        form=form,
        keeps=False,
        face=face,
        sizes=(size,),
        places=(),
    )


def _rims_among(work: Workpiece) -> Iterator[tuple[str, Outline]]:
    """Faces that were cut to an outline and of which all edges are named, with their outlines."""
    outlines = dict(work.rims)
    for face, (axis, _) in FACES.items():
        if axis in outlines and set(edges_of(face)) <= set(work.places):
            yield face, outlines[axis]


def _need_width(work: Workpiece, edge: str, size: ShapedSize) -> None:
    for face in edge.split():
        extent = work.extent(FACES[face][0])
        if size.value_mm >= extent:
            message = (
                f"{size.name} {work.show(size.value_mm)} is as much as the part has there, "
                f"{work.show(extent)} {FACES[face][0].extent}"
            )
            needed = f"Needed: less than {work.show(extent)}."
            raise work.refuse("F102", message, needed, option=size.name)


def showing_face(axis: Axis) -> str:
    """The face that a thing drawn out along an axis is best looked at on: front, top or right."""
    return axis.low_face if axis is Axis.DEEP else axis.high_face


def the_size(name: str, value: Fraction) -> ShapedSize:
    """One size by its name."""
    (one,) = sizes(**{name: value})
    return one
