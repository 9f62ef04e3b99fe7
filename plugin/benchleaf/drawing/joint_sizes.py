"""What a joint's figure measures: where its features lie on the seat, and how deep they go.

Takes a close-up and the way to paper, gives dimensions. Must not know where the views stand.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import reduce
from typing import Final

from benchleaf.drawing.clearance import Rectangle
from benchleaf.drawing.dimension_lines import Side
from benchleaf.drawing.dimensions import (
    NO_DIMENSIONS,
    Dimensions,
    Measure,
    draw_dimensions,
    fits_parallel,
)
from benchleaf.drawing.joint_close_up import CloseUp
from benchleaf.drawing.joint_paper import Plane
from benchleaf.drawing.part_features import WASTE_ROLE, even_step_mm
from benchleaf.drawing.part_sections import read_sections
from benchleaf.drawing.running_dimensions import Place
from benchleaf.forms import Bore
from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import (
    Feature,
)
from benchleaf.lengths import UnitName, format_length

_U: Final = 0
_V: Final = 1
_N: Final = 2
# A countersink is as deep as its screw's head asks: nobody measures it. What slants across the seat
# is set by an angle, and by the sizes listed with it.
_UNMEASURED: Final = frozenset(
    {
        WASTE_ROLE,
        "countersink",
        "key slot",
        "mitre",
        "mitre dowel hole",
        "pocket pilot",
        "screw pocket",
        "spline groove",
    }
)

Span = tuple[Fraction, Fraction]


def seat_dimensions(
    shown: CloseUp, plane: Plane, side: Side, *, outline: Rectangle, units: UnitName
) -> Dimensions:
    """Dimension the seat along one of its axes, from the foot of the first part.

    Parts that cross have no foot on the seat: then what is cut has its own size alone.

    Args:
        shown: The joint.
        plane: The seat's way to paper.
        side: Above for what lies along u, left for what lies along v.
        outline: Round the seat, on paper.
        units: Unit that sizes are written in.
    """
    axis = 1 if side.is_upright else _U
    contact = shown.fit.contact
    whole = (Fraction(0), Fraction(contact.v_mm if axis else contact.u_mm))
    edge = outline.left if side.is_upright else outline.top
    if contact.n_mm:
        # Of cuts in a row that are alike, such as sockets of fingers, one is measured.
        cuts = [_measure(plane, axis, span, units) for span in _cut_spans(shown, axis)]
        alike = {measure.text: measure for measure in reversed(cuts)}
        return draw_dimensions(side, edge, list(alike.values()))
    spans = dict.fromkeys((*_spans(shown, axis), whole))
    measures = [_measure(plane, axis, span, units) for span in spans]
    if fits_parallel(measures):
        return draw_dimensions(side, edge, measures)
    ends = sorted({end for span in spans for end in span} - {Fraction(0), whole[1]})
    places = [Place(at=_along(plane, axis, end), text=format_length(end, units)) for end in ends]
    origin = Place(at=_along(plane, axis, Fraction(0)), text="")
    measures = [_measure(plane, axis, whole, units)]
    return draw_dimensions(side, edge, measures, places=places, origin=origin)


def depth_dimensions(shown: CloseUp, plane: Plane, units: UnitName) -> Dimensions:
    """Dimension how deep features go into each part, below the section across."""
    spans = dict.fromkeys(
        (Fraction(box.low[_N]), Fraction(box.high[_N])) for _, box in _measured(shown)
    )
    shown_spans = [span for span in spans if _is_within(span, shown.window)]
    measures = [_measure(plane, _N, span, units) for span in shown_spans]
    return draw_dimensions(Side.BELOW, plane.box(shown.window).bottom, measures)


def section_dimensions(shown: CloseUp, plane: Plane, units: UnitName) -> Dimensions:
    """Dimension what is left of a first part that is cut all round, beside the section across."""
    waste = [box for feature, box in shown.features if feature.role == WASTE_ROLE]
    if not waste:
        return NO_DIMENSIONS
    # What the wood was before: the joint below may have left less than the whole part.
    before = reduce(Box.join, waste)
    boxes = (*read_sections(waste, before, Axis.HIGH), before)
    spans = ((Fraction(box.low[_V]), Fraction(box.high[_V])) for box in boxes)
    measures = [_measure(plane, _V, span, units) for span in dict.fromkeys(spans)]
    return draw_dimensions(Side.RIGHT, plane.box(shown.window).right, measures)


def inner_of_row(shown: CloseUp) -> tuple[tuple[Fraction, Box], ...]:
    """Bores of an even row between its first and its last, whose places follow from those.

    Returns:
        Each bore's centre along the joint, mm, and the box round it.
    """
    bores = [
        (Fraction(feature.shape.mouth[_U]), box)
        for feature, box in shown.features
        if isinstance(feature.shape, Bore) and feature.shape.direction[_N]
    ]
    centres = sorted({centre for centre, _ in bores})
    if even_step_mm(centres) is None:
        return ()
    return tuple(bore for bore in bores if centres[0] < bore[0] < centres[-1])


def _is_within(span: Span, window: Box) -> bool:
    return window.low[_N] <= span[0] and span[1] <= window.high[_N]


def _measured(shown: CloseUp) -> Iterator[tuple[Feature, Box]]:
    for feature, box in shown.features:
        if feature.role not in _UNMEASURED:
            yield feature, box


def _spans(shown: CloseUp, axis: int) -> Iterator[Span]:
    """Distances along an axis: to centres of bores; to blocks off the edge, and their own."""
    contact = shown.fit.contact
    whole = contact.v_mm if axis else contact.u_mm
    centres = {
        Fraction(feature.shape.mouth[axis])
        for feature, _ in _measured(shown)
        if isinstance(feature.shape, Bore)
    }
    if even_step_mm(sorted(centres)) is not None:
        centres = {min(centres), max(centres)}
    yield from ((Fraction(0), centre) for centre in sorted(centres) if centre > 0)
    for feature, box in _measured(shown):
        if isinstance(feature.shape, Bore):
            continue
        low, high = Fraction(box.low[axis]), Fraction(box.high[axis])
        if low > 0:
            yield Fraction(0), low
        if low >= 0 and not (low == 0 and high == whole):
            yield low, high


def _cut_spans(shown: CloseUp, axis: int) -> Iterator[Span]:
    """How wide each cut of the second part is along an axis."""
    cut = shown.fit.second_features
    yield from (
        (Fraction(box.low[axis]), Fraction(box.high[axis]))
        for feature, box in _measured(shown)
        if feature in cut
    )


def _measure(plane: Plane, axis: int, span: Span, units: UnitName) -> Measure:
    start, end = sorted(_along(plane, axis, place) for place in span)
    return Measure(start=start, end=end, text=format_length(span[1] - span[0], units))


def _along(plane: Plane, axis: int, place: Fraction) -> float:
    point = tuple(place if other == axis else Fraction(0) for other in range(3))
    x, y = plane.point(point)  # type: ignore[arg-type]
    return x if plane.facing.right[axis] else y
