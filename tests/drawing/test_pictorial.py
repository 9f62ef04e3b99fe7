"""Assembled, exploded and step pictures of a bench: what is drawn, in which role and order."""

import re

import numpy as np
import pytest
import shapely

from benchleaf.drawing.bodies import body_of, gather
from benchleaf.drawing.exploding import trails, usual_gap_mm
from benchleaf.drawing.pictorial import (
    SIZE,
    assembled_picture,
    exploded_picture,
    step_picture,
)
from benchleaf.drawing.projection import ISOMETRIC, fit_into, from_back
from benchleaf.drawing.scene import Area, Circle, Line, Role, Scene, Text
from benchleaf.drawing.shading import face_tones, tell_apart
from benchleaf.drawing.spacing import readable_offsets
from drawing.bench_piece import bench, bench_tree, box, boxes_round

MARKS = [body.mark for body in bench()]


def exploded(size=SIZE) -> Scene:
    offsets = readable_offsets(bench_tree(), boxes_round(bench()), ISOMETRIC)
    return exploded_picture(bench(), offsets, ISOMETRIC, size=size)


def areas(scene: Scene, role: Role = Role.PART) -> list[Area]:
    return [mark for mark in scene.marks if isinstance(mark, Area) and mark.role is role]


def lines(scene: Scene, role: Role) -> list[Line]:
    return [mark for mark in scene.marks if isinstance(mark, Line) and mark.role is role]


def owner(area: Area) -> str:
    return area.id.split("-face-")[0]


def points(scene: Scene) -> np.ndarray:
    found = [p for m in scene.marks if isinstance(m, Line) for p in m.points]
    found += [p for area in areas(scene) for ring in area.rings for p in ring]
    return np.array(found)


def test_an_assembled_picture_fills_its_box_and_stays_inside():
    scene = assembled_picture(bench(), ISOMETRIC)
    assert (scene.width, scene.height, scene.scale) == (180.0, 130.0, "")
    low, high = points(scene).min(axis=0), points(scene).max(axis=0)
    assert (low >= 0).all()
    assert (high <= [180, 130]).all()
    # It is as large as its box lets it: one of the two margins is met, 2 mm.
    assert min(low[0], low[1]) == pytest.approx(2, abs=0.01)


def test_every_part_that_shows_has_areas_with_its_mark_in_their_ids():
    names = [area.id for area in areas(exploded())]
    assert all(re.fullmatch(r"[A-E]\d-face-\d+", name) for name in names)
    assert len(set(names)) == len(names)
    assert {name.split("-")[0] for name in names} == set(MARKS)


def test_pictures_lie_back_to_front_areas_lines_trails_balloons():
    kinds = []
    for mark in exploded().marks:
        kind = (type(mark).__name__, mark.role)
        if not kinds or kinds[-1] != kind:
            kinds.append(kind)
    assert kinds[:4] == [
        ("Area", Role.PART),
        ("Line", Role.FINE),
        ("Line", Role.OUTLINE),
        ("Line", Role.TRAIL),
    ]
    assert {role for _, role in kinds[4:]} == {Role.LEADER, Role.MARK}


def test_the_outline_of_the_piece_is_wide_and_the_edges_within_a_part_are_narrow():
    scene = assembled_picture([body_of(box((0, 0, 0), (100, 40, 20)), "A")], ISOMETRIC)
    outline, inner = lines(scene, Role.OUTLINE), lines(scene, Role.FINE)
    # A box shows a closed outline of six edges and three edges that meet in a corner within it.
    assert [line.points[0] == line.points[-1] for line in outline] == [True]
    assert len(outline[0].points) == 7
    assert sum(len(line.points) - 1 for line in inner) == 3


@pytest.mark.parametrize(("apart_mm", "is_wide"), [(4, False), (100, True)])
def test_outlines_too_near_each_other_are_narrow(apart_mm, is_wide):
    # ISO 128-2, from memory: at least 0.7 mm between lines; at this scale 4 mm are 0.5 mm.
    boards = [
        body_of(box((0, 0, 0), (1000, 300, 20)), "A1"),
        body_of(box((0, 300 + apart_mm, 0), (1000, 600, 20)), "A2"),
    ]
    scene = assembled_picture(boards, ISOMETRIC)
    flat = ISOMETRIC.flat(np.concatenate([board.vertices for board in boards]))
    fit = fit_into(flat, (2, 2), (178, 128))
    middle = shapely.Point(fit.on_sheet(ISOMETRIC.flat(np.array([[500.0, 300, 20]])))[0])
    wide = shapely.MultiLineString([line.points for line in lines(scene, Role.OUTLINE)])
    narrow = shapely.MultiLineString([line.points for line in lines(scene, Role.FINE)])
    assert (wide.distance(middle) < 0.01) is is_wide
    assert (narrow.distance(middle) < 0.01) is not is_wide


def test_faces_of_a_box_take_three_tones_lightest_on_top():
    scene = assembled_picture([body_of(box((0, 0, 0), (50, 50, 50)), "A")], ISOMETRIC)
    middles = {area.tone: np.mean(area.rings[0], axis=0) for area in areas(scene)}
    assert sorted(middles) == [0, 1, 2]
    assert middles[0][1] < min(middles[1][1], middles[2][1])
    assert middles[1][0] < middles[2][0]


def test_neighbours_never_look_alike_and_copies_do():
    bodies = tell_apart(bench())
    looks = {body.mark: (body.tone, body.hatch) for body in bodies}
    for pair in ("AB", "AC", "AD", "BE", "DE"):
        assert looks[f"{pair[0]}1"] != looks[f"{pair[1]}1"]
    assert len({looks[f"A{i}"] for i in range(1, 5)}) == 1


def test_many_neighbours_get_hatches_when_tones_run_out():
    sides = [((0, 0), (10, 90)), ((10, 0), (90, 10)), ((80, 10), (90, 90)), ((10, 80), (80, 90))]
    lids = [((0, 0, 20), (90, 90, 30)), ((0, 0, -10), (90, 90, 0))]
    solids = [box((*low, 0), (*high, 20)) for low, high in sides] + [box(*lid) for lid in lids]
    looks = {
        (body.tone, body.hatch)
        for body in tell_apart([body_of(s, "ABCDEF"[i]) for i, s in enumerate(solids)])
    }
    # The two lids meet all four sides, and the sides meet each other in a ring.
    assert len(looks) >= 3
    assert any(hatch for _, hatch in looks) or len(looks) == 3


def test_tones_stay_within_the_sheets_six():
    dark = [body_of(box((0, 0, 0), (50, 50, 50)), "A", tone=3)]
    scene = assembled_picture(dark, ISOMETRIC)
    assert all(0 <= area.tone <= 5 for area in areas(scene))


def test_a_trail_runs_from_a_moved_part_to_its_seat():
    seat = body_of(box((0, 0, 0), (100, 100, 20)), "A")
    lid = body_of(box((20, 20, 20), (80, 80, 40)), "B")
    assert trails([seat, lid], {"B": (0, 0, 50)}).tolist() == [[[50, 50, 20], [50, 50, 70]]]
    assert not len(trails([seat, lid], {"B": (10, 0, 50)})), "two slides make no straight trail"
    assert not len(trails([seat, lid], {"A": (0, 0, 9), "B": (0, 0, 9)}))
    assert not len(trails([seat, lid], {"B": (0, 0, 50)}, mates=[frozenset("AC")]))
    assert len(trails([seat, lid], {"B": (0, 0, 50)}, mates=[frozenset("AB")])) == 1


def test_trails_are_hidden_by_the_parts_before_them():
    seat = body_of(box((0, 0, 0), (100, 100, 20)), "A")
    lid = body_of(box((20, 20, 20), (80, 80, 40)), "B")
    scene = exploded_picture([seat, lid], {"B": (0, 0, 100)}, ISOMETRIC)
    (trail,) = lines(scene, Role.TRAIL)
    top = next(area for area in areas(scene) if owner(area) == "A" and area.tone == 0)
    drawn = {owner(a): shapely.union_all([shapely.Polygon(a.rings[0])]) for a in areas(scene)}
    upper, lower = sorted(trail.points, key=lambda point: point[1])
    # It comes out from under the lid, whose lower corner is nearest to the eye, and ends on the
    # middle of the seat's top.
    assert lower == pytest.approx(np.mean(top.rings[0], axis=0), abs=0.2)
    lid_shape = shapely.union_all(
        [shapely.Polygon(a.rings[0]) for a in areas(scene) if owner(a) == "B"]
    )
    assert lid_shape.boundary.distance(shapely.Point(upper)) < 0.01
    assert set(drawn) == {"A", "B"}


def test_a_step_shows_new_parts_in_full_and_standing_ones_pale():
    moved = ("C1", "C2")
    offsets = dict.fromkeys(moved, (0.0, -150.0, 0.0))
    standing = [body for body in bench() if body.mark in (*moved, "A3", "A4", "B2")]
    scene = step_picture(standing, moved, offsets, view=ISOMETRIC)
    assert {owner(area) for area in areas(scene)} == set(moved)
    assert {owner(area) for area in areas(scene, Role.GHOST)} == {"A3", "A4", "B2"}
    labels = [mark.text for mark in scene.marks if isinstance(mark, Text)]
    assert labels == list(moved)
    assert lines(scene, Role.TRAIL)
    # Wide lines go round the new parts only.
    ghosts = shapely.union_all([shapely.Polygon(a.rings[0]) for a in areas(scene, Role.GHOST)])
    fresh = shapely.union_all([shapely.Polygon(a.rings[0]) for a in areas(scene)])
    wide = shapely.MultiLineString([line.points for line in lines(scene, Role.OUTLINE)])
    assert wide.difference(fresh.boundary.buffer(0.02)).length < 0.1
    assert wide.difference(ghosts.boundary.buffer(0.02)).length > 10


def test_a_step_that_moves_nothing_far_draws_it_in_place():
    scene = step_picture(bench()[:2], ["A1"], {}, view=ISOMETRIC)
    assert {owner(area) for area in areas(scene)} == {"A1"}
    assert not lines(scene, Role.TRAIL)


def test_the_same_bodies_give_the_same_scene():
    assert exploded() == exploded()


def test_pictures_say_what_they_show():
    scene = exploded_picture(bench()[:3], {}, ISOMETRIC, id="legs")
    assert scene.id == "legs"
    assert scene.title == "The piece taken apart, isometric view"
    assert scene.description == "3 parts, each moved away from its seat: A1, A2, A3."


@pytest.mark.parametrize(
    ("count", "moved", "words"),
    [
        (3, ["A1"], "A1 goes onto the 2 parts that stand already."),
        (3, ["A1", "A3"], "A1, A3 go onto the part that stands already."),
        (2, ["A1", "A2"], "A1, A2 come together."),
    ],
)
def test_a_step_says_what_goes_onto_what(count, moved, words):
    scene = step_picture(bench()[:count], moved, {}, view=from_back(ISOMETRIC))
    assert scene.title == f"Putting on {', '.join(moved)}, isometric view from behind"
    assert scene.description == words


def test_a_picture_of_a_thin_body_has_no_area_without_size():
    sheet = body_of(box((0, 0, 0), (1200, 600, 0.6)), "A")
    scene = assembled_picture([sheet], ISOMETRIC)
    assert all(shapely.Polygon(area.rings[0]).area > 0 for area in areas(scene))


def test_the_gap_of_an_exploded_view_grows_with_the_piece():
    boxes = boxes_round(bench())
    # Geometry: the diagonal of the whole bench, slats included: 1140 x 354 x 450 mm and legs 360.
    diagonal = float(np.linalg.norm([1140, 360, 450]))
    assert usual_gap_mm(boxes) == pytest.approx(0.07 * diagonal, abs=0.01)


def test_tones_of_all_faces_are_known_at_once():
    soup = gather(bench())
    tones = face_tones(soup, ISOMETRIC)
    assert len(tones) == len(soup.triangles)
    assert tones.min() >= 0
    assert tones.max() <= 5


def test_circles_of_balloons_are_alike():
    circles = [m for m in exploded().marks if isinstance(m, Circle) and m.role is Role.MARK]
    assert len({circle.radius for circle in circles}) == 1
