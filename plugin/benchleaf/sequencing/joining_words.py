"""A group's dry fit, pilot holes and closing in words: what is laid out, glued, pressed, measured.

Takes a Group and how its members come together, gives sentences. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.frames import Axis
from benchleaf.sequencing.bringing import (
    Bringing,
    bring,
    push_words,
    pushed_members,
    put_words,
    start_words,
)
from benchleaf.sequencing.clamping import Clamps
from benchleaf.sequencing.closing import (
    LONGEST_MM,
    MOST_CLAMPS,
    at_hand,
    clamps_for,
    count_all,
    count_of,
    hardware_of,
    screws_of,
)
from benchleaf.sequencing.glues import find_glue
from benchleaf.sequencing.groups import Group
from benchleaf.sequencing.hardware_words import (
    after_words,
    before_words,
    clamp_words,
    hard_words,
    slip_words,
)
from benchleaf.sequencing.loose_panels import loose_among
from benchleaf.sequencing.lying import UPSIDE_DOWN
from benchleaf.sequencing.squaring import find_diagonals
from benchleaf.sequencing.wording import join_marks
from benchleaf.sequencing.workroom import Workroom

# chosen: two sides are enough to show a box out of square.
_MOST_DIAGONALS: Final = 2
_LEVEL_SIDES: Final = frozenset({"left", "right"})


def same_words(group: Group, first: Group, room: Workroom) -> Iterator[str]:
    """A twin is put together like the first, or as its mirror image."""
    copies = room.joinery.piece.copies
    is_mirrored = any(
        copies[own].frame.axes != copies[other].frame.axes
        for own, other in zip(group.copies, first.copies, strict=True)
    )
    image = ", as the mirror image" if is_mirrored else ""
    yield f"Do the same with {join_marks(group.copies)}{image}."


# Dry.


def dry_words(group: Group, room: Workroom, *, is_grooved: bool, ends: str) -> Iterator[str]:
    """A dry fit.

    Args:
        group: The group that is tried.
        room: The workroom.
        is_grooved: Pegs cut in the shop are used for the first time: they get their grooves.
        ends: What becomes of it afterwards: empty where it is left together for the next one.
    """
    brought = bring(group, room, is_dry=True)
    clamps = at_hand(clamps_for(group, room))
    if is_grooved:
        yield "Saw a shallow groove along each dowel, so that air and glue get out."
    yield from start_words(brought, room, is_dry=True)
    yield from _raise_words(group, brought)
    yield from before_words(hardware_of(group), room.say.units)
    yield from slip_words(hardware_of(group), room.say.units, is_dry=True)
    yield from put_words(brought, room)
    yield (
        f"Close the joints with {count_of(count_all(clamps), 'clamp')}, hand tight."
        if clamps
        else "Press the joints home by hand."
    )
    yield from diagonal_words(group, room)
    yield "Pencil a line across each joint, so that it goes back the same way."
    off = "Take the clamps off, and leave it" if clamps else "Leave it"
    yield ends or f"{off} together for the next dry fit."


def diagonal_words(group: Group, room: Workroom) -> Iterator[str]:
    """Diagonals to measure, where closing can put a side out of square."""
    boxes = {mark: room.cornered_box(mark) for mark in group.copies}
    holders = {mark: i for i, member in enumerate(group.members) for mark in member.copies}
    for side in find_diagonals(boxes, holders)[:_MOST_DIAGONALS]:
        about = room.say.about(Fraction(side.length_mm))
        name = f"{side.side} side" if side.side in _LEVEL_SIDES else side.side
        yield f"On the {name}, measure both diagonals, outer corner to outer corner: {about}."


# Pilot holes.


def place_for_pilots(group: Group, room: Workroom) -> Iterator[str]:
    """How parts are held in place while pilot holes are drilled through them."""
    brought = bring(group, room)
    yield from start_words(brought, room)
    yield from put_words(brought, room)
    if not group.is_glued:
        yield from diagonal_words(group, room)
    if brought.puts:
        yield "Clamp it so that nothing moves."


def take_off_again(group: Group, room: Workroom) -> Iterator[str]:
    """What is glued after its pilot holes comes off once more, and finds its place by a line."""
    if not group.is_glued:
        return
    brought = bring(group, room)
    moved = _name_moved(brought)
    if brought.placed:
        yield f"Pencil round {join_marks(brought.placed)}, then take {moved} off again."
    else:
        yield f"Take {moved} off again."


def _name_moved(brought: Bringing) -> str:
    return join_marks(mark for put in brought.puts for mark in put.member.copies)


# Closing.


def glue_words(group: Group, room: Workroom, *, has_pilots: bool) -> Iterator[str]:
    """A glue-up: everything is laid out before the first glue is spread."""
    clamps, brought = clamps_for(group, room), bring(group, room)
    glue = find_glue(room.plan.shop.glue)
    yield from _lay_out_words(clamps, room)
    yield from start_words(brought, room)
    yield from _raise_words(group, brought)
    yield from slip_words(hardware_of(group), room.say.units, is_dry=False)
    minutes = f"it stays open about {glue.open_minutes} minutes"
    yield f"Spread {room.plan.shop.glue} thinly in every joint that closes here; {minutes}."
    yield from _panel_words(group, room)
    yield from _put_back_words(brought, room) if has_pilots else put_words(brought, room)
    yield from _press_words(clamps)
    yield from diagonal_words(group, room)
    yield from drive_words(group, brought, room)
    yield from _pin_words(group, room)
    yield "Wipe off the glue that was squeezed out."
    hours = glue.clamp_hours
    time = "an hour" if hours == 1 else f"{hours} hours"
    where = "in the clamps" if clamps else "alone"
    yield f"Leave it {where} for {time}, or as the label says."
    yield from hard_words(hardware_of(group))


def _panel_words(group: Group, room: Workroom) -> Iterator[str]:
    """A panel that moves is not glued in."""
    loose = loose_among(group.fits, room.joinery)
    if loose:
        yield f"Keep glue out of the grooves of {join_marks(loose)}: the wood must be free to move."


def _slide_words(group: Group, room: Workroom) -> Iterator[str]:
    loose = loose_among(group.fits, room.joinery)
    if loose:
        yield f"Slide {join_marks(loose)} into the grooves without glue, pushed home by hand."


def _pin_words(group: Group, room: Workroom) -> Iterator[str]:
    """Panels whose whole frame stands now are held in their middle."""
    for mark in sorted(loose_among(group.fits, room.joinery)):
        mates = {fit.contact.second for fit in room.fits_of(mark) if fit.contact.first == mark}
        if mates <= set(group.copies):
            yield f"Drive a pin from behind in the middle of each end of {mark}, the panel centred."


def _lay_out_words(clamps: Sequence[Clamps], room: Workroom) -> Iterator[str]:
    *others, last = [
        f"{count_of(own.count, 'clamp')} opening to {room.say.length(own.opening_mm)} or more"
        for own in at_hand(clamps)
    ] or [""]
    for words in others:
        yield f"Lay out {words}."
    yield f"Lay out {last}, a mallet and a wet rag." if last else "Lay out a mallet and a wet rag."
    if any(own.opening_mm > LONGEST_MM for own in clamps):
        yield "Where no clamp is that long, hook two together, head to foot."
    if count_all(clamps) > MOST_CLAMPS:
        apart = room.say.usual("200 mm", "8 in")
        yield f"Lay out stiff cauls too, so that every joint is pressed each {apart}."


def _put_back_words(brought: Bringing, room: Workroom) -> Iterator[str]:
    if brought.placed:
        yield f"Put {join_marks(brought.placed)} back on the pencil lines."
    yield from push_words(pushed_members(brought), brought, room)


def _press_words(clamps: Sequence[Clamps]) -> Iterator[str]:
    if not clamps:
        yield "Press the joints home, until a thin line of glue shows."
        return
    what = "clamps, the smaller ones first," if len(clamps) > 1 else "clamps in turn"
    if count_all(clamps) == 1:
        what = "clamp"
    yield f"Tighten the {what} until a thin line of glue shows."


def drive_words(group: Group, brought: Bringing, room: Workroom) -> Iterator[str]:
    """The screws that are driven, and what else holds the joints when they are closed."""
    yield from clamp_words(hardware_of(group), room.say.units)
    for hardware in screws_of(group):
        size = hardware.size_in(room.say.units)
        yield f"Drive {count_of(hardware.count, 'screw')}, {size}."
    if _is_wedged_from_below(group, brought):
        yield "Turn it the right way up, on to its feet."
    yield from after_words(hardware_of(group), room.say.units)


def _is_wedged_from_below(group: Group, brought: Bringing) -> bool:
    """Tell whether the ends that take wedges look at the bench when the joints close."""
    has_wedges = any(item.kind == "wedge" for item in hardware_of(group))
    is_upright = brought.is_driven or brought.axis is Axis.HIGH
    return has_wedges and is_upright and brought.lies == UPSIDE_DOWN


def _raise_words(group: Group, brought: Bringing) -> Iterator[str]:
    if _is_wedged_from_below(group, brought):
        yield "Lay strips of scrap under it, clear of the holes: the tenons come through."


def screw_words(group: Group, room: Workroom, *, has_pilots: bool) -> Iterator[str]:
    """What is held by screws or by its weight alone."""
    brought = bring(group, room)
    yield from before_words(hardware_of(group), room.say.units)
    if not has_pilots:
        yield from start_words(brought, room)
        yield from put_words(brought, room)
        yield from _slide_words(group, room)
    yield from drive_words(group, brought, room)
    if brought.is_turned:
        yield "Turn it the right way up again."
