"""All copies hold together: none hangs in the air, none stands apart.

What:
    The copies fall into groups that no joint and no `rests on` ties to one another.

Why:
    A part that nothing holds is a joint forgotten or a face that falls short.

Limit:
    One group. A group that does not reach the floor is an error; one that stands on the floor by
    itself is a warning, since a piece may come in two.

Source:
    Common practice, no source: what is not held falls.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checking.records import Check, Voice
from benchleaf.findings import Finding
from benchleaf.frames import Axis
from benchleaf.joinery.records import Joinery
from benchleaf.piece.records import Piece


def find_hanging(joinery: Joinery) -> Iterator[Finding]:
    """Find groups of copies that nothing ties to the rest."""
    voice = Voice(joinery.piece, "K205")
    groups = sorted(_groups(joinery.piece), key=lambda group: -len(group))
    for group in groups[1:]:
        path = f"parts.{voice.part_named(group[0])}"
        marks = ", ".join(group[:6]) + (f" and {len(group) - 6} more" if len(group) > 6 else "")
        if _stands(joinery.piece, group):
            yield voice.warning(
                path,
                f"nothing ties {marks} to the rest of the piece",
                "Name a joint or a `rests on` with what it belongs to, or make it its own plan.",
            )
        else:
            bottom = min(joinery.piece.copies[mark].box.low[Axis.HIGH] for mark in group)
            yield voice.error(
                path,
                f"{marks} {'hangs' if len(group) == 1 else 'hang'} in the air, "
                f"{voice.show(bottom)} up, with nothing to hold it",
                "Needed: a joint or a `rests on` with a part that holds it.",
            )


def _groups(piece: Piece) -> list[list[str]]:
    """Copies tied by the joints' contacts, each group in the piece's order."""
    leader = {mark: mark for mark in piece.copies}

    def find(mark: str) -> str:
        while leader[mark] != mark:
            leader[mark] = leader[leader[mark]]
            mark = leader[mark]
        return mark

    for joint in piece.joints:
        for contact in joint.contacts:
            leader[find(contact.second)] = find(contact.first)
    groups: dict[str, list[str]] = {}
    for mark in piece.copies:
        groups.setdefault(find(mark), []).append(mark)
    return list(groups.values())


def _stands(piece: Piece, group: list[str]) -> bool:
    floor = min(copy.box.low[Axis.HIGH] for copy in piece.copies.values())
    return any(piece.copies[mark].box.low[Axis.HIGH] == floor for mark in group)


CHECK = Check(
    code="K205",
    name="hanging",
    title="All copies hold together: none hangs in the air, none stands apart.",
    run=find_hanging,
)
