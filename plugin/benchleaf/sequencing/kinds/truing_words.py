"""What is said of bringing rough blanks to size.

Takes a size and marks, gives sentences. Must not know drafts or facts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from benchleaf.sequencing.saw_limits import (
    CrossSaw,
    deepest_mm,
    deepest_rip_mm,
    say_stop,
    try_blade_mm,
)
from benchleaf.sequencing.wording import join_marks, spread
from benchleaf.sequencing.workroom import Workroom


def thickness_words(final: Fraction, marks: Sequence[str], room: Workroom) -> Iterator[str]:
    """Resawing to thickness."""
    yield f"Set a tall fence {room.say.length(final)} from the blade, with featherboards."
    yield from spread("On edge, best face to the fence, rip", marks)
    yield "Where the blade does not reach through, turn the piece over and rip again."


def width_words(final: Fraction, marks: Sequence[str], room: Workroom) -> Iterator[str]:
    """Ripping to width, from an edge that is made true first."""
    yield from _face_edge_words(marks, room)
    yield f"Set the fence {room.say.length(final)} from the blade."
    thick = room.rough_and_final_mm(marks[0])[2][1]
    if thick > deepest_rip_mm(room.shop):
        yield "Set the blade to just over half the thickness, and saw from both faces."
    elif thick > try_blade_mm(room.shop):
        shown = room.say.length(thick)
        yield f"Raise the blade fully, and check at a piece's end that it reaches through {shown}."
    yield from spread("Rip", marks, "with the face edge against the fence")


def hand_width_words(final: Fraction, marks: Sequence[str], room: Workroom) -> Iterator[str]:
    """Planing to width what is too short for the saw."""
    yield from _face_edge_words(marks, room)
    yield f"Gauge a line {room.say.length(final)} from the face edge, on both faces."
    short = "it is" if len(marks) == 1 else "they are"
    yield from spread("Plane", marks, f"down to the lines; {short} too short for the saw")


def _face_edge_words(marks: Sequence[str], room: Workroom) -> Iterator[str]:
    each = "of each piece" if len(marks) > 1 else f"of {marks[0]}"
    if any(len(room.blanks_of(mark)) > 1 for mark in marks):
        yield f"Scrape the hard glue off one long edge {each}."
        yield f"Plane that edge straight, and square to the face{_where(marks, room)}."
    else:
        yield f"Plane one long edge {each} straight, and square to the face{_where(marks, room)}."
    yield "Mark it as the face edge."


def goes_over_jointer(marks: Sequence[str], room: Workroom) -> bool:
    """Tell whether edges are planed at the shop's jointer: not those of panels, which dull it."""
    material = room.material_of(room.part_of(marks[0]).stock)
    is_panel = material is not None and material.group == "panel"
    thick = room.rough_and_final_mm(marks[0])[2][0]
    jointer = room.shop.jointer
    return jointer is not None and thick <= jointer.wide_mm and not is_panel


def _where(marks: Sequence[str], room: Workroom) -> str:
    return ", at the jointer" if goes_over_jointer(marks, room) else ""


def length_words(
    saw: CrossSaw, final: Fraction, marks: Sequence[str], room: Workroom
) -> Iterator[str]:
    """Cutting to length, one end squared, then all from it; and what is cut, marked for good."""
    yield from _cut_words(saw, final, marks, room=room)
    # Planing and sawing have taken off what was written on the blanks.
    them, show = ("them", "the labels show") if len(marks) > 1 else ("it", "its label shows")
    yield f"Mark {them} {join_marks(marks)}, as {show}."


def _cut_words(
    saw: CrossSaw, final: Fraction, marks: Sequence[str], *, room: Workroom
) -> Iterator[str]:
    size = room.say.length(final)
    thick = room.rough_and_final_mm(marks[0])[2][1]
    if saw is CrossSaw.CIRCULAR:
        yield from _guided_words(size, marks)
        return
    if thick > deepest_mm(saw, room.shop):
        yield "Set the blade to just over half the thickness: every cut is made from both faces."
    where = "sled" if saw is CrossSaw.SLED else "mitre saw"
    yield from spread(
        "Square one end of", marks, f"on the {where}, taking off as little as cleans it"
    )
    yield say_stop(saw, final, size)
    yield from spread("Cut", marks, "to length, squared end against the stop")


def _guided_words(size: str, marks: Sequence[str]) -> Iterator[str]:
    """With a hand-held saw, which runs along a guide clamped to the work."""
    turn = "in turn" if len(marks) > 1 else ""
    yield from spread("Clamp a guide square across one end of", marks, turn)
    yield "Saw along it, taking off as little as cleans the end."
    yield f"Mark {size} from that end, at both edges, and clamp the guide to the marks."
    yield from spread("Saw", marks, "to length, the blade on the waste side")


def check_words(size_of: str, size: str, count: int) -> str:
    """The check that closes an operation.

    Args:
        size_of: `thickness`, `width` or `length`.
        size: What was set.
        count: Pieces brought to it.
    """
    if size_of == "thickness":
        return f"Both ends measure {size} thick."
    if size_of == "width":
        return f"Both ends measure {size}; a try square fits both edges."
    if count > 1:
        return "Stood side by side, the pieces show no step."
    return f"It measures {size} along both edges."
