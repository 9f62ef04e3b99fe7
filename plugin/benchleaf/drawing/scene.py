"""A drawing as data: lines, areas and texts in millimetres on the sheet, each with a role.

Takes nothing; every drawing function returns a Scene; `svg` alone writes it. Sheet axes: x to the
right, y down, mm as printed. Colour and weight follow from roles by CSS class.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from benchleaf.outlines import Outline

Point = tuple[float, float]


class Role(StrEnum):
    """What a mark on the sheet means; line width and pattern follow from it (ISO 128)."""

    OUTLINE = "outline"
    """Visible edge, wide continuous."""
    FINE = "fine"
    """Visible edge of little weight (smooth transitions, grain), narrow continuous."""
    HIDDEN = "hidden"
    """Hidden edge, narrow dashed."""
    CENTRE = "centre"
    """Centre or symmetry line, long-dash dot."""
    DIMENSION = "dimension"
    """Dimension and extension line, narrow continuous."""
    LEADER = "leader"
    CUT = "cut"
    """Saw cut in a layout."""
    GHOST = "ghost"
    """Adjacent part or moved position, long-dash double-dot."""
    WASTE = "waste"
    """Offcut or wood to be removed: hatched."""
    PART = "part"
    """A part's face in a picture: filled by its tone."""
    PAPER = "paper"
    TRAIL = "trail"
    """Path of a part in an exploded view."""
    MARK = "mark"
    """A part's mark (A1) in its balloon."""
    NOTE = "note"
    TITLE = "title"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A run of straight lines."""

    points: tuple[Point, ...]
    role: Role
    id: str = ""
    start_arrow: bool = False
    end_arrow: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A filled area: one outer ring and holes, not closed by repetition."""

    rings: tuple[tuple[Point, ...], ...]
    role: Role
    tone: int = 0
    """0 lightest to 5 darkest; for PART areas it tells faces apart, in colour and in grey."""
    hatch: int = 0
    """0 none; 1 rising, 2 falling, 3 crossed, 4 dots, 5 upright, 6 level: survives black and
    white."""
    outlined: bool = False
    id: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle: true, not a polygon."""

    centre: Point
    radius: float
    role: Role
    filled: bool = False
    id: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A line of text at a point; height is that of capitals, mm."""

    at: Point
    """Anchor point on the middle line of the capitals."""
    text: str
    height: float = 2.5
    anchor: str = "middle"
    """start, middle or end."""
    turn_deg: float = 0.0
    """Clockwise on the sheet is positive; -90 reads from the right."""
    role: Role = Role.NOTE
    halo: bool = True
    id: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """A closed line of straight sides, arcs and curves: true, not corners."""

    outline: Outline
    """On the sheet; arcs that run anticlockwise there turn from x towards y, which runs down."""
    role: Role
    id: str = ""


Mark = Line | Area | Circle | Text | Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A drawing of stated size, back to front."""

    id: str
    """Stable, from the plan: `hall-bench-part-leg`."""
    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str
    """What it is, for readers that cannot see it."""
    description: str
    """What it tells: the main figures in words."""
    scale: str = ""
    """`1:5`, or empty for a picture not to scale."""
