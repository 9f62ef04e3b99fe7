"""Every place where two parts touch is named by a joint or by `rests on`.

What:
    Two copies touch face to face, and no joint of the plan says what happens there.

Why:
    What touches is glued, screwed or left free, and the maker has to know which.

Limit:
    Any touching area; exact.

Source:
    Common practice, no source: a plan says how every two parts meet.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checking.records import Check, Voice, show_places
from benchleaf.checking.unnamed import group_unnamed
from benchleaf.findings import Finding
from benchleaf.frames import Axis
from benchleaf.joinery.records import Joinery
from benchleaf.piece.records import Contact, ContactKind


def find_loose_contacts(joinery: Joinery) -> Iterator[Finding]:
    """Find contacts that nothing in the plan names."""
    voice = Voice(joinery.piece, "K203")
    groups = group_unnamed(joinery, ContactKind.FACE)
    for pair, contacts in groups.items():
        yield _say(voice, pair, contacts)


def _say(voice: Voice, pair: tuple[str, str], contacts: list[Contact]) -> Finding:
    first, second = pair
    where = show_places([(contact.first, contact.second) for contact in contacts])
    size = f"{voice.show(contacts[0].u_mm)} x {voice.show(contacts[0].v_mm)}"
    # n points from the first into the second: upwards where the second lies on the first.
    is_second_above = contacts[0].frame.axes[2][Axis.HIGH] > 0
    upper, lower = (second, first) if is_second_above else (first, second)
    return voice.warning(
        f"parts.{voice.later_part(first, second)}",
        f"{first} and {second} touch ({where}) over {size}, and no joint says how",
        f"Name a joint between them, or write `rests on: [{upper}, {lower}]`.",
    )


CHECK = Check(
    code="K203",
    name="loose_contacts",
    title="Every place where two parts touch is named by a joint or by `rests on`.",
    run=find_loose_contacts,
)
