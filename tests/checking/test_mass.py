"""Weights: centres and volumes against trimesh, closed forms and plain arithmetic."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from benchleaf.checking.mass import measure_solid, weigh_copies, weigh_marks
from benchleaf.joinery.solids import placed_solid
from small_plans import work_small_plan

# Wood Handbook Eq. 4-14: northern red oak, 0.63, is 44.05 lb/ft3 at 12 %; 1 ft3 is 1,728 in3.
OAK_LB_IN3 = 44.05 / 1728
KG_PER_LB = 0.45359237


def _mesh(solid: Manifold) -> trimesh.Trimesh:
    mesh = solid.to_mesh()
    return trimesh.Trimesh(np.asarray(mesh.vert_properties)[:, :3], np.asarray(mesh.tri_verts))


@given(
    st.tuples(*(st.floats(1, 500) for _ in range(3))),
    st.tuples(*(st.floats(-900, 900) for _ in range(3))),
    st.floats(0.1, 0.9),
)
@settings(max_examples=40)
def test_volume_and_centre_are_those_of_trimesh(size, place, part) -> None:
    box = Manifold.cube(size).translate(place)
    notch = Manifold.cube([part * extent for extent in size]).translate(place)
    solid = box - notch
    volume, centre = measure_solid(solid)
    other = _mesh(solid)
    assert volume == pytest.approx(other.volume, rel=1e-3)
    assert centre == pytest.approx(tuple(other.center_mass), rel=1e-3, abs=1e-2)


def test_a_tapered_leg_has_the_volume_of_a_frustum() -> None:
    # L/3 (a2 + ab + b2): 28 x 1-3/4 to 7/8 in is 50.0208 in3.
    ends = [
        (x, y, z)
        for z, side in ((0, 1.75), (28, 0.875))
        for x in (-side / 2, side / 2)
        for y in (-side / 2, side / 2)
    ]
    volume, _ = measure_solid(Manifold.hull_points(np.array(ends)))
    assert volume == pytest.approx(50.0208, abs=1e-4)


def test_an_oak_shelf_weighs_what_its_box_comes_to() -> None:
    # 36 x 11.25 x 0.75 in is 303.75 in3, 7.743 lb of red oak at 12 %.
    joinery, _ = work_small_plan(
        {
            "units": "in",
            "parts": {"shelf": {"box": "0 0 0 to 36 11-1/4 3/4", "of": "red oak"}},
            "joints": [],
        }
    )
    weight = weigh_copies(joinery)["A"]
    assert weight.mass_kg / KG_PER_LB == pytest.approx(303.75 * OAK_LB_IN3, rel=1e-4)
    assert weight.mass_kg / KG_PER_LB == pytest.approx(7.743, abs=5e-4)
    assert weight.centre_mm == pytest.approx((18 * 25.4, 11.25 / 2 * 25.4, 0.375 * 25.4))


def test_copies_weigh_alike_where_each_of_them_stands() -> None:
    joinery, _ = work_small_plan(
        {
            "units": "mm",
            "overall": {"wide": 600, "deep": 300, "high": 500},
            "parts": {
                "leg": {"box": "0 0 0 to 40 40 480", "mirror": ["left-right", "front-back"]},
                "rail": {"box": "40 5 380 to 560 25 480", "mirror": ["front-back"]},
                "top": {"box": "0 0 480 to 600 300 500", "sheet": "long", "thickness": "high"},
            },
            "joints": [
                {"mortise and tenon": ["rail", "leg"]},
                {"rests on": ["top", "leg"]},
                {"rests on": ["top", "rail"]},
            ],
        }
    )
    weights = weigh_copies(joinery)
    # each placed solid anew, by trimesh
    for mark, weight in weights.items():
        other = _mesh(placed_solid(joinery, mark))
        assert weight.volume_mm3 == pytest.approx(other.volume, rel=1e-4)
        assert weight.centre_mm == pytest.approx(tuple(other.center_mass), abs=0.05)
    whole = weigh_marks(weights, joinery.piece.copies)
    assert whole is not None
    assert whole.centre_mm[:2] == pytest.approx((300, 150))
    assert whole.mass_kg == pytest.approx(sum(w.mass_kg for w in weights.values()))


def test_nothing_is_weighed_whose_wood_is_not_known() -> None:
    joinery, _ = work_small_plan(
        {
            "units": "in",
            "parts": {"shelf": {"box": "0 0 0 to 36 11-1/4 3/4", "of": "moon rock"}},
            "joints": [],
        }
    )
    assert weigh_copies(joinery) == {}
    assert weigh_marks({}, joinery.piece.copies) is None
