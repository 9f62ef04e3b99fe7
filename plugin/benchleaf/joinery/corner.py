"""Corners of a case: two boards that meet end to end, each across the other's thickness.

Takes a Marking, gives the corner with its three ways: along its edge, through the first board, and
along it. Works in the contact's frame; knows no single family.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.findings import Finding
from benchleaf.forms import Prism
from benchleaf.frames import Box, Frame, Number, Vector
from benchleaf.joinery.marking import Marking, N, unit
from benchleaf.joinery.records import SettingOut
from benchleaf.joinery.setting_out import measures_from_high
from benchleaf.outlines import polygon
from benchleaf.piece.records import ContactKind
from benchleaf.reading.plan import StockKind

KEYED: Final = "a key on the sled spaces them"
"""Aid of lines that need no marking where the joint is cut against a key."""
Span = tuple[Number, Number]
Flat = tuple[Number, Number]
"""A point on a board's face: along the corner's edge, and from the root towards the end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """Where two boards corner; n runs along the first of them."""

    marking: Marking
    edge: int
    """The contact's axis along the edge of the corner: the width of both boards."""
    across: int
    """The contact's axis through the thickness of the first board, along the second."""
    reach_mm: Fraction
    """How far the first board goes into the second, along n."""
    root: Number
    """Where on n that begins."""
    is_end_high: bool
    """Whether the first board ends towards high n."""
    is_second_high: bool
    """Whether the second board lies towards high `across`."""

    @property
    def edge_mm(self) -> Fraction:
        """Length of the corner: the width of the boards where they meet."""
        return self._extent(self.edge)

    @property
    def first_mm(self) -> Fraction:
        """Thickness of the first board."""
        return self._extent(self.across)

    def _extent(self, axis: int) -> Fraction:
        return self.marking.contact.u_mm if axis == 0 else self.marking.contact.v_mm

    @property
    def second_mm(self) -> Fraction:
        """Thickness of the second board."""
        return Fraction(self.marking.contact.second_box.size[N])

    def box(self, edge: Span) -> Box:
        """The part of the corner between two places along its edge."""
        end = self.root + (self.reach_mm if self.is_end_high else -self.reach_mm)
        spans: dict[int, Span] = {
            self.edge: edge,
            self.across: (Fraction(0), self.first_mm),
            N: (min(self.root, end), max(self.root, end)),
        }
        low, high = zip(*(spans[axis] for axis in range(3)), strict=True)
        return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))

    def prism(self, flat: Sequence[Flat]) -> Prism:
        """A figure on the first board's face, drawn out through its thickness."""
        origin: list[Number] = [Fraction(0)] * 3
        origin[N] = self.root
        frame = Frame(
            (origin[0], origin[1], origin[2]),
            (unit(self.edge, True), unit(N, self.is_end_high), unit(self.across, True)),
        )
        return Prism(frame, polygon(flat), self.first_mm)

    @property
    def lifting(self) -> Vector:
        """The way out through the first board's outer face, off the second's end."""
        return unit(self.across, not self.is_second_high)

    @property
    def drawing(self) -> Vector:
        """The way out along the first board."""
        return unit(N, not self.is_end_high)

    # Setting out.

    @property
    def is_from_high(self) -> bool:
        """Tell whether places along the edge are measured from its high side."""
        return measures_from_high(self.marking, self.edge)

    def from_edge(self, mark: str, what: str, at: Number, *, spacer: str = "") -> SettingOut:
        """A place along the corner's edge, measured on one of the boards."""
        box, is_high = self.marking.box_of(mark), self.is_from_high
        return SettingOut(
            copy=mark,
            what=what,
            reference=self.marking.own_face(mark, unit(self.edge, is_high)),
            distance_mm=Fraction(box.high[self.edge] - at if is_high else at - box.low[self.edge]),
            spacer=spacer,
        )

    def end_of(self, mark: str) -> str:
        """The own face at the end of one of the boards."""
        is_first = mark == self.marking.contact.first
        way = unit(N, self.is_end_high) if is_first else self.lifting
        return self.marking.own_face(mark, way)

    def from_end(self, mark: str, what: str, distance_mm: Fraction, *, spacer: str) -> SettingOut:
        """A line across one of the boards, measured from its end."""
        return SettingOut(
            copy=mark,
            what=what,
            reference=self.end_of(mark),
            distance_mm=distance_mm,
            spacer=spacer,
        )


def corner_of_crossing(marking: Marking) -> Corner:
    """The corner of two boards that are both drawn out to it."""
    marking.need(ContactKind.CROSSING)
    marking = marking.seen_along(_thickness_axis(marking, marking.contact.second))
    contact = marking.contact
    across = _thickness_axis(marking, contact.first)
    _need_corner(marking, across)
    is_end_high = _runs_on(marking, contact.first, N)
    is_second_low = _runs_on(marking, contact.second, across)
    return Corner(
        marking=marking,
        edge=1 - across,
        across=across,
        reach_mm=contact.n_mm,
        root=Fraction(0) if is_end_high else contact.n_mm,
        is_end_high=is_end_high,
        is_second_high=not is_second_low,
    )


def corner_of_face(marking: Marking, reach_mm: Fraction) -> Corner:
    """The corner of a board that stops at the inner face of the other, and reaches into it."""
    marking.need(ContactKind.FACE)
    contact = marking.contact
    across = _thickness_axis(marking, contact.first)
    _need_corner(marking, across)
    return Corner(
        marking=marking,
        edge=1 - across,
        across=across,
        reach_mm=reach_mm,
        root=Fraction(0),
        is_end_high=True,
        is_second_high=not _runs_on(marking, contact.second, across),
    )


def _thickness_axis(marking: Marking, mark: str) -> int:
    return marking.axis_of(mark, marking.part_of(mark).thickness_axis)


def _runs_on(marking: Marking, mark: str, axis: int) -> bool:
    """Tell whether a board comes to the corner from the low side of an axis."""
    return marking.box_of(mark).low[axis] < 0


def _need_corner(marking: Marking, across: int) -> None:
    contact = marking.contact
    if across == N or _thickness_axis(marking, contact.second) != N:
        raise marking.refuse(
            "J200",
            f"{marking.first} and {marking.second} do not stand across one another as the boards "
            "of a box do",
            "Needed: two boards at a corner, the end of each at the other's face. In one plane, "
            "use a `half lap` or a `bridle`.",
        )
    pairs = [(contact.second, across)]
    if contact.kind is ContactKind.CROSSING:
        pairs.append((contact.first, N))
    for mark, axis in pairs:
        if not _ends_here(marking, mark, axis):
            raise marking.refuse(
                "J201",
                f"{marking.part_of(mark).name} does not end at the outer face of "
                f"{_other(marking, mark)}",
                "Needed: both boards drawn to the outside of the corner."
                if contact.kind is ContactKind.CROSSING
                else "Needed: its end level with the outer face of the board that comes to it.",
            )


def _other(marking: Marking, mark: str) -> str:
    return marking.second if mark == marking.contact.first else marking.first


def _ends_here(marking: Marking, mark: str, axis: int) -> bool:
    """Tell whether a board ends level with the corner on one side and goes on at the other."""
    contact, box = marking.contact, marking.box_of(mark)
    extent = (contact.u_mm, contact.v_mm, contact.n_mm)[axis]
    other = marking.box_of(contact.second if mark == contact.first else contact.first)
    is_whole = other.low[axis] == 0 and other.high[axis] == extent
    if contact.kind is ContactKind.FACE:
        is_whole = True
    return is_whole and (box.low[axis] == 0) != (box.high[axis] == extent)


def warn_of_grain(corner: Corner) -> Iterator[Finding]:
    """Say where the grain of a board runs along the corner: what is cut there breaks off."""
    marking = corner.marking
    for mark in (marking.contact.first, marking.contact.second):
        part = marking.part_of(mark)
        if part.stock.kind is StockKind.BOARD and marking.grain_of(mark) == corner.edge:
            yield marking.warn(
                "J202",
                f"the grain of {part.name} runs along the corner, so that what is left between the "
                "cuts breaks off",
                f"Turn the grain of {part.name} to run up to the corner.",
            )
