"""Room that a panel of solid wood has in its grooves, against what it swells.

Takes a survey, gives workings that the check of movement tells. A panel that is not glued stands in
grooves of a frame; the room at their bottoms, on both sides together, is what it may swell by.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from benchleaf.checking.moisture import formula_of, inputs_of_change
from benchleaf.checking.records import Quantity, Topic, Verdict, Working
from benchleaf.checking.survey import Survey
from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import Feature, JointFit
from benchleaf.piece.seasons import Seasons, change_along


def reckon_swelling(survey: Survey, seasons: Seasons, code: str) -> Iterator[Working]:
    """Reckon the room of what stands loose in grooves; of each part, the tightest copy."""
    told: dict[tuple[str, Axis], Working] = {}
    for (mark, axis), fits in loose_edges(survey).items():
        working = _working(survey, mark, axis, fits=fits, seasons=seasons)
        if working:
            key = (survey.piece.copies[mark].part, axis)
            working = replace(working, code=code)
            told[key] = min(told.get(key, working), working, key=lambda one: one.result.value)
    yield from told.values()


def loose_edges(survey: Survey) -> dict[tuple[str, Axis], list[JointFit]]:
    """Joints in which a copy stands loose with an edge, by copy and the way across that edge."""
    found: dict[tuple[str, Axis], list[JointFit]] = {}
    for fit in survey.joinery.fits:
        frame = fit.contact.frame
        if fit.is_glued or fit.hardware or not frame.is_square or room_mm(fit) is None:
            continue
        axis = next(a for a in Axis if frame.axes[2][a])
        found.setdefault((fit.contact.first, axis), []).append(fit)
    return found


def room_mm(fit: JointFit) -> float | None:
    """Room at the bottom of the channel that the first copy enters; None where it enters none."""
    channel = [box for f in fit.second_features if not f.adds and (box := _box(f))]
    enters = entered_mm(fit)
    if not enters or not channel:
        return None
    return max(float(box.high[2]) for box in channel) - enters


def entered_mm(fit: JointFit) -> float:
    """How far the first copy goes into the second; 0 where it adds nothing square."""
    entered = [box for f in fit.first_features if f.adds and (box := _box(f))]
    return max((float(box.high[2]) for box in entered), default=0.0)


def _box(feature: Feature) -> Box | None:
    return feature.shape if isinstance(feature.shape, Box) else None


def _working(
    survey: Survey, mark: str, axis: Axis, *, fits: list[JointFit], seasons: Seasons
) -> Working | None:
    change = change_along(survey.piece, mark, axis, seasons)
    if change is None or not change.part:
        return None
    copy = survey.piece.copies[mark]
    # tongues and all
    size_mm = copy.frame.box_outward(survey.joinery.copies[mark].blank).size[axis]
    size = Quantity(symbol="D", name=f"size, {axis.extent}", value=size_mm, unit="mm")
    room = sum(room for fit in fits if (room := room_mm(fit)) is not None)
    swells = Quantity(symbol="Δ", name="swells by", value=float(size_mm) * change.swells, unit="mm")
    given = Quantity(symbol="", name="room in its grooves", value=room, unit="mm")
    is_over = room < float(swells.value)
    told = f"{copy.part} has room for {survey.show(given)} in its grooves"
    return Working(
        topic=Topic.MOVEMENT,
        code="",
        title=f"Room of {copy.part} in its grooves",
        subject=f"joints[{fits[0].joint}]",
        marks=(mark,),
        formula=formula_of(seasons),
        inputs=inputs_of_change(size, change, seasons),
        result=given,
        limit=Quantity(
            symbol="", name="at least", value=swells.value, unit="mm",
            source=_fitted(seasons),
        ),
        verdict=Verdict.OVER if is_over else Verdict.HOLDS,
        words=f"{told}, and swells by {survey.show(swells)}" + ("" if is_over else "."),
        note="Fitted in the dampest season it shrinks by as much: its edges must reach that far.",
        remedy=f"Needed: at least {survey.show(swells)} in all. Give the grooves `clearance`, or "
        "make them deeper.",
    )  # fmt: skip


def _fitted(seasons: Seasons) -> str:
    if seasons.built_moisture is None:
        return "chosen: the panel may be fitted in the driest season"
    return "from the moisture at which it is built, the plan"
