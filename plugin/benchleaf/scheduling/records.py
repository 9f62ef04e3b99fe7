"""Work to be timed, and when each piece of it is done. Made by `schedule_work`.

Times are minutes by the clock since the shop opened on the first day, nights counted in.
"""

from __future__ import annotations

from dataclasses import dataclass

HANDS = "hands"
"""The resource that every piece of work takes: somebody to do it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """Something of which there is only so much, taken up by a piece of work."""

    name: str
    """`hands`, `clamps`, or a tool's plain name."""
    count: int
    held_minutes: int = 0
    """How much longer it is held when the work is done: clamps, until the glue holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A piece of work: done by somebody, then left to itself."""

    id: str
    minutes: int
    """Of work."""
    waiting_minutes: int
    """By the clock, day and night, until what comes after it may begin."""
    needs: tuple[str, ...]
    """Ids of jobs that come before it."""
    uses: tuple[Use, ...]
    in_one_go: bool
    """It cannot be laid down in the evening and taken up in the morning."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """Under what terms the work is done."""

    day_minutes: int
    """Of work in a day, up to 1440: no night at all."""
    capacities: tuple[tuple[str, int], ...]
    """How much there is of what jobs use; what is not named is never short."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """When a job is done."""

    id: str
    start: int
    end: int
    ready: int
    """When its wait is over."""
    person: int = 1
    """Who does it, from 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Schedule:
    """When all work is done."""

    terms: Terms
    slots: tuple[Slot, ...]
    """By their start, then in the order of work."""
    elapsed: int
    """Until the last wait is over."""
    least: int
    """Proved: no schedule is shorter."""
    critical: tuple[str, ...]
    """Ids of the jobs that hold up the end, each the one after it; from first to last."""

    @property
    def people(self) -> int:
        """How many work at it."""
        return dict(self.terms.capacities).get(HANDS, 1)

    @property
    def is_shortest(self) -> bool:
        """Tell whether it is proved that no schedule is shorter."""
        return self.elapsed <= self.least
