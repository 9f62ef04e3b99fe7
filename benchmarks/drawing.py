"""Time pictures of generated pieces: jointed and dowelled staging of 15, 30, 60 and 120 parts.

Run from the project's folder: `python benchmarks/drawing.py --json drawing.json`. Each figure is
the best of several runs of one assembled and one exploded picture, without the making of solids.
"""

from __future__ import annotations

import argparse
import json
import platform
import time
from collections.abc import Callable
from pathlib import Path

from benchleaf.drawing.bodies import Body, body_of
from benchleaf.drawing.exploding import usual_gap_mm
from benchleaf.drawing.pictorial import assembled_picture, exploded_picture
from benchleaf.drawing.projection import ISOMETRIC
from benchleaf.drawing.shading import tell_apart
from benchleaf.frames import Box
from benchleaf.piece.solids import cut_solid, solid_of_box, solid_of_cylinder

COUNTS = (15, 30, 60, 120)
RUNS = 5
# Sizes of the staging, mm: posts square, rails and slats by thickness and height.
WIDE, POST, RAIL, TALL, SLAT = 1200, 50, 22, 70, 20
TENON, DOWEL, LEVEL = 30, 10, 350


def staging(count: int) -> list[Body]:
    """Generate staging of `count` parts: four posts, levels of four rails, slats on dowels."""
    levels = count // 15
    slats = [(count - 4) // levels - 4] * levels
    slats[0] += count - 4 - sum(4 + n for n in slats)
    deep = 80 * max(slats)
    rails = [rail for level in range(levels) for rail in _rails((level + 1) * LEVEL, deep)]
    tenons = [tenon for _, sides in rails for tenon in sides]
    bores = [_slat_bores((level + 1) * LEVEL, n, deep) for level, n in enumerate(slats)]
    flat = [bore for level in bores for slat in level for bore in slat]
    groups = {
        "A": [cut_solid(solid_of_box(box), [], tenons) for box in _posts(deep, levels)],
        "B": [cut_solid(solid_of_box(box), sides, flat) for box, sides in rails],
        "C": [
            cut_solid(solid_of_box(_slat((level + 1) * LEVEL, i, n, deep)), [], bores[level][i])
            for level, n in enumerate(slats)
            for i in range(n)
        ],
    }
    named = [(f"{part}{i}", s) for part, group in groups.items() for i, s in enumerate(group, 1)]
    return list(tell_apart([body_of(solid, mark) for mark, solid in named]))


def _posts(deep: int, levels: int) -> list[Box]:
    high = levels * LEVEL + TALL - 1
    return [
        Box((x, y, 0), (x + POST, y + POST, high))
        for x in (0, WIDE - POST)
        for y in (0, deep - POST)
    ]


def _rails(foot: int, deep: int) -> list[tuple[Box, list]]:
    """Two long rails and two end rails of a level, each a box and its two tenons."""
    rails = []
    for y in (10, deep - 10 - RAIL):
        box = Box((POST, y, foot), (WIDE - POST, y + RAIL, foot + TALL))
        ends = [(POST - TENON, POST), (WIDE - POST, WIDE - POST + TENON)]
        low, high = foot + 40, foot + TALL - 8
        tenons = [Box((a, y + 7, low), (b, y + RAIL - 7, high)) for a, b in ends]
        rails.append((box, [solid_of_box(tenon) for tenon in tenons]))
    for x in (10, WIDE - 10 - RAIL):
        box = Box((x, POST, foot), (x + RAIL, deep - POST, foot + TALL))
        ends = [(POST - TENON, POST), (deep - POST, deep - POST + TENON)]
        low, high = foot + 8, foot + TALL - 40
        tenons = [Box((x + 7, a, low), (x + RAIL - 7, b, high)) for a, b in ends]
        rails.append((box, [solid_of_box(tenon) for tenon in tenons]))
    return rails


def _slat(foot: int, number: int, count: int, deep: int) -> Box:
    """A slat across the end rails of a level, between the posts."""
    step = (deep - 2 * POST) / count
    front = POST + number * step
    return Box((10, front + 2, foot + TALL), (WIDE - 10, front + step - 2, foot + TALL + SLAT))


def _slat_bores(foot: int, count: int, deep: int) -> list[list]:
    """For each slat of a level its four dowel holes, half in the slat and half in the end rails."""
    bores = []
    for number in range(count):
        box = _slat(foot, number, count, deep)
        middle = (float(box.low[1]) + float(box.high[1])) / 2
        bores.append(
            [
                solid_of_cylinder(
                    (x, y, foot + TALL + 12), (0, 0, -1), depth_mm=37, diameters_mm=(DOWEL, DOWEL)
                )
                for x in (10 + RAIL / 2, WIDE - 10 - RAIL / 2)
                for y in (middle - 12, middle + 12)
            ]
        )
    return bores


def _best(act: Callable[[], object]) -> float:
    best = float("inf")
    for _ in range(RUNS):
        start = time.perf_counter()
        act()
        best = min(best, time.perf_counter() - start)
    return round(best, 4)


def _measure(count: int) -> dict[str, float]:
    bodies = staging(count)
    boxes = {
        b.mark: Box(tuple(b.vertices.min(axis=0)), tuple(b.vertices.max(axis=0))) for b in bodies
    }
    gap = usual_gap_mm(boxes)
    apart = {b.mark: (0, 0, gap) for b in bodies if b.mark.startswith("C")}
    return {
        "triangles": sum(len(body.triangles) for body in bodies),
        "assembled": _best(lambda: assembled_picture(bodies, ISOMETRIC)),
        "exploded": _best(lambda: exploded_picture(bodies, apart, ISOMETRIC)),
    }


def main() -> None:
    """Measure, print, and write the JSON file asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--json", type=Path, required=True)
    file = parser.parse_args().json
    measured = {str(count): _measure(count) for count in COUNTS}
    for count, figures in measured.items():
        print(count, figures)
    result = {
        "machine": f"{platform.machine()} {platform.system()} Python {platform.python_version()}",
        "scene_seconds_by_parts": {count: f["assembled"] for count, f in measured.items()},
        "exploded_seconds_by_parts": {count: f["exploded"] for count, f in measured.items()},
        "triangles_by_parts": {count: f["triangles"] for count, f in measured.items()},
    }
    file.write_text(json.dumps(result, indent=2) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
