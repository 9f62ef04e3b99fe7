"""What faces are called on copies that stand mirrored: as on the first copy of their part.

Takes marks and the faces that some words name, gives sentences. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from benchleaf.frames import FACES, Axis
from benchleaf.sequencing.wording import join_marks, join_words, sort_marks
from benchleaf.sequencing.workroom import Workroom

_PAIRS = {Axis.WIDE: "left and right", Axis.DEEP: "front and back", Axis.HIGH: "top and bottom"}


def naming_words(marks: Sequence[str], named: Iterable[str], room: Workroom) -> Iterator[str]:
    """Sentences on copies of one part whose own faces differ from where these stand.

    Nothing where all copies stand as the first one does, as far as the named faces tell.

    Args:
        marks: Copies of one part that are worked on.
        named: Faces that the words name, as on the part's first copy.
        room: The workroom.
    """
    copies = [room.joinery.piece.copies[mark] for mark in sort_marks(marks)]
    axes = sorted({FACES[face][0] for face in named})
    swapped: dict[tuple[Axis, ...], list[str]] = {}
    for copy in copies:
        own = tuple(axis for axis in axes if copy.frame.axes[axis][axis] < 0)
        swapped.setdefault(own, []).append(copy.mark)
    if set(swapped) <= {()}:
        return
    first = room.joinery.piece.copies_of(copies[0].part)[0].mark
    image = _image_words(marks, room)
    swaps = _swap_words({own: held for own, held in swapped.items() if own})
    if image or "," in swaps:
        yield f"Faces are named as on {first}{image}."
        yield f"O{swaps[1:]}."
    else:
        yield f"Faces are named as on {first}; {swaps}."


def has_turned_copies(part: str, faces: Iterable[str], room: Workroom) -> bool:
    """Tell whether some copy of a part has one of its own faces where another stands."""
    axes = {FACES[face][0] for face in faces}
    copies = room.joinery.piece.copies_of(part)
    return any(copy.frame.axes[axis][axis] < 0 for copy in copies for axis in axes)


def _swap_words(swapped: dict[tuple[Axis, ...], list[str]]) -> str:
    """Which faces change places on which copies."""
    said: set[Axis] = set()
    clauses = []
    for own in sorted(swapped, key=lambda axes: (len(axes), axes)):
        pairs = join_words([_PAIRS[axis] for axis in own], ", and")
        is_known = len(own) > 1 and set(own) <= said
        words = ("both" if len(own) == 2 else "all three") if is_known else pairs
        verb = " change places" if not said else ""
        said |= set(own)
        clauses.append(f"on {join_marks(swapped[own])} {words}{verb}")
    return ", ".join(clauses)


def _image_words(marks: Sequence[str], room: Workroom) -> str:
    """Which copies come out as mirror images of the drawn one."""
    for shape in room.joinery.shapes:
        turned = [mark for mark in shape.mirrored if mark in marks]
        if turned:
            image = "its mirror image" if len(turned) == 1 else "its mirror images"
            return f"; mark {join_marks(turned)} as {image}"
    return ""
