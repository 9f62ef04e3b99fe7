"""What a close-up of a joint shows: how much of the two parts, and where it cuts them.

Takes a JointFit and the finished solids, gives solids in the contact's frame, cropped to a window,
and the planes of the sections. Must not know paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import numpy as np
from manifold3d import Manifold

from benchleaf.drawing.orthographic import Facing
from benchleaf.drawing.part_features import OF_TENONS, WASTE_ROLE
from benchleaf.forms import Bore, box_round
from benchleaf.frames import Box, Frame, Number, Vector, add, scale
from benchleaf.joinery.records import Feature, JointFit
from benchleaf.piece.records import Contact
from benchleaf.piece.solids import solid_of_box

# chosen: half the joint's width of wood round about shows what the parts are; 12 mm at least.
_MARGIN_SHARE: Final = 0.5
_LEAST_MARGIN_MM: Final = 12.0
# chosen: as much at most, so that the joint fills the figure.
_MOST_MARGIN_MM: Final = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CloseUp:
    """A joint in its contact's frame, ready to be drawn."""

    fit: JointFit
    first: Manifold
    """The first copy, whole, in the contact's frame."""
    second: Manifold
    window: Box
    """How much is shown."""
    wood: Box
    """Round both copies: where the window ends short of it, the wood goes on."""
    seat: Facing
    """How the second part's seat is looked at."""
    at_u_mm: float
    """Where the section across the joint lies."""
    at_v_mm: float
    """Where the section along it lies."""
    features: tuple[tuple[Feature, Box], ...]
    """All features of both parts, each with the box round it."""

    @property
    def across(self) -> Facing:
        """The section at one u: seen from the end, beside the seat."""
        left = tuple(-part for part in self.seat.toward)
        return Facing(right=left, up=self.seat.up, toward=self.seat.right)  # type: ignore[arg-type]

    @property
    def along(self) -> Facing:
        """The section at one v: seen from below, beneath the seat."""
        down = tuple(-part for part in self.seat.up)
        return Facing(right=self.seat.right, up=self.seat.toward, toward=down)  # type: ignore[arg-type]


def close_up(fit: JointFit, solids: Mapping[str, Manifold]) -> CloseUp:
    """Prepare a joint for its figure.

    Args:
        fit: The joint at one contact.
        solids: The finished copies at their seats, by mark.
    """
    contact = fit.contact
    own = [
        [f for f in features if f.role not in OF_TENONS]
        for features in (fit.first_features, fit.second_features)
    ]
    features = tuple((f, _box_at(f, contact)) for f in (*own[0], *own[1]))
    boxes = [box for _, box in features]
    wood = contact.first_box.join(contact.second_box)
    for box in boxes:
        wood = wood.join(box)
    at_u, at_v = _section_places(fit, features, len(own[0]))
    return CloseUp(
        fit=fit,
        first=_in_frame(solids[contact.first], contact.frame),
        second=_in_frame(solids[contact.second], contact.frame),
        window=_window(fit, boxes, wood),
        wood=wood,
        seat=_seat_facing(fit),
        at_u_mm=at_u,
        at_v_mm=at_v,
        features=features,
    )


def box_of(feature: Feature) -> Box:
    """The box round a feature."""
    return box_round(feature.shape)


def _box_at(feature: Feature, contact: Contact) -> Box:
    """The box of a feature as it is measured: of a round that leans, where it enters the face."""
    shape = feature.shape
    if not isinstance(shape, Bore) or shape.direction.count(0) > 1:
        return box_of(feature)
    step = -shape.mouth[2] / shape.direction[2]
    # Both mates' centre lines come here by sums of their own: told alike to a thousandth.
    centre: list[Number] = [
        Fraction(round(part * 1000), 1000)
        for part in add(shape.mouth, scale(shape.direction, step))
    ]
    radius = shape.diameter_mm / 2
    low, high = ([part + sign * radius for part in centre] for sign in (-1, 1))
    low[2], high[2] = Fraction(0), min(box_of(feature).high[2], contact.second_box.high[2])
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _in_frame(solid: Manifold, frame: Frame) -> Manifold:
    """Carry a solid from the piece's axes into a frame's."""
    rows = np.array([[float(part) for part in axis] for axis in frame.axes])
    origin = np.array([float(part) for part in frame.origin])
    return solid.transform(np.column_stack([rows, -rows @ origin]))


def _section_places(
    fit: JointFit, features: Sequence[tuple[Feature, Box]], count: int
) -> tuple[float, float]:
    """Through the middle of the feature nearest to the origin; else of the contact.

    Args:
        fit: The joint.
        features: Those of the first part, then those of the second.
        count: How many are the first part's.
    """
    ordered = (*features[count:], *features[:count])
    named = [box for feature, box in ordered if feature.role != WASTE_ROLE]
    if not named:
        return float(fit.contact.u_mm) / 2, float(fit.contact.v_mm) / 2
    box = min(named, key=lambda box: (box.low[0], box.low[1]))
    (u0, v0, _), (u1, v1, _) = box.low, box.high
    return float(u0 + u1) / 2, float(v0 + v1) / 2


def _window(fit: JointFit, boxes: Iterable[Box], wood: Box) -> Box:
    """The contact and the features with a margin round them, cut off where the wood ends."""
    contact = fit.contact
    zero = contact.u_mm * 0
    shown = Box((zero, zero, zero), (contact.u_mm, contact.v_mm, contact.n_mm))
    for box in _bounded(boxes, shown):
        shown = shown.join(box)
    widest = max(float(contact.v_mm), float(shown.size[2])) * _MARGIN_SHARE
    margin = Fraction(min(max(widest, _LEAST_MARGIN_MM), _MOST_MARGIN_MM))
    grown = Box(
        tuple(low - margin for low in shown.low),  # type: ignore[arg-type]
        tuple(high + margin for high in shown.high),  # type: ignore[arg-type]
    )
    return grown.meet(wood)


def _bounded(boxes: Iterable[Box], shown: Box) -> Iterator[Box]:
    """Features; those that run far beyond the contact, as a post's waste does, cut off at it."""
    limit = 2 * max(shown.size[0], shown.size[1])
    for box in boxes:
        far = box.size[2] > limit
        yield box.meet(shown) if far and box.meet(shown).is_solid() else box


def _seat_facing(fit: JointFit) -> Facing:
    """Look at the second part from where its cuts are open: usually from the first part's side."""
    contact = fit.contact
    middles = [box_of(f).low[2] + box_of(f).high[2] for f in fit.second_features if not f.adds]
    from_behind = bool(contact.n_mm) and bool(middles) and min(middles) > contact.n_mm
    toward: Vector = (0, 0, 1) if from_behind else (0, 0, -1)
    # In a right-handed frame u, v and n turn like x, y and z: seen against n, v runs down.
    up = -1 if (not from_behind) != contact.frame.is_mirrored else 1
    return Facing(right=(1, 0, 0), up=(0, up, 0), toward=toward)


def cropped(solid: Manifold, window: Box) -> Manifold:
    """What of a solid lies in the window."""
    return solid ^ solid_of_box(window)
