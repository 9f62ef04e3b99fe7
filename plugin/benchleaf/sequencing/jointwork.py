"""What there is to cut on each copy, as numbers a tool is set to: depth, width, run, ends.

Takes WorkPieces, gives what a tool is set to. Must not know tools or words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.forms import Bore, box_round, entry_axis
from benchleaf.frames import FACES, Axis, Box, face_name, main_axis
from benchleaf.joinery.records import (
    Feature,
)
from benchleaf.joinery.true_ends import runs_into_a_cut
from benchleaf.sequencing.workroom import WorkPiece


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxCut:
    """A feature with flat sides, measured."""

    work: WorkPiece
    box: Box
    depth_mm: Fraction
    """Along the way in."""
    run: Axis
    """The way it is long."""
    run_mm: Fraction
    width_mm: Fraction
    is_through: bool
    """From face to face along the way in."""
    is_at_edge: bool
    """Open along one side of its run: a rebate."""
    face: str
    """Own face it is cut into."""

    @property
    def is_across_grain(self) -> bool:
        """Tell whether it runs across the grain."""
        return self.run is not self.work.grain


def measure_box(work: WorkPiece) -> BoxCut | None:
    """Measure a feature with flat sides; None for a round one."""
    box = work.feature.shape
    if not isinstance(box, Box):
        return None
    inside = box.meet(work.body)
    box = inside if inside.is_solid() else box
    others = [axis for axis in Axis if axis is not work.into]
    run = max(others, key=lambda axis: (_is_open(box, work.body, axis), box.size[axis]))
    width = next(axis for axis in others if axis is not run)
    low, high = _touches(box, work.body, work.into)
    return BoxCut(
        work=work,
        box=box,
        depth_mm=Fraction(box.size[work.into]),
        run=run,
        run_mm=Fraction(box.size[run]),
        width_mm=Fraction(box.size[width]),
        is_through=low and high,
        is_at_edge=any(_touches(box, work.body, width)),
        face=face_name(work.into, high or not low),
    )


def inner_ends(cut: BoxCut, others: Sequence[Feature]) -> tuple[int, int]:
    """How many ends of a cut's run lie inside the wood, and how many in another cut as deep."""
    feature, body = cut.work.feature, cut.work.body
    stopped = crossing = 0
    for is_high, touches in zip((False, True), _touches(cut.box, body, cut.run), strict=True):
        if not touches:
            is_open = runs_into_a_cut(feature, face_name(cut.run, is_high), body, others)
            crossing += is_open
            stopped += not is_open
    return stopped, crossing


def _touches(box: Box, body: Box, axis: Axis) -> tuple[bool, bool]:
    return (box.low[axis] <= body.low[axis], box.high[axis] >= body.high[axis])


def _is_open(box: Box, body: Box, axis: Axis) -> bool:
    return all(_touches(box, body, axis))


def opening_face(work: WorkPiece, toward: str) -> str:
    """The own face that a feature is marked and worked on.

    A hole is bored from its mouth, a recess from a face that it opens to. Added wood is marked on
    its end.

    Args:
        work: The feature.
        toward: Own face that looks at the mate: taken where the feature is open to it.
    """
    shape = work.feature.shape
    if isinstance(shape, Bore):
        # A round mortise is bored down through a face, however it leans.
        leans = work.feature.role == "round mortise"
        axis = main_axis(shape.direction) if leans else entry_axis(shape)
        return face_name(axis, shape.direction[axis] < 0)
    axis, is_high = FACES[toward]
    # A hinge's leaf is let into the edge at its mate, below the clearance planed off there.
    if work.feature.adds or work.feature.role == "hinge mortise":
        return toward
    if _touches(box_round(shape), work.body, axis)[is_high]:
        return toward
    return face_name(axis, not is_high)


def end_face(work: WorkPiece) -> str | None:
    """The own end that a cut is open at; None where it is at neither or at both."""
    low, high = _touches(box_round(work.feature.shape), work.body, work.grain)
    return face_name(work.grain, high) if low != high else None


def bore_of(work: WorkPiece) -> Bore | None:
    """A round feature; None for one with flat sides."""
    return work.feature.shape if isinstance(work.feature.shape, Bore) else None


@dataclass(frozen=True, slots=True, kw_only=True)
class TenonCut:
    """A tenon, and how much stands above it on each side that has a shoulder."""

    work: WorkPiece
    length_mm: Fraction
    shoulders: tuple[tuple[str, Fraction], ...]
    """(own face, depth of the shoulder), sorted."""
    thickness_mm: Fraction
    width_mm: Fraction
    end: str
    """Own face that the tenon stands on."""


def measure_tenon(work: WorkPiece) -> TenonCut | None:
    """Measure a tenon; None for anything else that adds no wood."""
    box = work.feature.shape
    if not work.feature.adds or not isinstance(box, Box):
        return None
    others = [axis for axis in Axis if axis is not work.into]
    shoulders: list[tuple[str, Fraction]] = []
    for axis in others:
        near, far = box.low[axis] - work.body.low[axis], work.body.high[axis] - box.high[axis]
        shoulders += [
            (face_name(axis, is_high), Fraction(gap))
            for is_high, gap in ((False, near), (True, far))
            if gap > 0
        ]
    is_high = box.high[work.into] > work.body.high[work.into]
    sides = sorted(Fraction(box.size[axis]) for axis in others)
    return TenonCut(
        work=work,
        length_mm=Fraction(box.size[work.into]),
        shoulders=tuple(sorted(shoulders)),
        thickness_mm=sides[0],
        width_mm=sides[1],
        end=face_name(work.into, is_high),
    )
