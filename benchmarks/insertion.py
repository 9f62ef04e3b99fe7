"""Time the insertion proof on generated pieces of 15, 30, 60, 120 and 240 parts.

Run from the project's folder: `python benchmarks/insertion.py --json insertion.json`. Shelving has
shelves housed in uprights; staging has posts, dowelled rails and screwed slats. Each figure is the
least of several runs in seconds of one core: reading and placing; joints with solids
and the proof; the proof alone, solids made once more.
"""

from __future__ import annotations

import argparse
import json
import platform
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from benchleaf.joinery import JOINT_WORDS, cut_joints
from benchleaf.joinery.assembly import plan_assembly
from benchleaf.joinery.records import Joinery
from benchleaf.joinery.solids import placed_solid
from benchleaf.piece.placing import place_parts
from benchleaf.reading import read_plan

COUNTS = (15, 30, 60, 120, 240)
RUNS = 3
# Sizes, mm: bays, shelves and posts as a small shop makes them.
BAY, DEEP, BOARD, RISE, POST, RAIL, TALL, SLAT = 600, 280, 18, 250, 45, 22, 60, 22

_HEAD = """\
plan: {title}
by: Fernhill community workshop
licence: CC BY 4.0
units: mm
overall: {{wide: {wide}, deep: {deep}, high: {high}}}
stock:
  ply: {{sheet: 2440 x 1220, thickness: {board}, of: birch plywood, grain: long}}
  posts: {{board: 45 x 45, lengths: [4800], of: pine}}
  rails: {{board: 22 x 60, lengths: [4800], of: pine}}
  slats: {{board: 15 x 22, lengths: [4800], of: pine}}
shop: {{kerf: 3, wall: 4}}
parts:
"""


def shelving(count: int) -> str:
    """A plan of uprights with shelves housed between them."""
    uprights = max(3, round((count / 2) ** 0.5))
    bays = uprights - 1
    levels = [(count - uprights + bay) // bays for bay in range(bays)]
    wide, high = bays * BAY + BOARD, max(levels) * RISE + RISE
    parts = [_part("upright", "ply", _row("wide", uprights, BAY), deep=DEEP, high=high)]
    joints = []
    for bay, level in enumerate(levels):
        name, foot = f"shelf {_letter(bay)}", RISE // 2 + bay % 2 * 60
        place = {"left": bay * BAY + BOARD, "bottom": foot, "wide": BAY - BOARD, "deep": DEEP}
        parts.append(_part(name, "ply", _row("high", level, RISE), **place))
        joints.append(f"  - {{housing: [{name}, upright]}}\n")
    head = _HEAD.format(title="Shelving", wide=wide, deep=DEEP, high=high, board=BOARD)
    return head + "".join(parts) + "joints:\n" + "".join(joints)


def staging(count: int) -> str:
    """A plan of posts in two lines with dowelled rails between, and slats on the top rails."""
    sizes = [(n, level) for n in range(2, 40) for level in range(1, 8) if level <= n]
    posts, levels = max((s for s in sizes if _staged(*s) <= count - 2), key=lambda s: _staged(*s))
    wide, deep, high = (posts - 1) * BAY + POST, DEEP + 2 * POST, levels * RISE + TALL
    both = "    mirror: [front-back]\n"
    row, spans = _row("wide", posts, BAY), _row("wide", posts - 1, BAY)
    parts = [_part("post", "posts", row + both, wide=POST, deep=POST, high=high)]
    joints = []
    for level in range(levels):
        foot = {"bottom": (level + 1) * RISE, "high": TALL}
        place = {"left": POST, "front": 11, "wide": BAY - POST, "deep": RAIL} | foot
        across = {"left": 11, "front": POST, "wide": RAIL, "deep": DEEP} | foot
        names = [f"{kind} rail {_letter(level)}" for kind in ("long", "cross")]
        parts.append(_part(names[0], "rails", spans + both, **place))
        parts.append(_part(names[1], "rails", row, **across))
        joints += [f"  - {{dowels: [{n}, post], size: 8 x 30, count: 2}}\n" for n in names]
    place = {"left": POST + 20, "bottom": high, "wide": SLAT, "deep": deep, "high": 15}
    slats = _row("wide", count - _staged(posts, levels), SLAT + 2)
    parts.append(_part("slat", "slats", slats, **place))
    rail = f"long rail {_letter(levels - 1)}"
    joints.append(f"  - {{butt: [slat, {rail}], screws: 6 x 30, glue: no}}\n")
    head = _HEAD.format(title="Staging", wide=wide, deep=deep, high=high + 15, board=BOARD)
    return head + "".join(parts) + "joints:\n" + "".join(joints)


def _staged(posts: int, levels: int) -> int:
    """Posts and rails of staging."""
    return 2 * posts + levels * (3 * posts - 2)


def _letter(number: int) -> str:
    return chr(ord("a") + number)


def _row(along: str, count: int, step: int) -> str:
    return f"    row: {{along: {along}, count: {count}, step: {step}}}\n" if count > 1 else ""


def _part(name: str, stock: str, copies: str, **sides_mm: int) -> str:
    """A part of the plan; it stands at 0 where nothing else is said."""
    sides = {"left": 0, "front": 0, "bottom": 0} | sides_mm
    lines = "".join(f"    {side}: {mm}\n" for side, mm in sides.items())
    return f"  {name}:\n    stock: {stock}\n{lines}{copies}"


def work(text: str) -> tuple[Joinery, dict[str, float]]:
    """Work a plan out as far as the joints, and time each part of it."""
    seconds: dict[str, float] = {}
    start = time.process_time()
    plan, said = read_plan(text, "plans/generated.plan.yml", JOINT_WORDS)
    piece, also = place_parts(plan) if plan is not None else (None, ())
    if piece is None:
        raise SystemExit("\n".join(str(finding) for finding in (*said, *also)))
    seconds["placing"] = time.process_time() - start
    start = time.process_time()
    joinery, _ = cut_joints(piece)
    seconds["joints with proof"] = time.process_time() - start
    solids = {mark: placed_solid(joinery, mark) for mark in joinery.copies}
    start = time.process_time()
    locks = plan_assembly(solids, joinery.fits).locks
    seconds["proof alone"] = time.process_time() - start
    if locks:
        raise SystemExit(f"{locks[0].copies} are locked")
    return joinery, seconds


def time_best(text: str) -> dict[str, object]:
    """The best seconds of several runs, with the numbers of parts and joints."""
    runs = [work(text) for _ in range(RUNS)]
    joinery = runs[0][0]
    best = {what: round(min(run[1][what] for run in runs), 3) for what in runs[0][1]}
    return {"parts": len(joinery.copies), "joints": len(joinery.fits), "seconds": best}


def main() -> None:
    """Time all pieces; print a table and write the figures where asked."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--json", type=Path, help="file to write the figures to")
    arguments = parser.parse_args()
    kinds: dict[str, Callable[[int], str]] = {"shelving": shelving, "staging": staging}
    figures = {name: [time_best(make(count)) for count in COUNTS] for name, make in kinds.items()}
    print(f"{'piece':<12}{'parts':>6}{'joints':>8}{'placing':>10}{'joints':>10}{'proof':>10}")
    for name, rows in figures.items():
        for row in rows:
            seconds = "".join(f"{value:>10.3f}" for value in _in_order(row["seconds"]))
            print(f"{name:<12}{row['parts']:>6}{row['joints']:>8}{seconds}")
    if arguments.json:
        machine = {"processor": platform.processor() or platform.machine()}
        machine["python"] = platform.python_version()
        text = json.dumps({"machine": machine, "pieces": figures}, indent=2)
        arguments.json.write_text(text + "\n", encoding="utf-8")


def _in_order(seconds: dict[str, float]) -> Iterator[float]:
    yield from (seconds[what] for what in ("placing", "joints with proof", "proof alone"))


if __name__ == "__main__":
    main()
