"""Trees of cuts as a maker meets them: each piece with a name, each edge with a word.

Takes a CutNode, gives its cuts with the names of the pieces that they part. Must not know stock or
machines.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from benchleaf.cutting.records import CutDirection, CutNode

# chosen: one word for each edge and end of a sheet as it is drawn, on diagrams, tables and steps.
NEAR: Final[Mapping[CutDirection, str]] = MappingProxyType(
    {CutDirection.ACROSS: "left end", CutDirection.ALONG: "near edge"}
)
"""Where a cut in a direction is measured from."""
FAR: Final[Mapping[CutDirection, str]] = MappingProxyType(
    {CutDirection.ACROSS: "right end", CutDirection.ALONG: "far edge"}
)
"""What lies over against it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedCut:
    """A cut, and what the pieces are called that it is made on and that it parts.

    A piece to be cut further is named after the cut that parted it from another: cut 2 gives 2a at
    its near edge or left end, and 2b. A piece that only lost waste keeps its name.
    """

    node: CutNode
    parent: int
    """Number of the cut that made the piece; 0 for the whole sheet, board or rod."""
    source: str
    """Empty for the whole sheet, board or rod, even where its edges are trimmed."""
    first: str | None
    """A blank's label, a piece's name, or empty for the whole; None for waste or nothing."""
    second: str | None


def name_cuts(tree: CutNode) -> tuple[NamedCut, ...]:
    """Name all cuts of a tree, each after the cut that made its piece."""
    found: list[NamedCut] = []
    waiting: list[tuple[CutNode, int, str]] = [(tree, 0, "")]
    while waiting:
        node, parent, source = waiting.pop()
        if node.direction is None:
            continue
        first, second = _names(node, source)
        found.append(NamedCut(node=node, parent=parent, source=source, first=first, second=second))
        if node.second is not None:
            waiting.append((node.second, node.number, second or ""))
        if node.first is not None:
            waiting.append((node.first, node.number, first or ""))
    return tuple(found)


def _names(node: CutNode, source: str) -> tuple[str | None, str | None]:
    kept = [child for child in (node.first, node.second) if holds_blank(child)]

    def name(child: CutNode | None, letter: str) -> str | None:
        if child is None or child not in kept:
            return None
        return child.blank or (f"{node.number}{letter}" if len(kept) > 1 else source)

    return name(node.first, "a"), name(node.second, "b")


def holds_blank(node: CutNode | None) -> bool:
    """Tell whether a piece is, or is cut into, at least one blank."""
    return any(True for _ in labels_in(node))


def labels_in(node: CutNode | None) -> Iterator[str]:
    """Labels of the blanks that a piece is, or is cut into, from its start."""
    waiting = [node]
    while waiting:
        piece = waiting.pop()
        if piece is not None:
            if piece.blank:
                yield piece.blank
            waiting += [piece.second, piece.first]


def renumber(tree: CutNode, numbers: Mapping[int, int]) -> CutNode:
    """Give every cut of a tree another number.

    Args:
        tree: Of one sheet, board or rod.
        numbers: Old number to new, for all cuts.
    """
    first, second = (
        renumber(child, numbers) if child else None for child in (tree.first, tree.second)
    )
    number = numbers[tree.number] if tree.direction is not None else 0
    return replace(tree, number=number, first=first, second=second)
