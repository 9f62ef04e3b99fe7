"""The demo site, as Chromium shows and prints it: real plans, every page."""

from __future__ import annotations

import logging
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from browsers import PAPERS, Browser, Sheet, find_browser, open_browser, serve
from sites import Site, build_site, forget_plugins

TOP = Path(__file__).parents[2]

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(
        find_browser() is None,
        reason="Chromium, chromedriver or poppler is not installed: the demo is NOT looked at",
    ),
]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The demo site, built strictly from a copy of its source."""
    folder = tmp_path_factory.mktemp("demo")
    for name in ("docs", "plans", "shops"):
        shutil.copytree(TOP / name, folder / name)
    shutil.copy(TOP / "mkdocs.yml", folder)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("NO_MKDOCS_2_WARNING", "1")
        forget_plugins()
        return build_site(folder / "mkdocs.yml", strict=True)


@pytest.fixture(scope="module")
def browser(demo: Site) -> Iterator[Browser]:
    with serve(demo.folder) as address, open_browser(address) as browser:
        yield browser


def pages_of(demo: Site) -> list[str]:
    return [name.removesuffix("index.html") for name in demo.pages if name.startswith("plans/")]


def test_demo_builds_strictly_without_a_word(demo: Site) -> None:
    assert demo.error is None
    assert demo.messages(logging.WARNING) + demo.messages(logging.ERROR) == []
    assert list(demo.broken_links()) == []


def test_no_page_is_wider_than_a_phone_or_complains(demo: Site, browser: Browser) -> None:
    wide, complaints = [], []
    # Steps and part sheets are alike; one in six is looked at, and every other page.
    for page in [page for page in pages_of(demo) if page.count("/") < 4] + pages_of(demo)[::6]:
        browser.open(page, width=390)
        if browser.run("return document.documentElement.scrollWidth") > 390:
            wide.append(page)
        complaints += browser.complaints()
    assert (wide, complaints) == ([], [])


# Each on the paper of the shops that work in its units.
PAPER_OF = {
    "hall-bench": "Letter",
    "keepsake-box": "Letter",
    "plant-stand": "Letter",
    "tool-chest": "Letter",
    "wall-bookcase": "A4",
}


@pytest.mark.parametrize("plan", PAPER_OF)
def test_printed_plan_keeps_within_the_paper_and_leaves_no_title_alone(
    demo: Site, browser: Browser, plan: str, tmp_path: Path
) -> None:
    paper = PAPER_OF[plan]
    width, height = (72 * side for side in PAPERS[paper])
    browser.open(f"plans/{plan}/print/")
    titles = browser.run(
        "return [...document.querySelectorAll('h2, h3')].map(h => h.firstChild.textContent.trim())"
    )
    printed = browser.print(paper, tmp_path)
    for left, top, right, bottom in printed.inked(tmp_path):
        # chosen: 1/4 in, which most printers reach; no sheet is empty
        assert 18 <= left < right <= width - 18
        assert 18 <= top < bottom <= height - 18
    # all pages of steps but the order of work
    steps = sum(name.startswith(f"plans/{plan}/steps/") for name in demo.pages) - 1
    for number in range(1, steps + 1):
        assert f"Step {number} of {steps}" in printed.text
    alone = [sheet.text[-80:] for sheet in printed.sheets if ends_in_title(sheet, titles)]
    assert alone == []
    # What is checked is at hand while it is done.
    assert [sheet.text[:120] for sheet in printed.sheets if begins_with_check(sheet)] == []
    # chosen: what a clip holds and a binder's ring takes
    assert len(printed.sheets) <= 60


def begins_with_check(sheet: Sheet) -> bool:
    """Tell whether the first word of a sheet below its head is that of a check."""
    first = min((word for word in sheet.words if word[1] > 40), key=lambda word: (word[1], word[0]))
    return first[4] == "Check"


def ends_in_title(sheet: Sheet, titles: list[str]) -> bool:
    """Tell whether the last line of a sheet, but for its number, is a title."""
    words = " ".join(str(word[4]) for word in sheet.words)
    body = re.sub(r"Page [0-9]+ of [0-9]+", "", words).strip()
    return any(body.endswith(title) for title in titles if len(title.split()) > 1)
