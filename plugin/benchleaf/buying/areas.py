"""Areas that use something up: glue lines, and faces that are sanded and finished.

Takes Joinery and CutPlan; gives areas in square metres.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from benchleaf.cutting.records import CutPlan
from benchleaf.frames import Number
from benchleaf.joinery.records import Joinery
from benchleaf.piece.records import ContactKind, Piece, own_box

_MM2_PER_M2: Final = 10**6


def joint_glue_m2(joinery: Joinery) -> Fraction:
    """Area of the glue lines in joints."""
    areas = (fit.glue_area_mm2 for fit in joinery.fits if fit.is_glued)
    return _in_m2(sum(areas, start=Fraction(0)))


def layer_glue_m2(joinery: Joinery, cut_plan: CutPlan) -> Fraction:
    """Area of the glue lines between layers, and between boards glued edge to edge."""
    stock = joinery.piece.plan.stock
    areas = (
        blank.length_mm * (stock[blank.stock].thickness_mm if blank.is_strip else blank.width_mm)
        for blank in cut_plan.blanks
        if blank.layer > 1  # each layer or board after the first lies on a glue line
    )
    return _in_m2(sum(areas, start=Fraction(0)))


def faces_m2(piece: Piece) -> Fraction:
    """Area of all faces of all parts, shoulder to shoulder."""
    faces: Number = Fraction(0)
    for copy in piece.copies.values():
        wide, deep, high = own_box(piece.parts[copy.part]).size
        faces += 2 * (wide * deep + deep * high + high * wide)
    return _in_m2(faces)


def hidden_m2(piece: Piece) -> Fraction:
    """Area of all faces that lie against another part."""
    contacts = [contact for joint in piece.joints for contact in joint.contacts]
    touching = (c for c in (*contacts, *piece.loose_contacts) if c.kind is ContactKind.FACE)
    # each contact hides the same area on both of its parts
    return _in_m2(sum((2 * c.u_mm * c.v_mm for c in touching), start=Fraction(0)))


def _in_m2(area_mm2: Number) -> Fraction:
    return Fraction(area_mm2) / _MM2_PER_M2
