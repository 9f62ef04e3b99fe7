"""Codes of the findings on price files that plans have none of; never reused.

What they have in common with plans, such as YAML that cannot be read, has the reader's codes.
"""

from __future__ import annotations

from typing import Final

CODES: Final = {
    "R991": "Not a day.",
    "R992": "Not what a pack holds.",
    "R993": "Two prices for the same thing.",
}
"""Code to meaning."""
