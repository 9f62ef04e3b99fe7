"""What blanks are called in titles: by their parts where all are meant, else by their labels.

Takes labels of blanks, gives words. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from benchleaf.sequencing.wording import join_marks, join_words, name_parts, sort_marks
from benchleaf.sequencing.workroom import Workroom

# chosen: a title names three parts at most, as titles of other work do.
_MOST_NAMES: Final = 3


def name_blanks(labels: Iterable[str], room: Workroom) -> str:
    """Blanks by their parts' names: `the seat cleats`, `the layers of the legs`, `layer D2.2`.

    Args:
        labels: Of blanks that belong to copies of parts, at least one.
        room: For the parts and their layers.
    """
    held: dict[str, list[str]] = {}
    for label in sort_marks(labels):
        held.setdefault(room.blanks[label].part, []).append(label)
    parts = [part for part in room.joinery.piece.parts if part in held]
    if len(parts) > _MOST_NAMES:
        marks = [room.joinery.piece.parts[part].mark for part in parts]
        every = [part.mark for part in room.joinery.piece.parts.values()]
        return f"parts {join_marks(marks, every)}"
    return join_words([*_whole(parts, held, room), *_layers(parts, held, room)])


def _whole(
    parts: Sequence[str], held: Mapping[str, Sequence[str]], room: Workroom
) -> Iterator[str]:
    """Blanks that are copies as they come off the saw."""
    for part in parts:
        if not _noun(part, room):
            name = name_parts([(part, len(held[part]))])
            is_all = len(held[part]) == len(_every(part, room))
            yield name if is_all else f"{name} ({join_marks(held[part])})"


def _layers(
    parts: Sequence[str], held: Mapping[str, Sequence[str]], room: Workroom
) -> Iterator[str]:
    """Blanks that are glued up with others: all of a part's first, then single ones."""
    for noun in ("layer", "board"):
        made_up = [part for part in parts if _noun(part, room) == noun]
        whole = [part for part in made_up if len(held[part]) == len(_every(part, room))]
        if whole:
            copies = [{room.blanks[label].copy for label in held[part]} for part in whole]
            counted = zip(whole, map(len, copies), strict=True)
            yield f"the {noun}s of {name_parts(counted)}"
        some = [label for part in made_up if part not in whole for label in held[part]]
        if some:
            yield f"{noun if len(some) == 1 else f'{noun}s'} {join_marks(some, room.labels)}"


def _noun(part: str, room: Workroom) -> str:
    """What a part's blanks are called that are glued together; empty for plain ones."""
    first = next(blank for blank in room.cut_plan.blanks if blank.part == part)
    if first.is_strip:
        return "board"
    return "layer" if room.joinery.piece.parts[part].layers > 1 else ""


def _every(part: str, room: Workroom) -> list[str]:
    return [blank.label for blank in room.cut_plan.blanks if blank.part == part]
