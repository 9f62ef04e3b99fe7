"""Operations that mark joints out on the wood: on which face, from which face, how far.

Takes the numbers that joint families give, gives drafts, one or more for each part. Must not know
how the joints are cut.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.frames import direction_name, scale
from benchleaf.joinery.corner import KEYED
from benchleaf.joinery.records import JointFit, SettingOut
from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    Work,
    copy_set_out,
    copy_sized,
    draft,
)
from benchleaf.sequencing.facing import naming_words
from benchleaf.sequencing.jointwork import end_face, opening_face
from benchleaf.sequencing.line_words import (
    ROUND,
    Block,
    Line,
    marks_of,
    name_face,
    write_blocks,
)
from benchleaf.sequencing.stating import state_copies
from benchleaf.sequencing.wording import join_words, make_slug, sort_marks
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
# chosen: what a page shows besides what faces are called.
_MOST_ACTIONS: Final = 9
# How lines begin that are no marks on the wood but how deep a tool goes.
_DEPTH: Final = "depth"
# Cuts at the end of a board whose lines begin on it.
_ON_ENDS: Final = frozenset({"bridle slot", "finger socket", "pin socket", "tail socket"})
# `near wall of the housing`, `centre of dowel 1`, `shoulder line, from the end of the tenon`
_WHAT: Final = re.compile(r"(?:(near|far) )?(.*?)(?: [0-9]+)?(?:, from .*)?")


@dataclass(frozen=True, slots=True)
class _Place:
    """What is marked, on which own face, measured from which."""

    joint: int
    face: str
    what: str
    reference: str


_Marked = dict[tuple[Fraction, str, str], dict[str, list[tuple[int, int]]]]
"""(distance, `near` or `far` or empty, aid) to the marks it holds for, with their own lines."""


def plan_setting_out(room: Workroom) -> Iterator[Draft]:
    """Plan the marking out of every part's joints."""
    held: dict[str, dict[_Place, _Marked]] = {}
    for index, fit in enumerate(room.joinery.fits):
        for number, out in enumerate(fit.setting_out):
            if out.what.startswith(_DEPTH) or out.spacer == KEYED:
                continue  # A stop or a key sets it; the operation that cuts says so.
            side, what = _take_apart(out.what)
            place = _Place(fit.joint, marked_face(out, fit, room), what, out.reference)
            marked = held.setdefault(room.copy(out.copy).part, {}).setdefault(place, {})
            own = marked.setdefault((out.distance_mm, side, out.spacer), {})
            own.setdefault(out.copy, []).append((index, number))
    for part in room.joinery.piece.parts:
        if part in held:
            lines = [line for place, own in held[part].items() for line in _lines(place, own)]
            yield from _set_out(part, lines, room)


def _take_apart(what: str) -> tuple[str, str]:
    """`near` or `far`, and what is marked without its number."""
    match = _WHAT.fullmatch(what)
    return (match[1] or "", match[2]) if match else ("", what)


def marked_face(out: SettingOut, fit: JointFit, room: Workroom) -> str:
    """The own face of a copy on which a line is marked: one that the cut opens to.

    Empty for a line that runs round the copy.
    """
    if out.what.startswith(ROUND):
        return ""
    is_first = fit.contact.first == out.copy
    mate = fit.contact.second if is_first else fit.contact.first
    frame = room.joinery.piece.copies[out.copy].frame
    normal = scale(fit.contact.frame.axes[2], 1 if is_first else -1)
    toward = direction_name(frame.inward_direction(normal))
    work = room.work_at(out.copy, mate, fit.joint)
    if work and work[0].feature.role in _ON_ENDS:
        return end_face(work[0]) or toward
    if not work:
        return toward
    # A joint may open to several faces: a line is marked on that of the cut it names.
    own = next((piece for piece in work if piece.feature.role in out.what), work[0])
    return opening_face(own, toward)


def _lines(place: _Place, marked: _Marked) -> Iterator[Line]:
    alike: dict[tuple[str, ...], list[tuple[Fraction, str, str]]] = {}
    for one, held in marked.items():
        alike.setdefault(sort_marks(held), []).append(one)
    for marks, ones in alike.items():
        yield Line(
            joint=place.joint,
            face=place.face,
            what=place.what,
            is_both={side for _, side, _ in ones} == {"near", "far"},
            reference=place.reference,
            marks=marks,
            distances=tuple(sorted({distance for distance, _, _ in ones})),
            aids=tuple(sorted({aid for _, _, aid in ones if aid})),
            own=tuple(line for one in ones for held in marked[one].values() for line in held),
        )


def _set_out(part: str, lines: Sequence[Line], room: Workroom) -> Iterator[Draft]:
    joints = {line.joint for line in lines}
    mates = {joint: room.name_copies(_mates(part, joint, room)) for joint in joints}
    own = room.joinery.piece.parts[part]
    pages = _pages(write_blocks(lines, own, mates, room.say))
    for number, blocks in enumerate(pages, start=1):
        yield _page(part, blocks, room, number=number if len(pages) > 1 else 0)


def _page(part: str, blocks: Sequence[Block], room: Workroom, *, number: int) -> Draft:
    lines = [line for block in blocks for line in block.lines]
    joints = sorted({line.joint for line in lines})
    marks = marks_of(blocks)
    actions = [action for block in blocks for action in block.actions]
    named = {face for block in blocks for face in block.faces}
    return draft(
        SET_OUT,
        Work(
            id=make_slug(f"set-out {part} {number or ''}"),
            title=_title(
                part, joints, marks, room, faces=_faces(blocks, room, part) if number else ""
            ),
            copies=marks,
            actions=[*naming_words(marks, named, room), *actions],
            check=_check(marks),
            facts=state_copies(marks, room),
            takes=map(copy_sized, marks),
            gives=[copy_set_out(mark, joint) for mark in marks for joint in joints],
            pieces=len(lines) * len(marks),
            joints=joints,
            lines=[own for block in blocks for own in block.own],
        ),
    )


def _mates(part: str, joint: int, room: Workroom) -> list[str]:
    chosen = room.joinery.piece.joints[joint]
    mate = chosen.second if chosen.first == part else chosen.first
    return [copy.mark for copy in room.joinery.piece.copies_of(mate)]


def _faces(blocks: Sequence[Block], room: Workroom, part: str) -> str:
    """The faces that a page marks, to tell it from the part's other pages."""
    own = room.joinery.piece.parts[part]
    names = [f"the {name_face(face, own)}" for block in blocks for face in block.marked if face]
    if any(not face for block in blocks for face in block.marked):
        names = ["the shoulder lines", *names]
    return join_words(list(dict.fromkeys(names)))


def _title(
    part: str, joints: Sequence[int], marks: Sequence[str], room: Workroom, *, faces: str
) -> str:
    title = f"Set out {room.name_copies(marks)}"
    if len(joints) > 1:
        return f"{title}: {faces}" if faces else title
    return f"{title} for {room.name_copies(_mates(part, joints[0], room))}"


def _pages(blocks: Sequence[Block]) -> list[list[Block]]:
    """Blocks put together as long as they fit on a page."""
    pages: list[list[Block]] = []
    for block in blocks:
        count = sum(len(own.actions) for own in pages[-1]) if pages else 0
        if pages and count + len(block.actions) <= _MOST_ACTIONS:
            pages[-1].append(block)
        else:
            pages.append([block])
    return pages


def _check(marks: Sequence[str]) -> str:
    if len(marks) == 1:
        return "Every line is where the drawing of the part has it."
    return "Laid side by side, as they stand in the piece, the copies' lines agree."


PLANNER: Final = Planner(kinds=(SET_OUT,), plan=plan_setting_out)
