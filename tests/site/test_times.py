"""Work adds up; waits that run side by side do not."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import handmade_plan as handmade
from benchleaf.sequencing.records import Operation
from benchleaf.site.views.times import ids_of, waiting_hours, work_minutes


def operation(name: str, wait: int, *needs: str) -> Operation:
    made = handmade.make_sequence().operations[0]
    return replace(made, id=name, waiting_hours=Fraction(wait), needs=needs)


# Two legs glued side by side, each 24 h; the frame 1 h after both; a coat of 3 h, then another.
WORK = (
    operation("leg one", 24),
    operation("leg two", 24),
    operation("frame", 1, "leg one", "leg two"),
    operation("coat one", 3, "frame"),
    operation("coat two", 3, "coat one"),
)


def test_what_dries_side_by_side_is_waited_for_once() -> None:
    # 24 + 1 + 3 + 3
    assert waiting_hours(WORK, {one.id for one in WORK}) == 31
    assert waiting_hours(WORK, {"leg one", "leg two"}) == 24


def test_what_comes_one_after_the_other_is_waited_for_twice() -> None:
    assert waiting_hours(WORK, {"coat one", "coat two"}) == 6


def test_a_wait_reaches_through_what_is_not_counted() -> None:
    assert waiting_hours(WORK, {"leg two", "coat two"}) == 27


def test_nothing_waits_for_nothing() -> None:
    assert waiting_hours((), frozenset()) == 0


def test_work_adds_up() -> None:
    sequence = handmade.make_sequence()
    # three operations of 20 minutes
    assert work_minutes(sequence.operations) == 60
    assert ids_of(sequence.steps) == {"rip", "drill", "glue-up"}
