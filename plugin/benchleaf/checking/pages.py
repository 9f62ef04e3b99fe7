"""The public page of the checks, written from their own docstrings.

Takes the checks with their modules' docstrings, gives Markdown. Knows no single check and no file.
"""

from __future__ import annotations

from collections.abc import Iterable

from benchleaf.checking.records import Check
from benchleaf.joinery.pages import split_docstring

SECTIONS = ("What", "Why", "Limit", "Source")
"""Sections that the docstring of every check has, in this order."""

_HEAD = """\
# Checks

Once every joint is cut, these are looked at. What is found is said with its place in the plan, what
was found, what is needed and the next act; the code is that of the finding.
"""


def write_page(checks: Iterable[tuple[Check, str]]) -> str:
    """Write the page.

    Args:
        checks: Each check with its module's docstring.

    Returns:
        Markdown, ending in a line feed.
    """
    return "\n".join([_HEAD, *(_write_check(check, text) for check, text in checks)])


def _write_check(check: Check, docstring: str) -> str:
    _, sections = split_docstring(docstring)
    said = {name: " ".join(sections[name].split()) for name in SECTIONS}
    return (
        f"## {check.code}: {check.title.rstrip('.')}\n\n"
        f"{said['What']} {said['Why']}\n\n"
        f"- **Limit.** {said['Limit']}\n"
        f"- **Source.** {said['Source']}\n"
    )
