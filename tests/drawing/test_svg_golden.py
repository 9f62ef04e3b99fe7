"""Drawings stay as they were when a person last looked at them."""

from __future__ import annotations

import pytest
from tests.drawing.golden import FOLDER, golden_scenes

from benchleaf.drawing.svg import write_svg

SCENES = golden_scenes()


@pytest.mark.parametrize("name", SCENES)
def test_a_drawing_is_as_it_was_found_good(name: str) -> None:
    kept = (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    assert kept == write_svg(SCENES[name]), (
        "the drawing has changed: renew it with `python -m tests.drawing.golden`, and look at it"
    )


def test_every_golden_drawing_is_still_drawn() -> None:
    assert {path.stem for path in FOLDER.glob("*.svg")} == set(SCENES)
