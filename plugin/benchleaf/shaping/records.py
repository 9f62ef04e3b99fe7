"""What shaping comes to: wood taken off a part by itself, apart from its joints.

Made by `shape_part`; each cut is in the part's own axes, mm.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from benchleaf.findings import Finding
from benchleaf.forms import Form
from benchleaf.frames import Axis, Vector
from benchleaf.outlines import Outline, Point, Segment
from benchleaf.reading.vocabulary import ShapingWords

if TYPE_CHECKING:
    from benchleaf.shaping.bench import Workpiece


@dataclass(frozen=True, slots=True)
class Station:
    """One place on the way of a sweep: where the corner of its profile is, and how it lies."""

    point: Vector
    across: Vector
    """Where the profile's first axis points; longer than 1 where the way bends."""
    down: Vector
    """Where its second axis points."""


@dataclass(frozen=True, slots=True)
class Sweep:
    """A profile carried along a way that bends: a round-over that follows an arc."""

    profile: tuple[Point, ...]
    """Corners, mm, not closed; made of its true curve as outlines are."""
    stations: tuple[Station, ...]
    is_closed: bool
    """Whether the way comes back to its start."""


ShapedForm = Form | Sweep


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapedSize:
    """One size of shaping, as the plan gives it or as it was worked out."""

    name: str
    """`chord`, `rise`, `radius`."""
    value_mm: Fraction
    is_text: bool = True
    """False where the words of the drawing leave it out: it is dimensioned there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapedCut:
    """One thing that shaping takes off a part, or leaves of it."""

    kind: str
    """Code of the kind."""
    index: int
    """Place of the entry in the part's `shape`."""
    role: str
    """Trade word: taper, chamfer, round-over, cove, arc, hand hole, notch, hole."""
    form: ShapedForm
    """In the part's own axes."""
    keeps: bool
    """True where the form is what is left of the part: all outside it is cut away."""
    face: str
    """Own face that shows it in outline."""
    sizes: tuple[ShapedSize, ...]
    places: tuple[tuple[Axis, Fraction], ...]
    """Places along own axes that it is set out by, measured from the low ends."""
    worked: str = ""
    """Own face that wood is taken from, where one is."""
    template: Outline | None = None
    """The curved line to be cut, in the face's two own axes, closed; None where none is needed."""
    points: tuple[Point, ...] = ()
    """Points of the plan that a curve goes through, in the face's two own axes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What a kind says of a cut besides its form."""

    role: str
    sizes: tuple[ShapedSize, ...] = ()
    places: tuple[tuple[Axis, Fraction], ...] = ()
    points: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class FaceLine:
    """How a face runs after it was shaped: seen from the side, the same all across it."""

    face: str
    along: Axis
    """The axis that the line runs along; across it, the face is straight."""
    start: Point
    """(along, inset from the face into the wood), mm."""
    segments: tuple[Segment, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shaped:
    """What one entry of a part's `shape` comes to."""

    cuts: tuple[ShapedCut, ...]
    lines: tuple[FaceLine, ...] = ()
    """Faces that it changes, for edges that are worked later."""
    rims: tuple[tuple[Axis, Outline], ...] = ()
    """Outlines that it leaves of the part, with the axis that each is seen along."""
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapingKind:
    """One kind of shaping: the row that the registry holds."""

    code: str
    title: str
    words: ShapingWords
    shape: Callable[[Workpiece], Shaped]
    """May raise `CannotShapeError`."""
