"""Every joint of the piece, worked out at every contact, and carried over to the parts.

Takes the placed piece and the table of joint kinds, gives the Joinery. Knows no single family.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from manifold3d import Manifold

from benchleaf.findings import Finding
from benchleaf.forms import box_round, carry_form, form_key
from benchleaf.frames import Frame
from benchleaf.joinery.locks import say_lock
from benchleaf.joinery.moving import find_movers, say_stuck, units_of
from benchleaf.joinery.records import (
    Bench,
    CutCopy,
    Feature,
    Joinery,
    JointFit,
    JointKind,
)
from benchleaf.joinery.shaped_joints import check_shaped_joints
from benchleaf.joinery.shapes import group_shapes
from benchleaf.joinery.solids import shaped_body, solid_of
from benchleaf.joinery.sub_assemblies import plan_in_units
from benchleaf.joinery.true_ends import measure_from_true_ends
from benchleaf.piece.records import Copy, Piece, own_box
from benchleaf.piece.solids import place_solid
from benchleaf.shaping import shape_part


def fit_joints(piece: Piece, kinds: Mapping[str, JointKind]) -> tuple[Joinery, tuple[Finding, ...]]:
    """Work out all joints of a piece.

    Args:
        piece: The placed piece.
        kinds: Joint kinds by code; every joint's kind is in it, the reader has seen to that.

    Returns:
        The joinery, and findings J1xx of the families and of the assembly.
    """
    fits, findings = _fit_all(piece, kinds)
    shaping = {name: shape_part(part, piece.plan) for name, part in piece.parts.items()}
    copies = {
        mark: replace(_cut_copy(copy, piece, fits), shaping=shaping[copy.part][0])
        for mark, copy in piece.copies.items()
    }
    movers = find_movers(piece, fits)
    proof = plan_in_units(
        _placed(piece, copies), fits, units_of(piece), movers=[mover.marks for mover in movers]
    )
    joinery = Joinery(
        piece=piece,
        fits=measure_from_true_ends(fits, copies, piece),
        copies=copies,
        shapes=group_shapes(piece, copies),
        assembly=proof.tree,
        stops=proof.stops,
    )
    shaped = [finding for _, said in shaping.values() for finding in said]
    shaped += check_shaped_joints(piece, copies, fits)
    stuck = say_stuck(movers, piece, proof.stops)
    return joinery, (*findings, *shaped, *(say_lock(lock, piece) for lock in proof.locks), *stuck)


def _fit_all(
    piece: Piece, kinds: Mapping[str, JointKind]
) -> tuple[tuple[JointFit, ...], tuple[Finding, ...]]:
    fits: list[JointFit] = []
    findings: list[Finding] = []
    for joint in piece.joints:
        bench = Bench(
            first=piece.parts[joint.first],
            second=piece.parts[joint.second],
            wall_mm=piece.plan.shop.wall_mm,
            piece=piece,
        )
        for contact in joint.contacts:
            fit, said = kinds[joint.kind].fit(joint, contact, bench)
            findings.extend(said)
            if fit is not None:
                fits.append(fit)
    return tuple(fits), tuple(findings)


def _cut_copy(copy: Copy, piece: Piece, fits: tuple[JointFit, ...]) -> CutCopy:
    features = []
    for fit in fits:
        if fit.contact.first == copy.mark:
            features += [_carry(f, fit.contact.frame, copy.frame) for f in fit.first_features]
        if fit.contact.second == copy.mark:
            features += [_carry(f, fit.contact.frame, copy.frame) for f in fit.second_features]
    blank = own_box(piece.parts[copy.part])
    for feature in features:
        if feature.adds:
            blank = blank.join(box_round(feature.shape))
    ordered = tuple(sorted(features, key=feature_key))
    return CutCopy(mark=copy.mark, part=copy.part, features=ordered, blank=blank)


def feature_key(feature: Feature) -> tuple[str, int, bool, tuple[float, ...]]:
    """Sort features alike whatever their mates are called: by role, joint and place."""
    return (feature.role, feature.joint, feature.adds, form_key(feature.shape))


def _carry(feature: Feature, contact: Frame, own: Frame) -> Feature:
    """Carry a feature from a contact's frame to a copy's own."""
    return replace(feature, shape=carry_form(feature.shape, contact, own))


def _placed(piece: Piece, copies: Mapping[str, CutCopy]) -> dict[str, Manifold]:
    """The finished copies where they stand; those that are cut alike are cut once."""
    cut: dict[tuple[object, ...], Manifold] = {}
    placed = {}
    for mark, copy in copies.items():
        key = (copy.part, *((feature.shape, feature.adds) for feature in copy.features))
        if key not in cut:
            body = shaped_body(piece.parts[copy.part], copy.shaping)
            cut[key] = solid_of(body, copy.features)
        placed[mark] = place_solid(cut[key], piece.copies[mark].frame)
    return placed
