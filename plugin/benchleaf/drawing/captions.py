"""Words under pictures: which parts they show, by name and mark.

Takes marks of copies and the joinery, gives text. Must not know drawings.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from benchleaf.joinery.records import Joinery
from benchleaf.sequencing.wording import join_marks, join_words, pluralise

# chosen: more names than this make no caption; then the marks alone stand.
_MOST_NAMES: Final = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Caption:
    """What a picture says of itself."""

    title: str
    """Stands under it."""
    description: str
    """For those who cannot see it."""


def name_copies(marks: Iterable[str], joinery: Joinery) -> str:
    """Name copies by their parts, in the plan's order: `legs A1 and A3 and end rail C1`."""
    by_part: dict[str, list[str]] = {part: [] for part in joinery.piece.parts}
    for mark in marks:
        by_part[joinery.copies[mark].part].append(mark)
    held = [(part, found) for part, found in by_part.items() if found]
    if len(held) > _MOST_NAMES:
        return join_marks(mark for _, found in held for mark in found)
    return join_words([f"{_noun(part, len(found))} {join_marks(found)}" for part, found in held])


def _noun(part: str, count: int) -> str:
    return pluralise(part) if count > 1 else part


def write_assembly(
    fresh: Iterable[str], standing: Iterable[str], joinery: Joinery, *, view: str
) -> Caption:
    """Write what goes onto what.

    Args:
        fresh: Marks that are put on.
        standing: Marks of what stands already.
        joinery: For the names.
        view: Words on the view.
    """
    new, old = name_copies(fresh, joinery), name_copies(standing, joinery)
    if not old:
        return Caption(title=f"Put together: {new}, {view}", description=f"Together: {new}.")
    return Caption(
        title=f"Put on: {new}, {view}",
        description=f"Put on in this step: {new}. Standing already, drawn pale: {old}.",
    )


def write_work(
    worked: Iterable[str], beside: Iterable[str], joinery: Joinery, *, view: str
) -> Caption:
    """Write which parts are worked on, and which mate is drawn pale beside them.

    Args:
        worked: Marks of one copy of each part that is worked on.
        beside: Marks of mates.
        joinery: For the names.
        view: Words on the view.
    """
    shown, mates = name_copies(worked, joinery), name_copies(beside, joinery)
    pale = f" Drawn pale, where it meets them: {mates}." if mates else ""
    with_mates = f", with {mates} pale" if mates else ""
    return Caption(
        title=f"Worked on: {shown}{with_mates}, {view}",
        description=f"One of each part that is worked on: {shown}.{pale}",
    )
