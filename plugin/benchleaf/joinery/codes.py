"""Codes of the joints' findings, one line of meaning for each; never reused.

Takes nothing, gives a table for the pages that list findings.
"""

from __future__ import annotations

from typing import Final

CODES: Final = {
    "J101": (
        "Parts that stand inside one another where they may only touch, or the other way round."
    ),
    "J102": "A joint that would thicken its first part.",
    "J103": "An inset that leaves no room on the joint.",
    "J104": "Dowels or screws in a row that run into one another.",
    "J105": "A length below zero where there can be none.",
    "J106": "No dowel in stock sizes that is thin enough.",
    "J107": "A dowel too thick for the wood.",
    "J108": "No dowel in stock sizes that is short enough.",
    "J109": "A dowel that goes too far into one part.",
    "J110": "A dowel too near an edge.",
    "J111": "Dowels too close to one another.",
    "J112": "A dowel that does not go far enough into one part.",
    "J113": "A shoulder on a side where there can be none.",
    "J114": "A size and a shoulder that both settle the tenon.",
    "J115": "A haunch without a shoulder to fill.",
    "J116": "Shoulders that leave no tenon.",
    "J117": "A tenon wider or thicker than the place where the parts meet.",
    "J118": "A through tenon that does not reach through.",
    "J119": "A tenon too long for the wall beyond its mortise.",
    "J120": "A haunch as long as its tenon, or of no length.",
    "J121": "A mortise shallow for its width.",
    "J122": "A tenon wide for its thickness.",
    "J123": "A channel that weakens its part.",
    "J124": "A channel called by the wrong name for the way the grain runs.",
    "J125": "A channel along the very edge, which is a rebate.",
    "J126": "A channel deeper than its part, or no deeper than its clearance.",
    "J127": "A stop at a face that the channel does not run to.",
    "J128": "Stops that leave nothing of the channel.",
    "J129": "A rebate over the whole width of its part.",
    "J130": "A rebate too far in from the edge.",
    "J131": "An upper part that is neither of the two.",
    "J132": "A lap that cannot be lifted apart.",
    "J133": "A lap as deep as the part, or of no depth.",
    "J134": "A lap of parts of two thicknesses.",
    "J135": "A part that is said to rest on what lies above it.",
    "J136": "A post that does not pass through its panel.",
    "J137": "A post without a shoulder below its panel.",
    "J138": "A section and a shoulder that both settle the post.",
    "J139": "A side of the post that is one of its ends.",
    "J140": "A section that asks for a cut on a side that is left whole.",
    "J141": "A section of more than two lengths.",
    "J142": "A section as large as the one below it, or of no size.",
    "J143": "A screw of a gauge that there is none of.",
    "J144": "A screw too long for the part that it goes into.",
    "J145": "A screw too short to hold.",
    "J146": "A screw too near an edge.",
    "J147": "A choice about screws, and no screws.",
    "J148": "Neither glue nor screws.",
    "J190": "Parts that lock one another: no straight slide takes them apart.",
    "J250": "A joint that asks for a longer bolt than is sold.",
    "J251": "A counterbore that leaves too little wood under its washer.",
    "J252": "A bolt that does not reach through with its washer and nut.",
    "J253": "A bolt too near an edge.",
    "J254": "A bolt too short to reach its cross dowel.",
    "J255": "A cross dowel too near the end of its part.",
    "J256": "A bolt's hole that goes through the end of a part.",
    "J257": "A cross dowel from a side that its bolt runs to.",
    "J258": "A part too thin for a cross dowel.",
    "J259": "One bolt alone, on which a part turns.",
}
"""Code to meaning."""
