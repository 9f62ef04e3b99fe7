"""Blanks on the bench: sawn free, glued up, brought to size, cut at angles.

Takes operations, changes the bench and gives what stands against them. Must not know joints.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.replaying.bench import Bench
from benchleaf.sequencing.replaying.views import left_to_true

_TRUED: Final = ("true-thickness", "true-width", "true-length")
"""What kinds of truing begin with, whatever the tool."""


def saw(operation: Operation, bench: Bench) -> Iterator[str]:
    """Make the saw cuts of an operation, and free its blanks."""
    for cut in operation.cuts:
        key = (cut.stock, cut.sheet, cut.cut)
        parent = bench.sheet_parents.get(key, (cut.stock, cut.sheet, cut.after))
        if key in bench.sawn:
            yield f"cut {cut.cut} of {cut.stock} {cut.sheet} is made twice"
        if parent is not None and parent[2] and parent not in bench.sawn:
            yield f"cut {cut.cut} of {cut.stock} {cut.sheet} has no piece to cut yet"
        bench.sawn.add(key)
    if not operation.cuts:
        return
    for label in operation.blanks:
        leaf = bench.leaf_cuts.get(label)
        if leaf is not None and leaf not in bench.sawn:
            yield f"{label} is not cut free yet"
        if label in bench.free:
            yield f"{label} is cut free twice"
        bench.free.add(label)


def glue_layers(operation: Operation, bench: Bench) -> Iterator[str]:
    """Glue layers or boards into one blank."""
    for mark in operation.copies:
        missing = [b.label for b in bench.layers[mark] if b.label not in bench.free]
        if missing:
            yield f"{', '.join(missing)} is not there to be glued"
        if mark in bench.glued:
            yield f"{mark} is glued twice"
        bench.glued.add(mark)


def true_up(operation: Operation, bench: Bench) -> Iterator[str]:
    """Bring a blank to one of its final sizes."""
    trued = next(own for own in _TRUED if operation.kind.startswith(own))
    for mark in operation.copies:
        done = bench.trued.setdefault(mark, set())
        if not bench.is_whole(mark):
            yield f"{mark} is not one piece yet"
        if any(own == mark for own, _ in bench.cut):
            yield f"{mark} has joints already"
        left = left_to_true(bench.layers[mark]) - done
        if trued == "true-length" and "true-width" in left:
            yield f"{mark} has no true edge to be squared from"
        if trued in done:
            yield f"{mark} is brought to size twice"
        done.add(trued)


def cut_at_angles(operation: Operation, bench: Bench) -> Iterator[str]:
    """Cut ends and edges at their angles."""
    for mark, face in operation.trimmed:
        if not bench.has_its_size(mark):
            yield f"the {face} of {mark} is cut at its angle before it has its size"
        if face not in bench.to_trim.get(mark, set()):
            yield f"the {face} of {mark} is cut at its angle twice, or has none"
        bench.to_trim.get(mark, set()).discard(face)
