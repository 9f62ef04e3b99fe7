"""Measure the cutting layouts: sheets, lengths, value and feasibility, against what is known.

    python benchmarks/cutting.py --data DIR --seconds S --json FILE [--limit N]

Runs every instance of every file in DIR whose name says that it is of a known kind: `class*.json`,
`furniture_sets*.json`, `one_sheet_value*.json`, `one_sheet_feasible*.json`,
`several_sheets*.json`, `lengths*.json`. No instance is shipped: their licences are mixed. Each
layout goes through the planner as blanks and stock would, and through the independent verifier;
rectpack runs beside it, its best of several settings. The seconds are those of one processor core,
by the process's own clock, so that a busy machine measures like an idle one. Kernels are compiled
before the first instance.

Columns: `ours`, `peer` and `bound` count sheets or bars; for several sizes of sheet they are the
area bought, for one sheet's value the value. In mode `feasible` they are sheets too: 1 says that
all parts come from one sheet, a bound of 2 that they cannot; `turns` says whether parts may turn.
"""

from __future__ import annotations

import argparse
import json
import platform
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import cutting_cases as cases
from cutting_peer import peer_of

TAKES = {
    "class": cases.fewest_sheets,
    "furniture_sets": cases.fewest_sheets,
    "one_sheet_value": cases.most_value,
    "one_sheet_feasible": cases.on_one_sheet,
    "several_sheets": cases.several_sheets,
    "lengths": cases.fewest_lengths,
}

Row = dict[str, Any]


def main() -> None:
    """Run the benchmark."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--data", type=Path, required=True, help="folder of instances")
    parser.add_argument("--seconds", type=float, default=2.0, help="for each instance and mode")
    parser.add_argument("--json", type=Path, required=True, help="file to write")
    parser.add_argument("--limit", type=int, default=None, help="first instances of each file")
    parser.add_argument("--only", default="", help="files whose name begins so")
    given = parser.parse_args()
    files = sorted(file for file in given.data.glob("*.json") if file.stem.startswith(given.only))
    jobs = [(file, kind) for file in files if (kind := kind_of(file)) is not None]
    if not jobs:
        sys.exit(f"no instances in {given.data}: see this file's head for the names looked for")
    cases.warm_up()
    rows = []
    for file, kind in jobs:
        for instance in instances(file, given.limit):
            for case in TAKES[kind](instance):
                rows.append(measure(case, file.name, given.seconds))
                print(json.dumps(rows[-1]), flush=True)
    result = {"machine": machine(), "seconds": given.seconds, "rows": rows, "totals": totals(rows)}
    given.json.write_text(json.dumps(result, indent=1) + "\n", encoding="utf-8")
    for total in result["totals"]:
        print(json.dumps(total))


def kind_of(file: Path) -> str | None:
    """The kind of a file by its name."""
    return next((kind for kind in TAKES if file.stem.startswith(kind)), None)


def instances(file: Path, limit: int | None) -> Iterator[Row]:
    """The instances of a file: a list, or lists by the name of their set."""
    held = json.loads(file.read_text(encoding="utf-8"))
    sets = held if isinstance(held, dict) else {"": held}
    listed = [{"set": name, **one} if name else one for name, own in sets.items() for one in own]
    yield from listed[:limit]


def measure(case: cases.Case, file: str, seconds: float) -> Row:
    """Solve one case, verify it, and let the peer solve it."""
    wall, start = time.perf_counter(), time.process_time()
    answer = case.solve(seconds)
    spent, elapsed = time.process_time() - start, time.perf_counter() - wall
    problems = case.verify(answer)
    for problem in problems:
        print(f"{file} {case.id} {case.mode}: {problem}", file=sys.stderr)
    return {
        "file": file,
        "id": case.id,
        "class": case.group,
        "mode": case.mode,
        **case.extra,
        "ours": answer.ours,
        "peer": peer_of(case),
        "bound": answer.bound,
        "best_known": case.best_known,
        "seconds": round(spent, 3),
        "wall": round(elapsed, 3),
        "valid": not problems,
    }


def totals(rows: list[Row]) -> list[Row]:
    """Add rows up by file, class and mode, and by file and mode."""
    summed: dict[tuple[str, str, str], list[Row]] = {}
    for row in rows:
        mode = row["mode"] + (" turn" if row.get("turns") else "")
        summed.setdefault((row["file"], str(row["class"]), mode), []).append(row)
        summed.setdefault((row["file"], "all", mode), []).append(row)
    return [
        {
            "file": file,
            "class": group,
            "mode": mode,
            "instances": len(own),
            **{key: add(own, key) for key in ("ours", "peer", "bound", "best_known")},
            "known": sum(row["best_known"] is not None for row in own),
            "valid": all(row["valid"] for row in own),
            "slowest": max(row["seconds"] for row in own),
        }
        for (file, group, mode), own in sorted(summed.items())
    ]


def add(rows: list[Row], key: str) -> int | float | None:
    """The sum of a column; None where nothing is known."""
    known = [row[key] for row in rows if row[key] is not None]
    return sum(known) if known else None


def machine() -> str:
    """What it was measured on."""
    return f"{platform.machine()}, {platform.system()}, Python {platform.python_version()}"


if __name__ == "__main__":
    main()
