"""Sizes and places of what is cut into a part, in words for the table on its page.

Takes a feature in its part's own axes and the ends that the part is set out from; gives text. Must
not know pages.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from benchleaf.drawing.part_datums import Datums
from benchleaf.drawing.prism_words import describe_prism
from benchleaf.forms import Bore, Prism, box_round
from benchleaf.frames import Axis, direction_name, main_axis, scale, tidy
from benchleaf.joinery.records import Feature, Shape
from benchleaf.piece.records import own_box
from benchleaf.site.views.sound import SoundPlan, axes_of


def size_of_feature(sound: SoundPlan, feature: Feature, shape: Shape) -> str:
    """How large a feature is: a diameter and a depth, or three sides."""
    show, part = sound.show, sound.part(shape)
    if isinstance(feature.shape, Bore):
        bore = feature.shape
        return f"⌀ {show.length(bore.diameter_mm)}, {show.length(bore.depth_mm)} deep"
    if isinstance(feature.shape, Prism):
        return describe_prism(
            feature.shape, own_box(part), shape.drawn.blank, adds=feature.adds, units=show.unit
        )
    size = box_round(feature.shape).size
    words = zip(("long", "wide", "thick"), axes_of(part), strict=True)
    return " × ".join(f"{show.length(size[axis])} {word}" for word, axis in words)


def place_of_feature(sound: SoundPlan, feature: Feature, datums: Datums) -> str:
    """Where a feature lies, from the ends that the drawing and the setting out measure from."""
    if isinstance(feature.shape, Bore):
        return _place_of_bore(sound, feature.shape, datums, adds=feature.adds)
    box, usual = box_round(feature.shape), datums.usual
    starts = {axis: Fraction((box.high if usual[axis] else box.low)[axis]) for axis in Axis}
    return f"starts {_from_ends(sound, datums, starts, usual)}"


def _place_of_bore(sound: SoundPlan, bore: Bore, datums: Datums, *, adds: bool) -> str:
    """Where the centre of a hole, or of a round tenon, is on the face that it stands in."""
    along = main_axis(bore.direction)
    face = direction_name(bore.direction if adds else scale(bore.direction, -1))
    across = [axis for axis in Axis if axis is not along]
    centre = {axis: Fraction(bore.mouth[axis]) for axis in across}
    if any(bore.direction[axis] for axis in across):
        # The mouth of a leaning hole lies out in the air, clear of the face; the centre is on it.
        end = datums.end_mm(along, is_high=bore.direction[along] < 0)
        rise = float(end - bore.mouth[along]) / float(bore.direction[along])
        centre = {axis: tidy(at + rise * bore.direction[axis]) for axis, at in centre.items()}
    named = {axis: datums.ends_for(axis, at)[0] for axis, at in centre.items()}
    stands = "on" if adds else "into"
    return f"{stands} the {face}; centre {_from_ends(sound, datums, centre, named)}"


def _from_ends(
    sound: SoundPlan, datums: Datums, places: Mapping[Axis, Fraction], ends: Mapping[Axis, bool]
) -> str:
    """How far places are from ends of the wood: `2-1/4 from top`."""
    return ", ".join(
        f"{sound.show.length(abs(at - datums.end_mm(axis, is_high=ends[axis])))} "
        f"from {axis.high_face if ends[axis] else axis.low_face}"
        for axis, at in places.items()
    )
