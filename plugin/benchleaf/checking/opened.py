"""Where the weight goes when drawers are drawn out, filled, and doors stand open.

Takes a survey, gives what holds the piece down behind its front feet and what tips it before them.
Moments about the front feet are textbook statics. Must not judge.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from benchleaf.checking.mass import weigh_marks
from benchleaf.checking.records import Quantity
from benchleaf.checking.survey import Survey
from benchleaf.frames import Axis, Box
from benchleaf.handbook.tables import load_proportions, load_rules
from benchleaf.handbook.units import GRAVITY_M_S2
from benchleaf.joinery.moving import Mover, find_movers

_G = float(GRAVITY_M_S2)
_FORWARDS = (0, -1, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A piece with all drawers out and all doors open."""

    titles: tuple[str, ...]
    """What stands open, in order."""
    drawn_mm: float
    """How far the drawer is out that comes out farthest; 0 without drawers."""
    filled_n: float
    """Weight of what lies in all drawers, N."""
    holding_n_mm: float
    """Moment of all that lies behind the front feet."""
    tipping_n_mm: float
    """Moment of all that lies before them."""

    def inputs(self) -> tuple[Quantity, ...]:
        """What a working shows of it."""
        drawn, fill = load_proportions()["drawer drawn out"], load_rules("tipping")["fill"]
        moments = (
            _moment("H", "moment behind the front feet", self.holding_n_mm),
            _moment("T", "moment before them", self.tipping_n_mm),
        )
        if not self.drawn_mm:
            return moments
        return (
            *moments,
            Quantity(
                symbol="",
                name="drawn out",
                value=self.drawn_mm,
                unit="mm",
                source=f"{drawn.rule}; {drawn.source}",
            ),
            Quantity(
                symbol="",
                name="weight in the drawers",
                value=self.filled_n,
                unit="N",
                source=fill.cited,
            ),
        )


def _moment(symbol: str, name: str, value_n_mm: float) -> Quantity:
    return Quantity(symbol=symbol, name=name, value=value_n_mm / 1e3, unit="N m")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Load:
    weight_n: float
    at_mm: float
    """Its centre, from the front of the piece's axes."""


def open_all(survey: Survey, feet_mm: float) -> Opened | None:
    """Open everything that opens to the front; None where nothing does, or a weight is not known.

    Args:
        survey: The piece.
        feet_mm: Where its foremost feet stand, along deep.
    """
    movers = [own for own in find_movers(survey.piece, survey.joinery.fits) if _opens(own)]
    moved = {mark for mover in movers for mark in mover.marks}
    weighed = weigh_marks(survey.weights, [m for m in survey.piece.copies if m not in moved])
    if not movers or weighed is None:
        return None
    loads = [_Load(weight_n=weighed.mass_kg * _G, at_mm=weighed.centre_mm[Axis.DEEP])]
    drawn, filled = 0.0, 0.0
    for mover in movers:
        weight = weigh_marks(survey.weights, mover.marks)
        if weight is None:
            return None
        box = box_round(survey, mover.marks)
        own_n = weight.mass_kg * _G
        if mover.is_hung:
            loads.append(_Load(weight_n=own_n, at_mm=_swung_mm(box)))
            continue
        out = float(box.size[Axis.DEEP]) * float(load_proportions()["drawer drawn out"].factor)
        inside = inside_of(survey, mover.marks)
        fill_n = float(inside.volume_mm3) * float(load_rules("tipping")["fill"].value) * 1e-9 * _G
        middle = float(inside.low[Axis.DEEP] + inside.high[Axis.DEEP]) / 2
        loads.append(_Load(weight_n=own_n, at_mm=weight.centre_mm[Axis.DEEP] - out))
        loads.append(_Load(weight_n=fill_n, at_mm=middle - out))
        drawn, filled = max(drawn, out), filled + fill_n
    return Opened(
        titles=tuple(mover.title for mover in movers),
        drawn_mm=drawn,
        filled_n=filled,
        holding_n_mm=sum(own.weight_n * max(own.at_mm - feet_mm, 0.0) for own in loads),
        tipping_n_mm=sum(own.weight_n * max(feet_mm - own.at_mm, 0.0) for own in loads),
    )


def _opens(mover: Mover) -> bool:
    """Tell whether something opens to the front; what is hung is taken to."""
    return mover.is_hung or _FORWARDS in mover.ways


def _swung_mm(box: Box) -> float:
    """Where the centre of a door comes, square to the front: half its width before its face."""
    return float(box.low[Axis.DEEP]) - float(box.size[Axis.WIDE]) / 2


def box_round(survey: Survey, marks: Iterable[str]) -> Box:
    """The box round copies where they are placed."""
    first, *rest = (survey.piece.copies[mark].box for mark in marks)
    for other in rest:
        first = first.join(other)
    return first


def inside_of(survey: Survey, marks: tuple[str, ...]) -> Box:
    """The room in a drawer: between its sides, its front and its back, from its bottom up.

    Looked for from its middle: the nearest wood each way, and the drawer's own edge where there is
    none.
    """
    whole = box_round(survey, marks)
    boxes = [survey.piece.copies[mark].box for mark in marks]
    middle = tuple(float(a + b) / 2 for a, b in zip(whole.low, whole.high, strict=True))
    spans = [_span(whole, boxes, middle, axis) for axis in Axis]
    return Box(tuple(low for low, _ in spans), tuple(high for _, high in spans))  # type: ignore[arg-type]


def _span(
    whole: Box, boxes: list[Box], middle: tuple[float, ...], axis: Axis
) -> tuple[float, float]:
    across = [other for other in Axis if other is not axis]
    in_line = [box for box in boxes if all(box.low[a] <= middle[a] <= box.high[a] for a in across)]
    return (
        max([float(whole.low[axis]), *_ends(in_line, middle, axis, is_below=True)]),
        min([float(whole.high[axis]), *_ends(in_line, middle, axis, is_below=False)]),
    )


def _ends(
    boxes: list[Box], middle: tuple[float, ...], axis: Axis, *, is_below: bool
) -> Iterator[float]:
    for box in boxes:
        if is_below and box.high[axis] <= middle[axis]:
            yield float(box.high[axis])
        if not is_below and box.low[axis] >= middle[axis]:
            yield float(box.low[axis])
