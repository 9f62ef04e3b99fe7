"""Setting-out from where the wood ends, not from where a shoulder will never be seen.

Takes the joints worked out and the copies with all that joints add; gives the joints with their
setting out measured from the faces that a rule can touch. A family sees one contact at a time and
measures from the part as placed, shoulder to shoulder; what another joint adds at that end (the
part of a shelf in its housing, a tenon) is known only when all are done.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from benchleaf.frames import FACES
from benchleaf.joinery.records import CutCopy, JointFit, SettingOut
from benchleaf.piece.records import Piece


def measure_from_true_ends(
    fits: tuple[JointFit, ...], copies: Mapping[str, CutCopy], piece: Piece
) -> tuple[JointFit, ...]:
    """Add to each distance what joints have added at the face that it is measured from."""
    return tuple(_measure(fit, copies, piece) for fit in fits)


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
    return next(
        face
        for face, (axis, is_high) in FACES.items()
        if toward[axis] and (toward[axis] > 0) == is_high
    )


def _spacer(row: SettingOut, fit: JointFit, grown: list[Fraction]) -> str:
    """One setting serves both mates only where both, or neither, have grown by as much."""
    alike = {
        added for other, added in zip(fit.setting_out, grown, strict=True) if other.what == row.what
    }
    return row.spacer if alike == {Fraction(0)} else ""
