"""Measure what a shop feels: planning time as parts grow, and how often a fence is moved.

    python benchmarks/cutting_shop.py --json FILE [--counts 50 100 200 500 1000] [--seconds S]

Growth: sets of furniture parts made up by a fixed rule, on sheets of 2440 x 1220 with a kerf of 3:
time, sheets, the fewest there could be and the gap, with the planner's own budget of work, or with
seconds instead. Settings: for each of those layouts the distinct fence distances, the changes of
setting in the order proposed and in the naive order (each sheet cut up piece by piece as its tree
goes), the turns of the panel, and the cuts.
"""

from __future__ import annotations

import argparse
import json
import platform
import time
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

from benchleaf.cutting.budget import usual_budget
from benchleaf.cutting.planning import lay_out_stock
from benchleaf.cutting.records import Blank, CutNode, CutPlan
from benchleaf.cutting.settings import fewest_changes
from benchleaf.cutting.verifying import verify_plan
from benchleaf.findings import Place
from benchleaf.reading.plan import Grain, Stock, StockKind, Units
from cutting_cases import Clock, warm_up

KERF_MM = Fraction(3)
SHEET = Stock(
    name="ply",
    kind=StockKind.SHEET,
    material="birch plywood",
    thickness_mm=Fraction(18),
    width_mm=Fraction(1220),
    lengths_mm=(Fraction(2440),),
    grain=Grain.LONG,
    trim_mm=Fraction(5),
)
# Cabinet parts in millimetres, by hand: sides, shelves, backs, doors, fronts, drawers, plinths.
# Each is made in a few sizes, so that some parts are alike and most sets are not.
KINDS = (
    *[(720, 560), (764, 540), (700, 390), (716, 397), (140, 797)],
    *[(500, 120), (450, 120), (900, 80), (2000, 300), (1180, 350)],
)

Cut = tuple[str, Fraction]
"""Direction and fence distance."""


def main() -> None:
    """Run the measurements."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--json", type=Path, required=True, help="file to write")
    parser.add_argument("--counts", type=int, nargs="+", default=[50, 100, 200, 500, 1000])
    parser.add_argument("--seconds", type=float, default=None, help="instead of counted work")
    given = parser.parse_args()
    warm_up()
    rows = []
    for count in given.counts:
        rows.append(measure(count, given.seconds))
        print(json.dumps(rows[-1]), flush=True)
    machine = f"{platform.machine()}, {platform.system()}, Python {platform.python_version()}"
    result = {"machine": machine, "seconds": given.seconds, "rows": rows}
    given.json.write_text(json.dumps(result, indent=1) + "\n", encoding="utf-8")


def measure(count: int, seconds: float | None) -> dict[str, Any]:
    """Lay one set out, and count what it asks of the person at the saw."""
    blanks = parts(count)
    start = time.process_time()
    made = lay_out_stock(
        blanks,
        (SHEET,),
        kerf_mm=KERF_MM,
        units=Units.MILLIMETRE,
        place_of=lambda _: Place(file="set", line=1, column=1),
        budget_of=usual_budget if seconds is None else lambda _: Clock(seconds),
    )
    spent = time.process_time() - start
    proof = made.proofs[0]
    return {
        "parts": count,
        "seconds": round(spent, 2),
        "sheets": int(proof.used),
        "bound": int(proof.least),
        "gap_percent": round(float(proof.gap) * 100, 1),
        "valid": not verify_plan(made),
        **settings(made),
    }


def parts(count: int) -> tuple[Blank, ...]:
    """A set of furniture parts: kinds in turn, in sizes that drift, copies in fours and twos."""
    sizes: list[tuple[int, int]] = []
    step = 0
    while len(sizes) < count:
        length, width = KINDS[step % len(KINDS)]
        drift = 13 * (step // len(KINDS)) % 97
        sizes += [(length - drift, width - drift // 3)] * (4 if step % 3 else 2)
        step += 1
    return tuple(_blank(number, size) for number, size in enumerate(sizes[:count]))


def _blank(number: int, size: tuple[int, int]) -> Blank:
    length, width = map(Fraction, size)
    return Blank(
        label=f"P{number:04}",
        part=f"part {number}",
        copy=f"P{number:04}",
        layer=1,
        length_mm=length,
        width_mm=width,
        final_length_mm=length,
        final_width_mm=width,
        stock="ply",
        may_turn=False,
    )


def settings(made: CutPlan) -> dict[str, int]:
    """What the cuts of all sheets come to, in the naive order and in the one proposed."""
    cuts: list[Cut] = []
    parents: list[int | None] = []
    for sheet in made.sheets:
        for node, parent in _walk(sheet.tree, None, len(cuts)):
            cuts.append((str(node.direction), node.at_mm))
            parents.append(parent)
    grouped = _grouped(cuts, parents)
    order = fewest_changes(cuts, parents, grouped).settings
    naive = [own for before, own in pairwise([None, *cuts]) if own != before]
    return {
        "cuts": len(cuts),
        "distinct_settings": len(set(cuts)),
        "changes_naive": len(naive),
        "changes": len(order),
        "turns_naive": _turns(naive),
        "turns": _turns(order),
    }


def _walk(
    node: CutNode | None, parent: int | None, at: int
) -> Iterator[tuple[CutNode, int | None]]:
    """The cuts of a tree, each with the place of the one before it, counted from `at`."""
    waiting = [(node, parent)]
    place = at
    while waiting:
        piece, before = waiting.pop()
        if piece is None or piece.direction is None:
            continue
        yield piece, before
        waiting += [(piece.second, place), (piece.first, place)]
        place += 1


def _grouped(cuts: Sequence[Cut], parents: Sequence[int | None]) -> list[Cut]:
    """Settings in a simple order that shares them: at each point the one with the most cuts."""
    left: dict[Cut, list[int]] = {}
    for at, cut in enumerate(cuts):
        left.setdefault(cut, []).append(at)
    made: set[int] = set()
    order: list[Cut] = []
    while left:
        reached = {cut: _reach(own, made, parents) for cut, own in left.items()}
        best = min(
            (cut for cut, own in reached.items() if own),
            key=lambda cut: (len(reached[cut]) < len(left[cut]), -len(reached[cut]), cut),
        )
        order.append(best)
        made |= reached[best]
        left[best] = [at for at in left[best] if at not in made]
        if not left[best]:
            del left[best]
    return order


def _reach(own: Sequence[int], made: set[int], parents: Sequence[int | None]) -> set[int]:
    """Cuts of one setting that can be made one after the other; each stands after its parent."""
    reached: set[int] = set()
    for at in own:
        parent = parents[at]
        if parent is None or parent in made or parent in reached:
            reached.add(at)
    return reached


def _turns(order: Sequence[Cut]) -> int:
    """How often the panel is turned from one direction to the other."""
    return sum(before[0] != after[0] for before, after in pairwise(order))


if __name__ == "__main__":
    main()
