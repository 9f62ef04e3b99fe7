"""Which woods are hard and which soft, by the words of a plan.

Takes the author's words for a stock, gives the row of the handbook that decides.
"""

from __future__ import annotations

import re

from benchleaf.handbook.tables import WoodGroup, load_wood_groups


def find_wood_group(material: str) -> WoodGroup | None:
    """Find the row whose words a material is described with; None where no word is known.

    Args:
        material: The author's words, such as `birch plywood`.

    >>> find_wood_group("Birch plywood").group
    'hardwood'
    >>> find_wood_group("plywood").group
    'softwood'
    >>> find_wood_group("bamboo") is None
    True
    """
    words = set(re.findall(r"[a-z-]+", material.lower()))
    # `yellow-poplar` is one word of the table, and its halves count as well.
    words |= {part for word in words for part in word.split("-")}
    for group in load_wood_groups():
        if words & set(group.words):
            return group
    return None
