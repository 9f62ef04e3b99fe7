"""What a part sheet has to say about shaping: where it lies, on which faces it shows, its sizes.

Takes a cut copy, gives spots as joints' features have them, and the points of its curves in words.
Must not know views or paper.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from benchleaf.drawing.part_features import Face, Group, Spot
from benchleaf.drawing.prism_words import exact_box, exact_mm, round_of
from benchleaf.forms import Bore, Prism, box_round
from benchleaf.frames import FACES, Axis, Box
from benchleaf.joinery.records import CutCopy
from benchleaf.lengths import UnitName, format_length
from benchleaf.shaping.bench import describe_place
from benchleaf.shaping.hole_work import EASED_ROLE
from benchleaf.shaping.records import ShapedCut, Sweep
from benchleaf.shaping.wording import describe_shaped, goes_through

# chosen: so many points fill a line of the sheet.
_POINTS_IN_LINE: Final = 8


def read_shaped_spots(cut: CutCopy, body: Box, units: UnitName) -> tuple[Spot, ...]:
    """Read the shaping of a cut copy.

    Args:
        cut: The copy to draw.
        body: The part as placed, shoulder to shoulder, in its own axes.
        units: Unit that sizes are written in.
    """
    eased = {one.index: one for one in cut.shaping if one.role == EASED_ROLE}
    return tuple(
        _spot(one, body, units, eased.get(one.index))
        for one in cut.shaping
        if one.role != EASED_ROLE
    )


def _spot(cut: ShapedCut, body: Box, units: UnitName, eased: ShapedCut | None) -> Spot:
    words = describe_shaped(cut, body, units)
    if eased:
        words += f", {describe_shaped(eased, body, units)}"
    whole = _box_round(cut)
    axis, diameter = _round(cut)
    return Spot(
        role=cut.role,
        box=whole.meet(body),
        faces=_faces(cut, body, whole),
        words=words,
        mates=(),
        round_axis=axis,
        diameters_mm=(diameter,) if diameter else (),
        adds=False,
        places=cut.places,
    )


def _faces(cut: ShapedCut, body: Box, whole: Box) -> tuple[Face, ...]:
    axis, is_high = FACES[cut.face]
    if goes_through(cut, body, whole):
        return ((axis, is_high), (axis, not is_high))
    return ((axis, is_high),)


def _round(cut: ShapedCut) -> tuple[Axis | None, Fraction | None]:
    """Axis and diameter of what is round: a hole, or a round outline."""
    if isinstance(cut.form, Bore):
        return FACES[cut.face][0], cut.form.diameter_mm
    found = round_of(cut.form) if isinstance(cut.form, Prism) else None
    return found or (None, None)


def _box_round(cut: ShapedCut) -> Box:
    if not isinstance(cut.form, Sweep):
        return exact_box(box_round(cut.form))
    corners = [
        tuple(
            float(p) + float(u) * float(a) + float(v) * float(b)
            for p, a, b in zip(s.point, s.across, s.down, strict=True)
        )
        for s in cut.form.stations
        for u, v in cut.form.profile
    ]
    sides = list(zip(*corners, strict=True))
    low, high = (tuple(exact_mm(end(side)) for side in sides) for end in (min, max))
    return Box(low, high)  # type: ignore[arg-type]


def list_points(cut: CutCopy, groups: tuple[Group, ...], units: UnitName) -> Iterator[str]:
    """The points that curves go through, in lines: each as it is measured on its face."""
    for one in cut.shaping:
        if not one.points:
            continue
        letter = next((g.letter for g in groups if _is_of(g, one)), "")
        written = [
            " × ".join(format_length(exact_mm(part), units) for part in point)
            for point in one.points
        ]
        named = f"Points of {letter or one.role}, from {describe_place(one.face)}"
        for start in range(0, len(written), _POINTS_IN_LINE):
            line = ", ".join(written[start : start + _POINTS_IN_LINE])
            yield f"then {line}" if start else f"{named}: {line}"


def _is_of(group: Group, cut: ShapedCut) -> bool:
    return any(spot.role == cut.role and spot.places == cut.places for spot in group.spots)
