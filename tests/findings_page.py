"""The page of findings by code, written from the stages' own tables.

Run this file to write the page; a test holds that it is as written.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from benchleaf.checking import CHECKS
from benchleaf.cutting.codes import CODES as CUTTING
from benchleaf.joinery.codes import CODES as JOINERY
from benchleaf.sequencing.codes import CODES as SEQUENCING
from benchleaf.shaping.codes import CODES as SHAPING

PAGE = Path(__file__).parents[1] / "docs" / "findings.md"
_HEAD = """\
# Findings by code

What Benchleaf says about a plan carries a code: a letter for the stage that found it, and a number
that is never used for anything else. The finding itself says what was found and what is needed;
this page is for those who meet a code and look it up.

Codes that begin with R (reading) and P (working out sizes) are listed with
[the plan format](plan-format.md#findings).
"""
_NOTE_ON_CHECKS = (
    "\n[The checks](checks.md) are described one by one, each with its limit and source.\n"
)


def write_page() -> str:
    """The page's text."""
    checks = {code: check.title for code, check in CHECKS.items()}
    return "\n".join(
        [
            _HEAD,
            _section("F: shaping", SHAPING),
            _section("J: joints", JOINERY),
            _section("K: checks", checks) + _NOTE_ON_CHECKS,
            _section("C: cutting", CUTTING),
            _section("S: order of work", SEQUENCING),
        ]
    )


def _section(heading: str, codes: Mapping[str, str]) -> str:
    rows = "".join(f"| {code} | {meaning} |\n" for code, meaning in codes.items())
    about = "what holds when it passes" if heading.startswith("K") else "what it means"
    return f"## {heading}\n\n| code | {about} |\n|---|---|\n{rows}"


if __name__ == "__main__":
    PAGE.write_text(write_page(), "utf-8")
