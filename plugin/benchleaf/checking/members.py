"""What bends: plates that carry loads, and rails and cleats that carry plates, each as a beam.

Takes a Joinery and its stays, gives a `Member` for each copy that a load reaches, and the loads
that go through its joints. Posts and uprights are taken to stand firm; a panel's help behind a
shelf is left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from benchleaf.checking.beams import Bent
from benchleaf.checking.bending import Load, Section, bend_span
from benchleaf.checking.loads import Carried, load_of
from benchleaf.checking.spans import Line, Span, across, interval, span_along, spans_of
from benchleaf.checking.stays import (
    Stays,
    Tie,
    carriers_of_bearer,
    carriers_of_plate,
    is_plate,
)
from benchleaf.checking.stiffness import Stuff, stuff_of
from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import Joinery
from benchleaf.piece.records import Copy, Part, Piece
from benchleaf.reading.plan import StockKind

# chosen: carried along three fifths of its length, a part does not bend between its ends.
_BACKED: Final = 0.6
# chosen: one person's load spreads over at most 600 mm of a wide top.
_PERSON_MM: Final = 600.0
# Kinds of joints whose ends hardly turn, where both ends have one.
_STIFF_ENDS: Final = frozenset(
    {
        "bolt and cross dowel",
        "dowels",
        "drawbored tenon",
        "loose tenon",
        "mortise and tenon",
        "twin tenons",
        "wedged tenon",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Crosswise:
    """One way in which a part bends."""

    bent: Bent
    section: Section
    stuff: Stuff

    @property
    def stress_mpa(self) -> float:
        """Largest bending stress."""
        return self.section.stress_mpa(self.bent.moment_n_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """A copy as a beam, under the load that reaches it."""

    mark: str
    part: Part
    span: Span
    carried: Carried
    load_n: float
    """All of the load that reaches it, N."""
    section: Section
    stuff: Stuff
    bent: Bent
    bent_fixed: Bent | None
    """The same with both ends held fast, where its joints come near to that."""
    is_plain: bool
    """True where the load is spread over the whole of it, from support to support."""
    across: Crosswise | None
    """The plate between points of one line, where points carry it."""

    @property
    def sag_mm(self) -> float:
        """Sag at once, mm."""
        return self.bent.sag_mm + (self.across.bent.sag_mm if self.across else 0.0)

    @property
    def hardest(self) -> Crosswise:
        """The way in which it is strained the most, for its strength that way."""
        ways = [Crosswise(bent=self.bent, section=self.section, stuff=self.stuff)]
        ways += [self.across] if self.across else []
        return max(ways, key=lambda way: way.stress_mpa / way.stuff.strength_mpa)


@dataclass(frozen=True, slots=True, kw_only=True)
class Members:
    """All members of a piece, and the loads that go through its joints."""

    members: tuple[Member, ...]
    through: Mapping[tuple[str, str, int], float]
    """(upper mark, lower mark, joint) to the load that goes through, N."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reaching:
    """A load that reaches a copy from another."""

    carried: Carried
    place: Box
    """Where it enters, in the piece's axes."""
    load_n: float


@dataclass(slots=True)
class _Passing:
    """Loads on their way down; lives as long as the members of one piece are found."""

    held: dict[str, list[_Reaching]] = field(default_factory=dict)
    through: dict[tuple[str, str, int], float] = field(default_factory=dict)

    def send(self, upper: str, tie: Tie, reaching: _Reaching) -> None:
        """Pass a load to the copy at the other end of a tie."""
        self.held.setdefault(tie.other, []).append(reaching)
        key = (upper, tie.other, tie.joint)
        before = self.through.get(key, 0.0)
        is_person = reaching.carried.person_n > 0
        self.through[key] = max(before, reaching.load_n) if is_person else before + reaching.load_n


def find_members(joinery: Joinery, stays: Stays) -> Members:
    """Find what bends: plates first, then rails and cleats from the top down."""
    piece = joinery.piece
    passing = _Passing()
    members: list[Member] = []
    for mark, copy in piece.copies.items():
        part = piece.parts[copy.part]
        carried = load_of(piece, part)
        if carried and is_plate(part) and copy.frame.is_square:
            ties = tuple(carriers_of_plate(stays, piece, mark))
            members += _plate(part, copy, ties, carried=carried, passing=passing)
    for mark in _bearers(piece, stays):
        ties = tuple(carriers_of_bearer(stays, piece, mark))
        copy = piece.copies[mark]
        members += _bearer(piece.parts[copy.part], copy, ties, passing=passing)
    return Members(members=tuple(members), through=dict(passing.through))


def _bearers(piece: Piece, stays: Stays) -> list[str]:
    """Copies on edge whose grain runs level, those farthest from the ground first."""
    found = [
        mark
        for mark, copy in piece.copies.items()
        if not is_plate(piece.parts[copy.part])
        and piece.parts[copy.part].grain_axis is not Axis.HIGH
        and copy.frame.is_square
        and mark in stays.levels
    ]
    return sorted(found, key=lambda mark: -stays.levels[mark])


def _plate(
    part: Part, copy: Copy, ties: Sequence[Tie], *, carried: Carried, passing: _Passing
) -> Iterator[Member]:
    """A plate as a beam along the span that bends the least, and what it passes on."""
    tried = [_as_beam(part, copy, span, carried=carried) for span in spans_of(copy.box, ties)]
    best = min(tried, key=_order_of_trial, default=None)
    if best is None:
        return
    member, load = best.member, best.load
    shares = (1.0 / len(best.span.lines),) * len(best.span.lines)
    if member:
        yield member
        shares = _shares(copy.box, best.span, load, section=member.section)
    for line, share in zip(best.span.lines, shares, strict=True):
        _send_line(copy, line, carried=carried, load_n=load.load_n * share, passing=passing)


@dataclass(frozen=True, slots=True)
class _Trial:
    """A plate along one of its spans; its member is None where its material is not known."""

    span: Span
    load: Load
    member: Member | None


def _order_of_trial(trial: _Trial) -> tuple[bool, float, float]:
    sag = trial.member.sag_mm if trial.member else 0.0
    return (trial.span.is_cantilever, sag, trial.span.longest_mm)


def _as_beam(part: Part, copy: Copy, span: Span, *, carried: Carried) -> _Trial:
    size = copy.box.size
    load_n = carried.total_n(float(size[span.axis]) * float(size[across(span.axis)]))
    load = Load(*interval(copy.box, span.axis), load_n, carried.person_n > 0)
    stuff = stuff_of(part, span.axis, is_on_edge=False)
    if stuff is None:
        return _Trial(span, load, None)
    section = _section(part, copy, span.axis, stuff=stuff, is_person=load.is_person)
    member = Member(
        mark=copy.mark,
        part=part,
        span=span,
        carried=carried,
        load_n=load_n,
        section=section,
        stuff=stuff,
        bent=bend_span(copy.box, span, (load,), section=section),
        bent_fixed=None,
        is_plain=not load.is_person and span.reaches_ends(copy.box),
        across=_across_points(part, copy, span, load=load),
    )
    return _Trial(span, load, member)


def _shares(box: Box, span: Span, load: Load, *, section: Section) -> tuple[float, ...]:
    """The most of a plate's load that each line bears.

    A person's weight is nowhere nearer to an edge than a quarter of the plate (chosen: people sit
    on seats, not on their edges).
    """
    loads = [load]
    if load.is_person:
        low, high = load.low_mm, load.high_mm
        quarter = (high - low) / 4
        places = [low + quarter, (low + high) / 2, high - quarter]
        places += [line.at_mm for line in span.lines if places[0] < line.at_mm < places[2]]
        loads = [replace(load, low_mm=place, high_mm=place) for place in places]
    bents = [bend_span(box, span, (own,), section=section) for own in loads]
    borne = zip(*(bent.reactions_n for bent in bents), strict=True)
    return tuple(max(0.0, *reactions) / load.load_n for reactions in borne)


def _send_line(
    copy: Copy, line: Line, *, carried: Carried, load_n: float, passing: _Passing
) -> None:
    """Pass what one line bears to what it consists of, by how much of the plate lies on each."""
    sizes = [_length(tie.region) for tie in line.ties]
    whole = sum(sizes)
    for tie, size in zip(line.ties, sizes, strict=True):
        part = size / whole if whole else 1 / len(sizes)
        # a person may sit right above any one of them
        own_n = load_n if carried.person_n else load_n * part
        passing.send(copy.mark, tie, _Reaching(carried=carried, place=tie.region, load_n=own_n))


def _length(region: Box) -> float:
    """Level length of the place where two copies meet."""
    return max(float(region.size[Axis.WIDE]), float(region.size[Axis.DEEP]))


def _bearer(part: Part, copy: Copy, ties: Sequence[Tie], *, passing: _Passing) -> Iterator[Member]:
    """A rail or cleat under what reaches it: backed along its length, or a beam."""
    reached = passing.held.get(copy.mark, [])
    axis = part.grain_axis
    low, high = interval(copy.box, axis)
    backing = [
        tie
        for tie in ties
        if (ends := interval(tie.region, axis))[1] - ends[0] >= _BACKED * (high - low)
    ]
    for reaching in reached if backing else ():
        passing.send(copy.mark, backing[0], reaching)
    if not reached or backing:
        return
    span = span_along(copy.box, ties, axis, reach=0)
    stuff = stuff_of(part, axis, is_on_edge=True)
    if span is None or stuff is None:
        return
    yield _bearing_member(part, copy, span, stuff=stuff, reached=reached)


def _bearing_member(
    part: Part, copy: Copy, span: Span, *, stuff: Stuff, reached: Sequence[_Reaching]
) -> Member:
    spread = [r for r in reached if not r.carried.person_n]
    people = [r for r in reached if r.carried.person_n]
    # People sit in one place at a time; what is spread lies everywhere at once.
    counted = [*spread, *people[:1]]
    loads = tuple(
        Load(*interval(r.place, span.axis), r.load_n, r.carried.person_n > 0) for r in counted
    )
    section = _section(part, copy, span.axis, stuff=stuff, is_person=False)
    kinds = {tie.kind for line in span.lines for tie in line.ties}
    fixed = None
    if len(span.lines) == 2 and kinds <= _STIFF_ENDS:
        fixed = bend_span(copy.box, span, loads, section=section, is_fixed=True)
    return Member(
        mark=copy.mark,
        part=part,
        span=span,
        carried=max(counted, key=lambda r: r.load_n).carried,
        load_n=sum(load.load_n for load in loads),
        section=section,
        stuff=stuff,
        bent=bend_span(copy.box, span, loads, section=section),
        bent_fixed=fixed,
        is_plain=False,
        across=None,
    )


def _section(part: Part, copy: Copy, axis: Axis, *, stuff: Stuff, is_person: bool) -> Section:
    """What of a copy bends along an axis."""
    breadth = float(copy.box.size[across(axis)])
    return Section(
        breadth_mm=min(breadth, _PERSON_MM) if is_person else breadth,
        depth_mm=float(copy.box.size[Axis.HIGH]),
        is_round=part.stock.kind is StockKind.ROD,
        modulus_mpa=stuff.modulus_mpa,
    )


def _across_points(part: Part, copy: Copy, span: Span, *, load: Load) -> Crosswise | None:
    """A plate along its lines, where these are points far apart, as posts at corners are.

    On points a plate carries the whole load in both directions: the rule of flat slabs, from
    memory.
    """
    axis = across(span.axis)
    ties = [tie for line in span.lines for tie in line.ties]
    other = span_along(copy.box, ties, axis, reach=0)
    stuff = stuff_of(part, axis, is_on_edge=False)
    if not span.is_on_points or other is None or stuff is None or other.is_cantilever:
        return None
    section = _section(part, copy, axis, stuff=stuff, is_person=load.is_person)
    low, high = interval(copy.box, axis)
    own = replace(load, low_mm=low, high_mm=high)
    return Crosswise(
        bent=bend_span(copy.box, other, (own,), section=section), section=section, stuff=stuff
    )
