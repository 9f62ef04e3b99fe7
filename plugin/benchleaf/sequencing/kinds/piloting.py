"""The operation that drills pilot holes: through the clearance holes, the parts held in place.

Takes a group and its pilot holes, gives a draft. It is planned with the group that is screwed
together, so that `assembling` asks for it. Must not know glue.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.sequencing.closing import count_of
from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Work,
    copy_jointed,
    copy_sanded,
    copy_sized,
    draft,
    feature_cut,
    group_drilled,
    group_dry,
    group_joined,
)
from benchleaf.sequencing.groups import Group, joined_below, marks_of_members
from benchleaf.sequencing.joining_words import place_for_pilots, same_words, take_off_again
from benchleaf.sequencing.jointwork import bore_of
from benchleaf.sequencing.kinds.holes import PILOT
from benchleaf.sequencing.kinds.machine_facts import DRILLED
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.stating import state_materials
from benchleaf.sequencing.wording import join_marks, make_slug, sort_marks
from benchleaf.sequencing.workroom import WorkPiece, Workroom

# Minutes chosen, as for all kinds: a careful beginner's; each is a copy put on, or four holes.
DRILL_PILOTS: Final = OperationKind(
    code="drill-pilots",
    phase="assembly",
    family="assembly",
    tool="drill",
    minutes=10,
    minutes_each=4,
    says={
        **DRILLED,
        "cut.kind": "bore",
        "cut.through": False,
    },
)


def pilots_of(group: Group, work: Sequence[WorkPiece]) -> list[WorkPiece]:
    """The pilot holes of the joints that close in a group."""
    pairs = {(f.joint, *sort_marks((f.contact.first, f.contact.second))) for f in group.fits}
    return [
        piece
        for piece in work
        if piece.feature.role == PILOT
        and (piece.feature.joint, *sort_marks((piece.mark, piece.feature.mate))) in pairs
    ]


def draft_pilots(
    group: Group, pilots: list[WorkPiece], room: Workroom, *, twin: Group | None
) -> Draft:
    """Make the draft for a group's pilot holes."""
    bores = [bore for piece in pilots if (bore := bore_of(piece)) is not None]
    bits = sorted({bore.diameter_mm for bore in bores})
    depth = max(bore.depth_mm for bore in bores)
    names = room.name_copies(piece.mark for piece in pilots)
    keys = tuple(piece.key for piece in pilots)
    marks = sort_marks(piece.mark for piece in pilots)
    return draft(
        DRILL_PILOTS,
        Work(
            id=make_slug(f"drill-pilots {join_marks(group.copies)}"),
            title=f"Drill pilot holes in {names}",
            copies=marks,
            actions=same_words(group, twin, room) if twin else _pilot_words(group, pilots, room),
            check="A screw turns in by hand for its first threads only.",
            settings=tuple(Setting(name="bit", value_mm=bit) for bit in bits),
            facts={
                **state_materials(marks, room),
                "bit.diameter_mm": bits[0],
                "cut.depth_mm": depth,
            },
            takes=[
                *map(copy_jointed, group.copies),
                *map(copy_sized, group.copies),
                *map(copy_sanded, group.copies),
                *([group_dry(group.copies)] if group.needs_dry_fit else []),
                *(group_joined(below.copies) for below in joined_below(group)),
            ],
            gives=[group_drilled(group.copies), *(feature_cut(*key) for key in keys)],
            pieces=1 + len(pilots) // 4,  # chosen: four holes are as quick as one copy
            joints=sorted({piece.feature.joint for piece in pilots}),
            features=keys,
            members=marks_of_members(group),
        ),
    )


def _pilot_words(group: Group, pilots: list[WorkPiece], room: Workroom) -> Iterator[str]:
    """What is held where, which bit, how far it goes in all."""
    yield from place_for_pilots(group, room)
    held: dict[tuple[Fraction, Fraction], list[WorkPiece]] = {}
    for piece in pilots:
        bore = bore_of(piece)
        if bore is not None:
            reach = _thickness_above(piece, room) + bore.depth_mm
            held.setdefault((bore.diameter_mm, reach), []).append(piece)
    for (diameter, reach), pieces in held.items():
        bit, deep = room.say.length(diameter), room.say.about(reach)
        yield f"Fit a {bit} bit that reaches {deep}, and mark that depth on it with tape."
        where = "" if len(held) == 1 else f" into {join_marks(piece.mark for piece in pieces)}"
        holes = count_of(len(pieces), "hole")
        yield f"Drill {holes} through the clearance holes{where}, down to the tape."
    yield from take_off_again(group, room)


def _thickness_above(piece: WorkPiece, room: Workroom) -> Fraction:
    """Thickness of the mate, through which the bit reaches the pilot hole."""
    fit = room.fit_between(piece.mark, piece.feature.mate, piece.feature.joint)
    if fit is None:
        return Fraction(0)
    contact = fit.contact
    box = contact.first_box if contact.first == piece.feature.mate else contact.second_box
    return Fraction(box.size[2])
