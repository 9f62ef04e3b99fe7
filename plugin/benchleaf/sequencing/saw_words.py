"""What is said of saw cuts: which piece, how wide, which mark comes off.

Takes saw cuts made at one setting, gives sentences and the setting. Must not know drafts or facts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.cutting.records import CutDirection
from benchleaf.reading.plan import StockKind
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.saw_limits import WIDEST_MITRE_MM, CrossSaw, say_stop
from benchleaf.sequencing.sawcuts import Machine, SawCut
from benchleaf.sequencing.wording import join_marks, join_words, sort_marks
from benchleaf.sequencing.workroom import Workroom

# chosen: how a sheet's cuts are named wherever they are spoken of.
_START: Final = {CutDirection.ACROSS: "start end", CutDirection.ALONG: "start edge"}
_FAR: Final = {CutDirection.ACROSS: "far end", CutDirection.ALONG: "far edge"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SawWords:
    """The words of one saw operation."""

    actions: list[str]
    check: str
    settings: tuple[Setting, ...]


def square_words(cuts: Sequence[SawCut]) -> SawWords:
    """Squaring the start of boards or rods."""
    holders = _name_holders(list(dict.fromkeys(cut.holder for cut in cuts)))
    actions = [
        f"Square one end of {holders}, taking off as little as cleans it.",
        "Mark that end: all lengths are measured from it.",
    ]
    return SawWords(actions=actions, check="A try square shows no light at the end.", settings=())


def setting_words(cuts: Sequence[SawCut], room: Workroom) -> SawWords:
    """All cuts at one setting of fence or stop."""
    size = room.say.length(cuts[0].setting_mm)
    actions = [
        *_set_words(cuts, size, room),
        *_pass_words(cuts, room),
        *_mark_words(cuts, room),
    ]
    if cuts[0].machine is Machine.CUT_RODS:
        actions.append("Chamfer both ends of every peg lightly with sandpaper.")
    setting = Setting(name=_SETTINGS[cuts[0].machine], value_mm=cuts[0].setting_mm)
    return SawWords(actions=actions, check=_check_words(cuts, size), settings=(setting,))


_SETTINGS: Final = {
    Machine.RIP: "fence",
    Machine.CROSSCUT: "stop",
    Machine.CUT_BOARDS: "stop",
    Machine.CUT_PANELS: "length",
    Machine.CUT_RODS: "stop",
}


def _set_words(cuts: Sequence[SawCut], size: str, room: Workroom) -> Iterator[str]:
    """How the saw is set up."""
    machine, setting = cuts[0].machine, cuts[0].setting_mm
    if machine is Machine.RIP:
        yield f"Set the fence {size} from the blade."
    elif machine is Machine.CUT_RODS:
        yield f"Clamp a stop to the bench hook, {size} from the saw's kerf."
    elif machine is Machine.CROSSCUT:
        yield say_stop(CrossSaw.SLED, setting, size)
    elif machine is Machine.CUT_BOARDS:
        yield say_stop(CrossSaw.MITRE, setting, size)
        widest = max(cut.length_mm for cut in cuts)
        if widest > WIDEST_MITRE_MM:
            wide = room.say.length(widest)
            yield f"On a saw that does not slide far enough for {wide}, saw along a clamped guide."
    else:
        yield f"Mark {size} from the squared end, at both edges, for each cut."
        yield "Clamp a guide square to the marks, so that the blade runs on the waste side."


def _check_words(cuts: Sequence[SawCut], size: str) -> str:
    count = len(cuts)
    if cuts[0].machine is Machine.RIP:
        what = "Every strip" if count > 1 else "The strip"
        return f"{what} measures {size} at both ends."
    if count == 1:
        return f"The piece measures {size}."
    if cuts[0].machine is Machine.CUT_RODS:
        return f"The first and the last piece both measure {size}."
    return "Stood side by side, the pieces show no step."


def _pass_words(cuts: Sequence[SawCut], room: Workroom) -> Iterator[str]:
    """What is cut from which piece."""
    is_rip = cuts[0].machine is Machine.RIP
    verb, noun = ("Rip", "strip") if is_rip else ("Cut", "piece")
    if not _is_sheet(cuts[0]):
        yield from _board_words(cuts, room, is_rip=is_rip)
        return
    runs = _runs(cuts)
    many = len({cut.holder for cut in cuts}) > 1
    for run in (run for run in runs if len(run) > 1):
        numbers = _number_runs([cut.made.cut for cut in run])
        yield f"{verb} {len(run)} {noun}s off {_source(run[0], many)} (cuts {numbers})."
    single = [run[0] for run in runs if len(run) == 1]
    # chosen: four pieces named in one sentence keep it short.
    for start in range(0, len(single), 4):
        sources = list(dict.fromkeys(_source(cut, many) for cut in single[start : start + 4]))
        each = "each of " if len(sources) > 1 else ""
        yield f"{verb} one {noun} off {each}{join_words(sources)}."
    yield from _turn_words(cuts, is_rip=is_rip)


def _turn_words(cuts: Sequence[SawCut], *, is_rip: bool) -> Iterator[str]:
    turned = [cut for cut in cuts if cut.only_squares and cut.source]
    if turned:
        names = join_words([cut.source for cut in turned])
        edge = _FAR[turned[0].direction]
        yield f"On {names}, keep the {edge} against the {'fence' if is_rip else 'stop'}."


def _board_words(cuts: Sequence[SawCut], room: Workroom, *, is_rip: bool) -> Iterator[str]:
    """Boards and rods: how many lengths from which, or which lengths are ripped."""
    if is_rip:
        lengths: dict[Fraction, int] = {}
        for cut in cuts:
            lengths[cut.length_mm] = lengths.get(cut.length_mm, 0) + 1
        for length, count in lengths.items():
            shown = room.say.length(length)
            yield f"Rip {count} {'strip' if count == 1 else 'strips'} from the {shown} lengths."
        return
    counts: dict[str, int] = {}
    for cut in cuts:
        counts[cut.holder] = counts.get(cut.holder, 0) + 1
    for count in sorted(set(counts.values()), reverse=True):
        holders = [holder for holder, own in counts.items() if own == count]
        each = "each of " if len(holders) > 1 else ""
        number = f"{count} pieces" if count > 1 else "one piece"
        yield f"Cut {number} off {each}{_name_holders(holders)}."


def _is_sheet(cut: SawCut) -> bool:
    return cut.stock.kind is StockKind.SHEET


def _source(cut: SawCut, many: bool) -> str:
    if not cut.source:
        return cut.holder
    return f"{cut.source} of {cut.holder}" if many else cut.source


def _name_holders(holders: Sequence[str]) -> str:
    """Boards by number: `pine boards 1, 2 and 5`."""
    names: dict[str, list[str]] = {}
    for holder in holders:
        name, _, number = holder.rpartition(" ")
        if number.isdigit():
            names.setdefault(name, []).append(number)
        else:
            names.setdefault(holder, [])
    words = []
    for name, numbers in names.items():
        many = f"{name}s" if len(numbers) > 1 else name
        words.append(f"{many} {_number_runs([*map(int, numbers)])}".rstrip())
    return join_words(words)


def _number_runs(numbers: Sequence[int]) -> str:
    """Numbers in a row, runs of three and more shortened."""
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


def _runs(cuts: Sequence[SawCut]) -> list[list[SawCut]]:
    """Cuts that follow one another down one piece."""
    runs: list[list[SawCut]] = []
    tail: dict[object, list[SawCut]] = {}
    for cut in cuts:
        run = tail.pop(cut.parent, None) if cut.parent is not None else None
        if run is None:
            run = []
            runs.append(run)
        run.append(cut)
        tail[cut.made] = run
    return runs


def _mark_words(cuts: Sequence[SawCut], room: Workroom) -> Iterator[str]:
    labels = sort_marks(label for cut in cuts for label in cut.freed)
    copies = {room.blanks[label].copy for label in labels}
    if labels and copies <= set(room.marks):
        noun = "piece" if len(labels) == 1 else "pieces"
        yield f"Mark the {noun} {join_marks(labels, room.labels)}."
    sides = [
        side.name
        for cut in cuts
        for side in (cut.first, cut.second)
        if side and side.name and not side.is_blank and _is_sheet(cut)
    ]
    names = [name for name in sides if not any(cut.source == name for cut in cuts)]
    # chosen: more than six names in a sentence are not read.
    if len(names) > 6:
        yield "Chalk its cut's number and an `a` on every piece still to be cut."
    elif names:
        yield f"Chalk {join_words(names)} on what is still to be cut."


# Breaking down.


def lay_down(cut: SawCut) -> Iterator[str]:
    """Making a sheet ready."""
    yield f"Lay {cut.holder} on a full bed of foam or battens."
    yield "Mark one good corner; the layout's start end and start edge meet there."


def break_down_cut(cut: SawCut, room: Workroom) -> str:
    """One cut of a break-down."""
    piece = cut.source or "the sheet"
    start = _START[cut.direction]
    if cut.only_squares:
        waste = room.say.length(cut.across_mm - cut.setting_mm)
        return f"Trim {waste} off the {start} of {piece} (cut {cut.made.cut})."
    way = "across" if cut.direction is CutDirection.ACROSS else "along"
    names = [side.name for side in (cut.first, cut.second) if side and side.name]
    into = f": {join_words(names)}" if names else ""
    at = room.say.length(cut.setting_mm)
    return f"Cut {way} {piece} {at} from its {start} (cut {cut.made.cut}){into}."
