"""What is cut to its last size is marked then: nothing goes on to the joints without its mark."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from benchleaf.pipeline import work_plan
from benchleaf.sequencing.records import Operation

PLANS = Path(__file__).parents[2] / "plans"


def operations_of(name: str) -> tuple[Operation, ...]:
    text = (PLANS / f"{name}.plan.yml").read_text("utf-8")
    sequence = work_plan(text, f"plans/{name}.plan.yml").sequence
    assert sequence is not None
    return sequence.operations


@pytest.mark.parametrize("name", ["hall-bench", "plant-stand"])
def test_every_copy_cut_to_length_is_marked_in_that_step(name: str) -> None:
    # Common practice, no source: what was written on a blank is planed off by then.
    cut = [one for one in operations_of(name) if re.match("Crosscut|Cut .* to length", one.title)]
    assert cut
    for operation in cut:
        last = operation.actions[-1]
        assert re.match("Mark (it|them) ", last), operation.title
        assert all(mark[0] in last for mark in operation.copies)
