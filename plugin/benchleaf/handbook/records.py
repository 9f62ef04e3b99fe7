"""What the handbook's tables come to: figures with their source and status, rows of them.

Made by `tables`. Must not know plans or joints.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """One figure, and where it comes from."""

    value: Fraction
    """In `unit`; the low end where the source gives a range."""
    unit: str
    """`MPa`, `N`, `kPa`, `kg/m3`, `mm`, `kg`, `m3`, `%`, `C`, or empty for a plain number."""
    source: str
    """Author or standard with its table, equation or clause."""
    status: str
    """`read`, `transcription`, `secondary`, `from memory`, `computed`, `practice`, `chosen`;
    several apart by commas."""

    @property
    def cited(self) -> str:
        """The source with its status, as a page shows it."""
        return f"{self.source} ({self.status})"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood:
    """A species; a figure that no source gives is None."""

    name: str
    """As the tables of Benchleaf call it: `oak white`."""
    label: str
    """As the source calls it."""
    group: str
    """`hardwood` or `softwood`."""
    gravity: Published | None
    """Specific gravity: ovendry mass over volume at 12 % moisture."""
    strength: Published | None
    """Modulus of rupture at 12 % moisture, MPa: an average of small clear pieces."""
    modulus: Published | None
    """Modulus of elasticity along the grain at 12 % moisture, MPa, with the test's shear in it."""
    hardness: Published | None
    """Load that sinks a steel ball half way into the side, N."""
    shrinkage: Mapping[str, Published]
    """`radial`, `tangential`, `volume`: green to ovendry, percent."""
    change: Mapping[str, Published]
    """`radial`, `tangential`: part of the size for each percent of moisture, 6 to 14 %."""
    metric: Mapping[str, Fraction]
    """The metric twins as printed: `mor_kpa`, `moe_mpa`; empty where there are none."""
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A kind of panel."""

    name: str
    density: Published
    """kg/m3."""
    modulus: Published
    """Modulus of elasticity in bending, face grain along the span, MPa."""
    modulus_across: Published | None
    """The same across the face grain, where a source gives it."""
    strength: Published
    """Modulus of rupture, face grain along the span, MPa."""
    is_plied: bool
    """True for plywood, whose stiffness across and on edge follows from its plies."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A usual load."""

    word: str
    spread: Published | None
    """kPa over the whole of a part, or None."""
    person: Published | None
    """N at one place, or None."""
    lasts: bool
    """True where it stands for months, so that wood creeps under it."""

    @property
    def published(self) -> Published:
        """The figure, whichever it is."""
        found = self.spread or self.person
        assert found is not None  # noqa: S101 - our own file; a test reads every row
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawal:
    """Load that draws a fastener from side grain: p = k G^g D^d L, N and mm."""

    equation: str
    coefficient: Fraction
    gravity_power: Fraction
    diameter_power: Fraction
    inch_lb: Fraction
    """The coefficient in pounds and inches."""
    source: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Lateral:
    """Load at which a fastener gives way sideways: p = K D^d, N and mm."""

    equation: str
    diameter_power: Fraction
    source: str
    status: str
    factors: tuple[tuple[str, Fraction, Fraction, Fraction], ...]
    """(`hardwood` or `softwood`, least G, most G, K)."""
