"""The plan with every expression worked out: exact millimetres, nothing left to look up.

Made by `solving.solve_sizes`; `placing` makes copies and contacts of it. Holds records only.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from benchleaf.frames import Axis, Box
from benchleaf.piece.records import Choice, ChosenShaping
from benchleaf.reading.plan import Plan
from benchleaf.reading.turned import PlanSplay, PlanTrim, PlanTurn


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedPart:
    """One part with its sizes worked out, shoulder to shoulder."""

    name: str
    stock: str
    """Name of its stock."""
    box: Box
    """Where the first copy stands, in the piece's axes, mm, exact; every extent is positive. Of a
    part in a group, the first copy in the first copy of the group."""
    layers: int
    """Layers glued up; 1 for a plain part."""
    thickness_axis: Axis
    """Axis that the stock's thickness lies along."""
    grain_axis: Axis
    """Axis that the grain runs along; never the thickness axis."""
    allowance_mm: Fraction
    """Rough minus final on length and on width; 0 where the part is cut to size at once."""
    row_axis: Axis | None
    """Axis along which copies are spaced, or None where there is no row."""
    row_offsets_mm: tuple[Fraction, ...]
    """Offset of each copy of the row from the first along `row_axis`; `(0,)` without a row."""
    mirror: tuple[Axis, ...]
    """Axes across whose centre plane of the piece, or of its group, the row is copied, as the plan
    lists them."""
    shaping: tuple[ChosenShaping, ...] = ()
    """In the plan's order."""

    turns: tuple[PlanTurn, ...] = ()
    splay: PlanSplay | None = None
    trims: tuple[PlanTrim, ...] = ()
    group: str = ""
    """Name of the group that it is in; empty for a part placed in the piece."""

    @property
    def copy_count(self) -> int:
        """Copies in all, of a part in a group in each of it: the row, doubled for each mirror."""
        return len(self.row_offsets_mm) << len(self.mirror)  # each mirror doubles


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedGroup:
    """One group with its sizes worked out."""

    name: str
    box: Box
    """Where its first copy stands, in the piece's axes, mm, exact; every extent is positive."""
    row_axis: Axis | None
    row_offsets_mm: tuple[Fraction, ...]
    mirror: tuple[Axis, ...]
    parts: tuple[str, ...]
    """Names of its parts, in the plan's order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedJoint:
    """A joint entry of the plan with its lengths worked out."""

    index: int
    """Place in the plan's list, from 0."""
    kind: str
    first: str
    second: str
    choices: Mapping[str, Choice]
    """By option name; only those the author gave."""
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedPlan:
    """A plan whose sizes, parts and joint choices are all exact."""

    plan: Plan
    sizes: Mapping[str, Fraction]
    """Named sizes, mm, in the plan's order."""
    overall: Box
    """The box that the piece stands in, from (0, 0, 0), mm."""
    parts: Mapping[str, SolvedPart]
    """By name, in the plan's order."""
    joints: tuple[SolvedJoint, ...]
    """In the plan's order."""
    groups: Mapping[str, SolvedGroup] = field(default_factory=dict)
    """By name, in the plan's order."""

    def box_round(self, part: SolvedPart) -> Box:
        """The box that a part is placed in, and mirrored in: its group's first, or the piece's."""
        return self.groups[part.group].box if part.group else self.overall
