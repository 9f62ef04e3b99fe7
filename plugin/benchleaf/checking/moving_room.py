"""Drawers and doors have room to move in their openings, in the dampest season too.

What:
    Between a drawer or a door and what stands round it is less room than it swells by across the
    grain, or than it needs to move at all.

Why:
    A drawer that fits in winter sticks in summer; a door that rubs tears its hinges out.

Limit:
    1/32 in (0.8 mm) at each side, or what the wood swells by between the two humidities of the room
    where that is more. A panel that stands loose in its frame does not widen it. Between two doors
    each has half of the gap. A board is taken as flat-sawn.

Source:
    Wood Handbook FPL-GTR-190 (2010), Eq. 13-2 (read) with Table 13-5 (status by species); the least
    gap is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from benchleaf.checking.moisture import formula_of
from benchleaf.checking.moisture import inputs_of_change as inputs_of
from benchleaf.checking.records import Check, Quantity, Topic, Verdict, Working
from benchleaf.checking.survey import Survey
from benchleaf.frames import Axis
from benchleaf.handbook.tables import load_rules
from benchleaf.joinery.moving import Mover, find_movers
from benchleaf.joinery.solids import placed_solid
from benchleaf.piece.seasons import Change, Seasons, change_along, find_seasons

# chosen: what stands farther off than an inch is no side of an opening, mm.
_FAR_MM = 25.4
# chosen: what overlaps by less stands beside, and not before, mm.
_BESIDE_MM = 0.5

_Ends = tuple[tuple[float, ...], tuple[float, ...]]
"""Low and high corner of a finished copy where it stands, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """The room of one mover along one axis."""

    mover: Mover
    axis: Axis
    gaps_mm: tuple[float, ...]
    """At its low and its high side; one where it lies on a runner."""
    swells_mm: float
    widest: tuple[float, Change] | None
    """Size and change of what swells most, or None where nothing does."""


def reckon_moving_room(survey: Survey) -> Iterator[Working]:
    """Reckon the room round every drawer and every door; of several alike, the tightest."""
    seasons = find_seasons(survey.piece.plan)
    movers = find_movers(survey.piece, survey.joinery.fits)
    told: dict[tuple[str, Axis], Working] = {}
    ends = {mark: _ends(survey, mark) for mark in survey.piece.copies} if movers else {}
    for mover in movers:
        for axis in _across(mover):
            room = _room(survey, mover, movers, axis=axis, ends=ends, seasons=seasons)
            if room:
                working = _working(survey, room, seasons)
                key = (mover.path, axis)
                told[key] = min(told.get(key, working), working, key=lambda one: one.result.value)
    yield from told.values()


def _ends(survey: Survey, mark: str) -> _Ends:
    found = placed_solid(survey.joinery, mark).bounding_box()
    return found[:3], found[3:]


def _across(mover: Mover) -> Iterator[Axis]:
    """The axes across the way that it moves: wide and high for what opens to the front."""
    along = next((axis for way in mover.ways for axis in Axis if way[axis]), Axis.DEEP)
    return (axis for axis in Axis if axis is not along)


def _room(  # noqa: PLR0913 - two by position, the rest named
    survey: Survey,
    mover: Mover,
    movers: tuple[Mover, ...],
    *,
    axis: Axis,
    ends: dict[str, _Ends],
    seasons: Seasons,
) -> _Room | None:
    gaps = [_gap(mover, movers, axis, is_high, ends=ends) for is_high in (False, True)]
    if not mover.is_hung and axis is Axis.HIGH:
        gaps = gaps[1:]  # it lies on its runner, and grows upwards
    if any(gap is None for gap in gaps):
        return None
    swells, widest = _swelling(survey, mover, axis, seasons)
    return _Room(
        mover=mover,
        axis=axis,
        gaps_mm=tuple(gap for gap in gaps if gap is not None),
        swells_mm=swells,
        widest=widest,
    )


def _gap(
    mover: Mover, movers: tuple[Mover, ...], axis: Axis, is_high: bool, *, ends: dict[str, _Ends]
) -> float | None:
    """The least gap on one side; None where nothing stands near. Half of one between two doors."""
    also = {mark: other for other in movers if other is not mover for mark in other.marks}
    found: list[float] = []
    for own in mover.marks:
        for mark, other in ends.items():
            if mark in mover.marks or not _faces(ends[own], other, axis):
                continue
            low, high = (ends[own], other) if is_high else (other, ends[own])
            gap = high[0][axis] - low[1][axis]
            if -_BESIDE_MM < gap <= _FAR_MM:
                found.append(max(gap, 0.0) / (2 if mark in also else 1))
    return min(found, default=None)


def _faces(one: _Ends, other: _Ends, axis: Axis) -> bool:
    return all(
        min(one[1][a], other[1][a]) - max(one[0][a], other[0][a]) > _BESIDE_MM
        for a in Axis
        if a is not axis
    )


def _swelling(
    survey: Survey, mover: Mover, axis: Axis, seasons: Seasons
) -> tuple[float, tuple[float, Change] | None]:
    """How much it grows along an axis, mm; and the size and change of what grows most."""
    stiff = [mark for mark in mover.marks if not _is_loose(survey, mark, mover)]
    boxes = {mark: survey.piece.copies[mark].box for mark in stiff}
    grown = {}
    for mark in stiff:
        change = change_along(survey.piece, mark, axis, seasons)
        if change is not None and change.part:
            size = float(boxes[mark].size[axis])
            grown[mark] = (size * change.part, size, change)
    most, widest = 0.0, None
    for middle in boxes.values():
        point = [float(a + b) / 2 for a, b in zip(middle.low, middle.high, strict=True)]
        in_line = [
            grown[mark]
            for mark, box in boxes.items()
            if mark in grown
            and all(box.low[a] <= point[a] <= box.high[a] for a in Axis if a is not axis)
        ]
        total = sum(one[0] for one in in_line)
        if total > most:
            size = sum(one[1] for one in in_line)
            most, widest = total, (size, max(in_line, key=lambda one: one[0])[2])
    return most, widest


def _is_loose(survey: Survey, mark: str, mover: Mover) -> bool:
    """Tell whether a copy only stands in grooves of the others, free to move."""
    fits = [
        fit
        for fit in survey.joinery.fits
        if mark in (fit.contact.first, fit.contact.second)
        and {fit.contact.first, fit.contact.second} <= {*mover.marks}
    ]
    return bool(fits) and not any(fit.is_glued or fit.hardware for fit in fits)


def _working(survey: Survey, room: _Room, seasons: Seasons) -> Working:
    rule = load_rules("movement")["moving gap"]
    least_mm = max(room.swells_mm, len(room.gaps_mm) * float(rule.value))
    given = Quantity(symbol="", name="room", value=sum(room.gaps_mm), unit="mm")
    swells = Quantity(symbol="Δ", name="swells by", value=room.swells_mm, unit="mm")
    is_swelling = room.swells_mm >= len(room.gaps_mm) * float(rule.value)
    limit = Quantity(
        symbol="", name="at least", value=least_mm, unit="mm",
        source="chosen: it may be fitted in the driest season" if is_swelling else rule.cited,
    )  # fmt: skip
    # Floats of exact gaps may lie a hair below the figure itself.
    is_over = float(given.value) < least_mm * (1 - 1e-9)
    where = _where(room)
    told = f"{room.mover.title} has {survey.show(given)} of room {where}"
    grows = f", and swells by {survey.show(swells)}" if room.swells_mm else ""
    return Working(
        topic=Topic.MOVEMENT,
        code="K300",
        title=f"Room of {room.mover.title} {where}",
        subject=room.mover.path,
        marks=room.mover.marks,
        formula=formula_of(seasons) if room.widest else "room = sum of gaps",
        inputs=_inputs(room, seasons),
        result=given,
        limit=limit,
        verdict=Verdict.OVER if is_over else Verdict.HOLDS,
        words=told + grows + ("" if is_over else "."),
        note="In all, however it is shared between the two sides." if len(room.gaps_mm) > 1 else "",
        remedy=f"Needed: at least {survey.show(limit)} in all. Make it smaller, or its opening "
        "larger.",
    )


def _where(room: _Room) -> str:
    if len(room.gaps_mm) == 1:
        return "above it"
    return f"at {room.axis.low_face} and {room.axis.high_face}"


def _inputs(room: _Room, seasons: Seasons) -> tuple[Quantity, ...]:
    sides = (room.axis.low_face, room.axis.high_face)[-len(room.gaps_mm) :]
    gaps = tuple(
        Quantity(symbol="", name=f"gap at the {side}", value=gap, unit="mm")
        for side, gap in zip(sides, room.gaps_mm, strict=True)
    )
    if room.widest is None:
        return gaps
    size_mm, change = room.widest
    size = Quantity(symbol="D", name="wood across the grain", value=size_mm, unit="mm")
    return (*gaps, *inputs_of(size, change, seasons))


CHECK = Check(
    code="K300",
    name="moving_room",
    title="Drawers and doors have room to move in their openings, in the dampest season too.",
    reckon=reckon_moving_room,
)
