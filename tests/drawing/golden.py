"""Drawings that were looked at and found good: `python -m tests.drawing.golden` renews them.

Look at every file that changed before it is kept.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path

from tests.drawing import layouts, sheet_parts

from benchleaf.drawing.cutting_diagram import draw_sheet_layout
from benchleaf.drawing.length_diagram import draw_length_layouts
from benchleaf.drawing.part_sheet import draw_part_sheet
from benchleaf.drawing.scene import Scene
from benchleaf.drawing.svg import write_svg

FOLDER = Path(__file__).parent / "golden"


def golden_scenes() -> Mapping[str, Scene]:
    """By name of file."""
    sheet, cut_plan = layouts.busy_sheet()
    boards = layouts.boards()
    plan = layouts.plan_of()
    return {
        "part-leg": draw_part_sheet(*sheet_parts.leg()),
        "part-long-rail": draw_part_sheet(*sheet_parts.rail()),
        "part-side": draw_part_sheet(*sheet_parts.side()),
        "sheet": draw_sheet_layout(sheet, cut_plan, plan),
        "boards": draw_length_layouts(boards, layouts.cut_plan_of([], boards), plan)[0],
    }


def main() -> None:
    """Write every golden drawing anew, and name those that changed."""
    FOLDER.mkdir(exist_ok=True)
    for name, scene in golden_scenes().items():
        path = FOLDER / f"{name}.svg"
        text = write_svg(scene)
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            path.write_text(text, encoding="utf-8", newline="\n")
            sys.stdout.write(f"renewed {path.name}: look at it\n")


if __name__ == "__main__":
    main()
