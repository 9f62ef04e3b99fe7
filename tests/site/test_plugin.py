"""The plugin in whole builds: what is published, logged, and stops a build."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import Any

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort

from sites import Site, build_site, write_site
from stand_in import StandIn

GOOD = "good\nplan: x\n"
BAD = "bad\n  leg: 3/8\n  <b>{{ x }}</b>\n"
THEMES = ("material", "mkdocs", "readthedocs")

pytestmark = pytest.mark.usefixtures("stand_in")


def problems(site: Site) -> list[str]:
    return site.messages(logging.WARNING) + site.messages(logging.ERROR)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("directory_urls", [True, False])
def test_strict_site_is_sound_under_every_theme_and_kind_of_address(
    tmp_path: Path,
    theme: str,
    directory_urls: bool,
) -> None:
    yml = write_site(
        tmp_path,
        {"a-frame": GOOD, "b-frame": GOOD},
        theme={"name": theme},
        use_directory_urls=directory_urls,
        strict=True,
    )
    site = build_site(yml)
    assert site.error is None
    assert problems(site) == []
    assert list(site.broken_links()) == []
    for name, page in site.pages.items():
        assert sorted(page.ids) == sorted(set(page.ids)), name
        assert page.open_at_end == [], name
    # gallery, and for each plan 10 pages with one of several under them, 3 parts, 3 steps
    plans = [name for name in site.pages if name.startswith("plans/")]
    assert len(plans) == 1 + 2 * (10 + 3 + 3)


def test_navigation_holds_gallery_and_overviews_only(tmp_path: Path) -> None:
    site = build_site(write_site(tmp_path, {"a-frame": GOOD}, theme={"name": "mkdocs"}))
    home = site.pages["index.html"]
    assert {link for link in home.links if link.startswith("plans/")} == {
        "plans/",
        "plans/a-frame/",
    }


def test_site_without_nav_gets_the_same_two_pages(tmp_path: Path) -> None:
    yml = write_site(tmp_path, {"a-frame": GOOD}, nav=None, theme={"name": "mkdocs"}, strict=True)
    site = build_site(yml)
    assert site.error is None
    links = {link for link in site.pages["index.html"].links if link.startswith("plans/")}
    assert links == {"plans/", "plans/a-frame/"}


def test_site_whose_nav_has_no_placeholder_builds_strictly(tmp_path: Path) -> None:
    yml = write_site(tmp_path, {"a-frame": GOOD}, nav=[{"Home": "index.md"}], strict=True)
    site = build_site(yml)
    assert site.error is None
    assert "plans/a-frame/index.html" in site.pages


def test_steps_know_what_stands_before_after_and_above(tmp_path: Path) -> None:
    theme = {"name": "material", "features": ["navigation.path"]}
    site = build_site(write_site(tmp_path, {"a-frame": GOOD}, theme=theme))
    html = site.pages["plans/a-frame/steps/drill-holes/index.html"].html
    assert '<link rel="prev" href="../rip-strips/">' in html
    assert '<link rel="next" href="../glue-frame/">' in html
    path = html[html.index('class="md-path"') :]
    above = ('href="../../../">Plans', 'href="../../"', 'href="../"')
    assert "Side frame" in path[: path.index("</nav>")]
    assert "Order of work" in path[: path.index("</nav>")], above


def test_toc_and_search_know_the_sections(tmp_path: Path) -> None:
    site = build_site(write_site(tmp_path, {"a-frame": GOOD}))
    html = site.pages["plans/a-frame/joints/index.html"].html
    assert 'href="#joint-1"' in html
    index = (site.folder / "search" / "search_index.json").read_text("utf-8")
    assert "plans/a-frame/joints/#joint-1" in index
    assert "centre of dowel hole 1" in index


def test_material_search_leaves_figures_navigation_and_print_page_out(tmp_path: Path) -> None:
    yml = write_site(tmp_path, {"a-frame": GOOD}, theme={"name": "material"})
    index = (build_site(yml).folder / "search" / "search_index.json").read_text("utf-8")
    assert "plans/a-frame/materials/" in index
    assert "plans/a-frame/print/" not in index
    assert "Drawing assembled" not in index
    assert "Revision B" not in index.replace("Revision B.", "")


def test_edit_link_opens_the_plan(tmp_path: Path) -> None:
    yml = write_site(
        tmp_path,
        {"a-frame": GOOD},
        theme={"name": "material", "features": ["content.action.edit"]},
        repo_url="https://example.org/repo",
        edit_uri="edit/main/docs/",
    )
    html = build_site(yml).pages["plans/a-frame/index.html"].html
    assert "https://example.org/repo/edit/main/plans/side-frame.plan.yml" in html


def test_strict_build_logs_every_finding_then_stops(tmp_path: Path) -> None:
    yml = write_site(tmp_path, {"bad": BAD, "also-bad": BAD, "good": GOOD}, strict=True)
    site = build_site(yml)
    errors = site.messages(logging.ERROR)
    for place in ("bad.plan.yml:2:3", "bad.plan.yml:3:3", "also-bad.plan.yml:2:3"):
        assert any(f"plans/{place}: error: parts.leg" in message for message in errors), place
    assert isinstance(site.error, Abort)
    assert errors[-1] == "The plans have 4 errors, and this build is strict."


def test_strict_build_stops_even_where_the_log_is_quiet(tmp_path: Path) -> None:
    # `mkdocs build -q` sets this level; MkDocs' own count of warnings then sees none.
    config = load_config(str(write_site(tmp_path, {"warn": "warn\na\nb\n"}, strict=True)))
    logger = logging.getLogger("mkdocs")
    level = logger.level
    logger.setLevel(logging.CRITICAL)
    try:
        with pytest.raises(Abort):
            build(config)
    finally:
        logger.setLevel(level)


def test_notes_do_not_stop_a_strict_build(tmp_path: Path) -> None:
    site = build_site(write_site(tmp_path, {"note": "note\na\nb\n"}, strict=True))
    assert site.error is None
    assert any("note.plan.yml:2:3: note:" in text for text in site.messages(logging.INFO))


def test_plan_with_errors_shows_them_and_the_others_are_published(tmp_path: Path) -> None:
    site = build_site(write_site(tmp_path, {"bad": BAD, "good": GOOD}))
    assert site.error is None
    page = site.pages["plans/bad/index.html"]
    assert "not ready to build from" in page.body
    assert "plans/bad.plan.yml:2:3" in page.body
    assert "2   leg: 3/8" in page.body
    assert "<b>{{ x }}</b>" in page.body
    assert "plans/bad/materials/index.html" not in site.pages
    assert "plans/good/materials/index.html" in site.pages
    assert "Not ready to build from: 2 errors." in site.pages["plans/index.html"].body
    assert list(site.broken_links()) == []


def test_mistake_of_ours_names_the_plan(tmp_path: Path) -> None:
    site = build_site(write_site(tmp_path, {"odd": "crash\n"}))
    assert isinstance(site.error, Abort)
    assert site.messages(logging.ERROR) == [
        "plans/odd.plan.yml: working this plan out failed: ZeroDivisionError: a saw of no teeth"
    ]


def test_hand_written_page_is_kept(tmp_path: Path) -> None:
    yml = write_site(tmp_path, {"a-frame": GOOD}, strict=True)
    own = tmp_path / "docs" / "plans" / "a-frame" / "safety.md"
    own.parent.mkdir(parents=True)
    own.write_text("# Our own words on safety\n", "utf-8")
    site = build_site(yml)
    assert "Our own words on safety" in site.pages["plans/a-frame/safety/index.html"].text
    assert (
        "benchleaf: plans/a-frame/safety.md is in the docs folder already; that one is kept."
        in site.messages(logging.INFO)
    )


def test_two_plans_of_one_address_are_told_of(tmp_path: Path) -> None:
    yml = write_site(tmp_path, {"box": GOOD})
    (tmp_path / "plans" / "box").mkdir()
    (tmp_path / "plans" / "box" / "box.plan.yml").write_text(GOOD, "utf-8")
    site = build_site(yml)
    same = "plans/box/box.plan.yml has the same address"
    assert any(same in text for text in problems(site))
    assert isinstance(build_site(yml, strict=True).error, Abort)


def test_site_without_a_folder_of_plans_has_an_empty_gallery(tmp_path: Path) -> None:
    yml = write_site(tmp_path, {}, strict=True)
    (tmp_path / "plans").rmdir()
    site = build_site(yml)
    assert site.error is None
    assert "No plan was found." in site.pages["plans/index.html"].body


def test_plans_may_lie_elsewhere(tmp_path: Path) -> None:
    yml = write_site(tmp_path, {}, plugins=[{"benchleaf": {"plans_dir": "furniture"}}])
    (tmp_path / "furniture").mkdir()
    (tmp_path / "furniture" / "bad.plan.yml").write_text(BAD, "utf-8")
    site = build_site(yml)
    assert "furniture/bad.plan.yml:2:3" in site.pages["plans/bad/index.html"].body


def test_site_may_override_a_fragment_and_the_style_sheet(tmp_path: Path) -> None:
    yml = write_site(
        tmp_path,
        {"a-frame": GOOD},
        theme={"name": "material", "custom_dir": str(tmp_path / "overrides")},
    )
    fragments = tmp_path / "overrides" / "benchleaf"
    fragments.mkdir(parents=True)
    (fragments / "order.html").write_text("<p>As {{ view.active }} goes</p>", "utf-8")
    styles = tmp_path / "overrides" / "assets" / "benchleaf"
    styles.mkdir(parents=True)
    (styles / "benchleaf.css").write_text("/* ours */", "utf-8")
    site = build_site(yml)
    assert "As 1 h goes" in site.pages["plans/a-frame/steps/index.html"].body
    assert (site.folder / "assets/benchleaf/benchleaf.css").read_text("utf-8") == "/* ours */"


def test_style_sheet_comes_before_the_sites_own(tmp_path: Path) -> None:
    yml = write_site(tmp_path, {"a-frame": GOOD}, extra_css=["own.css"])
    (tmp_path / "docs" / "own.css").write_text("", "utf-8")
    site = build_site(yml)
    assert site.config.extra_css == ["assets/benchleaf/benchleaf.css", "own.css"]
    assert (site.folder / "assets/benchleaf/benchleaf.css").stat().st_size > 1000


def test_built_twice_is_built_alike(tmp_path: Path) -> None:
    yml = write_site(tmp_path, {"a-frame": GOOD})
    first = {name: page.body for name, page in build_site(yml).pages.items()}
    assert {name: page.body for name, page in build_site(yml).pages.items()} == first


def test_preview_works_out_only_what_changed(tmp_path: Path, stand_in: StandIn) -> None:
    yml = write_site(tmp_path, {"a": GOOD, "b": GOOD})
    config = load_config(str(yml))
    config.plugins.on_startup(command="serve", dirty=False)
    build(config)
    (tmp_path / "plans" / "a.plan.yml").write_text("good\nchanged\n", "utf-8")
    # MkDocs hands the same plugin to the next configuration because it has `on_startup`.
    build(load_config(str(yml)))
    assert stand_in.worked == ["plans/a.plan.yml", "plans/b.plan.yml", "plans/a.plan.yml"]


def test_preview_goes_on_with_bad_plans_and_our_mistakes_even_where_strict(tmp_path: Path) -> None:
    yml = write_site(tmp_path, {"bad": BAD, "odd": "crash\n", "good": GOOD}, strict=True)
    config = load_config(str(yml))
    config.plugins.on_startup(command="serve", dirty=False)
    # MkDocs' own count of errors ends a strict build only after the site is written.
    site = build_site(yml)
    assert "plans/bad/index.html" in site.pages
    assert "plans/good/index.html" in site.pages
    assert "plans/odd/index.html" not in site.pages


class _Server:
    def __init__(self) -> None:
        self.watched: list[str] = []

    def watch(self, path: str) -> None:
        self.watched.append(path)


@pytest.mark.parametrize("is_there", [True, False])
def test_preview_watches_the_plans_where_there_are_any(
    tmp_path: Path,
    is_there: bool,
) -> None:
    yml = write_site(tmp_path, {})
    if not is_there:
        (tmp_path / "plans").rmdir()
    config = load_config(str(yml))
    server: Any = _Server()
    config.plugins["benchleaf"].on_serve(server, config=config, builder=None)
    assert server.watched == ([str(tmp_path / "plans")] if is_there else [])
