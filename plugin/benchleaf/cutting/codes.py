"""Codes of the cutting stage's findings, one line of meaning for each; never reused.

Takes nothing, gives a table for the pages that list findings.
"""

from __future__ import annotations

from typing import Final

CODES: Final = {
    "C301": "A blank larger than its sheet.",
    "C302": "A blank longer than any length its board or rod is sold in.",
    "C303": "A blank wider than its board.",
    "C304": "A part thicker, joints included, than its layers of stock.",
    "C305": "More blanks of one stock than are laid out.",
    "C306": "Too little of a stock of which there is only so much.",
    "C307": "A blank too large to be hauled.",
    "C308": "A blank too heavy to be hauled.",
    "C309": "A weight that can be hauled, and stock whose density is not known.",
    "C310": "A run of figure through a part that is glued up of several pieces.",
    "C311": "Parts that are to be cut together, from different stock.",
    "C312": "A run of figure through parts alike neither in length nor in width.",
    "C313": "Parts that are to be cut together, and no layout of one piece of stock holds them.",
}
"""Code to meaning."""
