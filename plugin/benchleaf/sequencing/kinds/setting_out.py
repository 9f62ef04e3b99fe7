"""Operations that mark joints out on the wood: from which face, how far, what is there.

Takes the numbers that joint families give, gives drafts, one for each part and joint. Must not know
how the joints are cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    Work,
    copy_set_out,
    copy_sized,
    draft,
)
from benchleaf.sequencing.wording import (
    MOST_WORDS,
    capitalise,
    count_words,
    join_marks,
    make_slug,
    sort_marks,
)
from benchleaf.sequencing.workroom import Workroom

SET_OUT: Final = OperationKind(
    code="set-out",
    phase="joints",
    family="setting out",
    tool="marking knife",
    minutes=5,
    minutes_each=1,
    says={"op.makes_lines": True},
)
_Line = tuple[str, str, Fraction, str]
"""What, reference face, distance, spacer."""
# chosen: a page shows at most nine actions.
_MOST_LINES: Final = 8
# How an aid begins that belongs to one line alone.
_GAUGE: Final = "gauge set"


def plan_setting_out(room: Workroom) -> Iterator[Draft]:
    """Plan the marking out of every part's joints."""
    lines: dict[tuple[str, int], dict[_Line, list[str]]] = {}
    for fit in room.joinery.fits:
        for out in fit.setting_out:
            part = room.copy(out.copy).part
            line = (out.what, out.reference, out.distance_mm, out.spacer)
            held = lines.setdefault((part, fit.joint), {}).setdefault(line, [])
            if out.copy not in held:
                held.append(out.copy)
    order = list(room.joinery.piece.parts)
    for part, joint in sorted(lines, key=lambda key: (order.index(key[0]), key[1])):
        yield from _set_out(part, joint, lines[part, joint], room)


def _set_out(
    part: str, joint: int, lines: dict[_Line, list[str]], room: Workroom
) -> Iterator[Draft]:
    ordered = sorted(lines, key=lambda line: (line[1], line[2], line[0]))
    chosen = room.joinery.piece.joints[joint]
    mate = chosen.second if chosen.first == part else chosen.first
    marks = sort_marks(mark for held in lines.values() for mark in held)
    parts = [ordered[i : i + _MOST_LINES] for i in range(0, len(ordered), _MOST_LINES)]
    for number, some in enumerate(parts, start=1):
        again = f", part {number}" if len(parts) > 1 else ""
        title = f"Set out {room.name_copies(marks)} for {mate}{again}"
        yield draft(
            SET_OUT,
            Work(
                id=make_slug(f"set-out {part} {joint} {number if len(parts) > 1 else ''}"),
                title=title,
                copies=marks,
                actions=[
                    *(action for line in some for action in _words(line, lines[line], room)),
                    *_shared_aids(some),
                ],
                check=_check(marks),
                facts={"stock.length_mm": min(room.copy(m).blank.size[0] for m in marks)},
                takes=map(copy_sized, marks),
                gives=map(copy_set_out, marks),
                pieces=len(some) * len(marks),
                joints=(joint,),
            ),
        )


def _check(marks: Sequence[str]) -> str:
    if len(marks) == 1:
        return "Every line is where the drawing of the part has it."
    return "Laid side by side, as they stand in the piece, the copies' lines agree."


def _words(line: _Line, marks: list[str], room: Workroom) -> Iterator[str]:
    what, reference, distance, spacer = line
    on = join_marks(marks)
    size = room.say.length(distance)
    sentence = f"On {on}, mark the {what}, {size} from the {reference}."
    if count_words(sentence) > MOST_WORDS:
        sentence = f"Mark the {what}, {size} from the {reference}."
        yield f"Take {on}."
    yield sentence
    if spacer.startswith(_GAUGE):
        yield f"Use a {spacer}."


def _shared_aids(lines: Sequence[_Line]) -> Iterator[str]:
    """Aids that hold for several lines, said once."""
    aids = [spacer for _, _, _, spacer in lines if spacer and not spacer.startswith(_GAUGE)]
    for aid in dict.fromkeys(aids):
        yield f"{capitalise(aid)}."


PLANNER: Final = Planner(kinds=(SET_OUT,), plan=plan_setting_out)
