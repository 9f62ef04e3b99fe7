"""The demo site as its readers get it: built from the real settings, every link followed."""

from collections import Counter
from pathlib import Path

import pytest

from benchleaf.pipeline import work_plan
from benchleaf.shops import read_shop
from sites import Site, build_site

TOP = Path(__file__).parents[2]
SHOP = TOP / "shops" / "fernhill.shop.yml"
NAMES = [path.name.removesuffix(".plan.yml") for path in sorted((TOP / "plans").glob("*.plan.yml"))]


@pytest.fixture(scope="module")
def demo(tmp_path_factory) -> Site:
    return build_site(
        TOP / "mkdocs.yml", site_dir=str(tmp_path_factory.mktemp("demo")), strict=True
    )


def test_the_site_is_built_without_a_complaint_and_every_link_leads_somewhere(demo):
    assert demo.error is None
    assert list(demo.broken_links()) == []


def test_every_page_has_one_heading_and_ids_that_are_its_own(demo):
    # HTML Living Standard, 3.2.6: an id is unique in its tree. One h1 a page: WCAG 2.2 technique
    # H42 (from memory).
    pages = {name: page for name, page in demo.pages.items() if name.startswith("plans/")}
    assert {name for name, page in pages.items() if page.tags.count("h1") != 1} == set()
    twice = {
        name: [id_ for id_, count in Counter(page.ids).items() if count > 1]
        for name, page in pages.items()
    }
    assert {name: ids for name, ids in twice.items() if ids} == {}


@pytest.mark.parametrize("name", NAMES)
def test_every_step_part_and_sheet_of_a_plan_has_its_page_or_drawing(demo, name):
    shop, _ = read_shop(SHOP.read_text(encoding="utf-8"), SHOP.name)
    file = TOP / "plans" / f"{name}.plan.yml"
    plan = work_plan(file.read_text(encoding="utf-8"), file.name, shop)
    pages = {page for page in demo.pages if page.startswith(f"plans/{name}/")}
    for step in plan.sequence.steps:
        assert f"plans/{name}/steps/{step.slug}/index.html" in pages
    assert sum(f"plans/{name}/parts/" in page for page in pages) == len(plan.joinery.shapes) + 1
    drawings = sorted(path.name for path in (demo.folder / f"plans/{name}/drawings").glob("*.svg"))
    sheets = [drawing for drawing in drawings if drawing.startswith("sheet-")]
    assert len(sheets) == len(plan.cut_plan.sheets)


@pytest.mark.parametrize("name", NAMES)
def test_no_page_shows_what_is_meant_for_programs(demo, name):
    for address, page in demo.pages.items():
        if address.startswith(f"plans/{name}/"):
            for word in ("None", "Fraction(", "{{", "}}", "<class", "nan"):
                assert word not in page.body.split(), f"{word} on {address}"


def test_every_piece_of_a_board_has_the_number_of_the_cut_that_ends_it(demo):
    # By hand: the first cut of a board squares its end, each further one ends the next piece. The
    # fifth board holds layers of posts and an offcut of 8-3/8, so its cuts are 2, 3 and 4.
    text = " ".join(demo.pages["plans/plant-stand/cutting/index.html"].text.split())
    board = text[text.rindex("Length pine 5") : text.rindex("Length pine 6")]
    for cut, piece in ((2, "D2.4"), (3, "D3.1"), (4, "D3.2")):
        assert f"{cut} {piece} 1 29" in board
