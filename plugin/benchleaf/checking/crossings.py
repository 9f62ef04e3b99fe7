"""No two copies stand inside one another unless a joint says how.

What:
    The boxes of two copies, shoulder to shoulder, share volume, and no joint names their parts.

Why:
    Two pieces of wood cannot be in one place. Mostly a size or a face is off by a thickness.

Limit:
    Any shared volume; exact.

Source:
    Common practice, no source: geometry.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checking.records import Check, Voice, show_places
from benchleaf.checking.unnamed import group_unnamed
from benchleaf.findings import Finding
from benchleaf.joinery.records import Joinery
from benchleaf.piece.contacts import contact_box
from benchleaf.piece.records import Contact, ContactKind


def find_crossings(joinery: Joinery) -> Iterator[Finding]:
    """Find copies that stand inside one another without a joint."""
    voice = Voice(joinery.piece, "K201")
    groups = group_unnamed(joinery, ContactKind.CROSSING)
    for pair, contacts in groups.items():
        yield _say(voice, pair, contacts)


def _say(voice: Voice, pair: tuple[str, str], contacts: list[Contact]) -> Finding:
    first, second = pair
    where = show_places([(contact.first, contact.second) for contact in contacts])
    size = " x ".join(voice.show(extent) for extent in contact_box(contacts[0]).size)
    return voice.error(
        f"parts.{voice.later_part(first, second)}",
        f"{first} and {second} stand inside one another ({where}), by {size} (wide x deep x high)",
        "Move one of them, or name a joint that lets them pass: `half lap` or `through post`.",
    )


CHECK = Check(
    code="K201",
    name="crossings",
    title="No two copies stand inside one another unless a joint says how.",
    run=find_crossings,
)
