"""Half-blind dovetail: tails enter the end of a thicker board and stop short of its outer face.

Dimensions:
    lap: 1/4 of the thickness of the board with the pins, on the rule, at least 1/8 in (3 mm).
        Source: common practice, no source.
    tail length: the thickness of the board with the pins, less the lap. Source: worked out.
    slope: 1:6 in softwood, 1:8 in hardwood, 1:7 in sheets. Source: common practice, no source.
    tails: about twice the thicker board's thickness wide at their ends, as many as the width takes,
        on the rule. Source: common practice, no source.
    pin: 1/3 of the tail board's thickness at its narrow side, at least 1/8 in (3 mm). Source:
        chosen, so that a chisel goes between the tails.
    half pin: what the tails leave at each edge, at least 1/4 in (6 mm) at its narrow side. Source:
        common practice, no source.

Limits:
    The board with the tails, such as a drawer's side, is drawn up to the inner face of the board
    with the pins, such as its front: the joint adds the tails. Its outer face is level with that
    board's end. The grain of both runs up to the corner.

Tools:
    A marking gauge, a knife, a dovetail square; a dovetail saw and bevelled chisels, or a router
    with a dovetail jig.

Source:
    Lap, slopes and widths: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Box
from benchleaf.joinery.corner import Corner, corner_of_face, warn_of_grain
from benchleaf.joinery.marking import Marking, at_the_bench
from benchleaf.joinery.proportions import (
    planned,
    proposed_share,
    usual_mm,
)
from benchleaf.joinery.reach import extent_mm
from benchleaf.joinery.records import JointFit, JointKind, JointSize, SettingOut
from benchleaf.joinery.tails import (
    GLUE,
    HALF_PIN,
    PIN,
    SLOPE,
    TAILS,
    lay_out_tails,
    set_out_tails,
    tail_sizes,
    warn_of_tails,
)
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType


@at_the_bench
def fit_half_blind_dovetail(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work half-blind dovetails out at one corner."""
    marking.need(ContactKind.FACE)
    lap = _lap(marking)
    corner = corner_of_face(marking, extent_mm(marking, marking.contact.second) - lap.value_mm)
    tails = lay_out_tails(corner)
    grown = marking.on_first("dovetailed end", _whole_end(corner), adds=True)
    cut_first = [marking.on_first("pin socket", corner.prism(flat)) for flat in tails.waste()]
    cut_second = [marking.on_second("tail socket", corner.prism(flat)) for flat in tails.tails()]
    fit = marking.made(
        ((grown, *cut_first), tuple(cut_second)),
        numbers=((lap, *tail_sizes(tails)), tuple(_setting_out(corner, lap, set_out_tails(tails)))),
        free=(corner.lifting,),
        glued_mm2=tails.sides_mm2 * marking.is_yes("glue", usually=True),
    )
    return fit, (*warn_of_grain(corner), *warn_of_tails(tails), *_warn_of_lap(marking, lap))


def _whole_end(corner: Corner) -> Box:
    return corner.box((Fraction(0), corner.edge_mm))


def _lap(marking: Marking) -> JointSize:
    thickness = extent_mm(marking, marking.contact.second)
    given = marking.length("lap")
    if given is None:
        return proposed_share(
            "lap",
            thickness,
            key="dovetail lap",
            units=marking.units,
            least_mm=usual_mm("dovetail lap, least", marking.units),
        )
    if 0 < given < thickness:
        return planned("lap", given)
    raise marking.refuse(
        "J215",
        f"a lap of {marking.show(given)} does not suit {marking.second}, "
        f"{marking.show(thickness)} thick",
        f"Needed: more than 0 and less than {marking.show(thickness)}; a quarter is usual.",
        option="lap",
    )


def _warn_of_lap(marking: Marking, lap: JointSize) -> Iterator[Finding]:
    least = usual_mm("dovetail lap, least", marking.units)
    if lap.value_mm < least:
        yield marking.warn(
            "J216",
            f"a lap {marking.show(lap.value_mm)} thick breaks through when the sockets are chopped",
            f"Needed: at least {marking.show_with_unit(least)}.",
            option="lap",
        )


def _setting_out(
    corner: Corner, lap: JointSize, tails: Iterator[SettingOut]
) -> Iterator[SettingOut]:
    marking = corner.marking
    yield from tails
    mark = marking.contact.second
    yield SettingOut(
        copy=mark,
        what="lap line",
        reference=marking.own_face(mark, (0, 0, 1)),
        distance_mm=lap.value_mm,
        spacer="",
    )
    yield corner.from_end(
        mark,
        "end of the sockets",
        corner.first_mm,
        spacer="gauge set to the tail board's thickness",
    )


KIND = JointKind(
    code="half blind dovetail",
    title="Half-blind dovetail",
    words=JointWords(
        code="half blind dovetail",
        first="the board with the tails",
        second="the board with the pins",
        options=(
            Option(
                name="lap",
                type=OptionType.LENGTH,
                help="How much is left before the ends of the tails; a quarter of the thickness "
                "when left out.",
            ),
            TAILS,
            PIN,
            HALF_PIN,
            SLOPE,
            GLUE,
        ),
        help="Tails enter the end of a thicker board and stop short of its outer face.",
    ),
    fit=fit_half_blind_dovetail,
)
