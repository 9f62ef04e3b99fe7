"""Templates are true to size: their lines, their bars, and the marks by which sheets join."""

from __future__ import annotations

import re

import pytest
from tests.drawing.legibility import texts_of
from tests.sequencing.shaped_plans import STOOL
from tests.small_plans import work_small_plan

from benchleaf.drawing import draw_plan
from benchleaf.drawing.scene import Circle, Line, Path
from benchleaf.drawing.svg import write_svg
from benchleaf.drawing.template_sheets import (
    BARS_MM,
    FRAME_MM,
    draw_templates,
    lines_too_large,
    template_names,
)
from benchleaf.outlines import area_mm2, limits
from benchleaf.pipeline import work_plan
from benchleaf.site.emit import Writer
from benchleaf.site.pages import view_plan, write_plan
from benchleaf.site.templating import open_templates
from handmade_plan import SOURCE

APRON = "0 0 0 to 26 3/4 5"
INCH = 25.4  # NIST SP 811
WRITER = Writer(open_templates(), directory_urls=True)


def templates(box, *shape):
    joinery, said = work_small_plan(
        {"units": "in", "parts": {"apron": {"box": box, "of": "maple", "shape": list(shape)}}}
    )
    assert [str(finding) for finding in said] == []
    drawn = list(draw_templates(joinery.shapes[0], joinery))
    assert template_names(joinery.shapes[0], joinery) == tuple(name for name, _ in drawn)
    return [scene for _, scene in drawn]


def line_of(scene):
    (path,) = (mark for mark in scene.marks if isinstance(mark, Path))
    return path.outline


def test_an_arc_is_drawn_true_to_size_as_one_arc() -> None:
    sheets = templates(APRON, {"arc": "bottom", "rise": 2, "chord": 22})
    # 22 in and two margins of 6 mm take four frames of 165 mm.
    assert len(sheets) == 4
    low, high = limits(line_of(sheets[0]))
    assert high[0] - low[0] == pytest.approx(22 * INCH)
    assert high[1] - low[1] == pytest.approx(2 * INCH)
    # R = (c2 / 4 + h2) / 2h: (121 + 4) / 4 in, half of both diameters in the path.
    radius = (11**2 + 2**2) / 4 * INCH
    (drawn,) = re.findall(r"A([0-9.]+) ([0-9.]+) 0 0 ([01])", write_svg(sheets[0]))
    assert [float(part) for part in drawn[:2]] == [pytest.approx(radius, abs=0.01)] * 2
    # Hollow from below: on paper, where y runs down, from left to right it turns from x towards y.
    assert drawn[2] == "1"


@pytest.mark.parametrize(("wide", "is_too_large"), [(12, False), (60, True), (4000, True)])
def test_a_line_that_would_take_too_many_sheets_is_told(wide: int, is_too_large: bool) -> None:
    # A line round 60 in across is 188 in long, 29 frames of 6-1/2 in; 24 are drawn at the most.
    box = f"0 0 0 to {wide} {wide} 3/4"
    joinery, _ = work_small_plan(
        {"units": "in", "parts": {"top": {"box": box, "of": "maple", "shape": [{"circle": "top"}]}}}
    )
    shape = joinery.shapes[0]
    told = lines_too_large(shape, joinery)
    assert bool(told) == is_too_large
    assert bool(template_names(shape, joinery)) != is_too_large
    assert all(line.startswith("top face: ") for line in told)


def test_an_outline_is_drawn_as_curves() -> None:
    points = ["1 x 1", "10 x 1", "20 x 1-1/2", "15 x 4"]
    sheets = templates(APRON, {"outline": "front", "through": points})
    assert all(write_svg(sheet).count("C") >= len(points) for sheet in sheets)


@pytest.mark.parametrize("face", ["front", "back"])
def test_a_template_is_seen_from_the_face_that_it_lies_on(face: str) -> None:
    corners = ["0 x 0", "6 x 0", "0 x 4"]
    (sheet,) = templates(
        "0 0 0 to 6 3/4 4", {"outline": face, "through": corners, "sides": "straight"}
    )
    line = line_of(sheet)
    points = [end for end, _ in line.steps()]
    square = points[0]
    # The square corner is at the left below as seen from the front, at the right from behind.
    others = [x for x, _ in points[1:]]
    assert (square[0] <= min(others)) == (face == "front")
    assert square[1] == max(y for _, y in points)
    assert abs(area_mm2(line)) == pytest.approx(6 * 4 / 2 * INCH**2)


def test_every_sheet_has_both_bars_at_their_length_and_prints_at_its_size() -> None:
    for sheet in templates("0 0 0 to 12 12 3/4", {"circle": "top"}):
        level = [
            abs(mark.points[1][0] - mark.points[0][0])
            for mark in sheet.marks
            if isinstance(mark, Line) and len(mark.points) == 2
        ]
        for length in (100.0, 4 * INCH):
            assert any(one == pytest.approx(length) for one in level)
        assert set(BARS_MM) <= set(texts_of(sheet))
        svg = write_svg(sheet)
        assert 'width="180mm"' in svg
        assert 'viewBox="0 0 180 250"' in svg


def test_sheets_join_at_crosses_of_one_name() -> None:
    sheets = templates("0 0 0 to 12 12 3/4", {"circle": "top"})
    places: dict[str, set[tuple[float, float]]] = {}
    for sheet in sheets:
        crosses = [mark.centre for mark in sheet.marks if isinstance(mark, Circle)]
        low, _ = limits(line_of(sheet))
        names = [text for text in texts_of(sheet) if re.fullmatch(r"[A-Z][0-9]+", text)]
        for name, (x, y) in zip(names, crosses, strict=True):
            # Measured from the drawing itself, so that like names must fall on one place.
            spot = (round(x - float(low[0]), 6), round(y - float(low[1]), 6))
            places.setdefault(name, set()).add(spot)
    assert all(len(spots) == 1 for spots in places.values())
    (a1,), (a2,), (b1,) = places["A1"], places["A2"], places["B1"]
    assert (a2[0] - a1[0], b1[1] - a1[1]) == (
        pytest.approx(FRAME_MM[0]),
        pytest.approx(FRAME_MM[1]),
    )


def test_a_parts_page_shows_its_templates_and_their_drawings_are_written() -> None:
    worked = work_plan(STOOL, "plans/trial-stool.plan.yml")
    scenes = draw_plan(worked)
    named = [name for name in scenes if name.startswith("template-apron-")]
    # The arc is 20 in long: four sheets; the hand hole takes one.
    assert named == [f"template-apron-1-{n}" for n in (1, 2, 3, 4)] + ["template-apron-2-1"]
    pages = view_plan(SOURCE, worked, scenes)
    written = {file.src_uri.split("/", 2)[2]: file for file in write_plan(pages, WRITER)}
    assert {f"drawings/{name}.svg" for name in named} <= set(written)
    page = str(written["parts/apron.md"].body)
    assert [name for name in named if f"{name}.svg" in page] == named
    # The whole plan to print would grow by a sheet for each: they print from the part's page.
    assert "template-apron" not in str(written["print.md"].body)


def test_a_part_beyond_any_sheet_of_paper_has_no_template() -> None:
    assert templates("0 0 0 to 9000 3/4 9000", {"arc": "bottom", "rise": 4000}) == []


def test_what_is_bored_or_routed_to_a_stop_needs_no_template() -> None:
    slot = {"slot": "front", "size": "3 x 1/2"}
    assert templates(APRON, slot, {"chamfer": "top front"}, {"taper": "top", "to": 3}) == []
