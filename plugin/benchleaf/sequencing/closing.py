"""What a group of copies asks for when it is put together: clamps and hardware.

Takes a Group, gives words and numbers. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import Hardware, JointFit
from benchleaf.sequencing.clamping import JOINT_SPACING_MM, Clamps, Pressed, clamp_joints
from benchleaf.sequencing.groups import Group
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import round_opening_up
from benchleaf.sequencing.workroom import CORNERED, Workroom, normal_axis

# chosen: more clamps than this are hard to come by, and to close in time; cauls spread the load.
MOST_CLAMPS: Final = 12
# Common practice, no source: bar clamps are sold up to 50 in long.
LONGEST_MM: Final = 1270


def clamps_for(group: Group, room: Workroom) -> tuple[Clamps, ...]:
    """Clamps that close a group's glued joints, by their opening; worked out once for a group."""
    key = (group.copies, group.axis, group.joints)
    if key not in room.clamps_known:
        room.clamps_known[key] = _clamps_for(group, room)
    return room.clamps_known[key]


def _clamps_for(group: Group, room: Workroom) -> tuple[Clamps, ...]:
    boxes = [room.stood_box(mark) for mark in group.copies]
    pressed: dict[Axis, list[Pressed]] = {}
    for fit in group.fits:
        if _is_clamped(fit):
            for axis in _pressed_along(fit, group, room):
                pressed.setdefault(axis, []).append(_pressed(fit, axis, boxes))
    held: dict[Fraction, int] = {}
    for axis in sorted(pressed):
        for clamps in clamp_joints(pressed[axis]):
            opening = round_opening_up(clamps.opening_mm, room.plan.units)
            held[opening] = held.get(opening, 0) + clamps.count
    return tuple(Clamps(held[opening], opening, JOINT_SPACING_MM) for opening in sorted(held))


def _pressed_along(fit: JointFit, group: Group, room: Workroom) -> tuple[Axis, ...]:
    """The axes on which a joint is pressed: the group's where it closes that way.

    Fingers are pressed both ways: their ends and their sides lie at right angles.
    """
    axes = room.closing_axes[fit.joint, fit.contact.first, fit.contact.second]
    if fit.kind in CORNERED:
        return tuple(sorted(axes))
    return (group.axis,) if group.axis in axes else (normal_axis(fit),)


def _pressed(fit: JointFit, axis: Axis, boxes: Sequence[Box]) -> Pressed:
    """A joint between the jaws: they reach past all that stands in line behind it."""
    box = _contact_box(fit)
    one, two = (other for other in Axis if other is not axis)
    in_line = [other for other in boxes if _is_in_line(other, box, (one, two))]
    low, high = box.low[axis], box.high[axis]
    for _ in in_line:  # One more is reached each time, at the least, while there is any.
        touching = [o for o in in_line if o.low[axis] <= high and o.high[axis] >= low]
        low = min([low, *(o.low[axis] for o in touching)])
        high = max([high, *(o.high[axis] for o in touching)])
    across = ((box.low[one], box.high[one]), (box.low[two], box.high[two]))
    return Pressed(across, (low, high))


def _is_in_line(other: Box, box: Box, across: Sequence[Axis]) -> bool:
    return all(other.low[a] < box.high[a] and box.low[a] < other.high[a] for a in across)


def at_hand(clamps: Sequence[Clamps]) -> tuple[Clamps, ...]:
    """As many clamps of each opening as a shop has; cauls carry the pressure of the rest along."""
    total = sum(own.count for own in clamps)
    if total <= MOST_CLAMPS:
        return tuple(clamps)
    return tuple(replace(own, count=max(1, own.count * MOST_CLAMPS // total)) for own in clamps)


def _is_clamped(fit: JointFit) -> bool:
    """Tell whether a glued joint needs a clamp: no screws, load or shape of its own hold it."""
    # A round tenon that leans is driven home; no clamp lies along it.
    holds_itself = fit.kind in {"round tenon", "sliding dovetail", "through post"}
    return fit.is_glued and not is_screwed(fit) and not holds_itself


def is_screwed(fit: JointFit) -> bool:
    """Tell whether screws are driven in a joint."""
    return any("screw" in item.kind for item in fit.hardware)


def _contact_box(fit: JointFit) -> Box:
    contact = fit.contact
    low = (Fraction(0), Fraction(0), Fraction(0))
    return contact.frame.box_outward(Box(low, (contact.u_mm, contact.v_mm, contact.n_mm)))


def count_all(clamps: Sequence[Clamps]) -> int:
    """How many clamps there are, of all openings."""
    return sum(own.count for own in clamps)


def clamp_settings(group: Group, room: Workroom) -> tuple[Setting, ...]:
    """Clamps as settings, a pair for each opening, where any are needed."""
    return tuple(
        setting
        for clamps in at_hand(clamps_for(group, room))
        for setting in (
            Setting(name="clamps", value_mm=None, text=str(clamps.count)),
            Setting(name="clamp opening", value_mm=clamps.opening_mm),
        )
    )


def hardware_of(group: Group) -> list[Hardware]:
    """What is bought or cut from rods for the joints that close here, by kind and size."""
    totals: dict[tuple[str, str], Hardware] = {}
    for fit in group.fits:
        for item in fit.hardware:
            key = (item.kind, item.size)
            held = totals.get(key)
            count = item.count + (held.count if held else 0)
            totals[key] = replace(item, count=count)
    return [totals[key] for key in sorted(totals)]


def screws_of(group: Group) -> list[Hardware]:
    """Those that are driven."""
    return [item for item in hardware_of(group) if "screw" in item.kind]


def drives_upwards(group: Group) -> bool:
    """Tell whether the screws that are driven here all go up, so that the work is turned over."""
    ways = [fit.contact.frame.axes[2][Axis.HIGH] for fit in group.fits if is_screwed(fit)]
    return bool(ways) and all(way > 0 for way in ways)


def count_of(count: int, noun: str) -> str:
    """A count with its noun.

    >>> count_of(1, "clamp"), count_of(2, "clamp")
    ('1 clamp', '2 clamps')
    """
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
