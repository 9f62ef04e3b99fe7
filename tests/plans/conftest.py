"""What the tests of the demo plans share: each plan worked once through the public pipeline."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from benchleaf.pipeline import WorkedPlan, work_plan

PLANS = Path(__file__).parents[2] / "plans"


@cache
def _worked(name: str) -> WorkedPlan:
    file = PLANS / f"{name}.plan.yml"
    return work_plan(file.read_text(encoding="utf-8"), f"plans/{file.name}")


@pytest.fixture
def worked() -> Callable[[str], WorkedPlan]:
    """A demo plan by its name, worked out; the same object every time."""
    return _worked
