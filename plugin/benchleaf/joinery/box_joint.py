"""Box joint: square fingers along the ends of two boards interlock at a corner.

Dimensions:
    finger width: the width in whole fingers, each from 1/2 to 1 times the thinner board's
        thickness; an odd count on the rule where there is one. Source: common practice, no source.
    finger length: the thickness of the other board. Source: worked out.
    clearance: 0.004 in (0.1 mm) between a finger and its socket, a slip of paper. Source: common
        practice, no source.

Limits:
    Both boards are drawn to the outside of the corner, so that they cross where the fingers are.
    They stand at right angles, with the grain running up to the corner, and there are 3 fingers or
    more. The first board has a finger at the edge from which the corner is measured, unless
    `starts` names the other.

Tools:
    A table saw with a dado head, and a sled or mitre gauge with a key as wide as a finger; or a
    fine saw, a coping saw and chisels.

Source:
    Finger width and clearance: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from benchleaf.findings import Finding
from benchleaf.joinery.corner import KEYED, Corner, Span, corner_of_crossing, warn_of_grain
from benchleaf.joinery.marking import Marking, at_the_bench
from benchleaf.joinery.proportions import (
    factor,
    grid_mm,
    planned,
    proposed,
    usual_mm,
    worked,
)
from benchleaf.joinery.records import JointFit, JointKind, JointSize, SettingOut
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)
# A corner of fewer has no finger that is held on both sides.
_FEWEST = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fingers:
    """Fingers of equal width along a corner, turn about on one board and the other."""

    count: int
    """On both boards together."""
    width: JointSize
    clearance: JointSize
    is_first_even: bool
    """Whether the first board has those of even number, counted from 0 at the low side."""

    def sockets(self, corner: Corner, *, in_first: bool) -> Iterator[Span]:
        """What is cut from one board: where the other has its fingers, and room for them."""
        ease = self.clearance.value_mm / 4
        parity = 1 if in_first == self.is_first_even else 0
        for number in range(parity, self.count, 2):
            low, high = number * self.width.value_mm, (number + 1) * self.width.value_mm
            yield (
                low - ease if number else _ZERO,
                high + ease if number < self.count - 1 else corner.edge_mm,
            )


@at_the_bench
def fit_box_joint(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a box joint out at one corner."""
    corner = corner_of_crossing(marking)
    fingers = _lay_out(corner)
    at = corner.marking
    walls = (fingers.count - 1) * corner.first_mm * corner.second_mm
    fit = at.made(
        (
            tuple(at.on_first("finger socket", corner.box(span))
                  for span in fingers.sockets(corner, in_first=True)),
            tuple(at.on_second("finger socket", corner.box(span))
                  for span in fingers.sockets(corner, in_first=False)),
        ),
        numbers=(_sizes(corner, fingers), tuple(_setting_out(corner, fingers))),
        free=(corner.drawing, corner.lifting),
        glued_mm2=walls if at.is_yes("glue", usually=True) else _ZERO,
    )  # fmt: skip
    return fit, (*warn_of_grain(corner), *_warnings(corner, fingers))


def _lay_out(corner: Corner) -> _Fingers:
    count, width = _count_and_width(corner)
    room = corner.marking.length("clearance")
    usual = usual_mm("finger clearance", corner.marking.units)
    clearance = (
        planned("finger clearance", room)
        if room is not None
        else proposed("finger clearance", usual, key="finger clearance")
    )
    if 2 * clearance.value_mm >= width.value_mm:
        raise corner.marking.refuse(
            "J203",
            f"a clearance of {corner.marking.show(clearance.value_mm)} leaves little of fingers "
            f"{corner.marking.show(width.value_mm)} wide",
            f"Needed: less than half of that; {corner.marking.show_with_unit(usual)} is usual.",
            option="clearance",
        )
    starts_low = _starts_with_first(corner.marking)
    if corner.is_from_high and count % 2 == 0:
        starts_low = not starts_low
    return _Fingers(count=count, width=width, clearance=clearance, is_first_even=starts_low)


def _starts_with_first(marking: Marking) -> bool:
    named = marking.words("starts")
    if not named or named[0] == marking.first:
        return True
    if named[0] == marking.second:
        return False
    raise marking.refuse(
        "J204",
        f"`starts: {named[0]}` is neither of the two boards",
        f"Needed: `{marking.first}` or `{marking.second}`.",
        option="starts",
    )


def _count_and_width(corner: Corner) -> tuple[int, JointSize]:
    marking, edge = corner.marking, corner.edge_mm
    given = marking.length("finger")
    if given is None:
        count = marking.count("fingers") or _usual_count(corner)
        _need_three(corner, count)
        width = edge / count
        rule = f"{count} in {marking.show_with_unit(edge)}"
        return count, proposed("finger width", width, key="finger width, most", rounding=rule)
    if given > 0 and (edge / given).denominator == 1:
        _need_three(corner, int(edge / given))
        return int(edge / given), planned("finger width", given)
    raise marking.refuse(
        "J205",
        f"fingers {marking.show(given)} wide do not fill the {marking.show(edge)} of the corner",
        f"Needed: a width that goes into it a whole number of times, such as {_near(corner)}.",
        option="finger",
    )


def _near(corner: Corner) -> str:
    """The width that would be proposed."""
    return corner.marking.show_with_unit(corner.edge_mm / _usual_count(corner))


def _need_three(corner: Corner, count: int) -> None:
    if count >= _FEWEST:
        return
    marking = corner.marking
    raise marking.refuse(
        "J206",
        f"{count} finger{'s' if count != 1 else ''} in {marking.show(corner.edge_mm)} hold nothing",
        f"Needed: {_FEWEST} or more, so that one is held on both sides.",
        option="finger" if marking.length("finger") is not None else "fingers",
    )


def _usual_count(corner: Corner) -> int:
    """How many fingers: odd and on the rule, else even and on the rule, else odd; the widest."""
    edge, thin = corner.edge_mm, min(corner.first_mm, corner.second_mm)
    least = max(ceil(edge / (thin * factor("finger width, most"))), _FEWEST)
    most = max(floor(edge / (thin * factor("finger width, least"))), least)
    step = grid_mm(corner.marking.units)
    on_rule = [n for n in range(least, most + 1) if (edge / n / step).denominator == 1]
    odd = [n for n in on_rule if n % 2]
    return next(iter(odd or on_rule), least + 1 - least % 2)


def _sizes(corner: Corner, fingers: _Fingers) -> tuple[JointSize, ...]:
    at = corner.marking
    return (
        fingers.width,
        worked(f"finger length on {at.first}", corner.second_mm, f"the thickness of {at.second}"),
        worked(f"finger length on {at.second}", corner.first_mm, f"the thickness of {at.first}"),
        fingers.clearance,
    )


def _setting_out(corner: Corner, fingers: _Fingers) -> Iterator[SettingOut]:
    contact = corner.marking.contact
    for mark, mate_mm, in_first in (
        (contact.first, corner.second_mm, True),
        (contact.second, corner.first_mm, False),
    ):
        yield corner.from_end(
            mark, "shoulder line, from the end", mate_mm, spacer="gauge set to the mate itself"
        )
        yield from _walls(corner, fingers, mark=mark, in_first=in_first)


def _walls(corner: Corner, fingers: _Fingers, *, mark: str, in_first: bool) -> Iterator[SettingOut]:
    """Walls of the sockets, without the clearance, which no line shows."""
    width = fingers.width.value_mm
    parity = 1 if in_first == fingers.is_first_even else 0
    numbers = range(parity, fingers.count, 2)
    ordered = list(reversed(numbers)) if corner.is_from_high else list(numbers)
    for place, number in enumerate(ordered, start=1):
        ends = (number * width, (number + 1) * width)
        near, far = reversed(ends) if corner.is_from_high else ends
        for side, at in (("near", near), ("far", far)):
            row = corner.from_edge(mark, f"{side} wall of socket {place}", at, spacer=KEYED)
            if 0 < row.distance_mm < corner.marking.box_of(mark).size[corner.edge]:
                yield row


def _warnings(corner: Corner, fingers: _Fingers) -> Iterator[Finding]:
    at, width = corner.marking, fingers.width.value_mm
    least = usual_mm("finger width, narrowest", at.units)
    if width < least:
        yield at.warn(
            "J207",
            f"fingers {at.show(width)} wide break when the joint is driven home",
            f"Needed: at least {at.show_with_unit(least)}.",
            option="finger",
        )
    thick = max(corner.first_mm, corner.second_mm)
    if width > 2 * thick:
        yield at.warn(
            "J208",
            f"fingers {at.show(width)} wide in boards {at.show(thick)} thick leave little to glue",
            f"Needed: at most twice the thickness; {_near(corner)} would be usual here.",
            option="finger",
        )


KIND = JointKind(
    code="box joint",
    title="Box joint",
    words=JointWords(
        code="box joint",
        first="one board",
        second="the board that it corners with",
        options=(
            Option(
                name="finger",
                type=OptionType.LENGTH,
                help="How wide each finger is; a whole number of them must fill the width.",
            ),
            Option(
                name="fingers",
                type=OptionType.COUNT,
                help="How many there are on both boards together; by the thickness when left out.",
            ),
            Option(
                name="starts",
                type=OptionType.TEXT,
                help="Name of the board that has a finger at the edge measured from; the first "
                "when left out.",
            ),
            Option(
                name="clearance",
                type=OptionType.LENGTH,
                help="How much wider a socket is than its finger; a paper's thickness when left "
                "out.",
            ),
            Option(
                name="glue",
                type=OptionType.YES_NO,
                help="Whether it is glued; yes when left out.",
            ),
        ),
        help="Square fingers along the ends of two boards interlock at a corner.",
    ),
    fit=fit_box_joint,
)
