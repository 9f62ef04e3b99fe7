"""Operations gathered into steps of a page each, with titles that say what is made.

Takes operations in order, gives Steps. Must not know how the order came about.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.sequencing.blank_names import name_blanks
from benchleaf.sequencing.drafting import OperationKind
from benchleaf.sequencing.paging import part_into_pages
from benchleaf.sequencing.records import Operation, Step
from benchleaf.sequencing.wording import join_words, make_slug, sort_marks
from benchleaf.sequencing.workroom import Workroom

# chosen: pages cut their addresses at sixty letters; this leaves room for a number.
_LONGEST_SLUG: Final = 56
_FIT_ALONE: Final = frozenset({"assembly", "breaking down"})
_SIZES: Final = ("true-thickness", "true-width", "true-length")
# Where all of a step is one sort of its family's work.
_WORK_TITLES: Final = {
    "true-width": "Bring {} to width",
    "true-length": "Cut {} to length",
    "drill-openings": "Drill out the openings in {}",
    "drill-waste": "Drill out the mortises in {}",
    "countersink": "Countersink the holes in {}",
}
# Where a page holds some of a family's work: the first row that has all kinds of it.
_RUN_TITLES: Final = (
    (frozenset({"saw-shoulders"}), "Saw the{deep} shoulders of {}"),
    (frozenset({"pare-shoulders"}), "Pare {} down to the shoulders"),
    (frozenset({"saw-shoulders", "pare-shoulders"}), "Cut the{deep} shoulders of {}"),
    (frozenset({"saw-shoulders", "pare-shoulders", "trim-tenons"}), "Saw the tenons of {}"),
    (frozenset({"fit-tenons"}), "Fit the tenons of {}"),
    (frozenset({"fit-tenons", "drill-drawn-holes"}), "Fit and drill the tenons of {}"),
    (frozenset({"fit-tenons", "saw-wedge-slots"}), "Fit and slot the tenons of {}"),
)
_TITLES: Final = {
    "sawing": "Saw out {}",
    "gluing layers": "Glue up {}",
    "truing": "Bring {} to size",
    "setting out": "Set out {}",
    "routing": "Rout {}",
    "mortises": "Cut the square holes in {}",
    "tenons": "Shape {}",
    "laps": "Lap {}",
    "notches": "Notch {}",
    "mitres": "Mitre {}",
    "clearance": "Take clearance off {}",
    "slots": "Cut slots in {}",
    "holes": "Drill {}",
    "sanding": "Sand {}",
    "dry fit": "Dry fit {}",
}
_JOINT_TITLES: Final = {
    "assemble": "Glue up {}",
    "screw-together": "Screw together {}",
    "bolt-together": "Bolt together {}",
    "set-in-place": "Set up {}",
    "drill-pilots": "Drill pilot holes in {}",
    "saw-key-slots": "Key the corners of {}",
}
_FINISH: Final = "Put on the finish"
_STRIPS: Final = "Saw strips of {}"


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenStep:
    """An author's step: its words, and the operations it covers."""

    title: str
    text: str
    ids: frozenset[str]


def make_steps(
    operations: Sequence[Operation],
    kinds: Mapping[str, OperationKind],
    room: Workroom,
    written: Sequence[WrittenStep] = (),
) -> tuple[Step, ...]:
    """Gather operations into steps."""
    runs = list(_pages(operations, kinds, room, written))
    titles = _distinct([_title(run, kinds, room, written) for run in runs])
    slugs = _distinct_slugs(titles)
    notes = _joint_notes(runs, room)
    return tuple(
        _step(number, run, kinds, words=(title, slug), notes=(*_own_text(run, written), *said))
        for number, (run, title, slug, said) in enumerate(
            zip(runs, titles, slugs, notes, strict=True), start=1
        )
    )


def _pages(
    operations: Sequence[Operation],
    kinds: Mapping[str, OperationKind],
    room: Workroom,
    written: Sequence[WrittenStep],
) -> Iterator[list[Operation]]:
    """Operations that are done together; those of an author's step on one page, however many."""
    stretches: list[list[Operation]] = []
    for operation in operations:
        if stretches and _goes_with(stretches[-1][-1], operation, kinds, room, written=written):
            stretches[-1].append(operation)
        else:
            stretches.append([operation])
    for stretch in stretches:
        if _written_for(stretch, written):
            yield stretch
        else:
            yield from part_into_pages(stretch, lambda one: _work_of(one, kinds))


def _work_of(operation: Operation, kinds: Mapping[str, OperationKind]) -> str:
    """What an operation is about within its family: a machine, a size, or its kind."""
    family = kinds[operation.kind].family
    if family == "sawing":
        return operation.tool
    if family == "truing":
        return next(code for code in _SIZES if operation.kind.startswith(code))
    return operation.kind


def _own_text(run: Sequence[Operation], written: Sequence[WrittenStep]) -> tuple[str, ...]:
    author = _written_for(run, written)
    return (author.text,) if author is not None and author.text else ()


def _joint_notes(runs: Sequence[Sequence[Operation]], room: Workroom) -> list[tuple[str, ...]]:
    """The author's notes on joints, each where the joint is first closed."""
    seen: set[int] = set()
    notes: list[tuple[str, ...]] = []
    for run in runs:
        closed = {joint for operation in run if operation.joined for joint in operation.joints}
        fresh = sorted(closed - seen)
        seen |= closed
        said = [room.joinery.piece.joints[joint].note for joint in fresh]
        notes.append(tuple(dict.fromkeys(filter(None, said))))
    return notes


def _written_for(run: Sequence[Operation], written: Sequence[WrittenStep]) -> WrittenStep | None:
    return next((step for step in written if run[0].id in step.ids), None)


def _goes_with(
    last: Operation,
    operation: Operation,
    kinds: Mapping[str, OperationKind],
    room: Workroom,
    *,
    written: Sequence[WrittenStep],
) -> bool:
    mine, its = _written_for([last], written), _written_for([operation], written)
    if mine is not None or its is not None:
        return mine is its
    before, now = kinds[last.kind], kinds[operation.kind]
    if (before.phase, before.family) != (now.phase, now.family):
        return False
    return _is_alike(last, operation, now.family, room)


def _is_alike(last: Operation, operation: Operation, family: str, room: Workroom) -> bool:
    """Tell whether an operation is about the same wood as the last, as far as its family asks."""
    if last.kind == "drill-pilots" and operation.kind == "screw-together":
        return last.id in operation.needs
    if family in _FIT_ALONE:
        return last.kind == operation.kind and _parts(last, room) == _parts(operation, room)
    return {cut.stock for cut in last.cuts} == {cut.stock for cut in operation.cuts}


def _parts(operation: Operation, room: Workroom) -> tuple[str, ...]:
    return tuple(part.name for part, _ in room.parts_among(operation.copies))


def _title(
    run: Sequence[Operation],
    kinds: Mapping[str, OperationKind],
    room: Workroom,
    written: Sequence[WrittenStep],
) -> str:
    author = _written_for(run, written)
    if author is not None and author.title:
        return author.title
    family = kinds[run[0].kind].family
    if family == "finishing":
        return _FINISH
    title = _TITLES.get(family) or _JOINT_TITLES.get(run[-1].kind)
    is_grown = len({operation.kind for operation in run}) > 1 and family == "assembly"
    if len(run) == 1 or title is None or is_grown:
        return run[-1].title
    if family == "sawing":
        return _saw_title(run, room)
    works = {_work_of(operation, kinds) for operation in run}
    held = {operation.kind for operation in run}
    title = next((words for row, words in _RUN_TITLES if held <= row), title)
    if len(works) == 1:
        title = _WORK_TITLES.get(works.pop(), title)
    groups = [room.groups.get(frozenset(operation.copies)) for operation in run]
    if family in {"assembly", "dry fit"} and all(groups):
        return title.format(join_words([own.called for own in groups if own is not None]))
    marks = sort_marks(mark for operation in run for mark in operation.copies)
    return title.format(room.name_copies(marks), deep=_depths(run, room))


def _depths(run: Sequence[Operation], room: Workroom) -> str:
    """How deep the shoulders are that a page saws, to tell it from the part's other pages."""
    deep = sorted(
        {
            setting.value_mm
            for operation in run
            if operation.kind == "saw-shoulders"
            for setting in operation.settings
            if setting.name == "blade height" and setting.value_mm is not None
        }
    )
    return f" {room.say.lengths(deep)}" if deep else ""


def _saw_title(run: Sequence[Operation], room: Workroom) -> str:
    freed = [label for operation in run for label in operation.blanks]
    if freed:
        return f"Saw out {name_blanks(freed, room)}"
    return _STRIPS.format(room.stock_named(run[0].cuts[0].stock).name)


def _distinct(titles: Sequence[str]) -> list[str]:
    """Number titles that come back: `Saw out the legs`, `Saw out the legs, part 2`."""
    seen: dict[str, int] = {}
    out = []
    for title in titles:
        count = seen[title] = seen.get(title, 0) + 1
        out.append(title if count == 1 else f"{title}, part {count}")
    return out


def _distinct_slugs(titles: Sequence[str]) -> list[str]:
    slugs: list[str] = []
    for title in titles:
        slug = base = _shorten(make_slug(title))
        number = 2
        while slug in slugs:
            slug = f"{base}-{number}"
            number += 1
        slugs.append(slug)
    return slugs


def _shorten(slug: str) -> str:
    """A slug that leaves room for a number, cut at the end of a word."""
    if len(slug) <= _LONGEST_SLUG:
        return slug
    return slug[: _LONGEST_SLUG + 1].rpartition("-")[0] or slug[:_LONGEST_SLUG]


def _step(
    number: int,
    run: Sequence[Operation],
    kinds: Mapping[str, OperationKind],
    *,
    words: tuple[str, str],
    notes: tuple[str, ...],
) -> Step:
    return Step(
        number=number,
        slug=words[1],
        phase=kinds[run[0].kind].phase,
        title=words[0],
        operations=tuple(run),
        copies=sort_marks(mark for operation in run for mark in operation.copies),
        joined=sort_marks(mark for operation in run for mark in operation.joined),
        moved=sort_marks(mark for operation in run for mark in operation.moved),
        notes=notes,
    )
