"""No joint holds solid wood fast across more than the wood gives, and panels have room to swell.

What:
    Wood that swells and shrinks across the grain is glued or screwed, over a width, to wood or a
    panel that does not; or a panel of solid wood fills its grooves when the air is damp.

Why:
    The wood moves whether it may or not: it splits, opens its joint, or pushes a frame apart.

Limit:
    1.5 mm of movement between the two, over the width that is held; where screws alone hold it, the
    slot that they need is told. A loose panel needs as much room in its grooves as it swells. A
    board is taken as flat-sawn; the air is the plan's room or a heated one.

Source:
    Wood Handbook FPL-GTR-190 (2010), Eq. 13-2 (read) and 13-3 (from memory), with Table 13-5
    (status by species); moisture by FPL-GTR-282 (2021), Eq. 4-5 (transcription); the limit is
    common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from benchleaf.checking.moisture import (
    coefficient_of,
    formula_of,
    inputs_of_change,
    inputs_of_seasons,
)
from benchleaf.checking.records import Check, Quantity, Topic, Verdict, Working
from benchleaf.checking.stays import is_fastened
from benchleaf.checking.survey import Survey
from benchleaf.checking.swelling import reckon_swelling
from benchleaf.forms import Bore
from benchleaf.frames import Axis, Box
from benchleaf.handbook.tables import load_rules
from benchleaf.joinery.records import Feature, JointFit
from benchleaf.piece.seasons import Change, Seasons, change_along, find_seasons

# chosen: less movement than a quarter of a millimetre is not told, mm.
_LEAST_MM = 0.25
# chosen: parts narrower than three inches are not told on their own, mm.
_WIDE_MM = 75


@dataclass(frozen=True, slots=True, kw_only=True)
class _Held:
    """One joint at one contact, and how far its two parts move apart along one axis."""

    fit: JointFit
    axis: Axis
    width_mm: float
    """Width that is held."""
    changes: tuple[Change, Change]

    @property
    def moved_mm(self) -> float:
        """How far the two would move apart if nothing held them."""
        return abs(self.changes[0].part - self.changes[1].part) * self.width_mm


def reckon_movement(survey: Survey) -> Iterator[Working]:
    """Reckon movement across every joint that holds solid wood, and of every broad solid part."""
    seasons = find_seasons(survey.piece.plan)
    yield from _parts(survey, seasons)
    for joint in survey.piece.joints:
        held = [
            one
            for fit in survey.joinery.fits
            if fit.joint == joint.index and is_fastened(joint, fit)
            for one in _hold(survey, fit, seasons)
        ]
        worst = max(held, key=lambda one: one.moved_mm, default=None)
        if worst and worst.moved_mm >= _LEAST_MM:
            yield _working(survey, worst, seasons, marks=_marks(held))
    yield from reckon_swelling(survey, seasons, CHECK.code)


def _marks(held: list[_Held]) -> tuple[str, ...]:
    contacts = [one.fit.contact for one in held if one.moved_mm >= _LEAST_MM]
    return tuple(dict.fromkeys(mark for c in contacts for mark in (c.first, c.second)))


def _hold(survey: Survey, fit: JointFit, seasons: Seasons) -> Iterator[_Held]:
    """The two level directions in which a joint holds its parts to one another."""
    frame = fit.contact.frame
    if not frame.is_square:
        return
    for own in (0, 1):
        axis = next(a for a in Axis if frame.axes[own][a])
        first, second = (
            change_along(survey.piece, mark, axis, seasons)
            for mark in (fit.contact.first, fit.contact.second)
        )
        if first and second:
            yield _Held(fit=fit, axis=axis, width_mm=_width_mm(fit, own), changes=(first, second))


def _width_mm(fit: JointFit, own: int) -> float:
    """How wide a joint holds along its own axis u or v: what is glued, or from screw to screw."""
    bores = [f.shape for f in fit.second_features if isinstance(f.shape, Bore)]
    if bores:
        places = [float(bore.mouth[own]) for bore in bores]
        spread = max(places) - min(places)
        # Dowels hold where they are; so do screws without glue.
        if fit.kind == "dowels" or not fit.is_glued:
            return spread
    added = [box for feature in fit.first_features if (box := _added(feature))]
    if added:
        return max(float(box.size[own]) for box in added)
    return float((fit.contact.u_mm, fit.contact.v_mm)[own])


def _added(feature: Feature) -> Box | None:
    return feature.shape if feature.adds and isinstance(feature.shape, Box) else None


def _working(survey: Survey, held: _Held, seasons: Seasons, *, marks: tuple[str, ...]) -> Working:
    fit, rule = held.fit, load_rules("movement")["glued"]
    names = [survey.piece.copies[m].part for m in (fit.contact.first, fit.contact.second)]
    moved = Quantity(symbol="Δ", name="movement", value=held.moved_mm, unit="mm")
    limit = Quantity(symbol="", name="limit", value=float(rule.value), unit="mm", source=rule.cited)
    is_over = held.moved_mm > float(rule.value)
    how = "glued" if fit.is_glued else "held"
    width = Quantity(symbol="D", name=f"width that is {how}", value=held.width_mm, unit="mm")
    told = (
        f"{names[0]} and {names[1]} are {how} over {survey.show(width)}, across which they move "
        f"{survey.show(moved)} apart between the seasons"
    )
    slot = "Bore the clearance holes as slots along that way, longer than the screw is thick by "
    remedy = f"{slot}{survey.show(moved)}, all but one."
    if fit.is_glued:
        remedy = (
            f"Needed: at most {survey.show(limit)}. Glue the middle only, hold the rest in slots "
            "or buttons, or turn the grain of one part."
        )
    return Working(
        topic=Topic.MOVEMENT,
        code="K223",
        title=f"{names[0]} across {names[1]}",
        subject=f"joints[{fit.joint}]",
        marks=marks,
        formula=formula_of(seasons),
        inputs=(width, *_coefficients(held), *inputs_of_seasons(seasons)),
        result=moved,
        limit=limit,
        verdict=Verdict.OVER if is_over else Verdict.HOLDS,
        words=told if is_over else f"{told}; at most {survey.show(limit)}.",
        note=""
        if fit.is_glued
        else f"The outermost holes need slots, longer than what goes through them by "
        f"{survey.show(moved)}, or as much play.",
        remedy=remedy,
    )


def _coefficients(held: _Held) -> Iterator[Quantity]:
    """The coefficient of whichever part moves; C is the difference where both do."""
    for change, which in zip(held.changes, ("first", "second"), strict=True):
        if change.coefficient:
            yield coefficient_of(change, f"of the {which} part")


def _parts(survey: Survey, seasons: Seasons) -> Iterator[Working]:
    """How much each broad part of solid wood moves across its width."""
    for name, part in survey.piece.parts.items():
        copies = survey.piece.copies_of(name)
        width = part.box.size[part.width_axis]
        if not copies or width < _WIDE_MM:
            continue
        axis = next(a for a in Axis if copies[0].frame.axes[part.width_axis][a])
        change = change_along(survey.piece, copies[0].mark, axis, seasons)
        if change is None or not change.part:
            continue
        moved = Quantity(symbol="Δ", name="movement", value=float(width) * change.part, unit="mm")
        size = Quantity(symbol="D", name="width", value=width, unit="mm", source="the plan")
        yield Working(
            topic=Topic.MOVEMENT,
            code="",
            title=f"Width of {name}",
            subject=f"parts.{name}",
            marks=tuple(copy.mark for copy in copies),
            formula=formula_of(seasons),
            inputs=inputs_of_change(size, change, seasons),
            result=moved,
            limit=None,
            verdict=Verdict.TOLD,
            words=f"{name} is wider by {survey.show(moved)} in the dampest season than in the "
            "driest.",
        )


CHECK = Check(
    code="K223",
    name="movement",
    title="No joint holds solid wood fast across more than the wood gives, and panels have room "
    "to swell.",
    reckon=reckon_movement,
)
