"""Plan files found and read from a folder.

Takes a folder; gives `PlanSource` records, and what there is to say about files that are left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Final

from benchleaf.buying.price_file import PRICE_FILE, read_prices
from benchleaf.buying.prices import PriceList
from benchleaf.findings import Finding
from benchleaf.reading import open_plan, plan_name
from benchleaf.site.escaping import make_anchor
from benchleaf.site.records import PlanSource

_ENDINGS: Final = (".plan.yml", ".plan.yaml")


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPlans:
    """What a folder of plans holds."""

    sources: tuple[PlanSource, ...]
    """Sorted by name; no two of one name."""
    findings: tuple[Finding, ...]
    """On files that could not be read."""
    complaints: tuple[str, ...]
    """On files that are left out: in words, for the log."""


def find_plans(folder: Path, shown_as: str) -> FoundPlans:
    """Read the plans in a folder and in the folders right below it.

    Args:
        folder: Where to look; it need not be there.
        shown_as: The folder's path as findings show it.
    """
    sources: dict[str, PlanSource] = {}
    findings: list[Finding] = []
    complaints: list[str] = []
    for path in _list_files(folder):
        file = f"{shown_as}/{path.relative_to(folder).as_posix()}"
        name = make_anchor(plan_name(file))
        if not path.resolve().is_relative_to(folder.resolve()):
            complaints.append(f"{file} leads out of the folder of plans. It is left out.")
        elif name in sources:
            other = sources[name].file
            complaints.append(
                f"{file} has the same address as {other}, plans/{name}/. It is left out: rename it."
            )
        else:
            text, problems = open_plan(path, file)
            findings += problems
            if text is not None:
                sources[name] = PlanSource(name=name, file=file, text=text)
    ordered = tuple(sources[name] for name in sorted(sources))
    return FoundPlans(sources=ordered, findings=tuple(findings), complaints=tuple(complaints))


def _list_files(folder: Path) -> list[Path]:
    """Plan files, those right in the folder before those in folders of their own."""
    if not folder.is_dir():
        return []
    beside = [*folder.glob("*"), *folder.glob("*/*")]
    plans = [path for path in beside if path.name.endswith(_ENDINGS) and path.is_file()]
    return sorted(plans, key=lambda path: (len(path.parts), path.as_posix()))


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPrices:
    """What a site knows of prices."""

    prices: PriceList | None = None
    text: str = ""
    """Of the price file."""
    findings: tuple[Finding, ...] = ()


def find_prices(path: Path, shown_as: str, *, is_asked: bool) -> FoundPrices:
    """Read the site's price file; where it is not asked for by name it need not be there.

    Args:
        path: The file.
        shown_as: Its path as findings show it.
        is_asked: Whether the site names it.
    """
    if not is_asked and not path.is_file():
        return FoundPrices()
    text, findings = open_plan(path, shown_as, PRICE_FILE)
    if text is None:
        return FoundPrices(findings=findings)
    prices, findings = read_prices(text, shown_as)
    return FoundPrices(prices=prices, text=text, findings=findings)
