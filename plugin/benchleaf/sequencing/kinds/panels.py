"""The operation that glues boards edge to edge into panels.

Takes copies whose blanks are boards side by side, gives drafts of their glue-ups. Must not know
joints.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.cutting.records import Blank
from benchleaf.sequencing.clamping import JOINT_SPACING_MM, PAD_MM, Clamps
from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    Work,
    blank_cut,
    copy_glued,
    draft,
)
from benchleaf.sequencing.glues import closing_minutes, find_glue
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import join_marks, make_slug
from benchleaf.sequencing.workroom import Workroom, mass_of_mm3

# Minutes chosen, as for all kinds: a careful beginner's.
GLUE_PANEL: Final = OperationKind(
    code="glue-panel",
    phase="glue-up of blanks",
    family="gluing panels",
    tool="clamps",
    minutes=15,
    minutes_each=25,
    says={},
)


def plan_panels(room: Workroom) -> Iterator[Draft]:
    """Plan the glue-ups of panels, those of one part together."""
    parts: dict[str, list[str]] = {}
    for mark in room.marks:
        boards = room.blanks_of(mark)
        if len(boards) > 1 and boards[0].is_strip:
            parts.setdefault(room.copy(mark).part, []).append(mark)
    for marks in parts.values():
        yield _glue(marks, room)


def _glue(marks: list[str], room: Workroom) -> Draft:
    boards = room.blanks_of(marks[0])
    stock, clamps = room.part_of(marks[0]).stock, _clamps(boards)
    glue, material = find_glue(room.plan.shop.glue), room.material_of(room.part_of(marks[0]).stock)
    labels = [own.label for mark in marks for own in room.blanks_of(mark)]
    wide = _wide_mm(boards)
    volume = boards[0].length_mm * wide * stock.thickness_mm
    return draft(
        GLUE_PANEL,
        Work(
            id=make_slug(f"glue-panel {join_marks(marks)}"),
            title=f"Glue up {room.name_copies(marks)} from boards",
            copies=marks,
            actions=_words(marks, boards, clamps, room),
            check="A straightedge lies flat across the panel, and no joint shows a step.",
            settings=(
                Setting(name="clamps", value_mm=None, text=str(clamps.count)),
                Setting(name="clamp opening", value_mm=clamps.opening_mm),
            ),
            facts={
                "clamp.count": clamps.count,
                "glue.kind": glue.kind,
                "glue.open_minutes": glue.open_minutes,
                "glue.closing_minutes": closing_minutes(len(boards) - 1),
                "part.mass_kg": mass_of_mm3(volume, material) if material else None,
                "part.wide_mm": wide,
                "material.name": stock.material,
            },
            takes=map(blank_cut, labels),
            gives=map(copy_glued, marks),
            pieces=len(marks),
            waiting_hours=glue.work_hours,
            blanks=tuple(labels),
        ),
    )


def _wide_mm(boards: Sequence[Blank]) -> Fraction:
    return sum((board.width_mm for board in boards), start=Fraction(0))


def _clamps(boards: Sequence[Blank]) -> Clamps:
    """Clamps across a panel, turn about above and below."""
    count = max(2, math.ceil(boards[0].length_mm / JOINT_SPACING_MM) + 1)
    return Clamps(count, _wide_mm(boards) + 2 * PAD_MM, JOINT_SPACING_MM)


def _words(
    marks: Sequence[str], boards: Sequence[Blank], clamps: Clamps, room: Workroom
) -> Iterator[str]:
    labels = join_marks([board.label for board in boards], room.labels)
    each = "" if len(marks) == 1 else ", and so on"
    apart = room.say.usual("200 mm", "8 in")
    yield f"Lay {labels} side by side for {marks[0]}{each}, as the grain looks best."
    yield "Turn every other board over, so that the rings on the ends curve up and down in turn."
    yield "Mark a triangle across each panel, so that the boards go back the same way."
    yield "Plane the edges straight and square, and try them: no light shows between two boards."
    yield f"Spread {room.plan.shop.glue} on one edge of each joint."
    yield f"Clamp across, {apart} apart, turn about above and below: {clamps.count} clamps."
    yield "Press the joints level with cauls across both ends before you tighten."
    yield "Tighten from the middle outwards, until a thin line of glue shows."
    yield "Wipe off the glue, and leave it in the clamps as long as the label says."


PLANNER: Final = Planner(kinds=(GLUE_PANEL,), plan=plan_panels)
