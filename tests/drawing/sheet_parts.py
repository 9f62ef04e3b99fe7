"""Parts cut by hand for the drawings' tests: one part, and the features given in its own axes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from tests.pieces import build_piece

from benchleaf.forms import Bore, Form, Prism
from benchleaf.frames import Box, Frame, Vector
from benchleaf.joinery.records import (
    Assembly,
    CutCopy,
    Feature,
    Joinery,
    Shape,
)
from benchleaf.outlines import ellipse, polygon
from benchleaf.reading.plan import Stock, StockKind, Units

INCH = Fraction(254, 10)


def inches(*values: str | float) -> tuple[Fraction, ...]:
    """Lengths in mm from inches, written `1 1/2` or as numbers."""
    return tuple(_inches(str(value)) for value in values)


def _inches(text: str) -> Fraction:
    total = sum((Fraction(part) for part in text.removeprefix("-").split()), Fraction(0))
    return (-total if text.startswith("-") else total) * INCH


def block(low: Sequence[str | float], high: Sequence[str | float]) -> Box:
    """A box from two corners in inches."""
    return Box(inches(*low), inches(*high))  # type: ignore[arg-type]


def cut(role: str, shape: Form, *, adds: bool = False, mate: str = "B") -> Feature:
    return Feature(role=role, shape=shape, adds=adds, joint=0, mate=mate)


def bore(
    mouth: Sequence[str | float],
    direction: Vector,
    *,
    dia: str,
    deep: str,
    end: str | None = None,
) -> Bore:
    return Bore(
        inches(*mouth),  # type: ignore[arg-type]
        direction,
        inches(dia)[0],
        inches(deep)[0],
        inches(end or dia)[0],
    )


def sheet_of(
    name: str,
    size: Sequence[str | float],
    features: Sequence[Feature] = (),
    *,
    units: Units = Units.INCH,
    rod: bool = False,
    copies: tuple[tuple[str, ...], tuple[str, ...]] | None = None,
) -> tuple[Shape, Joinery]:
    """The shape and joinery of one part, beside a mate B that its joints are for."""
    body = Box((Fraction(0),) * 3, inches(*size))  # type: ignore[arg-type]
    far = Box(tuple(-edge for edge in body.high), body.low)  # type: ignore[arg-type]
    piece = build_piece({name: body, "mate": far}, units=units)
    if rod:
        parts = dict(piece.parts)
        parts[name] = replace(parts[name], stock=_rod(parts[name].stock))
        piece = replace(piece, parts=parts)
    blank = body
    for feature in features:
        if feature.adds and isinstance(feature.shape, Box):
            blank = blank.join(feature.shape)
    drawn = CutCopy(mark="A", part=name, features=tuple(features), blank=blank)
    as_drawn, mirrored = copies or (("A",), ())
    shape = Shape(part=name, name=name, as_drawn=as_drawn, mirrored=mirrored, drawn=drawn)
    nothing = Assembly(copies=("A",), moved=None, fixed=None, direction=(0, 0, 0))
    return shape, Joinery(
        piece=piece, fits=(), copies={"A": drawn}, shapes=(shape,), assembly=nothing
    )


def _rod(line: Stock) -> Stock:
    return replace(line, kind=StockKind.ROD)


UP: Vector = (0, 0, 1)
DOWN: Vector = (0, 0, -1)
LEFT: Vector = (-1, 0, 0)
RIGHT: Vector = (1, 0, 0)
BACK: Vector = (0, 1, 0)
FRONT: Vector = (0, -1, 0)


def leg() -> tuple[Shape, Joinery]:
    """A leg 2-1/4 square and 18 high: a mortise on each of two faces, and dowel holes above."""
    features = [
        cut("mortise", block(("7/8", "3/4", 6), ("2 1/4", "1 1/8", "8 1/2")), mate="B"),
        cut("mortise", block(("3/4", "7/8", 6), ("1 1/8", "2 1/4", "8 1/2")), mate="B"),
        *(
            cut("dowel hole", bore(("2 1/4", "1", z), LEFT, dia="3/8", deep="1 1/16"))
            for z in (15, "16 1/2")
        ),
    ]
    return sheet_of("leg", ("2 1/4", "2 1/4", 18), features, copies=(("A1", "A4"), ("A2", "A3")))


def shelf() -> tuple[Shape, Joinery]:
    """A shelf 36 x 11 with tenons at its ends and a housing across its face."""
    tenons = [
        cut("tenon", block((x0, y, "3/16"), (x1, f"{y + 2}", "9/16")), adds=True)
        for x0, x1 in ((36, "36 1/2"), ("-1/2", 0))
        for y in (1, 8)
    ]
    housing = cut("housing", block((18, 0, "1/2"), ("18 3/4", 11, "3/4")))
    return sheet_of("shelf", (36, 11, "3/4"), [*tenons, housing])


def rail() -> tuple[Shape, Joinery]:
    """A long thin rail, 40 x 3 x 1-3/8, with a tenon and dowel holes at its ends."""
    ends = [
        cut("tenon", block((40, "1/2", "1/2"), ("41 1/4", "7/8", "2 1/2")), adds=True),
        cut("tenon", block(("-1 1/4", "1/2", "1/2"), (0, "7/8", "2 1/2")), adds=True),
        cut("mortise", block(("19 3/4", 0, 1), ("20 1/4", "3/4", 2)), mate="B"),
    ]
    return sheet_of("long rail", (40, "1 3/8", 3), ends)


def panel() -> tuple[Shape, Joinery]:
    """A panel with four square through holes."""
    holes = [
        cut("through hole", block((x, y, 0), (x + 1.5, y + 1.5, "23/32")))
        for x in (1, 33.5)
        for y in (1, 11.5)
    ]
    return sheet_of("seat panel", (36, 14, "23/32"), holes)


def slat() -> tuple[Shape, Joinery]:
    """A slat with two countersunk screw holes at each end."""
    holes = [
        feature
        for x in ("3/4", "29 1/4")
        for y in ("5/8", "1 7/8")
        for feature in (
            cut("clearance hole", bore((x, y, "3/4"), DOWN, dia="3/16", deep="3/4")),
            cut("countersink", bore((x, y, "3/4"), DOWN, dia="3/8", deep="3/32", end="3/16")),
        )
    ]
    return sheet_of("slat", (30, "2 1/2", "3/4"), holes)


def row_rail() -> tuple[Shape, Joinery]:
    """A rail with twelve evenly spaced mortises along one edge."""
    features = [
        cut("mortise", block((2 + 2.5 * i, "1/4", "1 1/4"), (2.5 + 2.5 * i, "3/4", 2)))
        for i in range(12)
    ]
    return sheet_of("gallery rail", (32, 1, 2), features)


def side() -> tuple[Shape, Joinery]:
    """A bookcase side: housings, one of them stopped, a rebate, and holes at odd places."""
    features = [
        *(cut("housing", block((0, 0, z), ("1/4", 11, f"{z + 0.75}"))) for z in (3, 14.5, 24.125)),
        cut("housing", block((0, 1, 34), ("1/4", 11, "34 3/4"))),
        cut("rebate", block((0, "10 3/4", 0), ("3/8", 11, 36))),
        *(
            cut("dowel hole", bore((0, y, z), RIGHT, dia="1/4", deep="1/2"))
            for z in (8, "8 1/2", "19 1/3")
            for y in (2, 9)
        ),
    ]
    return sheet_of("side", ("3/4", 11, 36), features)


def peg() -> tuple[Shape, Joinery]:
    """A rod with a hole across it and a hole in its end."""
    features = [
        cut("dowel hole", bore(("1/2", 0, 4), BACK, dia="1/4", deep="1/2")),
        cut("pilot hole", bore(("1/2", "1/2", 6), DOWN, dia="1/8", deep=1)),
    ]
    return sheet_of("peg", (1, 1, 6), features, rod=True)


def drawer_side() -> tuple[Shape, Joinery]:
    """A drawer side 20 x 5 x 1/2: dovetail sockets at one end, a slanting slot, a round hole."""
    across = Frame((Fraction(0),) * 3, ((1, 0, 0), (0, 0, 1), (0, 1, 0)))
    sockets = [
        cut(
            "socket",
            Prism(
                across,
                polygon(
                    [
                        inches(0, z),
                        inches(0, z + 1),
                        inches("3/4", z + 0.875),
                        inches("3/4", z + 0.125),
                    ]
                ),
                inches("1/2")[0],
            ),
        )
        for z in (0.5, 2, 3.5)
    ]
    hole = cut(
        "pull hole", Prism(across, ellipse(inches(10, 2.5), inches(0.5, 0.5)), inches("1/2")[0])
    )
    # 3-4-5: the slot stands square to a slope of 4 in 3.
    slope = Frame(inches(20, 0, 1), ((-0.8, 0.0, -0.6), (0, 1, 0), (-0.6, 0.0, 0.8)))
    corners = [inches(-1, 0), inches(0.5, 0), inches(0.5, 0.5), inches(-1, 0.5)]
    slot = cut("spline slot", Prism(slope, polygon(corners), inches("1/8")[0]))
    return sheet_of("drawer side", (20, "1/2", 5), [*sockets, hole, slot])


ALL = {
    "leg": leg,
    "shelf": shelf,
    "rail": rail,
    "panel": panel,
    "slat": slat,
    "row_rail": row_rail,
    "side": side,
    "peg": peg,
    "drawer_side": drawer_side,
}
