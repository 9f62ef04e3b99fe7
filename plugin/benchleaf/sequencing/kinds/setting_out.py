"""Operations that mark joints out on the wood: on which face, from which face, how far.

Takes the numbers that joint families give, gives drafts, one for each part and joint. Must not know
how the joints are cut.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby
from typing import Final

from benchleaf.frames import FACES, direction_name, scale
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
from benchleaf.sequencing.jointwork import opening_face
from benchleaf.sequencing.stating import state_copies
from benchleaf.sequencing.wording import (
    MOST_WORDS,
    capitalise,
    count_words,
    join_marks,
    join_words,
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
# chosen: a page shows some nine actions.
_MOST_ACTIONS: Final = 9
# How an aid begins that belongs to one line alone.
_GAUGE: Final = "gauge set"
_SPACER: Final = ", with a "
# How an aid begins that serves several lines.
_SHARED: Final = "one "
# How lines begin that are no marks on the wood but how deep a tool goes.
_DEPTH: Final = "depth"
# Lines that run round a part rather than on the face where the mate comes.
_ROUND: Final = "shoulder line"
_NUMBER: Final = re.compile(r" [0-9]+$")


@dataclass(frozen=True, slots=True)
class _Place:
    """What is marked, on which own face, measured from which."""

    face: str
    what: str
    is_numbered: bool
    reference: str


_Marked = dict[tuple[Fraction, str], list[str]]
"""(distance, aid) to the marks it holds for."""


def plan_setting_out(room: Workroom) -> Iterator[Draft]:
    """Plan the marking out of every part's joints."""
    held: dict[tuple[str, int], dict[_Place, _Marked]] = {}
    for fit in room.joinery.fits:
        for out in fit.setting_out:
            if out.what.startswith(_DEPTH):
                continue  # A stop sets it; the operation that cuts says so.
            key = (room.copy(out.copy).part, fit.joint)
            place = _place(out, fit, room)
            marks = held.setdefault(key, {}).setdefault(place, {})
            own = marks.setdefault((out.distance_mm, out.spacer), [])
            if out.copy not in own:
                own.append(out.copy)
    order = list(room.joinery.piece.parts)
    for part, joint in sorted(held, key=lambda key: (order.index(key[0]), key[1])):
        yield from _set_out(part, joint, held[part, joint], room)


def marked_face(out: SettingOut, fit: JointFit, room: Workroom) -> str:
    """The own face of a copy on which a line is marked: one that the cut opens to.

    Empty for a line that runs round the copy.
    """
    if out.what.startswith(_ROUND):
        return ""
    is_first = fit.contact.first == out.copy
    mate = fit.contact.second if is_first else fit.contact.first
    frame = room.joinery.piece.copies[out.copy].frame
    normal = scale(fit.contact.frame.axes[2], 1 if is_first else -1)
    toward = direction_name(frame.inward_direction(normal))
    work = room.work_at(out.copy, mate, fit.joint)
    return opening_face(work[0], toward) if work else toward


def _place(out: SettingOut, fit: JointFit, room: Workroom) -> _Place:
    what = _NUMBER.sub("", out.what)
    return _Place(
        face=marked_face(out, fit, room),
        what=what,
        is_numbered=what != out.what,
        reference=out.reference,
    )


@dataclass(frozen=True, slots=True)
class _Line:
    """One sentence's worth: the same distances on the same copies."""

    place: _Place
    marks: tuple[str, ...]
    distances: tuple[Fraction, ...]
    aids: tuple[str, ...]


def _lines(places: Mapping[_Place, _Marked]) -> list[_Line]:
    found = []
    for place, marked in places.items():
        alike: dict[tuple[str, ...], list[tuple[Fraction, str]]] = {}
        for (distance, aid), marks in marked.items():
            alike.setdefault(sort_marks(marks), []).append((distance, aid))
        for held, pairs in alike.items():
            distances = tuple(sorted({distance for distance, _ in pairs}))
            aids = tuple(sorted({aid for _, aid in pairs if aid}))
            found.append(_Line(place, held, distances, aids))
    return sorted(
        found, key=lambda line: (line.place.face, line.marks, line.place.reference, line.distances)
    )


def _set_out(
    part: str, joint: int, places: Mapping[_Place, _Marked], room: Workroom
) -> Iterator[Draft]:
    lines = _lines(places)
    chosen = room.joinery.piece.joints[joint]
    mate = chosen.second if chosen.first == part else chosen.first
    mates = [copy.mark for copy in room.joinery.piece.copies_of(mate)]
    marks = sort_marks(mark for line in lines for mark in line.marks)
    pages = _pages(_blocks(lines, part, room))
    for number, actions in enumerate(pages, start=1):
        again = f", part {number}" if len(pages) > 1 else ""
        aids = _shared_aids(lines) if number == len(pages) else ()
        yield draft(
            SET_OUT,
            Work(
                id=make_slug(f"set-out {part} {joint} {number if len(pages) > 1 else ''}"),
                title=f"Set out {room.name_copies(marks)} for {room.name_copies(mates)}{again}",
                copies=marks,
                actions=[*_mirror_words(part, marks, room), *actions, *aids],
                check=_check(marks),
                facts=state_copies(marks, room),
                takes=map(copy_sized, marks),
                gives=[copy_set_out(mark, joint) for mark in marks],
                pieces=len(actions) * len(marks),
                joints=(joint,),
            ),
        )


def _pages(blocks: Sequence[list[str]]) -> list[list[str]]:
    """Blocks of actions put together as long as they fit on a page."""
    pages: list[list[str]] = []
    for block in blocks:
        if pages and len(pages[-1]) + len(block) <= _MOST_ACTIONS:
            pages[-1] += block
        else:
            pages.append(list(block))
    return pages


def _mirror_words(part: str, marks: Sequence[str], room: Workroom) -> Iterator[str]:
    """Where copies are not all alike, which of them are mirror images of the first."""
    for shape in room.joinery.shapes:
        turned = [mark for mark in shape.mirrored if mark in marks]
        if shape.part == part and turned:
            first = shape.drawn.mark
            mirrored = join_marks(turned)
            yield f"Faces are named as on {first}: mark {mirrored} as its mirror {_image(turned)}."


def _image(turned: Sequence[str]) -> str:
    return "image" if len(turned) == 1 else "images"


def _check(marks: Sequence[str]) -> str:
    if len(marks) == 1:
        return "Every line is where the drawing of the part has it."
    return "Laid side by side, as they stand in the piece, the copies' lines agree."


def _blocks(lines: Sequence[_Line], part: str, room: Workroom) -> list[list[str]]:
    """Actions face by face, faces that are marked alike under one heading."""
    faces: dict[tuple[tuple[str, ...], tuple[_Line, ...]], list[str]] = {}
    for (face, marks), run in groupby(lines, key=lambda line: (line.place.face, line.marks)):
        alike = tuple(replace(line, place=replace(line.place, face="")) for line in run)
        faces.setdefault((marks, alike), []).append(face)
    blocks = []
    for (marks, alike), names in faces.items():
        where = join_words([_name_face(name, part, room) for name in names if name], ", then the")
        on = f"the {where} of " if where else ""
        blocks.append(list(_face_words(alike, on, marks, room)))
    return blocks


def _face_words(
    lines: Sequence[_Line], where: str, marks: Sequence[str], room: Workroom
) -> Iterator[str]:
    on = f"{where}{join_marks(marks)}"
    one = f"On {on}, mark {_mark_words(lines[0], room)}"
    if len(lines) == 1 and count_words(one) <= MOST_WORDS:
        yield one
    else:
        yield f"Turn up {on}." if where else f"Take {on}."
        for line in lines:
            yield f"Mark {_mark_words(line, room)}"
    for line in lines:
        for aid in line.aids:
            # A gauge set to the distance itself needs no words; one with a spacer does.
            if aid.startswith(_GAUGE) and _SPACER in aid:
                yield f"Use a {aid}."


def _mark_words(line: _Line, room: Workroom) -> str:
    what = f"the {line.place.what}"
    if len(line.distances) > 1:
        head, of, tail = what.rpartition(" of ")
        what = f"{head}{of}each {tail.removeprefix('the ')}" if of else what
    return f"{what}, {room.say.lengths(line.distances)} from the {line.place.reference}."


def _name_face(face: str, part: str, room: Workroom) -> str:
    own = room.joinery.piece.parts[part]
    axis, _ = FACES[face]
    noun = "end" if axis is own.grain_axis else "face" if axis is own.thickness_axis else "edge"
    return f"{face} {noun}"


def _shared_aids(lines: Sequence[_Line]) -> Iterator[str]:
    """Aids that hold for several lines, said once."""
    aids = [aid for line in lines for aid in line.aids if aid.startswith(_SHARED)]
    for aid in dict.fromkeys(aids):
        yield f"{capitalise(aid)}."


PLANNER: Final = Planner(kinds=(SET_OUT,), plan=plan_setting_out)
