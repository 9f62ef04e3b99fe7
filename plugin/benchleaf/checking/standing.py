"""What keeps a piece up: the floor, the floor and a wall, or the wall alone.

Takes a plan, gives how it stands: by its own word, or by the author's text.
"""

from __future__ import annotations

import re
from typing import Final

from benchleaf.reading.plan import Plan, Stands

_ON_WALL: Final = re.compile(
    r"\b(wall-hung|wall-mounted|hangs? on (?:the|a) wall|hung on (?:the|a) wall|"
    r"on (?:the|a) wall|to (?:the|a) wall|into (?:the|a) wall)\b",
    re.IGNORECASE,
)


def how_it_stands(plan: Plan) -> Stands:
    """Tell what keeps the piece up; where the plan has no word for it, the author's text tells."""
    if plan.stands is not None:
        return plan.stands
    is_hung = any(_ON_WALL.search(text) for text in (plan.title, plan.summary, *plan.notes))
    return Stands.HUNG if is_hung else Stands.FLOOR
