"""What a group and its members are called, in titles and in actions.

Takes Groups, gives words. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from benchleaf.joinery.moving import HANGS, SLIDES
from benchleaf.sequencing.groups import Group, part_names
from benchleaf.sequencing.wording import join_marks, join_words, sort_marks
from benchleaf.sequencing.workroom import Workroom

_ONTO: Final = {"Glue": "to", "Screw": "to", "Bolt": "to", "Set": "on", "Dry fit": "to"}
_TOGETHER: Final = {
    "Glue": "Glue up",
    "Screw": "Screw together",
    "Bolt": "Bolt together",
    "Set": "Set up",
}
# chosen: a title names three parts at most.
_MOST_NAMES: Final = 3


def name_closing(verb: str, group: Group, room: Workroom) -> str:
    """A title for putting a group together: parts by name, or what goes on to what.

    Where what goes on holds more parts than a title can name, each member goes by its largest.
    """
    base, *rest = group.members
    if verb == "Set" and any(fit.kind == "groove" for fit in group.fits):
        panels = room.name_copies(mark for member in rest for mark in member.copies)
        return f"Slide in {panels}"
    named = room.groups.get(frozenset(group.copies))
    if named is not None:
        return f"{_TOGETHER.get(verb, verb)} {named.called}"
    groups = [room.groups.get(frozenset(member.copies)) for member in rest]
    if all(groups):
        called = join_words([own.called for own in groups if own is not None])
        return _name_moving(verb, called, group, room)
    all_single = all(len(member.copies) == 1 for member in group.members)
    is_mixed = any(name in part_names(base, room) for m in rest for name in part_names(m, room))
    if len(part_names(group, room)) <= _MOST_NAMES and (all_single or is_mixed):
        return f"{_TOGETHER.get(verb, verb)} {room.name_copies(group.copies)}"
    moved = sort_marks(mark for member in rest for mark in _moved_copies(member, rest, room))
    return f"{verb} {room.name_copies(moved)} {_ONTO[verb]} {_name_base(group, room)}"


def _name_moving(verb: str, called: str, group: Group, room: Workroom) -> str:
    """A title for what is hung, slid in, or put on as one."""
    kinds = {fit.kind for fit in group.fits}
    if verb in {"Screw", "Set"} and HANGS in kinds:
        return f"Hang {called}"
    if verb == "Set" and SLIDES in kinds:
        return f"Slide in {called}"
    return f"{verb} {called} {_ONTO[verb]} {_name_base(group, room)}"


def _moved_copies(member: Group, rest: Sequence[Group], room: Workroom) -> tuple[str, ...]:
    """All copies of a member, or those of its main part where there is too much to name."""
    names = {name for other in rest for name in part_names(other, room)}
    singles = all(len(other.copies) == 1 for other in rest)
    if len(names) <= _MOST_NAMES and (singles or len(rest) == 1):
        return member.copies
    return main_copies(member, room)


def _name_base(group: Group, room: Workroom) -> str:
    """What the moved members are joined to, where that is one part or two."""
    base = group.members[0]
    touched = {
        mark
        for fit in group.fits
        if fit.kind not in {"rests on", "closes against"}
        for mark in (fit.contact.first, fit.contact.second)
        if mark in base.copies
    }
    parts = [part.name for part, _ in room.parts_among(touched)]
    if not 0 < len(parts) <= 2:
        return "the rest"
    return room.name_copies(mark for mark in base.copies if room.copy(mark).part in parts)


def main_copies(member: Group, room: Workroom) -> tuple[str, ...]:
    """The copies of a member's largest part, by volume of all its copies there."""
    parts = room.parts_among(member.copies)
    _, own = max(parts, key=lambda pair: (round(_volume_mm3(pair[1], room)), pair[0].mark))
    return own


def _volume_mm3(marks: Iterable[str], room: Workroom) -> float:
    return sum(room.volumes_mm3[mark] for mark in marks)


def name_member(member: Group, room: Workroom) -> str:
    """A member as an action names it: by its mark, or as an assembly."""
    if len(member.copies) == 1:
        return member.copies[0]
    named = room.groups.get(frozenset(member.copies))
    if named is not None:
        return named.called
    # chosen: four marks name an assembly; a larger one is known by its largest part.
    if len(member.copies) <= 4:
        return f"the assembly of {join_marks(member.copies)}"
    return f"the assembly with {room.name_copies(main_copies(member, room))}"
