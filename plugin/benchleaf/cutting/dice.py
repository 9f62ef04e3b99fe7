"""Numbers that look drawn at random and are the same in every run: no secret is kept with them.

For the kernels: takes one word of state in an array, gives the next number. xorshift64, Marsaglia
2003, Journal of Statistical Software 8, issue 14 (from memory).
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from benchleaf.cutting.compiling import compiled

# chosen: any number but 0.
_SEED: Final = 88172645463325252
_LEFT, _RIGHT, _LAST = np.uint64(13), np.uint64(7), np.uint64(17)
# The 53 bits that a float holds.
_SPARE_BITS = np.uint64(11)
_STEPS: Final = 9007199254740992.0


Dice = NDArray[np.uint64]
"""One word of state."""


def new_dice() -> Dice:
    """Make the state that every search begins with."""
    return np.array([_SEED], np.uint64)


@compiled
def draw(dice: Dice) -> float:
    """Draw a number from 0 up to but not counting 1."""
    word = dice[0]
    word ^= word << _LEFT
    word ^= word >> _RIGHT
    word ^= word << _LAST
    dice[0] = word
    return float(word >> _SPARE_BITS) / _STEPS
