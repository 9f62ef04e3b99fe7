"""Operations after assembly: clean up, sand the outside, coats of finish.

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
    Thing,
    Work,
    coat_dry,
    copy_sanded,
    draft,
    group_joined,
)
from benchleaf.sequencing.finishes import FinishKind, find_finish
from benchleaf.sequencing.gathering import gather, groups_in
from benchleaf.sequencing.stating import state_materials
from benchleaf.sequencing.wording import join_words
from benchleaf.sequencing.workroom import Workroom

# Minutes chosen, as for all kinds: a careful beginner's; each is half a square metre.
SAND_OUTSIDE: Final = OperationKind(
    code="sand-outside",
    phase="finish",
    family="sanding",
    tool="sander",
    minutes=15,
    minutes_each=8,
    says={"op.makes_dust": True, "op.loud": True},
)
COAT: Final = OperationKind(
    code="coat",
    phase="finish",
    family="finishing",
    tool="brush",
    minutes=15,
    minutes_each=5,
    says={},
)
# chosen: usual for bare wood, and between coats where the author names no finer.
_USUAL_GRITS: Final = (120, 180)
_BETWEEN_GRIT: Final = 320


def plan_finishing(room: Workroom) -> Iterator[Draft]:
    """Plan the clean-up, and the coats where the plan has a finish."""
    yield _sand_outside(room)
    finish = room.plan.finish
    if finish is not None:
        for number in range(1, finish.coats + 1):
            yield _coat(finish, number, room)


def _half_square_metres(room: Workroom) -> int:
    area = 0.0
    for copy in room.joinery.copies.values():
        a, b, c = (float(side) for side in copy.blank.size)
        area += 2 * (a * b + b * c + c * a)
    return max(1, round(area / 500_000))


def _sand_outside(room: Workroom) -> Draft:
    grits = room.plan.finish.grits if room.plan.finish else ()
    groups = [group for group in groups_in(gather(room)) if group.fits]
    takes: list[Thing] = [group_joined(group.copies) for group in groups]
    return draft(
        SAND_OUTSIDE,
        Work(
            id="sand-outside",
            title="Clean up and sand the outside",
            copies=room.marks,
            actions=_sand_words(grits or _USUAL_GRITS),
            check="Held to the light, no face shows scratches across the grain.",
            facts=state_materials(room.marks, room),
            takes=[*takes, *map(copy_sanded, room.marks)],
            gives=[ALL_CLEANED],
            pieces=_half_square_metres(room),
        ),
    )


def _sand_words(grits: tuple[int, ...]) -> Iterator[str]:
    yield "Scrape off every trace of glue; it shows through a finish."
    yield "Trim what stands proud of the faces with a block plane."
    yield f"Sand along the grain with grit {join_words([str(g) for g in grits], 'then')}."
    yield "Take the sharp edges off with a few strokes of the finest paper."
    yield "Vacuum the piece, and wipe it with a damp cloth."


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
            pieces=_half_square_metres(room),
            waiting_hours=Fraction(row.drying_hours),
        ),
    )


def _coat_words(finish: Finish, row: FinishKind, number: int) -> Iterator[str]:
    if number == 1:
        yield f"Stir the {finish.material} slowly; do not shake it."
    else:
        grit = max(*finish.grits, _BETWEEN_GRIT) if finish.grits else _BETWEEN_GRIT
        yield f"Rub the dry coat down lightly with grit {grit}, and wipe the dust off."
    if row.is_wiped:
        yield f"Wipe on a thin coat (coat {number}), and wipe off what is left after ten minutes."
    else:
        yield f"Brush on a thin coat along the grain (coat {number}), hidden faces first."
    hours = f"{row.drying_hours} hours" if row.drying_hours != 1 else "an hour"
    yield f"Let it dry for {hours}, or as the label says."


PLANNER: Final = Planner(kinds=(SAND_OUTSIDE, COAT), plan=plan_finishing)
