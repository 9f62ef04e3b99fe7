"""Operations that cut square holes: drill the waste, then chop to the lines.

Takes features of the roles mortise, haunch and through hole, gives drafts for each
part. Must not know tenons.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from benchleaf.sequencing.drafting import Draft, OperationKind, Planner, feature_begun
from benchleaf.sequencing.jointwork import BoxCut, measure_box
from benchleaf.sequencing.kinds.bits import largest_bit_mm
from benchleaf.sequencing.kinds.joint_drafts import JointWork, draft_joint_work, keys_of
from benchleaf.sequencing.kinds.machine_facts import DRILLED
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import Workroom

DRILL_WASTE: Final = OperationKind(
    code="drill-waste",
    phase="joints",
    family="mortises",
    tool="drill press",
    minutes=10,
    minutes_each=6,
    says={**DRILLED, "cut.kind": "bore"},
)
# A drill press does not reach the middle of a panel.
DRILL_OPENINGS: Final = replace(DRILL_WASTE, code="drill-openings", tool="drill")
CHOP: Final = OperationKind(
    code="chop",
    phase="joints",
    family="mortises",
    tool="chisel",
    minutes=5,
    minutes_each=15,
    says={"op.makes_chips": True, "cut.kind": "mortise"},
)
_HAUNCH: Final = "haunch"
_OPENING: Final = "through hole"
ROLES: Final = frozenset({"mortise", _HAUNCH, _OPENING})
# chosen: what is left between a drilled hole and the line that it is chopped to, on both sides.
_LEFT_TO_CHOP_MM: Final = Fraction(3, 2)
_CLEARANCE: Final = "clearance on each side"


def plan_mortises(room: Workroom) -> Iterator[Draft]:
    """Plan the mortises and openings of every part, each bit and depth once."""
    groups: dict[tuple[str, str, Fraction, Fraction], list[BoxCut]] = {}
    for work in room.work:
        cut = measure_box(work)
        if cut is None or work.feature.adds or work.feature.role not in ROLES:
            continue
        part = room.copy(work.mark).part
        key = (part, work.feature.role, cut.width_mm, cut.depth_mm)
        groups.setdefault(key, []).append(cut)
    # Mortises before their haunches: the haunch is pared down from the mortise's open side.
    for key in sorted(groups, key=lambda own: own[1] == _HAUNCH):
        is_haunch = key[1] == _HAUNCH
        if not is_haunch:
            yield _drill(groups[key], room)
        yield _chop(groups[key], room, is_haunch=is_haunch)


def _noun(cuts: Sequence[BoxCut]) -> str:
    role = cuts[0].work.feature.role
    word = "opening" if role == _OPENING else role
    many = "haunches" if word == "haunch" else word + "s"
    return many if len(cuts) > 1 else word


def _name(cuts: Sequence[BoxCut], room: Workroom) -> str:
    feature = cuts[0].work.feature
    part = room.copy(cuts[0].work.mark).part
    return f"{part} {feature.role} {cuts[0].width_mm} {cuts[0].depth_mm}"


# Drilling.


def _drill(cuts: list[BoxCut], room: Workroom) -> Draft:
    cut = cuts[0]
    is_opening = cut.work.feature.role == _OPENING
    narrow = min(cut.width_mm, cut.run_mm)
    if is_opening:
        narrow -= 2 * _clearance_mm(cut, room) + _LEFT_TO_CHOP_MM
    bit = largest_bit_mm(narrow, room.plan.units, room.shop.drill_bits_mm)
    pieces = [c.work for c in cuts]
    settings = [Setting(name="bit", value_mm=bit)]
    if not cut.is_through:
        settings.append(Setting(name="depth stop", value_mm=cut.depth_mm))
    return draft_joint_work(
        DRILL_OPENINGS if is_opening else DRILL_WASTE,
        pieces,
        JointWork(
            name=_name(cuts, room),
            title=f"Drill out the {_noun(cuts)} in {room.name_copies(p.mark for p in pieces)}",
            actions=_drill_words(cuts, bit, room),
            check="No hole touches a line." if is_opening else "No hole runs over a line.",
            settings=tuple(settings),
            facts={
                "bit.diameter_mm": bit,
                "cut.depth_mm": cut.depth_mm,
                "cut.through": cut.is_through,
            },
            begins=keys_of(pieces),
        ),
        room,
    )


def _drill_words(cuts: list[BoxCut], bit: Fraction, room: Workroom) -> Iterator[str]:
    cut = cuts[0]
    marks = sort_marks(c.work.mark for c in cuts)
    yield f"Fit the {room.say.length(bit)} bit."
    if cut.is_through:
        yield "Lay scrap under the work, so that the far face does not break out."
    else:
        yield f"Set the depth stop to {room.say.length(cut.depth_mm)}."
    # An opening much larger than the bit is ringed with holes and sawn out.
    if cut.width_mm > 2 * bit:
        yield from spread("Drill holes just inside the lines, all round, on", marks)
        yield "Saw from hole to hole with a keyhole saw, and lift the waste out."
    elif 2 * cut.run_mm < 3 * bit:
        yield from spread("Drill one hole in the middle of each marked place on", marks)
    else:
        yield from spread("Drill a hole at each end of the marked places on", marks)
        yield "Overlap more holes between the two."


# Chopping.


def _chop(cuts: list[BoxCut], room: Workroom, *, is_haunch: bool) -> Draft:
    cut = cuts[0]
    pieces = [c.work for c in cuts]
    keys = keys_of(pieces)
    return draft_joint_work(
        CHOP,
        pieces,
        JointWork(
            name=_name(cuts, room),
            title=f"Chop the {_noun(cuts)} in {room.name_copies(p.mark for p in pieces)}",
            actions=_chop_words(cuts, room),
            check=_chop_check(cut, room),
            facts={"cut.depth_mm": cut.depth_mm, "cut.through": cut.is_through},
            takes=() if is_haunch else [feature_begun(*key) for key in keys],
            finishes=keys,
        ),
        room,
    )


def _chop_words(cuts: list[BoxCut], room: Workroom) -> Iterator[str]:
    cut = cuts[0]
    depth = room.say.length(cut.depth_mm)
    marks = sort_marks(c.work.mark for c in cuts)
    yield from spread("Clamp", marks, "to the bench in turn" if len(marks) > 1 else "to the bench")
    if cut.is_through:
        yield "Chop to the lines from one face, half way through."
        yield "Turn the work over, and chop from the other face to meet."
        clearance = _clearance_mm(cut, room)
        if clearance:
            yield f"Pare {room.say.length(clearance)} past the lines on every side."
    else:
        yield f"Mark {depth} on the chisel with tape."
        yield "Pare the sides to the lines, square down to the tape."
    yield "Square the corners."


def _clearance_mm(cut: BoxCut, room: Workroom) -> Fraction:
    """How far an opening goes past the lines of the post that was marked on it, mm."""
    feature = cut.work.feature
    fit = room.fit_between(cut.work.mark, feature.mate, feature.joint)
    sizes = fit.sizes if fit is not None and feature.role == _OPENING else ()
    return next((size.value_mm for size in sizes if size.name == _CLEARANCE), Fraction(0))


def _chop_check(cut: BoxCut, room: Workroom) -> str:
    clearance = _clearance_mm(cut, room)
    if clearance:
        sides = sorted((cut.width_mm - 2 * clearance, cut.run_mm - 2 * clearance))
        across = " by ".join(room.say.length(side) for side in sides)
        return f"A block of {across} slides through each by hand, without play."
    width, run = room.say.length(cut.width_mm), room.say.length(cut.run_mm)
    end = "" if cut.is_through else f", {room.say.length(cut.depth_mm)} deep"
    return f"Each measures {width} by {run}{end}, with square sides."


PLANNER: Final = Planner(kinds=(DRILL_WASTE, DRILL_OPENINGS, CHOP), plan=plan_mortises)
