"""Pages as Chromium shows and prints them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from browsers import PAPERS, Browser, find_browser, open_browser, serve
from sites import Site, build_site, write_site
from stand_in import stand_in_for_pipeline

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(
        find_browser() is None,
        reason="Chromium and chromedriver are not installed: what pages look like is NOT tested",
    ),
]

PLAN = "plans/side-frame/"
PAGES = (
    "plans/",
    PLAN,
    f"{PLAN}safety/",
    f"{PLAN}materials/",
    f"{PLAN}shopping/",
    f"{PLAN}cutting/",
    f"{PLAN}parts/",
    f"{PLAN}parts/leg/",
    f"{PLAN}joints/",
    f"{PLAN}steps/",
    f"{PLAN}steps/rip-strips/",
    f"{PLAN}steps/glue-frame/",
    f"{PLAN}print/",
)
# chosen: the width of a small telephone of the last ten years, and WCAG 2.2, 1.4.10's 320 px.
PHONES = (390, 320)


def build(folder: Path, **settings: Any) -> Site:
    with stand_in_for_pipeline():
        theme = {
            "name": "material",
            "font": False,
            "features": ["navigation.instant"],
            "palette": [{"scheme": "default"}, {"scheme": "slate"}],
        }
        site = build_site(write_site(folder, {"side-frame": "good\n"}, theme=theme, **settings))
    assert site.error is None
    return site


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    source = tmp_path_factory.mktemp("source")
    (source / "site").mkdir()
    # The theme's own navigation works at the address that the site was built for.
    with serve(source / "site") as address:
        build(source, site_url=address)
        with open_browser(address) as browser:
            yield browser


@pytest.mark.parametrize("page", PAGES)
def test_page_opens_without_complaint_and_shows_all_its_drawings(
    browser: Browser, page: str
) -> None:
    browser.open(page)
    assert browser.complaints() == []
    empty = browser.run(
        "return [...document.querySelectorAll('.bl-page img')]"
        ".filter(i => !i.complete || !i.naturalWidth).map(i => i.src)"
    )
    assert empty == []


@pytest.mark.parametrize("width", PHONES)
@pytest.mark.parametrize("page", PAGES)
def test_page_is_no_wider_than_a_phone(browser: Browser, page: str, width: int) -> None:
    browser.open(page, width=width)
    assert browser.run("return document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("width", PHONES)
@pytest.mark.parametrize("page", PAGES)
def test_no_column_of_numbers_lies_beyond_a_phones_edge(
    browser: Browser, page: str, width: int
) -> None:
    browser.open(page, width=width)
    hidden = browser.run(
        "return [...document.querySelectorAll('.bl-scroll')]"
        ".filter(box => box.scrollWidth > box.clientWidth + 1).map(box => box.ariaLabel)"
    )
    assert hidden == []


_EDGES = """
return [...document.querySelectorAll('.bl-call, .bl-gallery__card')].map(box =>
  [...box.querySelectorAll(':scope > p:not(.bl-call__head)')].map(line => {
    const range = document.createRange();
    range.selectNodeContents(line);
    return Math.round(range.getBoundingClientRect().left);
  }));
"""


@pytest.mark.parametrize("page", ["plans/", f"{PLAN}safety/", f"{PLAN}steps/rip-strips/"])
def test_lines_of_a_box_begin_under_one_another(browser: Browser, page: str) -> None:
    browser.open(page)
    boxes = browser.run(_EDGES)
    assert boxes
    assert [edges for edges in boxes if len(set(edges)) > 1] == []


@pytest.mark.parametrize("page", [f"{PLAN}steps/rip-strips/", f"{PLAN}parts/"])
def test_boxes_are_large_enough_to_hit(browser: Browser, page: str) -> None:
    browser.open(page, width=390)
    sizes = browser.run(
        "return [...document.querySelectorAll('.bl-box')]"
        ".map(b => b.getBoundingClientRect()).map(r => Math.min(r.width, r.height))"
    )
    # WCAG 2.2, 2.5.8: 24 by 24 CSS pixels.
    assert min(sizes) >= 24


def _luminance(colour: list[float]) -> float:
    # WCAG 2.2, relative luminance.
    parts = [c / 255 for c in colour]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


_COLOURS = """
const seen = [];
const solid = c => { const n = c.match(/[\\d.]+/g).map(Number); return n.length < 4 || n[3] === 1 };
const ground = e => {
  for (; e; e = e.parentElement) {
    const c = getComputedStyle(e).backgroundColor;
    if (solid(c)) return c;
  }
  return 'rgb(255, 255, 255)';
};
const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
while (walk.nextNode()) {
  const e = walk.currentNode.parentElement;
  if (!walk.currentNode.data.trim() || !e.closest('.bl-page') || !e.checkVisibility()) continue;
  if (e.closest('[aria-hidden=true]')) continue;
  const numbers = c => c.match(/[\\d.]+/g).map(Number).slice(0, 3);
  seen.push([walk.currentNode.data, numbers(getComputedStyle(e).color), numbers(ground(e))]);
}
return seen;
"""


@pytest.mark.parametrize("scheme", ["default", "slate"])
@pytest.mark.parametrize("page", PAGES)
def test_every_word_stands_out_from_its_ground(browser: Browser, page: str, scheme: str) -> None:
    browser.open(page)
    browser.run(f"document.body.setAttribute('data-md-color-scheme', '{scheme}')")
    browser.settle()
    pale = []
    for text, ink, ground in browser.run(_COLOURS):
        dark, light = sorted((_luminance(ink), _luminance(ground)))
        # WCAG 2.2, 1.4.3: 4.5 to 1 for text of normal size.
        if (light + 0.05) / (dark + 0.05) < 4.5:
            pale.append((text, ink, ground))
    assert pale == []


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("page", PAGES)
def test_print_keeps_within_the_paper(
    browser: Browser, page: str, paper: str, tmp_path: Path
) -> None:
    browser.open(page)
    printed = browser.print(paper, tmp_path)
    width, height = (72 * side for side in PAPERS[paper])
    assert all(abs(sheet.size[0] - width) < 1 for sheet in printed.sheets)
    assert all(sheet.words for sheet in printed.sheets)
    for left, top, right, bottom in printed.inked(tmp_path):
        # chosen: 1/4 in, which most printers reach
        assert left >= 18
        assert top >= 18
        assert right <= width - 18
        assert bottom <= height - 18
    # 180 mm is what A4 has between margins of 15 mm; whatever is wider has it in the middle.
    wide = 180 / 25.4 * 72
    for sheet in printed.sheets:
        assert min(word[0] for word in sheet.words) >= (width - wide) / 2 - 1
        assert max(word[2] for word in sheet.words) <= (width + wide) / 2 + 1


@pytest.mark.parametrize("paper", PAPERS)
def test_printed_plan_says_everything_and_counts_its_sheets(
    browser: Browser, paper: str, tmp_path: Path
) -> None:
    browser.open(f"{PLAN}print/")
    printed = browser.print(paper, tmp_path)
    for words in ("Side frame", "Shopping list", "Parts list", "Glue the rail to the legs", "WARNING"):
        assert words in printed.text
    for number, sheet in enumerate(printed.sheets, start=1):
        assert f"Page {number} of {len(printed.sheets)}" in sheet.text
        assert "Side frame, revision B" in sheet.text
        # The plan's name once at the head, not at both sides of it.
        assert [word[4] for word in sheet.words if word[1] < 40] == [
            *"Side frame, revision B".split()
        ]


@pytest.mark.parametrize("paper", PAPERS)
def test_short_steps_share_a_sheet_each_in_one_piece(
    browser: Browser, paper: str, tmp_path: Path
) -> None:
    browser.open(f"{PLAN}print/")
    sheets = [sheet.text for sheet in browser.print(paper, tmp_path).sheets]
    steps = (
        ("1. Rip strips for A, B and C Step 1 of 3", "show no light"),
        ("2. Drill the dowel holes Step 2 of 3", "25 deep"),
        ("3. Glue the rail to the legs Step 3 of 3", "within 1 mm"),
    )
    # Three steps of a few lines each, after a table of three rows.
    holding = [sheet for sheet in sheets if any(words in sheet for words, _ in steps)]
    assert len(holding) <= 2
    for words, end in steps:
        assert any(words in sheet and end in sheet for sheet in holding), words


def test_nothing_of_the_site_but_the_plan_is_printed(browser: Browser, tmp_path: Path) -> None:
    browser.open(f"{PLAN}steps/rip-strips/")
    text = browser.print("A4", tmp_path).text
    for words in ("Overview", "Next", "Search", "Material for MkDocs"):
        assert words not in text


_FIGURES = """
return [...document.querySelectorAll('.bl-figure img')].map(i => [
  i.getAttribute('width') * 1, i.getBoundingClientRect().width,
  i.parentElement.scrollWidth - i.parentElement.clientWidth, getComputedStyle(i).colorScheme,
]);
"""


def test_drawings_print_whole_at_their_own_size_and_light(browser: Browser) -> None:
    # 180 mm, what A4 has between our margins, at 96 px to the inch
    browser.open(f"{PLAN}parts/leg/", width=680, height=1000)
    browser.run("document.body.setAttribute('data-md-color-scheme', 'slate')")
    browser.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    try:
        figures = browser.run(_FIGURES)
    finally:
        browser.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    assert figures
    for own, shown, hidden, scheme in figures:
        assert abs(own - shown) <= 1
        assert hidden <= 0
        assert scheme == "light"


def test_pages_follow_one_another_without_being_loaded_anew(browser: Browser) -> None:
    browser.open(f"{PLAN}steps/rip-strips/")
    # The theme's own navigation begins when it has read the map of the site.
    browser.wait_for("performance.getEntries().some(e => /sitemap/.test(e.name) && e.responseEnd)")
    browser.run("window.stayed = true; document.querySelector('.bl-chain__next').click()")
    browser.wait_for("document.querySelector('h1').textContent.startsWith('2')")
    assert browser.run("return document.querySelector('h1').textContent").startswith("2. Drill")
    assert browser.run("return window.stayed") is True
    assert browser.complaints() == []


def test_site_opens_from_the_disk(browser: Browser, tmp_path: Path) -> None:
    site = build(tmp_path, use_directory_urls=False, plugins=["search", "offline", "benchleaf"])
    first = site.folder / "plans/side-frame/index.html"
    browser.driver.get(first.as_uri())
    browser.run("document.querySelector('.bl-local li:nth-child(3) a').click()")
    assert browser.run("return document.querySelector('h1').textContent").startswith("Shopping list")
    # The theme asks for a helper of its search from elsewhere; nothing else may leave the disk.
    assert [c for c in browser.complaints() if "iframe-worker" not in c] == []
