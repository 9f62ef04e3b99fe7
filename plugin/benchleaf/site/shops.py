"""Finding the site's shops: files in a folder, and the shops that need none.

Takes a folder and the names that the site chose; gives `FoundShops`. Reads files, and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from benchleaf.findings import Finding, Place, Severity
from benchleaf.reading import open_plan
from benchleaf.shops import KNOWN_SHOPS, SHOP_FILE, USUAL_SHOP, Shop, needed_shop, read_shop

MOST_OTHERS: Final = 6
"""Tabs that the style sheet shows beside the site's own. chosen: more do not fit a phone."""
USUAL_OTHERS: Final = ("no-table-saw", "hand-tools")
"""Shops that pages tell the other way for where a site does not say: leaner ones."""
_ENDINGS: Final = (".shop.yml", ".shop.yaml")


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundShops:
    """The shops that plans are worked for."""

    here: Shop
    """The site's own."""
    others: tuple[Shop, ...]
    findings: tuple[Finding, ...]
    texts: Mapping[str, str]
    """Shop files' texts by their names as findings show them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What a site says of its shops."""

    shop: str = USUAL_SHOP.name
    other_shops: Sequence[str] = USUAL_OTHERS
    told_in: str = "mkdocs.yml"
    """The file that says it, as findings show it."""


def find_shops(folder: Path, shown_as: str, choice: Choice) -> FoundShops:
    """Read the shops of a folder, and pick those that the site chose.

    Args:
        folder: Where to look; it need not be there.
        shown_as: The folder's path as findings show it.
        choice: The site's own shop and the others, by name.
    """
    findings: list[Finding] = []
    texts: dict[str, str] = {}
    shops: dict[str, Shop] = dict(KNOWN_SHOPS)
    for path in _list_files(folder):
        file = f"{shown_as}/{path.name}"
        text, said = open_plan(path, file, SHOP_FILE)
        findings += said
        if text is not None:
            texts[file] = text
            shop, said = read_shop(text, file)
            findings += said
            shops |= {shop.name: shop} if shop else {}
    here = shops.get(choice.shop)
    if here is None:
        findings.append(_unknown("shop", choice.shop, tuple(shops), choice))
    others = dict.fromkeys(name for name in choice.other_shops if name != choice.shop)
    strange = [name for name in others if name not in shops]
    findings += [_unknown("other_shops", name, tuple(shops), choice) for name in strange]
    return FoundShops(
        here=here or USUAL_SHOP,
        others=tuple(shops[name] for name in others if name in shops)[:MOST_OTHERS],
        findings=tuple(findings),
        texts=texts,
    )


def _list_files(folder: Path) -> Iterator[Path]:
    if folder.is_dir():
        top = folder.resolve()
        for path in sorted(folder.glob("*")):
            is_inside = path.resolve().is_relative_to(top)
            if path.name.endswith(_ENDINGS) and path.is_file() and is_inside:
                yield path


def _unknown(key: str, name: str, known: tuple[str, ...], choice: Choice) -> Finding:
    return Finding(
        code="R983",
        severity=Severity.ERROR,
        place=Place(file=choice.told_in, line=1, column=1),
        subject=f"plugins.benchleaf.{key}",
        message=f"there is no shop `{name}`",
        remedy=needed_shop(name, known),
    )
