"""The operation that cuts half laps: on the sled, at one blade height for each depth.

Takes features of the role lap, gives drafts. Must not know which part crosses above.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from benchleaf.sequencing.drafting import Draft, OperationKind, Planner
from benchleaf.sequencing.jointwork import measure_box
from benchleaf.sequencing.kinds.joint_drafts import JointWork, draft_joint_work, keys_of
from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.kinds.shoulders import ABOVE_SLED
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

CUT_LAPS: Final = OperationKind(
    code="cut-laps",
    phase="joints",
    family="laps",
    tool="table saw",
    minutes=15,
    minutes_each=8,
    says={
        **MACHINED,
        "op.uses_stop": True,
        "cut.kind": "lap",
        "cut.through": False,
        "stock.edge_straight": True,
    },
)


def plan_laps(room: Workroom) -> Iterator[Draft]:
    """Plan the half laps, each depth once."""
    groups: dict[Fraction, list[WorkPiece]] = {}
    for piece in room.work:
        cut = measure_box(piece)
        if cut is not None and piece.feature.role == "lap" and not piece.feature.adds:
            groups.setdefault(cut.depth_mm, []).append(piece)
    for depth, pieces in groups.items():
        yield _cut_laps(depth, pieces, room)


def _cut_laps(depth: Fraction, pieces: list[WorkPiece], room: Workroom) -> Draft:
    marks = [piece.mark for piece in pieces]
    joints = sorted({piece.feature.joint for piece in pieces})
    return draft_joint_work(
        CUT_LAPS,
        pieces,
        JointWork(
            name=f"{depth} {joints}",
            title=f"Cut the half laps in {room.name_copies(marks)}",
            actions=[
                f"Set the blade {room.say.length(depth)} {ABOVE_SLED}, and try it on scrap.",
                "Lay the marked face down on the sled.",
                *spread("Saw just inside the two lines on", sort_marks(marks)),
                "Nibble away the wood between the two cuts.",
                "Pare the bottom flat with a chisel.",
                "Try the mate in it, and pare the sides until it goes home by hand.",
            ],
            check="The faces of both parts come flush, and the joint stands square.",
            settings=(Setting(name="blade height", value_mm=depth, text=ABOVE_SLED),),
            facts={"cut.depth_mm": depth},
            finishes=keys_of(pieces),
        ),
        room,
    )


PLANNER: Final = Planner(kinds=(CUT_LAPS,), plan=plan_laps)
