"""Time all geometry of generated pieces of 15, 30, 60, 120 and 240 parts, up to the proof.

Run from the project's folder: `python benchmarks/geometry.py --json geometry.json`. The pieces are
those of `insertion.py`. Each figure is the least of several runs, in seconds of one core: reading;
placing, with all contacts; joints, with the features of every part; solids of the finished parts;
and the proof that they go together. The aim, for 60 parts with 120 joints: all but the proof in
1.5 s, the proof in 2 s.
"""

from __future__ import annotations

import argparse
import json
import platform
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from benchleaf.joinery import JOINT_KINDS, JOINT_WORDS, cut_joints
from benchleaf.joinery.assembly import plan_assembly
from benchleaf.joinery.records import Bench
from benchleaf.joinery.solids import placed_solid
from benchleaf.piece.placing import place_parts
from benchleaf.piece.records import Piece
from benchleaf.reading import read_plan
from insertion import COUNTS, RUNS, shelving, staging

STAGES = ("reading", "placing", "joints", "solids", "proof", "all but the proof")
# Seconds, for 60 parts with 120 joints on one core: the project's own aim.
AIMS = {"all but the proof": 1.5, "proof": 2.0}


def time_once(text: str) -> tuple[tuple[int, int], dict[str, float]]:
    """Work a plan out as far as the proof; parts and joints, and the seconds of each stage."""
    seconds: dict[str, float] = {}
    with _timed("reading", seconds):
        plan, said = read_plan(text, "plans/generated.plan.yml", JOINT_WORDS)
    with _timed("placing", seconds):
        piece, also = place_parts(plan) if plan is not None else (None, ())
    if piece is None:
        raise SystemExit("\n".join(str(finding) for finding in (*said, *also)))
    with _timed("joints", seconds):
        _fit_all(piece)
    joinery, _ = cut_joints(piece)
    with _timed("solids", seconds):
        solids = {mark: placed_solid(joinery, mark) for mark in joinery.copies}
    with _timed("proof", seconds):
        locks = plan_assembly(solids, joinery.fits).locks
    if locks:
        raise SystemExit(f"{locks[0].copies} are locked")
    seconds["all but the proof"] = sum(seconds.values()) - seconds["proof"]
    return (len(joinery.copies), len(joinery.fits)), seconds


def _fit_all(piece: Piece) -> None:
    """Every joint at every contact, by its family alone."""
    for joint in piece.joints:
        bench = Bench(
            first=piece.parts[joint.first],
            second=piece.parts[joint.second],
            wall_mm=piece.plan.shop.wall_mm,
            piece=piece,
        )
        for contact in joint.contacts:
            JOINT_KINDS[joint.kind].fit(joint, contact, bench)


@contextmanager
def _timed(stage: str, seconds: dict[str, float]) -> Iterator[None]:
    start = time.process_time()
    yield
    seconds[stage] = time.process_time() - start


def time_best(text: str) -> dict[str, object]:
    """The least seconds of several runs, with the numbers of parts and joints."""
    runs = [time_once(text) for _ in range(RUNS)]
    best = {stage: round(min(run[1][stage] for run in runs), 3) for stage in STAGES}
    parts, joints = runs[0][0]
    return {"parts": parts, "joints": joints, "seconds": best}


def main() -> None:
    """Time all pieces; print a table and write the figures where asked."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--json", type=Path, help="file to write the figures to")
    arguments = parser.parse_args()
    kinds: dict[str, Callable[[int], str]] = {"shelving": shelving, "staging": staging}
    print(f"{'piece':<10}{'parts':>6}{'joints':>7}" + "".join(f"{s:>19}" for s in STAGES))
    figures: dict[str, list[dict[str, object]]] = {}
    for name, make in kinds.items():
        for count in COUNTS:
            row = time_best(make(count))
            figures.setdefault(name, []).append(row)
            shown = "".join(f"{value:>19.3f}" for value in row["seconds"].values())
            print(f"{name:<10}{row['parts']:>6}{row['joints']:>7}{shown}")
    aims = ", ".join(f"{stage} {most} s" for stage, most in AIMS.items())
    print(f"aim for 60 parts with 120 joints: {aims}")
    if arguments.json:
        machine = {"processor": platform.processor() or platform.machine()}
        machine["python"] = platform.python_version()
        held = {"machine": machine, "aims": AIMS, "pieces": figures}
        arguments.json.write_text(json.dumps(held, indent=2) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
