"""Operations after assembly: coats of finish, with a rub between them.

Takes the plan's finish, gives drafts. Must not know joints.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from benchleaf.reading.plan import Finish
from benchleaf.sequencing.drafting import (
    ALL_CLEANED,
    Draft,
    OperationKind,
    Planner,
    Work,
    coat_dry,
    draft,
)
from benchleaf.sequencing.finishes import FinishKind, find_finish, grit_between_coats
from benchleaf.sequencing.kinds.sanding import half_square_metres
from benchleaf.sequencing.stating import state_materials
from benchleaf.sequencing.workroom import Workroom

# Minutes chosen, as for all kinds: a careful beginner's; each is half a square metre.
COAT: Final = OperationKind(
    code="coat",
    phase="finish",
    family="finishing",
    tool="brush",
    minutes=15,
    minutes_each=5,
    says={},
)


def plan_finishing(room: Workroom) -> Iterator[Draft]:
    """Plan the coats, where the plan has a finish."""
    finish = room.plan.finish
    if finish is not None:
        for number in range(1, finish.coats + 1):
            yield _coat(finish, number, room)


def _coat(finish: Finish, number: int, room: Workroom) -> Draft:
    row = find_finish(finish.material)
    last = number == finish.coats
    return draft(
        COAT,
        Work(
            id=f"coat-{number}",
            title=f"Put on coat {number} of {finish.material}",
            copies=room.marks,
            actions=_coat_words(finish, row, number),
            check="No runs, no dry patches when seen against the light." if last else "",
            facts={"finish.kind": row.kind, **state_materials(room.marks, room)},
            takes=[ALL_CLEANED] if number == 1 else [coat_dry(number - 1)],
            gives=[coat_dry(number)],
            pieces=half_square_metres(room),
            waiting_hours=Fraction(row.drying_hours),
        ),
    )


def _coat_words(finish: Finish, row: FinishKind, number: int) -> Iterator[str]:
    if number == 1:
        yield f"Stir the {finish.material} slowly; do not shake it."
    else:
        grit = grit_between_coats(finish)
        yield f"Rub the dry coat down lightly with grit {grit}, and wipe the dust off."
    if row.is_wiped:
        yield f"Wipe on a thin coat (coat {number}), and wipe off what is left after ten minutes."
    else:
        yield f"Brush on a thin coat along the grain (coat {number}), hidden faces first."
    hours = f"{row.drying_hours} hours" if row.drying_hours != 1 else "an hour"
    yield f"Let it dry for {hours}, or as the label says."


PLANNER: Final = Planner(kinds=(COAT,), plan=plan_finishing)
