"""Running dimensions: many places measured from one origin, in one row.

Takes places along one side of an outline and their texts, gives marks. Where places stand close,
the extension lines are bent, so that no label meets the next. Must not know what lies there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.drawing.dimension_lines import GAP_MM, Axes, Side, draw_line
from benchleaf.drawing.page import NOTE_HEIGHT
from benchleaf.drawing.scene import Circle, Line, Mark, Role, Text
from benchleaf.drawing.text_metrics import text_width

# chosen: labels stand a letter and a third apart.
LABEL_PITCH_MM: Final = NOTE_HEIGHT + 0.9
# chosen: where they crowd, closer, with a narrow line's width twice over between them.
LEAST_PITCH_MM: Final = NOTE_HEIGHT + 0.5
# chosen: a straight run, a bend steep enough to follow, and a straight run again.
_ELBOW_START_MM: Final = 3.5
_ELBOW_END_MM: Final = 6.5
_LABEL_START_MM: Final = 8.0
# chosen: half a millimetre clears the end of a line.
_LABEL_MARGIN_MM: Final = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One place measured from the origin of running dimensions."""

    at: float
    """Coordinate on paper, mm."""
    text: str
    edge: float | None = None
    """Where the extension line starts, across, on paper; None for the outline."""


def running_depth(places: Sequence[Place]) -> float:
    """How far a row of running dimensions reaches out, mm."""
    widest = max(text_width(place.text, NOTE_HEIGHT) for place in places)
    return _LABEL_START_MM + widest + _LABEL_MARGIN_MM


def running_marks(
    axes: Axes, places: Sequence[Place], origin: Place, limits: tuple[float, float] | None
) -> Iterator[Mark]:
    """Draw an extension line for each place, bent where labels would meet, and the origin's circle.

    Args:
        axes: The side.
        places: The places, one at least.
        origin: Where they are measured from.
        limits: The labels' centres keep between these, if they can; None lets them spread.
    """
    foot = axes.out_of(origin.edge) + GAP_MM
    yield draw_line(axes, (origin.at, foot), (origin.at, _LABEL_START_MM))
    # ISO 129-1:2018: the origin of running dimensions bears a circle; chosen: 1.6 mm across.
    yield Circle(
        centre=axes.point(origin.at, _ELBOW_START_MM),
        radius=0.8,
        role=Role.DIMENSION,
    )
    ordered = sorted(places, key=lambda place: place.at)
    pitch = LABEL_PITCH_MM
    if limits and len(places) > 1:
        pitch = max(min(pitch, (limits[1] - limits[0]) / (len(places) - 1)), LEAST_PITCH_MM)
    labels = spread([place.at for place in ordered], pitch, limits)
    for place, label in zip(ordered, labels, strict=True):
        yield from _place_marks(axes, place, label)


def _place_marks(axes: Axes, place: Place, label: float) -> Iterator[Mark]:
    points = [
        axes.point(place.at, axes.out_of(place.edge) + GAP_MM),
        axes.point(place.at, _ELBOW_START_MM),
        axes.point(label, _ELBOW_END_MM),
        axes.point(label, _LABEL_START_MM - _LABEL_MARGIN_MM),
    ]
    yield Line(points=tuple(points), role=Role.DIMENSION)
    # Turned text runs up the sheet: its end is nearest below an outline, its start above it.
    is_end_near = axes.side in (Side.BELOW, Side.LEFT)
    yield Text(
        at=axes.point(label, _LABEL_START_MM),
        text=place.text,
        height=NOTE_HEIGHT,
        anchor="end" if is_end_near else "start",
        turn_deg=0.0 if axes.side.is_upright else -90.0,
        role=Role.DIMENSION,
        halo=False,
    )


def has_room(count: int, limits: tuple[float, float]) -> bool:
    """Tell whether labels fit between limits at the least pitch."""
    return (count - 1) * LEAST_PITCH_MM <= limits[1] - limits[0]


def spread(
    places: Sequence[float], pitch: float, limits: tuple[float, float] | None = None
) -> tuple[float, ...]:
    """Move sorted places apart to a pitch, each as little as may be, within limits if they allow.

    >>> spread([0.0, 1.0, 10.0], 3.0)
    (-1.0, 2.0, 10.0)
    >>> spread([0.0, 1.0, 10.0], 3.0, (0.0, 12.0))
    (0.0, 3.0, 10.0)
    """
    # A rounding of 1e-9 mm is no lack of room.
    if limits and (len(places) - 1) * pitch <= limits[1] - limits[0] + 1e-9:
        # A label can lie no lower than those before it leave room for, nor higher than those after.
        last = len(places) - 1
        places = [
            min(max(at, limits[0] + i * pitch), limits[1] - (last - i) * pitch)
            for i, at in enumerate(places)
        ]
    # Runs that touch merge and take the mean of where their members would begin.
    runs: list[tuple[float, int]] = []
    for at in places:
        start, count = at, 1
        while runs and runs[-1][0] + runs[-1][1] * pitch > start:
            before, members = runs.pop()
            start = (before * members + (start - members * pitch) * count) / (members + count)
            count += members
        runs.append((start, count))
    return tuple(start + i * pitch for start, count in runs for i in range(count))
