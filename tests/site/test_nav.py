"""The placeholder in a site's navigation, in the forms that MkDocs allows."""

from __future__ import annotations

from typing import Any

import pytest

from benchleaf.site.nav import expand_nav

PAGES = ["plans/index.md", "plans/box/index.md"]


@pytest.mark.parametrize(
    ("nav", "expected"),
    [
        ([{"Plans": "plans/"}], [{"Plans": PAGES}]),
        ([{"Plans": "plans"}], [{"Plans": PAGES}]),
        (["index.md", "plans/"], ["index.md", *PAGES]),
        ([{"Make": ["index.md", "plans/"]}], [{"Make": ["index.md", *PAGES]}]),
        ([{"Make": [{"Plans": "plans/"}, "x.md"]}], [{"Make": [{"Plans": PAGES}, "x.md"]}]),
        ([{"A": "a.md", "Plans": "plans/"}], [{"A": "a.md", "Plans": PAGES}]),
    ],
)
def test_placeholder_gives_way_to_the_plans(nav: list[Any], expected: list[Any]) -> None:
    assert expand_nav(nav, PAGES) == (expected, True)


def test_nav_without_placeholder_stays_as_it_is() -> None:
    nav = ["index.md", {"Plans": "plans/index.md"}, {"Away": "https://example.org/plans/"}]
    assert expand_nav(nav, PAGES) == (nav, False)
