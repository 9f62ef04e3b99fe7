"""Codes of the findings on shop files that plans have none of; never reused.

What shop files have in common with plans, such as YAML that cannot be read, has the reader's codes.
"""

from __future__ import annotations

from typing import Final

CODES: Final = {
    "R980": "Not a mass.",
    "R981": "Not a number of clamps and how far they open.",
    "R982": "Neither `usual` nor a machine's capacities.",
    "R983": "A shop that the site does not have.",
}
"""Code to meaning."""
