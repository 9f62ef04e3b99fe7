"""Rows of dowels and screws: whole wood for every hole, and rules that say what they follow."""

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest

from benchleaf.forms import Bore
from benchleaf.joinery.records import (
    Joinery,
    JointFit,
)
from benchleaf.lengths import MM_PER_INCH, parse_length
from benchleaf.pipeline import work_plan
from small_plans import work_small_plan

PLANS = Path(__file__).parents[2] / "plans"


def _demo(name: str) -> Joinery:
    path = PLANS / f"{name}.plan.yml"
    worked = work_plan(path.read_text(encoding="utf-8"), f"plans/{path.name}")
    assert worked.joinery is not None
    return worked.joinery


def _inches(text: str) -> Fraction:
    return parse_length(text, "in")


def _holes(joinery: Joinery, mark: str) -> Iterator[Bore]:
    for feature in joinery.copies[mark].features:
        if feature.role == "dowel hole" and isinstance(feature.shape, Bore):
            yield feature.shape


def test_dowels_in_the_end_of_a_laminated_post_stand_in_the_middle_of_a_layer():
    # Four layers of 3/4 lie side by side along the post's width: glue lines at 3/4, 1-1/2 and
    # 2-1/4. A 1/2 dowel fits into a layer with 1/8 on either side.
    joinery = _demo("plant-stand")
    for mark in ("D1", "D2", "D3", "D4"):
        mouths = [hole.mouth for hole in _holes(joinery, mark)]
        assert len(mouths) == 2
        for mouth in mouths:
            lines = [_inches(text) for text in ("3/4", "1-1/2", "2-1/4")]
            assert min(abs(mouth[0] - line) for line in lines) == _inches("3/8")
        assert {mouth[1] for mouth in mouths} == {_inches("3/4"), _inches("2-1/4")}


def test_mates_of_moved_dowels_still_face_one_another():
    joinery = _demo("plant-stand")
    placed = {
        mark: {
            joinery.piece.copies[mark].frame.outward(hole.mouth) for hole in _holes(joinery, mark)
        }
        for mark in ("B1", "B2", "D1", "D2", "D3", "D4")
    }
    posts = set().union(*(placed[mark] for mark in ("D1", "D2", "D3", "D4")))
    assert placed["B1"] | placed["B2"] == posts


def test_a_row_that_the_author_placed_stays_where_it_is():
    # Two layers of 3/4: the author's own offset of nothing keeps the row on the glue line.
    joinery, _ = work_small_plan(
        {
            "units": "in",
            "parts": {"leg": "0 0 0 to 3 3 20", "rail": "3 3/4 8 to 24 2-1/4 12"},
            "joints": [{"dowels": ["rail", "leg"], "size": "3/8 x 2", "inset": 1}],
        }
    )
    (fit,) = joinery.fits
    assert {round(Fraction(f.shape.mouth[1]) / MM_PER_INCH, 6) for f in fit.first_features} == {
        Fraction(3, 4)
    }


def _spacing_rule(fit: JointFit) -> tuple[str, str]:
    (size,) = (own for own in fit.sizes if own.name == "spacing")
    return size.rule, size.source


def test_a_spacing_says_that_it_follows_the_authors_count():
    fits = [fit for fit in _demo("hall-bench").fits if fit.joint == 5]
    # Five screws on a cleat 37-3/16 long stand 8-1/4 apart: more than the usual 8.
    rule = "from the plan's count of 5, spread evenly; at most 8 in is usual"
    assert {_spacing_rule(fit) for fit in fits} == {(rule, "the plan")}


def test_an_inset_that_is_more_than_usual_says_where_it_comes_from():
    fits = [fit for fit in _demo("hall-bench").fits if fit.joint == 5]
    insets = {size.rule for fit in fits for size in fit.sizes if size.name == "inset"}
    assert insets == {"what even spaces on the rule leave at each end"}


@pytest.mark.parametrize(("count", "usual"), [(3, False), (2, True)])
def test_a_count_that_keeps_to_what_is_usual_is_not_remarked_on(count, usual):
    joinery, _ = work_small_plan(
        {
            "units": "mm",
            "parts": {"shelf": "0 0 100 to 400 18 118", "wall": "0 18 0 to 400 38 300"},
            "joints": [{"butt": ["shelf", "wall"], "screws": "8 x 30", "count": count}],
        }
    )
    (fit,) = joinery.fits
    # 400 long with 50 at each end: 300 over one space is more than 200, over two it is not.
    assert ("is usual" in _spacing_rule(fit)[0]) is usual
