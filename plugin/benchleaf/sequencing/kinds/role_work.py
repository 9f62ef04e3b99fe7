"""Operations that cut all features of one role alike: the same tool, settings and words.

Takes rows that say how a role is cut, gives drafts, one for each setting. Must not know joints.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.forms import Bore
from benchleaf.sequencing.drafting import Draft, OperationKind, Thing, feature_cut
from benchleaf.sequencing.jointwork import bore_of
from benchleaf.sequencing.kinds.joint_drafts import JointWork, draft_joint_work, keys_of
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.wording import pluralise, sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

ELSEWHERE: Final = frozenset(
    {
        "biscuit slot",
        "bolt hole",
        "bridle cheek",
        "bridle slot",
        "cross dowel hole",
        "dovetail socket",
        "dovetail tail",
        "drawn peg hole",
        "edge clearance",
        "end clearance",
        "hinge mortise",
        "edge groove",
        "edge tongue",
        "key slot",
        "loose mortise",
        "mitre",
        "mitre dowel hole",
        "mortise slope",
        "panel bevel",
        "panel groove",
        "panel rebate",
        "panel tongue",
        "peg hole",
        "pin hole",
        "pocket pilot",
        "screw pocket",
        "spline groove",
        "round mortise",
        "round tenon",
        "round tenon slot",
        "slanting mortise",
        "slanting tenon",
        "tenon end",
        "twin tenon",
        "wedge slot",
    }
)
"""Roles that planners of their own cut: those of holes, notches and tenons leave them alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What is said of some features that are cut at one setting."""

    actions: Iterable[str]
    check: str
    settings: tuple[Setting, ...] = ()
    facts: Mapping[str, Fact | None]
    takes: Iterable[Thing] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RoleWork:
    """How the features of one role are cut."""

    kind: OperationKind
    role: str
    verb: str
    """`Drill`: the title is `Drill the bolt holes in the legs`."""
    setting_of: Callable[[WorkPiece, Workroom], tuple[object, ...]]
    """What features have in common that are cut at one setting."""
    say: Callable[[Sequence[WorkPiece], Workroom], Said]
    picks: Callable[[WorkPiece, Workroom], bool] | None = None
    """Which features of the role it is for; all where None."""
    with_roles: tuple[str, ...] = ()
    """Roles of the same joint on the same copy that are cut in the same go."""
    where: str = "in"
    """`in`, `of`: what stands between noun and parts in the title."""
    noun: str = ""
    """What the title calls it; the role where empty."""


def plan_roles(rows: Sequence[RoleWork], room: Workroom) -> Iterator[Draft]:
    """Plan the features of some roles, each setting once."""
    for row in rows:
        groups: dict[tuple[object, ...], list[WorkPiece]] = {}
        for piece in room.work:
            if piece.feature.role == row.role and _is_picked(row, piece, room):
                groups.setdefault(row.setting_of(piece, room), []).append(piece)
        for key, pieces in groups.items():
            yield _draft(row, key, pieces, room)


def _is_picked(row: RoleWork, piece: WorkPiece, room: Workroom) -> bool:
    return row.picks is None or row.picks(piece, room)


def _draft(
    row: RoleWork, key: tuple[object, ...], pieces: list[WorkPiece], room: Workroom
) -> Draft:
    said = row.say(pieces, room)
    noun = row.noun or row.role
    named = pluralise(noun) if len(pieces) > 1 else noun
    names = room.name_copies(piece.mark for piece in pieces)
    return draft_joint_work(
        row.kind,
        pieces,
        JointWork(
            name=" ".join(map(str, (row.role, *key))),
            title=f"{row.verb} the {named} {row.where} {names}",
            actions=said.actions,
            check=said.check,
            settings=said.settings,
            facts=said.facts,
            takes=said.takes,
            finishes=(*keys_of(pieces), *_keys_with(row, pieces, room)),
        ),
        room,
    )


def _keys_with(
    row: RoleWork, pieces: Sequence[WorkPiece], room: Workroom
) -> tuple[tuple[str, int], ...]:
    places = {(piece.mark, piece.feature.mate, piece.feature.joint) for piece in pieces}
    held = (own for place in sorted(places) for own in room.work_at(*place))
    return tuple(own.key for own in held if own.feature.role in row.with_roles)


def size_named(piece: WorkPiece, name: str, room: Workroom) -> Fraction:
    """A size of the joint that a feature belongs to, mm; 0 where it has none of that name."""
    fit = room.fit_between(piece.mark, piece.feature.mate, piece.feature.joint)
    sizes = fit.sizes if fit is not None else ()
    return next((size.value_mm for size in sizes if size.name == name), Fraction(0))


def own_cuts(pieces: Iterable[WorkPiece], room: Workroom, *roles: str) -> Iterator[Thing]:
    """Features of some roles that the same joint puts on the same copies, finished."""
    for piece in pieces:
        for own in room.work_at(piece.mark, piece.feature.mate, piece.feature.joint):
            if own.feature.role in roles:
                yield feature_cut(*own.key)


# What holes have in common.


def bore(piece: WorkPiece) -> Bore:
    """The round feature that a piece of work is."""
    found = bore_of(piece)
    assert found is not None  # noqa: S101 - the families make these roles round
    return found


def is_bored_through(piece: WorkPiece) -> bool:
    """Tell whether a square hole goes from face to face."""
    own = bore(piece)
    along = max(range(3), key=lambda axis: abs(float(own.direction[axis])))
    return own.depth_mm >= piece.body.size[along]


def hole_setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    """Bit and depth stop; a hole right through has no stop."""
    del room
    depth = Fraction(0) if is_bored_through(piece) else bore(piece).depth_mm
    return (bore(piece).diameter_mm, depth)


def hole_settings(pieces: Sequence[WorkPiece]) -> tuple[Setting, ...]:
    """Bit and depth stop as settings."""
    own = bore(pieces[0])
    bit = Setting(name="bit", value_mm=own.diameter_mm)
    if all(map(is_bored_through, pieces)):
        return (bit,)
    return (bit, Setting(name="depth stop", value_mm=own.depth_mm))


def hole_facts(pieces: Sequence[WorkPiece]) -> dict[str, Fact | None]:
    """What the safety rules look at in a hole."""
    return {
        "bit.diameter_mm": bore(pieces[0]).diameter_mm,
        "cut.depth_mm": bore(pieces[0]).depth_mm,
        "cut.through": all(map(is_bored_through, pieces)),
    }


def fit_bit_words(pieces: Sequence[WorkPiece], room: Workroom) -> Iterator[str]:
    """The bit, and its stop or the scrap under a hole right through."""
    own = bore(pieces[0])
    yield f"Fit the {room.say.length(own.diameter_mm)} bit."
    if all(map(is_bored_through, pieces)):
        yield "Lay scrap under the work, so that the far face does not break out."
    else:
        yield f"Set the depth stop to {room.say.length(own.depth_mm)}."


def count_words(verb: str, noun: str, pieces: Sequence[WorkPiece], end: str = "") -> Iterator[str]:
    """How many on which copies: `Drill 2 holes in each of A1 to A4`."""
    marks = sort_marks(piece.mark for piece in pieces)
    counts = {mark: sum(piece.mark == mark for piece in pieces) for mark in marks}
    for count in sorted(set(counts.values())):
        some = [mark for mark in marks if counts[mark] == count]
        what = f"one {noun}" if count == 1 else f"{count} {pluralise(noun)}"
        each = "each of " if len(some) > 1 else ""
        yield from spread(f"{verb} {what} in {each}".rstrip(), some, end)
