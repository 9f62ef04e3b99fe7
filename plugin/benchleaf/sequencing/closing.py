"""What a group of copies asks for when it is put together: its name, clamps and hardware.

Takes a Group, gives words and numbers. Must not know operations.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import Hardware, JointFit
from benchleaf.sequencing.clamping import Clamps, Rectangle, clamp_joints
from benchleaf.sequencing.gathering import Group
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import join_marks
from benchleaf.sequencing.workroom import Workroom

# chosen: more clamps than this are hard to come by, and to close in time; cauls spread the load.
MOST_CLAMPS: Final = 12
_ONTO: Final = {"Glue": "to", "Screw": "to", "Set": "on", "Dry fit": "to"}


def name_closing(verb: str, group: Group, room: Workroom) -> str:
    """A title for putting a group together: parts by name, or what goes on to what."""
    base, *rest = group.members
    moved = [mark for member in rest for mark in member.copies]
    all_single = all(len(member.copies) == 1 for member in group.members)
    base_parts = {part.name for part, _ in room.parts_among(base.copies)}
    is_mixed = any(part.name in base_parts for part, _ in room.parts_among(moved))
    if len(room.parts_among(group.copies)) <= 3 and (all_single or is_mixed):
        together = {"Glue": "Glue up", "Screw": "Screw together", "Set": "Set up"}
        return f"{together.get(verb, verb)} {room.name_copies(group.copies)}"
    onto = room.name_copies(base.copies) if len(room.parts_among(base.copies)) <= 2 else "the rest"
    if len(room.parts_among(moved)) <= 3:
        return f"{verb} {room.name_copies(moved)} {_ONTO[verb]} {onto}"
    return f"{'Glue up' if verb == 'Glue' else verb} {room.name_copies(group.copies)}"


def name_member(member: Group) -> str:
    """A member as an action names it: by its mark, or as an assembly."""
    if len(member.copies) == 1:
        return member.copies[0]
    # chosen: four marks name an assembly; a larger one is known by its first.
    if len(member.copies) <= 4:
        return f"the assembly of {join_marks(member.copies)}"
    return f"the assembly that holds {member.copies[0]}"


def clamps_for(group: Group, room: Workroom) -> Clamps:
    """Clamps that close a group's glued joints."""
    axis = group.axis if group.axis is not None else Axis.WIDE
    others = [other for other in Axis if other is not axis]
    rectangles: list[Rectangle] = []
    for fit in group.fits:
        if _is_clamped(fit):
            box = _contact_box(fit)
            one, two = ((float(box.low[other]), float(box.high[other])) for other in others)
            rectangles.append((one, two))
    span = room.box_round(group.copies).size[axis]
    return clamp_joints(rectangles, Fraction(span))


def _is_clamped(fit: JointFit) -> bool:
    """Tell whether a glued joint needs a clamp: neither screws nor a shoulder's load close it."""
    has_screws = any("screw" in item.kind for item in fit.hardware)
    return fit.is_glued and not has_screws and fit.kind != "through post"


def _contact_box(fit: JointFit) -> Box:
    contact = fit.contact
    low = (Fraction(0), Fraction(0), Fraction(0))
    return contact.frame.box_outward(Box(low, (contact.u_mm, contact.v_mm, contact.n_mm)))


def count_clamps(clamps: Clamps) -> str:
    """How many clamps; with more than a shop has, cauls carry the pressure along."""
    most = min(clamps.count, MOST_CLAMPS)
    return count_of(most, "clamp")


def clamp_settings(group: Group, room: Workroom) -> tuple[Setting, ...]:
    """Clamps as settings, where any are needed."""
    clamps = clamps_for(group, room)
    if not clamps.count:
        return ()
    return (
        Setting(name="clamps", value_mm=None, text=str(min(clamps.count, MOST_CLAMPS))),
        Setting(name="clamp opening", value_mm=clamps.opening_mm),
    )


def hardware_of(group: Group) -> list[Hardware]:
    """What is bought or cut from rods for the joints that close here, by kind and size."""
    totals: dict[tuple[str, str], Hardware] = {}
    for fit in group.fits:
        for item in fit.hardware:
            key = (item.kind, item.size)
            held = totals.get(key)
            count = item.count + (held.count if held else 0)
            totals[key] = Hardware(
                kind=item.kind,
                size=item.size,
                diameter_mm=item.diameter_mm,
                length_mm=item.length_mm,
                count=count,
            )
    return [totals[key] for key in sorted(totals)]


def screws_of(group: Group) -> list[Hardware]:
    """Those that are driven."""
    return [item for item in hardware_of(group) if "screw" in item.kind]


def count_of(count: int, noun: str) -> str:
    """A count with its noun.

    >>> count_of(1, "clamp"), count_of(2, "clamp")
    ('1 clamp', '2 clamps')
    """
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
