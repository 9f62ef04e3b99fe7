"""Operations that bring copies together: dry fit, glue up, screw together, set in place.

Takes the groups of the assembly, gives drafts. Nothing is glued before the whole that it belongs to
has stood together dry. Must not know how joints were cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.cutting.blanks import FROM_RODS
from benchleaf.frames import Axis
from benchleaf.joinery.moving import HANGS, SLIDES
from benchleaf.sequencing.bringing import bring
from benchleaf.sequencing.closing import (
    at_hand,
    clamp_settings,
    clamps_for,
    count_all,
    hardware_of,
    screws_of,
)
from benchleaf.sequencing.drafting import (
    PIECE_TOGETHER,
    Draft,
    OperationKind,
    Planner,
    Thing,
    Work,
    blank_cut,
    copy_jointed,
    copy_prefinished,
    copy_sanded,
    copy_sized,
    draft,
    group_drilled,
    group_dry,
    group_joined,
)
from benchleaf.sequencing.gathering import UNGUIDED, gather
from benchleaf.sequencing.glues import closing_minutes, find_glue
from benchleaf.sequencing.groups import Group, groups_in, joined_below, marks_of_members
from benchleaf.sequencing.hardware_words import has_bolts
from benchleaf.sequencing.joining_words import (
    diagonal_words,
    dry_words,
    glue_words,
    same_words,
    screw_words,
)
from benchleaf.sequencing.kinds.mitring import draft_keys, keys_in
from benchleaf.sequencing.kinds.piloting import DRILL_PILOTS, draft_pilots, pilots_of
from benchleaf.sequencing.loose_panels import loose_among
from benchleaf.sequencing.lying import UPSIDE_DOWN, is_on_side
from benchleaf.sequencing.naming import name_closing
from benchleaf.sequencing.records import Fact
from benchleaf.sequencing.wording import join_marks, make_slug
from benchleaf.sequencing.workroom import WorkPiece, Workroom


def _kind(code: str, family: str, tool: str) -> OperationKind:
    # Minutes chosen, as for all kinds: a careful beginner's; each is a member put on.
    return OperationKind(
        code=code,
        phase="assembly",
        family=family,
        tool=tool,
        minutes=10,
        minutes_each=4,
        says={},
    )


DRY_FIT: Final = _kind("dry-fit", "dry fit", "clamps")
ASSEMBLE: Final = _kind("assemble", "assembly", "clamps")
SCREW_TOGETHER: Final = _kind("screw-together", "assembly", "screwdriver")
BOLT_TOGETHER: Final = _kind("bolt-together", "assembly", "spanner")
SET_IN_PLACE: Final = _kind("set-in-place", "assembly", "by hand")


def plan_assembling(room: Workroom) -> Iterator[Draft]:
    """Plan everything from parts to the piece standing."""
    groups = [group for group in groups_in(gather(room)) if group.fits]
    work = room.work
    twins: dict[object, Group] = {}
    for group in _side_by_side(groups, room):
        first = twins.setdefault(_likeness(group, room), group)
        twin = first if first is not group else None
        if group.needs_dry_fit:
            yield _dry_fit(group, groups, room, twin=twin)
        pilots = pilots_of(group, work)
        if pilots:
            yield draft_pilots(group, pilots, room, twin=twin)
        yield _join(group, room, twin=twin, groups=groups, pilots=pilots)
        keys = keys_in(group, work)
        if keys:
            yield draft_keys(group, keys, room)


def _side_by_side(groups: Sequence[Group], room: Workroom) -> Sequence[Group]:
    """Copies of one group go together side by side: all fronts first, then all backs."""
    if not room.groups:
        return groups
    alike = [_likeness(group, room) for group in groups]
    return [groups[n] for n in sorted(range(len(groups)), key=lambda n: (alike.index(alike[n]), n))]


def _likeness(group: Group, room: Workroom) -> tuple[object, ...]:
    """What two groups share that are put together alike, such as a left and a right frame."""
    members = tuple(
        tuple((part.name, len(own)) for part, own in room.parts_among(member.copies))
        for member in group.members
    )
    return (tuple(sorted(members)), group.axis, group.joints)


# Dry fit.


def _whole_of_run(group: Group, groups: Sequence[Group]) -> Group:
    """The largest group that is tried dry with this one in it: the end of a run of dry fits."""
    holders = [g for g in groups if g.needs_dry_fit and set(group.copies) <= set(g.copies)]
    return max(holders, key=lambda own: len(own.copies))


def _dry_fit(group: Group, groups: Sequence[Group], room: Workroom, *, twin: Group | None) -> Draft:
    """Draft one dry fit of a run: it is done when all that the last one needs is there."""
    whole = _whole_of_run(group, groups)
    first_pegged = next(
        (own for own in groups if own.needs_dry_fit and has_dowels(own) and _pins(own, room)), None
    )
    return draft(
        DRY_FIT,
        Work(
            id=make_slug(f"dry-fit {join_marks(group.copies)}"),
            title=name_closing("Dry fit", group, room),
            copies=group.copies,
            actions=same_words(group, twin, room)
            if twin
            else dry_words(
                group,
                room,
                is_grooved=group is first_pegged,
                ends=_end_of_run(whole) if group.copies == whole.copies else "",
            ),
            check="Every joint closes with light pressure, and shows no gap.",
            settings=clamp_settings(group, room),
            facts=_load_facts(group, room, is_dry=True),
            takes=[
                *map(copy_sized, whole.copies),
                *map(copy_jointed, whole.copies),
                *(group_joined(below.copies) for below in _joined_before(whole)),
                *(group_dry(below.copies) for below in _dry_below(group)),
                *map(blank_cut, _pins(whole, room)),
            ],
            gives=[group_dry(group.copies)],
            pieces=len(group.members),
            members=marks_of_members(group),
            # Screws and plain faces are for later; what is set out for them is not needed yet.
            joints=[fit.joint for fit in group.fits if fit.kind not in UNGUIDED],
        ),
    )


def _joined_before(group: Group) -> Iterator[Group]:
    """The smaller groups that are together for good before a dry fit: nothing in them goes in."""
    for below in joined_below(group):
        if any(own.needs_dry_fit for own in groups_in(below)):
            yield from _joined_before(below)
        else:
            yield below


def _dry_below(group: Group) -> Iterator[Group]:
    """The smaller groups that stand together dry before a larger one is tried."""
    for below in joined_below(group):
        if below.needs_dry_fit:
            yield below
        else:
            yield from _dry_below(below)


def _end_of_run(whole: Group) -> str:
    """A run of dry fits grows until it is whole, and comes apart once."""
    down_to = ", down to what is glued or screwed already" if any(_joined_before(whole)) else ""
    return f"Take everything apart again{down_to}."


# Closing.


def _join(
    group: Group,
    room: Workroom,
    *,
    twin: Group | None,
    groups: Sequence[Group],
    pilots: list[WorkPiece],
) -> Draft:
    kind = _closing_kind(group)
    glue = find_glue(room.plan.shop.glue)
    verb = {ASSEMBLE: "Glue", SCREW_TOGETHER: "Screw", BOLT_TOGETHER: "Bolt", SET_IN_PLACE: "Set"}[
        kind
    ]
    brought = bring(group, room)
    base = (brought.base if brought.is_driven else group.members[0]).copies
    words = glue_words if kind is ASSEMBLE else screw_words
    return draft(
        kind,
        Work(
            id=make_slug(f"{kind.code} {join_marks(group.copies)}"),
            title=name_closing(verb, group, room),
            copies=group.copies,
            actions=same_words(group, twin, room)
            if twin
            else words(group, room, has_pilots=bool(pilots)),
            check=_join_check(kind, group, room),
            settings=clamp_settings(group, room) if kind is ASSEMBLE else (),
            facts=_assembly_facts(group, room),
            takes=_join_takes(group, groups, pilots, room),
            gives=[group_joined(group.copies), PIECE_TOGETHER],
            pieces=len(group.members),
            waiting_hours=glue.clamp_hours if kind is ASSEMBLE else Fraction(0),
            joints=group.joints,
            joined=group.copies,
            is_turned=brought.lies == UPSIDE_DOWN,
            members=marks_of_members(group),
            moved=tuple(mark for mark in group.copies if mark not in base),
        ),
    )


def _closing_kind(group: Group) -> OperationKind:
    if group.is_glued:
        return ASSEMBLE
    if has_bolts(hardware_of(group)):
        return BOLT_TOGETHER
    return SCREW_TOGETHER if screws_of(group) else SET_IN_PLACE


def _join_takes(
    group: Group, groups: Sequence[Group], pilots: list[WorkPiece], room: Workroom
) -> Iterator[Thing]:
    for mark in group.copies:
        yield copy_sized(mark)
        yield copy_jointed(mark)
        yield copy_sanded(mark)
    if room.plan.finish is not None:
        yield from map(copy_prefinished, loose_among(group.fits, room.joinery))
    for below in _before(group, groups, room):
        yield group_joined(below.copies)
    if pilots:
        yield group_drilled(group.copies)
    if any(own.needs_dry_fit for own in groups_in(group)):
        # Whatever is glued later, and holds this group, has stood together dry before.
        for other in groups:
            if other.needs_dry_fit and set(group.copies) <= set(other.copies):
                yield group_dry(other.copies)
    for label in _pins(group, room):
        yield blank_cut(label)


def _before(group: Group, groups: Sequence[Group], room: Workroom) -> Iterator[Group]:
    """What is together before: its own members, and those of the other copies of its group."""
    for own in (group, *_others_like(group, groups, room)):
        yield from joined_below(own)


def _others_like(group: Group, groups: Sequence[Group], room: Workroom) -> list[Group]:
    """What is put together alike in the other copies of a group of the plan."""
    if len(group.copies) == 1 or not room.units[group.copies[0]].issuperset(group.copies):
        return []
    like = _likeness(group, room)
    return [other for other in groups if other is not group and _likeness(other, room) == like]


def has_dowels(group: Group) -> bool:
    """Tell whether dowels are glued into a joint that closes in a group."""
    return any(item.kind == "dowel" for item in hardware_of(group))


def _pins(group: Group, room: Workroom) -> tuple[str, ...]:
    """Labels of the pegs cut from rods, where a joint of the group is held by any."""
    if not any(item.kind in FROM_RODS for item in hardware_of(group)):
        return ()
    return tuple(label for label in room.labels if room.blanks[label].copy not in room.marks)


_MOVING_CHECKS: Final = {
    HANGS: "It swings without catching, and the gap is even all round.",
    SLIDES: "It runs without catching, and comes out again.",
    "groove": "It lies in its grooves all round, and can move in them.",
}
"""Joint to what is looked at once what moves in it is in its place."""


def _join_check(kind: OperationKind, group: Group, room: Workroom) -> str:
    kinds = {fit.kind for fit in group.fits}
    moving = next((own for own in _MOVING_CHECKS if own in kinds), "")
    if kind is not ASSEMBLE and moving:
        return _MOVING_CHECKS[moving]
    if kind is SCREW_TOGETHER:
        return "Nothing moves when it is shaken, and no screw stands proud."
    if kind is BOLT_TOGETHER:
        return "Nothing moves when it is shaken, and no joint gapes."
    if kind is SET_IN_PLACE:
        return "It sits without rocking."
    if not list(diagonal_words(group, room)):
        return "No joint shows a gap, and faces are in line."
    least = room.say.usual("1 mm", "1/32 in")
    how = "slant the clamps towards" if clamps_for(group, room) else "push together the corners of"
    return (
        f"No joint shows a gap, and the diagonals agree within {least}. "
        f"If not, {how} the longer one."
    )


def _load_facts(group: Group, room: Workroom, *, is_dry: bool) -> dict[str, Fact | None]:
    size = room.box_round(group.copies).size
    return {
        "assembly.mass_kg": room.mass_of_all_kg(group.copies),
        "assembly.high_mm": Fraction(size[Axis.HIGH]),
        "assembly.deep_mm": Fraction(min(size[Axis.WIDE], size[Axis.DEEP])),
        "assembly.on_side": is_on_side(bring(group, room, is_dry=is_dry).lies),
    }


def _assembly_facts(group: Group, room: Workroom) -> dict[str, Fact | None]:
    glue = find_glue(room.plan.shop.glue)
    facts = _load_facts(group, room, is_dry=False)
    if not group.is_glued and {fit.kind for fit in group.fits} & _MOVING_CHECKS.keys():
        # What slides in or is hung is lifted by itself: the rest stands.
        masses = [room.mass_of_all_kg(member.copies) for member in group.members[1:]]
        known = [mass for mass in masses if mass is not None]
        facts["assembly.mass_kg"] = max(known) if len(known) == len(masses) else None
    if group.is_glued:
        facts |= {
            "clamp.count": count_all(at_hand(clamps_for(group, room))),
            "glue.kind": glue.kind,
            "glue.open_minutes": glue.open_minutes,
            "glue.closing_minutes": closing_minutes(sum(fit.is_glued for fit in group.fits)),
        }
    return facts


# What is screwed without glue goes on as soon as its holes are drilled, while it is clamped.
PLANNER: Final = Planner(
    kinds=(DRY_FIT, SCREW_TOGETHER, BOLT_TOGETHER, SET_IN_PLACE, DRILL_PILOTS, ASSEMBLE),
    plan=plan_assembling,
)
