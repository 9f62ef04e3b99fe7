"""Which blanks their stock can yield at all, and what to say of those it cannot.

Takes blanks and stock, gives the ways a blank may lie, and findings. Must not know layouts.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from benchleaf.cutting.records import Blank, Bond
from benchleaf.findings import Finding, Place, Severity
from benchleaf.lengths import format_length
from benchleaf.reading.plan import Grain, Offer, Stock, StockKind, Units

# chosen: more than any piece of furniture takes; the time taken grows with their square.
MOST_BLANKS: Final = 1_500

WayMm = tuple[Fraction, Fraction, bool]
"""(wide along x, high along y, whether turned), mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reporter:
    """Words findings about blanks."""

    units: Units
    place_of: Callable[[str], Place]
    """Path in the plan, such as `parts.leg`, to its place."""

    def show(self, length_mm: Fraction) -> str:
        """A length in the plan's units."""
        return format_length(length_mm, self.units.value)

    def find(self, code: str, path: str, *, message: str, remedy: str) -> Finding:
        """An error about a path of the plan."""
        return Finding(
            code=code,
            severity=Severity.ERROR,
            place=self.place_of(path),
            subject=path,
            message=message,
            remedy=remedy,
        )


def offers_of(stock: Stock) -> tuple[Offer, ...]:
    """The sizes of a stock that can be had: its own in any number, where no others are told."""
    usual = (Offer(length_mm=length, width_mm=stock.width_mm) for length in stock.lengths_mm)
    return stock.offers or tuple(usual)


def ways_to_lie(blank: Blank, stock: Stock) -> tuple[WayMm, ...]:
    """The ways in which a blank fits some sheet of a stock within its trimmed edges.

    Grain along the sheet's long side takes the blank's length along x, grain along the short side
    along y; a blank that may turn lies either way.
    """
    turns = [stock.grain is Grain.SHORT and not blank.may_turn]
    if blank.may_turn and blank.length_mm != blank.width_mm:
        turns.append(True)
    trim = 2 * stock.trim_mm
    rooms = [(one.length_mm - trim, one.width_mm - trim) for one in offers_of(stock)]
    ways = [
        (blank.width_mm, blank.length_mm, True)
        if is_turned
        else (blank.length_mm, blank.width_mm, False)
        for is_turned in turns
    ]
    return tuple(
        way for way in ways if any(way[0] <= long and way[1] <= short for long, short in rooms)
    )


def usable_mm(stock: Stock) -> tuple[Fraction, Fraction]:
    """Length and width that are left of the longest piece of a stock once it is trimmed, mm."""
    trim = 2 * stock.trim_mm
    width = stock.width_mm - trim if stock.kind is StockKind.SHEET else stock.width_mm
    if stock.kind is StockKind.SHEET:
        return max(stock.lengths_mm) - trim, width
    return max(clear_length_mm(offer, stock.trim_mm) for offer in offers_of(stock)), width


def fits(blank: Blank, stock: Stock) -> bool:
    """Tell whether a stock can yield a blank."""
    if stock.kind is StockKind.SHEET:
        return bool(ways_to_lie(blank, stock))
    long_mm, wide_mm = usable_mm(stock)
    return blank.length_mm <= long_mm and blank.width_mm <= wide_mm


def clear_length_mm(offer: Offer, trim_mm: Fraction) -> Fraction:
    """The longest stretch of a board or rod between its trimmed ends and its defects, mm."""
    ends = (offer.length_mm - trim_mm, offer.length_mm)
    bounds = [(Fraction(0), trim_mm), *offer.defects_mm, ends]
    return max(after[0] - before[1] for before, after in pairwise(bounds))


def report_misfits(
    blanks: Sequence[Blank], stock: Stock, reporter: Reporter
) -> tuple[Finding, ...]:
    """Say which blanks a stock cannot yield: once for each part and size."""
    found: dict[tuple[str, Fraction, Fraction], Finding] = {}
    for blank in blanks:
        if not fits(blank, stock):
            key = (blank.part, blank.length_mm, blank.width_mm)
            found.setdefault(key, _misfit(blank, stock, reporter))
    return tuple(found.values())


def report_too_many(count: int, stock: Stock, reporter: Reporter) -> Finding:
    """Say that there are more blanks of a stock than are laid out."""
    return reporter.find(
        "C305",
        f"stock.{stock.name}",
        message=f"{count} blanks are to be cut from it",
        remedy=f"Needed: at most {MOST_BLANKS} blanks of one stock. Split the plan in two.",
    )


def report_too_little(count: int, stock: Stock, reporter: Reporter) -> Finding:
    """Say that there is not enough of a stock that is in limited number."""
    return reporter.find(
        "C306",
        f"stock.{stock.name}",
        message=f"{count} blanks are to be cut from it, and there is too little of it",
        remedy="Needed: another size that can be bought in any number, or more of those there are.",
    )


def report_unmet(bond: Bond, stock: Stock, reporter: Reporter) -> Finding:
    """Say that parts that are to be cut together are not."""
    if bond.run is None:
        message = (
            f"no layout was found that has these {len(bond.labels)} blanks on one {stock.name}"
        )
        remedy = "Needed: fewer or smaller parts in the list, or a larger size of the stock."
    else:
        message = f"{bond.run.value}, these {len(bond.labels)} blanks fit no {stock.name}"
        remedy = "Needed: a shorter run, or a larger size of the stock."
    return reporter.find("C313", bond.path, message=message, remedy=remedy)


def _misfit(blank: Blank, stock: Stock, reporter: Reporter) -> Finding:
    if stock.kind is StockKind.SHEET:
        return _misfit_on_sheet(blank, stock, reporter)
    path, name, what = _subject(blank)
    long_mm, wide_mm = usable_mm(stock)
    if blank.length_mm > long_mm:
        most = reporter.show(long_mm)
        length = reporter.show(max(stock.lengths_mm))
        return reporter.find(
            "C302",
            path,
            message=(
                f"{what} is {reporter.show(blank.length_mm)} long{_allowance(blank, reporter)}, "
                f"and the longest {stock.name} is {length}{_trimming(stock, reporter)}"
            ),
            remedy=f"Needed: at most {most}. Shorten {name}, or add a longer length to the stock.",
        )
    return reporter.find(
        "C303",
        path,
        message=(
            f"{what} is {reporter.show(blank.width_mm)} wide{_allowance(blank, reporter)}, "
            f"and {stock.name} is {reporter.show(stock.width_mm)} wide"
        ),
        remedy=(
            f"Needed: at most {reporter.show(wide_mm)}. "
            f"Make {name} narrower, or choose wider stock."
        ),
    )


def _misfit_on_sheet(blank: Blank, stock: Stock, reporter: Reporter) -> Finding:
    path, name, what = _subject(blank)
    long_mm, short_mm = usable_mm(stock)
    size = f"{reporter.show(blank.length_mm)} x {reporter.show(blank.width_mm)}"
    sheet = f"{reporter.show(max(stock.lengths_mm))} x {reporter.show(stock.width_mm)}"
    along, across = (short_mm, long_mm) if stock.grain is Grain.SHORT else (long_mm, short_mm)
    limits = f"{reporter.show(along)} x {reporter.show(across)}"
    if blank.may_turn:
        remedy = f"Needed: at most {limits}, either way round. Make {name} smaller."
    elif blank.width_mm <= along and blank.length_mm <= across:
        remedy = (
            f"Needed: at most {limits}, the first along the grain. It fits across the grain: give "
            f"{name} another `grain`, or the stock `grain: none`."
        )
    else:
        remedy = f"Needed: at most {limits}, the first along the grain. Make {name} smaller."
    return reporter.find(
        "C301",
        path,
        message=(
            f"{what} is {size}{_allowance(blank, reporter)}, "
            f"and a sheet of {stock.name} is {sheet}{_trimming(stock, reporter)}"
        ),
        remedy=remedy,
    )


def _subject(blank: Blank) -> tuple[str, str, str]:
    """Path in the plan, the name to use in a remedy, and what the message is about."""
    if blank.is_hardware:
        return f"stock.{blank.stock}", f"the {blank.part}", f"a {blank.part}"
    return f"parts.{blank.part}", f"`{blank.part}`", "its blank"


def _allowance(blank: Blank, reporter: Reporter) -> str:
    allowance = blank.length_mm - blank.final_length_mm
    return f" with its allowance of {reporter.show(allowance)}" if allowance else ""


def _trimming(stock: Stock, reporter: Reporter) -> str:
    if not stock.trim_mm:
        return ""
    edges = "edge" if stock.kind is StockKind.SHEET else "end"
    return f", less {reporter.show(stock.trim_mm)} at each {edges}"
