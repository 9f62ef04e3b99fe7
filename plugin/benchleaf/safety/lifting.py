"""How heavy is too heavy: the revised NIOSH lifting equation.

Takes a lift (mass, where it starts, how far it goes), gives the recommended weight limit and the
lifting index. For two-handed lifts by one person with good footing; not for carrying, lifting in a
team or with one hand. Source of all figures unless said otherwise: NIOSH 94-110, Applications
Manual for the Revised NIOSH Lifting Equation (rev 9/2021).
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

LOAD_CONSTANT_KG: Final = 23.0
# Limits beyond which a multiplier is 0, cm and degrees: tables 1 to 4, read in a transcription of
# pages 8 to 13.
_FARTHEST_CM: Final = 63.0
_HIGHEST_CM: Final = 175.0
_LONGEST_CM: Final = 175.0
_MOST_TWIST_DEG: Final = 135.0
# Closer, or a shorter way, than this counts as this; cm.
_NEAREST_CM: Final = 25.0
_KNUCKLE_CM: Final = 75.0

# Table 5: lifts a minute, and the multiplier for work of up to 1, 2 and 8 hours.
_PER_MINUTE: Final = (0.2, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15)
_FREQUENCY: Final = {
    1: (1, .97, .94, .91, .88, .84, .80, .75, .70, .60, .52, .45, .41, .37, .34, .31, .28),
    2: (.95, .92, .88, .84, .79, .72, .60, .50, .42, .35, .30, .26, .23, .21, 0, 0, 0),
    8: (.85, .81, .75, .65, .55, .45, .35, .27, .22, .18, .15, .13, 0, 0, 0, 0, 0),
}  # fmt: skip
# Table 5: from these rates on, a lift that starts below the knuckles counts as 0.
_ONLY_HIGH_FROM: Final = {1: 13, 2: 11, 8: 9}


class Coupling(StrEnum):
    """How well the hands hold the load (Table 7)."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One lift."""

    across_cm: float
    """H: hands in front of the ankles."""
    height_cm: float
    """V: hands above the floor at the start."""
    travel_cm: float
    """D: how far the load goes up or down."""
    twist_deg: float = 0.0
    """A: body turned from straight ahead."""
    per_minute: float = 0.2
    """F: lifts a minute; 0.2 and less is now and then."""
    hours: int = 1
    """Work goes on for up to 1, 2 or 8 hours."""
    coupling: Coupling = Coupling.POOR


# chosen: a sheet gripped at its lower third and raised from the floor onto trestles; H, V and D as
# measured with a usual arm and a usual trestle. No handholds, so the grip is poor.
SHEET_LIFT: Final = Lift(across_cm=40, height_cm=40, travel_cm=50)


def carcass_lift(deep_mm: float) -> Lift:
    """A carcass taken off the floor from its long side.

    H = 20 + W/2 where the hands are 25 cm and more above the floor (section 1.3.1); V and D chosen:
    gripped at half a metre, raised enough to step. A deeper carcass than arms reach round counts as
    being held at arm's length: nobody holds it by its middle.
    """
    return Lift(across_cm=min(20 + deep_mm / 20, _FARTHEST_CM), height_cm=50, travel_cm=30)


def recommended_limit_kg(lift: Lift) -> float:
    """The recommended weight limit of a lift, kg; 0 where it should not be done at all.

    RWL = LC x HM x VM x DM x AM x FM x CM.

    >>> round(recommended_limit_kg(SHEET_LIFT), 1)
    10.5
    """
    limit = LOAD_CONSTANT_KG
    for multiplier in (
        _horizontal(lift.across_cm),
        _vertical(lift.height_cm),
        _distance(lift.travel_cm),
        _asymmetry(lift.twist_deg),
        _frequency(lift),
        _coupling(lift),
    ):
        limit *= multiplier
    return limit


def lifting_index(mass_kg: float, lift: Lift) -> float:
    """How many times the recommended limit a load is; infinite where the limit is 0.

    >>> round(lifting_index(36.4, SHEET_LIFT), 2)
    3.45
    """
    limit = recommended_limit_kg(lift)
    return mass_kg / limit if limit else float("inf")


def _horizontal(across_cm: float) -> float:
    return 0.0 if across_cm > _FARTHEST_CM else _NEAREST_CM / max(across_cm, _NEAREST_CM)


def _vertical(height_cm: float) -> float:
    return 0.0 if height_cm > _HIGHEST_CM else 1 - 0.003 * abs(height_cm - _KNUCKLE_CM)


def _distance(travel_cm: float) -> float:
    if travel_cm > _LONGEST_CM:
        return 0.0
    return 0.82 + 4.5 / travel_cm if travel_cm > _NEAREST_CM else 1.0


def _asymmetry(twist_deg: float) -> float:
    return 0.0 if twist_deg > _MOST_TWIST_DEG else 1 - 0.0032 * twist_deg


def _frequency(lift: Lift) -> float:
    column = _FREQUENCY[lift.hours]
    row = bisect_left(_PER_MINUTE, lift.per_minute)
    if row == len(column):
        return 0.0
    starts_low = lift.height_cm < _KNUCKLE_CM
    if starts_low and _PER_MINUTE[row] >= _ONLY_HIGH_FROM[lift.hours]:
        return 0.0
    return column[row]


def _coupling(lift: Lift) -> float:
    if lift.coupling is Coupling.POOR:
        return 0.90
    starts_low = lift.height_cm < _KNUCKLE_CM
    return 0.95 if lift.coupling is Coupling.FAIR and starts_low else 1.0
