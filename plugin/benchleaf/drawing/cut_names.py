"""Names on a sheet of stock: its left end and near edge, and the pieces that its cuts part.

Takes cuts with the lines that they are drawn as, gives marks; a name that finds no room is left
out. Must not know stock or blanks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final

from benchleaf.cutting.records import CutDirection, CutNode
from benchleaf.cutting.trees import NEAR, name_cuts
from benchleaf.drawing.clearance import Clearance, Rectangle, box_of_text
from benchleaf.drawing.page import CAPTION_HEIGHT
from benchleaf.drawing.scene import Line, Mark, Point, Role, Text

# chosen: between the numbers of cuts that run out of the sheet and its dimensions.
_SIDE_OUT_MM: Final = 5.2
# chosen: letters and their descenders clear of the saw cut beside which they stand.
_FROM_CUT_MM: Final = 1.6
_MARGIN_MM: Final = 0.25
_SHARES: Final = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88, 0.06, 0.94)


def name_sides(outline: Rectangle) -> Iterator[Mark]:
    """The words that tables and steps measure from, off the sheet's corner.

    Args:
        outline: The sheet as drawn.
    """
    wide, high = outline.right - outline.left, outline.bottom - outline.top
    across, along = NEAR[CutDirection.ACROSS], NEAR[CutDirection.ALONG]
    yield _text(across, (outline.left - _SIDE_OUT_MM, outline.bottom - high / 4), turn_deg=-90.0)
    yield _text(along, (outline.left + wide / 4, outline.bottom + _SIDE_OUT_MM))


def _text(words: str, at: Point, turn_deg: float = 0.0) -> Text:
    return Text(at=at, text=words, height=CAPTION_HEIGHT, turn_deg=turn_deg, halo=False)


def name_pieces(
    tree: CutNode,
    line_of: Callable[[CutNode], tuple[Point, Point]],
    taken: Clearance,
    *,
    outline: Rectangle,
    waste: Sequence[Rectangle],
) -> Iterator[Text]:
    """Names of the pieces that are cut further, each beside the cut that parted it.

    Args:
        tree: Of one sheet.
        line_of: Where a cut is drawn.
        taken: Words and numbers on the sheet; the names are added to it.
        outline: The sheet as drawn.
        waste: Hatched places, where no name stands.
    """
    cuts = name_cuts(tree)
    lines = [line_of(cut.node) for cut in cuts]
    crossed = Clearance(Line(points=line, role=Role.CUT) for line in lines)
    for cut, line in zip(cuts, lines, strict=True):
        for child, name, side in (
            (cut.node.first, cut.first, -1),
            (cut.node.second, cut.second, 1),
        ):
            if child is None or child.blank or not name or name == cut.source:
                continue
            if side > 0 and _goes_on(cut.node, child):
                continue
            for text in _beside(line, name, side):
                box = box_of_text(text)
                is_plain = outline.grown(-_MARGIN_MM).holds(box) and crossed.is_free(box)
                is_free = taken.is_free(box, _MARGIN_MM)
                if is_plain and is_free and not any(map(box.overlaps, waste)):
                    taken.take([text])
                    yield text
                    break


def _goes_on(node: CutNode, rest: CutNode) -> bool:
    """Tell whether what a cut leaves is cut next at the same setting: nobody speaks of it then."""
    same = (node.direction, node.at_mm) == (rest.direction, rest.at_mm)
    return same and rest.number == node.number + 1


def _beside(line: tuple[Point, Point], name: str, side: int) -> Iterator[Text]:
    """Places for a name on one side of a cut: -1 at its near edge or left end, 1 beyond it."""
    (x0, y0), (x1, y1) = line
    for share in _SHARES:
        x, y = x0 + (x1 - x0) * share, y0 + (y1 - y0) * share
        if y0 == y1:
            # Near is down on paper.
            yield _name(name, (x, y - side * _FROM_CUT_MM), "middle")
        else:
            yield _name(name, (x + side * _FROM_CUT_MM / 2, y), "start" if side > 0 else "end")


def _name(words: str, at: Point, anchor: str) -> Text:
    return Text(at=at, text=words, height=CAPTION_HEIGHT, anchor=anchor, role=Role.CUT, halo=False)
