"""Operations that saw blanks out of stock: break down, rip, crosscut, cut boards and rods to length.

Takes the cut plan by way of its saw cuts, gives drafts grouped by setting. Must not know joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.cutting.records import CutDirection
from benchleaf.reading.plan import Stock, StockKind
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
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.sawcuts import Machine, SawCut, find_cuts
from benchleaf.sequencing.sawgroups import CutGroup, group_cuts
from benchleaf.sequencing.wording import join_marks, join_words, make_slug, spread
from benchleaf.sequencing.workroom import Workroom, mass_of_mm3

_SAWS: Final = {
    "op.loud": True,
    "op.makes_chips": True,
    "op.makes_dust": True,
    "op.rotating_cutter": True,
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
    Machine(kind.code): kind for kind in (BREAK_DOWN, RIP, CROSSCUT, CUT_BOARDS, CUT_RODS)
}
# chosen: a page shows at most nine actions, and two of them make the sheet ready.
_MOST_CUTS: Final = 7
# chosen: how a sheet's cuts are named wherever they are spoken of.
_START: Final = {CutDirection.ACROSS: "start end", CutDirection.ALONG: "start edge"}
_FAR: Final = {CutDirection.ACROSS: "far end", CutDirection.ALONG: "far edge"}


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
    for start in range(0, len(cuts), _MOST_CUTS):
        part = cuts[start : start + _MOST_CUTS]
        holder = part[0].holder
        title = f"Break down {holder}"
        if len(cuts) > _MOST_CUTS:
            title += f", cuts {part[0].made.cut} to {part[-1].made.cut}"
        yield _saw_draft(
            BREAK_DOWN,
            title,
            part,
            room,
            words=_Words(
                actions=[*_lay_down(part[0]), *(_break_down_cut(cut, room) for cut in part)],
                check="Every piece has straight edges and carries its name.",
                settings=(),
            ),
        )


def _lay_down(cut: SawCut) -> Iterator[str]:
    yield f"Lay {cut.holder} on a full bed of foam or battens."
    if cut.parent is None:
        yield "Mark one good corner; the layout's start end and start edge meet there."


def _break_down_cut(cut: SawCut, room: Workroom) -> str:
    way = "across" if cut.direction is CutDirection.ACROSS else "along"
    piece = cut.source or "the sheet"
    start = _START[cut.direction]
    if cut.only_squares:
        far = room.say.length(cut.setting_mm)
        return f"Cut {way} {piece} {far} from its {_FAR[cut.direction]} (cut {cut.made.cut})."
    names = [side.name for side in (cut.first, cut.second) if side and side.name]
    into = f": {join_words(names)}" if names else ""
    at = room.say.length(cut.setting_mm)
    return f"Cut {way} {piece} {at} from its {start} (cut {cut.made.cut}){into}."


# Groups at one setting.


def _sawn_group(group: CutGroup, room: Workroom) -> Draft:
    machine, squares, setting, _, kind = group.key
    first = group.cuts[0]
    if squares:
        words = _square_words(group.cuts)
        title = f"Square the ends of the {_stock_words(group.cuts)}"
    else:
        size = room.say.length(setting)
        words = _setting_words(group.cuts, room)
        title = {
            Machine.RIP: f"Rip to {size}",
            Machine.CROSSCUT: f"Crosscut to {size}",
            Machine.CUT_BOARDS: f"Cut the {_stock_words(group.cuts)} to {size}",
            Machine.CUT_RODS: f"Cut the {first.stock.name} to {size}",
        }[machine]
        if kind == StockKind.SHEET.value or machine is Machine.RIP:
            title += f": {_stock_words(group.cuts)}"
    return _saw_draft(_KINDS[machine], title, list(group.cuts), room, words=words)


def _stock_words(cuts: Sequence[SawCut]) -> str:
    return join_words(list(dict.fromkeys(cut.stock.name for cut in cuts)))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Words:
    actions: list[str]
    check: str
    settings: tuple[Setting, ...]


def _square_words(cuts: Sequence[SawCut]) -> _Words:
    holders = join_words(list(dict.fromkeys(cut.holder for cut in cuts)))
    actions = [
        f"Square one end of {holders}, taking off as little as cleans it.",
        "Mark that end: all lengths are measured from it.",
    ]
    return _Words(actions=actions, check="A try square shows no light at the end.", settings=())


def _setting_words(cuts: Sequence[SawCut], room: Workroom) -> _Words:
    machine, size = cuts[0].machine, room.say.length(cuts[0].setting_mm)
    if machine is Machine.RIP:
        name, first = "fence", f"Set the fence {size} from the blade."
        check = f"Every strip measures {size} at both ends."
    elif machine is Machine.CUT_RODS:
        name, first = "stop", f"Clamp a stop to the bench hook, {size} from the saw's kerf."
        check = f"The first and the last piece both measure {size}."
    else:
        where = "sled" if machine is Machine.CROSSCUT else "saw's fence"
        name, first = "stop", f"Clamp a stop to the {where}, {size} from the blade."
        check = "Stood side by side, the pieces show no step."
    actions = [first, *_pass_words(cuts, room), *_mark_words(cuts, room)]
    if machine is Machine.CUT_RODS:
        actions.append("Chamfer both ends of every peg lightly with sandpaper.")
    return _Words(actions=actions, check=check, settings=(Setting(name=name, value_mm=cuts[0].setting_mm),))


def _pass_words(cuts: Sequence[SawCut], room: Workroom) -> Iterator[str]:
    """What is cut from which piece: runs from one piece, and single cuts from many."""
    runs = _runs(cuts)
    single = [run for run in runs if len(run) == 1]
    many = len({cut.holder for cut in cuts}) > 1
    noun = "strip" if cuts[0].machine is Machine.RIP else "piece"
    verb = "Rip" if cuts[0].machine is Machine.RIP else "Cut"
    for run in (run for run in runs if len(run) > 1):
        numbers = f" (cuts {run[0].made.cut} to {run[-1].made.cut})" if _is_sheet(run[0]) else ""
        yield f"{verb} {len(run)} {noun}s off {_source(run[0], many)}{numbers}."
    yield from _single_words([run[0] for run in single], verb=verb, noun=noun, many=many)
    turned = [cut for cut in cuts if cut.only_squares and cut.source]
    if turned:
        names = join_words([cut.source for cut in turned])
        edge = _FAR[turned[0].direction]
        yield f"On {names}, keep the {edge} against the {'fence' if noun == 'strip' else 'stop'}."
    del room


def _single_words(
    cuts: list[SawCut], *, verb: str, noun: str, many: bool
) -> Iterator[str]:
    # chosen: four pieces named in one sentence keep it short.
    for start in range(0, len(cuts), 4):
        part = cuts[start : start + 4]
        sources = list(dict.fromkeys(_source(cut, many) for cut in part))
        each = "each of " if len(sources) > 1 else ""
        yield f"{verb} one {noun} off {each}{join_words(sources)}."


def _is_sheet(cut: SawCut) -> bool:
    return cut.stock.kind is StockKind.SHEET


def _source(cut: SawCut, many: bool) -> str:
    if not cut.source or not _is_sheet(cut):
        return cut.holder
    return f"{cut.source} of {cut.holder}" if many else cut.source


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
    labels = [label for cut in cuts for label in cut.freed]
    copies = {room.blanks[label].copy for label in labels}
    if copies <= set(room.marks):
        yield from spread("Mark the pieces", labels) if len(labels) < 3 else _mark_run(labels, room)
    names = [
        side.name
        for cut in cuts
        for side in (cut.first, cut.second)
        if side and side.name and not side.is_blank and _is_sheet(cut)
    ]
    kept = [name for name in names if not any(cut.source == name for cut in cuts)]
    if kept:
        yield f"Chalk {join_words(kept[:6])} on the pieces that go on." if len(kept) <= 6 else (
            "Chalk its cut's number on every piece that goes on."
        )


def _mark_run(labels: list[str], room: Workroom) -> Iterator[str]:
    yield f"Mark the pieces {join_marks(labels, room.labels)}."


# What every saw operation states.


def _saw_draft(
    kind: OperationKind, title: str, cuts: list[SawCut], room: Workroom, *, words: _Words
) -> Draft:
    freed = [label for cut in cuts for label in cut.freed]
    marks = [room.blanks[label].copy for label in freed]
    marks = [mark for mark in marks if mark in room.joinery.copies]
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
    free = [cut.second if cut.keeps_first else cut.first for cut in cuts]
    return min((side.extent_mm for side in free if side), default=None)


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


PLANNER: Final = Planner(
    kinds=(BREAK_DOWN, RIP, CROSSCUT, CUT_BOARDS, CUT_RODS), plan=plan_sawing
)
