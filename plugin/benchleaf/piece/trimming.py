"""Parts as they stand: turned, splayed, and their ends cut to the faces that they meet.

Takes the solved parts, gives for each the frame of its first copy, its trims and its convex body in
its own axes, with findings P02x. Must not know copies' marks or contacts.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final

from benchleaf.findings import Finding
from benchleaf.frames import (
    FACES,
    Axis,
    Box,
    Frame,
    Number,
    Vector,
    box_of_points,
    dot,
    face_name,
    subtract,
    tidy,
    tidy_point,
)
from benchleaf.lengths import format_length
from benchleaf.piece.bodies import Body, body_of_box, cut_body, move_body
from benchleaf.piece.faults import error, spot, warning
from benchleaf.piece.mitre_planes import broad_faces, middle_of, mitre_plane, outer_face
from benchleaf.piece.records import Piece, Trim
from benchleaf.piece.solved import SolvedPart, SolvedPlan
from benchleaf.piece.turning import (
    copied_frame,
    settle,
    snap,
    splayed_frame,
    square_frame,
    turned_frame,
)
from benchleaf.reading.expressions import PartSize
from benchleaf.reading.turned import PlanTrim

# chosen: an end that slants more than this is a taper along the part, not an end.
_STEEPEST_DEG: Final = 80
# chosen: as little as this left of a part is nothing, mm3.
_NOTHING_MM3: Final = 1.0
_UP: Vector = (0, 0, 1)

_Plane = tuple[Vector, Vector]
"""A point of a plane and its unit normal, in the piece's axes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stood:
    """One part as it stands."""

    part: SolvedPart
    """Its box is as long as the trims make it."""
    frame: Frame
    """Own axes of the first copy, in the piece's."""
    trims: tuple[Trim, ...]
    body: Body
    """Shoulder to shoulder, in its own axes."""

    @property
    def is_plain(self) -> bool:
        """Tell whether it is a box square to the piece."""
        return not self.trims and self.frame.is_square


def stand_parts(solved: SolvedPlan) -> tuple[Mapping[str, Stood], tuple[Finding, ...]]:
    """Turn, splay and trim all parts; a part that cannot be has a finding and stays whole."""
    room = _Room(solved)
    stood = {name: room.stand(name) for name in solved.parts}
    return stood, tuple(room.findings)


@dataclass(slots=True)
class _Room:
    """What is at hand while the parts of one plan are stood; lives for one `stand_parts`."""

    solved: SolvedPlan
    done: dict[str, Stood] = field(default_factory=dict)
    waiting: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def stand(self, name: str) -> Stood:
        """One part, and before it those that it is trimmed to where they are trimmed themselves."""
        if name not in self.done:
            self.waiting.append(name)
            self.done[name] = self._trim(self.solved.parts[name])
            self.waiting.pop()
        return self.done[name]

    def _trim(self, part: SolvedPart) -> Stood:
        frame = self._frame(part)
        planes = self._planes(part)
        if not planes:
            return Stood(part=part, frame=frame, trims=(), body=body_of_box(_own(part.box)))
        trims = [
            trim
            for face, (plane, to) in planes.items()
            if (trim := self._as_trim(part, face, plane, frame=frame, to=to)) is not None
        ]
        body = _cut(part, trims)
        if body.volume_mm3 < _NOTHING_MM3:
            self._say(part, "", "P021", "its trims leave nothing of it",
                      "Needed: faces further apart, or a part that lies between them.")  # fmt: skip
            return Stood(part=part, frame=frame, trims=(), body=body_of_box(_own(part.box)))
        return _settle(part, frame, trims, body)

    def _frame(self, part: SolvedPart) -> Frame:
        if part.splay is None:
            return turned_frame(part.box, part.turns) if part.turns else square_frame(part.box)
        ways = [self._outward(part, axis) for axis in (Axis.WIDE, Axis.DEEP)]
        return splayed_frame(part.box, part.splay, (ways[0], ways[1]))

    def _outward(self, part: SolvedPart, axis: Axis) -> int:
        """Which way is away from the middle of the piece."""
        assert part.splay is not None  # noqa: S101 - asked of splayed parts only
        angle = part.splay.side_deg if axis is Axis.WIDE else part.splay.front_deg
        twice = part.box.low[axis] + part.box.high[axis]
        around = self.solved.box_round(part)
        middle = around.low[axis] + around.high[axis]
        if twice == middle and angle:
            key = "side" if axis is Axis.WIDE else "front"
            self._say(part, f"splay.{key}", "P024",
                      "it stands in the middle of the piece, which has no side to go out to",
                      "Needed: 0, or `turn` in place of `splay`.")  # fmt: skip
        return -1 if twice < middle else 1

    # Planes.

    def _planes(self, part: SolvedPart) -> dict[str, tuple[_Plane, str]]:
        """The plane that each trimmed face lies in, and what it is called."""
        planes: dict[str, tuple[_Plane, str]] = {}
        if part.splay is not None:
            planes["top"] = ((part.box.high, _UP), "")
            planes["bottom"] = ((part.box.low, _UP), "")
        for trim in part.trims:
            plane = self._plane_of(part, trim)
            if plane is not None:
                planes[trim.face] = (plane, trim.text)
        return {face: planes[face] for face in FACES if face in planes}

    def _plane_of(self, part: SolvedPart, trim: PlanTrim) -> _Plane | None:
        path = f"trim.{trim.face}"
        if FACES[trim.face][0] is part.thickness_axis:
            self._say(part, path, "P023",
                      f"its {trim.face} is a face of the stock: it lies across the thickness",
                      "Needed: an end or an edge, or another `thickness`.")  # fmt: skip
            return None
        if trim.to is None:
            return (self.solved.overall.low, _UP)
        if trim.to.part in self.waiting and self._is_trimmed(trim.to):
            message = f"`{trim.text}` waits for this part in turn"
            self._say(part, path, "P022", message, "Trim one of the two to another face.")
            return None
        if trim.is_mitre:
            return self._mitre_plane(part, trim, trim.to)
        return self._face_plane(trim.to)

    def _mitre_plane(self, part: SolvedPart, trim: PlanTrim, face: PartSize) -> _Plane | None:
        """The plane from the corner of two outer faces to the corner of the inner ones."""
        other = self.solved.parts[face.part]
        own = broad_faces(self._frame(part), part.box.size, part.thickness_axis)
        copy = self._copy(other, self._frame(other), face)
        theirs = broad_faces(copy, other.box.size, other.thickness_axis)
        outer = outer_face(own, middle_of(copy, other.box.size))
        mate = outer_face(theirs, middle_of(self._frame(part), part.box.size))
        path = f"trim.{trim.face}"
        if mate.name != _own_face(face):
            self._say(part, path, "P040",
                      f"`{trim.text}` does not name the outer face of {face.part}",
                      f"Needed: the broad face of {face.part} that looks out of the corner."
                      )  # fmt: skip
            return None
        plane = mitre_plane(outer, mate)
        if plane is None:
            self._say(part, path, "P041",
                      f"{part.name} and {face.part} lie in one line and make no corner to mitre",
                      "Needed: parts that stand at an angle to one another.")  # fmt: skip
        return plane

    def _is_trimmed(self, face: PartSize) -> bool:
        part = self.solved.parts[face.part]
        own = _own_face(face)
        is_level = part.splay is not None and own in {"top", "bottom"}
        return is_level or any(trim.face == own for trim in part.trims)

    def _face_plane(self, face: PartSize) -> _Plane:
        part = self.solved.parts[face.part]
        own_face = _own_face(face)
        axis, is_high = FACES[own_face]
        if self._is_trimmed(face):
            stood = self.stand(face.part)
            frame, size = stood.frame, stood.part.box.size
            trim = next((t for t in stood.trims if t.face == own_face), None)
        else:
            # Its other ends have no bearing on this plane, and may wait for ours.
            frame, size, trim = self._frame(part), part.box.size, None
        copy = self._copy(part, frame, face)
        if trim is not None:
            point: Vector = tuple(way * trim.offset_mm for way in trim.normal)  # type: ignore[assignment]
            return copy.outward(point), copy.outward_direction(trim.normal)
        own = [size[axis] if is_high and other is axis else Fraction(0) for other in Axis]
        return copy.outward((own[0], own[1], own[2])), copy.axes[axis]

    def _copy(self, part: SolvedPart, frame: Frame, face: PartSize) -> Frame:
        """The frame of the copy that a face is named of."""
        slid = [Fraction(0)] * 3
        if part.row_axis is not None:
            slid[part.row_axis] = part.row_offsets_mm[face.copy - 1]
        return copied_frame(
            frame,
            self.solved.box_round(part),
            slid=(slid[0], slid[1], slid[2]),
            flipped=frozenset(face.mirrored),
        )

    def _as_trim(
        self, part: SolvedPart, face: str, plane: _Plane, *, frame: Frame, to: str
    ) -> Trim | None:
        axis, is_high = FACES[face]
        point, way = plane
        normal = snap(frame.inward_direction(way))
        if (float(normal[axis]) > 0) != is_high:
            normal = (-normal[0], -normal[1], -normal[2])
        if abs(float(normal[axis])) < math.cos(math.radians(_STEEPEST_DEG)):
            self._say(part, f"trim.{face}" if to else "splay", "P020",
                      f"`{to}` runs along it, and would not cut its {face} off",
                      "Needed: a face that crosses the part.")  # fmt: skip
            return None
        offset = dot(normal, frame.inward(point))
        return Trim(face=face, normal=normal, offset_mm=offset, to=to)

    def _say(self, part: SolvedPart, key: str, code: str, message: str, remedy: str) -> None:
        path = f"parts.{part.name}" + (f".{key}" if key else ".trim")
        found = error(code, spot(self.solved.plan, path), message, remedy=remedy)
        if found not in self.findings:
            self.findings.append(found)


def _own_face(face: PartSize) -> str:
    """The part's own face that a copy has where a plan names it: a mirror swaps left and right."""
    axis, is_high = FACES[face.what]
    return face_name(axis, is_high != (axis in face.mirrored))


def _own(box: Box) -> Box:
    """A box with its low corner at the origin."""
    return Box((Fraction(0), Fraction(0), Fraction(0)), box.size)


def _cut(part: SolvedPart, trims: list[Trim]) -> Body:
    """A part drawn out along its trimmed faces and cut by the planes."""
    size = part.box.size
    far = sum(size) * _STRETCH
    low, high = [Fraction(0)] * 3, [Fraction(extent) for extent in size]
    for trim in trims:
        axis, is_high = FACES[trim.face]
        reach = Fraction(far) + abs(Fraction(trim.offset_mm)) * _STRETCH
        if is_high:
            high[axis] = reach
        else:
            low[axis] = -reach
    body = body_of_box(Box((low[0], low[1], low[2]), (high[0], high[1], high[2])))
    for trim in trims:
        body = cut_body(body, trim.normal, float(trim.offset_mm), name=trim.face)
    return body


# A part's width times this is farther along it than any plane within the steepest slant reaches:
# tan 80 degrees is 5.7.
_STRETCH: Final = 8


def _settle(part: SolvedPart, frame: Frame, trims: list[Trim], body: Body) -> Stood:
    """Put the origin at the low corner of what is left, and the sizes to what they come to."""
    corners = body.corners
    low = [tidy(float(v)) for v in corners.min(axis=0)]
    high = [tidy(float(v)) for v in corners.max(axis=0)]
    for trim in trims:
        axis, is_high = FACES[trim.face]
        if abs(trim.normal[axis]) == 1:  # square: the plane is a face of the box, and exact
            end = tidy(trim.offset_mm * trim.normal[axis])
            (high if is_high else low)[axis] = end
    shift: Vector = (low[0], low[1], low[2])
    size = subtract((high[0], high[1], high[2]), shift)
    placed = tuple(a + b for a, b in zip(part.box.low, shift, strict=True))
    box = Box(placed, tuple(a + b for a, b in zip(placed, size, strict=True)))  # type: ignore[arg-type]
    slanting = tuple(
        replace(trim, offset_mm=trim.offset_mm - dot(trim.normal, shift))
        for trim in trims
        if trim.normal[FACES[trim.face][0]] not in {1, -1}
    )
    back = Frame((-low[0], -low[1], -low[2]), square_frame(box).axes)
    return Stood(
        part=replace(part, box=box),
        frame=settle(Frame(frame.outward(shift), frame.axes)),
        trims=slanting,
        body=move_body(body, back),
    )


def box_round_body(stood: Stood, frame: Frame) -> Box:
    """The box round a copy where it stands: exact for one that is square to the piece."""
    if stood.is_plain:
        return frame.box_outward(_own(stood.part.box))
    corners = move_body(stood.body, frame).corners
    return box_of_points(tidy_point((p[0], p[1], p[2])) for p in corners.tolist())


def find_outside(piece: Piece, stood: Mapping[str, Stood]) -> Iterator[Finding]:
    """Find turned and trimmed parts that reach out of the box that the piece stands in."""
    for name, one in stood.items():
        if one.is_plain:
            continue
        round_all = [copy.box for copy in piece.copies_of(name)]
        for axis in Axis:
            low = min(box.low[axis] for box in round_all)
            high = max(box.high[axis] for box in round_all)
            least, most = piece.overall.low[axis], piece.overall.high[axis]
            if low < least - _NEAR_MM or high > most + _NEAR_MM:
                yield _outside(piece, name, axis, (low, high))


def _outside(piece: Piece, name: str, axis: Axis, span: tuple[Number, Number]) -> Finding:
    low, high, most = (
        format_length(Fraction(v), piece.plan.units.value, show_rounding=False)
        for v in (*span, piece.overall.high[axis])
    )
    message = (
        f"as it stands it reaches from {low} to {high}, and the piece is {most} {axis.extent}, "
        "from 0"
    )
    at = spot(piece.plan, f"parts.{name}")
    return warning("P015", at, message, remedy="Move the part in, or make `overall` larger.")


# chosen: half a millimetre is what a tape reads; no plan can write an angle's reach exactly.
_NEAR_MM: Final = Fraction(1, 2)
