"""Operations that saw blanks out of stock: break down, rip, crosscut, cut boards and rods.

Takes the cut plan by way of its saw cuts, gives drafts grouped by setting. Must not know joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil
from typing import Final

from benchleaf.reading.plan import Stock
from benchleaf.sequencing.blank_names import name_blanks
from benchleaf.sequencing.cut_lines import find_runs
from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    Thing,
    Work,
    blank_cut,
    copy_sized,
    cut_made,
    draft,
)
from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.records import Fact
from benchleaf.sequencing.saw_words import (
    SawWords,
    break_down_run,
    lay_down,
    say_moved_on,
    say_why,
    setting_words,
    square_words,
)
from benchleaf.sequencing.sawcuts import Machine, SawCut, find_cuts
from benchleaf.sequencing.sawgroups import CutGroup, group_cuts
from benchleaf.sequencing.wording import join_words, make_slug
from benchleaf.sequencing.workroom import Workroom, mass_of_mm3

_SAWS: Final[dict[str, Fact]] = {
    **MACHINED,
    "cut.through": True,
}
_BY_HAND: Final[dict[str, Fact]] = {"op.makes_dust": True, "cut.through": True}

# Minutes chosen: what a careful beginner takes to set a machine, and for each cut with its marking.
BREAK_DOWN: Final = OperationKind(
    code="break-down",
    phase="stock",
    family="breaking down",
    tool="circular saw",
    minutes=15,
    minutes_each=6,
    says={**_SAWS, "cut.kind": "break down"},
)
RIP: Final = OperationKind(
    code="rip",
    phase="stock",
    family="sawing",
    tool="table saw",
    minutes=5,
    minutes_each=2,
    says={**_SAWS, "cut.kind": "rip", "stock.edge_straight": True},
)
CROSSCUT: Final = OperationKind(
    code="crosscut",
    phase="stock",
    family="sawing",
    tool="table saw",
    minutes=5,
    minutes_each=2,
    says={**_SAWS, "cut.kind": "crosscut", "stock.edge_straight": True, "op.uses_stop": True},
)
CUT_BOARDS: Final = OperationKind(
    code="cut-boards",
    phase="stock",
    family="sawing",
    tool="mitre saw",
    minutes=5,
    minutes_each=2,
    says={**_SAWS, "cut.kind": "crosscut", "op.uses_stop": True},
)
CUT_PANELS: Final = OperationKind(
    code="cut-panels",
    phase="stock",
    family="sawing",
    tool="circular saw",
    minutes=10,
    minutes_each=5,
    says={**_SAWS, "cut.kind": "crosscut"},
)
CUT_RODS: Final = OperationKind(
    code="cut-rods",
    phase="stock",
    family="rods",
    tool="hand saw",
    minutes=5,
    minutes_each=1,
    says={**_BY_HAND, "cut.kind": "crosscut", "op.uses_stop": True},
)
_KINDS: Final = {
    Machine(kind.code): kind
    for kind in (BREAK_DOWN, RIP, CROSSCUT, CUT_BOARDS, CUT_PANELS, CUT_RODS)
}
# chosen: with two lines that make the sheet ready, what a page still shows at one glance.
_MOST_RUNS: Final = 10


def plan_sawing(room: Workroom) -> Iterator[Draft]:
    """Plan every saw cut of the cut plan, and blanks that are whole sheets or boards."""
    cuts = find_cuts(room)
    large = [cut for cut in cuts if cut.machine is Machine.BREAK_DOWN]
    for holder in dict.fromkeys(cut.holder for cut in large):
        yield from _break_down([cut for cut in large if cut.holder == holder], room)
    for group in group_cuts([cut for cut in cuts if cut.machine is not Machine.BREAK_DOWN]):
        yield _sawn_group(group, room)


# Breaking down.


def _break_down(cuts: list[SawCut], room: Workroom) -> Iterator[Draft]:
    runs = find_runs(sorted(cuts, key=lambda cut: cut.made.cut))
    pages = ceil(len(runs) / _MOST_RUNS)
    for page in range(pages):
        part = runs[len(runs) * page // pages : len(runs) * (page + 1) // pages]
        first = part[0][0]
        yield _saw_draft(
            BREAK_DOWN,
            f"Break down {first.holder}{' further' if page else ''}",
            [cut for run in part for cut in run],
            room,
            words=SawWords(
                actions=[
                    *([] if page else lay_down(first)),
                    *(break_down_run(run, room) for run in part),
                    *say_moved_on([cut for run in part for cut in run], room),
                ],
                check="Every piece has straight edges and carries its name.",
                settings=() if page else say_why(first, room),
            ),
        )


# Groups at one setting.


def _sawn_group(group: CutGroup, room: Workroom) -> Draft:
    machine, squares = group.key[0], group.key[1]
    if squares:
        title = f"Square the ends of {_stock_words(group.cuts)}"
        words = square_words(group.cuts)
    else:
        title = _group_title(group, room)
        words = setting_words(group.cuts, room)
    return _saw_draft(_KINDS[machine], title, list(group.cuts), room, words=words)


def _group_title(group: CutGroup, room: Workroom) -> str:
    """What is made: parts by name, or strips and lengths that go on to another cut."""
    machine, size = group.key[0], room.say.length(group.key[2])
    if machine is Machine.CUT_RODS and not any(_marks_of(group.cuts, room)):
        return f"Cut pegs of {size} from {_stock_words(group.cuts)}"
    verb, noun = ("Rip", "strips") if machine is Machine.RIP else ("Cut", "lengths")
    freed = [label for cut in group.cuts for label in cut.freed]
    if not freed:
        return f"{verb} {noun} of {size} from {_stock_words(group.cuts)}"
    others = any(cut.kept and not cut.kept.is_blank for cut in group.cuts)
    return f"{verb} {name_blanks(freed, room)}{f' and {noun}' if others else ''} to {size}"


def _marks_of(cuts: Sequence[SawCut], room: Workroom) -> list[str]:
    """Marks of the copies whose blanks, or layers, are free once cuts are made."""
    copies = [room.blanks[label].copy for cut in cuts for label in cut.freed]
    return [mark for mark in copies if mark in room.joinery.copies]


def _stock_words(cuts: Sequence[SawCut]) -> str:
    names = dict.fromkeys(cut.stock.name for cut in cuts)
    return join_words([f"the {name}" for name in names])


# What every saw operation states.


def _saw_draft(
    kind: OperationKind, title: str, cuts: list[SawCut], room: Workroom, *, words: SawWords
) -> Draft:
    freed = [label for cut in cuts for label in cut.freed]
    marks = _marks_of(cuts, room)
    takes: list[Thing] = [cut_made(cut.parent) for cut in cuts if cut.parent]
    own = {cut_made(cut.made) for cut in cuts}
    gives = [*own, *map(blank_cut, freed)]
    gives += [copy_sized(mark) for mark in marks if room.is_sawn_to_size(mark)]
    return draft(
        kind,
        Work(
            id=_id(kind, title, cuts),
            title=title,
            copies=marks,
            actions=words.actions,
            check=words.check,
            settings=words.settings,
            facts=_facts(cuts, room),
            takes=[thing for thing in takes if thing not in own],
            gives=gives,
            pieces=len(cuts),
            cuts=tuple(cut.made for cut in cuts),
            blanks=tuple(freed),
        ),
    )


def _id(kind: OperationKind, title: str, cuts: list[SawCut]) -> str:
    first = cuts[0].made
    return make_slug(f"{title} {first.stock} {first.sheet} {first.cut} {kind.code}")


def _facts(cuts: list[SawCut], room: Workroom) -> dict[str, Fact | None]:
    stock = cuts[0].stock
    material = room.material_of(stock)
    is_rip = cuts[0].machine is Machine.RIP
    lengths = [cut.length_mm if is_rip else cut.across_mm for cut in cuts]
    widths = [cut.across_mm if is_rip else cut.length_mm for cut in cuts]
    if cuts[0].machine is Machine.BREAK_DOWN:
        lengths = [max(cut.length_mm, cut.across_mm) for cut in cuts]
        widths = [min(cut.length_mm, cut.across_mm) for cut in cuts]
    if cuts[0].machine is Machine.CUT_RODS:
        lengths = [cut.setting_mm for cut in cuts]  # What is held is the peg, or no longer than it.
    facts: dict[str, Fact | None] = {
        "stock.kind": stock.kind.value,
        "stock.length_mm": min(lengths),
        "stock.longest_mm": max(lengths),
        "stock.width_mm": min(widths),
        "stock.widest_mm": max(widths),
        "stock.thickness_mm": stock.thickness_mm,
        "cut.length_mm": max(cut.length_mm for cut in cuts),
        "material.name": stock.material,
        "material.kind": material.kind if material else None,
        "material.group": material.group if material else None,
    }
    if is_rip:
        facts["cut.fence_gap_mm"] = min(cut.setting_mm for cut in cuts)
    elif cuts[0].machine is not Machine.BREAK_DOWN:
        facts["cut.keeper_mm"] = min(cut.setting_mm for cut in cuts)
        facts["cut.offcut_mm"] = _smallest_offcut(cuts)
    return facts | _load(cuts, stock, room)


def _smallest_offcut(cuts: list[SawCut]) -> Fraction | None:
    return min((cut.rest.extent_mm for cut in cuts if cut.rest), default=None)


def _load(cuts: list[SawCut], stock: Stock, room: Workroom) -> dict[str, Fact | None]:
    """The heaviest piece that is lifted to the saw."""
    material = room.material_of(stock)
    heaviest = max(cuts, key=lambda cut: cut.length_mm * cut.across_mm)
    area = heaviest.length_mm * heaviest.across_mm
    mass = mass_of_mm3(area * stock.thickness_mm, material) if material else None
    return {
        "part.mass_kg": mass,
        "part.wide_mm": min(heaviest.length_mm, heaviest.across_mm),
    }


def whole_blanks(room: Workroom) -> frozenset[str]:
    """Labels of blanks that no cut frees: a sheet, board or rod used as it is bought."""
    freed = {label for cut in find_cuts(room) for label in cut.freed}
    return frozenset(blank.label for blank in room.cut_plan.blanks) - freed


PLANNER: Final = Planner(kinds=tuple(_KINDS.values()), plan=plan_sawing)
