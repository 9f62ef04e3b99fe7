"""How the members of a group come together, in words: started with, set, laid beside, pushed on.

Takes a Group, gives sentences. Must not know glue or operations.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Final

from benchleaf.frames import FACES, Axis, Box, face_name
from benchleaf.joinery.moving import HANGS, SLIDES
from benchleaf.joinery.records import JointFit
from benchleaf.sequencing.closing import drives_upwards, is_screwed
from benchleaf.sequencing.gathering import UNGUIDED, fit_side
from benchleaf.sequencing.groups import Group, groups_in, part_names
from benchleaf.sequencing.lying import UPSIDE_DOWN, lie_words
from benchleaf.sequencing.naming import name_member
from benchleaf.sequencing.placing_words import Laid, row_words
from benchleaf.sequencing.taking_apart import is_free, unit_way
from benchleaf.sequencing.wording import MOST_WORDS, count_words, join_marks, join_words, sort_marks
from benchleaf.sequencing.workroom import Workroom

_SET, _BESIDE, _PUSHED, _SLID, _HUNG = "set", "beside", "pushed", "slid", "hung"
# Joints along which a member slides to its place, rather than being pressed on.
_RUNS: Final = frozenset({"groove", SLIDES})


@dataclass(frozen=True, slots=True)
class _Put:
    """How a member comes to what is there."""

    member: Group
    how: str
    laid: Laid | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bringing:
    """The members of a group in the order in which they come together on the bench."""

    base: Group
    puts: tuple[_Put, ...]
    axis: Axis | None
    lies: str
    """How the base lies on the bench: ` on a flat bench`."""
    is_turned: bool
    """The work stands upside down, because screws are driven up into it."""
    is_driven: bool = False
    """Members are driven into the base, each along its own line."""

    @property
    def placed(self) -> tuple[str, ...]:
        """Marks of single copies that nothing guides to their place."""
        held = (put.member.copies for put in self.puts if put.how == _SET)
        return tuple(own[0] for own in held if len(own) == 1)


def bring(group: Group, room: Workroom, *, is_dry: bool = False) -> Bringing:
    """Find how a group's members come together.

    Args:
        group: The group.
        room: The workroom.
        is_dry: Without glue: what only hangs on by glue or screws stays away until later.
    """
    is_turned = drives_upwards(group) and not is_dry
    members = [_standing(own) for own in group.members] if is_dry else list(group.members)
    if is_turned:
        into = {fit.contact.second for fit in group.fits if is_screwed(fit)}
        members.sort(key=lambda member: not into & set(member.copies))
    bored = _bored_at_a_lean(group)
    if bored:
        members.sort(key=lambda member: not bored & set(member.copies))
    base, *rest = members
    there = set(base.copies)
    puts: list[_Put] = []
    for member in rest:
        puts.append(_put(member, there, base, room))
        there |= set(member.copies)
    is_over = is_turned or (bool(bored) and _comes_from_below(group))
    lies = UPSIDE_DOWN if is_over else lie_words(base, rest, group.axis, room)
    if lies == UPSIDE_DOWN and not is_over:
        puts = [_on_the_bench(put, room.box_round(base.copies)) for put in puts]
    return Bringing(
        base=base,
        puts=tuple(puts),
        axis=group.axis,
        lies=lies,
        is_turned=is_turned,
        is_driven=bool(bored),
    )


def _leaning(group: Group) -> list[JointFit]:
    """The joints of a group that close along no axis of the piece."""
    found = []
    for fit in group.fits:
        ways = map(fit.contact.frame.outward_direction, fit.free_directions)
        if fit.kind == "round tenon" and all(way.count(0) < 2 for way in ways):
            found.append(fit)
    return found


def _bored_at_a_lean(group: Group) -> set[str]:
    """Marks of what several parts are driven into, each in a direction of its own."""
    return {fit.contact.second for fit in _leaning(group)}


def _comes_from_below(group: Group) -> bool:
    return all(fit.contact.frame.axes[2][Axis.HIGH] > 0 for fit in _leaning(group))


def _on_the_bench(put: _Put, base: Box) -> _Put:
    """The bench places what is flush with the top of work that lies on its top."""
    if put.laid is None or put.laid.box.high[Axis.HIGH] != base.high[Axis.HIGH]:
        return put
    settled = put.laid.settled | {Axis.HIGH}
    how = f"{put.laid.how}, down on the bench"
    return replace(put, laid=replace(put.laid, how=how, settled=settled))


def _standing(member: Group) -> Group:
    """What of a member stands at a dry fit: not what is only glued or screwed onto it later."""
    while not member.needs_dry_fit and any(own.needs_dry_fit for own in groups_in(member)):
        member = member.members[0]
    return member


def start_words(brought: Bringing, room: Workroom, *, is_dry: bool = False) -> Iterator[str]:
    """What lies on the bench to begin with."""
    without = ", without glue" if is_dry else ""
    if all(put.how in {_SLID, _HUNG} for put in brought.puts) and len(brought.base.copies) > 1:
        yield f"Stand {name_member(brought.base, room)}{_upright(brought)}{without}."
        return
    yield f"Lay {name_member(brought.base, room)}{brought.lies}{without}."
    aside = [put.member for put in brought.puts if put.how == _BESIDE]
    others = [put.member for put in brought.puts]
    ready = [own for own in aside if not any(_meet(own, o, room) for o in others if o is not own)]
    beside = [own for own in aside if own not in ready]
    for own in ready:
        yield f"Keep {name_member(own, room)} at hand: it is held by what goes on next."
    for words, run in groupby(beside, key=lambda member: _span_words(brought.base, member, room)):
        yield f"Lay {join_words([name_member(own, room) for own in run])} beside it{words}."


def _upright(brought: Bringing) -> str:
    """How the work stands while something slides in or is hung."""
    return brought.lies if brought.lies == UPSIDE_DOWN else " upright"


def _span_words(base: Group, member: Group, room: Workroom) -> str:
    """How far two copies of one part reach together, where that is what sets them apart."""
    if len(base.copies) > 1 or part_names(base, room) != part_names(member, room):
        return ""
    one, other = room.stood_box(base.copies[0]), room.stood_box(member.copies[0])
    both = one.join(other)
    apart = [axis for axis in Axis if one.size[axis] + other.size[axis] < both.size[axis]]
    return f", {room.say.length(both.size[apart[0]])} over both" if len(apart) == 1 else ""


def put_words(brought: Bringing, room: Workroom) -> Iterator[str]:
    """How the rest is set or pushed on, in order."""
    kinds = [put for put in brought.puts if put.how != _BESIDE]
    for (how, _), run in groupby(kinds, key=lambda put: (put.how, _run_key(put, room))):
        alike = list(run)
        if how == _SET:
            yield from row_words([put.laid for put in alike if put.laid], room.say)
        elif how == _SLID:
            there = set(brought.base.copies)
            yield from _slide_words([put.member for put in alike], there, room)
        elif how == _HUNG:
            names = [name_member(put.member, room) for put in alike]
            yield f"Hold {join_words(names)} in place, with the gaps even, on slips of card."
        else:
            yield from push_words([put.member for put in alike], brought, room)
    yield from _beside_words(brought, room)


def _beside_words(brought: Bringing, room: Workroom) -> Iterator[str]:
    """What was laid beside goes on to what was pushed on since; the rest is only laid ready."""
    pushed = pushed_members(brought)
    for own in (put.member for put in brought.puts if put.how == _BESIDE):
        mates = [mate for mate in pushed if _meet(own, mate, room)]
        if mates:
            yield f"Push {name_member(own, room)} on to {_name_all(mates, room)}."


def _name_all(members: Sequence[Group], room: Workroom) -> str:
    if all(len(member.copies) == 1 for member in members):
        return join_marks(member.copies[0] for member in members)
    return join_words([name_member(member, room) for member in members])


def _meet(one: Group, other: Group, room: Workroom) -> bool:
    """Tell whether a joint lies between two members."""
    return any(
        {fit.contact.first, fit.contact.second} & set(other.copies)
        for mark in one.copies
        for fit in room.fits_of(mark)
    )


def _run_key(put: _Put, room: Workroom) -> tuple[str, ...]:
    return part_names(put.member, room) if put.how == _SET else ()


def push_words(members: Sequence[Group], brought: Bringing, room: Workroom) -> Iterator[str]:
    """Sentences that push members on in order, as many in each as it holds."""
    names: list[str] = []
    for is_single, run in groupby(members, key=_letter_of):
        alike = list(run)
        if is_single:
            names.append(join_marks([member.copies[0] for member in alike]))
        else:
            names += [name_member(member, room) for member in alike]
    verb = "Put on" if brought.axis is Axis.HIGH else "Push on"
    if brought.is_driven:
        verb = "Drive in"
    while names:
        taken = len(names)
        while taken > 1 and count_words(_push(verb, names[:taken])) > MOST_WORDS:
            taken -= 1
        yield _push(verb, names[:taken])
        names = names[taken:]


def _push(verb: str, names: Sequence[str]) -> str:
    return f"{verb} {join_words(names, ', then')}."


def _letter_of(member: Group) -> str:
    """The letter of a single copy's mark; empty for an assembly."""
    return member.copies[0].rstrip("0123456789") if len(member.copies) == 1 else ""


def pushed_members(brought: Bringing) -> list[Group]:
    """The members that a joint leads to their place."""
    return [put.member for put in brought.puts if put.how == _PUSHED]


# Where a member goes that nothing guides.


def _put(member: Group, there: set[str], base: Group, room: Workroom) -> _Put:
    """Set where only glue, screws or weight hold it; pushed where a joint leads it."""
    touching = [
        fit
        for mark in member.copies
        for fit in room.fits_of(mark)
        if (fit.contact.first in there) != (fit.contact.second in there)
    ]
    if not touching:
        return _Put(member, _BESIDE, None)
    if any(fit.kind == HANGS for fit in touching):
        return _Put(member, _HUNG, None)
    if _slides_in(member, touching, there, room):
        return _Put(member, _SLID, None)
    if any(fit.kind not in UNGUIDED for fit in touching):
        return _Put(member, _PUSHED, None)
    if len(member.copies) > 1 and len(base.copies) == 1:
        return _Put(member, _SET, _lay_assembly(member, base, touching, room))
    return _Put(member, _SET, _lay(touching, there, room))


def _slides_in(
    member: Group, touching: Sequence[JointFit], there: set[str], room: Workroom
) -> bool:
    """Tell whether a member runs in along unglued grooves or runners when the rest stands."""
    kinds = {fit.kind for fit in touching}
    if any(fit.is_glued for fit in touching) or not kinds & _RUNS:
        return False
    return SLIDES in kinds or (len(there) > 1 and bool(_way_in(member, there, room)))


def _way_in(member: Group, there: set[str], room: Workroom) -> str:
    """The face at which a member goes in; empty where it goes in at none."""
    for face, (axis, is_high) in _MOUTHS.items():
        if is_free(frozenset(member.copies), there, unit_way(axis, 1 if is_high else -1), room):
            return face
    return ""


# chosen: what goes in at several faces goes in at the front.
_MOUTHS: Final = {face: FACES[face] for face in ("front", "back", "top", "left", "right", "bottom")}


def _slide_words(members: Sequence[Group], there: set[str], room: Workroom) -> Iterator[str]:
    """How members slide in, each at its own face, and on what they run."""
    for member in members:
        face = _way_in(member, there, room)
        runners = sort_marks(
            fit.contact.second
            for mark in member.copies
            for fit in room.fits_of(mark)
            if fit.kind == SLIDES and fit.contact.first == mark and fit.contact.second in there
        )
        on = f", on {join_marks(dict.fromkeys(runners))}" if runners else ""
        at = f" at the {face}" if face else ""
        yield f"Slide {name_member(member, room)} in{at}{on}."


def _lay_assembly(member: Group, base: Group, touching: Sequence[JointFit], room: Workroom) -> Laid:
    """An assembly on a single part: its outermost faces are what can be measured from."""
    mark = base.copies[0]
    return Laid(
        mark=name_member(member, room),
        how=f"on {mark}",
        box=room.box_round(member.copies),
        on=room.stood_box(mark),
        settled=frozenset(fit_side(fit, mark)[0] for fit in touching),
    )


def _lay(touching: Sequence[JointFit], there: set[str], room: Workroom) -> Laid:
    fit = max(touching, key=lambda one: (one.contact.u_mm * one.contact.v_mm, one.kind == "butt"))
    own = fit.contact.second if fit.contact.first in there else fit.contact.first
    mates: dict[tuple[Axis, bool], list[str]] = {}
    for one in touching:
        if own in (one.contact.first, one.contact.second):
            mate = one.contact.second if one.contact.first == own else one.contact.first
            mates.setdefault(fit_side(one, own), []).append(mate)
    under = mates[fit_side(fit, own)]
    return Laid(
        mark=own,
        how=_nest_words(mates, under, fit_side(fit, own)),
        box=room.stood_box(own),
        on=_round([_seen_box(mark, len(mates) > 1, room) for mark in under]),
        settled=frozenset(axis for axis, _ in mates),
    )


def _nest_words(
    mates: dict[tuple[Axis, bool], list[str]], under: list[str], side: tuple[Axis, bool]
) -> str:
    """`on F1 and F2`, `against the front of E`; or what it stands between."""
    if len(mates) == 1:
        axis, is_high = side
        # chosen: four marks are read at a glance.
        mate = join_marks(under) if len(under) <= 4 else "the rest"
        is_on = axis is Axis.HIGH
        return f"on {mate}" if is_on else f"against the {face_name(axis, not is_high)} of {mate}"
    pairs = [axis for axis in Axis if (axis, False) in mates and (axis, True) in mates]
    words = [f"between {join_marks([*mates[a, False], *mates[a, True]])}" for a in pairs]
    left = {own: held for own, held in mates.items() if own[0] not in pairs}
    if left:
        words.append(f"against {join_marks(mark for held in left.values() for mark in held)}")
    return ", ".join(words)


def _seen_box(mark: str, is_nested: bool, room: Workroom) -> Box:
    """What can be seen of a mate: between its shoulders, where its ends are in others already."""
    return room.joinery.piece.copies[mark].box if is_nested else room.stood_box(mark)


def _round(boxes: Sequence[Box]) -> Box:
    whole = boxes[0]
    for other in boxes[1:]:
        whole = whole.join(other)
    return whole
