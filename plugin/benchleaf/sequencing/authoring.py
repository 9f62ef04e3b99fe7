"""The author's own steps: which planned operations each covers, and whether their order can stand.

Takes the plan's steps and the planned operations, gives WrittenSteps and findings S5xx. Must not
know how operations were planned.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from benchleaf.findings import Finding, Severity
from benchleaf.sequencing.ordering import Block
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.stepping import WrittenStep
from benchleaf.sequencing.workroom import Workroom


@dataclass(frozen=True, slots=True)
class Written:
    """The author's steps that can stand."""

    steps: tuple[WrittenStep, ...]
    findings: tuple[Finding, ...]
    extra_needs: Mapping[str, frozenset[str]]
    """Further needs of operations, by id: each step comes after the one before it."""

    @property
    def blocks(self) -> tuple[Block, ...]:
        """Their operations, each step's together."""
        return tuple(Block(tuple(sorted(step.ids))) for step in self.steps)


def read_written_steps(operations: Sequence[Operation], room: Workroom) -> Written:
    """Match the author's steps with the planned operations."""
    findings: list[Finding] = []
    steps: list[WrittenStep] = []
    names = _names(operations, room)
    claimed: dict[str, int] = {}
    for index, step in enumerate(room.plan.steps):
        ids: set[str] = set()
        for entry, words in enumerate(step.covers):
            found = names.get(_normal(words), frozenset())
            if not found:
                findings.append(_names_none(room, (index, entry), words, names))
            before = {claimed.setdefault(id_, index) for id_ in sorted(found)} - {index}
            findings += [_named_twice(room, (index, entry), words, own) for own in sorted(before)]
            ids |= {id_ for id_ in found if claimed[id_] == index}
        if not step.covers:
            findings.append(_covers_nothing(room, index))
        if ids:
            steps.append(WrittenStep(title=step.title, text=step.text, ids=frozenset(ids)))
    clash = next(_clashes(operations, steps, room), None)
    if clash is not None:
        return Written((), (*findings, clash), {})
    return Written(tuple(steps), tuple(findings), _extra_needs(steps, operations))


def _extra_needs(
    steps: Sequence[WrittenStep], operations: Sequence[Operation]
) -> Mapping[str, frozenset[str]]:
    """Each step after the one before it; what stands dry does not wait on the bench for a step."""
    pairs = itertools.pairwise(steps)
    extra = {id_: before.ids for before, after in pairs for id_ in after.ids}
    dry = [one for one in operations if one.kind == "dry-fit"]
    for whole in dry:
        for below in dry:
            if set(below.copies) < set(whole.copies) and whole.id in extra:
                own = extra[whole.id] - {below.id}
                extra[below.id] = extra.get(below.id, frozenset()) | own
    return extra


def _names(operations: Sequence[Operation], room: Workroom) -> dict[str, frozenset[str]]:
    """`kind: part` to the operations that it names; `kind` alone names all of the kind."""
    held: dict[str, set[str]] = {}
    for operation in operations:
        held.setdefault(operation.kind, set()).add(operation.id)
        for part, _ in room.parts_among(operation.copies):
            held.setdefault(_normal(f"{operation.kind}: {part.name}"), set()).add(operation.id)
    return {name: frozenset(ids) for name, ids in held.items()}


def _normal(words: str) -> str:
    kind, colon, part = words.partition(":")
    kind = "-".join(kind.split())
    return f"{kind}: {' '.join(part.split())}" if colon else kind


# What is wrong with a step.


def _finding(room: Workroom, code: str, path: str, message: str, *, remedy: str) -> Finding:
    return Finding(
        code=code,
        severity=Severity.ERROR,
        place=room.plan.place(path),
        subject=path,
        message=message,
        remedy=remedy,
    )


def _names_none(
    room: Workroom, at: tuple[int, int], words: str, names: Mapping[str, frozenset[str]]
) -> Finding:
    there = _nearest(_normal(words), names)
    return _finding(
        room,
        "S501",
        f"steps[{at[0]}].covers[{at[1]}]",
        f"no planned operation is called `{words}`",
        remedy=f"Needed: an operation and a part, such as {_quote(there)}.",
    )


def _nearest(words: str, names: Mapping[str, frozenset[str]]) -> list[str]:
    """Up to three names: those of the same kind of operation, else those that are spelt alike."""
    kind = words.partition(":")[0]
    same_kind = sorted(name for name in names if name.startswith(f"{kind}:"))
    near = get_close_matches(words, same_kind or names, n=3, cutoff=0.5)
    return near or same_kind[:3] or sorted(names)[:3]


def _named_twice(room: Workroom, at: tuple[int, int], words: str, before: int) -> Finding:
    other = room.plan.steps[before].title
    return _finding(
        room,
        "S502",
        f"steps[{at[0]}].covers[{at[1]}]",
        f"`{words}` is covered already by step {before + 1}, `{other}`",
        remedy="Needed: every operation in one step. Take it out of one of the two.",
    )


def _covers_nothing(room: Workroom, index: int) -> Finding:
    title = room.plan.steps[index].title
    return _finding(
        room,
        "S503",
        f"steps[{index}]",
        f"step {index + 1}, `{title}`, covers no operation",
        remedy="Needed: `covers:` with at least one entry, such as `glue-up: leg`.",
    )


def _clashes(
    operations: Sequence[Operation], steps: Sequence[WrittenStep], room: Workroom
) -> Iterator[Finding]:
    """Steps that need what a later step does, or what lies between two of their own operations."""
    before = _all_needs(operations)
    titles = {operation.id: operation.title for operation in operations}
    for index, step in enumerate(steps):
        place = _index_of(step, room)
        for own in sorted(step.ids):
            for later in steps[index + 1 :]:
                wanted = sorted(before[own] & later.ids)
                if wanted:
                    need = titles[wanted[0]]
                    yield _too_late(room, place, own=titles[own], need=need, later=later.title)
            for need in sorted(before[own] - step.ids):
                if before[need] & step.ids:
                    yield _in_between(room, place, titles[need], titles[own])


def _all_needs(operations: Sequence[Operation]) -> dict[str, frozenset[str]]:
    """Everything that comes before each operation, however far."""
    direct = {operation.id: operation.needs for operation in operations}
    known: dict[str, frozenset[str]] = {}
    waiting = list(direct)
    while waiting:
        own = waiting[-1]
        open_needs = [need for need in direct[own] if need not in known]
        if own not in known and open_needs:
            waiting += open_needs
            continue
        waiting.pop()
        known[own] = frozenset(direct[own]).union(*(known[need] for need in direct[own]))
    return known


def _index_of(step: WrittenStep, room: Workroom) -> int:
    return next(i for i, own in enumerate(room.plan.steps) if own.title == step.title)


def _too_late(room: Workroom, index: int, *, own: str, need: str, later: str) -> Finding:
    title = room.plan.steps[index].title
    return _finding(
        room,
        "S504",
        f"steps[{index}]",
        f"step {index + 1}, `{title}`: `{own}` needs `{need}`, which the later step `{later}` "
        "covers",
        remedy=f"Move the step `{later}` before this one.",
    )


def _in_between(room: Workroom, index: int, between: str, own: str) -> Finding:
    title = room.plan.steps[index].title
    return _finding(
        room,
        "S505",
        f"steps[{index}]",
        f"step {index + 1}, `{title}`: `{between}` comes between its operations, before `{own}`",
        remedy="Cover that operation too, or split the step in two.",
    )


def _quote(words: Sequence[str]) -> str:
    return ", ".join(f"`{word}`" for word in words)
