"""A figure for the page of every joint family, drawn by Benchleaf from its first case.

Run this file to draw them; the pages show those that are there.
"""

from __future__ import annotations

from pathlib import Path

import yaml

from benchleaf.drawing.joint_figure import draw_joint
from benchleaf.drawing.svg import write_svg
from benchleaf.joinery import JOINT_KINDS
from benchleaf.joinery.solids import placed_solid
from small_plans import work_small_plan

ROOT = Path(__file__).parents[1]
PAGES = ROOT / "docs" / "joints"


def stem_of(code: str) -> str:
    """The name of a family's files."""
    return code.replace(" ", "_")


def figure_of(code: str) -> str:
    """The figure of a family's first case that is worked out, as SVG."""
    path = ROOT / "tests" / "cases" / f"{stem_of(code)}.yml"
    cases = yaml.safe_load(path.read_text("utf-8"))
    given = next(case["given"] for case in cases if "expect" in case)
    joinery, _ = work_small_plan(given)
    fit = next(fit for fit in joinery.fits if fit.kind == code)
    marks = (fit.contact.first, fit.contact.second)
    return write_svg(
        draw_joint(fit, joinery, {m: placed_solid(joinery, m) for m in marks}, is_titled=False)
    )


if __name__ == "__main__":
    for kind in JOINT_KINDS:
        (PAGES / f"{stem_of(kind)}.svg").write_text(figure_of(kind), "utf-8")
