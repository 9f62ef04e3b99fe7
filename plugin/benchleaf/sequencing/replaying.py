"""Proof of an order of work: a bench on which every operation is done in thought, one by one.

Takes operations in some order, the joinery and the cut plan; gives what is impossible. It keeps the
state of every blank and copy itself and does not look at the operations' needs, so that it stands
apart from what planned them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from benchleaf.cutting.records import CutNode, CutPlan
from benchleaf.frames import Vector
from benchleaf.joinery.records import Feature, Joinery, JointFit
from benchleaf.sequencing.records import Operation

_SHARED: Final = frozenset({"pilot hole"})
"""Roles that are cut while the copies stand together."""


def replay(operations: Iterable[Operation], joinery: Joinery, cut_plan: CutPlan) -> tuple[str, ...]:
    """Do the operations in thought.

    Returns:
        What could not be done, in the order met; empty for a sound order.
    """
    bench = _Bench(joinery, cut_plan)
    refusals: list[str] = []
    for operation in operations:
        refusals += [f"{operation.title}: {why}" for why in bench.do(operation)]
    return (*refusals, *bench.unfinished())


class _Bench:
    """What lies on the bench; lives for one replay."""

    def __init__(self, joinery: Joinery, cut_plan: CutPlan) -> None:
        self._joinery = joinery
        self._layers = _layers(cut_plan, joinery)
        self._sheet_parents = _sheet_parents(cut_plan)
        self._leaf_cuts = _leaf_cuts(cut_plan)
        self._free = set(_uncut_blanks(cut_plan))
        self._all_blanks = {blank.label for blank in cut_plan.blanks}
        self._final = {
            mark: all(
                b.length_mm == b.final_length_mm and b.width_mm == b.final_width_mm for b in own
            )
            for mark, own in self._layers.items()
        }
        self._cuts: set[tuple[str, int, int]] = set()
        self._glued: set[str] = set()
        self._trued: dict[str, set[str]] = {}
        self._features: set[tuple[str, int]] = set()
        self._smooth: set[str] = set()
        self._dry: list[frozenset[str]] = []
        self._together: dict[str, frozenset[str]] = {m: frozenset([m]) for m in joinery.copies}
        self._closed: set[int] = set()
        self._is_clean = False
        self._coats = 0

    # One operation.

    def do(self, operation: Operation) -> Iterator[str]:
        yield from self._saw(operation)
        if operation.kind == "glue-up":
            yield from self._glue_layers(operation)
        elif operation.kind.startswith("true-"):
            yield from self._true(operation)
        elif operation.kind == "sand-inside":
            yield from self._smooth_faces(operation)
        elif operation.kind == "dry-fit":
            yield from self._fit_dry(operation)
        elif operation.kind == "sand-outside":
            yield from self._clean()
        elif operation.kind == "coat":
            yield from self._coat(operation)
        yield from self._cut_features(operation)
        if operation.joined:
            yield from self._join(operation)

    def _saw(self, operation: Operation) -> Iterator[str]:
        for cut in operation.cuts:
            key = (cut.stock, cut.sheet, cut.cut)
            parent = self._sheet_parents.get(key)
            if key in self._cuts:
                yield f"cut {cut.cut} of {cut.stock} {cut.sheet} is made twice"
            if parent is not None and parent not in self._cuts:
                yield f"cut {cut.cut} of {cut.stock} {cut.sheet} has no piece to cut yet"
            self._cuts.add(key)
        if not operation.cuts:
            return
        for label in operation.blanks:
            leaf = self._leaf_cuts.get(label)
            if leaf is not None and leaf not in self._cuts:
                yield f"{label} is not cut free yet"
            if label in self._free:
                yield f"{label} is cut free twice"
            self._free.add(label)

    def _glue_layers(self, operation: Operation) -> Iterator[str]:
        for mark in operation.copies:
            missing = [b.label for b in self._layers[mark] if b.label not in self._free]
            if missing:
                yield f"{', '.join(missing)} is not there to be glued"
            if mark in self._glued:
                yield f"{mark} is glued twice"
            self._glued.add(mark)

    def _is_whole(self, mark: str) -> bool:
        layers = self._layers.get(mark, ())
        if len(layers) > 1:
            return mark in self._glued
        return all(blank.label in self._free for blank in layers)

    def _true(self, operation: Operation) -> Iterator[str]:
        for mark in operation.copies:
            if not self._is_whole(mark):
                yield f"{mark} is not one piece yet"
            if any(own == mark for own, _ in self._features):
                yield f"{mark} has joints already"
            self._trued.setdefault(mark, set()).add(operation.kind.removesuffix("-by-hand"))

    def _is_sized(self, mark: str) -> bool:
        if not self._is_whole(mark):
            return False
        trued = self._trued.get(mark, set())
        return self._final.get(mark, True) or {"true-width", "true-length"} & trued == self._rough(
            mark
        )

    def _rough(self, mark: str) -> set[str]:
        blank = self._layers[mark][0]
        found = set()
        if blank.length_mm > blank.final_length_mm:
            found.add("true-length")
        if blank.width_mm > blank.final_width_mm:
            found.add("true-width")
        return found

    def _cut_features(self, operation: Operation) -> Iterator[str]:
        for mark, index in operation.features:
            feature = self._joinery.copies[mark].features[index]
            if (mark, index) in self._features:
                yield f"the {feature.role} of {mark} is cut twice"
            if not self._is_sized(mark):
                yield f"{mark} has not its final size when its {feature.role} is cut"
            if feature.role not in _SHARED and len(self._together[mark]) > 1:
                yield f"{mark} is glued in when its {feature.role} is cut"
            if feature.adds and not self._mate_is_cut(mark, feature):
                yield f"the {feature.role} of {mark} is fitted before its mate is cut"
            self._features.add((mark, index))

    def _mate_is_cut(self, mark: str, feature: Feature) -> bool:
        return all(
            (feature.mate, index) in self._features
            for index, other in enumerate(self._joinery.copies[feature.mate].features)
            if other.joint == feature.joint and other.mate == mark and not other.adds
        )

    def _uncut(self, mark: str, *, with_shared: bool) -> Iterator[Feature]:
        for index, feature in enumerate(self._joinery.copies[mark].features):
            is_due = with_shared or feature.role not in _SHARED
            if is_due and not feature.adds and (mark, index) not in self._features:
                yield feature

    def _smooth_faces(self, operation: Operation) -> Iterator[str]:
        for mark in operation.copies:
            if not self._is_sized(mark):
                yield f"{mark} is sanded before it has its size"
            self._smooth.add(mark)

    # Assembly.

    def _fit_dry(self, operation: Operation) -> Iterator[str]:
        for mark in operation.copies:
            if not self._is_sized(mark):
                yield f"{mark} has not its final size"
            for feature in self._uncut(mark, with_shared=False):
                yield f"{mark} has no {feature.role} yet"
            if not self._together[mark] <= set(operation.copies):
                yield f"{mark} is glued in already"
        self._dry.append(frozenset(operation.copies))

    def _join(self, operation: Operation) -> Iterator[str]:
        copies = frozenset(operation.joined)
        yield from self._not_ready(copies)
        clusters = {self._together[mark] for mark in copies}
        closing = [
            (index, fit) for index, fit in enumerate(self._joinery.fits) if _closes(fit, clusters)
        ]
        outside = frozenset().union(*clusters) - copies
        if outside:
            yield f"{', '.join(sorted(outside))} hang on to what is joined"
        goes_in = any(fit.is_glued and fit.kind != "butt" for _, fit in closing)
        if goes_in and not any(copies <= dry for dry in self._dry):
            yield "it is glued without a dry fit"
        yield from self._undrilled(fit for _, fit in closing)
        if not _comes_apart(list(clusters), [fit for _, fit in closing]):
            yield "no order of straight slides brings the parts together"
        self._closed |= {index for index, _ in closing}
        for mark in copies:
            self._together[mark] = copies

    def _not_ready(self, copies: frozenset[str]) -> Iterator[str]:
        for mark in sorted(copies):
            if not self._is_sized(mark):
                yield f"{mark} has not its final size"
            if mark not in self._smooth:
                yield f"{mark} has rough inside faces"
            for feature in self._uncut(mark, with_shared=False):
                yield f"{mark} has no {feature.role} yet"

    def _undrilled(self, fits: Iterable[JointFit]) -> Iterator[str]:
        pairs = {(f.joint, frozenset((f.contact.first, f.contact.second))) for f in fits}
        for mark, copy in self._joinery.copies.items():
            for index, feature in enumerate(copy.features):
                pair = (feature.joint, frozenset((mark, feature.mate)))
                is_cut = (mark, index) in self._features
                if feature.role in _SHARED and pair in pairs and not is_cut:
                    yield f"{mark} has no {feature.role} yet"

    # Finish, and the end.

    def _clean(self) -> Iterator[str]:
        if len(self._closed) < len(self._joinery.fits):
            yield "the piece is not together yet"
        self._is_clean = True

    def _coat(self, operation: Operation) -> Iterator[str]:
        self._coats += 1
        if not self._is_clean:
            yield "the piece is not clean yet"
        if operation.id != f"coat-{self._coats}":
            yield f"it comes as coat {self._coats}"

    def unfinished(self) -> Iterator[str]:
        for label in sorted(self._all_blanks - self._free):
            yield f"{label} is never cut free"
        for mark in self._joinery.copies:
            for feature in self._uncut(mark, with_shared=True):
                yield f"the {feature.role} of {mark} is never cut"
        if len(self._closed) < len(self._joinery.fits):
            yield "some joint is never closed"
        if not self._is_clean:
            yield "the piece is never cleaned up"


def _closes(fit: JointFit, clusters: Iterable[frozenset[str]]) -> bool:
    holders = [c for c in clusters if fit.contact.first in c or fit.contact.second in c]
    return len(holders) == 2


def _comes_apart(clusters: list[frozenset[str]], fits: Sequence[JointFit]) -> bool:
    """Tell whether clusters can be drawn off one after another, each in one direction."""
    left = list(clusters)
    while len(left) > 1:
        off = next((cluster for cluster in left if _slides(cluster, left, fits)), None)
        if off is None:
            return False
        left.remove(off)
    return True


def _slides(
    cluster: frozenset[str], left: Sequence[frozenset[str]], fits: Sequence[JointFit]
) -> bool:
    others = frozenset().union(*(other for other in left if other is not cluster))
    ways: set[Vector] | None = None
    for fit in fits:
        first, second = fit.contact.first, fit.contact.second
        frame = fit.contact.frame
        own = {frame.outward_direction(direction) for direction in fit.free_directions}
        if first in cluster and second in others:
            ways = own if ways is None else ways & own
        elif second in cluster and first in others:
            back = {(-x, -y, -z) for x, y, z in own}
            ways = back if ways is None else ways & back
    return ways is None or bool(ways)


def _layers(cut_plan: CutPlan, joinery: Joinery) -> dict[str, tuple]:  # type: ignore[type-arg]
    held: dict[str, list] = {}  # type: ignore[type-arg]
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


def _sheet_parents(cut_plan: CutPlan) -> Mapping[tuple[str, int, int], tuple[str, int, int] | None]:
    return {
        (sheet.stock, sheet.number, node.number): (
            (sheet.stock, sheet.number, parent) if parent else None
        )
        for sheet in cut_plan.sheets
        for node, parent in _nodes(sheet.tree, 0)
        if node.direction is not None
    }


def _leaf_cuts(cut_plan: CutPlan) -> Mapping[str, tuple[str, int, int]]:
    return {
        node.blank: (sheet.stock, sheet.number, parent)
        for sheet in cut_plan.sheets
        for node, parent in _nodes(sheet.tree, 0)
        if node.blank and parent
    }


def _uncut_blanks(cut_plan: CutPlan) -> Iterator[str]:
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
