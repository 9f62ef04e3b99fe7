"""What the tests of the site share."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from sites import forget_plugins
from stand_in import StandIn, stand_in_for_pipeline


@pytest.fixture
def stand_in() -> Iterator[StandIn]:
    """The pipeline, replaced."""
    with stand_in_for_pipeline() as replaced:
        yield replaced


@pytest.fixture(autouse=True)
def _fresh_mkdocs(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make each test's MkDocs a new one, without the theme's word on its next major version."""
    monkeypatch.setenv("NO_MKDOCS_2_WARNING", "1")
    forget_plugins()
