"""What is said of saw cuts: how the saw is set, what is cut, how it is checked.

Takes saw cuts made at one setting, gives sentences and the setting. Must not know drafts or facts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.cutting.records import CutDirection
from benchleaf.cutting.trees import FAR, NEAR
from benchleaf.reading.plan import StockKind
from benchleaf.sequencing.cut_lines import cut_lines, name_holders, number_runs, show_size
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.saw_limits import CrossSaw, say_stop
from benchleaf.sequencing.sawcuts import Machine, SawCut, mass_of_cut, why_broken_down
from benchleaf.sequencing.wording import MOST_WORDS, count_words, join_words
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shops.records import MitreSaw

# chosen: narrower than a hand is wide, an offcut is not put by.
WORTH_KEEPING_MM: Final = 75


@dataclass(frozen=True, slots=True, kw_only=True)
class SawWords:
    """The words of one saw operation."""

    actions: list[str]
    check: str
    settings: tuple[Setting, ...]


def square_words(cuts: Sequence[SawCut]) -> SawWords:
    """Squaring the left ends of boards or rods."""
    by_stock: dict[str, list[SawCut]] = {}
    for cut in cuts:
        by_stock.setdefault(cut.stock.name, []).append(cut)
    actions = [
        *(f"Square the left end of {_squared(own)}." for own in by_stock.values()),
        "Take off as little as cleans it, and mark it: all lengths are measured from it.",
    ]
    return SawWords(actions=actions, check="A try square shows no light at the end.", settings=())


def _squared(cuts: Sequence[SawCut]) -> str:
    """Boards by number, and the cut's number where it is the same on all."""
    holders = name_holders(list(dict.fromkeys(cut.holder for cut in cuts)))
    numbers = {cut.made.cut for cut in cuts}
    return f"{holders} (cut {min(numbers)})" if len(numbers) == 1 else holders


def setting_words(cuts: Sequence[SawCut], room: Workroom) -> SawWords:
    """All cuts at one setting of fence or stop."""
    size = room.say.length(cuts[0].setting_mm)
    actions = [
        *_set_words(cuts, size, room),
        *_side_words(cuts),
        *_unsquared_words(cuts),
        *cut_lines(cuts, room),
        *_turn_words(cuts),
        *_mark_words(cuts, room),
    ]
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
        # A reader's own saw may be less than the usual one; a shop that tells its saws knows them.
        if room.shop.is_assumed and widest > MitreSaw().rigid_mm:
            wide = room.say.length(widest)
            yield f"On a saw that does not slide far enough for {wide}, saw along a clamped guide."
    else:
        # A cut that only squares an end leaves a rough one: its length is from the far end.
        sides = _near_sides(cuts) or _far_sides(cuts)
        yield f"Mark {size} from the {join_words(sides, 'or')}, at both sides, for each cut."
        yield "Clamp a guide square to the marks, so that the blade runs on the waste side."


def _near_sides(cuts: Sequence[SawCut]) -> list[str]:
    return list(dict.fromkeys(NEAR[cut.direction] for cut in cuts if not cut.only_squares))


def _far_sides(cuts: Sequence[SawCut]) -> list[str]:
    return list(dict.fromkeys(FAR[cut.direction] for cut in cuts if cut.only_squares))


def _side_words(cuts: Sequence[SawCut]) -> Iterator[str]:
    """Which side of a piece goes against fence or stop."""
    sides = _near_sides(cuts)
    if cuts[0].stock.kind is not StockKind.SHEET or not sides:
        return
    sources = {(cut.holder, cut.source) for cut in cuts}
    each = "each piece" if len(sources) > 1 else cuts[0].source or "the sheet"
    if cuts[0].machine is Machine.RIP:
        yield f"Run the {join_words(sides, 'or')} of {each} along the fence."
    elif cuts[0].machine is not Machine.CUT_PANELS:
        yield f"Push the {join_words(sides, 'or')} of {each} up to the stop."


def _unsquared_words(cuts: Sequence[SawCut]) -> Iterator[str]:
    """A first cut on a board without one that squares its end: the end must do as it is."""
    first = [cut for cut in cuts if cut.made.cut == 1 and cut.stock.kind is StockKind.BOARD]
    if first and first[0].direction is CutDirection.ACROSS:
        holders = name_holders([cut.holder for cut in first])
        yield f"Try the left end of {holders} with a square: no wood can be spared to true it."


def _turn_words(cuts: Sequence[SawCut]) -> Iterator[str]:
    turned = [cut for cut in cuts if cut.only_squares and cut.stock.kind is StockKind.SHEET]
    if not turned:
        return
    names = join_words(list(dict.fromkeys(cut.source or f"the {cut.stock.kind}" for cut in turned)))
    far = join_words(_far_sides(turned), "then")
    if turned[0].machine is Machine.CUT_PANELS:
        # Along a guide there is no stop; where all cuts are such, the marks tell it already.
        if _near_sides(cuts):
            yield f"On {names}, measure from the {far}."
    else:
        what = "fence" if turned[0].machine is Machine.RIP else "stop"
        yield f"On {names}, keep the {far} against the {what}."


def _mark_words(cuts: Sequence[SawCut], room: Workroom) -> Iterator[str]:
    if any(room.blanks[label].is_hardware for cut in cuts for label in cut.freed):
        yield "Chamfer both ends of every peg lightly with sandpaper."
    elif cuts[0].stock.kind is StockKind.SHEET:
        yield "Write its name on each piece, the way up that the cutting diagram has it."
    elif any(cut.freed for cut in cuts):
        yield "Mark each piece."


def _check_words(cuts: Sequence[SawCut], size: str) -> str:
    is_one = len(cuts) == 1
    if cuts[0].machine is Machine.RIP:
        what = "The strip measures" if is_one else "Every strip measures"
        return f"{what} {size} at both ends."
    if is_one:
        return f"The piece measures {size}."
    if cuts[0].machine is Machine.CUT_RODS:
        return f"The first and the last piece both measure {size}."
    return "Stood side by side, the pieces show no step."


# Breaking down.


def lay_down(cut: SawCut) -> Iterator[str]:
    """Making a sheet ready."""
    yield f"Lay {cut.holder} on a full bed of foam or battens."
    yield "Mark the left end and the near edge, as the cutting diagram has them."


def say_why(cut: SawCut, room: Workroom) -> tuple[Setting, ...]:
    """Why a sheet is sawn where it lies; nothing where there is no table saw to bring it to."""
    saw = room.shop.table_saw
    why = why_broken_down(cut, room) if saw else ""
    mass_kg = mass_of_cut(cut, room)
    if saw is None or not why:
        return ()
    if why == "mass" and mass_kg is not None:
        most = room.say.mass(float(saw.carries_kg))
        text = f"{room.say.mass(mass_kg)}; the table saw carries {most} alone"
    else:
        sides = " × ".join(map(room.say.plain, saw.panel_mm))
        text = f"the table saw carries {sides} {room.plan.units} alone"
    return (Setting(name="sawn where it lies", value_mm=None, text=text),)


def say_moved_on(cuts: Sequence[SawCut], room: Workroom) -> Iterator[str]:
    """What to do where a guide is shorter than a cut."""
    saw = room.shop.circular_saw
    if saw and max(cut.length_mm for cut in cuts) > saw.guide_mm:
        yield "Where the guide is too short, move it on in line, and saw the rest."


def break_down_run(run: Sequence[SawCut], room: Workroom) -> str:
    """Cuts of a break-down that follow one another down one piece, all at one setting."""
    cut = run[0]
    if cut.only_squares:
        taken = room.say.length(cut.trimmed_mm)
        return f"Cut {cut.made.cut}: trim {taken} off the {NEAR[cut.direction]} of {_piece(cut)}."
    say = _part_words if len(run) == 1 else _parts_words
    lines = [say(run, room, has_size=has_size) for has_size in (True, False)]
    return next((line for line in lines if count_words(line) <= MOST_WORDS), lines[-1])


def _part_words(run: Sequence[SawCut], room: Workroom, *, has_size: bool) -> str:
    cut = run[0]
    way = "across" if cut.direction is CutDirection.ACROSS else "along"
    at = f"{room.say.length(cut.setting_mm)} from its {NEAR[cut.direction]}"
    names = [side.name for side in (cut.first, cut.second) if side and not side.is_waste]
    gives = f"; gives {join_words(names)}" if names != [cut.source] else _rest_words(cut)
    size = _size(cut, room) if has_size else ""
    return f"Cut {cut.made.cut}: saw {way} {_piece(cut)}{size} {at}{gives}."


def _rest_words(cut: SawCut) -> str:
    is_large = cut.rest is not None and cut.rest.extent_mm >= WORTH_KEEPING_MM
    return "; the rest is an offcut" if is_large else "; the rest is waste"


def _parts_words(run: Sequence[SawCut], room: Workroom, *, has_size: bool) -> str:
    first, rest = run[0], run[-1].rest
    way = "long" if first.direction is CutDirection.ACROSS else "wide"
    size = _size(first, room) if has_size else ""
    names = join_words([cut.kept.name or _piece(cut) for cut in run if cut.kept])
    left = f"; {rest.name} is left" if rest and not rest.is_waste else ""
    numbers = number_runs([cut.made.cut for cut in run])
    each = f"each {room.say.length(first.setting_mm)} {way}"
    return f"Cuts {numbers}: saw {names} off {_piece(first)}{size}, {each}{left}."


def _size(cut: SawCut, room: Workroom) -> str:
    return f" ({show_size(cut, room)})" if cut.source else ""


def _piece(cut: SawCut) -> str:
    return cut.source or "the sheet"
