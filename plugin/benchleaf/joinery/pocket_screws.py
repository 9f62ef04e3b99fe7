"""Pocket screws: screws driven on a slant from pockets in one part's face into the other part.

Dimensions:
    angle: 15 degrees between the bore and the face. Source: common practice, no source.
    screw: by the thickness of the part with the pockets: 1 in for 1/2 in, 1-1/4 in for 3/4 in,
        2-1/2 in for 1-1/2 in (25, 32 and 64 mm for 13, 19 and 38 mm). Source: common practice, no
        source.
    pocket: 3/8 in (9.5 mm) wide, down to where half of the screw is left in front of it, or more
        where the second part is thin. Source: common practice, no source.
    exit: in the middle of the thickness. Source: common practice, no source.
    spacing: at most 6 in (150 mm) from centre to centre. Source: common practice, no source.

Limits:
    The part with the pockets is 1/2 to 1-1/2 in (13 to 38 mm) thick, and meets the other with an
    end or an edge. At least 1/8 in (3 mm) is left beyond the screw's tip. Screws of coarse thread
    go into softwood, of fine thread into hardwood.

Tools:
    A pocket jig and its stepped bit with a collar, a drill, a long driver bit, a face clamp.

Source:
    Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.forms import Bore
from benchleaf.frames import FACES, Vector
from benchleaf.handbook.hardware import PocketScrews, load_pocket_screws
from benchleaf.joinery.marking import OFF, Marking, U, V, at_the_bench, unit
from benchleaf.joinery.proportions import factor, planned, proposed, usual_mm, worked
from benchleaf.joinery.reach import extent_mm
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.rows import Row, lay_out_row, row_options
from benchleaf.joinery.screws import screw_group
from benchleaf.joinery.setting_out import mark_line
from benchleaf.joinery.tenon_forms import extent, looks_outward
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pocketed:
    """Pockets at one contact, mm."""

    sold: PocketScrews
    screw_mm: Fraction
    seat_mm: Fraction
    """Along the screw, from its head to where it leaves the first part."""
    thick_mm: Fraction
    """Of the first part, across the joint."""
    is_high: bool
    """Whether the pockets are bored from the face towards high v."""
    row: Row
    sizes: tuple[JointSize, ...]

    @property
    def angle_rad(self) -> float:
        """Between the bore and the face."""
        return math.radians(self.sold.angle_deg)


@at_the_bench
def fit_pocket_screws(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work angled screw pockets out at one contact."""
    marking.need(ContactKind.FACE)
    pocketed = _pocket(marking)
    glued = marking.is_yes("glue", usually=True)
    fit = marking.made(
        (tuple(_pockets(marking, pocketed)), ()),
        numbers=(pocketed.sizes, tuple(_setting_out(marking, pocketed))),
        free=(OFF, *(unit(axis, is_high) for axis in (U, V) for is_high in (False, True))),
        glued_mm2=marking.contact.u_mm * marking.contact.v_mm if glued else _ZERO,
        hardware=(_screws(marking, pocketed),),
    )
    return fit, ()


def _pocket(marking: Marking) -> _Pocketed:
    sold = load_pocket_screws(marking.units)
    thick = extent(marking.contact.first_box, V)
    screw = _screw(marking, sold, thick)
    hold = _hold(marking, sold, screw.value_mm)
    seat = screw.value_mm - hold.value_mm
    edge = sold.pocket_mm * factor("pocket edge distance to diameter, least")
    row = lay_out_row(marking, edge_mm=edge, spacing_key="pocket screw spacing, most")
    angle = JointSize(
        name="jig set for stock",
        value_mm=thick,
        rule=f"the part's thickness; the bore runs at {sold.angle_deg} degrees to the face",
        source="worked out",
    )
    return _Pocketed(
        sold=sold,
        screw_mm=screw.value_mm,
        seat_mm=seat,
        thick_mm=thick,
        is_high=_bored_from_high(marking),
        row=row,
        sizes=(
            angle,
            screw,
            hold,
            worked("screw in the first part", seat, "the rest of the screw"),
            *row.sizes,
        ),
    )


def _screw(marking: Marking, sold: PocketScrews, thick: Fraction) -> JointSize:
    given, name = marking.length("length"), "screw length"
    thinnest, thickest = sold.by_thickness[0][0] - 1, sold.by_thickness[-1][0]
    if not thinnest <= thick <= thickest:
        raise marking.refuse(
            "J269",
            f"pockets at {sold.angle_deg} degrees do not suit {marking.first}, "
            f"{marking.show(thick)} thick",
            f"Needed: {marking.show(sold.by_thickness[0][0])} to {marking.show(thickest)}.",
        )
    if given is not None:
        return planned(name, given)
    row = next((row for row in sold.by_thickness if thick <= row[0]), sold.by_thickness[-1])
    return JointSize(
        name=name,
        value_mm=row[1],
        rule=f"for stock up to {marking.show_with_unit(row[0])} thick",
        source=sold.source,
    )


def _hold(marking: Marking, sold: PocketScrews, screw: Fraction) -> JointSize:
    """How far the screw goes into the second part, along the screw."""
    slope = math.cos(math.radians(sold.angle_deg))
    room = extent_mm(marking, marking.contact.second)
    room -= usual_mm("pocket screw tip, least", marking.units)
    # To a tenth of a millimetre: the screw's point is no finer.
    most = Fraction(math.floor(float(room) / slope * 10), 10)
    half = screw * factor("pocket screw hold")
    hold, seat = min(half, most), screw - min(half, most)
    axis = float(extent(marking.contact.first_box, V)) / 2 / math.sin(math.radians(sold.angle_deg))
    if hold >= screw / 4 and seat < axis:
        key = "pocket screw hold" if hold == half else "pocket screw tip, least"
        return proposed("screw in the second part", hold, key=key)
    raise marking.refuse(
        "J270",
        f"a pocket screw {marking.show(screw)} long in {marking.first} comes out of "
        f"{marking.second}, {marking.show(extent_mm(marking, marking.contact.second))} thick, or "
        "does not hold in it",
        "Needed: at least a quarter of the screw in the second part, and "
        f"{marking.show(usual_mm('pocket screw tip, least', marking.units))} beyond its tip. Take "
        "another length, or pockets in the other part.",
        option="length",
    )


def _bored_from_high(marking: Marking) -> bool:
    """The author's face, or the one that looks at the middle of the piece, where it is hidden."""
    named = marking.words("face")
    if not named:
        return not looks_outward(marking, marking.contact.first, V)
    sides = {
        face: is_high
        for face, (axis, is_high) in marking.sides_of(marking.contact.first).items()
        if axis == V
    }
    if named[0] in sides:
        return sides[named[0]]
    raise marking.refuse(
        "J271",
        f"no pocket can be bored into the {named[0]} of {marking.first}",
        f"Needed: {' or '.join(sides)}.",
        option="face",
    )


def _pockets(marking: Marking, pocketed: _Pocketed) -> Iterator[Feature]:
    """The wide pocket from the face down to the head, and the narrow bore on to the joint."""
    sold, angle = pocketed.sold, pocketed.angle_rad
    sine, cosine = math.sin(angle), math.cos(angle)
    side = 1 if pocketed.is_high else -1
    way: Vector = (_ZERO, -side * sine, cosine)
    box = marking.contact.first_box
    middle = float(box.low[V] + box.high[V]) / 2
    to_face = float(pocketed.thick_mm) / 2 / sine
    # From where the whole bit is still clear of the face.
    outside = to_face + float(sold.pocket_mm) / 2 / math.tan(angle)
    seat = float(pocketed.seat_mm)
    beyond = float(sold.pilot_mm) / 2 * math.tan(angle)
    for u, _ in pocketed.row.centres:
        for role, start, end, across in (
            ("screw pocket", outside, seat, sold.pocket_mm),
            ("pocket pilot", seat, -beyond, sold.pilot_mm),
        ):
            mouth: Vector = (u, middle + side * start * sine, -start * cosine)
            depth = Fraction(round((start - end) * 1000), 1000)
            yield marking.on_first(role, Bore(mouth, way, across, depth, across))


def _setting_out(marking: Marking, pocketed: _Pocketed) -> Iterator[SettingOut]:
    mark = marking.contact.first
    for number, (u, _) in enumerate(pocketed.row.centres, start=1):
        yield mark_line(marking, mark, f"centre of screw pocket {number}", axis=U, at=u)


def _screws(marking: Marking, pocketed: _Pocketed) -> Hardware:
    is_hard = screw_group(marking.bench.second.stock.material) == "hardwood"
    return Hardware(
        kind="fine pocket screw" if is_hard else "coarse pocket screw",
        size=marking.show(pocketed.screw_mm),
        diameter_mm=pocketed.sold.pilot_mm,
        length_mm=pocketed.screw_mm,
        count=len(pocketed.row.centres),
    )


KIND = JointKind(
    code="pocket screws",
    title="Pocket screws",
    words=JointWords(
        code="pocket screws",
        first="the part with the pockets",
        second="the part that the screws go into",
        options=(
            Option(
                name="length",
                type=OptionType.LENGTH,
                help="Length of the screws; by the first part's thickness when left out.",
            ),
            *row_options("Screws"),
            Option(
                name="face",
                type=OptionType.CHOICE,
                choices=tuple(FACES),
                help="Face of the first part, as drawn, that the pockets are bored into; the one "
                "that looks at the middle of the piece when left out.",
            ),
            Option(
                name="glue",
                type=OptionType.YES_NO,
                help="Whether it is glued; yes when left out.",
            ),
        ),
        help="Screws driven on a slant from pockets in one part's face into the other part.",
    ),
    fit=fit_pocket_screws,
)
