"""The demo plans, worked as far as their joints, for the drawings' tests."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from manifold3d import Manifold

from benchleaf.drawing.book import solids_of
from benchleaf.joinery import JOINT_WORDS, cut_joints
from benchleaf.joinery.records import Joinery, JointFit
from benchleaf.piece.placing import place_parts
from benchleaf.reading.reader import read_plan
from benchleaf.shaping import SHAPING_WORDS

PLANS = Path(__file__).parents[2] / "plans"
NAMES = tuple(sorted(path.name.removesuffix(".plan.yml") for path in PLANS.glob("*.plan.yml")))


@cache
def joinery_of(name: str) -> Joinery:
    path = PLANS / f"{name}.plan.yml"
    text = path.read_text(encoding="utf-8")
    plan, findings = read_plan(text, path.name, JOINT_WORDS, shaping=SHAPING_WORDS)
    assert plan is not None, findings
    piece, findings = place_parts(plan)
    assert piece is not None, findings
    return cut_joints(piece)[0]


@cache
def solids_of_plan(name: str) -> dict[str, Manifold]:
    return solids_of(joinery_of(name))


def first_fits(joinery: Joinery) -> list[JointFit]:
    """Each joint of the plan at its first contact."""
    found: dict[int, JointFit] = {}
    for fit in joinery.fits:
        found.setdefault(fit.joint, fit)
    return list(found.values())
