"""What a saw is set to for an end or an edge that is cut at an angle.

Takes a part and one of its trims, gives angles in degrees and the lengths that are marked out. The
board lies on its broad face: the mitre gauge turns the line on that face, the blade tilts the cut.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from benchleaf.frames import FACES, Axis, face_name
from benchleaf.piece.records import Part, Trim

# chosen: an angle below this is none, degrees; a saw's scale is read to a tenth.
_NO_ANGLE_DEG = 0.005


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimAngles:
    """One angled cut, as it is set and marked. Each angle has its true value."""

    face: str
    """The own face that is cut."""
    gauge_deg: float
    """Mitre gauge, from square, 0 to 90; 0 for a line square across the broad face."""
    tilt_deg: float
    """Blade, from upright, 0 to 90; its sine is the part of the cut's normal that points through
    the board."""
    edge_deg: float
    """The line across the edge of the board, from square."""
    across_mm: float
    """How far the line runs back along the part over the broad face, mm."""
    through_mm: float
    """How far it runs back over the edge, mm."""
    far_side: str
    """Own face at whose edge the line on the broad face lies farthest out; empty where square."""
    far_face: str
    """Own broad face on which the cut lies farthest out; empty where upright."""

    @property
    def is_compound(self) -> bool:
        """Tell whether both the gauge and the blade are set at an angle."""
        return bool(self.far_side) and bool(self.far_face)


def trim_angles(part: Part, trim: Trim) -> TrimAngles:
    """Work out the settings of one trim.

    The cosine of the angle between the cut and a square one is the product of the cosines of gauge
    and tilt.
    """
    along = FACES[trim.face][0]
    through = part.thickness_axis
    across = Axis(3 - along - through)
    out, side, up = (float(trim.normal[axis]) for axis in (along, across, through))
    gauge = math.degrees(math.atan2(abs(side), abs(out)))
    tilt = math.degrees(math.asin(min(abs(up), 1.0)))
    size = [float(extent) for extent in part.box.size]
    return TrimAngles(
        face=trim.face,
        gauge_deg=gauge,
        tilt_deg=tilt,
        edge_deg=math.degrees(math.atan2(abs(up), abs(out))),
        across_mm=size[across] * abs(side / out),
        through_mm=size[through] * abs(up / out),
        # The wood reaches farthest where the normal points least: a plane that leans to the right
        # leaves the left side longest.
        far_side=face_name(across, side < 0) if gauge > _NO_ANGLE_DEG else "",
        far_face=face_name(through, up < 0) if tilt > _NO_ANGLE_DEG else "",
    )
