"""Copies that are cut alike: one part sheet serves them all.

Takes the cut copies, gives Shapes. Copies of a mirrored part have the same features in their own
axes; whether the maker must cut a left and a right hand follows from the frames.
"""

from __future__ import annotations

from collections.abc import Mapping

from benchleaf.forms import form_cut, mirror_form
from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import CutCopy, Feature, Shape
from benchleaf.piece.records import Piece
from benchleaf.shaping.mirroring import is_shaped_alike

_Cut = tuple[object, ...]


def group_shapes(piece: Piece, copies: Mapping[str, CutCopy]) -> tuple[Shape, ...]:
    """Group the copies of each part by what is cut into them, in the plan's order."""
    shapes: list[Shape] = []
    for part in piece.parts:
        groups: dict[frozenset[_Cut], list[CutCopy]] = {}
        for copy in piece.copies_of(part):
            cut = copies[copy.mark]
            groups.setdefault(_cuts(cut), []).append(cut)
        for index, group in enumerate(groups.values()):
            letter = f", shape {chr(ord('a') + index)}" if len(groups) > 1 else ""
            shapes.append(_shape(piece, f"{part}{letter}", group))
    return tuple(shapes)


def _shape(piece: Piece, name: str, group: list[CutCopy]) -> Shape:
    drawn = group[0]
    handed = not is_own_mirror_image(drawn)
    hand = piece.copies[drawn.mark].frame.is_mirrored

    def is_other_hand(cut: CutCopy) -> bool:
        return handed and piece.copies[cut.mark].frame.is_mirrored != hand

    return Shape(
        part=drawn.part,
        name=name,
        as_drawn=tuple(cut.mark for cut in group if not is_other_hand(cut)),
        mirrored=tuple(cut.mark for cut in group if is_other_hand(cut)),
        drawn=drawn,
    )


def is_own_mirror_image(cut: CutCopy) -> bool:
    """Tell whether a copy is the same as its mirror image across a middle plane of its blank."""
    cuts = _cuts(cut)
    return any(
        frozenset(_cut(feature, mirrored_across=axis, blank=cut.blank) for feature in cut.features)
        == cuts
        and is_shaped_alike(cut.shaping, axis, cut.blank)
        for axis in Axis
    )


def _cuts(cut: CutCopy) -> frozenset[_Cut]:
    return frozenset(_cut(feature) for feature in cut.features)


def _cut(
    feature: Feature, *, mirrored_across: Axis | None = None, blank: Box | None = None
) -> _Cut:
    """What a feature does to the wood, whoever the mate is."""
    shape = feature.shape
    if mirrored_across is not None and blank is not None:
        total = blank.low[mirrored_across] + blank.high[mirrored_across]
        shape = mirror_form(shape, mirrored_across, total)
    return (feature.role, feature.adds, *form_cut(shape))
