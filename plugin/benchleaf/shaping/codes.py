"""Codes of the findings of shaping, one line of meaning for each; never reused.

F101 to F119 come from shaping itself, F120 to F139 from what it does to joints and grain.
"""

from __future__ import annotations

from typing import Final

CODES: Final = {
    "F101": "A size of nothing or less where there has to be one.",
    "F102": "Shaping that runs out of its part, or does not reach it.",
    "F103": "Shaping that leaves nothing of its part, or parts it in two.",
    "F104": "An edge that a chamfer, round-over or cove cannot follow.",
    "F105": "An arc that rises more than half its chord.",
    "F106": "A crown that ends short of the ends of its face.",
    "F107": "A face that this shaping cannot be seen from, or cannot be done on.",
    "F108": "Points that make no outline: too few, out of order, or a line that crosses itself.",
    "F109": "Options that exclude each other, or one that is missing.",
    "F120": "Shaping that cuts into wood that a joint adds, such as a tenon.",
    "F121": "Shaping that cuts into a mortise or hole of a joint, or leaves a thin wall beside it.",
    "F122": "Shaping that takes wood away where another part bears.",
    "F130": "Short grain: wood that stands out across the grain on a narrow foot.",
}
"""Code to meaning."""
