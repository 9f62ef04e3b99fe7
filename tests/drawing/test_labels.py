"""Where marks go, and the sheets of labels."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from benchleaf.drawing.label_sheets import draw_labels, label_names, say_place
from benchleaf.drawing.mark_places import MarkPlace, list_mark_places
from benchleaf.drawing.page import SAFE_HEIGHT_MM, SAFE_WIDTH_MM
from benchleaf.drawing.scene import Scene, Text
from benchleaf.drawing.text_metrics import text_corners
from benchleaf.frames import FACES
from benchleaf.joinery.records import Joinery
from benchleaf.pipeline import work_plan

PLANS = Path(__file__).parents[2] / "plans"
NAMES = ("finishing-cupboard", "hall-bench", "splayed-stool", "tool-chest")


@pytest.fixture(scope="module", params=NAMES)
def joinery(request: pytest.FixtureRequest) -> Joinery:
    text = (PLANS / f"{request.param}.plan.yml").read_text("utf-8")
    made = work_plan(text, f"plans/{request.param}.plan.yml").joinery
    assert made is not None
    return made


def way(name: str) -> np.ndarray:
    axis, is_high = FACES[name]
    vector = np.zeros(3)
    vector[axis] = 1 if is_high else -1
    return vector


def texts_of(scenes: list[Scene]) -> list[Text]:
    return [mark for scene in scenes for mark in scene.marks if isinstance(mark, Text)]


def test_every_copy_has_one_mark_and_one_label(joinery: Joinery) -> None:
    places = list(list_mark_places(joinery))
    assert sorted(place.mark for place in places) == sorted(joinery.copies)
    scenes = dict(draw_labels(joinery))
    assert tuple(scenes) == label_names(joinery)
    large = [text.text for text in texts_of(list(scenes.values())) if text.height == 7.0]
    assert large == [place.mark for place in places]


def test_right_is_on_the_right_hand_of_who_looks_at_the_face(joinery: Joinery) -> None:
    # The right-hand rule: who looks along f with u above has f x u on the right hand.
    for place in list_mark_places(joinery):
        if not place.is_round:
            looking, up, right = -way(place.face), way(place.up), way(place.right)
            assert np.array_equal(np.cross(looking, up), right), place.mark


def test_the_end_and_the_edge_lie_round_the_face(joinery: Joinery) -> None:
    for place in list_mark_places(joinery):
        axes = {FACES[name][0] for name in (place.face, place.end, place.edge or place.up)}
        assert place.is_round or len(axes) == 3, place.mark


def test_a_mark_stands_upright_where_its_face_does(joinery: Joinery) -> None:
    for place in list_mark_places(joinery):
        if place.face in {"front", "back", "left", "right"} and not place.is_round:
            assert place.up == "top", place.mark


def test_mirrored_copies_are_marked_on_mirrored_places(joinery: Joinery) -> None:
    # The second copy across the centre plane left to right: left for right, all else the same.
    places = {place.mark: place for place in list_mark_places(joinery)}
    swap = {"left": "right", "right": "left"}
    for first, copy in joinery.piece.copies.items():
        twin = next(
            (
                other.mark
                for other in joinery.piece.copies.values()
                if other.part == copy.part
                and other.mark != first
                and [[-axis[0], axis[1], axis[2]] for axis in copy.frame.axes]
                == [list(axis) for axis in other.frame.axes]
            ),
            None,
        )
        if twin:
            seen, mate = places[first], places[twin]
            assert mate.face == swap.get(seen.face, seen.face)
            assert mate.end == swap.get(seen.end, seen.end)


def test_labels_keep_within_the_paper_and_off_one_another(joinery: Joinery) -> None:
    for _, scene in draw_labels(joinery):
        assert (scene.width, scene.height) == (SAFE_WIDTH_MM, SAFE_HEIGHT_MM)
        boxes = []
        for text in texts_of([scene]):
            corners = text_corners(text)
            xs, ys = zip(*corners, strict=True)
            assert min(xs) >= 0
            assert max(xs) <= SAFE_WIDTH_MM
            assert max(ys) <= SAFE_HEIGHT_MM
            boxes.append((min(xs), min(ys), max(xs), max(ys), text.text))
        for index, a in enumerate(boxes):
            for b in boxes[index + 1 :]:
                apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
                assert apart, (a[4], b[4])


def test_no_size_on_a_label_is_cut_short(joinery: Joinery) -> None:
    # Length, width and thickness, and their unit (common practice, no source).
    sizes = [t.text for t in texts_of([s for _, s in draw_labels(joinery)]) if " x " in t.text]
    unit = joinery.piece.plan.units.value
    assert len(sizes) == len(joinery.copies)
    assert all(size.count(" x ") == 2 and size.endswith(f" {unit}") for size in sizes)


def test_a_label_says_in_words_what_it_shows() -> None:
    place = MarkPlace(
        mark="B1", name="rail", size_mm=(400, 80, 18), face="front", end="left", edge="bottom",
        up="top", right="right", wide_mm=400, high_mm=80, is_round=False,
    )  # fmt: skip
    assert say_place(place) == (
        "On the front face, near the left end;",
        "head of the mark to the top",
    )
