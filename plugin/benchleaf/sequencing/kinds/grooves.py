"""Operations that rout long recesses: housings, grooves and rebates.

Takes features of those roles, gives drafts grouped by equal width and depth over all parts, because
bit and depth stop are then set once. Must not know what goes in.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.sequencing.drafting import Draft, OperationKind, Planner
from benchleaf.sequencing.jointwork import BoxCut, inner_ends, measure_box
from benchleaf.sequencing.kinds.bits import largest_bit_mm
from benchleaf.sequencing.kinds.joint_drafts import JointWork, draft_joint_work, keys_of
from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import Workroom

_ROUTER: Final = {
    **MACHINED,
    "cut.through": False,
}


def _kind(code: str, word: str) -> OperationKind:
    return OperationKind(
        code=code,
        phase="joints",
        family="routing",
        tool="router",
        minutes=15,
        minutes_each=5,
        says={**_ROUTER, "cut.kind": word},
    )


HOUSINGS: Final = _kind("rout-housings", "housing")
GROOVES: Final = _kind("rout-grooves", "groove")
REBATES: Final = _kind("rout-rebates", "rebate")
_BY_ROLE: Final = {"housing": HOUSINGS, "groove": GROOVES, "rebate": REBATES}
# Routers' manuals, read: at most 1/8 in (3 mm) a pass.
MOST_PASS_MM: Final = 3


def plan_grooves(room: Workroom) -> Iterator[Draft]:
    """Plan housings, grooves and rebates, each width and depth once."""
    groups: dict[tuple[str, Fraction, Fraction], list[BoxCut]] = {}
    for work in room.work:
        cut = measure_box(work)
        if cut is None or work.feature.adds or work.feature.role not in _BY_ROLE:
            continue
        key = (work.feature.role, cut.width_mm, cut.depth_mm)
        groups.setdefault(key, []).append(cut)
    for (role, _, _), cuts in groups.items():
        yield _rout(_BY_ROLE[role], cuts, room)


def _rout(kind: OperationKind, cuts: list[BoxCut], room: Workroom) -> Draft:
    cut = cuts[0]
    bit = largest_bit_mm(cut.width_mm, room.plan.units, room.shop.router_bits_mm)
    pieces = [c.work for c in cuts]
    settings = [
        Setting(name="bit", value_mm=bit),
        Setting(name="depth stop", value_mm=cut.depth_mm),
    ]
    if kind is REBATES:
        settings.append(Setting(name="fence", value_mm=cut.width_mm))
    noun = cut.work.feature.role + ("s" if len(cuts) > 1 else "")
    joints = sorted({piece.feature.joint for piece in pieces})
    return draft_joint_work(
        kind,
        pieces,
        JointWork(
            name=f"{cut.width_mm} {cut.depth_mm} {joints}",
            title=f"Rout the {noun} in {room.name_copies(piece.mark for piece in pieces)}",
            actions=_words(kind, cuts, bit, room),
            check=_check(kind, cut, room),
            settings=tuple(settings),
            facts={
                "bit.diameter_mm": bit,
                "cut.depth_mm": cut.depth_mm,
                "cut.length_mm": max(c.run_mm for c in cuts),
                "cut.stopped": any(stopped for stopped, _ in _ends(cuts, room)),
                "cut.end_grain": any(c.is_at_edge and c.is_across_grain for c in cuts),
            },
            finishes=keys_of(pieces),
        ),
        room,
    )


def _words(
    kind: OperationKind, cuts: Sequence[BoxCut], bit: Fraction, room: Workroom
) -> Iterator[str]:
    cut, say = cuts[0], room.say
    role = cut.work.feature.role
    depth = say.length(cut.depth_mm)
    marks = sort_marks(c.work.mark for c in cuts)
    yield f"Fit the {say.length(bit)} straight bit."
    yield f"Set the depth stop to {depth}."
    if kind is REBATES:
        yield f"Set the fence so that the bit takes {say.length(cut.width_mm)} off the edge."
    else:
        yield "Clamp a straight guide along the work, so that the bit runs between the lines."
    yield f"Rout a trial {role} in scrap, and try the mate in it."
    passes = say.usual("3 mm", "1/8 in")
    yield from spread(f"Rout each {role}, {passes} a pass at most, in", marks)
    if kind is not REBATES and bit < cut.width_mm:
        yield f"Move the guide and widen each {role} to {say.length(cut.width_mm)}."
    ends = _ends(cuts, room)
    if any(crossing for _, crossing in ends):
        yield "Run on to the edge where a rebate or another channel takes the same wood away."
    if any(stopped for stopped, _ in ends):
        yield "Stop at the marked ends, and square them with a chisel."


def _ends(cuts: Sequence[BoxCut], room: Workroom) -> list[tuple[int, int]]:
    """For each cut, its ends in the wood and its ends in other cuts."""
    return [inner_ends(cut, room.copy(cut.work.mark).features) for cut in cuts]


def _check(kind: OperationKind, cut: BoxCut, room: Workroom) -> str:
    depth, width = room.say.length(cut.depth_mm), room.say.length(cut.width_mm)
    if kind is REBATES:
        return f"The rebate measures {width} by {depth} all along."
    return f"The mate slides in by hand; it is {depth} deep all along."


PLANNER: Final = Planner(kinds=(HOUSINGS, GROOVES, REBATES), plan=plan_grooves)
