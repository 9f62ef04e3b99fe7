"""Hidden lines against closed forms, projected areas by shapely, and rays by Embree."""

import math

import numpy as np
import pytest
import shapely
from manifold3d import Manifold

from benchleaf.drawing.arrangement import STRAIGHT
from benchleaf.drawing.bodies import Body, body_of, gather
from benchleaf.drawing.exploding import explode_offsets
from benchleaf.drawing.pictorial import Picture, draw_bodies, picture_marks
from benchleaf.drawing.projection import (
    DIMETRIC,
    ISOMETRIC,
    View,
    from_back,
    from_below,
    from_left,
)
from benchleaf.drawing.visibility import (
    DEPTH_MM,
    Stretches,
    drawn_edges,
    faces_eye,
    occluders_of,
    seen_faces,
    visible,
)
from drawing.bench_piece import bench, bench_tree, bore, box, boxes_round
from drawing.random_scenes import TEN_VIEWS, random_bodies
from drawing.raster_reference import Raster, compare

ROOM = ((2.0, 2.0), (158.0, 118.0))
RASTER = Raster(columns=160, rows=120, step_mm=1.0)


def visible_mm(bodies: list[Body], view: View) -> float:
    """Length of all visible edges, mm of the piece."""
    soup = gather(bodies)
    left = visible(drawn_edges(soup, view), occluders_of(soup, view), view)
    return float(np.linalg.norm(left.ends - left.starts, axis=1).sum())


def draw(bodies: list[Body], view: View = ISOMETRIC) -> Picture:
    return draw_bodies(bodies, view, ROOM)


def strokes_mm(picture: Picture) -> float:
    """Length of all strokes of a picture, mm on the sheet."""
    runs = (*picture.arrangement.outlines, *picture.arrangement.inner)
    return float(sum(np.linalg.norm(np.diff(run, axis=0), axis=1).sum() for run in runs))


def slope_deg(view: View, axis: int) -> float:
    """Slope of an axis on the picture, degrees above level to the right."""
    across, up = view.flat(np.eye(3))[axis]
    return math.degrees(math.atan2(up, across))


def test_isometric_axes_stand_at_thirty_degrees_and_equal_ratios():
    # ISO 5456-3: axes at 30 deg, 1 : 1 : 1.
    assert slope_deg(ISOMETRIC, 0) == pytest.approx(-30)
    assert slope_deg(ISOMETRIC, 1) == pytest.approx(30)
    assert slope_deg(ISOMETRIC, 2) == pytest.approx(90)
    assert np.linalg.norm(ISOMETRIC.flat(np.eye(3)), axis=1) == pytest.approx([1, 1, 1])


def test_dimetric_axes_stand_at_seven_and_forty_two_degrees_with_depth_halved():
    # ISO 5456-3: axes at 7 and 42 deg, depth 1 : 2.
    assert slope_deg(DIMETRIC, 0) == pytest.approx(-7)
    assert slope_deg(DIMETRIC, 1) == pytest.approx(42)
    assert np.linalg.norm(DIMETRIC.flat(np.eye(3)), axis=1) == pytest.approx([1, 0.5, 1])


@pytest.mark.parametrize(
    ("view", "signs"),
    [
        (ISOMETRIC, (1, -1, 1)),
        (from_left(ISOMETRIC), (-1, -1, 1)),
        (from_back(DIMETRIC), (-1, 1, 1)),
        (from_below(DIMETRIC), (1, -1, -1)),
    ],
)
def test_views_are_from_the_side_that_they_name(view, signs):
    # Piece axes: x to the right, y to the back, z up; right of, before and above the piece.
    assert np.sign(view.toward_viewer).tolist() == list(signs)


@pytest.mark.parametrize("view", TEN_VIEWS)
def test_a_cube_shows_nine_of_its_twelve_edges(view):
    # Geometry: three edges meet in the one corner that is hidden.
    assert visible_mm([body_of(box((0, 0, 0), (100, 100, 100)), "A")], view) == pytest.approx(900)


def test_a_cube_fills_a_regular_hexagon():
    picture = draw([body_of(box((0, 0, 0), (100, 100, 100)), "A")])
    side = 100 * picture.fit.scale
    areas = [fill.shape.area for fill in picture.arrangement.fills]
    # Geometry: a hexagon of that side, in three rhombs.
    assert len(areas) == 3
    assert sum(areas) == pytest.approx(3 * math.sqrt(3) / 2 * side**2, rel=1e-3)


def test_a_rail_hides_the_stretch_of_an_edge_behind_it():
    # A plate 10 thick before a rod: along the line of sight (1, -1, 1) the plate's square, 100 wide
    # and high, covers 100 of the rod's 300, which is level with the middle of the plate's shadow.
    plate = body_of(box((0, -10, 0), (100, 0, 100)), "A")
    soup = gather([plate])
    start, end = np.array([[-200.0, 100, -50]]), np.array([[200.0, 100, -50]])
    line = Stretches(starts=start, ends=end, sources=np.array([0]))
    left = visible(line, occluders_of(soup, ISOMETRIC), ISOMETRIC)
    # At y = 0 the sight line of (x, 100, -50) is at (x + 100, 0, 50), at y = -10 at (x + 110, -10,
    # 60): the plate covers x from -110 to 0.
    spans = [[a[0], b[0]] for a, b in zip(left.starts.tolist(), left.ends.tolist(), strict=True)]
    assert spans == [pytest.approx([-200, -110], abs=1e-5), pytest.approx([0, 200], abs=1e-5)]


def test_what_lies_before_a_face_is_not_hidden_by_it():
    plate = body_of(box((0, -10, 0), (100, 0, 100)), "A")
    line = Stretches(
        starts=np.array([[50.0, -60, 50]]),
        ends=np.array([[50.0, -10, 50]]),
        sources=np.array([7]),
    )
    left = visible(line, occluders_of(gather([plate]), ISOMETRIC), ISOMETRIC)
    assert left.starts.tolist() == line.starts.tolist()
    assert left.ends.tolist() == line.ends.tolist()
    assert left.sources.tolist() == [7]


def test_an_edge_on_a_face_is_seen_and_one_just_beneath_is_not():
    plate = body_of(box((0, 0, 0), (100, 100, 10)), "A")
    deeper = 2 * DEPTH_MM
    starts = np.array([[10.0, 10, 10], [10, 20, 10 - deeper]])
    lines = Stretches(starts=starts, ends=starts + np.array([50, 0, 0]), sources=np.arange(2))
    left = visible(lines, occluders_of(gather([plate]), ISOMETRIC), ISOMETRIC)
    assert left.sources.tolist() == [0]


def test_an_edge_behind_the_seam_of_two_touching_parts_stays_hidden():
    halves = [
        body_of(box((0, 0, 0), (50, 10, 100)), "A1"),
        body_of(box((50, 0, 0), (100, 10, 100)), "A2"),
    ]
    soup = gather(halves)
    # Straight behind the seam's front edge, x = 50, y = 0, as the eye looks along (1, -1, 1).
    start = np.array([[50.0, 0, 60]]) - 20 * np.array([1, -1, 1])
    line = Stretches(starts=start, ends=start - [0, 0, 30], sources=np.array([0]))
    assert not len(visible(line, occluders_of(soup, ISOMETRIC), ISOMETRIC).starts)


def test_flush_parts_show_their_seam_once():
    left = body_of(box((0, 0, 0), (60, 40, 20)), "A")
    right = body_of(box((60, 0, 0), (100, 40, 20)), "B")
    whole = draw([body_of(box((0, 0, 0), (100, 40, 20)), "A")])
    seamed = draw([left, right])
    assert seamed.fit == whole.fit
    # The seam runs across the top and down the front: depth and height once.
    seam = (40 + 20) * whole.fit.scale
    assert strokes_mm(seamed) - strokes_mm(whole) == pytest.approx(seam, abs=0.05)


def test_lines_that_coincide_are_drawn_once():
    stacked = [body_of(box((0, 0, 20 * i), (100, 40, 20 * i + 20)), f"A{i + 1}") for i in range(3)]
    picture = draw(stacked)
    # Geometry: nine edges of the whole, and two seams along front and right.
    edges = 3 * (100 + 40 + 60) + 2 * (100 + 40)
    assert strokes_mm(picture) == pytest.approx(edges * picture.fit.scale, abs=0.1)


def test_a_standing_peg_shows_two_outlines_and_no_facets():
    peg = body_of(Manifold.cylinder(100, 20, 20, 32), "A")
    soup = gather([peg])
    edges = drawn_edges(soup, ISOMETRIC)
    upright = np.abs(edges.ends - edges.starts)[:, 2] > 99
    assert int(upright.sum()) == 2
    assert len(np.unique(peg.faces)) == 3
    picture = draw([peg])
    # Geometry: a rectangle with half an ellipse above and half below. In isometric at ratio 1 a
    # circle is the root of 3/2 of its diameter wide, and its ellipse as high as that over root 3.
    scale = picture.fit.scale
    across = 40 * math.sqrt(1.5) * scale
    area = across * 100 * scale + math.pi / 4 * across * across / math.sqrt(3)
    drawn = sum(fill.shape.area for fill in picture.arrangement.fills)
    # A polygon of 32 sides has 0.6 % less than the circle.
    assert drawn == pytest.approx(area, rel=0.01)


def test_a_blind_bore_shows_its_wall_and_only_the_far_one():
    block = box((0, 0, 0), (100, 100, 40)) - bore((50, 50, 10), 2, 40, 31)
    picture = draw([body_of(block, "A")])
    soup = picture.soup
    walls = {
        fill.face
        for fill in picture.arrangement.fills
        if abs(soup.normals[fill.face][2]) < 0.1
        and 30 < soup.vertices[soup.triangles[fill.face]][:, 0].mean() < 70
        and 30 < soup.vertices[soup.triangles[fill.face]][:, 1].mean() < 70
    }
    assert len(walls) == 1


def test_a_bore_that_ends_in_a_skin_of_no_thickness_shows_nothing_through_it():
    block = box((0, 0, 0), (100, 100, 40)) - bore((50, 50, 0), 2, 40, 40 - DEPTH_MM / 2)
    solid = draw([body_of(box((0, 0, 0), (100, 100, 40)), "A")])
    assert strokes_mm(draw([body_of(block, "A")])) == pytest.approx(strokes_mm(solid), abs=0.05)


def test_seen_faces_are_the_nearest_and_nothing_lies_beside():
    bodies = [
        body_of(box((0, 0, 0), (50, 50, 50)), "A"),
        body_of(box((20, 20, 50), (30, 30, 90)), "B"),
    ]
    soup = gather(bodies)
    points = np.array([[25.0, 25, 90], [5, 5, 50], [25, 25, 500]])
    faces, nearness = seen_faces(
        ISOMETRIC.flat(points), soup, occluders_of(soup, ISOMETRIC), view=ISOMETRIC
    )
    assert [int(soup.owners[face]) for face in faces[:2]] == [1, 0]
    assert faces[2] == -1
    assert nearness[:2] == pytest.approx(points[:2] @ ISOMETRIC.toward_viewer, abs=1e-5)


@pytest.mark.parametrize("view", TEN_VIEWS)
def test_the_areas_of_a_picture_cover_its_shadow_once(view):
    # Against shapely: the union of all projected triangles that face the eye.
    bodies = list(bench())
    picture = draw(bodies, view)
    soup = picture.soup
    corners = soup.vertices[soup.triangles[faces_eye(soup, view)]].reshape(-1, 3)
    flat = picture.fit.on_sheet(view.flat(corners)).reshape(-1, 3, 2)
    shadow = shapely.union_all(shapely.polygons(flat), grid_size=1e-6)
    areas = [fill.shape for fill in picture.arrangement.fills]
    # The arrangement's grid may move its lines by so much.
    slack = STRAIGHT * sum(area.length for area in areas)
    assert sum(area.area for area in areas) == pytest.approx(shadow.area, abs=slack)
    assert shapely.union_all(areas).symmetric_difference(shadow).area < slack


@pytest.mark.parametrize("number", range(10))
def test_every_pixel_of_the_bench_shows_the_part_that_a_ray_meets(number):
    view = TEN_VIEWS[number]
    bodies = list(bench())
    if number % 2:
        offsets = explode_offsets(bench_tree(), boxes_round(bench()), 80)
        bodies = [body.moved(offsets[body.mark]) for body in bodies]
    picture = draw(bodies, view)
    agreement = compare(bodies, picture_marks(picture), view, fit=picture.fit, raster=RASTER)
    assert agreement.compared > 2000
    assert agreement.share >= 0.995
    assert picture.arrangement.doubtful_mm2 < 0.05
    assert picture.arrangement.open_mm < 0.05


@pytest.mark.parametrize("seed", range(50))
def test_every_pixel_of_a_random_heap_shows_the_part_that_a_ray_meets(seed):
    bodies = random_bodies(seed)
    view = TEN_VIEWS[seed % 10]
    picture = draw(bodies, view)
    agreement = compare(bodies, picture_marks(picture), view, fit=picture.fit, raster=RASTER)
    assert agreement.share >= 0.995
    assert picture.arrangement.doubtful_mm2 < 0.05
    assert picture.arrangement.open_mm < 0.05
