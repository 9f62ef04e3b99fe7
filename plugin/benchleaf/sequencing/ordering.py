"""The order of operations: each after what it needs, equal tools and parts together.

Takes drafts, gives operations with their needs filled in, in order. Must not know what they do.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from benchleaf.sequencing.drafting import Draft, Thing
from benchleaf.sequencing.records import Operation


class OrderError(ValueError):
    """Operations that wait for one another: `left` cannot be put in any order."""

    def __init__(self, left: Sequence[str]) -> None:
        super().__init__(f"operations wait for one another: {', '.join(left)}")
        self.left = tuple(left)


def find_needs(drafts: Iterable[Draft]) -> tuple[Operation, ...]:
    """Fill in what each operation needs: all operations that give what it takes.

    Operations of one id are made unique by a number, in the order given.
    """
    held = _with_unique_ids(tuple(drafts))
    givers: dict[Thing, list[str]] = {}
    for one in held:
        for thing in one.gives:
            givers.setdefault(thing, []).append(one.operation.id)
    return tuple(
        replace(
            one.operation,
            needs=tuple(
                sorted(
                    {
                        giver
                        for thing in one.takes
                        for giver in givers.get(thing, ())
                        if giver != one.operation.id
                    }
                )
            ),
        )
        for one in held
    )


def _with_unique_ids(drafts: tuple[Draft, ...]) -> tuple[Draft, ...]:
    seen: dict[str, int] = {}
    unique = []
    for one in drafts:
        count = seen[one.operation.id] = seen.get(one.operation.id, 0) + 1
        own = one.operation.id if count == 1 else f"{one.operation.id}-{count}"
        unique.append(replace(one, operation=replace(one.operation, id=own)))
    return tuple(unique)


@dataclass(frozen=True, slots=True)
class Block:
    """Operations that are done in one stretch: usually one, an author's step may hold more."""

    ids: tuple[str, ...]


def put_in_order(
    operations: Sequence[Operation],
    ranks: Mapping[str, tuple[int, int]],
    *,
    blocks: Sequence[Block] = (),
    extra: Mapping[str, frozenset[str]] | None = None,
) -> tuple[Operation, ...]:
    """Put operations in an order that respects every need.

    Among what may be done, the earlier phase goes first, then the kind that usually comes first,
    so that one tool does all it can before the next is taken up; then what was planned first.

    Args:
        operations: In the order in which they were planned, needs filled in.
        ranks: Kind to its phase's place, and its own place in the usual order of work.
        blocks: Operations that stay together.
        extra: Further needs, by id.

    Raises:
        OrderError: Some operations wait for one another.
    """
    by_id = {operation.id: operation for operation in operations}
    place = {operation.id: index for index, operation in enumerate(operations)}
    block_of = {own: block for block in blocks for own in block.ids}
    whole = [block_of.get(own, Block((own,))) for own in by_id]
    left = list(dict.fromkeys(whole))
    done: list[str] = []
    finished: set[str] = set()
    while left:
        ready = [block for block in left if _is_ready(block, by_id, extra or {}, finished)]
        if not ready:
            raise OrderError([own for block in left for own in block.ids])
        chosen = min(ready, key=lambda block: _rank(by_id[block.ids[0]], ranks, place))
        inside = _order_inside(chosen, by_id, place)
        done += inside
        finished |= set(inside)
        left.remove(chosen)
    return tuple(by_id[own] for own in done)


def _is_ready(
    block: Block,
    by_id: Mapping[str, Operation],
    extra: Mapping[str, frozenset[str]],
    finished: set[str],
) -> bool:
    own = set(block.ids)
    needs = {need for id_ in own for need in (*by_id[id_].needs, *extra.get(id_, ()))}
    return needs - own <= finished


def _rank(
    operation: Operation,
    ranks: Mapping[str, tuple[int, int]],
    place: Mapping[str, int],
) -> tuple[int, int, int]:
    return (*ranks[operation.kind], place[operation.id])


def _order_inside(
    block: Block, by_id: Mapping[str, Operation], place: Mapping[str, int]
) -> list[str]:
    left = sorted(block.ids, key=lambda own: place[own])
    done: list[str] = []
    while left:
        ready = [own for own in left if not set(by_id[own].needs) & (set(left) - {own})]
        if not ready:
            raise OrderError(left)
        done.append(ready[0])
        left.remove(ready[0])
    return done
