"""Part sheets show shaping in view, tagged, sized and placed."""

from __future__ import annotations

import pytest
from tests.drawing.legibility import faults_of, texts_of
from tests.small_plans import work_small_plan

from benchleaf.drawing.part_sheet import draw_part_sheet
from benchleaf.drawing.scene import Circle

APRON = {"box": "0 0 0 to 30 3/4 4", "of": "maple"}


def sheet(part):
    joinery, said = work_small_plan({"units": "in", "parts": {"apron": part}})
    assert [str(finding) for finding in said] == []
    drawn = draw_part_sheet(joinery.shapes[0], joinery)
    # chosen safe box: what A4 and Letter both print.
    assert (drawn.width, drawn.height <= 250) == (180, True)
    return drawn


def texts(part, *shape):
    return set(texts_of(sheet({**part, "shape": list(shape)})))


ENTRIES = [
    {"taper": ["top", "bottom"], "to": 2, "from": 10},
    {"chamfer": "all edges of front"},
    {"round over": ["top front", "top back"], "radius": "1/4"},
    {"cove": "bottom front", "radius": "1/4"},
    {"arc": "bottom", "rise": "1-1/2", "chord": 24},
    {"arc": "top", "rise": 1, "form": "crowned"},
    {"curve": "bottom", "through": ["0 x 1", "10 x 2", "20 x 1/2", "30 x 0"]},
    {"circle": "front"},
    {"ellipse": "front", "size": "20 x 3"},
    {"outline": "front", "through": ["1 x 1", "10 x 1/2", "28 x 1", "20 x 3", "5 x 3-1/2"]},
    {"cut-out": "front", "size": "6 x 2", "corner": "1/2"},
    {"hand hole": "front"},
    {"slot": "front", "size": "3 x 3/8", "at": "5 x 2"},
    {"notch": "top", "width": 2, "depth": 1, "at": 8},
    {"hole": "front", "diameter": "1/2", "at": ["2 x 2", "28 x 2"], "depth": "1/2"},
]


@pytest.mark.parametrize("entry", ENTRIES, ids=[next(iter(entry)) for entry in ENTRIES])
def test_a_sheet_with_one_kind_of_shaping_is_legible(entry):
    assert faults_of(sheet({**APRON, "shape": [entry]})) == []


def test_an_arc_has_its_chord_rise_and_radius_and_the_ends_of_its_chord():
    found = texts(APRON, ENTRIES[4])
    # Radius of the circle through three points: (12 x 12 + 1.5 x 1.5) / 3.
    assert "arc chord 24, rise 1-1/2, radius 48-3/4" in found
    assert {"3", "27", "1-1/2"} <= found


def test_a_taper_has_where_it_starts_and_what_is_left():
    found = texts(APRON, ENTRIES[0])
    assert "2 × taper to 2 over 20" in found
    # It starts 20 from the end that it runs to; an inch is off each side.
    assert {"20", "1", "3"} <= found


def test_a_curve_has_a_table_of_its_points():
    found = texts(APRON, ENTRIES[6])
    assert "Points of a, from left and bottom: 0 × 1, 10 × 2, 20 × 1/2, 30 × 0" in found


def test_a_hole_has_its_diameter_and_depth_and_its_middles():
    found = texts(APRON, ENTRIES[14])
    assert "2 × hole 1/2 dia, 1/2 deep" in found
    assert {"2", "28"} <= found


def test_a_round_outline_is_drawn_as_a_circle():
    # An inch in four: 4 in across is 1 in of paper at 1:4, or as the sheet says.
    drawn = sheet({**APRON, "box": "0 0 0 to 12 12 3/4", "shape": [{"circle": "top"}]})
    share = float(drawn.scale.split(":")[1])
    radii = [mark.radius for mark in drawn.marks if isinstance(mark, Circle)]
    assert any(radius == pytest.approx(6 * 25.4 / share) for radius in radii)
    assert "round outline 12 dia" in texts_of(drawn)
