"""What a plan may say of a channel, and what is usual: shared by the families that cut one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from benchleaf.frames import FACES
from benchleaf.reading.vocabulary import Option, OptionType


@dataclass(frozen=True, slots=True, kw_only=True)
class Usual:
    """What is usual for one of the three families."""

    role: str
    """Role of what is cut."""
    entering: str
    """Role of what is added to the first part."""
    depth_key: str
    most_key: str
    """Key of the deepest that is usual, as a part of the thickness."""
    clearance_key: str
    """Key of the usual clearance at the bottom, or empty for none."""
    is_glued: bool


USUAL: Final[Mapping[str, Usual]] = MappingProxyType(
    {
        "housing": Usual(
            role="housing",
            entering="housed end",
            depth_key="housing depth",
            most_key="housing depth, most",
            clearance_key="",
            is_glued=True,
        ),
        "groove": Usual(
            role="groove",
            entering="tongue",
            depth_key="groove depth",
            most_key="housing depth, most",
            clearance_key="groove clearance",
            is_glued=False,
        ),
        "rebate": Usual(
            role="rebate",
            entering="let-in edge",
            depth_key="housing depth",
            most_key="rebate depth, most",
            clearance_key="",
            is_glued=True,
        ),
        "sliding dovetail": Usual(
            role="dovetail socket",
            entering="dovetail tail",
            depth_key="housing depth",
            most_key="housing depth, most",
            clearance_key="sliding dovetail clearance",
            is_glued=True,
        ),
    }
)
"""What is usual, by the family's code."""

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
