"""What the replay reads off the cut plan and the joints, by itself.

Takes records of earlier stages, gives small tables. Must not know how operations were planned.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from benchleaf.cutting.records import Blank, CutNode, CutPlan
from benchleaf.frames import Axis, Box, Vector, face_name
from benchleaf.joinery.corner import KEYED
from benchleaf.joinery.records import Feature, Joinery, JointFit
from benchleaf.piece.records import own_box
from benchleaf.sequencing.loose_panels import find_loose_panels

_Cut = tuple[str, int, int]
"""Stock, sheet, number."""


def goes_in(fit: JointFit) -> bool:
    """Tell whether something cut goes into something else under glue: worth trying dry."""
    return fit.is_glued and fit.kind not in {"butt", "pocket screws"}


def coated_first(joinery: Joinery) -> frozenset[str]:
    """Panels of solid wood that move in a groove: they have a coat before they are closed in."""
    is_finished = joinery.piece.plan.finish is not None
    return find_loose_panels(joinery) if is_finished else frozenset()


UNGUIDED: Final = frozenset({"butt", "pocket screws", "carriage bolts", "rests on"})
"""Kinds of joint in which nothing leads a part to its place: not closed at a dry fit."""


def needs_work(mark: str, feature: Feature, joinery: Joinery) -> bool:
    """Tell whether a feature is cut: added wood without a shoulder comes with the blank."""
    return not feature.adds or bool(shouldered_sides(mark, feature, joinery))


def shouldered_sides(mark: str, feature: Feature, joinery: Joinery) -> tuple[str, ...]:
    """Own faces on which added wood stands back behind the copy that it stands on."""
    body, added = own_box(joinery.piece.part_of(mark)), feature.shape
    if not isinstance(added, Box):
        return ()
    inside = [
        axis
        for axis in Axis
        if body.low[axis] <= added.low[axis] and added.high[axis] <= body.high[axis]
    ]
    low = [face_name(axis, False) for axis in inside if body.low[axis] < added.low[axis]]
    high = [face_name(axis, True) for axis in inside if added.high[axis] < body.high[axis]]
    return (*low, *high)


def lines_to_mark(joinery: Joinery) -> Mapping[tuple[str, int], frozenset[tuple[int, int]]]:
    """The lines that joints need on the wood, by mark and joint.

    A depth is set at the machine and no line, and what a key or its jig sets is not measured.
    """
    held: dict[tuple[str, int], set[tuple[int, int]]] = {}
    for index, fit in enumerate(joinery.fits):
        for number, out in enumerate(fit.setting_out):
            if not out.what.startswith("depth") and out.spacer != KEYED:
                held.setdefault((out.copy, fit.joint), set()).add((index, number))
    return {key: frozenset(lines) for key, lines in held.items()}


def fits_among(copies: Iterable[str], joinery: Joinery) -> tuple[JointFit, ...]:
    """The joints between some copies."""
    among = set(copies)
    return tuple(
        fit for fit in joinery.fits if fit.contact.first in among and fit.contact.second in among
    )


def merge(
    clusters: Iterable[frozenset[str]], pairs: Iterable[tuple[str, str]]
) -> list[frozenset[str]]:
    """Make clusters one that share a mark, or that a pair of marks ties together."""
    left: list[frozenset[str]] = []
    for cluster in (*clusters, *map(frozenset, pairs)):
        touching = [own for own in left if own & cluster]
        left = [own for own in left if not own & cluster]
        left.append(cluster.union(*touching))
    return left


def are_at_size(blanks: Iterable[Blank]) -> bool:
    """Tell whether blanks are sawn to their final length and width at once."""
    return all(
        blank.length_mm == blank.final_length_mm and blank.width_mm == blank.final_width_mm
        for blank in blanks
    )


def left_to_true(blanks: Sequence[Blank]) -> set[str]:
    """What kinds of truing a copy needs, by the first of its layers."""
    first, ways = blanks[0], set()
    if first.length_mm > first.final_length_mm:
        ways.add("true-length")
    if first.width_mm > first.final_width_mm:
        ways.add("true-width")
    return ways


def closes(fit: JointFit, clusters: Iterable[frozenset[str]]) -> bool:
    """Tell whether a joint lies between two of several clusters."""
    holders = [c for c in clusters if fit.contact.first in c or fit.contact.second in c]
    return len(holders) == 2


_Slide = tuple[str, str, frozenset[Vector]]
"""First mark, second mark, and the ways in which the first comes off the second."""


def comes_apart(clusters: list[frozenset[str]], fits: Sequence[JointFit]) -> bool:
    """Tell whether clusters can be drawn off one after another, or the last of them at once."""
    slides = [_slide(fit) for fit in fits]
    left = list(clusters)
    while len(left) > 1:
        off = next((cluster for cluster in left if _slides(cluster, left, slides)), None)
        if off is None:
            return _leave_at_once(left, slides)
        left.remove(off)
    return True


# chosen: a frame has as many sides at the most; more are built in parts.
_MOST_AT_ONCE = 6


def _leave_at_once(left: Sequence[frozenset[str]], slides: Sequence[_Slide]) -> bool:
    """Tell whether clusters part when all move at one speed: the sides of a mitred frame.

    Each leaves along one of its joints' ways, or midway between two of them, or stays.
    """
    if len(left) > _MOST_AT_ONCE:
        return False
    holder = {mark: index for index, cluster in enumerate(left) for mark in cluster}
    pairs = [
        (holder[first], holder[second], {_unit(way) for way in ways})
        for first, second, ways in slides
        if first in holder and second in holder
    ]
    choices = [_ways_of(index, pairs) for index in range(len(left))]
    return _can_choose(choices, pairs, [])


_Pair = tuple[int, int, set[Vector]]


def _unit(way: Vector) -> Vector:
    x, y, z = map(float, way)
    length = math.sqrt(x * x + y * y + z * z) or 1.0
    # chosen: ways that agree to six figures are one.
    return (round(x / length, 6) + 0.0, round(y / length, 6) + 0.0, round(z / length, 6) + 0.0)


def _ways_of(index: int, pairs: Sequence[_Pair]) -> list[Vector]:
    own = [way for first, _, ways in pairs if first == index for way in sorted(ways)]
    own += [
        (-x, -y, -z) for _, second, ways in pairs if second == index for x, y, z in sorted(ways)
    ]
    midway = [
        _unit((a[0] + b[0], a[1] + b[1], a[2] + b[2])) for a, b in itertools.combinations(own, 2)
    ]
    return list(dict.fromkeys([(0, 0, 0), *map(_unit, own), *midway]))


def _can_choose(
    choices: Sequence[Sequence[Vector]], pairs: Sequence[_Pair], chosen: list[Vector]
) -> bool:
    if len(chosen) == len(choices):
        return True
    for way in choices[len(chosen)]:
        taken = [*chosen, way]
        if all(_parts(pair, taken) for pair in pairs) and _can_choose(choices, pairs, taken):
            return True
    return False


def _parts(pair: _Pair, taken: Sequence[Vector]) -> bool:
    """Tell whether two that have been given ways part by one that their joint allows."""
    first, second, ways = pair
    if max(first, second) >= len(taken):
        return True
    (a, b, c), (x, y, z) = taken[first], taken[second]
    return _unit((a - x, b - y, c - z)) in ways


def _slide(fit: JointFit) -> _Slide:
    frame = fit.contact.frame
    ways = frozenset(map(frame.outward_direction, fit.free_directions))
    return (fit.contact.first, fit.contact.second, ways)


def _slides(
    cluster: frozenset[str], left: Sequence[frozenset[str]], slides: Sequence[_Slide]
) -> bool:
    others = frozenset().union(*(other for other in left if other is not cluster))
    ways: frozenset[Vector] | None = None
    for first, second, own in slides:
        if first in cluster and second in others:
            ways = own if ways is None else ways & own
        elif second in cluster and first in others:
            back = frozenset((-x, -y, -z) for x, y, z in own)
            ways = back if ways is None else ways & back
    return ways is None or bool(ways)


def layers(cut_plan: CutPlan, joinery: Joinery) -> Mapping[str, tuple[Blank, ...]]:
    """The blanks of each copy, by mark."""
    held: dict[str, list[Blank]] = {}
    for blank in cut_plan.blanks:
        if blank.copy in joinery.copies:
            held.setdefault(blank.copy, []).append(blank)
    return {mark: tuple(blanks) for mark, blanks in held.items()}


def _nodes(node: CutNode | None, parent: int) -> Iterator[tuple[CutNode, int]]:
    if node is None:
        return
    yield node, parent
    number = node.number if node.direction is not None else parent
    yield from _nodes(node.first, number)
    yield from _nodes(node.second, number)


def sheet_parents(cut_plan: CutPlan) -> Mapping[_Cut, _Cut | None]:
    """For each cut of a sheet, the cut that made its piece."""
    return {
        (sheet.stock, sheet.number, node.number): (
            (sheet.stock, sheet.number, parent) if parent else None
        )
        for sheet in cut_plan.sheets
        for node, parent in _nodes(sheet.tree, 0)
        if node.direction is not None
    }


def leaf_cuts(cut_plan: CutPlan) -> Mapping[str, _Cut]:
    """For each blank of a sheet, the cut that frees it."""
    return {
        node.blank: (sheet.stock, sheet.number, parent)
        for sheet in cut_plan.sheets
        for node, parent in _nodes(sheet.tree, 0)
        if node.blank and parent
    }


def uncut_blanks(cut_plan: CutPlan) -> Iterator[str]:
    """Blanks that are a whole sheet, or fill a board or rod from end to end."""
    for sheet in cut_plan.sheets:
        if sheet.tree.blank:
            yield sheet.tree.blank
    widths = {stock.name: stock.width_mm for stock in cut_plan.stock}
    for length in cut_plan.lengths:
        strips = {label: width for label, _, width in length.strips}
        for label, start, extent in length.placed:
            fills = start == 0 and extent == length.length_mm
            width = strips.get(label, widths.get(length.stock))
            if fills and width == widths.get(length.stock):
                yield label
