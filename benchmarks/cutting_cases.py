"""The instances as blanks and stock, solved by the planner and replayed by the verifier."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

import numpy as np

from benchleaf.cutting.budget import Budget
from benchleaf.cutting.length_columns import Columns
from benchleaf.cutting.one_sheet import cut_for_value
from benchleaf.cutting.planning import lay_out_stock
from benchleaf.cutting.records import Blank, LengthLayout, SheetLayout
from benchleaf.cutting.verifying import verify_layout, verify_plan
from benchleaf.findings import Place
from benchleaf.reading.plan import Grain, Offer, Stock, StockKind, Units

Size = tuple[int, int]
Instance = dict[str, Any]
# Steps that are enough to have every kernel called.
_WARMING = 1_000_000


class Clock(Budget):
    """A budget of seconds on one core: the process's own clock, not that on the wall."""

    def __init__(self, seconds: float) -> None:
        """Start the clock."""
        super().__init__(10**18)
        self.end = time.process_time() + seconds

    @property
    def seconds(self) -> float:
        """Seconds left."""
        return self.end - time.process_time()

    @property
    def is_spent(self) -> bool:
        """Tell whether time is up."""
        return self.seconds <= 0

    def share(self, part: float) -> Budget:
        """Set a part of the time aside."""
        return Clock(max(0.0, self.seconds) * part)


@dataclass(frozen=True)
class Answer:
    """What the planner says."""

    ours: int
    bound: int | None
    problems: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Case:
    """One instance in one mode."""

    id: str
    group: object
    mode: str
    turns: bool
    parts: Sequence[Size]
    """(wide, high) of each."""
    bins: Sequence[tuple[Size, int | None]]
    """Size, and how many there are; None for as many as are wanted."""
    best_known: int | None
    run: Callable[[Case, Budget], Answer]
    worth: Sequence[int] = ()
    extra: dict[str, Any] = field(default_factory=dict)

    def solve(self, seconds: float) -> Answer:
        """Solve it within some seconds."""
        return self.run(self, Clock(seconds))

    def verify(self, answer: Answer) -> tuple[str, ...]:
        """What the verifier finds wrong."""
        return answer.problems


def warm_up() -> None:
    """Have every kernel compiled before time is taken."""
    parts = [(7, 5), (6, 6), (5, 7), (4, 9), (3, 3), (8, 2), (9, 9), (2, 9)] * 4
    for turns in (False, True):
        case = _sheet_case({"id": "", "W": 13, "H": 11}, parts, "fixed", turns=turns)
        _run_sheets(case, Budget(_WARMING))
        _run_value(case, Budget(_WARMING))
    lengths = [(size, 1) for size in (7, 7, 7, 6, 6, 5, 5, 4, 3, 3, 3, 2) * 3]
    _run_lengths(_length_case({"id": "", "capacity": 17}, lengths), Budget(_WARMING))
    # The patterns are listed only where the searches leave a gap, as they hardly do in so few bars.
    columns = Columns(np.array([7, 5, 3]), np.array([3, 3, 3]), 17)
    columns.add([np.array(pattern) for pattern in ((2, 0, 1), (0, 3, 0), (1, 2, 0))])
    columns.every_pattern(4, Budget(_WARMING))


def fewest_sheets(instance: Instance) -> Iterator[Case]:
    """The fewest equal sheets, without and with turning."""
    parts = _parts(instance["items_w_h_qty"])
    yield _sheet_case(instance, parts, "fixed", turns=False)
    yield _sheet_case(instance, parts, "turn", turns=True)


def on_one_sheet(instance: Instance) -> Iterator[Case]:
    """Whether all parts come from one sheet, without and with turning."""
    parts = _parts(instance["items_w_h_qty"])
    yield _sheet_case(instance, parts, "feasible", turns=False)
    yield _sheet_case(instance, parts, "feasible", turns=True)


def most_value(instance: Instance) -> Iterator[Case]:
    """The most value from one sheet, each part as often as it may be cut."""
    listed = instance["items_w_h_profit_max"]
    yield Case(
        id=instance["id"],
        group=instance.get("set", ""),
        mode="value",
        turns=False,
        parts=[(wide, high) for wide, high, _, most in listed for _ in range(most)],
        bins=[((instance["W"], instance["H"]), 1)],
        worth=[value for _, _, value, most in listed for _ in range(most)],
        best_known=instance.get("optimum_guillotine_constrained"),
        run=_run_value,
    )


def several_sheets(instance: Instance) -> Iterator[Case]:
    """The least area from several sizes of sheet in limited number, without and with turning."""
    bins = [((wide, high), copies) for wide, high, _, copies in instance["bins_w_h_cost_copies"]]
    for mode in ("fixed", "turn"):
        yield Case(
            id=instance["id"],
            group=instance["id"][:2],
            mode=mode,
            turns=mode == "turn",
            parts=_parts(instance["items_w_h_qty"]),
            bins=bins,
            best_known=None,
            run=_run_several,
        )


def fewest_lengths(instance: Instance) -> Iterator[Case]:
    """The fewest bars."""
    yield _length_case(instance, instance["items_len_qty"])


def _length_case(instance: Instance, lengths: Sequence[Sequence[int]]) -> Case:
    return Case(
        id=instance["id"],
        group=instance.get("set", ""),
        mode="lengths",
        turns=False,
        parts=[(length, 1) for length, count in lengths for _ in range(count)],
        bins=[((instance["capacity"], 1), None)],
        best_known=instance.get("optimum"),
        run=_run_lengths,
    )


def _sheet_case(instance: Instance, parts: Sequence[Size], mode: str, *, turns: bool) -> Case:
    return Case(
        id=instance["id"],
        group=instance.get("class", instance.get("set", "")),
        mode=mode,
        turns=turns,
        parts=parts,
        bins=[((instance["W"], instance["H"]), None)],
        best_known=_known(instance, mode, turns=turns),
        run=_run_sheets,
        extra={"turns": turns} if mode == "feasible" else {},
    )


def _known(instance: Instance, mode: str, *, turns: bool) -> int | None:
    if mode == "feasible":
        key = "guillotine_one_sheet_" + ("rotation" if turns else "fixed")
        return {"feasible": 1, "infeasible": 2}.get(instance.get(key, ""))
    if mode in instance:
        known: int | None = instance[mode].get("ub")
        return known
    best: int | None = instance.get("RG" if turns else "OG", {}).get("proven_optimum")
    return best


def _parts(listed: Sequence[Sequence[int]]) -> list[Size]:
    return [(wide, high) for wide, high, count in listed for _ in range(count)]


def _run_sheets(case: Case, clock: Budget) -> Answer:
    made = _lay_out(_blanks(case), _sheets(case), clock)
    sheets = len(made.sheets)
    bound = dict(made.lower_bounds)["stock"]
    return Answer(sheets, bound, verify_plan(made) + _all_there(case, made.sheets))


def _run_several(case: Case, clock: Budget) -> Answer:
    made = _lay_out(_blanks(case), _sheets(case), clock)
    bought = sum(one.length_mm * one.width_mm for one in made.sheets)
    proof = made.proofs[0]
    problems = [*verify_plan(made), *_all_there(case, made.sheets)]
    taken = Counter(tuple(sorted((one.length_mm, one.width_mm))) for one in made.sheets)
    there: Counter[tuple[int, ...]] = Counter()
    for size, count in case.bins:
        there[tuple(sorted(size))] += count or len(case.parts)
    problems += [f"{count} of {size}" for size, count in taken.items() if count > there[size]]
    return Answer(int(bought), int(proof.least), tuple(problems))


def _run_value(case: Case, clock: Budget) -> Answer:
    worth = case.worth or [wide * high for wide, high in case.parts]
    blanks, stock = _blanks(case), _sheets(case)
    layout, bound = cut_for_value(blanks, worth, stock, kerf_mm=Fraction(0), budget=clock)
    held = {label for label, _, _ in layout.placed}
    value = sum(one for blank, one in zip(blanks, worth, strict=True) if blank.label in held)
    return Answer(value, bound, verify_layout(layout, blanks, (stock,)))


def _run_lengths(case: Case, clock: Budget) -> Answer:
    made = _lay_out(_blanks(case), _rod(case), clock)
    bound = dict(made.lower_bounds)["stock"]
    return Answer(len(made.lengths), bound, verify_plan(made) + _all_there(case, made.lengths))


def _lay_out(blanks: tuple[Blank, ...], stock: Stock, clock: Budget):  # type: ignore[no-untyped-def]
    return lay_out_stock(
        blanks,
        (stock,),
        kerf_mm=Fraction(0),
        units=Units.MILLIMETRE,
        place_of=lambda _: Place(file="instance", line=1, column=1),
        budget_of=lambda _: clock,
    )


def _all_there(
    case: Case, layouts: Sequence[SheetLayout] | Sequence[LengthLayout]
) -> tuple[str, ...]:
    placed = sum(len(layout.placed) for layout in layouts)
    return () if placed == len(case.parts) else (f"{placed} of {len(case.parts)} parts",)


def _blanks(case: Case) -> tuple[Blank, ...]:
    is_tall = _is_tall(case)
    return tuple(
        _blank(number, (high, wide) if is_tall else (wide, high), turns=case.turns)
        for number, (wide, high) in enumerate(case.parts)
    )


def _is_tall(case: Case) -> bool:
    """Sheets lie on their long side: one that stands, and its parts, are laid down."""
    return len(case.bins) == 1 and case.bins[0][0][0] < case.bins[0][0][1]


def _blank(number: int, size: Size, *, turns: bool) -> Blank:
    length, width = Fraction(size[0]), Fraction(size[1])
    return Blank(
        label=f"P{number:05}",
        part="part",
        copy=f"P{number:05}",
        layer=1,
        length_mm=length,
        width_mm=width,
        final_length_mm=length,
        final_width_mm=width,
        stock="stock",
        may_turn=turns,
    )


def _sheets(case: Case) -> Stock:
    (wide, high), _ = case.bins[0]
    if _is_tall(case):
        wide, high = high, wide
    offers = (
        tuple(
            Offer(length_mm=Fraction(long), width_mm=Fraction(short), count=count)
            for (long, short), count in case.bins
        )
        if len(case.bins) > 1
        else ()
    )
    return _stock(StockKind.SHEET, Fraction(wide), Fraction(high), offers)


def _rod(case: Case) -> Stock:
    return _stock(StockKind.ROD, Fraction(case.bins[0][0][0]), Fraction(1), ())


def _stock(kind: StockKind, length: Fraction, width: Fraction, offers: tuple[Offer, ...]) -> Stock:
    return Stock(
        name="stock",
        kind=kind,
        material="test stock",
        thickness_mm=Fraction(1),
        width_mm=width,
        lengths_mm=(length,),
        grain=Grain.LONG,
        trim_mm=Fraction(0),
        offers=offers,
    )
