"""Joinery: every joint worked out at every contact, and carried over to the parts.

Takes the placed Piece, gives the Joinery. `JOINT_KINDS` is the table of families: one module each;
adding one is a module and a row here.
"""

from __future__ import annotations

from types import MappingProxyType

from benchleaf.findings import Finding
from benchleaf.joinery import (
    biscuits,
    bolt_and_cross_dowel,
    box_joint,
    bridle,
    butt,
    carriage_bolts,
    closes_against,
    dowelled_mitre,
    dowels,
    drawbored_tenon,
    frame_and_panel,
    groove,
    half_blind_dovetail,
    half_lap,
    hinges,
    housing,
    keyed_mitre,
    loose_tenon,
    mitre,
    mortise_and_tenon,
    pocket_screws,
    rebate,
    rests_on,
    round_tenon,
    shelf_pins,
    slides_on,
    sliding_dovetail,
    splined_mitre,
    through_dovetail,
    through_post,
    tongue_and_groove,
    twin_tenons,
    wedged_tenon,
)
from benchleaf.joinery.engine import fit_joints
from benchleaf.joinery.records import Joinery, JointKind
from benchleaf.piece.records import Piece

_TABLE: tuple[JointKind, ...] = (
    biscuits.KIND,
    bolt_and_cross_dowel.KIND,
    box_joint.KIND,
    bridle.KIND,
    butt.KIND,
    carriage_bolts.KIND,
    closes_against.KIND,
    dowelled_mitre.KIND,
    dowels.KIND,
    drawbored_tenon.KIND,
    frame_and_panel.KIND,
    groove.KIND,
    half_blind_dovetail.KIND,
    half_lap.KIND,
    hinges.KIND,
    housing.KIND,
    keyed_mitre.KIND,
    loose_tenon.KIND,
    mitre.KIND,
    mortise_and_tenon.KIND,
    pocket_screws.KIND,
    rebate.KIND,
    rests_on.KIND,
    round_tenon.KIND,
    shelf_pins.KIND,
    slides_on.KIND,
    sliding_dovetail.KIND,
    splined_mitre.KIND,
    through_dovetail.KIND,
    through_post.KIND,
    tongue_and_groove.KIND,
    twin_tenons.KIND,
    wedged_tenon.KIND,
)

JOINT_KINDS = MappingProxyType({kind.code: kind for kind in _TABLE})
"""Joint families by code, sorted."""

JOINT_WORDS = MappingProxyType({code: kind.words for code, kind in JOINT_KINDS.items()})
"""How each family is written in a plan; the reader is handed this."""


def cut_joints(piece: Piece) -> tuple[Joinery, tuple[Finding, ...]]:
    """Work out all joints of a piece; findings J1xx."""
    return fit_joints(piece, JOINT_KINDS)
