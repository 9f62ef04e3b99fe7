"""No screw that carries a load is asked for more than it holds.

What:
    The load that goes from one part to another through screws alone is more than they may carry.

Why:
    A screw that gives way does so at once, with all that hangs on it.

Limit:
    A fifth of the load at which screws give way in a test, sideways or drawn out. Where glue holds
    too, the screws are told and not judged. Screws into end grain hold three quarters.

Source:
    Wood Handbook FPL-GTR-282 (2021), Eq. 8-10 and 8-13 with Table 8-4 (transcription); end grain
    chapter 8 (secondary); the fifth is chosen, near NDS (read).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from benchleaf.checking.records import Check, Quantity, Topic, Verdict, Working
from benchleaf.checking.stays import largest_axis
from benchleaf.checking.survey import Survey
from benchleaf.forms import Bore
from benchleaf.frames import Axis
from benchleaf.handbook.holding import lateral_n, withdrawal_n
from benchleaf.handbook.materials import Material, find_material
from benchleaf.handbook.tables import load_lateral, load_rules, load_withdrawal
from benchleaf.joinery.records import Hardware, JointFit

_SCREW = "wood screw"
# The thread of a wood screw runs over two thirds of its length: common practice, no source.
_THREADED = 2 / 3


@dataclass(frozen=True, slots=True, kw_only=True)
class _Screws:
    """The screws of one joint at one contact."""

    fit: JointFit
    screw: Hardware
    material: Material
    """What their threads are in."""
    thread_mm: float
    is_end_grain: bool
    load_n: float
    """What goes through the joint, N."""
    is_across: bool
    """True where that load pushes them sideways."""


def reckon_holding(survey: Survey) -> Iterator[Working]:
    """Reckon what the screws of each joint hold: of its contacts, the most loaded."""
    for joint in survey.piece.joints:
        found = [
            screws
            for fit in survey.joinery.fits
            if fit.joint == joint.index and (screws := _screws(survey, fit))
        ]
        worst = max(found, key=lambda one: one.load_n / one.screw.count, default=None)
        if worst:
            yield from _workings(survey, worst)


def _screws(survey: Survey, fit: JointFit) -> _Screws | None:
    screw = next((item for item in fit.hardware if item.kind == _SCREW), None)
    holder = survey.piece.part_of(fit.contact.second)
    material = find_material(holder.stock.material)
    pilots = [
        f.shape for f in fit.second_features if f.role == "pilot hole" and isinstance(f.shape, Bore)
    ]
    if screw is None or material is None or not pilots:
        return None
    way = fit.contact.frame.outward_direction(pilots[0].direction)
    own = survey.piece.copies[fit.contact.second].frame.inward_direction(way)
    along = largest_axis(own)
    pair = (fit.contact.first, fit.contact.second)
    through = survey.members.through
    load = max(through.get((*way_of, fit.joint), 0.0) for way_of in (pair, pair[::-1]))
    return _Screws(
        fit=fit,
        screw=screw,
        material=material,
        thread_mm=min(float(pilots[0].depth_mm), float(screw.length_mm) * _THREADED),
        is_end_grain=along == holder.grain_axis and material.panel is None,
        load_n=load,
        is_across=abs(float(way[Axis.HIGH])) < 0.5,
    )


def _workings(survey: Survey, screws: _Screws) -> Iterator[Working]:
    gravity, diameter = float(screws.material.gravity.value), float(screws.screw.diameter_mm)
    rules = load_rules("fastener rules")
    drawn = withdrawal_n(_SCREW, gravity, diameter_mm=diameter, thread_mm=screws.thread_mm)
    if screws.is_end_grain:
        drawn *= float(rules["end grain"].value)
    yield _told(survey, screws, drawn * float(rules["withdrawal allowed"].value))
    # A panel's table is that of hardwoods or softwoods of its own density.
    group = screws.material.group if screws.material.group != "panel" else "softwood"
    aside = lateral_n(_SCREW, group, gravity, diameter_mm=diameter)
    if aside is None or not screws.load_n or not screws.is_across:
        return
    # Eq. 8-13 is for seven diameters of thread; less holds in proportion (chosen).
    full = float(rules["full lateral thread"].value) * diameter
    allowed = aside * float(rules["lateral allowed"].value) * min(screws.thread_mm / full, 1.0)
    yield _judged(survey, screws, allowed)


def _inputs(screws: _Screws) -> tuple[Quantity, ...]:
    gravity = screws.material.gravity
    return (
        Quantity(symbol="G", name="specific gravity", value=gravity.value, unit="",
                 source=gravity.cited),
        Quantity(symbol="D", name="shank", value=screws.screw.diameter_mm, unit="mm"),
        Quantity(symbol="L", name="thread in the wood", value=screws.thread_mm, unit="mm"),
    )  # fmt: skip


def _names(survey: Survey, screws: _Screws) -> tuple[str, str]:
    contact = screws.fit.contact
    return survey.piece.copies[contact.first].part, survey.piece.copies[contact.second].part


def _told(survey: Survey, screws: _Screws, allowed_n: float) -> Working:
    first, second = _names(survey, screws)
    row, rules = load_withdrawal()[_SCREW], load_rules("fastener rules")
    share = rules["withdrawal allowed"]
    held = Quantity(symbol="p", name="may be drawn with", value=allowed_n, unit="N")
    end = f" In end grain it holds {float(rules['end grain'].value):.2f} of that in side grain."
    return Working(
        topic=Topic.FASTENERS,
        code="",
        title=f"Screws of {first} in {second}, drawn out",
        subject=f"joints[{screws.fit.joint}]",
        marks=(screws.fit.contact.first, screws.fit.contact.second),
        formula=f"p = {float(row.coefficient):g} G² D L × {share.value}",
        inputs=(*_inputs(screws), Quantity(symbol="", name="share that may be counted on",
                value=share.value, unit="", source=share.cited)),
        result=held,
        limit=None,
        verdict=Verdict.TOLD,
        words=f"Each {screws.screw.size} screw of {first} in {second} may be drawn with "
        f"{survey.show(held)}.",
        note=f"{row.source} ({row.status})." + (end if screws.is_end_grain else ""),
    )  # fmt: skip


def _judged(survey: Survey, screws: _Screws, allowed_n: float) -> Working:
    first, second = _names(survey, screws)
    row, share = load_lateral()[_SCREW], load_rules("fastener rules")["lateral allowed"]
    each = screws.load_n / screws.screw.count
    asked = Quantity(symbol="", name="load on each screw", value=each, unit="N")
    limit = Quantity(symbol="", name="limit", value=allowed_n, unit="N", source=share.cited)
    is_over = each > allowed_n and not screws.fit.is_glued
    told = f"each screw of {first} in {second} carries {survey.show(asked)} sideways"
    glue = "Glue holds this joint too; the screws are not needed for the load."
    return Working(
        topic=Topic.FASTENERS,
        code="K225",
        title=f"Screws of {first} in {second}, pushed aside",
        subject=f"joints[{screws.fit.joint}]",
        marks=(screws.fit.contact.first, screws.fit.contact.second),
        formula=f"p = K D² × {share.value}",
        inputs=(
            *_inputs(screws),
            Quantity(symbol="", name="load through the joint", value=screws.load_n, unit="N"),
            Quantity(symbol="", name="screws", value=screws.screw.count, unit=""),
        ),
        result=asked,
        limit=limit,
        verdict=Verdict.OVER if is_over else Verdict.HOLDS,
        words=told if is_over else f"{told}; at most {survey.show(limit)}.",
        note=f"{row.source} ({row.status})." + (f" {glue}" if screws.fit.is_glued else ""),
        remedy=f"Needed: at most {survey.show(limit)} each. Take more or thicker screws, or glue "
        "the joint.",
    )


CHECK = Check(
    code="K225",
    name="holding",
    title="No screw that carries a load is asked for more than it holds.",
    reckon=reckon_holding,
)
