"""The demo plans' pictures against an independent ray-cast raster, in ten views each."""

from pathlib import Path

import pytest

from benchleaf.drawing.bodies import Body
from benchleaf.drawing.book import bodies_of, boxes_of
from benchleaf.drawing.exploding import explode_offsets, usual_gap_mm
from benchleaf.drawing.pictorial import draw_bodies, picture_marks
from benchleaf.drawing.projection import (
    DIMETRIC,
    ISOMETRIC,
    View,
    from_back,
    from_below,
    from_left,
)
from benchleaf.joinery import JOINT_WORDS, cut_joints
from benchleaf.joinery.records import Joinery
from benchleaf.piece.placing import place_parts
from benchleaf.reading import read_plan
from benchleaf.shaping import SHAPING_WORDS
from drawing.raster_reference import Raster, compare

PLANS = sorted((Path(__file__).parents[2] / "plans").glob("*.plan.yml"))
SHEET = ((2.0, 2.0), (158.0, 118.0))
RASTER = Raster(columns=160, rows=120, step_mm=1.0)


def _views() -> tuple[View, ...]:
    above = [ISOMETRIC, from_left(ISOMETRIC), from_back(ISOMETRIC), from_back(from_left(ISOMETRIC))]
    below = [from_below(view) for view in above]
    return (*above, *below, DIMETRIC, from_left(DIMETRIC))


def _joinery(path: Path) -> Joinery:
    text = path.read_text(encoding="utf-8")
    plan, _ = read_plan(text, f"plans/{path.name}", JOINT_WORDS, shaping=SHAPING_WORDS)
    assert plan is not None
    piece, _ = place_parts(plan)
    assert piece is not None
    return cut_joints(piece)[0]


def _agreement(bodies: tuple[Body, ...], view: View) -> float:
    picture = draw_bodies(bodies, view, SHEET)
    marks = picture_marks(picture)
    return compare(bodies, marks, view, fit=picture.fit, raster=RASTER).share


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.name.split(".")[0])
def test_demo_pictures_show_what_rays_see(path):
    joinery = _joinery(path)
    bodies = bodies_of(joinery)
    boxes = boxes_of(joinery)
    offsets = explode_offsets(joinery.assembly, boxes, usual_gap_mm(boxes))
    apart = tuple(body.moved(offsets[body.mark]) for body in bodies)
    assert len(_views()) == 10
    for number, view in enumerate(_views()):
        # The odd views take the piece apart, so that both kinds are seen from all sides.
        shown = apart if number % 2 else bodies
        # chosen: 99.5 % of the pixels away from edges, the share asked for.
        assert _agreement(shown, view) >= 0.995, (view.name, number % 2)
