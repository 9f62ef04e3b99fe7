"""Contacts that no joint of the plan takes.

Takes the Joinery, gives contacts: those between parts that no joint names, and those that each of
two joints of the same parts leaves to the other.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.joinery.records import Joinery
from benchleaf.piece.records import Contact, ContactKind


def group_unnamed(joinery: Joinery, kind: ContactKind) -> dict[tuple[str, str], list[Contact]]:
    """Group the contacts of a kind that no joint takes by the parts that meet, in order."""
    groups: dict[tuple[str, str], list[Contact]] = {}
    for contact in (*joinery.piece.loose_contacts, *_passed_over(joinery)):
        if contact.kind is kind:
            copies = joinery.piece.copies
            pair = (copies[contact.first].part, copies[contact.second].part)
            groups.setdefault(pair, []).append(contact)
    return groups


def _passed_over(joinery: Joinery) -> Iterator[Contact]:
    """Contacts of parts that two joints name, of which neither takes them."""
    pairs = [frozenset((joint.first, joint.second)) for joint in joinery.piece.joints]
    seen = {_ends(fit.contact) for fit in joinery.fits}
    for joint, pair in zip(joinery.piece.joints, pairs, strict=True):
        if pairs.count(pair) < 2:
            continue
        for contact in joint.contacts:
            if _ends(contact) not in seen:
                seen.add(_ends(contact))
                yield contact


def _ends(contact: Contact) -> frozenset[str]:
    return frozenset((contact.first, contact.second))
