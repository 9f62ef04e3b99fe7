"""Codes of the findings on the order of work, one line of meaning for each; never reused.

Takes nothing, gives a table for the pages that list findings.
"""

from __future__ import annotations

from typing import Final

CODES: Final = {
    "S300": "A glue-up that asks for more clamps than there are.",
    "S350": "Work that the shop has no way for.",
    "S501": "A step that covers an operation that is not planned.",
    "S502": "An operation that two steps cover.",
    "S503": "A step that covers no operation.",
    "S504": "A step before one that it needs.",
    "S505": "A step with an operation of another step in between.",
    "S590": "A planned order that cannot be worked: a fault of Benchleaf.",
}
"""Code to meaning."""
