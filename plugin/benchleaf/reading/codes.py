"""Codes of the reader's findings, one line of meaning for each; never reused.

The page on the plan format prints this table, and a test holds that the reader uses no other.
"""

from __future__ import annotations

from typing import Final

CODES: Final = {
    "R001": "The plan file is not there or cannot be opened.",
    "R002": "The plan file is not text in UTF-8.",
    "R003": "The plan is larger than a plan may be.",
    "R004": "The file's name cannot be part of an address.",
    "R005": "The YAML cannot be read.",
    "R006": "The file holds no plan, or more than one.",
    "R007": "A YAML alias, anchor or tag.",
    "R008": "A key that stands twice in one place.",
    "R009": "A key that is not plain text.",
    "R010": "A needed key is missing.",
    "R011": "A key that has no meaning here.",
    "R012": "A list, or keys with values, where something else is needed.",
    "R013": "A key without a value.",
    "R014": "A `#` that may have cut a value short.",
    "R015": "A name that cannot be used.",
    "R016": "Text that is too long or holds characters that do not show.",
    "R017": "Not a whole number, or one out of range.",
    "R018": "Not one of the words allowed.",
    "R019": "Not yes or no.",
    "R020": "Not a length.",
    "R021": "A length that is too small.",
    "R022": "Not two lengths with an x between.",
    "R023": "Not a screw: gauge x length.",
    "R024": "More of something than a plan may hold.",
    "R025": "The same thing twice in a list.",
    "R026": "Keys that exclude each other, or none where one is needed.",
    "R027": "Abrasive grits that do not run from coarse to fine.",
    "R030": "Arithmetic that cannot be read.",
    "R031": "Arithmetic that is too long or too deep.",
    "R032": "A name in the arithmetic that the plan does not have.",
    "R033": "A face or extent that there is none of.",
    "R034": "`mirrored` or `copy` of a part that is not copied so.",
    "R035": "A fraction after `/`, which can be read in two ways.",
    "R036": "A part that the plan does not have.",
    "R037": "Stock that the plan does not have.",
    "R038": "Neither a usual load nor a mass.",
    "R039": "A driest season that is not drier than the dampest.",
    "R040": "A face or an edge that there is none of.",
    "R045": "Not an angle, or one out of range.",
    "R050": "Not a price.",
    "R051": "Not a stretch of a board, or one beyond its end.",
    "R052": "Not as many prices as sizes.",
    "R053": "Not a weight with its unit.",
    "R960": "A name that a part and a group, or two parts, share.",
    "R961": "A place of the piece in the arithmetic of a group's own axes.",
    "R962": "A group where a part is needed.",
    "R970": "A part in two lists of parts that are cut together.",
    "R994": "Boards glued edge to edge for a part that is of layers, or of no boards.",
    "R099": "More findings than are shown.",
}
"""Code to meaning."""
