"""From a plan's text to a site, through every stage."""

from __future__ import annotations

import logging
from pathlib import Path

import pytest
from mkdocs.exceptions import Abort

from benchleaf.__main__ import main
from sites import build_site, write_site

PLAN = """\
plan: Peg rail
by: Fernhill community workshop
licence: CC BY 4.0
revision: A
units: mm
overall: {wide: 600, deep: 60, high: 120}
stock:
  pine: {board: 20 x 145, lengths: [2400], of: pine}
parts:
  back:
    stock: pine
    thickness: deep
    left: 0
    wide: 600
    back: 60
    bottom: 0
    high: 100
  shelf:
    stock: pine
    thickness: high
    left: 0
    wide: 600
    front: 0
    deep: 60
    top: 120
joints:
  - {butt: [shelf, back], screws: 8 x 40, count: 4}
finish: {coats: 2, of: hardwax oil, sand: [120, 180]}
"""
BAD = PLAN.replace(
    "    stock: pine\n    thickness: deep\n", "    stock: pien\n    thickness: deep\n"
)


@pytest.mark.parametrize("directory_urls", [True, False])
def test_plan_becomes_a_sound_site(tmp_path: Path, directory_urls: bool) -> None:
    yml = write_site(
        tmp_path,
        {"peg-rail": PLAN},
        theme={"name": "material"},
        use_directory_urls=directory_urls,
        strict=True,
    )
    site = build_site(yml)
    assert site.error is None
    assert list(site.broken_links()) == []
    for name, page in site.pages.items():
        assert sorted(page.ids) == sorted(set(page.ids)), name
        assert page.open_at_end == [], name
    names = [name.replace("/index.html", ".html") for name in site.pages]
    for page in ("materials", "cutting", "joints", "safety", "print", "parts/back", "parts/shelf"):
        assert f"plans/peg-rail/{page}.html" in names
    drawings = {path.stem for path in (site.folder / "plans/peg-rail/drawings").glob("*.svg")}
    assert {"assembled", "exploded", "part-back", "part-shelf", "joint-1"} <= drawings


def test_every_drawing_is_shown_somewhere(tmp_path: Path) -> None:
    site = build_site(write_site(tmp_path, {"peg-rail": PLAN}, use_directory_urls=False))
    shown = {link.rpartition("/")[2] for page in site.pages.values() for link in page.links}
    drawn = {path.name for path in (site.folder / "plans/peg-rail/drawings").iterdir()}
    assert drawn <= shown


def test_slip_in_a_plan_stops_a_strict_build_by_line_and_column(tmp_path: Path) -> None:
    site = build_site(write_site(tmp_path, {"peg-rail": BAD, "good": PLAN}, strict=True))
    assert isinstance(site.error, Abort)
    # `    stock: pien` is line 11; the value starts at column 12.
    first, *_, last = site.messages(logging.ERROR)
    assert first.startswith("benchleaf: plans/peg-rail.plan.yml:11:12: error:")
    assert "pien" in first
    assert last == "The plans have 1 error, and this build is strict."


def test_slip_in_a_plan_is_shown_where_the_build_is_not_strict(tmp_path: Path) -> None:
    site = build_site(write_site(tmp_path, {"peg-rail": BAD, "good": PLAN}))
    assert site.error is None
    page = site.pages["plans/peg-rail/index.html"]
    assert "plans/peg-rail.plan.yml:11:12" in page.body
    assert "11     stock: pien" in page.body
    assert "plans/good/materials/index.html" in site.pages


def test_check_names_the_same_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    write_site(tmp_path, {"peg-rail": BAD})
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("GITHUB_ACTIONS", raising=False)
    assert main(["check", "plans/peg-rail.plan.yml"]) == 1
    assert capsys.readouterr().out.startswith("plans/peg-rail.plan.yml:11:12: error:")
