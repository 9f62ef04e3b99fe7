"""Where the mark of each copy goes: on which face, at which end, which way up.

Takes Joinery; gives one place for each copy, in words of the piece as it stands. A mark goes on the
face that part sheets show with the face mark, at the end that lengths run from. Must not know
paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import permutations

from benchleaf.drawing.part_datums import Datums, read_datums
from benchleaf.frames import Axis, Frame, Number, face_name
from benchleaf.joinery.records import Joinery, Shape
from benchleaf.piece.records import Part
from benchleaf.reading.plan import StockKind

Way = tuple[Axis, bool]
"""A direction along an axis of the piece, and whether it runs to the high face."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkPlace:
    """Where one copy's mark goes, and what is seen there."""

    mark: str
    name: str
    """Of its shape."""
    size_mm: tuple[Number, Number, Number]
    """Length, width and thickness, finished."""
    face: str
    """Side of the piece that the face looks to: `front`; of a rod, its end."""
    end: str
    """Side of the piece that the end nearest to the mark looks to: where lengths run from."""
    edge: str
    """Side of the piece that the edge looks to that widths run from; empty for a rod."""
    up: str
    """Side of the piece that the head of the mark points to."""
    right: str
    """Side of the piece on the right hand of who reads the mark."""
    wide_mm: Number
    """Of the face, left to right of who reads the mark."""
    high_mm: Number
    is_round: bool
    """True for a rod."""


def list_mark_places(joinery: Joinery) -> Iterator[MarkPlace]:
    """The place of every mark, copies of one shape together."""
    for shape in joinery.shapes:
        part = joinery.piece.parts[shape.part]
        datums = read_datums(joinery, shape.drawn.mark, shape.drawn.blank)
        marks = (*shape.as_drawn, *shape.mirrored)
        for mark in sorted(marks, key=lambda mark: (len(mark), mark)):
            yield _place(joinery, shape, (part, datums), mark)


def _place(joinery: Joinery, shape: Shape, told: tuple[Part, Datums], mark: str) -> MarkPlace:
    part, datums = told
    ways = _ways_out(joinery.piece.copies[mark].frame, datums)
    # The mark stands upright where the face does; on one that lies, its head is to the back.
    order = (Axis.HIGH, Axis.DEEP, Axis.WIDE)
    level, upright = sorted(
        (part.grain_axis, part.width_axis), key=lambda axis: -order.index(ways[axis][0])
    )
    up = (ways[upright][0], True)
    size = shape.drawn.blank.size
    is_round = part.stock.kind is StockKind.ROD
    return MarkPlace(
        mark=mark,
        name=shape.name,
        size_mm=(size[part.grain_axis], size[part.width_axis], size[part.thickness_axis]),
        face=face_name(*ways[part.thickness_axis]),
        end=face_name(*ways[part.grain_axis]),
        edge="" if is_round else face_name(*ways[part.width_axis]),
        up=face_name(*up),
        right=face_name(*_right_of(up, ways[part.thickness_axis])),
        wide_mm=size[level],
        high_mm=size[upright],
        is_round=is_round,
    )


def _ways_out(frame: Frame, datums: Datums) -> Mapping[Axis, Way]:
    """Each of a part's axes to the way in the piece that its reference side looks.

    Of a part that stands at an angle, the nearest; no two of its axes go by one of the piece's.
    """

    def nearness(order: tuple[Axis, ...]) -> float:
        return sum(
            abs(float(frame.axes[own][there])) for own, there in zip(Axis, order, strict=True)
        )

    best = max(permutations(Axis), key=nearness)
    return {
        own: (there, (frame.axes[own][there] >= 0) == datums.usual[own])
        for own, there in zip(Axis, best, strict=True)
    }


def _right_of(up: Way, face: Way) -> Way:
    """What lies on the right hand of who looks at a face with `up` above: up x outward."""
    axis = Axis(3 - up[0] - face[0])
    is_cyclic = (face[0] - up[0]) % 3 == 1
    return axis, (up[1] == face[1]) == is_cyclic
