"""Nothing that stands by itself tips over under a push or a load at its edge.

What:
    A piece as high as a chest tips when it is pushed at its top, or loaded at its front edge,
    harder than its own weight can hold.

Why:
    Furniture that falls on a child kills. An anchor to the wall takes the whole moment at little
    cost.

Limit:
    A push of 10 lb at the top, at most 56 in up, and 60 lb hung on the front edge, from 27 in of
    height on. Drawers two thirds out with 8.5 lb in each cubic foot of them, and doors square open,
    must weigh less on the front feet than all that stands behind those. It is judged where the
    piece is two and a half times as high as its feet are apart, or has drawers or doors and is as
    high, heavy and roomy as the storage units of that rule (27 in, 30 lb, 3.2 cubic feet). Others
    are told how it stands with them. Empty but for that, on a level floor. A static estimate like
    the tests for clothing storage units, and no such test.

Source:
    88 Fed. Reg. 28403 (2023), preamble, for the push, the load and the filling (secondary); 16 CFR
    1261 for the height (read); how far a drawer comes out is common practice, no source; moments
    about the feet, textbook statics.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from benchleaf.checking.mass import Weight, weigh_marks
from benchleaf.checking.opened import Opened, open_all
from benchleaf.checking.records import Check, Quantity, Topic, Verdict, Working
from benchleaf.checking.standing import how_it_stands
from benchleaf.checking.survey import Survey
from benchleaf.frames import Axis
from benchleaf.handbook.tables import load_rules
from benchleaf.handbook.units import GRAVITY_M_S2
from benchleaf.joinery.moving import find_movers
from benchleaf.joinery.solids import placed_solid
from benchleaf.reading.plan import Stands

# chosen: what is within half a millimetre of the lowest point stands on the floor, mm.
_FLOOR_MM = 0.5
_G = float(GRAVITY_M_S2)
# chosen: what is less than two and a half times as high as its feet are apart leans far before it
# falls; a bookcase is four times.
_SLENDER = 2.5
# Names of parts that close a storage.
_CLOSED = re.compile(r"\b(drawer|door)")
_LOADED = "Loaded at the front edge"
_OPEN = "Drawers out and doors open"
# chosen: a moment as small as this, N mm, stands for none: nothing is before the feet.
_LEAST_N_MM = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Footing:
    """What the piece stands on, and what holds it down."""

    weight: Weight
    high_mm: float
    """Of its top above the floor."""
    ways: tuple[tuple[str, float, float], ...]
    """(face that it tips to, mm from its centre to the feet there, mm from them to its edge)."""
    front_mm: float
    """Where its foremost feet stand, in the piece's axes."""


def in_scope_of_storage_units(high_mm: float, mass_kg: float, storage_m3: float) -> bool:
    """Tell whether a chest is one that 16 CFR 1261 is about: height, mass and enclosed storage.

    >>> in_scope_of_storage_units(27 * 25.4, 30 * 0.45359237, 3.2 * 0.028316846592)
    True
    """
    tipping = load_rules("tipping")
    sizes = {"scope high": high_mm, "scope heavy": mass_kg, "scope storage": storage_m3}
    # Limits are met at the figure itself, and floats of it may lie a hair below.
    return all(size >= float(tipping[key].value) * (1 - 1e-12) for key, size in sizes.items())


def find_footing(survey: Survey) -> Footing | None:
    """Find what a piece stands on; None where a copy's weight is not known."""
    weight = weigh_marks(survey.weights, survey.piece.copies)
    if weight is None:
        return None
    boxes = [copy.box for copy in survey.piece.copies.values()]
    floor = min(float(box.low[Axis.HIGH]) for box in boxes)
    points = _floor_points(survey, floor)
    if not points:
        return None
    hull = shapely.MultiPoint(points).convex_hull
    x, y = weight.centre_mm[:2]
    left, front, right, back = hull.bounds
    outer = {axis: (min(float(b.low[axis]) for b in boxes), max(float(b.high[axis]) for b in boxes))
             for axis in (Axis.WIDE, Axis.DEEP)}  # fmt: skip
    ways = (
        ("front", y - front, front - outer[Axis.DEEP][0]),
        ("back", back - y, outer[Axis.DEEP][1] - back),
        ("left", x - left, left - outer[Axis.WIDE][0]),
        ("right", right - x, outer[Axis.WIDE][1] - right),
    )
    high = max(float(box.high[Axis.HIGH]) for box in boxes) - floor
    return Footing(weight=weight, high_mm=high, ways=ways, front_mm=front)


def _floor_points(survey: Survey, floor: float) -> list[tuple[float, float]]:
    """Where the piece touches the floor, from above."""
    points = []
    for mark, copy in survey.piece.copies.items():
        if float(copy.box.low[Axis.HIGH]) > floor + _FLOOR_MM:
            continue
        corners = placed_solid(survey.joinery, mark).to_mesh64().vert_properties
        points += [(float(p[0]), float(p[1])) for p in corners if p[2] <= floor + _FLOOR_MM]
    return points


def reckon_tipping(survey: Survey) -> Iterator[Working]:
    """Reckon how a piece on the floor tips, or what pulls on the wall that it hangs on."""
    footing = find_footing(survey)
    if footing is None or not survey.piece.copies:
        return
    if how_it_stands(survey.piece.plan) is Stands.HUNG:
        yield _hung(survey, footing)
        return
    yield _lean(survey, footing)
    if footing.high_mm >= float(load_rules("tipping")["scope high"].value):
        yield _pushed(survey, footing)
        yield _loaded(survey, footing)
    opened = open_all(survey, footing.front_mm)
    if opened is not None:
        yield _opened(survey, footing, opened)


def _weakest(footing: Footing) -> tuple[str, float, float]:
    # to a hundredth of a millimetre, so that a tie goes to the front
    return min(footing.ways, key=lambda way: round(way[1], 2))


def _quantities(footing: Footing, face: str, arm_mm: float) -> tuple[Quantity, ...]:
    weight_n = footing.weight.mass_kg * _G
    height = footing.weight.centre_mm[Axis.HIGH]
    return (
        Quantity(symbol="G", name="weight of the piece, empty", value=weight_n, unit="N"),
        Quantity(symbol="c", name=f"centre to the feet at the {face}", value=arm_mm, unit="mm"),
        Quantity(symbol="z", name="centre above the floor", value=height, unit="mm"),
    )


def _lean(survey: Survey, footing: Footing) -> Working:
    face, arm_mm, _ = _weakest(footing)
    height = footing.weight.centre_mm[Axis.HIGH]
    angle = math.degrees(math.atan2(arm_mm, height))
    lean = Quantity(symbol="a", name="lean", value=angle, unit="deg")
    return Working(
        topic=Topic.STANDING,
        code="",
        title="How far it leans before it falls",
        subject="plan",
        marks=(),
        formula="a = atan(c / z)",
        inputs=_quantities(footing, face, arm_mm)[1:],
        result=lean,
        limit=None,
        verdict=Verdict.TOLD,
        words=f"Empty, it falls to the {face} once it leans {survey.show(lean)}.",
    )


def _factor(value: float) -> Quantity:
    return Quantity(symbol="n", name="holding to tipping moment", value=value, unit="times")


def _pushed(survey: Survey, footing: Footing) -> Working:
    rules = load_rules("tipping")
    face, arm_mm, _ = _weakest(footing)
    push_n = float(rules["push"].value)
    at_mm = min(footing.high_mm, float(rules["push height"].value))
    holding = footing.weight.mass_kg * _G * arm_mm
    push = Quantity(symbol="F", name="push", value=push_n, unit="N", source=rules["push"].cited)
    height = Quantity(
        symbol="H",
        name="height of the push",
        value=at_mm,
        unit="mm",
        source=rules["push height"].cited,
    )
    case = _Case(
        title=f"Pushed at the top, towards the {face}",
        formula="n = G c / (F H)",
        words=f"a push of {survey.show(push)} towards the {face}, {survey.show(height)} up",
        holding_n_mm=holding,
        tipping_n_mm=push_n * at_mm,
        inputs=(*_quantities(footing, face, arm_mm)[:2], push, height),
    )
    return _judged(survey, footing, case)


def _loaded(survey: Survey, footing: Footing) -> Working:
    rules = load_rules("tipping")
    face, arm_mm, past_mm = footing.ways[0]  # things are hung on fronts
    hung_n = float(rules["hung"].value) * _G
    holding = footing.weight.mass_kg * _G * arm_mm
    hung = Quantity(symbol="P", name="load", value=hung_n, unit="N", source=rules["hung"].cited)
    out = Quantity(symbol="x", name="load in front of the feet", value=past_mm, unit="mm")
    if past_mm < _FLOOR_MM:
        return _above_feet(hung, out)
    case = _Case(
        title=_LOADED,
        formula="n = G c / (P x)",
        words=f"{survey.show(hung)} hung {survey.show(out)} in front of its feet",
        holding_n_mm=holding,
        tipping_n_mm=hung_n * past_mm,
        inputs=(*_quantities(footing, face, arm_mm)[:2], hung, out),
    )
    return _judged(survey, footing, case)


def _opened(survey: Survey, footing: Footing, opened: Opened) -> Working:
    """All drawers out and filled, all doors open: what of it stands before the front feet."""
    case = _Case(
        title=_OPEN,
        formula="n = H / T; H, T = sum of weight × distance to the front feet",
        words=f"{_joined(opened.titles)} open" + (", filled" if opened.drawn_mm else ""),
        holding_n_mm=opened.holding_n_mm,
        tipping_n_mm=max(opened.tipping_n_mm, _LEAST_N_MM),
        inputs=opened.inputs(),
    )
    return _judged(survey, footing, case)


def _joined(titles: Sequence[str]) -> str:
    *first, last = titles
    return f"{', '.join(first)} and {last}" if first else last


def _above_feet(hung: Quantity, out: Quantity) -> Working:
    return Working(
        topic=Topic.STANDING,
        code="",
        title=_LOADED,
        subject="plan",
        marks=(),
        formula="n = G c / (P x)",
        inputs=(hung,),
        result=out,
        limit=None,
        verdict=Verdict.HOLDS,
        words="What is hung on its front edge is above its feet, and cannot tip it.",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Case:
    """One way in which the piece may be tipped."""

    title: str
    words: str
    """To follow `held against`, or to begin `... tips it over`."""
    formula: str
    holding_n_mm: float
    tipping_n_mm: float
    inputs: tuple[Quantity, ...]

    @property
    def factor(self) -> float:
        return self.holding_n_mm / self.tipping_n_mm


def _note(survey: Survey, footing: Footing, pull: Quantity) -> str:
    anchored = f"An anchor at the top would hold it, with a pull of {survey.show(pull)}."
    if _is_judged(survey, footing):
        return anchored
    told = f"Told and not judged: it is less than {_SLENDER} times as high as its feet are apart."
    return f"{anchored} {told}"


def _is_judged(survey: Survey, footing: Footing) -> bool:
    """Tell whether a piece that tips is judged, and not only told."""
    mass = footing.weight.mass_kg
    return _is_slender(footing) or in_scope_of_storage_units(
        footing.high_mm, mass, _storage_m3(survey)
    )


def _storage_m3(survey: Survey) -> float:
    """Enclosed storage of a piece with drawers or doors; none of any other.

    CPSC's page on 16 CFR 1261 (read): half of height x width x depth, where no drawer is measured.
    """
    has_movers = bool(find_movers(survey.piece, survey.joinery.fits))
    if not has_movers and not any(_CLOSED.search(name) for name in survey.piece.parts):
        return 0.0
    wide, deep, high = (float(extent) for extent in survey.piece.overall.size)
    return wide * deep * high * 1e-9 / 2


def _is_slender(footing: Footing) -> bool:
    """Tell whether a piece is high over its feet."""
    depth = min(
        sum(arm for _, arm, _ in footing.ways[:2]), sum(arm for _, arm, _ in footing.ways[2:])
    )
    return footing.high_mm >= _SLENDER * depth


def _judged(survey: Survey, footing: Footing, case: _Case) -> Working:
    """Judge a case of tipping, and say what an anchor at the top would have to hold."""
    rules = load_rules("tipping")
    least, easy = float(rules["factor"].value), float(rules["easy factor"].value)
    is_anchored = how_it_stands(survey.piece.plan) is Stands.ANCHORED
    moment = max(case.tipping_n_mm - case.holding_n_mm, 0.0)
    pull = Quantity(symbol="", name="pull", value=moment / footing.high_mm, unit="N")
    verdict = Verdict.HOLDS if case.factor >= easy else Verdict.WATCH
    if case.factor < least and not is_anchored and _is_judged(survey, footing):
        verdict = Verdict.OVER
    words = f"Its own weight holds it against {case.words}: {case.factor:.1f} times that."
    if case.factor < least:
        words = f"{case.words}, tips it over"
        if is_anchored:
            words += f"; the anchor at its top holds it, with a pull of {survey.show(pull)}."
    return Working(
        topic=Topic.STANDING,
        code="K224",
        title=case.title,
        subject="stands" if is_anchored else "plan",
        marks=(),
        formula=case.formula,
        inputs=case.inputs,
        result=_factor(case.factor),
        limit=Quantity(
            symbol="", name="at least", value=least, unit="times", source=rules["factor"].cited
        ),
        verdict=verdict,
        words=words,
        note=_note(survey, footing, pull) if case.factor < least and not is_anchored else "",
        remedy="Anchor it to the wall and write `stands: anchored`, or make its feet wider.",
    )


def _hung(survey: Survey, footing: Footing) -> Working:
    boxes = [copy.box for copy in survey.piece.copies.values()]
    wall = max(float(box.high[Axis.DEEP]) for box in boxes)
    front = min(float(box.low[Axis.DEEP]) for box in boxes)
    own_n = footing.weight.mass_kg * _G
    loads_n = _loads_n(survey)
    own_arm = wall - footing.weight.centre_mm[Axis.DEEP]
    moment = own_n * own_arm + loads_n * (wall - front) / 2
    pull = Quantity(symbol="T", name="pull at the top", value=moment / footing.high_mm, unit="N")
    down = Quantity(symbol="", name="weight on the wall", value=own_n + loads_n, unit="N")
    return Working(
        topic=Topic.STANDING,
        code="",
        title="What pulls on the wall",
        subject="plan",
        marks=(),
        formula="T = (G c + Q d / 2) / H",
        inputs=(
            Quantity(symbol="G", name="weight of the piece", value=own_n, unit="N"),
            Quantity(symbol="c", name="centre to the wall", value=own_arm, unit="mm"),
            Quantity(symbol="Q", name="loads on its shelves", value=loads_n, unit="N"),
            Quantity(symbol="d", name="depth", value=wall - front, unit="mm"),
            Quantity(symbol="H", name="height", value=footing.high_mm, unit="mm"),
        ),
        result=pull,
        limit=None,
        verdict=Verdict.TOLD,
        words=f"Loaded, it weighs {survey.show(down)} on its fixings, and draws at the upper ones "
        f"with {survey.show(pull)}.",
        note="It turns about its lower edge; each fixing's share follows from how many there are.",
    )


def _loads_n(survey: Survey) -> float:
    """All loads that stand on plates at once; people are left out."""
    return sum(
        member.load_n
        for member in survey.members.members
        if member.carried.spread_kpa and member.part.thickness_axis is Axis.HIGH
    )


CHECK = Check(
    code="K224",
    name="tipping",
    title="Nothing that stands by itself tips over under a push or a load at its edge.",
    reckon=reckon_tipping,
)
