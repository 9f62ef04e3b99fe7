"""Reading: the text of a plan file to a typed `Plan`, with everything that is wrong found at once.

Takes text, the file's name and the words of the joint kinds; gives a `Plan` or None, and findings.
Pure: `opening` is the only one to touch a file.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import PurePosixPath
from types import MappingProxyType
from typing import Final

from benchleaf.findings import Finding, has_errors, sort_findings
from benchleaf.reading.building import build_plan
from benchleaf.reading.checks import check_whole
from benchleaf.reading.desk import Desk
from benchleaf.reading.groups import gather_parts
from benchleaf.reading.nodes import MapNode, Node, TextNode, compose_nodes
from benchleaf.reading.plan import Plan, Units
from benchleaf.reading.showing import quote
from benchleaf.reading.table import plan_record
from benchleaf.reading.vocabulary import JointWords, ShapingWords

_NAME: Final = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*", re.ASCII | re.IGNORECASE)
# chosen: file systems take 255 bytes; the name is one part of a path and of addresses.
_LONGEST_NAME: Final = 80


def read_plan(
    text: str,
    file: str,
    words: Mapping[str, JointWords],
    *,
    shaping: Mapping[str, ShapingWords] = MappingProxyType({}),
) -> tuple[Plan | None, tuple[Finding, ...]]:
    """Read a plan.

    Args:
        text: The whole text of the plan file.
        file: Its path as findings show it, with forward slashes; the plan's name is its stem
            without `.plan`.
        words: The words of each kind of joint, by the key that names the kind.
        shaping: The words of each kind of shaping, by the key that names the kind.

    Returns:
        The plan, or None where an error was found; and all findings, sorted by place.
    """
    desk = Desk(file)
    name = _read_name(file, desk)
    root = compose_nodes(text, desk)
    if root is None:
        return None, sort_findings(desk.findings)
    desk.units = find_units(root).value
    values = plan_record(words, shaping).read(root, desk)
    if values is None:
        return None, sort_findings(desk.findings)
    gathered = gather_parts(values, desk)
    check_whole(gathered, desk)
    findings = sort_findings(desk.findings)
    if has_errors(findings):
        return None, findings
    return build_plan(name, file, gathered, places=desk.places), findings


def plan_name(file: str) -> str:
    """The name of the plan that a file holds.

    >>> plan_name("plans/boot-bench.plan.yml")
    'boot-bench'
    """
    base = PurePosixPath(file.replace("\\", "/")).name
    return re.sub(r"(?:\.plan)?\.ya?ml$", "", base)


def _read_name(file: str, desk: Desk) -> str:
    name = plan_name(file)
    if len(name) > _LONGEST_NAME or not _NAME.fullmatch(name):
        message = f"the file's name {quote(name)} cannot be part of an address"
        remedy = "Needed: letters a to z, digits and single hyphens, such as `boot-bench.plan.yml`."
        desk.report("R004", desk.top, message, remedy=remedy)
    return name


def find_units(root: Node) -> Units:
    """The units, ahead of everything else; inches until the author says otherwise."""
    entry = root.get("units") if isinstance(root, MapNode) else None
    if entry is not None and isinstance(entry.value, TextNode):
        text = entry.value.text.strip()
        if text in set(Units):
            return Units(text)
    return Units.INCH
