"""How much work a search may do: counted, so that the same plan is laid out alike everywhere.

Takes a number of steps. Whoever wants a time limit instead hands over a budget of their own, which
asks a clock; nothing in this stage does.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

# chosen: steps between two looks at the budget; some milliseconds of work.
_STEPS: Final = 100_000


# chosen: about half a second for thirty blanks, six seconds for a thousand.
_STEPS_AT_LEAST: Final = 4_000_000
_STEPS_FOR_EACH: Final = 200_000
_STEPS_AT_MOST: Final = 200_000_000


@dataclass(slots=True)
class Budget:
    """State of what may still be spent; lives as long as one stock is laid out."""

    left: int
    """Steps."""

    @property
    def is_spent(self) -> bool:
        """Tell whether nothing is left."""
        return self.left <= 0

    @property
    def seconds(self) -> float:
        """What may be spent in seconds: without a limit here, as work is what is counted."""
        return float("inf")

    @property
    def slice(self) -> int:
        """Steps to take before the budget is looked at again."""
        return max(0, min(_STEPS, self.left))

    def spend(self, steps: int) -> None:
        """Take steps off."""
        self.left -= steps

    def share(self, part: float) -> Budget:
        """Set a part of it aside as a budget of its own; what that spends is not counted here."""
        own = max(1, int(self.left * part))
        self.left -= own
        return Budget(own)

    def take_back(self, part: Budget) -> None:
        """Put what is left of a part set aside back."""
        self.left += max(0, part.left)
        part.left = 0


def usual_budget(count: int) -> Budget:
    """What is spent on laying out so many blanks of one stock.

    >>> usual_budget(10).left < usual_budget(1_000).left == usual_budget(1_500).left
    True
    """
    return Budget(min(_STEPS_AT_MOST, _STEPS_AT_LEAST + _STEPS_FOR_EACH * count))
