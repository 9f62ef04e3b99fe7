"""The page of what was reckoned: results, limits, formulas, inputs and sources."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from html import unescape

import pytest

import handmade_plan as handmade
from benchleaf.checking.records import Quantity, Topic, Verdict, Working
from benchleaf.pipeline import WorkedPlan
from benchleaf.site.emit import Writer
from benchleaf.site.pages import view_plan, write_plan
from benchleaf.site.records import GeneratedFile
from benchleaf.site.templating import open_templates

SAG = Working(
    topic=Topic.BENDING,
    code="K221",
    title="sag of rail under books",
    subject="parts.rail",
    marks=("B1", "B2"),
    formula="s = 5 W L³ / (384 E I)",
    inputs=(
        Quantity(symbol="W", name="load", value=500.0, unit="N", source="a standard (read)"),
        Quantity(symbol="L", name="span", value=Fraction(900), unit="mm"),
        Quantity(symbol="E", name="modulus of elasticity", value=12411.0, unit="MPa"),
    ),
    result=Quantity(symbol="s", name="sag at once", value=2.346, unit="mm"),
    limit=Quantity(symbol="", name="limit", value=6.25, unit="mm", source="a trade standard"),
    verdict=Verdict.WATCH,
    words="rail sags 2.35 mm under books; at most 6.25 mm at once, and it will be seen.",
    note="<b>Bold</b> notes.",
)
BRACES = replace(
    SAG,
    topic=Topic.STANDING,
    title="bracing from side to side",
    inputs=(),
    result=Quantity(symbol="", name="parts that brace it", value=2, unit=""),
    limit=Quantity(symbol="", name="at least", value=1, unit="", source="common practice"),
    verdict=Verdict.HOLDS,
    words="Parts that brace it: 2.",
    note="",
)
MASS = replace(
    SAG,
    topic=Topic.WEIGHT,
    title="mass of one rail",
    result=Quantity(symbol="m", name="mass", value=1.5, unit="kg"),
    limit=None,
    verdict=Verdict.TOLD,
)


def write(worked: WorkedPlan) -> dict[str, GeneratedFile]:
    pages = view_plan(handmade.SOURCE, worked, handmade.SCENES)
    writer = Writer(open_templates(), directory_urls=True)
    return {
        file.src_uri.removeprefix("plans/side-frame/"): file for file in write_plan(pages, writer)
    }


@pytest.fixture(scope="module")
def files() -> dict[str, GeneratedFile]:
    return write(replace(handmade.make_worked(), workings=(BRACES, SAG, MASS)))


def body(file: GeneratedFile) -> str:
    """A page's HTML with its inert signs spelt out."""
    return unescape(str(file.body))


def test_nothing_reckoned_makes_no_page_and_no_tab() -> None:
    plain = write(handmade.make_worked())
    assert "strength.md" not in plain
    assert "Strength" not in str(plain["joints.md"].body)


def test_the_page_stands_between_joints_and_steps(files: dict[str, GeneratedFile]) -> None:
    tabs = str(files["index.md"].body).partition("</nav>")[0]
    assert tabs.index("Joints") < tabs.index("Strength") < tabs.index("Steps")


def test_a_result_shows_its_formula_inputs_limit_and_sources(
    files: dict[str, GeneratedFile],
) -> None:
    page = body(files["strength.md"])
    for words in (
        "Sag of rail under books",
        "2.35 mm",
        "worth knowing",
        "s = 5 W L³ / (384 E I)",
        "W, load",
        "500 N",
        "a standard (read)",
        "900 mm",
        "12,400 MPa",
        "at most 6.25 mm",
        "a trade standard",
        "no engineer’s certificate",
        "Copies B1, B2.",
    ):
        assert words in page, words


def test_topics_follow_their_order_and_not_that_of_the_checks(
    files: dict[str, GeneratedFile],
) -> None:
    page = str(files["strength.md"].body)
    heads = [f"## {topic.value}" for topic in (Topic.WEIGHT, Topic.BENDING, Topic.STANDING)]
    assert [page.index(head) for head in heads] == sorted(page.index(head) for head in heads)


def test_a_limit_that_must_be_reached_says_so(files: dict[str, GeneratedFile]) -> None:
    assert "at least 1" in body(files["strength.md"])
    assert "at most 1<" not in body(files["strength.md"])


def test_paper_has_the_table_and_leaves_the_working_out(files: dict[str, GeneratedFile]) -> None:
    paper = body(files["print.md"])
    assert "Sag of rail under books" in paper
    assert "384" not in paper
    # the mass of one part has no limit: it is on the page alone
    assert "Mass of one rail" in body(files["strength.md"])
    assert "Mass of one rail" not in paper


def test_what_comes_out_of_a_plan_is_inert(files: dict[str, GeneratedFile]) -> None:
    assert "<b>" not in str(files["strength.md"].body)
