"""What all dimensions are drawn with: sides of an outline, places out from it, lines with arrows.

Takes a side and coordinates along it and out from it, gives points and lines on the sheet. Must not
know texts.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from benchleaf.drawing.scene import Line, Point, Role

# ASME Y14.5 (by textbooks): a visible gap between outline and extension line; chosen: 1 mm.
GAP_MM: Final = 1.0


class Side(StrEnum):
    """Where dimensions stand, seen from the outline."""

    ABOVE = "above"
    BELOW = "below"
    LEFT = "left"
    RIGHT = "right"

    @property
    def is_upright(self) -> bool:
        """Tell whether the dimension lines run up and down."""
        return self in (Side.LEFT, Side.RIGHT)

    @property
    def outward(self) -> int:
        """Sign of the sheet's axis that points away from the outline."""
        return -1 if self in (Side.ABOVE, Side.LEFT) else 1

    @property
    def edge(self) -> str:
        """The name of the side of a rectangle that it is."""
        return {"above": "top", "below": "bottom"}.get(self.value, self.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Axes:
    """Places along and out from one side of an outline, to the sheet."""

    side: Side
    outline: float
    """Coordinate of the outline across the side, on the sheet, mm."""

    def point(self, along: float, out: float) -> Point:
        """A place along the side and out from it, on the sheet."""
        across = self.outline + self.side.outward * out
        return (across, along) if self.side.is_upright else (along, across)

    def out_of(self, edge: float | None) -> float:
        """How far out a coordinate across lies: 0 or less for wood inside the outline."""
        return 0.0 if edge is None else (edge - self.outline) * self.side.outward


def draw_line(
    axes: Axes,
    start: tuple[float, float],
    end: tuple[float, float],
    *,
    arrows: bool = False,
    arrow: bool = False,
) -> Line:
    """Draw a dimension line between two places, (along, out).

    Args:
        axes: The side.
        start: One end.
        end: The other.
        arrows: Whether both ends bear arrowheads.
        arrow: Whether the start bears one.
    """
    return Line(
        points=(axes.point(*start), axes.point(*end)),
        role=Role.DIMENSION,
        start_arrow=arrows or arrow,
        end_arrow=arrows,
    )
