"""What a plan may say of a channel: the options that housing, groove and rebate share."""

from __future__ import annotations

from benchleaf.frames import FACES
from benchleaf.reading.vocabulary import Option, OptionType

DEPTH = Option(
    name="depth",
    type=OptionType.LENGTH,
    help="How deep the second part is cut; by its thickness when left out.",
)
CLEARANCE = Option(
    name="clearance",
    type=OptionType.LENGTH,
    help="Room left at the bottom, so much less goes in; what is usual when left out.",
)
STOPPED = Option(
    name="stopped",
    type=OptionType.CHOICE_LIST,
    choices=tuple(FACES),
    help="Faces of the second part, as drawn, that the channel stops short of; none when left out.",
)
STOP = Option(
    name="stop",
    type=OptionType.LENGTH,
    help="How far short of the face it stops; 1/2 in (12 mm) when left out.",
)


def glue_option(usual: str) -> Option:
    """The option that says whether the joint is glued."""
    return Option(
        name="glue",
        type=OptionType.YES_NO,
        help=f"Whether it is glued; {usual} when left out.",
    )
