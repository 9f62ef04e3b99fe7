"""No panel of solid wood shrinks out of its grooves when the air is dry.

What:
    A panel stands loose in grooves, and less of its edge stands in them in the driest season than
    holds it.

Why:
    It shrinks across its grain: an edge comes out of its groove, light shows beside it, and it
    rattles or falls out.

Limit:
    1/8 in (3 mm) of the edge in each groove, the panel held in its middle; from the moisture at
    which it is built, or from that of the dampest season where the plan does not say.

Source:
    Wood Handbook FPL-GTR-190 (2010), Eq. 13-2 (read) with Table 13-5 (status by species); the limit
    is chosen.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from benchleaf.checking.moisture import formula_of, inputs_of_change
from benchleaf.checking.records import Check, Quantity, Topic, Verdict, Working
from benchleaf.checking.survey import Survey
from benchleaf.checking.swelling import entered_mm, loose_edges
from benchleaf.frames import Axis
from benchleaf.joinery.records import JointFit
from benchleaf.piece.seasons import Seasons, change_along, find_seasons

# chosen: less than this lets light through beside an edge that is not quite straight, mm.
_LEAST_MM = 3


def reckon_panels(survey: Survey) -> Iterator[Working]:
    """Reckon what is left in the grooves of loose panels; of each part, the worst copy."""
    seasons = find_seasons(survey.piece.plan)
    told: dict[tuple[str, Axis], Working] = {}
    for (mark, axis), fits in loose_edges(survey).items():
        working = _working(survey, mark, axis, fits=fits, seasons=seasons)
        if working:
            key = (survey.piece.copies[mark].part, axis)
            told[key] = min(told.get(key, working), working, key=lambda one: one.result.value)
    yield from told.values()


def _working(
    survey: Survey, mark: str, axis: Axis, *, fits: list[JointFit], seasons: Seasons
) -> Working | None:
    change = change_along(survey.piece, mark, axis, seasons)
    if change is None or not change.shrinks:
        return None
    copy = survey.piece.copies[mark]
    size_mm = copy.frame.box_outward(survey.joinery.copies[mark].blank).size[axis]
    size = Quantity(symbol="D", name=f"size, {axis.extent}", value=size_mm, unit="mm")
    enters = min(float(entered_mm(fit)) for fit in fits)
    shrinks = float(size_mm) * change.shrinks
    left = Quantity(symbol="", name="left in its groove", value=enters - shrinks / 2, unit="mm")
    is_over = enters - shrinks / 2 < _LEAST_MM
    told = f"{copy.part} shrinks by {survey.show(replace(left, value=shrinks))}"
    out = survey.show(replace(left, value=-float(left.value)))
    end = f"and {survey.show(left)} of its edge stays in each groove"
    if left.value <= 0:
        end = f"and its edge comes out of its groove by {out}"
    needed = replace(left, value=_LEAST_MM + shrinks / 2)
    return Working(
        topic=Topic.MOVEMENT,
        code=CHECK.code,
        title=f"Hold of {copy.part} in its grooves",
        subject=f"joints[{fits[0].joint}]",
        marks=(mark,),
        formula=f"{formula_of(seasons)}, half of it at each edge",
        inputs=(
            size,
            Quantity(symbol="", name="edge in its groove", value=enters, unit="mm"),
            *inputs_of_change(size, change, seasons)[1:],
        ),
        result=left,
        limit=Quantity(symbol="", name="at least", value=_LEAST_MM, unit="mm", source="chosen"),
        verdict=Verdict.OVER if is_over else Verdict.HOLDS,
        words=f"{told}, {end}" + ("" if is_over else "."),
        note="Held in its middle, by a pin or a spot of glue in each rail.",
        remedy=f"Needed: at least {survey.show(needed)} of the edge in each groove. Make the "
        "grooves deeper, or the panel of narrower parts or of sheet goods.",
    )


CHECK = Check(
    code="K230",
    name="panels_in_grooves",
    title="No panel of solid wood shrinks out of its grooves when the air is dry.",
    reckon=reckon_panels,
)
