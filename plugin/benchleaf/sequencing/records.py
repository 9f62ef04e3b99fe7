"""Operations, what each needs first, and the steps that they are done in. Made by `order_work`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding

Fact = Fraction | float | int | bool | str


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One thing that is set at the machine before the operation."""

    name: str
    """`fence`, `stop`, `blade height`, `bit`, `depth`."""
    value_mm: Fraction | None
    """A length to be shown in the plan's units, or None where `text` says it."""
    text: str = ""
    value_deg: float | None = None
    """An angle, its true value; `text` shows it to the nearest tenth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutMade:
    """One saw cut of the cut plan."""

    stock: str
    sheet: int
    """Number of the sheet, board or rod within its stock."""
    cut: int
    """On a sheet, the cut's number; on a board or rod, its place in the order of cutting."""
    after: int = 0
    """Number of the cut that made the piece; 0 for the whole sheet, board or rod."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One tool, one setting, one or more copies."""

    id: str
    """Stable within the plan, from what it is and not from its number: `rip-ply-2-3-8`."""
    kind: str
    """Code of an operation kind in the registry: `rip`, `glue-up`, ..."""
    title: str
    """What is done, imperative: `Rip strips for A and B`."""
    tool: str
    """Tool's plain name: `table saw`; `by hand` where none."""
    copies: tuple[str, ...]
    """Marks of the copies it works on, sorted; empty for whole sheets."""
    settings: tuple[Setting, ...]
    actions: tuple[str, ...]
    """Plain imperative sentences, one action in each, figures in the plan's units."""
    check: str
    """The check that closes it, or empty."""
    needs: tuple[str, ...]
    """Ids of operations that come before, sorted."""
    active_minutes: int
    waiting_hours: Fraction
    facts: Mapping[str, Fact]
    """What the safety rules look at, by dotted name, lengths in mm: `cut.fence_gap_mm`."""
    joints: tuple[int, ...] = ()
    """Indices of the plan's joints that it makes or closes."""
    cuts: tuple[CutMade, ...] = ()
    """Saw cuts of the cut plan that it makes, in order."""
    blanks: tuple[str, ...] = ()
    """Labels of the blanks that it cuts free or glues together."""
    begun: tuple[tuple[str, int], ...] = ()
    """(mark, index in that copy's features) of what it roughs out without finishing it."""
    features: tuple[tuple[str, int], ...] = ()
    """(mark, index in that copy's features) of what it finishes on a copy."""
    shaped: tuple[tuple[str, int], ...] = ()
    """(mark, index of an entry in its part's `shape`) of what it finishes shaping."""
    joined: tuple[str, ...] = ()
    """Marks that stand together when it is done (assembly), else empty."""
    moved: tuple[str, ...] = ()
    """Marks that it puts on (assembly), else empty."""
    trimmed: tuple[tuple[str, str], ...] = ()
    """(mark, own face) of the ends and edges that it cuts at an angle."""
    lines: tuple[tuple[int, int], ...] = ()
    """(index of a fitted joint, index in its setting out) of the lines that it marks."""
    slit: tuple[tuple[str, int, str], ...] = ()
    """(mark, index of a tenon, own face) where it saws the waste into slices, to be pared off."""
    cleared: tuple[tuple[str, int, str], ...] = ()
    """(mark, index of a tenon, own face) where it takes the waste off, down to the tenon."""
    is_turned: bool = False
    """The work lies upside down on the bench (assembly)."""
    members: tuple[tuple[str, ...], ...] = ()
    """What it brings together or holds together (assembly): the marks of each member."""
    way: str = ""
    """Code of the way in which it is done, where that is not the one that its kind is planned for.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """Operations done together: one page."""

    number: int
    """From 1."""
    slug: str
    """Stable part of the page's address, from what is made: `cut-the-legs`."""
    phase: str
    """`stock`, `glue-up of blanks`, `joints`, `assembly`, `finish`."""
    title: str
    operations: tuple[Operation, ...]
    copies: tuple[str, ...]
    """Marks of all copies handled."""
    joined: tuple[str, ...]
    """Marks that stand together when the step is done (assembly steps), else empty."""
    moved: tuple[str, ...]
    """Marks that are put on in this step (assembly steps), else empty."""
    notes: tuple[str, ...]
    """The author's own words for this step."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sequence:
    """The order of work."""

    operations: tuple[Operation, ...]
    """In an order that respects every need."""
    steps: tuple[Step, ...]
    findings: tuple[Finding, ...]
