"""The section of a tenon: which sides of the part have shoulders and how much each takes.

Takes a Marking, gives the tenon's spans across the contact. Knows nothing of its length.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from benchleaf.frames import Number
from benchleaf.joinery.marking import Marking, N, U, V, block, unit
from benchleaf.joinery.panel_grooves import GrooveAcross, groove_across
from benchleaf.joinery.proportions import (
    factor,
    grid_mm,
    grid_words,
    planned,
    proposed,
    round_down,
    stock_tenon_mm,
    worked,
)
from benchleaf.joinery.reach import clear_mm
from benchleaf.joinery.records import JointSize


@dataclass(frozen=True, slots=True)
class Span:
    """From low to high along one axis of the contact, mm."""

    low: Number
    high: Number

    @property
    def extent(self) -> Fraction:
        """From low to high, mm."""
        return Fraction(self.high - self.low)

    @property
    def ends(self) -> tuple[Number, Number]:
        """Low and high, mm."""
        return self.low, self.high


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A tenon seen from its end."""

    across: Span
    """Its thickness, along v."""
    along: Span
    """Its width, along u."""
    haunch: Span | None
    """What a haunch fills beside it, along u; None without a haunch."""
    sizes: tuple[JointSize, ...]
    groove: GrooveAcross | None = None
    """The panel's groove that runs under the tenon; None without one."""


def work_out_section(marking: Marking) -> Section:
    """Work out the section of a tenon by the author's choices, or by what is usual."""
    _refuse_strange_shoulders(marking)
    groove = groove_across(marking)
    across = _thickness(marking, groove)
    haunch_end = _haunch_end(marking)
    along = _width(marking, across.extent, haunch_end, groove=groove)
    for axis, span, most in ((V, across, marking.contact.v_mm), (U, along, marking.contact.u_mm)):
        _refuse_outside(marking, axis, span, most=most)
    return Section(
        across=across,
        along=along,
        haunch=None if haunch_end is None else _haunch(marking, along, haunch_end),
        sizes=(*_thickness_sizes(marking, across, groove), *_width_sizes(marking, along)),
        groove=groove,
    )


def _refuse_strange_shoulders(marking: Marking) -> None:
    sides = marking.sides_of(marking.contact.first)
    for word in marking.words("shoulders"):
        if word not in sides:
            raise marking.refuse(
                "J113",
                f"{marking.first} has no shoulder at its {word}: the tenon points that way or "
                "comes from there",
                f"Needed: some of {', '.join(sides)}.",
                option="shoulders",
            )


def _has_shoulder(marking: Marking, axis: int, is_high: bool) -> bool:
    words = marking.words("shoulders")
    return not words or marking.own_face(marking.contact.first, unit(axis, is_high)) in words


def _thickness(marking: Marking, groove: GrooveAcross | None) -> Span:
    given = _given_span(marking, V, size="thickness", shoulder="face shoulder")
    if given is None and groove is not None:
        given = Span(*groove.across)
    if given is None:
        given = _placed(marking, V, _usual_thickness(marking).value_mm)
    moved = (marking.length("offset") or 0) * marking.sign_of(marking.contact.first, V)
    return Span(given.low + moved, given.high + moved)


def _usual_thickness(marking: Marking) -> JointSize:
    """A third of the thinner part, less where a blind mortise could not be deep enough for it."""
    thin, units = marking.contact.v_mm, marking.units
    third = min(stock_tenon_mm(thin, units), thin)
    if not marking.is_yes("through", usually=False):
        middle = block(
            (Fraction(0), marking.contact.u_mm), (thin / 3, thin * 2 / 3), (Fraction(0),) * 2
        )
        deep = clear_mm(marking, marking.contact.second, middle)
        borne = round_down(deep / factor("mortise depth to width, least"), units)
        # chosen: two steps of the rule, 1/8 in or 2 mm, is the narrowest chisel in common use.
        if 2 * grid_mm(units) <= borne < third:
            key = "mortise depth to width, least"
            return proposed("tenon thickness", borne, key=key)
    rounding = f"to the nearest {grid_words(units)}"
    return proposed("tenon thickness", third, key="tenon thickness", rounding=rounding)


def _width(
    marking: Marking, thickness: Fraction, haunch_end: bool | None, *, groove: GrooveAcross | None
) -> Span:
    given = _given_span(marking, U, size="width", shoulder="edge shoulder")
    if given is not None:
        return given
    length = marking.contact.u_mm
    low, high = groove.room(length) if groove else (Fraction(0), length)
    if groove and marking.is_yes("stub", usually=False):
        return Span(low, high)
    usual = _usual_width(marking, thickness, high - low)
    if haunch_end is not None:
        return Span(low, low + usual) if haunch_end else Span(high - usual, high)
    if groove is None:
        return _placed(marking, U, usual)
    return Span((low + high - usual) / 2, (low + high + usual) / 2)


def _usual_width(marking: Marking, thickness: Fraction, room: Fraction) -> Fraction:
    part = room * factor("tenon width")
    most = thickness * factor("tenon width to thickness, most")
    return max(round_down(min(part, most), marking.units), grid_mm(marking.units) / 4)


def _given_span(marking: Marking, axis: int, *, size: str, shoulder: str) -> Span | None:
    """The span that the author's size or shoulder sets; None where both are left out."""
    extent, ledge = marking.length(size), marking.length(shoulder)
    if extent is not None and ledge is not None:
        raise marking.refuse(
            "J114",
            f"`{size}` and `{shoulder}` both settle how the tenon is cut",
            f"Needed: one of the two. Leave `{shoulder}` out to keep the {size}.",
            option=shoulder,
        )
    if extent is not None:
        return _placed(marking, axis, extent)
    if ledge is None:
        ledge = marking.length("shoulder")
    if ledge is None:
        return None
    box = marking.contact.first_box
    low = box.low[axis] + (ledge if _has_shoulder(marking, axis, False) else 0)
    high = box.high[axis] - (ledge if _has_shoulder(marking, axis, True) else 0)
    return Span(low, high)


def _placed(marking: Marking, axis: int, extent: Fraction) -> Span:
    """A span of an extent: in the middle, or against the side that has no shoulder."""
    room = marking.contact.v_mm if axis == V else marking.contact.u_mm
    low = _has_shoulder(marking, axis, False)
    high = _has_shoulder(marking, axis, True)
    if not low and not high:
        return Span(Fraction(0), room)
    if low and high:
        return Span((room - extent) / 2, (room + extent) / 2)
    return Span(room - extent, room) if low else Span(Fraction(0), extent)


def _haunch_end(marking: Marking) -> bool | None:
    """Which end of the joint a haunch fills (True: the high end of u); None without one."""
    second = marking.contact.second_box
    low_gap, high_gap = -second.low[U], second.high[U] - marking.contact.u_mm
    asked = marking.is_yes("haunch", usually=marking.length("haunch length") is not None)
    if asked or ("haunch" not in marking.chosen.choices and _runs_out(marking)):
        return high_gap < low_gap
    return None


def _runs_out(marking: Marking) -> bool:
    """Tell whether a plain mortise would run out of the end of a stile or leg."""
    settled = ("shoulder", "edge shoulder", "shoulders", "width")
    if any(option in marking.chosen.choices for option in settled):
        return False
    if any(marking.is_yes(option, usually=False) for option in ("stub", "through")):
        return False
    second = marking.contact.second_box
    gap = min(-second.low[U], second.high[U] - marking.contact.u_mm)
    is_upright = marking.grain_of(marking.contact.second) == U
    is_rail = marking.grain_of(marking.contact.first) == N
    return is_upright and is_rail and gap < marking.bench.wall_mm


def _haunch(marking: Marking, along: Span, is_high: bool) -> Span:
    span = Span(along.high, marking.contact.u_mm) if is_high else Span(Fraction(0), along.low)
    if span.extent > 0:
        return span
    raise marking.refuse(
        "J115",
        "a haunch needs a shoulder to fill, and the tenon reaches the edge of "
        f"{marking.first} at that end",
        "Needed: an `edge shoulder`, or a narrower `width`.",
        option="haunch",
    )


def _refuse_outside(marking: Marking, axis: int, span: Span, *, most: Fraction) -> None:
    word = "thick" if axis == V else "wide"
    if span.extent <= 0:
        raise marking.refuse(
            "J116",
            f"the shoulders leave nothing of {marking.first} for a tenon {word} enough to cut",
            f"Needed: shoulders that come to less than {marking.show(most)} together.",
        )
    if span.low < 0 or span.high > most:
        raise marking.refuse(
            "J117",
            f"a tenon {marking.show(span.extent)} {word} does not stay within the "
            f"{marking.show(most)} where {marking.first} meets {marking.second}",
            f"Needed: at most {marking.show(most)}. Narrow the tenon or move it.",
        )


def _thickness_sizes(
    marking: Marking, across: Span, groove: GrooveAcross | None
) -> tuple[JointSize, ...]:
    if _is_given(marking, "thickness", "face shoulder"):
        size = planned("tenon thickness", across.extent)
    elif groove is not None:
        size = worked("tenon thickness", across.extent, "as wide as the panel's groove")
    else:
        size = _usual_thickness(marking)
    return (size, *_shoulders(marking, V, across, name="face shoulder"))


def _width_sizes(marking: Marking, along: Span) -> tuple[JointSize, ...]:
    name = "tenon width"
    if _is_given(marking, "width", "edge shoulder"):
        size = planned(name, along.extent)
    else:
        rounding = f"at most 6 times its thickness, down to the {grid_words(marking.units)}"
        size = proposed(name, along.extent, key="tenon width", rounding=rounding)
    return (size, *_shoulders(marking, U, along, name="edge shoulder"))


def _is_given(marking: Marking, *options: str) -> bool:
    return any(option in marking.chosen.choices for option in (*options, "shoulder"))


def _shoulders(marking: Marking, axis: int, span: Span, *, name: str) -> tuple[JointSize, ...]:
    """The shoulders on the two sides of an axis: one row where they are alike."""
    box, mark = marking.contact.first_box, marking.contact.first
    beside = ((False, span.low - box.low[axis]), (True, box.high[axis] - span.high))
    ledges = [
        (marking.own_face(mark, unit(axis, is_high)), Fraction(ledge)) for is_high, ledge in beside
    ]
    rule = "what is left beside the tenon"
    if ledges[0][1] == ledges[1][1]:
        return (worked(name, ledges[0][1], rule),)
    return tuple(worked(f"{name}, {face}", ledge, rule) for face, ledge in sorted(ledges))
