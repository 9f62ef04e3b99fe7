"""Operations that smooth the wood: faces that will be out of reach, then all of the outside.

Takes the plan's grits, gives two drafts. Must not know joints or coats.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from benchleaf.sequencing.drafting import (
    ALL_CLEANED,
    PIECE_TOGETHER,
    Draft,
    OperationKind,
    Planner,
    Work,
    copy_jointed,
    copy_sanded,
    copy_sized,
    draft,
)
from benchleaf.sequencing.finishes import sanding_grits
from benchleaf.sequencing.stating import state_materials
from benchleaf.sequencing.wording import join_words
from benchleaf.sequencing.workroom import Workroom

# Minutes chosen, as for all kinds: a careful beginner's; each is half a square metre.
SAND_INSIDE: Final = OperationKind(
    code="sand-inside",
    phase="assembly",
    family="sanding",
    tool="sander",
    minutes=10,
    minutes_each=4,
    says={"op.makes_dust": True, "op.loud": True},
)
SAND_OUTSIDE: Final = OperationKind(
    code="sand-outside",
    phase="finish",
    family="sanding",
    tool="sander",
    minutes=15,
    minutes_each=8,
    says={"op.makes_dust": True, "op.loud": True},
)


def plan_sanding(room: Workroom) -> Iterator[Draft]:
    """Plan the sanding before assembly and after it."""
    yield _sand_inside(room)
    yield _sand_outside(room)


def _grits(room: Workroom) -> str:
    return join_words([str(grit) for grit in sanding_grits(room.plan.finish)], ", then")


def _sand_inside(room: Workroom) -> Draft:
    marks = room.marks
    actions = [
        "Find the faces and edges that will be out of reach once the piece stands.",
        f"Sand them with grit {_grits(room)}.",
        "Keep off tenons, shoulders and every place that takes glue.",
        "Vacuum the dust off.",
    ]
    return draft(
        SAND_INSIDE,
        Work(
            id="sand-inside",
            title="Sand the inside faces",
            copies=marks,
            actions=actions,
            check="Held to the light, no face shows saw marks.",
            facts=state_materials(marks, room),
            takes=[thing for mark in marks for thing in (copy_sized(mark), copy_jointed(mark))],
            gives=map(copy_sanded, marks),
            pieces=half_square_metres(room),
        ),
    )


def half_square_metres(room: Workroom) -> int:
    """The area of all parts, in half square metres, at least one."""
    area = 0.0
    for copy in room.joinery.copies.values():
        a, b, c = (float(side) for side in copy.blank.size)
        area += 2 * (a * b + b * c + c * a)
    return max(1, round(area / 500_000))


def _sand_outside(room: Workroom) -> Draft:
    return draft(
        SAND_OUTSIDE,
        Work(
            id="sand-outside",
            title="Clean up and sand the outside",
            copies=room.marks,
            actions=_sand_words(room),
            check="Held to the light, no face shows scratches across the grain.",
            facts=state_materials(room.marks, room),
            takes=[PIECE_TOGETHER, *map(copy_sanded, room.marks)],
            gives=[ALL_CLEANED],
            pieces=half_square_metres(room),
        ),
    )


def _sand_words(room: Workroom) -> Iterator[str]:
    yield "Scrape off every trace of glue; it shows through a finish."
    yield "Trim what stands proud of the faces with a block plane."
    yield f"Sand along the grain with grit {_grits(room)}."
    yield "Take the sharp edges off with a few strokes of the finest paper."
    yield "Vacuum the piece, and wipe it with a damp cloth."


PLANNER: Final = Planner(kinds=(SAND_INSIDE, SAND_OUTSIDE), plan=plan_sanding)
