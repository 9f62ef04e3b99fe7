"""No bolt that carries a load is asked for more than the wood beside it bears.

What:
    The load that goes from one part to another across carriage bolts is more than they may carry.

Why:
    A bolt crushes the wood in its hole, tilts or bends; the joint sags, and near an end it splits.

Limit:
    The least of six ways in which bolt and wood give way, with the wood's strength along or across
    its grain, as the load runs. Nearer to an end than 7 diameters it holds less in proportion.

Source:
    Yield theory of the Wood Handbook FPL-GTR-190 (2010), chapter 8, with the factors of NDS,
    section 12.3 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from benchleaf.checking.records import Check, Quantity, Topic, Verdict, Working
from benchleaf.checking.survey import Survey
from benchleaf.forms import Bore
from benchleaf.frames import Axis
from benchleaf.handbook.bolts import Member, bolt_lateral_n
from benchleaf.handbook.materials import find_material
from benchleaf.handbook.tables import load_rules
from benchleaf.joinery.records import Hardware, JointFit
from benchleaf.piece.records import own_box

_BOLT = "carriage bolt"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bolts:
    """The bolts of one joint at one contact."""

    fit: JointFit
    bolt: Hardware
    members: tuple[Member, Member]
    """The thicker, then the other."""
    end_mm: float
    """From the nearest bolt to an end of either part, along its grain."""
    load_n: float


def reckon_bolts(survey: Survey) -> Iterator[Working]:
    """Reckon what the bolts of each joint carry: of its contacts, the most loaded."""
    for joint in survey.piece.joints:
        found = [
            bolts
            for fit in survey.joinery.fits
            if fit.joint == joint.index and (bolts := _bolts(survey, fit))
        ]
        worst = max(found, key=lambda one: one.load_n / one.bolt.count, default=None)
        if worst:
            yield _working(survey, worst)


def _bolts(survey: Survey, fit: JointFit) -> _Bolts | None:
    bolt = next((item for item in fit.hardware if item.kind == _BOLT), None)
    # A load down along the bolt pulls on its head and bends nothing.
    is_level = abs(float(fit.contact.frame.axes[2][Axis.HIGH])) < 0.5
    marks = (fit.contact.first, fit.contact.second)
    through = survey.members.through
    load = max(through.get((*pair, fit.joint), 0.0) for pair in (marks, marks[::-1]))
    members = [_member(survey, fit, mark) for mark in marks]
    if bolt is None or not is_level or not load or None in members:
        return None
    known = sorted((one for one in members if one), key=lambda one: -one.thickness_mm)
    return _Bolts(
        fit=fit,
        bolt=bolt,
        members=(known[0], known[1]),
        end_mm=min(_end_mm(survey, mark, fit.joint) for mark in marks),
        load_n=load,
    )


def _member(survey: Survey, fit: JointFit, mark: str) -> Member | None:
    part = survey.piece.part_of(mark)
    material = find_material(part.stock.material)
    if material is None:
        return None
    contact = fit.contact
    box = contact.first_box if mark == contact.first else contact.second_box
    grain = survey.piece.copies[mark].frame.axes[part.grain_axis]
    return Member(
        gravity=float(material.gravity.value),
        thickness_mm=float(box.size[2]),
        # Weight hangs straight down; a panel bears alike both ways.
        angle_deg=0.0 if material.panel else _from_upright_deg(float(grain[Axis.HIGH])),
    )


def _from_upright_deg(cosine: float) -> float:
    return math.degrees(math.acos(min(abs(cosine), 1.0)))


def _end_mm(survey: Survey, mark: str, joint: int) -> float:
    """From the bolts' holes of a joint to the nearer end of a copy, along its grain."""
    part = survey.piece.part_of(mark)
    axis, body = part.grain_axis, own_box(part)
    holes = [
        feature.shape
        for feature in survey.joinery.copies[mark].features
        if feature.joint == joint and isinstance(feature.shape, Bore)
    ]
    gaps = [
        float(gap)
        for hole in holes
        for gap in (hole.mouth[axis] - body.low[axis], body.high[axis] - hole.mouth[axis])
    ]
    return min(gaps, default=float(body.size[axis]))


def _working(survey: Survey, bolts: _Bolts) -> Working:
    contact = bolts.fit.contact
    first, second = (survey.piece.copies[mark].part for mark in (contact.first, contact.second))
    diameter, rules = float(bolts.bolt.diameter_mm), load_rules("bolts")
    full = float(rules["end distance"].value) * diameter
    share = min(bolts.end_mm / full, 1.0)
    allowed = bolt_lateral_n(*bolts.members, diameter_mm=diameter) * share
    each = bolts.load_n / bolts.bolt.count
    asked = Quantity(symbol="", name="load on each bolt", value=each, unit="N")
    limit = Quantity(symbol="Z", name="limit", value=allowed, unit="N",
                     source="NDS, section 12.3 (from memory)")  # fmt: skip
    told = f"each bolt of {first} and {second} carries {survey.show(asked)} across"
    is_over = each > allowed
    near = f" It stands nearer to an end than 7 diameters and holds {share:.2f} of that."
    return Working(
        topic=Topic.FASTENERS,
        code=CHECK.code,
        title=f"Bolts of {first} and {second}, pushed aside",
        subject=f"joints[{bolts.fit.joint}]",
        marks=(contact.first, contact.second),
        formula="Z = least of six yield modes: wood crushed, bolt tilted, bolt bent",
        inputs=tuple(_inputs(bolts)),
        result=asked,
        limit=limit,
        verdict=Verdict.OVER if is_over else Verdict.HOLDS,
        words=told if is_over else f"{told}; at most {survey.show(limit)}.",
        note="A guide by the yield theory of dowels." + (near if share < 1 else ""),
        remedy=f"Needed: at most {survey.show(limit)} each. Take more or thicker bolts, or move "
        "them in from the end.",
    )


def _inputs(bolts: _Bolts) -> Iterator[Quantity]:
    yield Quantity(symbol="D", name="bolt", value=bolts.bolt.diameter_mm, unit="mm")
    for member, which in zip(bolts.members, ("thicker part", "other part"), strict=True):
        yield Quantity(symbol="G", name=f"gravity, {which}", value=member.gravity, unit="")
        yield Quantity(symbol="l", name=which, value=member.thickness_mm, unit="mm")
        yield Quantity(symbol="θ", name=f"load to grain, {which}", value=member.angle_deg, unit="°")
    yield Quantity(symbol="", name="to the nearest end", value=bolts.end_mm, unit="mm")
    yield Quantity(symbol="", name="load through the joint", value=bolts.load_n, unit="N")
    yield Quantity(symbol="", name="bolts", value=bolts.bolt.count, unit="")


CHECK = Check(
    code="K231",
    name="bolts",
    title="No bolt that carries a load is asked for more than the wood beside it bears.",
    reckon=reckon_bolts,
)
