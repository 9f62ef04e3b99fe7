"""Reading: the text of a shop file to a `Shop`, with everything that is wrong found at once.

Takes text and the file's name; gives a `Shop` or None, and findings. Pure. Shop files come by the
same roads as plans, and are as little trusted: the reader of plans takes them apart.
"""

from __future__ import annotations

import re
from pathlib import PurePosixPath
from typing import Final

from benchleaf.findings import Finding, has_errors, sort_findings
from benchleaf.reading.desk import Desk, FileKind
from benchleaf.reading.nodes import compose_nodes
from benchleaf.reading.reader import find_units
from benchleaf.reading.showing import needed_word, quote
from benchleaf.shops.building import build_shop
from benchleaf.shops.records import Shop
from benchleaf.shops.table import SHOP

SHOP_FILE: Final = FileKind(
    whole="the shop",
    keys="the keys of a shop, such as `shop:` and `machines:`",
    too_much="Leave out what is not used.",
)
_NAME: Final = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*", re.ASCII)
# chosen: as for plans, the name is one part of addresses.
_LONGEST_NAME: Final = 40


def read_shop(text: str, file: str) -> tuple[Shop | None, tuple[Finding, ...]]:
    """Read a shop file.

    Args:
        text: The whole text of the file.
        file: Its path as findings show it; the shop's name is its stem without `.shop`.

    Returns:
        The shop, or None where an error was found; and all findings, sorted by place.
    """
    desk = Desk(file, SHOP_FILE)
    name = shop_name(file)
    if len(name) > _LONGEST_NAME or not _NAME.fullmatch(name):
        message = f"the file's name {quote(name)} cannot be part of an address"
        remedy = "Needed: letters a to z, digits and single hyphens, such as `hand-tools.shop.yml`."
        desk.report("R004", desk.top, message, remedy=remedy)
    root = compose_nodes(text, desk)
    if root is None:
        return None, sort_findings(desk.findings)
    desk.units = find_units(root).value
    values = SHOP.read(root, desk)
    findings = sort_findings(desk.findings)
    if values is None or has_errors(findings):
        return None, findings
    return build_shop(name, values), findings


def shop_name(file: str) -> str:
    """The name of the shop that a file holds.

    >>> shop_name("shops/hand-tools.shop.yml")
    'hand-tools'
    """
    base = PurePosixPath(file.replace("\\", "/")).name
    return re.sub(r"(?:\.shop)?\.ya?ml$", "", base)


def needed_shop(name: str, known: tuple[str, ...]) -> str:
    """What a site may name as its shop, the nearest first."""
    return needed_word("a shop of the folder of shops, or one of ours", name, known)
