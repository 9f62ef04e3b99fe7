"""Codes of the piece's findings, one line of meaning for each; never reused.

P0xx come from solving, P1xx from placing. The page on the plan format prints this table.
"""

from __future__ import annotations

from typing import Final

CODES: Final = {
    "P001": "Sizes that depend on each other in a circle.",
    "P002": "More given along one axis of a part than fixes it.",
    "P003": "Less given along one axis of a part than fixes it.",
    "P004": "A part, or the whole piece, that comes to nothing or less along one axis.",
    "P005": "Arithmetic that does not come to a length.",
    "P006": "A division by zero.",
    "P007": "A number beyond all bounds.",
    "P008": "More than one extent left to the stock's thickness.",
    "P009": "Too few layers for the thickness.",
    "P010": "More layers than the thickness takes.",
    "P011": "A plain part whose thickness is not its stock's.",
    "P012": "Grain along the thickness.",
    "P013": "Copies in a row that overlap.",
    "P014": "A part that overlaps its own mirror image.",
    "P015": "A part that reaches out of the overall box.",
    "P016": "A part made from rod that is not as thick as the rod.",
    "P017": "A length below zero where there can be none.",
    "P020": "A face to be trimmed to that runs along the part.",
    "P021": "Trims that leave nothing of a part.",
    "P022": "Trims that wait for one another in a circle.",
    "P023": "A trim across the thickness of the stock.",
    "P024": "A splay in the middle of the piece, where there is no way out.",
    "P030": "A part that reaches out of its group.",
    "P031": "Less given along one axis of a group than fixes it.",
    "P040": "A mitre with a face that is not the outer one of its corner.",
    "P041": "A mitre between parts that stand in one line.",
}
"""Code to meaning."""
