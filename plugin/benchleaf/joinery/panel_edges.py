"""The edge of a panel in the groove of a rail or a stile: sizes, and where the groove runs.

Takes a Marking whose first part is the panel, gives its edge. The room at the bottom of the groove
follows from how much the panel's wood moves. Must not know the joints of the frame itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.frames import Box, Number, main_axis
from benchleaf.handbook.materials import find_material
from benchleaf.joinery.marking import Marking, N, U, V, block, unit
from benchleaf.joinery.proportions import (
    grid_words,
    planned,
    proposed,
    round_up,
    stock_tenon_mm,
    usual_mm,
    worked,
)
from benchleaf.joinery.records import Bench, JointSize
from benchleaf.piece.contacts import contact_box
from benchleaf.piece.records import Contact, ContactKind
from benchleaf.piece.seasons import Change, change_along, find_seasons

CODE = "frame and panel"
_ZERO = Fraction(0)
Ends = tuple[Number, Number]


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelEdge:
    """A panel's edge and its groove, in the contact's frame, mm."""

    groove_u: Ends
    """Where the groove runs."""
    groove_v: Ends
    """Across it: the groove, and the tongue that stands in it."""
    tongue_u: Ends
    depth: JointSize
    width: JointSize
    clearance: JointSize
    is_flat: bool
    """True where the panel goes in by its full thickness."""
    is_through: tuple[bool, bool]
    """Whether the groove runs out at the low and the high end of the second part."""
    holds_mm: Fraction
    """How far the tongue still stands in the groove in the driest season."""

    @property
    def enter_mm(self) -> Fraction:
        """How far the panel goes in."""
        return self.depth.value_mm - self.clearance.value_mm

    @property
    def groove(self) -> Box:
        """What is cut into the second part."""
        return block(self.groove_u, self.groove_v, (_ZERO, self.depth.value_mm))


def work_out_edge(marking: Marking) -> PanelEdge:
    """Work out how the panel stands in its groove."""
    width, groove_v, is_flat = _across(marking)
    change = _change(marking)
    clearance = _clearance(marking, change)
    depth = _depth(marking)
    through = (_is_through(marking, False), _is_through(marking, True))
    low, high = _corner(marking, False), _corner(marking, True)
    enter = depth.value_mm - clearance.value_mm
    return PanelEdge(
        groove_u=_run(marking, through, (low.deep_mm, high.deep_mm)),
        groove_v=groove_v,
        tongue_u=(-low.enter_mm, marking.contact.u_mm + high.enter_mm),
        depth=depth,
        width=width,
        clearance=clearance,
        is_flat=is_flat,
        is_through=through,
        holds_mm=enter - _half(marking, change.shrinks if change else 0.0),
    )


# Across the groove.


def _across(marking: Marking) -> tuple[JointSize, Ends, bool]:
    """The groove's width, where it lies across the frame, and whether the panel is flat."""
    panel = (marking.contact.first_box.low[V], marking.contact.first_box.high[V])
    frame = (marking.contact.second_box.low[V], marking.contact.second_box.high[V])
    thick = Fraction(panel[1] - panel[0])
    width = _width(marking, thick, Fraction(frame[1] - frame[0]))
    if width.value_mm >= thick:
        return width, panel, True
    moved = (marking.length("offset") or _ZERO) * marking.sign_of(marking.contact.second, V)
    low = (frame[0] + frame[1] - width.value_mm) / 2 + moved
    low = min(max(low, panel[0]), panel[1] - width.value_mm)
    return width, (low, low + width.value_mm), False


def _width(marking: Marking, panel: Fraction, frame: Fraction) -> JointSize:
    name = "groove width"
    given = marking.length("width")
    if given is not None:
        return planned(name, given)
    # chosen: half of the frame is the widest groove that leaves walls to hold a panel.
    if panel <= frame / 2:
        return worked(name, panel, "the panel's thickness")
    rounding = f"to the nearest {grid_words(marking.units)}, as the tenons of the frame"
    third = min(stock_tenon_mm(frame, marking.units), panel)
    return proposed(name, third, key="tenon thickness", rounding=rounding)


# Into the groove.


def _change(marking: Marking) -> Change | None:
    """How the panel moves towards the frame; None where its wood is not known."""
    way = marking.contact.frame.axes[N]
    seasons = find_seasons(marking.bench.piece.plan)
    return change_along(marking.bench.piece, marking.contact.first, main_axis(way), seasons)


def _half(marking: Marking, part: float) -> Fraction:
    """Half of what the panel moves across the frame, held in its middle, mm."""
    box = marking.contact.first_box
    across = box.high[N] - box.low[N] + 2 * usual_mm("groove depth", marking.units)
    return Fraction(round(float(across) * part / 2 * 1000), 1000)


def _clearance(marking: Marking, change: Change | None) -> JointSize:
    name = "clearance at the bottom"
    given = marking.length("clearance")
    if given is not None:
        return planned(name, given)
    if is_sheet(marking):
        least = usual_mm("tongue clearance", marking.units)
        return proposed(name, least, key="tongue clearance")
    least = usual_mm("groove clearance", marking.units)
    swells = _half(marking, change.swells if change else 0.0)
    if swells <= least:
        return proposed(name, least, key="groove clearance")
    assert change is not None  # noqa: S101 - what is not known does not swell
    return JointSize(
        name=name,
        value_mm=round_up(swells, marking.units),
        rule="half of what the panel swells after it is built, held in its middle; up to the "
        f"{grid_words(marking.units)}",
        source=f"Wood Handbook FPL-GTR-190 (2010), Eq. 13-2; {change.source}",
    )


def is_sheet(marking: Marking) -> bool:
    """Tell whether the panel is of sheet goods, which hardly move."""
    stock = marking.bench.first.stock
    material = find_material(stock.material)
    return bool(material.panel) if material else stock.kind.value == "sheet"


def _depth(marking: Marking) -> JointSize:
    """One depth serves all grooves of a panel, so that the saw is set once."""
    name = "groove depth"
    given = marking.length("depth")
    if given is not None:
        return planned(name, given)
    usual = usual_mm("groove depth", marking.units)
    needed = max(map(_needed_depth, _edges_like(marking)))
    if needed <= usual:
        return proposed(name, usual, key="groove depth")
    rounding = "the clearance, and what it shrinks to one side"
    return proposed(name, needed, key="panel hold", rounding=rounding)


def _edges_like(marking: Marking) -> Iterator[Marking]:
    yield marking
    for other in edges_of(marking, marking.contact.first):
        if other.contact.first == marking.contact.first:
            yield other


def _needed_depth(marking: Marking) -> Fraction:
    change = _change(marking)
    shrinks = _half(marking, change.shrinks if change else 0.0)
    hold = usual_mm("panel hold", marking.units)
    return round_up(_clearance(marking, change).value_mm + shrinks + hold, marking.units)


# Along the groove.


def _is_through(marking: Marking, is_high: bool) -> bool:
    """Tell whether the groove runs out at an end: where the frame's own joint covers it there."""
    if marking.chosen.choices.get("through") is not None:
        return marking.is_yes("through", usually=True)
    end = marking.contact.second_box
    edge = (marking.contact.u_mm, end.high[U]) if is_high else (end.low[U], _ZERO)
    return edge[0] >= edge[1] or _is_covered(marking, edge)


def _is_covered(marking: Marking, edge: Ends) -> bool:
    """Tell whether other parts of the frame stand against the second part all along an edge."""
    spans = sorted(
        (box.low[U], box.high[U]) for box in _stand_beside(marking) if box.low[V] < box.high[V]
    )
    reached = edge[0]
    for low, high in spans:
        if low <= reached:
            reached = max(reached, high)
    return reached >= edge[1]


def _stand_beside(marking: Marking) -> Iterator[Box]:
    """Where others touch the face that is grooved, in the contact's frame."""
    ours = marking.contact
    for joint in marking.bench.piece.joints:
        for other in joint.contacts:
            is_ours = ours.second in (other.first, other.second)
            if is_ours and other.kind is ContactKind.FACE and other.frame.is_square:
                box = ours.frame.box_inward(contact_box(other))
                if box.low[N] == box.high[N] == 0:
                    yield box


def _run(marking: Marking, through: tuple[bool, bool], past: tuple[Fraction, Fraction]) -> Ends:
    box = marking.contact.second_box
    low, high = -past[0], marking.contact.u_mm + past[1]
    return (
        min(low, box.low[U]) if through[0] else low,
        max(high, box.high[U]) if through[1] else high,
    )


@dataclass(frozen=True, slots=True)
class _Corner:
    """How far a groove, and the tongue in it, go on past the end of an edge, mm."""

    deep_mm: Fraction
    enter_mm: Fraction


def _corner(marking: Marking, is_high: bool) -> _Corner:
    """How much more goes in at an end where the panel stands in another groove.

    A panel that enters the parts on two sides of a corner fills the corner as well.
    """
    ours = marking.contact
    first = ours.first_box
    at_end = first.high[U] == ours.u_mm if is_high else first.low[U] == 0
    if not at_end:
        return _Corner(_ZERO, _ZERO)
    wanted = ours.frame.outward_direction(unit(U, is_high))
    for other in edges_of(marking, ours.first):
        if other.contact.first == ours.first and other.contact.frame.axes[N] == wanted:
            depth = _depth(other).value_mm
            return _Corner(depth, depth - _clearance(other, _change(other)).value_mm)
    return _Corner(_ZERO, _ZERO)


def edges_of(marking: Marking, mark: str) -> Iterator[Marking]:
    """The edges of panels that a copy has, or that its grooves hold."""
    piece = marking.bench.piece
    for joint in piece.joints:
        if joint.kind != CODE:
            continue
        for contact in joint.contacts:
            if mark in (contact.first, contact.second) and _is_edge(contact):
                bench = Bench(
                    first=piece.parts[joint.first],
                    second=piece.parts[joint.second],
                    wall_mm=marking.bench.wall_mm,
                    piece=piece,
                )
                yield Marking(chosen=joint, contact=contact, bench=bench)


def _is_edge(contact: Contact) -> bool:
    return contact.kind is ContactKind.FACE and contact.frame.is_square and not contact.outline
