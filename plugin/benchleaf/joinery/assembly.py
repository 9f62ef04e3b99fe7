"""How the piece comes apart, and so how it goes together.

Takes the placed solids and the worked joints, gives a tree of assemblies. For each direction it
asks which copies block which, and takes off the smallest set that nothing else holds by one
straight slide; where there is none, several parts that move at once, or one by two slides. Read
backwards, that is the order of assembly; the directions serve the exploded view.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from manifold3d import Manifold

from benchleaf.frames import Vector
from benchleaf.joinery.blocking import Blocking, back, is_same_way
from benchleaf.joinery.locks import Lock
from benchleaf.joinery.motion import Flags
from benchleaf.joinery.partings import (
    NOWHERE,
    Parting,
    bits_from,
    bits_of,
    is_one,
    reach,
    rows_of_bits,
)
from benchleaf.joinery.records import Assembly, JointFit, Stops
from benchleaf.joinery.unlocking import Unlocking

# chosen: copies that share more wood than this where they stand are for the check of collisions to
# report; motion says nothing about them. mm3
_SHARED_MM3 = 1.0
# Drawers and doors come out at the front, where nothing says otherwise.
_FORWARDS: Vector = (0, -1, 0)
# One copy, drawn apart, in the direction used before: no removal is more natural.
_MOST_NATURAL = (1, 0, False)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ties:
    """What holds the copies together, by their numbers; sets of copies are bit sets."""

    ways: tuple[Vector, ...]
    pushes: list[list[int]]
    """For each direction, for each copy, the copies that it would push."""
    slid: list[list[int]]
    """For each direction, for each copy, the copies along whose joints it would slide, where the
    joint itself draws it off another way: a tenon along its length, a shelf square out of its
    housing."""
    partners: list[int]
    """For each copy, the copies to which it is joined."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """How a piece goes together, and what was found on the way."""

    tree: Assembly
    """The root; a node that nothing opens is marked as locked."""
    locks: tuple[Lock, ...]
    """What keeps the locked ones so, in the order met."""
    stops: Stops


def plan_assembly(
    solids: Mapping[str, Manifold], fits: Iterable[JointFit], *, late: Sequence[str] = ()
) -> Proof:
    """Plan in which groups and directions the copies come together.

    Args:
        solids: The finished copies where they stand, by mark, in the piece's axes.
        fits: The joints between them.
        late: Marks of those that go on last of all, such as doors: they come off before any other,
            in this order.

    Returns:
        The proof, or else what locks the copies.
    """
    blocking = Blocking(solids, fits)
    proof = _plan(blocking, late)
    return _plan(blocking, late) if proof.locks and _let_pass(blocking) else proof


def find_stops(solids: Mapping[str, Manifold], fits: Iterable[JointFit]) -> Stops:
    """What stops what, each copy by itself, without looking for an order."""
    blocking = Blocking(solids, fits)
    return _stops(blocking, _tie(blocking))


def _let_pass(blocking: Blocking) -> bool:
    """Let copies pass that share wood where they stand: no motion of theirs can be looked at."""
    close = blocking.close_pairs()
    sharing = [pair for pair in close if blocking.shared_mm3(pair) > _SHARED_MM3]
    blocking.pass_through(sharing)
    return bool(sharing)


def _plan(blocking: Blocking, late: Sequence[str]) -> Proof:
    ties = _tie(blocking)
    unlocking = Unlocking(blocking)
    whole = (1 << len(blocking.marks)) - 1
    partings = dict(_take_off_first(whole, [blocking.marks.index(own) for own in late], ties))
    left = min((parting.sets[-1] for parting in partings.values()), default=whole)
    fresh = [(left, NOWHERE)]
    while fresh:
        group, before = fresh.pop()
        if not is_one(group):
            parting = _part(group, ties, before) or unlocking.part(group)
            partings[group] = parting
            fresh += [(own, parting.ways[0]) for own in parting.sets]
    return Proof(
        tree=_build(partings, blocking.marks),
        locks=tuple(unlocking.locks),
        stops=_stops(blocking, ties),
    )


def _stops(blocking: Blocking, ties: _Ties) -> Stops:
    by_way = dict(zip(ties.ways, map(tuple, ties.pushes), strict=True))
    return Stops(numbers={mark: n for n, mark in enumerate(blocking.marks)}, by_way=by_way)


def _take_off_first(whole: int, late: Sequence[int], ties: _Ties) -> Iterator[tuple[int, Parting]]:
    """Take off what goes on last: each in turn that has a way, until none has."""
    group, waiting = whole, list(late)
    while waiting and not is_one(group):
        free = ((own, way) for own in waiting if (way := _way_off(own, group, ties)))
        own, way = next(free, (-1, NOWHERE))
        if own < 0:
            return
        rest = group & ~(1 << own)
        yield group, Parting(sets=(1 << own, rest), ways=(way, NOWHERE))
        group = rest
        waiting.remove(own)


def _way_off(number: int, group: int, ties: _Ties) -> Vector | None:
    """The first way in which one comes off a group: forwards before any other."""
    for way in sorted(ties.ways, key=lambda own: own != _FORWARDS):
        pushes = ties.pushes[ties.ways.index(way)]
        if not pushes[number] & group & ~(1 << number):
            return way
    return None


def _build(partings: Mapping[int, Parting], marks: Sequence[str]) -> Assembly:
    """Make the tree; smaller sets first, so that what a node holds is there."""
    trees = {1 << number: _leaf(mark) for number, mark in enumerate(marks)}
    for group in sorted(partings, key=int.bit_count):
        parting = partings[group]
        *moving, last = parting.sets
        tree, held = trees[last], last
        for index in range(len(moving) - 1, -1, -1):
            held |= moving[index]
            is_innermost = index == len(moving) - 1
            tree = Assembly(
                copies=tuple(marks[number] for number in bits_of(held)),
                moved=trees[moving[index]],
                fixed=tree,
                direction=parting.ways[index],
                is_locked=parting.is_locked,
                shift_mm=parting.shift_mm,
                fixed_direction=parting.ways[-1] if is_innermost else NOWHERE,
                is_with_fixed=not is_innermost,
            )
        trees[group] = tree
    return trees[(1 << len(marks)) - 1]


def _leaf(mark: str) -> Assembly:
    return Assembly(copies=(mark,), moved=None, fixed=None, direction=NOWHERE)


def _tie(blocking: Blocking) -> _Ties:
    known: dict[Vector, Flags] = {}
    pushes: list[list[int]] = []
    for way in blocking.ways:
        opposite = known.get(back(way))
        flags = blocking.matrix(way) if opposite is None else opposite.T
        known[way] = flags
        pushes.append(rows_of_bits(flags))
    partners = [0] * len(blocking.marks)
    for a, b in blocking.holds:
        partners[a] |= 1 << b
    return _Ties(
        ways=blocking.ways,
        pushes=pushes,
        slid=[_slid_along(way, blocking) for way in blocking.ways],
        partners=partners,
    )


def _slid_along(way: Vector, blocking: Blocking) -> list[int]:
    slid = [0] * len(blocking.marks)
    for (a, b), holds in blocking.holds.items():
        drawn = (tuple(hold.ways[0].tolist()) for hold in holds if len(hold.ways))
        if not any(is_same_way(own, way) for own in drawn):
            slid[a] |= 1 << b
    return slid


def _part(group: int, ties: _Ties, before: Vector) -> Parting | None:
    """Take off by one straight slide; what hangs on another goes with it where that can be."""
    hung = _hung(group, ties)
    return _easiest_removal(group, ties, hung, before=before) or (
        _easiest_removal(group, ties, {}, before=before) if hung else None
    )


def _hung(group: int, ties: _Ties) -> dict[int, int]:
    """Copies that are joined to one other copy alone, with that one: lips, pads, cleats.

    They are put on their host before it goes anywhere, while it lies flat on the bench.
    """
    partners = {a: ties.partners[a] & group for a in bits_of(group)}
    hosts = {a: held.bit_length() - 1 for a, held in partners.items() if is_one(held)}
    return {a: host for a, host in hosts.items() if host not in hosts or host < a}


def _easiest_removal(
    group: int, ties: _Ties, hung: Mapping[int, int], *, before: Vector
) -> Parting | None:
    """Find the set of copies that comes off the group most naturally, and its direction.

    chosen: fewest copies first (what hangs on another not counted), then fewest joints slid along
    rather than drawn apart, then going on in the direction used before.
    """
    best: tuple[int, Vector] | None = None
    best_score: tuple[int, int, bool] = (group.bit_count(), 0, False)
    for moved, size, index in _removals(group, ties, hung):
        slid = _slid(moved, group, ties.slid[index])
        score = (size, slid, ties.ways[index] != before)
        if best is None or score < best_score:
            best, best_score = (moved, ties.ways[index]), score
        if best_score <= _MOST_NATURAL:
            break
    if best is None:
        return None
    moved, way = best
    return Parting(sets=(moved, group & ~moved), ways=(way, NOWHERE))


def _removals(group: int, ties: _Ties, hung: Mapping[int, int]) -> Iterator[tuple[int, int, int]]:
    """Sets that come off, none larger than those before, with size and number of the direction."""
    counted = ~bits_from(hung)
    least = group.bit_count()
    for index in range(len(ties.ways)):
        pushes = _with_hung(ties.pushes[index], hung)
        for start in bits_of(group):
            moved = reach(1 << start, group, pushes, most=(least, counted))
            if moved is not None and moved != group:
                least = (moved & counted).bit_count()
                yield moved, least, index


def _with_hung(blocks: Sequence[int], hung: Mapping[int, int]) -> list[int]:
    pushes = list(blocks)
    for a, host in hung.items():
        pushes[a] |= 1 << host
        pushes[host] |= 1 << a
    return pushes


def _slid(moved: int, group: int, slid: Sequence[int]) -> int:
    """Count the joints between a moved set and the rest that are slid along, not drawn apart."""
    rest = group & ~moved
    return sum((slid[a] & rest).bit_count() for a in bits_of(moved))
