"""The plan as read: typed, nothing left as text but names and prose. Made by `read_plan`.

Lengths that depend on sizes or on other parts' faces are Expression trees here (see
`expressions`); `piece` works them out. Every node's place in the file is kept in `Plan.places`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from benchleaf.findings import Place
from benchleaf.frames import Axis
from benchleaf.reading.expressions import Expression
from benchleaf.reading.turned import PlanSplay, PlanTrim, PlanTurn


class Units(StrEnum):
    """Unit of bare numbers in the plan, and of its pages."""

    INCH = "in"
    MILLIMETRE = "mm"


class StockKind(StrEnum):
    """Form in which stock is bought."""

    SHEET = "sheet"
    BOARD = "board"
    ROD = "rod"


class Grain(StrEnum):
    """Which way the grain of a sheet runs, or that it does not matter."""

    LONG = "long"
    SHORT = "short"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One size of a stock that can be had, bought or from the rack."""

    length_mm: Fraction
    """Along the long side of a sheet, or along the board or rod."""
    width_mm: Fraction
    count: int | None = None
    """How many there are; None for as many as are wanted."""
    price: Fraction | None = None
    """Of one piece, in the author's money; None where the plan has no prices. 0 in the rack."""
    is_offcut: bool = False
    """True for what is already in the rack."""
    defects_mm: tuple[tuple[Fraction, Fraction], ...] = ()
    """On boards and rods: stretches along the length to keep out of, (from, to), in order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One line of stock: sheet, board or rod."""

    name: str
    kind: StockKind
    material: str
    """What it is made of, in the author's words: `birch plywood`."""
    thickness_mm: Fraction
    """Thickness of a sheet or board; diameter of a rod."""
    width_mm: Fraction
    """Short side of a sheet, width of a board, diameter of a rod."""
    lengths_mm: tuple[Fraction, ...]
    """Long side of a sheet (one), or the lengths a board or rod is sold in, ascending."""
    grain: Grain
    """For a sheet, the side the grain runs along; boards and rods are always LONG."""
    trim_mm: Fraction
    """What no part may have of each edge of a sheet, or of each end of a board or rod."""
    offers: tuple[Offer, ...] = ()
    """Sizes that can be had, where that is more than the sizes above in any number: several sizes,
    prices, offcuts in the rack."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AxisSpec:
    """What the plan gives for one axis of a part; expressions in the order written."""

    low: Expression | None = None
    high: Expression | None = None
    extent: Expression | None = None
    centre: Expression | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Equally spaced copies of a part along one axis."""

    axis: Axis
    count: int
    """Copies in all, at least 2."""
    step: Expression | None
    """From one copy to the next, like face to like face; or None if `gap` or `to` is given."""
    gap: Expression | None
    """Clear space between neighbours."""
    to: Expression | None
    """Where the high face of the last copy lies: copies are spread evenly up to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanLoad:
    """What a part carries: a usual load by its word, or a mass spread over it."""

    word: str
    """A word of the handbook's loads, `none`, or empty where a mass is given."""
    mass_kg: Fraction | None
    """Mass on each copy, kg, or None where a word is given."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanPart:
    """One part as the plan writes it."""

    name: str
    stock: str
    """Name of its stock."""
    layers: int | None
    """Layers glued up, or None to let the thickness decide (1 where it suffices)."""
    axes: tuple[AxisSpec, AxisSpec, AxisSpec]
    """Wide, deep, high."""
    thickness_axis: Axis | None
    """Extent that the stock's thickness lies along, where the author says."""
    grain_axis: Axis | None
    """Extent that the grain runs along, where the author says; else the longest."""
    mirror: tuple[Axis, ...]
    """Axes across whose centre plane of the piece the part is copied."""
    row: Row | None
    allowance: Expression | None
    """Rough minus final, on length and on width, or None for the usual."""
    note: str
    is_edge_glued: bool = False
    """Whether boards are glued edge to edge to make its width."""
    load: PlanLoad | None = None
    """What each copy carries, where the author says."""
    shaping: tuple[PlanShaping, ...] = ()
    """In the order written: what comes later is done to what comes before."""
    turns: tuple[PlanTurn, ...] = ()
    """In the order written, from where it is placed."""
    splay: PlanSplay | None = None
    trims: tuple[PlanTrim, ...] = ()
    group: str = ""
    """Name of the group in whose own axes it is placed; empty for a part placed in the piece."""

    @property
    def path(self) -> str:
        """Where it stands in the plan file."""
        return f"groups.{self.group}.parts.{self.name}" if self.group else f"parts.{self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanGroup:
    """Parts that are placed and copied as one: a drawer, a door, a frame."""

    name: str
    axes: tuple[AxisSpec, AxisSpec, AxisSpec]
    """Wide, deep, high: the box that the group stands in."""
    mirror: tuple[Axis, ...]
    """Axes across whose centre plane of the piece the group is copied."""
    row: Row | None
    note: str
    parts: tuple[str, ...]
    """Names of its parts, in the plan's order."""

    @property
    def path(self) -> str:
        """Where it stands in the plan file."""
        return f"groups.{self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """A wood screw: gauge number and length."""

    gauge: int
    length: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """A dowel: diameter and length."""

    diameter: Expression
    length: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two lengths, such as a place on a face."""

    first: Expression
    second: Expression


PlanValue = (
    Expression
    | int
    | bool
    | str
    | tuple[str, ...]
    | tuple[Expression, ...]
    | Fastener
    | Round
    | Pair
    | tuple[Pair, ...]
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanJoint:
    """One joint entry: a kind, a pair of parts, and choices."""

    index: int
    """Place in the plan's list, from 0."""
    kind: str
    first: str
    second: str
    choices: Mapping[str, PlanValue]
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanShaping:
    """One entry of a part's `shape`: a kind, where on the part, and choices."""

    index: int
    """Place in the part's list, from 0."""
    kind: str
    places: tuple[str, ...]
    """Names of faces (`top`), or of edges by their two faces in order of axes (`front top`)."""
    choices: Mapping[str, PlanValue]
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """How the piece is finished."""

    material: str
    coats: int
    grits: tuple[int, ...]
    """Abrasive grits before the first coat, coarse to fine."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanStep:
    """A step as the author writes it: a title, words, and the operations it claims."""

    title: str
    text: str
    covers: tuple[str, ...]
    """Operations covered, as `kind: part` words, checked against the planned order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopSettings:
    """What the plan assumes of the shop; each has a usual value."""

    kerf_mm: Fraction
    allowance_mm: Fraction
    """Rough minus final for glued-up blanks, on length and on width."""
    wall_mm: Fraction
    """Least wood to leave beyond a blind mortise or hole."""
    glue: str
    haul_mm: tuple[Fraction, Fraction] | None = None
    """Both sides of the largest piece of a sheet that can be hauled; None for any."""
    haul_kg: Fraction | None = None
    """Mass of the heaviest piece of a sheet that one person lifts; None for any."""
    people: int = 1
    """How many work at the piece."""
    # chosen: a day at the bench, breaks taken out.
    hours: int = 6
    """Of work in a day."""
    clamps: int | None = None
    """How many there are; None for as many as the largest glue-up asks for."""


class Stands(StrEnum):
    """What keeps the piece up."""

    FLOOR = "floor"
    """It stands on the floor by itself."""
    ANCHORED = "anchored"
    """It stands on the floor and is fixed to the wall behind it."""
    HUNG = "hung"
    """It hangs on the wall behind it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """The air that the piece lives in: relative humidity, percent."""

    driest: int
    dampest: int
    built_at: int | None = None
    """Moisture of the wood when the piece is built, percent; None where it is not said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """One plan file, typed."""

    name: str
    """The file's stem without `.plan`: letters, digits, hyphens; part of the addresses."""
    file: str
    """Path as findings show it."""
    title: str
    author: str
    licence: str
    summary: str
    revision: str
    """What the author calls this revision, such as `B`; may be empty."""
    units: Units
    sizes: Mapping[str, Expression]
    overall: tuple[Expression, Expression, Expression]
    """Overall wide, deep, high: the piece stands in the box from 0 to these."""
    stock: Mapping[str, Stock]
    parts: Mapping[str, PlanPart]
    joints: tuple[PlanJoint, ...]
    finish: Finish | None
    shop: ShopSettings
    steps: tuple[PlanStep, ...]
    notes: tuple[str, ...]
    places: Mapping[str, Place]
    """Path of each node (`parts.leg.wide`, `joints[1].size`) to the place of its value, or of its
    key where the value begins on a line below; and `path + '#key'` to the place of its key."""
    room: Room | None = None
    """The air of the room, or None for the usual."""
    stands: Stands | None = None
    """What keeps the piece up, where the author says."""
    groups: Mapping[str, PlanGroup] = field(default_factory=dict)
    """By name, in the plan's order; their parts are among `parts`, after the others."""
    matched: tuple[tuple[str, ...], ...] = ()
    """Names of parts that the figure of the wood runs through, in order: a tuple for each run."""
    one_piece: tuple[tuple[str, ...], ...] = ()
    """Names of parts that must come from one piece of stock: a tuple for each piece."""

    def placed(self, name: str) -> PlanPart | PlanGroup:
        """The part or the group of a name: what has faces, extents and copies."""
        return self.groups[name] if name in self.groups else self.parts[name]

    def place(self, path: str) -> Place:
        """The place of a path, or of its nearest ancestor that has one."""
        while path not in self.places:
            cut = max(path.rfind("."), path.rfind("["))
            if cut < 0:
                return Place(file=self.file, line=1, column=1)
            path = path[:cut]
        return self.places[path]
