"""Operations before they are put in order: each says what it takes and what it gives.

Takes nothing, gives the records that planners fill and the names of what passes between operations.
An operation comes after every operation that gives what it takes. Must not know any single kind.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from benchleaf.sequencing.records import CutMade, Fact, Operation, Setting
from benchleaf.sequencing.wording import sort_marks
from benchleaf.sequencing.workroom import Workroom

Thing = tuple[str | int, ...]
"""Something that an operation takes or gives, such as ("sized", "A1")."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """An operation with what it takes and gives."""

    operation: Operation
    """Its `needs` are still empty."""
    takes: frozenset[Thing]
    gives: frozenset[Thing]


@dataclass(frozen=True, slots=True, kw_only=True)
class OperationKind:
    """One kind of operation: the row that the registry holds."""

    code: str
    """`rip`, `glue-up`: what an author's step names it by."""
    phase: str
    """`stock`, `glue-up of blanks`, `joints`, `assembly`, `finish`."""
    family: str
    """Operations of one family share a page where they fit on it."""
    tool: str
    """Plain name of the tool."""
    minutes: int
    """To set up, in the order of a careful beginner; chosen."""
    minutes_each: int
    """For each cut, hole group or copy; chosen."""
    says: Mapping[str, Fact] = field(hash=False)
    """Facts that are true of every operation of the kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Planner:
    """A module that plans operations of some kinds."""

    kinds: tuple[OperationKind, ...]
    plan: Callable[[Workroom], Iterable[Draft]]


# What passes between operations.


def cut_made(cut: CutMade) -> Thing:
    """A saw cut is made, so that the pieces it parts can be cut further."""
    return ("cut", cut.stock, cut.sheet, cut.cut)


def blank_cut(label: str) -> Thing:
    """A blank is cut free at its rough size."""
    return ("blank", label)


def copy_glued(mark: str) -> Thing:
    """A copy's layers are one."""
    return ("glued", mark)


def copy_trued(mark: str, axis: str) -> Thing:
    """A copy has its final size one way: `thickness`, `width`, `length`."""
    return ("trued", mark, axis)


def copy_sized(mark: str) -> Thing:
    """A copy has its final sizes, joints apart."""
    return ("sized", mark)


def copy_set_out(mark: str, joint: int) -> Thing:
    """One of a copy's joints is marked on it."""
    return ("set out", mark, joint)


def feature_begun(mark: str, index: int) -> Thing:
    """The rough waste of a feature is out."""
    return ("begun", mark, index)


def feature_cut(mark: str, index: int) -> Thing:
    """A feature is finished."""
    return ("feature", mark, index)


def copy_jointed(mark: str) -> Thing:
    """A copy has all its joints but pilot holes."""
    return ("jointed", mark)


def copy_shaped(mark: str) -> Thing:
    """A copy has all its shaping."""
    return ("all shaped", mark)


def part_shaped(mark: str, index: int) -> Thing:
    """One entry of a copy's shaping is done."""
    return ("shaped", mark, index)


def line_sawn(mark: str, index: int) -> Thing:
    """One entry of a copy's shaping is sawn near its line."""
    return ("sawn to a line", mark, index)


def copy_sanded(mark: str) -> Thing:
    """A copy's hidden faces are smooth."""
    return ("sanded", mark)


def copy_prefinished(mark: str) -> Thing:
    """A loose panel has its first coat, before it is closed in."""
    return ("prefinished", mark)


def group_dry(marks: tuple[str, ...]) -> Thing:
    """A group has been put together without glue."""
    return ("dry", *marks)


def group_drilled(marks: tuple[str, ...]) -> Thing:
    """A group's pilot holes are in."""
    return ("drilled", *marks)


def group_joined(marks: tuple[str, ...]) -> Thing:
    """A group is together for good."""
    return ("joined", *marks)


PIECE_TOGETHER: Thing = ("together",)
"""All parts are where they belong for good."""
ALL_CLEANED: Thing = ("cleaned",)
"""The whole piece is sanded, ready for its finish."""


def coat_dry(number: int) -> Thing:
    """A coat of finish is on and dry."""
    return ("coat", number)


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What a planner says of one operation; the kind adds the rest."""

    id: str
    title: str
    copies: Iterable[str]
    actions: Iterable[str]
    check: str = ""
    settings: tuple[Setting, ...] = ()
    facts: Mapping[str, Fact | None]
    """A None is left out: the fact is not known."""
    takes: Iterable[Thing]
    gives: Iterable[Thing]
    pieces: int = 1
    """How many times the kind's minutes for each are spent."""
    waiting_hours: Fraction = Fraction(0)
    joints: Iterable[int] = ()
    cuts: tuple[CutMade, ...] = ()
    blanks: tuple[str, ...] = ()
    begun: tuple[tuple[str, int], ...] = ()
    features: tuple[tuple[str, int], ...] = ()
    shaped: tuple[tuple[str, int], ...] = ()
    joined: tuple[str, ...] = ()
    moved: tuple[str, ...] = ()
    trimmed: tuple[tuple[str, str], ...] = ()
    lines: Iterable[tuple[int, int]] = ()
    slit: Iterable[tuple[str, int, str]] = ()
    cleared: Iterable[tuple[str, int, str]] = ()
    members: tuple[tuple[str, ...], ...] = ()
    is_turned: bool = False


def draft(kind: OperationKind, work: Work) -> Draft:
    """Make the draft of one operation."""
    facts: dict[str, Fact] = {"op.kind": kind.code, "op.tool": kind.tool, **kind.says}
    facts |= {name: fact for name, fact in work.facts.items() if fact is not None}
    operation = Operation(
        id=work.id,
        kind=kind.code,
        title=work.title,
        tool=kind.tool,
        copies=sort_marks(work.copies),
        settings=work.settings,
        actions=tuple(work.actions),
        check=work.check,
        needs=(),
        active_minutes=kind.minutes + kind.minutes_each * work.pieces,
        waiting_hours=work.waiting_hours,
        facts=dict(sorted(facts.items())),
        joints=tuple(sorted(set(work.joints))),
        cuts=work.cuts,
        blanks=work.blanks,
        begun=tuple(sorted(set(work.begun))),
        features=tuple(sorted(work.features)),
        shaped=tuple(sorted(work.shaped)),
        joined=work.joined,
        moved=work.moved,
        trimmed=tuple(sorted(work.trimmed)),
        lines=tuple(sorted(set(work.lines))),
        slit=tuple(sorted(set(work.slit))),
        cleared=tuple(sorted(set(work.cleared))),
        members=work.members,
        is_turned=work.is_turned,
    )
    return Draft(operation=operation, takes=frozenset(work.takes), gives=frozenset(work.gives))
