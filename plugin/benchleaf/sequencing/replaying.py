"""Proof of an order of work: a bench on which every operation is done in thought, one by one.

Takes operations in some order, the joinery and the cut plan; gives what is impossible. It keeps the
state of every blank and copy itself and does not look at the operations' needs, so that it stands
apart from what planned them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from types import MappingProxyType
from typing import Final

from benchleaf.cutting.blanks import FROM_RODS
from benchleaf.cutting.records import CutPlan
from benchleaf.frames import Box
from benchleaf.joinery.records import Feature, Joinery, JointFit
from benchleaf.joinery.trimmed import open_trims
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.replay_views import (
    are_at_size,
    closes,
    comes_apart,
    goes_in,
    layers,
    leaf_cuts,
    left_to_true,
    marked_joints,
    sheet_parents,
    stands_off,
    uncut_blanks,
)

_SHARED: Final = frozenset({"pilot hole"})
"""Roles that are cut while the copies stand together."""
_AFTER: Final = frozenset({"key slot"})
"""Roles that are cut when the copies are glued."""
_FOLLOWS: Final = MappingProxyType(
    {
        "countersink": (
            "clearance hole",
            "is countersunk before its clearance holes are drilled",
        ),
        "peg hole": ("mortise", "has its peg holes drilled before its mortise is cut"),
        "drawn peg hole": ("tenon", "has its tenon drilled before the tenon is fitted"),
    }
)
"""A role to the one that comes before it on the same copy, and what is said where it does not."""
_TRUED: Final = ("true-thickness", "true-width", "true-length")
"""What kinds of truing begin with, whatever the tool."""


def replay(operations: Iterable[Operation], joinery: Joinery, cut_plan: CutPlan) -> tuple[str, ...]:
    """Do the operations in thought.

    Returns:
        What could not be done, in the order met; empty for a sound order.
    """
    in_order = tuple(operations)
    bench = _Bench(joinery, cut_plan, in_order)
    refusals: list[str] = []
    for operation in in_order:
        refusals += [f"{operation.title}: {why}" for why in bench.do(operation)]
    return (*refusals, *bench.unfinished())


class _Bench:
    """What lies on the bench; lives for one replay."""

    def __init__(
        self, joinery: Joinery, cut_plan: CutPlan, operations: Sequence[Operation]
    ) -> None:
        self._joinery = joinery
        self._layers = layers(cut_plan, joinery)
        self._sheet_parents = sheet_parents(cut_plan)
        self._leaf_cuts = leaf_cuts(cut_plan)
        self._free = set(uncut_blanks(cut_plan))
        self._all_blanks = {blank.label for blank in cut_plan.blanks}
        self._cuts: set[tuple[str, int, int]] = set()
        self._to_set_out = Counter(marked_joints(operations))
        self._to_begin = Counter(key for operation in operations for key in operation.begun)
        self._pegs = {b.label for b in cut_plan.blanks if b.copy not in joinery.copies}
        self._to_trim = {
            mark: {trim.face for trim in open_trims(joinery, mark)} for mark in joinery.copies
        }
        self._glued: set[str] = set()
        self._trued: dict[str, set[str]] = {}
        self._features: set[tuple[str, int]] = set()
        self._smooth: set[str] = set()
        self._unshaped = {
            mark: {cut.index for cut in copy.shaping} for mark, copy in joinery.copies.items()
        }
        self._dry: list[frozenset[str]] = []
        self._together: dict[str, frozenset[str]] = {m: frozenset([m]) for m in joinery.copies}
        self._closed: set[int] = set()
        self._is_clean = False
        self._coats = 0

    # One operation.

    def do(self, operation: Operation) -> Iterator[str]:
        yield from self._saw(operation)
        yield from self._cut_at_angles(operation)
        if operation.kind == "set-out":
            yield from self._set_out(operation)
        elif operation.kind == "mark-pins":
            yield from self._mark_from_mates(operation)
        elif operation.kind in {"glue-up", "glue-panel"}:
            yield from self._gluelayers(operation)
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
        yield from self._begin(operation)
        yield from self._cut_features(operation)
        yield from self._shape(operation)
        if operation.joined:
            yield from self._join(operation)

    def _saw(self, operation: Operation) -> Iterator[str]:
        for cut in operation.cuts:
            key = (cut.stock, cut.sheet, cut.cut)
            parent = self._sheet_parents.get(key, (cut.stock, cut.sheet, cut.after))
            if key in self._cuts:
                yield f"cut {cut.cut} of {cut.stock} {cut.sheet} is made twice"
            if parent is not None and parent[2] and parent not in self._cuts:
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

    def _gluelayers(self, operation: Operation) -> Iterator[str]:
        for mark in operation.copies:
            missing = [b.label for b in self._layers[mark] if b.label not in self._free]
            if missing:
                yield f"{', '.join(missing)} is not there to be glued"
            if mark in self._glued:
                yield f"{mark} is glued twice"
            self._glued.add(mark)

    def _set_out(self, operation: Operation) -> Iterator[str]:
        for mark in operation.copies:
            if not self._is_sized(mark):
                yield f"{mark} is set out before it has its size"
            for joint in operation.joints:
                self._to_set_out[mark, joint] -= 1

    def _mark_from_mates(self, operation: Operation) -> Iterator[str]:
        for mark in operation.copies:
            if not self._is_sized(mark):
                yield f"{mark} is marked from its mate before it has its size"
            for joint in operation.joints:
                if self._to_set_out[mark, joint] > 1:
                    yield f"{mark} is marked from its mate before its shoulder is set out"
                self._to_set_out[mark, joint] -= 1
            for feature in self._joinery.copies[mark].features:
                if feature.joint in operation.joints and not self._mate_is_cut(mark, feature):
                    yield f"{mark} is marked from {feature.mate} before that is cut"

    def _begin(self, operation: Operation) -> Iterator[str]:
        for mark, index in operation.begun:
            feature = self._joinery.copies[mark].features[index]
            if not self._is_sized(mark):
                yield f"{mark} has not its final size when its {feature.role} is begun"
            if self._to_set_out[mark, feature.joint]:
                yield f"the {feature.role} of {mark} is begun before it is set out"
            yield from self._nearer_the_end(mark, feature)
            self._to_begin[mark, index] -= 1

    def _cut_at_angles(self, operation: Operation) -> Iterator[str]:
        for mark, face in operation.trimmed:
            if not self._has_its_size(mark):
                yield f"the {face} of {mark} is cut at its angle before it has its size"
            if face not in self._to_trim.get(mark, set()):
                yield f"the {face} of {mark} is cut at its angle twice, or has none"
            self._to_trim.get(mark, set()).discard(face)

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
            trued = next(own for own in _TRUED if operation.kind.startswith(own))
            left = left_to_true(self._layers[mark]) - self._trued.get(mark, set())
            if trued == "true-length" and "true-width" in left:
                yield f"{mark} has no true edge to be squared from"
            self._trued.setdefault(mark, set()).add(trued)

    def _is_sized(self, mark: str) -> bool:
        return self._has_its_size(mark) and not self._to_trim.get(mark)

    def _has_its_size(self, mark: str) -> bool:
        if not self._is_whole(mark):
            return False
        blanks = self._layers.get(mark, ())
        trued = self._trued.get(mark, set())
        return are_at_size(blanks) or {"true-width", "true-length"} & trued == left_to_true(blanks)

    def _cut_features(self, operation: Operation) -> Iterator[str]:
        for mark, index in operation.features:
            feature = self._joinery.copies[mark].features[index]
            if (mark, index) in self._features:
                yield f"the {feature.role} of {mark} is cut twice"
            if not self._is_sized(mark):
                yield f"{mark} has not its final size when its {feature.role} is cut"
            is_joined = len(self._together[mark]) > 1
            if feature.role in _AFTER and not is_joined:
                yield f"{mark} is not glued yet when its {feature.role} is cut"
            if feature.role not in _SHARED | _AFTER and is_joined:
                yield f"{mark} is glued in when its {feature.role} is cut"
            if self._to_set_out[mark, feature.joint] and feature.role not in _SHARED:
                yield f"the {feature.role} of {mark} is cut before it is set out"
            if self._to_begin[mark, index]:
                yield f"the {feature.role} of {mark} is finished before its waste is out"
            yield from self._out_of_turn(mark, feature)
            if feature.adds and not self._mate_is_cut(mark, feature):
                yield f"the {feature.role} of {mark} is fitted before its mate is cut"
            self._features.add((mark, index))

    def _shape(self, operation: Operation) -> Iterator[str]:
        for mark, index in operation.shaped:
            if not self._is_sized(mark):
                yield f"{mark} is shaped before it has its size"
            for feature in self._uncut(mark, with_shared=False):
                yield f"{mark} is shaped before its {feature.role} is cut"
            if len(self._together[mark]) > 1:
                yield f"{mark} is glued in when it is shaped"
            if index not in self._unshaped[mark]:
                yield f"{mark} is shaped twice"
            self._unshaped[mark].discard(index)

    def _out_of_turn(self, mark: str, feature: Feature) -> Iterator[str]:
        earlier, words = _FOLLOWS.get(feature.role, ("", ""))
        for index, other in enumerate(self._joinery.copies[mark].features):
            is_earlier = other.role == earlier and other.joint == feature.joint
            if is_earlier and (mark, index) not in self._features:
                yield f"{mark} {words}"
                return

    def _nearer_the_end(self, mark: str, feature: Feature) -> Iterator[str]:
        """Posts with several shoulders are shaped from their end, so that full stock is held."""
        if feature.role != "shoulder" or not isinstance(feature.shape, Box):
            return
        axis = self._joinery.piece.part_of(mark).grain_axis
        for index, other in enumerate(self._joinery.copies[mark].features):
            is_shoulder = other.role == "shoulder" and isinstance(other.shape, Box)
            if not is_shoulder or (mark, index) in self._features:
                continue
            assert isinstance(other.shape, Box)  # noqa: S101 - seen above
            if other.shape.size[axis] < feature.shape.size[axis]:
                yield f"{mark} is thinned before the shoulder nearer to its end is cut"
                return

    def _mate_is_cut(self, mark: str, feature: Feature) -> bool:
        return all(
            (feature.mate, index) in self._features
            for index, other in enumerate(self._joinery.copies[feature.mate].features)
            if other.joint == feature.joint and other.mate == mark and not other.adds
        )

    def _uncut(self, mark: str, *, with_shared: bool) -> Iterator[Feature]:
        for index, feature in enumerate(self._joinery.copies[mark].features):
            is_due = with_shared or feature.role not in _SHARED | _AFTER
            is_cut = not feature.adds or stands_off(mark, feature, self._joinery)
            if is_due and is_cut and (mark, index) not in self._features:
                yield feature

    def _smooth_faces(self, operation: Operation) -> Iterator[str]:
        for mark in operation.copies:
            if not self._is_sized(mark):
                yield f"{mark} is sanded before it has its size"
            for feature in self._uncut(mark, with_shared=False):
                yield f"{mark} is sanded before its {feature.role} is cut"
            if self._unshaped[mark]:
                yield f"{mark} is sanded before it is shaped"
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
        yield from self._without_pegs(self._fits_among(operation.copies))
        for fit in self._fits_among(operation.copies):
            if (
                goes_in(fit)
                and self._together[fit.contact.first] == self._together[fit.contact.second]
            ):
                yield f"{fit.contact.first} is glued before the whole is tried dry"
        self._dry.append(frozenset(operation.copies))

    def _join(self, operation: Operation) -> Iterator[str]:
        copies = frozenset(operation.joined)
        yield from self._not_ready(copies)
        # In order of marks, so that refusals come in the same order every time.
        clusters = list(dict.fromkeys(self._together[mark] for mark in sorted(copies)))
        closing = [
            (index, fit) for index, fit in enumerate(self._joinery.fits) if closes(fit, clusters)
        ]
        outside = frozenset().union(*clusters) - copies
        if outside:
            yield f"{', '.join(sorted(outside))} hang on to what is joined"
        if not {fit.joint for _, fit in closing} <= set(operation.joints):
            yield "it brings parts together that should stand together already"
        yield from self._without_pegs(fit for _, fit in closing)
        if any(goes_in(fit) for _, fit in closing) and not any(copies <= dry for dry in self._dry):
            yield "it is glued without a dry fit"
        yield from self._undrilled(fit for _, fit in closing)
        if not comes_apart(clusters, [fit for _, fit in closing]):
            yield "no order of straight slides brings the parts together"
        self._closed |= {index for index, _ in closing}
        for mark in copies:
            self._together[mark] = copies

    def _fits_among(self, copies: Iterable[str]) -> tuple[JointFit, ...]:
        among = set(copies)
        return tuple(
            fit
            for fit in self._joinery.fits
            if fit.contact.first in among and fit.contact.second in among
        )

    def _without_pegs(self, fits: Iterable[JointFit]) -> Iterator[str]:
        is_pegged = any(item.kind in FROM_RODS for fit in fits for item in fit.hardware)
        if is_pegged and self._pegs - self._free:
            yield "its dowels are not cut yet"

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
            for face in sorted(self._to_trim[mark]):
                yield f"the {face} of {mark} is never cut at its angle"
            for feature in self._uncut(mark, with_shared=True):
                yield f"the {feature.role} of {mark} is never cut"
            if self._unshaped[mark]:
                yield f"{mark} is never shaped"
        if len(self._closed) < len(self._joinery.fits):
            yield "some joint is never closed"
        if not self._is_clean:
            yield "the piece is never cleaned up"
