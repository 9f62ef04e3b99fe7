"""How a plan turns a part, splays it, and cuts it to the face that it meets: records only."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from benchleaf.frames import Axis
from benchleaf.reading.expressions import PartSize


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanTurn:
    """One turn of a part about an axis of the piece."""

    about: Axis
    angle_deg: Fraction
    """By the right-hand rule: positive about `high` brings the right side to the back."""
    pivot: tuple[str, ...] = ()
    """Faces of the part whose common corner, edge or middle stays where it is; empty for the
    middle of the part."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSplay:
    """How far a leg's foot goes out, its top staying where it is placed."""

    side_deg: Fraction
    """Seen from the front; below 0 it goes in."""
    front_deg: Fraction
    """Seen from the side; below 0 it goes in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanTrim:
    """One face of a part that is cut to, or drawn out to, the plane of something else."""

    face: str
    to: PartSize | None
    """A face of a part; None for the floor."""
    text: str
    """What it is cut to, as the author wrote it."""
    is_mitre: bool = False
    """True where it is cut half way to that face, from the part's own outer face."""
