"""The list of tools: what every step takes, each with its sizes and the steps that use it.

Takes a `SoundPlan`; gives tables. What is listed comes from the operations' own tools, settings and
facts, and from the tables of the toolbox; nothing is guessed from words.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from benchleaf.lengths import MM_PER_INCH
from benchleaf.safety.records import CallOut
from benchleaf.sequencing.finishes import find_finish
from benchleaf.sequencing.records import Operation, Setting, Step
from benchleaf.sequencing.ways import way_of, ways_of
from benchleaf.site.show import begin_sentence, show_list, show_numbers
from benchleaf.site.toolbox import (
    BY_FACT,
    BY_HARDWARE,
    BY_KIND,
    BY_RULE,
    BY_SETTING,
    CLAMP_OPENINGS_IN,
    CLAMP_OPENINGS_MM,
    CLAMPS,
    HAND_TOOLS,
    SHELF_OF,
    SHELVES,
    Need,
)
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Column, Table, write_row

# Not tools to fetch: clamps have a table of their own, and everybody has hands.
_NO_TOOLS: Final = frozenset({"", "by hand", "clamps"})
_COUNT: Final = re.compile(r"[0-9]+")


@dataclass(slots=True)
class _Used:
    """A tool while the steps are gone through."""

    steps: dict[int, None] = field(default_factory=dict)
    sizes_mm: dict[str, set[Fraction]] = field(default_factory=dict)
    """Wording of a size to the sizes seen; where the wording is empty, each is named."""
    fits: dict[str, None] = field(default_factory=dict)
    """Sizes that are said in words."""
    stand_ins: dict[str, None] = field(default_factory=dict)
    """Tools with which others do the work of a machine."""


def list_tools(sound: SoundPlan) -> tuple[Table, ...]:
    """Every tool, shelf by shelf."""
    used: dict[str, _Used] = {}
    for step in sound.sequence.steps:
        call_outs = sound.call_outs.by_step.get(step.number, ())
        for operation in step.operations:
            for need in _needs_of(sound, operation, call_outs):
                _note(used.setdefault(need.tool, _Used()), need, operation, step.number)
            if operation.tool in used:
                used[operation.tool].stand_ins |= dict.fromkeys(_stand_ins(operation))
    shelves = {shelf: _list_shelf(sound, shelf, used) for shelf in SHELVES}
    return tuple(table for table in shelves.values() if table.rows)


def _needs_of(
    sound: SoundPlan, operation: Operation, call_outs: tuple[CallOut, ...]
) -> Iterator[Need]:
    """All that one operation takes, apart from clamps that close joints."""
    if operation.tool not in _NO_TOOLS and not _is_wiped_on(sound, operation):
        yield Need(tool=operation.tool)
    if operation.way:
        yield from (Need(tool=tool) for tool in way_of(operation).takes)
    else:
        yield from BY_KIND.get(operation.kind, ())
    for setting in operation.settings:
        need = BY_SETTING.get((operation.tool, setting.name))
        if need:
            yield need
    for fact, needs in BY_FACT.items():
        if operation.facts.get(fact) is True:
            yield from needs
    for call_out in call_outs:
        if call_out.operation == operation.id:
            yield from BY_RULE.get(call_out.rule, ())
    for kind in _driven(sound, operation):
        yield from BY_HARDWARE.get(kind, ())


def _stand_ins(operation: Operation) -> Iterator[str]:
    """What does the work of an operation's tool: the next way, and the last, which is by hand."""
    others = [way.tool for way in ways_of(operation.kind) if way.tool not in {"", operation.tool}]
    yield from dict.fromkeys(others[:1] + others[-1:])


def _is_wiped_on(sound: SoundPlan, operation: Operation) -> bool:
    """Tell whether a coat goes on with a rag: then the brush stays in the drawer."""
    finish = sound.plan.finish
    return operation.kind == "coat" and finish is not None and find_finish(finish.material).is_wiped


def _driven(sound: SoundPlan, operation: Operation) -> Iterator[str]:
    """Kinds of hardware in the joints that an operation closes for good."""
    if operation.joined:
        for joint in operation.joints:
            for fit in sound.fits_of(joint):
                yield from (item.kind for item in fit.hardware)


def _note(used: _Used, need: Need, operation: Operation, step: int) -> None:
    used.steps[step] = None
    sizes = used.sizes_mm.setdefault(need.words, set())
    value = operation.facts.get(need.fact)
    if isinstance(value, Fraction):
        sizes.add(value)
    for setting in operation.settings:
        if setting.name == need.setting and setting.value_mm is not None:
            sizes.add(setting.value_mm)
        elif setting.name == need.setting:
            used.fits[setting.text] = None


def _list_shelf(sound: SoundPlan, shelf: str, used: dict[str, _Used]) -> Table:
    rows = [
        (
            "",
            begin_sentence(tool),
            _show_sizes(sound, seen),
            show_list(list(seen.stand_ins), "or"),
            show_numbers(seen.steps),
        )
        for tool, seen in sorted(used.items())
        if SHELF_OF.get(tool, HAND_TOOLS) == shelf
    ]
    if shelf == CLAMPS:
        rows = [*_list_clamps(sound), *rows]
    columns = (
        Column("At hand", "tick"),
        Column("Tool"),
        Column(f"Size, {sound.show.unit}"),
        Column("Or"),
        Column("Steps"),
    )
    table = Table(caption=shelf, columns=columns, rows=tuple(write_row(*row) for row in rows))
    return table.without_empty_columns()


def _show_sizes(sound: SoundPlan, used: _Used) -> str:
    words = list(used.fits)
    for wording, sizes in used.sizes_mm.items():
        shown = [sound.show.length(size) for size in sorted(sizes)]
        if shown:
            words.append(wording.format(shown[-1]) if wording else show_list(shown))
    return ", ".join(words)


# Clamps.


@dataclass(frozen=True, slots=True)
class _Clamping:
    """Clamps that one step takes at once."""

    step: int
    count: int
    """That open at least so far, longer ones counted in."""
    opening_mm: Fraction
    """As clamps are sold."""


def _list_clamps(sound: SoundPlan) -> Iterator[tuple[str, str, str, str, str]]:
    """The fewest clamps that do for every step, long ones first: a long one does for a short."""
    asked = [one for step in sound.sequence.steps for one in _clampings(sound, step)]
    at_hand = 0
    openings = sorted({one.opening_mm for one in asked}, reverse=True)
    bought: dict[Fraction, int] = {}
    for opening in openings:
        most = max(one.count for one in asked if one.opening_mm == opening)
        bought[opening] = max(0, most - at_hand)
        at_hand = max(at_hand, most)
    for opening in openings:
        if bought[opening]:
            steps = [one.step for one in asked if _take_from(one, bought) == opening]
            name = f"{bought[opening]} clamps" if bought[opening] > 1 else "1 clamp"
            size = f"opening to {sound.show.length(opening)}"
            more = _to_borrow(sound, opening, sum(n for o, n in bought.items() if o >= opening))
            yield ("", name, size, more, show_numbers(steps))


def _to_borrow(sound: SoundPlan, opening_mm: Fraction, count: int) -> str:
    """How many clamps a shop that counted its own has too few of, longer ones counted in."""
    if sound.shop.clamps is None:
        return ""
    own = sum(one.count for one in sound.shop.clamps if one.opening_mm >= opening_mm)
    return f"borrow {count - own}: the shop has {own}" if own < count else ""


def _take_from(one: _Clamping, bought: dict[Fraction, int]) -> Fraction:
    """The shortest clamps on the list that a step can do with."""
    return min(o for o, count in bought.items() if count and o >= one.opening_mm)


def _clampings(sound: SoundPlan, step: Step) -> Iterator[_Clamping]:
    """What each operation takes: long clamps, then those together with the shorter ones."""
    for operation in step.operations:
        count = 0
        for opening, more in sorted(_pair(sound, operation), reverse=True):
            count += more
            yield _Clamping(step.number, count, opening)


def _pair(sound: SoundPlan, operation: Operation) -> Iterator[tuple[Fraction, int]]:
    """Openings with how many clamps; an operation says how many, then how far they open."""
    count = 0
    for setting in operation.settings:
        if setting.name == "clamps":
            count = _count_of(setting)
        elif setting.name == "clamp opening" and setting.value_mm is not None:
            yield _as_sold(sound, setting.value_mm), count


def _count_of(setting: Setting) -> int:
    """How many: the number that the setting begins with."""
    number = _COUNT.match(setting.text)
    return int(number[0]) if number else 1


def _as_sold(sound: SoundPlan, opening_mm: Fraction) -> Fraction:
    """The shortest clamp sold that opens far enough; the opening itself where none does."""
    sold = (
        [Fraction(mm) for mm in CLAMP_OPENINGS_MM]
        if sound.show.unit == "mm"
        else [inches * MM_PER_INCH for inches in CLAMP_OPENINGS_IN]
    )
    return next((opening for opening in sold if opening >= opening_mm), opening_mm)
