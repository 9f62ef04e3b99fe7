"""How the change of a size between the seasons is shown: its formula and what goes into it.

Takes seasons and changes, gives the quantities that workings show.
"""

from __future__ import annotations

from benchleaf.checking.records import Quantity
from benchleaf.piece.seasons import Change, Seasons


def inputs_of_change(size: Quantity, change: Change, seasons: Seasons) -> tuple[Quantity, ...]:
    """What the change of one size is worked out from, as a working shows it."""
    return (size, coefficient_of(change), *inputs_of_seasons(seasons))


def coefficient_of(change: Change, of_what: str = "") -> Quantity:
    """The coefficient of a change, `of the first part` where there are two."""
    return Quantity(
        symbol="C",
        name=" ".join(filter(None, ("change", of_what, f"for 1 % of moisture, {change.way}"))),
        value=change.coefficient,
        unit="",
        source=change.source,
    )


def inputs_of_seasons(seasons: Seasons) -> tuple[Quantity, ...]:
    """The seasons as a working shows them."""
    figures = (
        ("", "humidity in the driest season", seasons.driest, seasons.source),
        ("", "humidity in the dampest season", seasons.dampest, ""),
        ("M₁", "moisture of the wood then", seasons.dry_moisture, _BY_AIR),
        ("M₂", "moisture of the wood in the dampest", seasons.damp_moisture, ""),
        *_built(seasons),
    )
    return tuple(
        Quantity(symbol=symbol, name=name, value=value, unit="%", source=source)
        for symbol, name, value, source in figures
    )


def _built(seasons: Seasons) -> tuple[tuple[str, str, float, str], ...]:
    if seasons.built_moisture is None:
        return ()
    return (("M", "moisture of the wood when it is built", seasons.built_moisture, "the plan"),)


_BY_AIR = "Wood Handbook FPL-GTR-282 (2021), Eq. 4-5 (transcription)"
_FORMULA = "Δ = D C (M₂ \N{MINUS SIGN} M₁)"
_WIDE_FORMULA = "Δ = D (M₂ \N{MINUS SIGN} M₁) / (3000 / S \N{MINUS SIGN} 30 + M₁)"


def formula_of(seasons: Seasons) -> str:
    """Wood Handbook Eq. 13-2, or 13-3 where a moisture is beyond 6 to 14 %."""
    return _FORMULA if seasons.is_linear else _WIDE_FORMULA
