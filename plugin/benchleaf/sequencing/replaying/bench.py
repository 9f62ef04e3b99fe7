"""What lies on the bench while an order of work is replayed, and what can be seen of it.

Takes the joinery and the cut plan, gives the state that operations change. Must not know what any
operation is allowed to do.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field, fields
from typing import Final, Self

from benchleaf.cutting.records import Blank, CutPlan
from benchleaf.joinery.records import Feature, Joinery
from benchleaf.joinery.trimmed import open_trims
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.replaying.views import (
    are_at_size,
    layers,
    leaf_cuts,
    left_to_true,
    lines_to_mark,
    needs_work,
    sheet_parents,
    uncut_blanks,
)

SHARED: Final = frozenset({"pilot hole"})
"""Roles that are cut while the copies stand together."""
AFTER: Final = frozenset({"key slot"})
"""Roles that are cut when the copies are glued."""


@dataclass(slots=True, kw_only=True)
class Bench:
    """What is known of every blank and copy; lives for one replay."""

    # What holds from the start.
    joinery: Joinery
    layers: Mapping[str, tuple[Blank, ...]]
    sheet_parents: Mapping[tuple[str, int, int], tuple[str, int, int] | None]
    leaf_cuts: Mapping[str, tuple[str, int, int]]
    blanks: frozenset[str]
    """Labels of all blanks."""
    pegs: frozenset[str]
    """Labels of the blanks that are no copy's, such as dowels cut from a rod."""
    lines: Mapping[tuple[str, int], frozenset[tuple[int, int]]]
    """(mark, joint) to the lines that are marked for it."""
    coats_wanted: int
    dry_to_come: list[frozenset[str]]
    """What is tried dry by operations that are still to be done."""

    # What changes.
    free: set[str]
    to_trim: dict[str, set[str]]
    """Mark to the own faces that are still to be cut at their angle."""
    unshaped: dict[str, set[int]]
    together: dict[str, frozenset[str]]
    """Mark to all marks that hang together with it for good."""
    sawn: set[tuple[str, int, int]] = field(default_factory=set)
    glued: set[str] = field(default_factory=set)
    trued: dict[str, set[str]] = field(default_factory=dict)
    marked: set[tuple[int, int]] = field(default_factory=set)
    """Lines that are on the wood."""
    from_mates: set[tuple[str, int]] = field(default_factory=set)
    """(mark, joint) that is marked from its mate."""
    begun: set[tuple[str, int]] = field(default_factory=set)
    slit: set[tuple[str, int, str]] = field(default_factory=set)
    cleared: set[tuple[str, int, str]] = field(default_factory=set)
    """Sides of tenons whose waste is sawn in slices, and whose waste is off."""
    cut: set[tuple[str, int]] = field(default_factory=set)
    """(mark, index) of features that are finished."""
    smooth: set[str] = field(default_factory=set)
    finished: set[str] = field(default_factory=set)
    """Marks that have their first coat before they are joined."""
    coated: set[str] = field(default_factory=set)
    """Panels that have their first coat before they are closed in."""
    dry: list[frozenset[str]] = field(default_factory=list)
    """What has been tried dry."""
    standing: list[frozenset[str]] = field(default_factory=list)
    """What stands dry on the bench just now."""
    closed: set[int] = field(default_factory=set)
    is_clean: bool = False
    coats: int = 0

    @classmethod
    def of(cls, joinery: Joinery, cut_plan: CutPlan, operations: Sequence[Operation]) -> Self:
        """Lay out the bench for some operations."""
        copies = joinery.copies
        finish = joinery.piece.plan.finish
        return cls(
            joinery=joinery,
            layers=layers(cut_plan, joinery),
            sheet_parents=sheet_parents(cut_plan),
            leaf_cuts=leaf_cuts(cut_plan),
            blanks=frozenset(blank.label for blank in cut_plan.blanks),
            pegs=frozenset(b.label for b in cut_plan.blanks if b.copy not in copies),
            lines=lines_to_mark(joinery),
            coats_wanted=finish.coats if finish is not None else 0,
            dry_to_come=[frozenset(o.copies) for o in operations if o.kind == "dry-fit"],
            free=set(uncut_blanks(cut_plan)),
            to_trim={mark: {trim.face for trim in open_trims(joinery, mark)} for mark in copies},
            unshaped={mark: {cut.index for cut in own.shaping} for mark, own in copies.items()},
            together={mark: frozenset([mark]) for mark in copies},
        )

    def copied(self) -> Self:
        """Make a bench in the same state, that can be worked on apart from this one."""
        own = {spec.name: copy(getattr(self, spec.name)) for spec in fields(self)}
        for name in ("to_trim", "unshaped", "trued"):
            own[name] = {mark: set(held) for mark, held in own[name].items()}
        return type(self)(**own)

    # What can be seen of a copy.

    def is_whole(self, mark: str) -> bool:
        """Tell whether a copy is one piece of wood."""
        held = self.layers.get(mark, ())
        if len(held) > 1:
            return mark in self.glued
        return all(blank.label in self.free for blank in held)

    def has_its_size(self, mark: str) -> bool:
        """Tell whether a copy has its length, width and thickness, angles at its ends apart."""
        if not self.is_whole(mark):
            return False
        blanks = self.layers.get(mark, ())
        trued = self.trued.get(mark, set())
        return are_at_size(blanks) or {"true-width", "true-length"} & trued == left_to_true(blanks)

    def is_sized(self, mark: str) -> bool:
        """Tell whether a copy has all its final sizes, joints apart."""
        return self.has_its_size(mark) and not self.to_trim.get(mark)

    def to_set_out(self, mark: str, joint: int) -> bool:
        """Tell whether a line that a joint needs on a copy is still to be marked."""
        return not self.lines.get((mark, joint), frozenset()) <= self.marked

    def uncut(self, mark: str) -> Iterator[Feature]:
        """Give the features of a copy that are still to be cut before it is joined."""
        for index, feature in enumerate(self.joinery.copies[mark].features):
            is_done = (mark, index) in self.cut or feature.role in SHARED | AFTER
            if not is_done and needs_work(mark, feature, self.joinery):
                yield feature

    def mate_is_cut(self, mark: str, feature: Feature) -> bool:
        """Tell whether what a feature goes into is cut."""
        return all(
            (feature.mate, index) in self.cut
            for index, other in enumerate(self.joinery.copies[feature.mate].features)
            if other.joint == feature.joint and other.mate == mark and not other.adds
        )
