"""One line for each run of saw cuts: which cuts, off which piece, what comes of it.

Takes saw cuts made at one setting, gives sentences of 20 words at most. Must not know settings,
drafts or facts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from benchleaf.cutting.trees import NEAR
from benchleaf.lengths import UnitName, format_length
from benchleaf.reading.plan import StockKind
from benchleaf.sequencing.sawcuts import Machine, SawCut, Side
from benchleaf.sequencing.wording import MOST_WORDS, count_words, join_marks, join_words
from benchleaf.sequencing.workroom import Workroom


def cut_lines(cuts: Sequence[SawCut], room: Workroom) -> Iterator[str]:
    """What is cut from which piece.

    Args:
        cuts: Made at one setting, each after the cut that made its piece.
        room: For the names of blanks, and how lengths read.
    """
    if cuts[0].stock.kind is not StockKind.SHEET:
        yield from _board_lines(cuts, room)
        return
    words = _Words(room, is_alone=len({cut.holder for cut in cuts}) == 1)
    singles: list[SawCut] = []
    for run in find_runs(cuts):
        if len(run) > 1 or run[0].only_squares:
            yield from _flush(singles, words)
            yield from words.run(run)
        else:
            singles += run
    yield from _flush(singles, words)


def _flush(singles: list[SawCut], words: _Words) -> Iterator[str]:
    """Lines on pieces that are cut once each; leaves none waiting."""
    while singles:
        taken = 1
        while taken < len(singles) and words.goes_with(singles[: taken + 1]):
            taken += 1
        yield from words.run(singles[:taken]) if taken == 1 else (words.each(singles[:taken]),)
        del singles[:taken]


def find_runs(cuts: Sequence[SawCut]) -> list[list[SawCut]]:
    """Cuts that follow one another down one piece."""
    runs: list[list[SawCut]] = []
    tail: dict[object, list[SawCut]] = {}
    for cut in cuts:
        run = tail.pop(cut.parent, None) if cut.parent is not None else None
        if run is not None and not _is_rest_of(run[-1], cut):
            run = None
        if run is None:
            run = []
            runs.append(run)
        run.append(cut)
        tail[cut.made] = run
    return runs


def _is_rest_of(before: SawCut, cut: SawCut) -> bool:
    """Tell whether a cut is made on what the one before left, and at the same setting."""
    rest = before.rest
    if rest is None or rest.is_waste or before.only_squares or rest.name != cut.source:
        return False
    return (before.direction, before.setting_mm) == (cut.direction, cut.setting_mm)


@dataclass(frozen=True, slots=True)
class _Words:
    """How the cuts of one operation are worded."""

    room: Workroom
    is_alone: bool
    """True where all cuts are on one sheet."""

    def run(self, run: Sequence[SawCut]) -> Iterator[str]:
        """A run of cuts down one piece, in as few lines as there may be."""
        for has_size in (True, False):
            line = self._run_line(run, has_size=has_size)
            if count_words(line) <= MOST_WORDS:
                yield line
                return
        if len(run) == 1:
            yield line
            return
        half = len(run) // 2
        yield from self.run(run[:half])
        yield from self.run(run[half:])

    def _run_line(self, run: Sequence[SawCut], *, has_size: bool) -> str:
        first, rest = run[0], run[-1].rest
        size = f" ({show_size(first, self.room)})" if has_size else ""
        left = f"; {_name(rest, first)} is left" if rest and not rest.is_waste else ""
        if first.only_squares:
            edge = NEAR[first.direction]
            return f"{self._head(run)}: trim the {edge} of {_source(first)}{size}."
        if _keeps_name(first):
            way = "width" if first.machine is Machine.RIP else "length"
            return f"{self._head(run)}: {_verb(run)} {_source(first)}{size} to {way}."
        off = f"{_verb(run)} {self._given(run)} off {_source(first)}{size}"
        return f"{self._head(run)}: {off}{left}."

    def goes_with(self, cuts: Sequence[SawCut]) -> bool:
        """Tell whether several pieces can be named in one line."""
        same_holder = len({cut.holder for cut in cuts}) == 1
        same_kind = len({_keeps_name(cut) for cut in cuts}) == 1
        return same_holder and same_kind and count_words(self.each(cuts)) <= MOST_WORDS

    def each(self, cuts: Sequence[SawCut]) -> str:
        """Several pieces that are cut once each."""
        given = join_words([_name(cut.kept, cut) for cut in cuts])
        sources = join_words([_source(cut) for cut in cuts])
        if all(map(_keeps_name, cuts)):
            way = "width" if cuts[0].machine is Machine.RIP else "length"
            return f"{self._head(cuts)}: {_verb(cuts)} {sources} to {way}."
        rests = [cut.rest.name for cut in cuts if cut.rest and cut.rest.name]
        left = f"; {join_words(rests)} {_are(rests)} left" if rests else ""
        return f"{self._head(cuts)}: {_verb(cuts)} {given} off {sources} in turn{left}."

    def _head(self, cuts: Sequence[SawCut]) -> str:
        numbers = number_runs([cut.made.cut for cut in cuts])
        noun = "cut" if len(cuts) == 1 else "cuts"
        if self.is_alone:
            return f"{noun.capitalize()} {numbers}"
        return f"On {cuts[0].holder}, {noun} {numbers}"

    def _given(self, run: Sequence[SawCut]) -> str:
        """What comes off: blanks first, then pieces to be cut further."""
        kept = [cut.kept for cut in run if cut.kept]
        blanks = [side.name for side in kept if side.is_blank]
        names = [side.name for side in kept if not side.is_blank]
        marks = [join_marks(blanks, self.room.labels)] if blanks else []
        return join_words([*marks, *names]) if names else "".join(marks)


def _keeps_name(cut: SawCut) -> bool:
    """Tell whether a piece only loses waste, and is to be cut further."""
    return cut.kept is not None and not cut.kept.is_blank and cut.kept.name == cut.source


def _are(names: Sequence[str]) -> str:
    return "is" if len(names) == 1 else "are"


def _verb(cuts: Sequence[SawCut]) -> str:
    return "rip" if cuts[0].machine is Machine.RIP else "cut"


def _source(cut: SawCut) -> str:
    return cut.source or f"the {cut.stock.kind}"


def _name(side: Side | None, cut: SawCut) -> str:
    """What a side is called; the whole keeps its name."""
    return side.name if side and side.name else f"the {cut.stock.kind}"


def show_size(cut: SawCut, room: Workroom) -> str:
    """Size of the piece that is cut: `44-1/4 × 15-1/4 in`."""
    units: UnitName = room.plan.units.value
    long, short = (format_length(side, units) for side in cut.size_mm)
    return f"{long} × {short} {units}"


# Boards and rods.


def _board_lines(cuts: Sequence[SawCut], room: Workroom) -> Iterator[str]:
    if cuts[0].machine is Machine.RIP:
        yield from _board_rips(cuts, room)
        return
    by_holder: dict[str, list[SawCut]] = {}
    for cut in cuts:
        by_holder.setdefault(cut.holder, []).append(cut)
    alike: dict[tuple[int, ...], list[str]] = {}
    for holder, own in by_holder.items():
        alike.setdefault(tuple(cut.made.cut for cut in own), []).append(holder)
    for numbers, holders in alike.items():
        yield from _board_line(numbers, [by_holder[holder] for holder in holders], room)


def _board_line(
    numbers: Sequence[int], boards: Sequence[Sequence[SawCut]], room: Workroom
) -> Iterator[str]:
    """The same cuts on several boards: in one line, or in several where their marks are many."""
    holders = name_holders([own[0].holder for own in boards])
    each = "each of " if len(boards) > 1 else ""
    noun = "cut" if len(numbers) == 1 else "cuts"
    count = f"{len(numbers)} pieces" if len(numbers) > 1 else "one piece"
    head = f"Cut {count} off {each}{holders}"
    if boards[0][0].stock.kind is StockKind.BOARD:
        head = f"{head}, {noun} {number_runs(numbers)}"
    line = f"{head}{_for_what([cut for own in boards for cut in own], room)}."
    if count_words(line) <= MOST_WORDS or len(boards) == 1:
        yield line
        return
    half = len(boards) // 2
    yield from _board_line(numbers, boards[:half], room)
    yield from _board_line(numbers, boards[half:], room)


def _for_what(cuts: Sequence[SawCut], room: Workroom) -> str:
    """The marks of what is cut, or of what it will be cut into; nothing for pegs."""
    held = [label for cut in cuts if cut.kept for label in cut.kept.holds]
    if any(room.blanks[label].is_hardware for label in held):
        return ""
    is_whole = all(cut.kept and cut.kept.is_blank for cut in cuts)
    return f"{':' if is_whole else ', for'} {join_marks(held, room.labels)}"


def _board_rips(cuts: Sequence[SawCut], room: Workroom) -> Iterator[str]:
    lengths: dict[tuple[object, str], list[SawCut]] = {}
    for cut in cuts:
        lengths.setdefault((cut.length_mm, cut.stock.name), []).append(cut)
    for (_, stock), own in lengths.items():
        shown = room.say.length(own[0].length_mm)
        marks = [label for cut in own for label in cut.freed]
        strips = "one strip" if len(own) == 1 else f"{len(own)} strips"
        what = join_marks(marks, room.labels) if marks else strips
        yield f"Rip {what} off the {shown} lengths of {stock}."


# Names in a row.


def name_holders(holders: Sequence[str]) -> str:
    """Boards by number: `pine boards 1, 2 and 5`."""
    names: dict[str, list[int]] = {}
    for holder in holders:
        name, _, number = holder.rpartition(" ")
        if number.isdigit():
            names.setdefault(name, []).append(int(number))
        else:
            names.setdefault(holder, [])
    words = []
    for name, numbers in names.items():
        many = f"{name}s" if len(numbers) > 1 else name
        words.append(f"{many} {number_runs(numbers)}".rstrip())
    return join_words(words)


def number_runs(numbers: Sequence[int]) -> str:
    """Numbers in a row, runs of three and more shortened.

    >>> number_runs([4, 1, 2, 3, 9])
    '1 to 4 and 9'
    """
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    words: list[str] = []
    for run in runs:
        words += [f"{run[0]} to {run[-1]}"] if len(run) > 2 else map(str, run)
    return join_words(words)
