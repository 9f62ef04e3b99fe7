"""Lines on the wood in words: what is marked, on which face, how far from which.

Takes the lines of one part, gives blocks of sentences, face by face. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import groupby
from typing import Final

from benchleaf.frames import FACES
from benchleaf.piece.records import Part
from benchleaf.sequencing.wording import (
    MOST_WORDS,
    Say,
    count_words,
    join_marks,
    join_words,
    sort_marks,
)

# Lines that run round a part rather than on the face where the mate comes.
ROUND: Final = "shoulder line"
# How an aid begins that belongs to one line alone.
_GAUGE: Final = "gauge set"
_SPACER: Final = ", with a "
# chosen: lines under one heading that are still followed with a finger.
_MOST_LINES: Final = 8
# Fewer distances than these are said in one go, however long their names are.
_FEWEST_TO_PART: Final = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One sentence's worth: the same distances on the same copies."""

    joint: int
    face: str
    """Own face that it is marked on; empty for a line that runs round."""
    what: str
    """`centre of dowel`, `wall of the housing`; without its number, near and far."""
    is_both: bool
    """Tells whether the distances are those of a near and a far side."""
    reference: str
    marks: tuple[str, ...]
    distances: tuple[Fraction, ...]
    aids: tuple[str, ...]
    own: tuple[tuple[int, int], ...] = field(default=(), compare=False)
    """(fitted joint, index in its setting out) of all that it stands for."""


@dataclass(frozen=True, slots=True)
class Block:
    """Lines under one heading."""

    lines: tuple[Line, ...]
    actions: tuple[str, ...]
    faces: frozenset[str]
    """Own faces that the actions name, but those that their opposite would do for as well."""
    own: tuple[tuple[int, int], ...]
    """(fitted joint, index in its setting out) of all that the actions mark."""
    marked: tuple[str, ...]
    """Own faces that are marked; empty for a line that runs round."""


def write_blocks(
    lines: Sequence[Line], part: Part, mates: Mapping[int, str], say: Say
) -> list[Block]:
    """Sentences face by face; faces that are marked alike stand under one heading.

    Args:
        lines: All lines of a part.
        part: The part.
        mates: What each joint is for, by its index: `the long rails`.
        say: Wording in the plan's units.
    """
    ordered = sorted(lines, key=_place_of)
    faces: dict[tuple[Line, ...], list[str]] = {}
    own: dict[tuple[Line, ...], list[tuple[int, int]]] = {}
    for (face, _), run in groupby(ordered, key=lambda line: (line.face, line.marks)):
        alike = tuple(replace(line, face="") for line in run)
        for start in range(0, len(alike), _MOST_LINES):
            page = alike[start : start + _MOST_LINES]
            faces.setdefault(page, []).append(face)
            own.setdefault(page, []).extend(one for line in page for one in line.own)
    is_of_one = len({line.joint for line in lines}) == 1
    blocks = []
    for held, names in faces.items():
        where = join_words([name_face(name, part) for name in names if name], ", then the")
        on = f"the {where} of " if where else ""
        actions = _face_words(held, on, {} if is_of_one else mates, say)
        told_apart = (line.reference for line in held if not _is_even(line, part))
        named = {*names, *told_apart} - {""}
        blocks.append(Block(held, tuple(actions), frozenset(named), tuple(own[held]), tuple(names)))
    return blocks


def _place_of(line: Line) -> tuple[str, int, tuple[str, ...], int, str]:
    return (line.face, -len(line.marks), line.marks, line.joint, line.reference)


def _is_even(line: Line, part: Part) -> bool:
    """Tell whether distances come out the same from the opposite face."""
    size = part.box.size[FACES[line.reference][0]]
    return {size - distance for distance in line.distances} == set(line.distances)


def name_face(face: str, part: Part) -> str:
    """A face, edge or end of a part by its name: `left edge`."""
    axis, _ = FACES[face]
    noun = "end" if axis is part.grain_axis else "face" if axis is part.thickness_axis else "edge"
    return f"{face} {noun}"


def _face_words(
    lines: Sequence[Line], where: str, mates: Mapping[int, str], say: Say
) -> Iterator[str]:
    on = f"{where}{join_marks(lines[0].marks)}"
    one = f"On {on}, mark {_mark_words(lines[0], '', say)}"
    if len(lines) == 1 and count_words(one) <= MOST_WORDS:
        yield one
    else:
        yield f"Turn up {on}." if where else f"Take {on}."
        for line in lines:
            yield from _long_words(line, mates.get(line.joint, ""), say)
    for aid in dict.fromkeys(aid for line in lines for aid in line.aids):
        # A gauge set to the distance itself needs no words; one with a spacer does.
        if aid.startswith(_GAUGE) and _SPACER in aid:
            yield f"Use a {aid}."


def _long_words(line: Line, mates: str, say: Say) -> Iterator[str]:
    """One sentence, or several where the distances are too many for one."""
    words = f"Mark {_mark_words(line, mates, say)}"
    if count_words(words) <= MOST_WORDS or len(line.distances) < _FEWEST_TO_PART:
        yield words
        return
    # A near and a far side stay together.
    half = (len(line.distances) + 2) // 4 * 2
    for run in (line.distances[:half], line.distances[half:]):
        yield from _long_words(replace(line, distances=run), mates, say)


def _mark_words(line: Line, mates: str, say: Say) -> str:
    distances = f"{say.lengths(line.distances)} from the {line.reference}."
    if line.what.startswith(ROUND):
        return f"the shoulder line all round, on every side, {distances}"
    what = _name_lines(line)
    words = f"{what} for {mates}, {distances}" if mates else f"{what}, {distances}"
    return words if count_words(words) < MOST_WORDS else f"{what}, {distances}"


def _name_lines(line: Line) -> str:
    """What is marked, as many of it as there are.

    A wall alone is `the wall of the housing`; a near and a far one `both walls of the housing`.
    """
    head, _, tail = line.what.partition(" of ")
    tail = tail.removeprefix("the ")
    count = len(line.distances) // (2 if line.is_both else 1)
    if not tail:
        return f"both {head}s" if line.is_both else f"{'each' if count > 1 else 'the'} {head}"
    if line.is_both:
        return f"both {head}s of {'each' if count > 1 else 'the'} {tail}"
    if tail.endswith("s"):
        return f"{'each' if count > 1 else 'the'} {head} of the {tail}"
    return f"the {head} of {'each' if count > 1 else 'the'} {tail}"


def marks_of(blocks: Sequence[Block]) -> tuple[str, ...]:
    """Marks of all copies that some blocks mark."""
    return sort_marks(mark for block in blocks for line in block.lines for mark in line.marks)
