"""The page for those who keep a site of plans: its tables are true and its examples work."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from sites import build_site, write_site
from stand_in import StandIn
from your_site_tables import PAGE, written

TEXT = PAGE.read_text("utf-8")


def example(language: str, title: str) -> str:
    found = re.search(rf'```{language} title="{title}"\n(.*?)```', TEXT, re.DOTALL)
    assert found, title
    return found[1]


def test_the_tables_are_those_of_the_style_sheet_and_the_fragments() -> None:
    # To write them anew: python tests/your_site_tables.py
    assert written() == TEXT


def test_the_example_of_a_folder_of_plans_works(tmp_path: Path, stand_in: StandIn) -> None:
    plugins = yaml.safe_load(example("yaml", "mkdocs.yml"))["plugins"]
    yml = write_site(tmp_path, {}, plugins=plugins)
    (tmp_path / "furniture").mkdir()
    (tmp_path / "furniture" / "a-frame.plan.yml").write_text("good\n", "utf-8")
    site = build_site(yml)
    assert site.error is None
    assert "plans/a-frame/index.html" in site.pages
    assert stand_in.worked == ["furniture/a-frame.plan.yml"]


@pytest.mark.usefixtures("stand_in")
def test_the_example_of_a_fragment_adds_to_ours(tmp_path: Path) -> None:
    theme = {"name": "material", "custom_dir": str(tmp_path / "overrides")}
    yml = write_site(tmp_path, {"a-frame": "good\n"}, theme=theme)
    path = tmp_path / "overrides/benchleaf/step.html"
    path.parent.mkdir(parents=True)
    path.write_text(example("html", "overrides/benchleaf/step.html"), "utf-8")
    body = build_site(yml).pages["plans/a-frame/steps/rip-strips/index.html"].body
    # The note of the plan, ours below it, and the rest of the fragment after both.
    places = [
        body.index(words) for words in ("Mind the splinters", "Questions?", "Rip the strips for B")
    ]
    assert places == sorted(places)


@pytest.mark.usefixtures("stand_in")
def test_the_addresses_on_the_page_are_those_of_a_plan(tmp_path: Path) -> None:
    site = build_site(write_site(tmp_path, {"hall-bench": "good\n"}))
    linked = re.findall(r"\]\((plans/hall-bench/[^)]+)\.md\)", TEXT)
    assert len(linked) == 3
    for address in linked:
        page = f"{address.removesuffix('/index')}/index.html"
        assert page in site.pages
