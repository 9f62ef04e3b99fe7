"""Through dovetail: tails on the end of one board stand between pins on the end of the other.

Dimensions:
    tail length: the thickness of the board with the pins. Source: worked out.
    slope: 1:6 in softwood, 1:8 in hardwood, 1:7 in sheets. Source: common practice, no source.
    tails: about twice the thicker board's thickness wide at their ends, as many as the width takes,
        on the rule. Source: common practice, no source.
    pin: 1/3 of the tail board's thickness at its narrow side, at least 1/8 in (3 mm). Source:
        chosen, so that a chisel goes between the tails.
    half pin: what the tails leave at each edge, at least 1/4 in (6 mm) at its narrow side. Source:
        common practice, no source.

Limits:
    Both boards are drawn to the outside of the corner, so that they cross where the tails are. They
    stand at right angles, with the grain running up to the corner. No tail is narrower at its root
    than 1/4 in (6 mm), no half pin narrower than that at its narrow side. The board with the tails
    comes off through its own face, not along its length: it is the one that must not be drawn out.

Tools:
    A marking gauge, a knife, a dovetail square; a dovetail saw and bevelled chisels, or a router
    with a dovetail jig; a coping saw for the waste.

Source:
    Slopes and widths: common practice, no source.
"""

from __future__ import annotations

from benchleaf.findings import Finding
from benchleaf.joinery.corner import Corner, corner_of_crossing, warn_of_grain
from benchleaf.joinery.marking import Marking, at_the_bench
from benchleaf.joinery.records import JointFit, JointKind, SettingOut
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
from benchleaf.reading.vocabulary import JointWords


@at_the_bench
def fit_through_dovetail(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work through dovetails out at one corner."""
    corner = corner_of_crossing(marking)
    tails = lay_out_tails(corner)
    at = corner.marking
    cut_first = tuple(at.on_first("pin socket", corner.prism(flat)) for flat in tails.waste())
    cut_second = tuple(at.on_second("tail socket", corner.prism(flat)) for flat in tails.tails())
    fit = at.made(
        (cut_first, cut_second),
        numbers=(tail_sizes(tails), (*set_out_tails(tails), _pins_line(corner))),
        free=(corner.lifting,),
        glued_mm2=tails.sides_mm2 * at.is_yes("glue", usually=True),
    )
    return fit, (*warn_of_grain(corner), *warn_of_tails(tails))


def _pins_line(corner: Corner) -> SettingOut:
    return corner.from_end(
        corner.marking.contact.second,
        "shoulder line, from the end",
        corner.first_mm,
        spacer="gauge set to the tail board's thickness",
    )


KIND = JointKind(
    code="through dovetail",
    title="Through dovetail",
    words=JointWords(
        code="through dovetail",
        first="the board with the tails",
        second="the board with the pins",
        options=(TAILS, PIN, HALF_PIN, SLOPE, GLUE),
        help="Tails on the end of one board stand between pins on the end of the other.",
    ),
    fit=fit_through_dovetail,
)
