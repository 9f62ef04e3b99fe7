"""Joints and shapes on the bench: lines marked, waste begun, features finished, faces smoothed.

Takes operations, changes the bench and gives what stands against them. Must not know assembly.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import Final

from benchleaf.frames import Box
from benchleaf.joinery.records import Feature
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.replaying.bench import AFTER, SHARED, Bench
from benchleaf.sequencing.replaying.views import shouldered_sides

_FOLLOWS: Final = MappingProxyType(
    {
        "countersink": (
            "clearance hole",
            "is countersunk before its clearance holes are drilled",
        ),
        "hinge mortise": (
            "edge clearance",
            "has its hinges let in before its edge is planed",
        ),
        "peg hole": ("mortise", "has its peg holes drilled before its mortise is cut"),
        "drawn peg hole": ("tenon", "has its tenon drilled before the tenon is fitted"),
    }
)
"""A role to the one that comes before it on the same copy, and what is said where it does not."""
_FINISHED_ONLY: Final = MappingProxyType(
    {
        "chop": frozenset({"mortise", "through hole"}),
        "chop-tails": frozenset({"pin socket"}),
        "chop-pins": frozenset({"tail socket"}),
        "pare-shoulders": frozenset({"shoulder"}),
    }
)
"""Kinds that clean up to the lines where another has taken the waste out, with the roles."""
_FROM_MATES: Final = frozenset({"saw-pins"})
"""Kinds that follow lines taken from the mate."""
_FITTED: Final = frozenset({"fit-tenons"})
"""Kinds that only try and pare: all waste round the tenon is off before."""
_PARED: Final = frozenset({"pare-shoulders"})
"""Kinds that take off what is sawn into slices."""


def set_out(operation: Operation, bench: Bench) -> Iterator[str]:
    """Mark lines on copies."""
    for mark in operation.copies:
        if not bench.is_sized(mark):
            yield f"{mark} is set out before it has its size"
    if set(operation.lines) & bench.marked:
        yield "some of its lines are set out already"
    bench.marked |= set(operation.lines)


def mark_from_mates(operation: Operation, bench: Bench) -> Iterator[str]:
    """Mark copies from what they are to fit."""
    for mark in operation.copies:
        if not bench.is_sized(mark):
            yield f"{mark} is marked from its mate before it has its size"
        for joint in operation.joints:
            if bench.to_set_out(mark, joint):
                yield f"{mark} is marked from its mate before its shoulder is set out"
            if (mark, joint) in bench.from_mates:
                yield f"{mark} is marked from its mate twice"
            bench.from_mates.add((mark, joint))
        for feature in bench.joinery.copies[mark].features:
            if feature.joint in operation.joints and not bench.mate_is_cut(mark, feature):
                yield f"{mark} is marked from {feature.mate} before that is cut"


def begin(operation: Operation, bench: Bench) -> Iterator[str]:
    """Take waste out of features without finishing them."""
    by_sides = {(mark, index) for mark, index, _ in (*operation.slit, *operation.cleared)}
    for mark, index in operation.begun:
        feature = bench.joinery.copies[mark].features[index]
        if not bench.is_sized(mark):
            yield f"{mark} has not its final size when its {feature.role} is begun"
        if bench.to_set_out(mark, feature.joint):
            yield f"the {feature.role} of {mark} is begun before it is set out"
        if operation.kind in _FROM_MATES and (mark, feature.joint) not in bench.from_mates:
            yield f"the {feature.role} of {mark} is begun before it is marked from its mate"
        if (mark, index) in bench.begun - by_sides:
            yield f"the {feature.role} of {mark} is begun twice"
        yield from _nearer_the_end(mark, feature, bench)
    bench.begun |= set(operation.begun)
    yield from _take_sides(operation, bench)


def _take_sides(operation: Operation, bench: Bench) -> Iterator[str]:
    """Saw the waste round a tenon, side by side, or take it off."""
    for mark, _, face in sorted(bench.slit & set(operation.slit)):
        yield f"the waste on the {face} of {mark} is sawn twice"
    bench.slit |= set(operation.slit)
    for side in operation.cleared:
        mark, _, face = side
        if side in bench.cleared:
            yield f"the waste on the {face} of {mark} is taken off twice"
        if operation.kind in _PARED and side not in bench.slit:
            yield f"the waste on the {face} of {mark} is pared before it is sawn"
        bench.cleared.add(side)


def cut_features(operation: Operation, bench: Bench) -> Iterator[str]:
    """Finish features."""
    for mark, index in operation.features:
        feature = bench.joinery.copies[mark].features[index]
        if (mark, index) in bench.cut:
            yield f"the {feature.role} of {mark} is cut twice"
        if not bench.is_sized(mark):
            yield f"{mark} has not its final size when its {feature.role} is cut"
        yield from _at_its_time(mark, feature, bench)
        yield from _roughed_out(operation.kind, mark, index, bench)
        yield from _out_of_turn(mark, feature, bench)
        if feature.adds and not bench.mate_is_cut(mark, feature):
            yield f"the {feature.role} of {mark} is fitted before its mate is cut"
        bench.cut.add((mark, index))


def _at_its_time(mark: str, feature: Feature, bench: Bench) -> Iterator[str]:
    is_joined = len(bench.together[mark]) > 1
    if feature.role in AFTER and not is_joined:
        yield f"{mark} is not glued yet when its {feature.role} is cut"
    if feature.role not in SHARED | AFTER and is_joined:
        yield f"{mark} is glued in when its {feature.role} is cut"
    if feature.role not in SHARED and bench.to_set_out(mark, feature.joint):
        yield f"the {feature.role} of {mark} is cut before it is set out"


def _roughed_out(kind: str, mark: str, index: int, bench: Bench) -> Iterator[str]:
    """Refuse to clean up to lines where the waste is still in."""
    feature = bench.joinery.copies[mark].features[index]
    if feature.role in _FINISHED_ONLY.get(kind, ()) and (mark, index) not in bench.begun:
        yield f"the {feature.role} of {mark} is finished before its waste is out"
    if kind in _FITTED and feature.role == "tenon":
        for face in shouldered_sides(mark, feature, bench.joinery):
            if (mark, index, face) not in bench.cleared:
                yield f"the {feature.role} of {mark} is fitted with waste left on its {face}"


def _out_of_turn(mark: str, feature: Feature, bench: Bench) -> Iterator[str]:
    earlier, words = _FOLLOWS.get(feature.role, ("", ""))
    for index, other in enumerate(bench.joinery.copies[mark].features):
        is_earlier = other.role == earlier and other.joint == feature.joint
        if is_earlier and (mark, index) not in bench.cut:
            yield f"{mark} {words}"
            return


def _nearer_the_end(mark: str, feature: Feature, bench: Bench) -> Iterator[str]:
    """Posts with several shoulders are shaped from their end, so that full stock is held."""
    if feature.role != "shoulder" or not isinstance(feature.shape, Box):
        return
    axis = bench.joinery.piece.part_of(mark).grain_axis
    for index, other in enumerate(bench.joinery.copies[mark].features):
        box = other.shape
        if other.role != "shoulder" or not isinstance(box, Box) or (mark, index) in bench.cut:
            continue
        if box.size[axis] < feature.shape.size[axis]:
            yield f"{mark} is thinned before the shoulder nearer to its end is cut"
            return


def shape(operation: Operation, bench: Bench) -> Iterator[str]:
    """Shape parts by themselves, when their joints are cut."""
    for mark, index in operation.shaped:
        if not bench.is_sized(mark):
            yield f"{mark} is shaped before it has its size"
        for feature in bench.uncut(mark):
            yield f"{mark} is shaped before its {feature.role} is cut"
        if len(bench.together[mark]) > 1:
            yield f"{mark} is glued in when it is shaped"
        if index not in bench.unshaped[mark]:
            yield f"{mark} is shaped twice"
        bench.unshaped[mark].discard(index)


def finish_first(operation: Operation, bench: Bench) -> Iterator[str]:
    """Put the first coat on what cannot be reached, or moves, once it is joined."""
    for mark in operation.copies:
        if mark in bench.finished:
            yield f"{mark} has its first coat already"
        bench.finished.add(mark)


def smooth_faces(operation: Operation, bench: Bench) -> Iterator[str]:
    """Sand faces that cannot be reached later."""
    for mark in operation.copies:
        if not bench.is_sized(mark):
            yield f"{mark} is sanded before it has its size"
        for feature in bench.uncut(mark):
            yield f"{mark} is sanded before its {feature.role} is cut"
        if bench.unshaped[mark]:
            yield f"{mark} is sanded before it is shaped"
        if mark in bench.smooth:
            yield f"{mark} is sanded inside twice"
        bench.smooth.add(mark)
