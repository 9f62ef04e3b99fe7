"""What a shop has: machines with what they take, bits, clamps, and what one person lifts.

Takes nothing, gives the frozen `Shop`. A machine's capacities default to the usual ones, so that
`TableSaw()` is the usual table saw; a machine that is not there is None. Must not know plans.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

_MM: Final = Fraction(1)
# An inch, by definition (1959).
_INCH: Final = Fraction(254, 10)

ALL_MACHINES: Final = frozenset(
    {
        "table saw",
        "mitre saw",
        "circular saw",
        "bandsaw",
        "drill press",
        "planer",
        "jointer",
        "drill",
        "router",
        "router table",
        "jigsaw",
        "sander",
        "biscuit jointer",
    }
)
"""Machines that a shop may lack, as operations name their tools."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableSaw:
    """A saw with its blade in a table, and its sled."""

    # chosen: a usual fence opens to 24 in.
    rip_mm: Fraction = 24 * _INCH
    """From the blade to the fence, to the right of it."""
    # From memory: the fence goes 12 in to the left of the blade.
    rip_left_mm: Fraction = 12 * _INCH
    """From the blade to the fence, to the left of it."""
    # Common practice, no source: a 10 in table saw cuts 3-1/8 in deep.
    height_mm: Fraction = 79 * _MM
    """Of the blade above the table, raised fully."""
    # From memory: blades tilt to 45 degrees.
    tilt_deg: int = 45
    # From memory: the gauges of table saws turn 60 degrees either way.
    gauge_deg: int = 60
    # From memory: a dado head of 8 in makes up to 13/16 in wide.
    dado_mm: Fraction = 13 * _INCH / 16
    """The widest cut of its dado head; 0 where it takes none."""
    # chosen: as long as the fence of a large sled, 36 in; more hangs over at both sides.
    sled_mm: Fraction = 915 * _MM
    """The longest piece on the sled, along its fence; 0 where there is no sled."""
    # chosen: a usual sled takes as much before the blade as a usual fence opens.
    sled_deep_mm: Fraction = 24 * _INCH
    """The widest piece on the sled, along the cut."""
    # chosen: what one person can still steer over a table saw: 1200 by 600 mm.
    panel_mm: tuple[Fraction, Fraction] = (1200 * _MM, 600 * _MM)
    """Both sides of the largest panel that the table carries alone."""
    # chosen: what one person can push and steer at arm's length.
    carries_kg: Fraction = 20 * _MM
    """The heaviest panel that the table carries alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MitreSaw:
    """A saw that swings down on what lies against its fence."""

    # From memory: a sliding one of 10 in cuts 12 in wide.
    wide_mm: Fraction = 300 * _MM
    # From memory: it cuts 3-1/2 in high; a few millimetres less are counted on.
    high_mm: Fraction = 85 * _MM
    # Worked out: the width at 90 degrees by the cosine of 45.
    wide_at_45_mm: Fraction = 212 * _MM
    """Turned to 45 degrees."""
    # From memory: tilted to 45 degrees it cuts 2 in high.
    high_at_45_mm: Fraction = 50 * _MM
    """Tilted to 45 degrees."""
    # From memory: one that does not slide cuts 5-1/2 in wide.
    rigid_mm: Fraction = 140 * _MM
    """Without drawing the slide out: for what is thick."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CircularSaw:
    """A saw held in the hand, and its guide."""

    # From memory: one of 7-1/4 in cuts 2-3/8 in deep.
    deep_mm: Fraction = 60 * _MM
    # chosen: a guide of the shop's own making, a little longer than a sheet.
    guide_mm: Fraction = 2500 * _MM
    """The longest cut along its guide."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BandSaw:
    """A saw with an endless blade."""

    # Common practice, no source: 14 in machines less the guard of the blade.
    throat_mm: Fraction = 343 * _MM
    """From the blade to the frame."""
    # From memory: 14 in machines take 6 in below the guides.
    high_mm: Fraction = 6 * _INCH
    """Below its guides."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillPress:
    """A drill on a post."""

    # From memory: a 12 in press drills in the middle of 12 in.
    throat_mm: Fraction = 6 * _INCH
    """From the bit to the post."""
    # From memory: the spindle of such a press comes down 3-1/8 in.
    stroke_mm: Fraction = 25 * _INCH / 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Planer:
    """A thickness planer."""

    # From memory: the usual small ones take 12-1/2 in.
    wide_mm: Fraction = 25 * _INCH / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Jointer:
    """A planer over whose knives edges and faces are made straight."""

    # From memory: the usual small ones are 6 in wide.
    wide_mm: Fraction = 6 * _INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class ClampStock:
    """Clamps of one length."""

    count: int
    opening_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """A shop's machines, bits and clamps. What is not there is None or False."""

    name: str
    """Part of addresses: its file's name without `.shop.yml`."""
    title: str
    """As pages name it: `Fernhill community workshop`."""
    table_saw: TableSaw | None = TableSaw()
    mitre_saw: MitreSaw | None = MitreSaw()
    circular_saw: CircularSaw | None = CircularSaw()
    band_saw: BandSaw | None = BandSaw()
    drill_press: DrillPress | None = DrillPress()
    # Usual small shops true glued blanks at the table saw and by hand: chosen.
    planer: Planer | None = None
    jointer: Jointer | None = None
    has_drill: bool = True
    """A drill held in the hand, driven by a motor."""
    has_router: bool = True
    has_router_table: bool = True
    has_jigsaw: bool = True
    has_sander: bool = True
    has_biscuit_jointer: bool = True
    router_bits_mm: tuple[Fraction, ...] | None = None
    """Diameters of straight router bits, rising; None for the usual ones."""
    drill_bits_mm: tuple[Fraction, ...] | None = None
    """Diameters of drill bits, rising; None for any."""
    dowel_jig_mm: tuple[Fraction, ...] | None = None
    """Dowels that its dowelling jig is made for, rising; empty where there is none, None for any.
    """
    clamps: tuple[ClampStock, ...] | None = None
    """Short ones first; None for as many as are asked for."""
    is_assumed: bool = True
    """True where its capacities are the usual ones, which the reader's own machine may not have."""

    def machines(self) -> tuple[str, ...]:
        """Plain names of the machines that are there, as operations name their tools."""
        held = {
            "table saw": self.table_saw,
            "mitre saw": self.mitre_saw,
            "circular saw": self.circular_saw,
            "bandsaw": self.band_saw,
            "drill press": self.drill_press,
            "planer": self.planer,
            "jointer": self.jointer,
            "drill": self.has_drill,
            "router": self.has_router,
            "router table": self.has_router_table,
            "jigsaw": self.has_jigsaw,
            "sander": self.has_sander,
            "biscuit jointer": self.has_biscuit_jointer,
        }
        return tuple(name for name, machine in held.items() if machine)
