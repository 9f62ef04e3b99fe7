"""Operations that bring copies together: dry fit, glue up, screw together, set in place.

Takes the groups of the assembly, gives drafts. Nothing is glued before the whole that it belongs to
has stood together dry. Must not know how joints were cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.frames import Axis
from benchleaf.sequencing.bringing import bring_words
from benchleaf.sequencing.clamping import Clamps
from benchleaf.sequencing.closing import (
    MOST_CLAMPS,
    at_hand,
    clamp_settings,
    clamps_for,
    count_all,
    count_of,
    hardware_of,
    name_closing,
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
    copy_sanded,
    copy_sized,
    draft,
    group_drilled,
    group_dry,
    group_joined,
)
from benchleaf.sequencing.gathering import Group, gather, groups_in, joined_below
from benchleaf.sequencing.glues import find_glue
from benchleaf.sequencing.kinds.piloting import DRILL_PILOTS, draft_pilots, pilots_of
from benchleaf.sequencing.records import Fact
from benchleaf.sequencing.squaring import Diagonals, find_diagonals
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
SET_IN_PLACE: Final = _kind("set-in-place", "assembly", "by hand")
_JOINS: Final = (ASSEMBLE, SCREW_TOGETHER, SET_IN_PLACE)
# chosen: two sides are enough to show a box out of square.
_MOST_DIAGONALS: Final = 2


def plan_assembling(room: Workroom) -> Iterator[Draft]:
    """Plan everything from parts to the piece standing."""
    groups = [group for group in groups_in(gather(room)) if group.fits]
    work = room.work
    twins: dict[object, Group] = {}
    for group in groups:
        first = twins.setdefault(_likeness(group, room), group)
        twin = first if first is not group else None
        if group.needs_dry_fit:
            yield _dry_fit(group, _whole_of_run(group, groups), room, is_twin=twin is not None)
        pilots = pilots_of(group, work)
        if pilots:
            yield draft_pilots(group, pilots, room)
        yield _join(group, room, twin=twin, groups=groups, pilots=pilots)


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


def _dry_fit(group: Group, whole: Group, room: Workroom, *, is_twin: bool) -> Draft:
    """Draft one dry fit of a run: it is done when all that the last one needs is there."""
    return draft(
        DRY_FIT,
        Work(
            id=make_slug(f"dry-fit {join_marks(group.copies)}"),
            title=name_closing("Dry fit", group, room),
            copies=group.copies,
            actions=_same_words(group) if is_twin else _dry_words(group, whole, room),
            check="Every joint closes with light pressure, and shows no gap.",
            settings=clamp_settings(group, room),
            facts=_load_facts(group, room),
            takes=[
                *map(copy_sized, whole.copies),
                *map(copy_jointed, whole.copies),
                *(group_joined(below.copies) for below in _joined_before(whole)),
                *(group_dry(below.copies) for below in _dry_below(group)),
                *map(blank_cut, _pins(whole, room)),
            ],
            gives=[group_dry(group.copies)],
            pieces=len(group.members),
            joints=group.joints,
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


def _same_words(group: Group) -> Iterator[str]:
    yield f"Do the same with {join_marks(group.copies)}."


def _dry_words(group: Group, whole: Group, room: Workroom) -> Iterator[str]:
    yield from bring_words(group, room, is_dry=True)
    clamps = clamps_for(group, room)
    yield (
        f"Close the joints with {count_of(count_all(at_hand(clamps)), 'clamp')}, hand tight."
        if clamps
        else "Press the joints home by hand."
    )
    yield from _diagonal_words(group, room)
    yield "Pencil a line across each joint, so that it goes back the same way."
    yield from _after_dry_words(group, whole, has_clamps=bool(clamps))


def _after_dry_words(group: Group, whole: Group, *, has_clamps: bool) -> Iterator[str]:
    """A run of dry fits grows until it is whole, and comes apart once."""
    if group.copies != whole.copies:
        off = "Take the clamps off, and leave it" if has_clamps else "Leave it"
        yield f"{off} together for the next dry fit."
        return
    down_to = ", down to what is glued or screwed already" if any(_joined_before(whole)) else ""
    yield f"Take everything apart again{down_to}."


def _diagonal_words(group: Group, room: Workroom) -> Iterator[str]:
    boxes = {mark: room.cornered_box(mark) for mark in group.copies}
    holders = {mark: i for i, member in enumerate(group.members) for mark in member.copies}
    for side in find_diagonals(boxes, holders)[:_MOST_DIAGONALS]:
        yield _one_diagonal(side, room)


def _one_diagonal(side: Diagonals, room: Workroom) -> str:
    low, high, _, _ = side.corners
    about = room.say.about(Fraction(side.length_mm))
    return f"Measure both diagonals of the {side.side}, outer corner of {low} to {high}: {about}."


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
    verb = {ASSEMBLE: "Glue", SCREW_TOGETHER: "Screw", SET_IN_PLACE: "Set"}[kind]
    base = group.members[0].copies
    return draft(
        kind,
        Work(
            id=make_slug(f"{kind.code} {join_marks(group.copies)}"),
            title=name_closing(verb, group, room),
            copies=group.copies,
            actions=_same_words(group) if twin else _join_words(kind, group, room),
            check=_join_check(kind, group, room),
            settings=clamp_settings(group, room) if kind is ASSEMBLE else (),
            facts=_assembly_facts(group, room),
            takes=_join_takes(group, groups, pilots, room),
            gives=[group_joined(group.copies), PIECE_TOGETHER],
            pieces=len(group.members),
            waiting_hours=glue.clamp_hours if kind is ASSEMBLE else Fraction(0),
            joints=group.joints,
            joined=group.copies,
            moved=tuple(mark for mark in group.copies if mark not in base),
        ),
    )


def _closing_kind(group: Group) -> OperationKind:
    if group.is_glued:
        return ASSEMBLE
    return SCREW_TOGETHER if screws_of(group) else SET_IN_PLACE


def _join_takes(
    group: Group, groups: Sequence[Group], pilots: list[WorkPiece], room: Workroom
) -> Iterator[Thing]:
    for mark in group.copies:
        yield copy_sized(mark)
        yield copy_jointed(mark)
        yield copy_sanded(mark)
    for below in joined_below(group):
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


def _pins(group: Group, room: Workroom) -> tuple[str, ...]:
    """Labels of the pegs cut from rods, where a joint of the group is held by any."""
    if not any(item.kind == "dowel" for item in hardware_of(group)):
        return ()
    return tuple(label for label in room.labels if room.blanks[label].copy not in room.marks)


def _join_words(kind: OperationKind, group: Group, room: Workroom) -> Iterator[str]:
    clamps = clamps_for(group, room)
    if kind is ASSEMBLE:
        yield from _lay_out_words(clamps, room)
        if count_all(clamps) > MOST_CLAMPS:
            apart = room.say.usual("200 mm", "8 in")
            yield f"Lay out stiff cauls too, so that every joint is pressed each {apart}."
        yield f"Spread {room.plan.shop.glue} thinly in every joint that closes here."
    yield from bring_words(group, room, is_dry=False)
    if kind is ASSEMBLE:
        yield (
            "Tighten the clamps in turn, until a thin line of glue shows."
            if clamps
            else "Press the joints home, until a thin line of glue shows."
        )
        yield from _diagonal_words(group, room)
    for hardware in screws_of(group):
        yield f"Drive {count_of(hardware.count, 'screw')}, {hardware.size}."
    if kind is ASSEMBLE:
        yield "Wipe off the glue that was squeezed out."
        hours = find_glue(room.plan.shop.glue).clamp_hours
        time = "an hour" if hours == 1 else f"{hours} hours"
        where = "in the clamps" if clamps else "alone"
        yield f"Leave it {where} for {time}, or as the label says."


def _lay_out_words(clamps: Sequence[Clamps], room: Workroom) -> Iterator[str]:
    *others, last = [
        f"{count_of(own.count, 'clamp')} opening to {room.say.length(own.opening_mm)} or more"
        for own in at_hand(clamps)
    ] or [""]
    for words in others:
        yield f"Lay out {words}."
    yield f"Lay out {last}, a mallet and a wet rag." if last else "Lay out a mallet and a wet rag."


def _join_check(kind: OperationKind, group: Group, room: Workroom) -> str:
    if kind is ASSEMBLE:
        if not list(_diagonal_words(group, room)):
            return "No joint shows a gap, and faces are in line."
        least = room.say.usual("1 mm", "1/32 in")
        return (
            f"No joint shows a gap, and the diagonals agree within {least}. "
            "If not, slant the clamps towards the longer one."
        )
    if kind is SCREW_TOGETHER:
        return "Nothing moves when it is shaken, and no screw stands proud."
    return "It sits without rocking."


def _load_facts(group: Group, room: Workroom) -> dict[str, Fact | None]:
    size = room.box_round(group.copies).size
    return {
        "assembly.mass_kg": room.mass_of_all_kg(group.copies),
        "assembly.high_mm": Fraction(size[Axis.HIGH]),
        "assembly.deep_mm": Fraction(min(size[Axis.WIDE], size[Axis.DEEP])),
    }


def _assembly_facts(group: Group, room: Workroom) -> dict[str, Fact | None]:
    glue = find_glue(room.plan.shop.glue)
    facts = _load_facts(group, room)
    if group.is_glued:
        facts |= {
            "clamp.count": count_all(at_hand(clamps_for(group, room))),
            "glue.kind": glue.kind,
            "glue.open_minutes": glue.open_minutes,
            # chosen: a minute to spread and close each joint, and two for the clamps.
            "glue.closing_minutes": 2 + sum(fit.is_glued for fit in group.fits),
        }
    return facts


PLANNER: Final = Planner(kinds=(DRY_FIT, DRILL_PILOTS, *_JOINS), plan=plan_assembling)
