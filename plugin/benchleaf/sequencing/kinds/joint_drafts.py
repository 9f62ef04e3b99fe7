"""What all operations that cut joints have in common: what they take, give and state.

Takes the features worked on and the words for them, gives a draft. Must not know any single kind.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Thing,
    Work,
    copy_jointed,
    copy_set_out,
    copy_sized,
    draft,
    feature_begun,
    feature_cut,
)
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.stating import state_copies
from benchleaf.sequencing.wording import make_slug
from benchleaf.sequencing.workroom import WorkPiece, Workroom


@dataclass(frozen=True, slots=True, kw_only=True)
class JointWork:
    """What a planner says of one joint-cutting operation."""

    name: str
    """What it is, for its id: parts, joints, sizes."""
    title: str
    actions: Iterable[str]
    check: str
    settings: tuple[Setting, ...] = ()
    facts: Mapping[str, Fact | None] = field(default_factory=dict)
    takes: Iterable[Thing] = ()
    """Besides sized and set-out copies."""
    begins: tuple[tuple[str, int], ...] = ()
    """Features whose waste it takes out without finishing them."""
    finishes: tuple[tuple[str, int], ...] = ()
    slits: Iterable[tuple[str, int, str]] = ()
    """Sides of tenons where it saws the waste into slices."""
    clears: Iterable[tuple[str, int, str]] = ()
    """Sides of tenons where it takes the waste off."""


def joint_kind(
    code: str, tool: str, *, family: str, minutes: tuple[int, int], says: Mapping[str, Fact]
) -> OperationKind:
    """Make the kind of an operation that cuts joints or shapes parts.

    Args:
        code: Its code.
        tool: What it is done with.
        family: Operations that a maker thinks of together.
        minutes: To set up, and for each piece. chosen: a careful beginner's, as for all kinds.
        says: Facts for the safety rules.
    """
    return OperationKind(
        code=code,
        phase="joints",
        family=family,
        tool=tool,
        minutes=minutes[0],
        minutes_each=minutes[1],
        says=says,
    )


def draft_joint_work(
    kind: OperationKind, pieces: Sequence[WorkPiece], work: JointWork, room: Workroom
) -> Draft:
    """Make the draft of an operation on features."""
    marks = [piece.mark for piece in pieces]
    takes = [copy_sized(mark) for mark in marks]
    takes += [copy_set_out(piece.mark, piece.feature.joint) for piece in pieces]
    gives: list[Thing] = [feature_begun(*key) for key in work.begins]
    gives += [feature_cut(*key) for key in work.finishes]
    return draft(
        kind,
        Work(
            id=make_slug(f"{kind.code} {work.name}"),
            title=work.title,
            copies=marks,
            actions=work.actions,
            check=work.check,
            settings=work.settings,
            facts={**state_copies(marks, room), **work.facts},
            takes=[*takes, *work.takes],
            gives=[*gives, *map(copy_jointed, marks)],
            pieces=len(pieces),
            joints=[piece.feature.joint for piece in pieces],
            begun=work.begins,
            features=work.finishes,
            slit=work.slits,
            cleared=work.clears,
        ),
    )


def mates_cut(pieces: Iterable[WorkPiece], room: Workroom) -> Iterator[Thing]:
    """What added wood is tried in: the features of its mate at the same joint, finished."""
    for piece in pieces:
        for index, feature in enumerate(room.copy(piece.feature.mate).features):
            if feature.joint == piece.feature.joint and feature.mate == piece.mark:
                yield feature_cut(piece.feature.mate, index)


def keys_of(pieces: Iterable[WorkPiece]) -> tuple[tuple[str, int], ...]:
    """Marks and indices, as operations name features."""
    return tuple(piece.key for piece in pieces)
