"""Setting-out of what is seen: from where the wood ends, and no ends that run into another cut.

Takes the joints worked out and the copies with all that joints add; gives the joints with their
setting out measured from the faces that a rule can touch. A family sees one contact at a time and
measures from the part as placed, shoulder to shoulder; what another joint adds at that end (the
part of a shelf in its housing, a tenon) is known only when all are done.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from benchleaf.frames import FACES, Box, direction_name
from benchleaf.joinery.records import CutCopy, Feature, JointFit, SettingOut
from benchleaf.piece.records import Piece, own_box

# How lines begin that end a channel inside the wood.
_END = "end of the"


def measure_from_true_ends(
    fits: tuple[JointFit, ...], copies: Mapping[str, CutCopy], piece: Piece
) -> tuple[JointFit, ...]:
    """Add to each distance what joints have added at the face that it is measured from.

    Ends of channels beyond which another joint cuts as deep are left out: the tool runs through.
    """
    return tuple(_measure(_without_open_ends(fit, copies, piece), copies, piece) for fit in fits)


def _without_open_ends(fit: JointFit, copies: Mapping[str, CutCopy], piece: Piece) -> JointFit:
    rows = tuple(row for row in fit.setting_out if not _is_open_end(row, fit, copies, piece))
    return fit if len(rows) == len(fit.setting_out) else replace(fit, setting_out=rows)


def _is_open_end(
    row: SettingOut, fit: JointFit, copies: Mapping[str, CutCopy], piece: Piece
) -> bool:
    if not row.what.startswith(_END):
        return False
    mate = fit.contact.second if fit.contact.first == row.copy else fit.contact.first
    copy = piece.copies[row.copy]
    features = copies[row.copy].features
    return any(
        runs_into_a_cut(feature, row.reference, own_box(piece.parts[copy.part]), features)
        for feature in features
        if feature.joint == fit.joint and feature.mate == mate and not feature.adds
    )


def runs_into_a_cut(feature: Feature, face: str, body: Box, others: Iterable[Feature]) -> bool:
    """Tell whether what lies between the end of a cut and a face is cut away by another joint.

    Args:
        feature: The cut, in its copy's own axes.
        face: Own face that it stops short of.
        body: The copy shoulder to shoulder, in its own axes.
        others: All features of the copy.
    """
    if not isinstance(feature.shape, Box):
        return False
    axis, is_high = FACES[face]
    low, high = list(feature.shape.low), list(feature.shape.high)
    low[axis], high[axis] = (
        (high[axis], body.high[axis]) if is_high else (body.low[axis], low[axis])
    )
    left = Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
    return left.is_solid() and any(
        isinstance(other.shape, Box) and other.shape.contains(left)
        for other in others
        if not other.adds and other.joint != feature.joint
    )


def _measure(fit: JointFit, copies: Mapping[str, CutCopy], piece: Piece) -> JointFit:
    grown = [_added_mm(row, fit, copies, piece) for row in fit.setting_out]
    if not any(grown):
        return fit
    rows = tuple(
        replace(row, distance_mm=row.distance_mm + added, spacer=_spacer(row, fit, grown))
        for row, added in zip(fit.setting_out, grown, strict=True)
    )
    return replace(fit, setting_out=rows)


def _added_mm(
    row: SettingOut, fit: JointFit, copies: Mapping[str, CutCopy], piece: Piece
) -> Fraction:
    """What stands out beyond the placed part at a row's face; 0 for the face towards the mate.

    Depths and tenons are measured from that face or from their own end: nothing to add.
    """
    if row.reference == _face_to_mate(row, fit, piece):
        return Fraction(0)
    axis, is_high = FACES[row.reference]
    blank = copies[row.copy].blank
    placed = piece.parts[copies[row.copy].part].box.size[axis]
    return Fraction(blank.high[axis] - placed if is_high else -blank.low[axis])


def _face_to_mate(row: SettingOut, fit: JointFit, piece: Piece) -> str:
    sign = 1 if row.copy == fit.contact.first else -1
    own = piece.copies[row.copy].frame
    toward = own.inward_direction(fit.contact.frame.outward_direction((0, 0, sign)))
    return direction_name(toward)


def _spacer(row: SettingOut, fit: JointFit, grown: list[Fraction]) -> str:
    """One setting serves both mates only where both, or neither, have grown by as much."""
    alike = {
        added for other, added in zip(fit.setting_out, grown, strict=True) if other.what == row.what
    }
    return row.spacer if alike == {Fraction(0)} else ""
