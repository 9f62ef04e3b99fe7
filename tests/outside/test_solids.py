"""Cut solids against closed forms and against another library's integrals over the same mesh.

Two things stand outside the project here: formulas of solid geometry, and trimesh, which integrates
volume, centre of mass and area over the triangles by its own code (Eberly, "Polyhedral Mass
Properties", 2002). Lengths in these tests are inches or plain numbers; the solids do not care.
"""

import math
from fractions import Fraction

import manifold3d
import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.forms import Bore
from benchleaf.frames import Box, Frame
from benchleaf.joinery.records import (
    Feature,
)
from benchleaf.joinery.solids import solid_of
from benchleaf.piece.solids import place_solid, solid_of_box

# A double carries 15 to 16 digits; sums over a few hundred triangles lose some three of them.
EXACT = 1e-12


def mesh_of(solid: manifold3d.Manifold) -> trimesh.Trimesh:
    mesh = solid.to_mesh64()
    return trimesh.Trimesh(
        np.asarray(mesh.vert_properties)[:, :3], np.asarray(mesh.tri_verts), process=False
    )


def box(low: tuple[str, str, str], high: tuple[str, str, str]) -> Box:
    return Box(tuple(map(Fraction, low)), tuple(map(Fraction, high)))


def cut(shape: Box | Bore) -> Feature:
    return Feature(role="mortise", shape=shape, adds=False, joint=0, mate="B")


def added(shape: Box | Bore) -> Feature:
    return Feature(role="tenon", shape=shape, adds=True, joint=0, mate="B")


def bore(mouth: tuple, direction: tuple, *, depth: str, diameter: str, end: str = "") -> Bore:
    return Bore(
        mouth=tuple(map(Fraction, mouth)),
        direction=direction,
        diameter_mm=Fraction(diameter),
        depth_mm=Fraction(depth),
        end_diameter_mm=Fraction(end or diameter),
    )


def test_a_board_has_the_volume_centre_and_area_of_a_box():
    # Closed form: V = abc, centre at the half, S = 2(ab + bc + ca).
    mesh = mesh_of(solid_of_box(box(("0", "0", "0"), ("44", "15", "23/16"))))
    a, b, c = 44, 15, 1.4375
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(a * b * c, rel=EXACT)
    assert mesh.area == pytest.approx(2 * (a * b + b * c + c * a), rel=EXACT)
    assert mesh.center_mass == pytest.approx([a / 2, b / 2, c / 2], rel=EXACT)


def test_a_shelf_with_four_post_holes_loses_four_square_prisms():
    # Closed form: each 2-1/4 hole through 3/4 takes 2.25^2 * 0.75, takes 2 * 2.25^2 off the two
    # faces and adds 4 * 2.25 * 0.75 of wall. Holes lie alike about the centre, which stays.
    body = solid_of_box(box(("0", "0", "0"), ("36", "29/2", "3/4")))
    holes = [
        cut(
            box(
                (x, y, "-1"),
                (str(Fraction(x) + Fraction(9, 4)), str(Fraction(y) + Fraction(9, 4)), "2"),
            )
        )
        for x in ("43/8", "227/8")
        for y in ("21/8", "77/8")
    ]
    mesh = mesh_of(solid_of(body, holes))
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(36 * 14.5 * 0.75 - 4 * 2.25**2 * 0.75, rel=EXACT)
    plain = 2 * (36 * 14.5 + 14.5 * 0.75 + 36 * 0.75)
    assert mesh.area == pytest.approx(plain - 8 * 2.25**2 + 4 * 4 * 2.25 * 0.75, rel=EXACT)
    assert mesh.center_mass == pytest.approx([18, 7.25, 0.375], rel=EXACT)


def test_a_half_lap_moves_the_centre_of_mass_as_composite_bodies_say():
    # Closed form: centre of a body less a part = (V1 c1 - V2 c2) / (V1 - V2).
    body = solid_of_box(box(("0", "0", "0"), ("3", "16", "9/4")))
    mesh = mesh_of(solid_of(body, [cut(box(("0", "13/2", "9/8"), ("3", "19/2", "9/4")))]))
    whole, lap = 3 * 16 * 2.25, 3 * 3 * 1.125
    assert mesh.volume == pytest.approx(whole - lap, rel=EXACT)
    centre_z = (whole * 1.125 - lap * (1.125 + 1.125 / 2)) / (whole - lap)
    assert mesh.center_mass == pytest.approx([1.5, 8, centre_z], rel=EXACT)


def test_a_tenon_adds_its_own_volume_and_no_more():
    # Closed form: a box standing on a box; the face that they share is no longer outside.
    body = solid_of_box(box(("0", "0", "0"), ("30", "3", "3/4")))
    mesh = mesh_of(solid_of(body, [added(box(("30", "1/2", "1/4"), ("125/4", "5/2", "1/2")))]))
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(30 * 3 * 0.75 + 1.25 * 2 * 0.25, rel=EXACT)
    plain = 2 * (30 * 3 + 3 * 0.75 + 30 * 0.75)
    assert mesh.area == pytest.approx(plain + 2 * 1.25 * (2 + 0.25), rel=EXACT)


def test_a_hole_through_a_tenon_goes_through_it():
    # Closed form: the bore crosses tenon and body, so it takes pi r^2 over the tenon's width alone.
    body = solid_of_box(box(("0", "0", "0"), ("4", "3", "1")))
    peg = bore(("9/2", "0", "1/2"), (0, 1, 0), depth="3", diameter="1/4")
    mesh = mesh_of(solid_of(body, [cut(peg), added(box(("4", "0", "1/4"), ("5", "3", "3/4")))]))
    assert mesh.volume == pytest.approx(12 + 1.5 - math.pi * 0.125**2 * 3, rel=1e-9)


@pytest.mark.parametrize("direction", [(1, 0, 0), (0, -1, 0), (0, 0, 1)])
def test_a_bore_takes_the_volume_of_a_true_cylinder(direction):
    # Closed form: V = pi r^2 h, whichever way it is bored; its centre lies half way down.
    block = solid_of_box(box(("-2", "-2", "-2"), ("2", "2", "2")))
    mouth = tuple(-2 * part for part in direction)
    mesh = mesh_of(solid_of(block, [cut(bore(mouth, direction, depth="13/16", diameter="3/8"))]))
    hole = math.pi * (3 / 16) ** 2 * 13 / 16
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(64 - hole, rel=1e-9)
    off = (2 - 13 / 32) * hole / (64 - hole)
    assert mesh.center_mass == pytest.approx([off * part for part in direction], abs=1e-9)


def test_the_wall_of_a_bore_is_within_a_hundredth_of_the_true_circle():
    # Closed form: wall 2 pi r h. A polygon of the circle's area has a slightly longer edge
    # (isoperimetric inequality), so the drawn wall is never the smaller one.
    block = solid_of_box(box(("-2", "-2", "0"), ("2", "2", "4")))
    hole = bore(("0", "0", "4"), (0, 0, -1), depth="4", diameter="1")
    wall = mesh_of(solid_of(block, [cut(hole)])).area - 6 * 16 + 2 * math.pi / 4
    assert math.pi * 4 <= wall <= math.pi * 4 * 1.01


def test_a_countersink_takes_the_volume_of_a_cone_frustum():
    # Closed form: V = pi h (R^2 + R r + r^2) / 3.
    block = solid_of_box(box(("-1", "-1", "0"), ("1", "1", "1")))
    sink = bore(("0", "0", "1"), (0, 0, -1), depth="1/8", diameter="3/8", end="1/8")
    mesh = mesh_of(solid_of(block, [cut(sink)]))
    wide, narrow, depth = 3 / 16, 1 / 16, 1 / 8
    taken = math.pi * depth * (wide**2 + wide * narrow + narrow**2) / 3
    assert mesh.volume == pytest.approx(4 - taken, rel=1e-9)


def test_two_bores_that_cross_share_a_bicylinder():
    # Closed form: equal round bores crossing at right angles share 16 r^3 / 3 (Steinmetz solid;
    # Archimedes, The Method). Bores of 32 sides come within half a hundredth of it.
    block = solid_of_box(box(("-2", "-2", "-2"), ("2", "2", "2")))
    bores = [
        cut(bore(("-2", "0", "0"), (1, 0, 0), depth="4", diameter="2")),
        cut(bore(("0", "-2", "0"), (0, 1, 0), depth="4", diameter="2")),
    ]
    mesh = mesh_of(solid_of(block, bores))
    shared = mesh.volume - (64 - 2 * math.pi * 4)
    assert shared == pytest.approx(16 / 3, rel=0.005)


def test_cuts_that_overlap_are_not_taken_away_twice():
    # Closed form: V(A or B) = V(A) + V(B) - V(A and B).
    body = solid_of_box(box(("0", "0", "0"), ("10", "10", "10")))
    cuts = [cut(box(("0", "0", "0"), ("5", "5", "5"))), cut(box(("4", "4", "4"), ("9", "9", "9")))]
    assert mesh_of(solid_of(body, cuts)).volume == pytest.approx(1000 - 125 - 125 + 1, rel=EXACT)


def test_a_mirrored_copy_is_as_large_and_its_centre_is_mirrored():
    # Definition of a reflection: volume and area stay, the centre is reflected, outside stays out
    # (a mesh turned inside out would integrate to a negative volume).
    body = solid_of_box(box(("0", "0", "0"), ("3", "2", "1")))
    lapped = solid_of(body, [cut(box(("0", "0", "1/2"), ("1", "2", "1")))])
    frame = Frame((Fraction(20), Fraction(0), Fraction(0)), ((-1, 0, 0), (0, 1, 0), (0, 0, 1)))
    plain, mirrored = mesh_of(lapped), mesh_of(place_solid(lapped, frame))
    assert mirrored.volume == pytest.approx(plain.volume, rel=EXACT)
    assert mirrored.area == pytest.approx(plain.area, rel=EXACT)
    x, y, z = plain.center_mass
    assert mirrored.center_mass == pytest.approx([20 - x, y, z], rel=EXACT)


_EIGHTHS = st.integers(1, 80).map(lambda n: Fraction(n, 8))


@settings(max_examples=25, deadline=None)
@given(_EIGHTHS, _EIGHTHS, _EIGHTHS, st.integers(1, 7))
def test_what_is_left_and_what_is_sawn_off_make_up_the_blank(a, b, c, eighths):
    # Conservation of volume: the same box cut away and kept apart add up to the whole.
    whole = Box((Fraction(0),) * 3, (a, b, c))
    part = Box((Fraction(0),) * 3, (a * eighths / 8, b, c))
    left = solid_of(solid_of_box(whole), [cut(part)])
    assert left.volume() + float(part.volume_mm3) == pytest.approx(float(a * b * c), rel=1e-9)
