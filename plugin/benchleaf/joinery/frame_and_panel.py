"""Frame and panel: a panel stands loose in grooves of rails and stiles, with room to swell.

Dimensions:
    groove depth: 3/8 in (9 mm), or deeper where the panel would shrink out of it. Source: common
        practice, no source.
    groove width: the panel's thickness, if that is at most half of the frame's; for a thicker
        panel 1/3 of the frame's thickness, as its tenons. Source: common practice, no source.
    clearance: half of what the panel swells from when it is built to the dampest season, and at
        least 1/16 in (1.5 mm); for sheet goods 1/32 in (0.5 mm). Source: Wood Handbook
        FPL-GTR-190 (2010), Eq. 13-2.
    hold: 3/16 in (5 mm) of the edge still stands in the groove in the driest season. Source:
        chosen, so that no light shows beside the panel.
    margin: a thicker panel is rebated this far in from the frame, 1/4 in (6 mm), or as far as it
        swells. Source: common practice, no source.
    ends: the groove runs out where a rail covers it; the rail's tenon or haunch fills it there.
        Source: worked out.

Limits:
    A panel of solid wood is never glued: hold it by a pin or a spot of glue in the middle of each
    rail, so that it moves alike to both sides. Sheet goods may be glued, and then stiffen the
    frame. The groove leaves 1/8 in (3 mm) of wood on both of its sides.

Tools:
    A table saw with a rip fence, or a router table, for grooves that run out; a router with an edge
    fence for those that stop; a router table, or a rebate plane, for the panel's edges.

Source:
    Depth, width and margin: common practice, no source. Movement: Wood Handbook FPL-GTR-190 (2010),
    Eq. 13-2 (read) with Table 13-5 (status by species).
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.forms import Form, Prism
from benchleaf.frames import Frame
from benchleaf.joinery.channel_options import CLEARANCE, glue_option
from benchleaf.joinery.marking import OFF, Marking, N, U, V, at_the_bench, block, unit
from benchleaf.joinery.panel_edges import CODE, Ends, PanelEdge, is_sheet, work_out_edge
from benchleaf.joinery.proportions import factor, planned, proposed, usual_mm, worked
from benchleaf.joinery.reach import extent_mm
from benchleaf.joinery.records import Feature, JointFit, JointKind, JointSize, SettingOut
from benchleaf.joinery.setting_out import mark_depth, mark_line, measures_from_high
from benchleaf.outlines import polygon
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)
GROOVE = "panel groove"
TONGUE = "panel tongue"
REBATE = "panel rebate"
BEVEL = "panel bevel"


@at_the_bench
def fit_frame_and_panel(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work out one edge of a panel in its groove."""
    marking.need(ContactKind.FACE)
    _need_edge(marking)
    edge = work_out_edge(marking)
    _refuse_section(marking, edge)
    _refuse_depth(marking, edge)
    margin = _margin(marking, edge)
    tongue = block(edge.tongue_u, edge.groove_v, (_ZERO, edge.enter_mm))
    length = Fraction(edge.tongue_u[1] - edge.tongue_u[0])
    glued = length * (edge.width.value_mm + 2 * edge.enter_mm)
    fit = marking.made(
        (
            (
                marking.on_first(TONGUE, tongue, adds=True),
                *_beside(marking, edge, margin.value_mm if margin else _ZERO),
            ),
            (marking.on_second(GROOVE, edge.groove),),
        ),
        numbers=(tuple(_sizes(marking, edge, margin)), tuple(_setting_out(marking, edge, margin))),
        free=(OFF, *_open_ways(edge)),
        glued_mm2=glued if marking.is_yes("glue", usually=False) else _ZERO,
    )
    return fit, tuple(_warnings(marking, edge))


def _need_edge(marking: Marking) -> None:
    panel, mark = marking.bench.first, marking.contact.first
    if marking.axis_of(mark, panel.thickness_axis) == V:
        return
    raise marking.refuse(
        "J350",
        f"{panel.name} does not stand with its edge against {marking.second}",
        "Needed: a panel whose edge meets the frame. For a panel on the face of a frame, use a "
        "`rebate` or `rests on`.",
    )


def _refuse_section(marking: Marking, edge: PanelEdge) -> None:
    panel = Fraction(marking.contact.first_box.size[V])
    if edge.width.value_mm > panel or edge.width.value_mm <= 0:
        raise marking.refuse(
            "J351",
            f"a groove {marking.show(edge.width.value_mm)} wide does not hold {marking.first}, "
            f"{marking.show(panel)} thick",
            f"Needed: more than 0 and at most {marking.show(panel)}.",
            option="width",
        )
    thin = min(_walls(marking, edge))
    if thin <= 0:
        raise marking.refuse(
            "J352",
            f"the groove for {marking.first} breaks out of a face of {marking.second}",
            "Needed: wood on both sides of the groove. Move the panel in, or call it a `rebate`.",
            option="offset",
        )


def _walls(marking: Marking, edge: PanelEdge) -> tuple[Fraction, Fraction]:
    """Wood beside the groove, towards the two faces of the frame."""
    box = marking.contact.second_box
    return (
        Fraction(edge.groove_v[0] - box.low[V]),
        Fraction(box.high[V] - edge.groove_v[1]),
    )


def _refuse_depth(marking: Marking, edge: PanelEdge) -> None:
    deep = extent_mm(marking, marking.contact.second)
    if edge.clearance.value_mm < edge.depth.value_mm < deep:
        return
    room = marking.show(edge.clearance.value_mm)
    raise marking.refuse(
        "J353",
        f"a groove {marking.show(edge.depth.value_mm)} deep, with {room} of clearance, does not "
        f"suit {marking.second}, {marking.show(deep)} deep there",
        f"Needed: more than {room} and less than {marking.show(deep)}.",
        option="depth",
    )


# What a thicker panel loses at its edges.


def _margin(marking: Marking, edge: PanelEdge) -> JointSize | None:
    if edge.is_flat:
        return None
    given = marking.length("margin")
    if given is not None:
        return planned("margin", given)
    usual = usual_mm("panel margin", marking.units)
    if edge.clearance.value_mm > usual:
        return worked("margin", edge.clearance.value_mm, "as far as the panel swells")
    return proposed("margin", usual, key="panel margin")


def _beside(marking: Marking, edge: PanelEdge, margin: Fraction) -> Iterator[Feature]:
    """The waste on each face of the panel beside its tongue."""
    if edge.is_flat:
        return
    panel = marking.contact.first_box
    raised = marking.length("raised")
    faces = ((panel.low[V], edge.groove_v[0]), (panel.high[V], edge.groove_v[1]))
    for face, tongue in faces:
        if face == tongue:
            continue
        if raised is None:
            yield marking.on_first(REBATE, _rebate(marking, (face, tongue), margin))
        else:
            yield marking.on_first(BEVEL, _bevel(marking, (face, tongue), (margin, raised)))


def _along(marking: Marking) -> Ends:
    return marking.contact.first_box.low[U], marking.contact.first_box.high[U]


def _rebate(marking: Marking, across: Ends, margin: Fraction) -> Form:
    return block(_along(marking), (min(across), max(across)), (-margin, _ZERO))


def _bevel(marking: Marking, across: Ends, reach: tuple[Fraction, Fraction]) -> Form:
    """From the face of the field down to the tongue, which runs on level to the margin."""
    face, tongue = Fraction(across[0]), Fraction(across[1])
    margin, raised = reach
    if raised <= margin:
        raise marking.refuse(
            "J354",
            f"a panel raised over {marking.show(raised)} has no slope beside a margin of "
            f"{marking.show(margin)}",
            f"Needed: more than {marking.show(margin)}.",
            option="raised",
        )
    corners = [(tongue, _ZERO), (tongue, -margin), (face, -raised), (face, _ZERO)]
    low, high = _along(marking)
    frame = Frame((low, _ZERO, _ZERO), ((0, 1, 0), (0, 0, 1), (1, 0, 0)))
    return Prism(frame, polygon(corners if face < tongue else corners[::-1]), high - low)


# Numbers.


def _sizes(marking: Marking, edge: PanelEdge, margin: JointSize | None) -> Iterator[JointSize]:
    yield edge.width
    yield edge.depth
    yield edge.clearance
    if margin is not None:
        yield margin
    if (raised := marking.length("raised")) is not None and margin is not None:
        yield planned("width of the slope and margin", raised)
    yield worked("in the groove in the driest season", edge.holds_mm, "what is left of the tongue")


def _open_ways(edge: PanelEdge) -> Iterator[tuple[int, int, int]]:
    for is_high, is_open in zip((False, True), edge.is_through, strict=True):
        if is_open:
            yield (1 if is_high else -1, 0, 0)


def _setting_out(
    marking: Marking, edge: PanelEdge, margin: JointSize | None
) -> Iterator[SettingOut]:
    mark = marking.contact.second
    walls = edge.groove_v
    if measures_from_high(marking, V, alone=mark):
        walls = (walls[1], walls[0])
    for which, at in zip(("near", "far"), walls, strict=True):
        yield mark_line(marking, mark, f"{which} wall of the groove", axis=V, at=at)
    yield mark_depth(
        marking,
        mark,
        "depth of the groove",
        distance=edge.depth.value_mm,
        spacer="one height of the blade serves every one of them",
    )
    yield from _ends(marking, edge)
    if margin is not None:
        end = margin.value_mm + edge.enter_mm
        yield mark_depth(
            marking, marking.contact.first, "shoulder of the panel, from its edge", distance=end
        )


def _ends(marking: Marking, edge: PanelEdge) -> Iterator[SettingOut]:
    """Where the groove stops inside the wood."""
    mark, box = marking.contact.second, marking.contact.second_box
    for is_high, at in zip((False, True), edge.groove_u, strict=True):
        short = box.high[U] - at if is_high else at - box.low[U]
        if short > 0:
            yield SettingOut(
                copy=mark,
                what="end of the groove",
                reference=marking.own_face(mark, unit(U, is_high)),
                distance_mm=Fraction(short),
                spacer="a block clamped across the work stops the router",
            )


# What can go wrong.


def _warnings(marking: Marking, edge: PanelEdge) -> Iterator[Finding]:
    thin, least = min(_walls(marking, edge)), usual_mm("panel groove wall", marking.units)
    if thin < least:
        yield marking.warn(
            "J355",
            f"the groove for {marking.first} leaves {marking.show(thin)} to a face of "
            f"{marking.second}",
            f"Needed: at least {marking.show_with_unit(least)}. Move the panel, or make the groove "
            "narrower.",
            option="width",
        )
    deep = extent_mm(marking, marking.contact.second)
    if edge.depth.value_mm > deep * factor("rebate depth, most"):
        yield marking.warn(
            "J356",
            f"a groove {marking.show(edge.depth.value_mm)} deep weakens {marking.second}, "
            f"{marking.show(deep)} deep there",
            f"Needed: at most {marking.show(deep / 2)}, half of it. Make the part wider, or the "
            "panel of several boards or of sheet goods.",
            option="depth",
        )
    if marking.is_yes("glue", usually=False) and not is_sheet(marking):
        yield marking.warn(
            "J357",
            f"{marking.first} is of solid wood, and glued into its groove it cannot move: it "
            "splits, or opens the frame",
            "Needed: `glue: no`. Hold it by a pin in the middle of each rail.",
            option="glue",
        )
    grain = marking.grain_of(marking.contact.second)
    if marking.bench.second.stock.grain.value != "none" and grain in (V, N):
        yield marking.warn(
            "J358",
            f"the groove for {marking.first} runs across the grain of {marking.second}",
            f"Turn the grain of {marking.second}, or call it a `housing`.",
        )


KIND = JointKind(
    code=CODE,
    title="Frame and panel",
    words=JointWords(
        code=CODE,
        first="the panel",
        second="the rail or stile",
        options=(
            Option(
                name="depth",
                type=OptionType.LENGTH,
                help="How deep the groove is; 3/8 in (9 mm), or what the panel's movement asks, "
                "when left out.",
            ),
            Option(
                name="width",
                type=OptionType.LENGTH,
                help="How wide the groove is, which is how thick the panel's edge is; the panel's "
                "thickness, or 1/3 of the frame's for a thicker panel, when left out.",
            ),
            Option(
                name="offset",
                type=OptionType.LENGTH,
                help="How far the groove of a thicker panel lies off the middle of the frame, "
                "towards the back, right or top of the second part as drawn; 0 when left out.",
            ),
            CLEARANCE,
            Option(
                name="margin",
                type=OptionType.LENGTH,
                help="How far in from the frame the edge of a thicker panel is rebated; 1/4 in "
                "(6 mm), or as far as it swells, when left out.",
            ),
            Option(
                name="raised",
                type=OptionType.LENGTH,
                help="For a raised panel: how far in from the frame its field begins, with a slope "
                "down to the margin; a square rebate when left out.",
            ),
            Option(
                name="through",
                type=OptionType.YES_NO,
                help="Whether the groove runs out at both ends of the second part; where the frame "
                "covers it when left out.",
            ),
            glue_option("no"),
        ),
        help="A panel stands loose in grooves of rails and stiles, with room to swell.",
    ),
    fit=fit_frame_and_panel,
)
