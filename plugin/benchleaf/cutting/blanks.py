"""Blanks from joinery: what has to be cut from stock before any shaping.

Takes the worked joints, gives a blank for each layer of each copy and for each length of rod that
joints are pinned with, and findings on parts whose stock cannot make them. Must not know layouts.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil
from typing import Final

from benchleaf.cutting.records import Blank
from benchleaf.findings import Finding, Severity, sort_findings
from benchleaf.frames import Axis, Number
from benchleaf.joinery.records import CutCopy, Hardware, Joinery, JointFit
from benchleaf.lengths import format_length
from benchleaf.piece.records import Part
from benchleaf.reading.plan import Grain, Plan, Stock, StockKind

# chosen: a size that an angle made inexact is cut to the next thousandth of a millimetre above.
_STEPS_PER_MM: Final = 1000
FROM_RODS: Final = frozenset({"dowel", "peg"})
"""Kinds of hardware that are cut from the plan's rods where it has any of their diameter."""
# chosen: 1/4 in; a narrower strip is not worth ripping off a board that is ripped again later.
_NOT_WORTH_RIPPING_MM: Final = Fraction(635, 100)


def blanks_of(joinery: Joinery) -> tuple[Blank, ...]:
    """List the blanks: by copies in their order, layer by layer, then lengths of rod for joints.

    A blank is as long and wide as the finished copy with its tenons, plus the part's allowance;
    or as wide as its board, where that is hardly more.
    """
    parts = [blank for mark in joinery.piece.copies for blank in _made_of(joinery, mark)]
    return (*parts, *_rod_blanks(joinery))


def check_blanks(joinery: Joinery) -> tuple[Finding, ...]:
    """Find parts that their joints make thicker than their layers of stock."""
    plan = joinery.piece.plan
    thickest: dict[str, Fraction] = {}
    for copy in joinery.copies.values():
        part = joinery.piece.parts[copy.part]
        thickest[part.name] = max(_thickness_mm(copy, part), thickest.get(part.name, Fraction(0)))
    found = (_too_thick(joinery.piece.parts[name], thick, plan) for name, thick in thickest.items())
    return sort_findings(finding for finding in found if finding is not None)


def _made_of(joinery: Joinery, mark: str) -> Iterator[Blank]:
    """The blanks of one copy: its layers, or the boards that make its width."""
    copy, part = joinery.copies[mark], joinery.piece.part_of(mark)
    wants_strips = joinery.piece.plan.parts[part.name].is_edge_glued
    if wants_strips and part.layers == 1 and part.stock.kind is StockKind.BOARD:
        return _strips(copy, part)
    return _layers(copy, part)


def _strips(copy: CutCopy, part: Part) -> Iterator[Blank]:
    """Boards of equal width, as few as make the whole width with its allowance.

    The allowance is shared among them: it goes in planing their edges and in truing the panel.
    """
    length, width = _finished(copy, part)
    count = ceil((width + part.allowance_mm) / part.stock.width_mm)
    rough = (width + part.allowance_mm) / count
    if part.allowance_mm and part.stock.width_mm - rough <= _NOT_WORTH_RIPPING_MM:
        rough = part.stock.width_mm
    for place in range(1, count + 1):
        yield Blank(
            label=f"{copy.mark}.{place}" if count > 1 else copy.mark,
            part=part.name,
            copy=copy.mark,
            layer=place,
            length_mm=length + part.allowance_mm,
            width_mm=rough,
            final_length_mm=length,
            final_width_mm=width / count,
            stock=part.stock.name,
            may_turn=False,
            is_strip=count > 1,
        )


def _layers(copy: CutCopy, part: Part) -> Iterator[Blank]:
    length, width = _finished(copy, part)
    may_turn = part.stock.kind is StockKind.SHEET and part.stock.grain is Grain.NONE
    if may_turn and width > length:
        length, width = width, length
    is_rod = part.stock.kind is StockKind.ROD
    for layer in range(1, part.layers + 1):
        yield Blank(
            label=f"{copy.mark}.{layer}" if part.layers > 1 else copy.mark,
            part=part.name,
            copy=copy.mark,
            layer=layer,
            length_mm=length + part.allowance_mm,
            width_mm=width if is_rod else _rough_width_mm(width, part),
            final_length_mm=length,
            final_width_mm=width,
            stock=part.stock.name,
            may_turn=may_turn,
        )


def _rough_width_mm(width: Fraction, part: Part) -> Fraction:
    """Width with its allowance; a board that is hardly wider is glued or planed as it is bought."""
    rough = width + part.allowance_mm
    spare = part.stock.width_mm - rough
    is_board = part.stock.kind is StockKind.BOARD
    if is_board and part.allowance_mm and 0 <= spare <= _NOT_WORTH_RIPPING_MM:
        return part.stock.width_mm
    return rough


def _finished(copy: CutCopy, part: Part) -> tuple[Fraction, Fraction]:
    """Length along the grain and width across it, joints included, mm."""
    length = _extent_mm(copy, part.grain_axis)
    if part.stock.kind is StockKind.ROD:
        return length, part.stock.width_mm
    return length, _extent_mm(copy, part.width_axis)


def _thickness_mm(copy: CutCopy, part: Part) -> Fraction:
    thick = _extent_mm(copy, part.thickness_axis)
    if part.stock.kind is StockKind.ROD:
        return max(thick, _extent_mm(copy, part.width_axis))
    return thick


def _extent_mm(copy: CutCopy, axis: Axis) -> Fraction:
    return _exact(copy.blank.size[axis])


def _exact(size: Number) -> Fraction:
    if isinstance(size, Fraction):
        return size
    return Fraction(ceil(size * _STEPS_PER_MM), _STEPS_PER_MM)


def _too_thick(part: Part, thick_mm: Fraction, plan: Plan) -> Finding | None:
    given_mm = part.stock.thickness_mm * part.layers
    if thick_mm <= given_mm:
        return None
    layers = "its stock is" if part.layers == 1 else f"its {part.layers} layers come to"
    path = f"parts.{part.name}"
    return Finding(
        code="C304",
        severity=Severity.ERROR,
        place=plan.place(path),
        subject=path,
        message=(
            f"with its joints it is {format_length(thick_mm, plan.units.value)} thick, "
            f"and {layers} {format_length(given_mm, plan.units.value)}"
        ),
        remedy="Needed: more layers, thicker stock, or joints that add nothing to the thickness.",
    )


def _rod_blanks(joinery: Joinery) -> Iterator[Blank]:
    """Lengths of rod for joints, where the plan has rod of their diameter."""
    wanted: dict[tuple[str, str], list[tuple[Hardware, str]]] = {}
    for fit in joinery.fits:
        for item in fit.hardware:
            stock = _rod_for(item, joinery.piece.plan)
            if stock is not None:
                lengths = wanted.setdefault((stock.name, f"{item.kind} {item.size}"), [])
                lengths += [(item, _words(fit, joinery))] * item.count
    for (stock_name, name), lengths in wanted.items():
        for number, (item, words) in enumerate(lengths, start=1):
            yield Blank(
                # The number is as wide as the last one, so that labels sort by themselves.
                label=f"{name} no. {number:0{len(str(len(lengths)))}}",
                part=name,
                copy=words,
                layer=1,
                length_mm=item.length_mm,
                width_mm=item.diameter_mm,
                final_length_mm=item.length_mm,
                final_width_mm=item.diameter_mm,
                stock=stock_name,
                may_turn=False,
                is_hardware=True,
            )


def _rod_for(item: Hardware, plan: Plan) -> Stock | None:
    """The first rod in the plan that such an item is cut from; None where it is bought as it is."""
    if item.kind not in FROM_RODS:
        return None
    rods = (stock for stock in plan.stock.values() if stock.kind is StockKind.ROD)
    return next((rod for rod in rods if rod.thickness_mm == item.diameter_mm), None)


def _words(fit: JointFit, joinery: Joinery) -> str:
    """The joint as the plan writes it: `dowels: long rail, leg`."""
    joint = joinery.piece.joints[fit.joint]
    return f"{joint.kind}: {joint.first}, {joint.second}"
