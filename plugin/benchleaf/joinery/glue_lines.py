"""Dowels moved off the glue lines of parts that are glued up from layers.

Takes a Marking, a diameter and a row; gives the row that goes into whole wood, where there is room
for one, and the Marking that it is laid out in. A hole bored down a glue line holds badly and
splits the layers apart. Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from benchleaf.frames import Box, Frame
from benchleaf.joinery.marking import Marking, N, U, V, unit
from benchleaf.joinery.proportions import factor
from benchleaf.joinery.rows import Row, edge_distance_mm, lay_out_row


def move_off_glue_lines(
    marking: Marking, row: Row, *, diameter_mm: Fraction, spacing_key: str
) -> tuple[Marking, Row]:
    """Move a row aside, or lay it out the other way, where its holes would cut glue lines.

    A row that the author placed stays. So does one that has nowhere better to go.
    """
    is_placed = any(marking.length(option) is not None for option in ("inset", "offset"))
    if is_placed or not _cuts_lines(marking, row, diameter_mm):
        return marking, row
    edge = diameter_mm * factor("dowel edge distance to diameter, least")
    tried = [(marking, row)]
    if marking.contact.u_mm == marking.contact.v_mm:
        turned = turn_across(marking)
        tried.append((turned, lay_out_row(turned, edge_mm=edge, spacing_key=spacing_key)))
    for own, laid in tried:
        for moved in _moved(own, laid):
            apart = moved.spacing_mm >= diameter_mm * factor("dowel spacing to diameter, least")
            stands_clear = edge_distance_mm(own, moved) >= edge
            if apart and stands_clear and not _cuts_lines(own, moved, diameter_mm):
                return own, moved
    return marking, row


def turn_across(marking: Marking) -> Marking:
    """The same contact with its two sides changed over: v becomes u."""
    contact = marking.contact
    _, v, n = contact.frame.axes
    back = contact.frame.outward_direction(unit(U, False))
    frame = Frame(contact.frame.outward((contact.u_mm, 0, 0)), (v, back, n))
    return replace(
        marking,
        contact=replace(
            contact,
            frame=frame,
            u_mm=contact.v_mm,
            v_mm=contact.u_mm,
            first_box=_across(contact.first_box, contact.u_mm),
            second_box=_across(contact.second_box, contact.u_mm),
        ),
    )


def _across(box: Box, u_mm: Fraction) -> Box:
    return Box(
        (box.low[V], u_mm - box.high[U], box.low[N]),
        (box.high[V], u_mm - box.low[U], box.high[N]),
    )


def _lines(marking: Marking) -> Iterator[tuple[int, Fraction]]:
    """Glue lines seen on the contact: the axis across them, and where they lie on it."""
    for mark in (marking.contact.first, marking.contact.second):
        part = marking.part_of(mark)
        axis = marking.axis_of(mark, part.thickness_axis)
        if axis != N:
            box = marking.box_of(mark)
            layer = Fraction(box.size[axis]) / part.layers
            yield from ((axis, Fraction(box.low[axis] + k * layer)) for k in range(1, part.layers))


def _cuts_lines(marking: Marking, row: Row, diameter_mm: Fraction) -> bool:
    lines = list(_lines(marking))
    return any(
        abs(centre[axis] - at) < diameter_mm / 2 for centre in row.centres for axis, at in lines
    )


def _moved(marking: Marking, row: Row) -> Iterator[Row]:
    """The row in the middle of each layer that it could run in, the nearest first."""
    at = row.centres[0][1]
    lines = sorted({line for axis, line in _lines(marking) if axis == V})
    ends = [Fraction(0), *(line for line in lines if 0 < line < marking.contact.v_mm)]
    ends.append(marking.contact.v_mm)
    middles = [(low + high) / 2 for low, high in pairwise(ends)]
    # Of two as near, the one towards the back, right or top as drawn, as an offset counts.
    sign = marking.sign_of(marking.contact.first, V)
    for middle in sorted(middles, key=lambda v: (abs(v - at), -sign * v)):
        yield replace(row, centres=tuple((u, middle) for u, _ in row.centres))
