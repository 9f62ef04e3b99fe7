"""The groove of a panel where a tenon of the frame comes to it, and what the tenon does about it.

Takes a Marking of a tenon and the part that it goes into; gives the groove in that part's face, or
None. The tenon is as thick as the groove and stands in line with it, keeps out of the rail's own
groove, and fills what runs out of the end. Must not know how tenons are made.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Number
from benchleaf.joinery.marking import CannotJoinError, Marking, N, U, V
from benchleaf.joinery.panel_edges import edges_of, work_out_edge
from benchleaf.piece.contacts import contact_box

Ends = tuple[Number, Number]


@dataclass(frozen=True, slots=True, kw_only=True)
class GrooveAcross:
    """A panel's groove that runs under a tenon, in the tenon's contact frame, mm."""

    across: Ends
    """Where it lies along v."""
    along: Ends
    """From where to where it runs along u."""
    depth_mm: Fraction
    is_beside: tuple[bool, bool]
    """Whether a panel stands beyond the low and the high end of the contact."""

    def room(self, length_mm: Fraction) -> tuple[Fraction, Fraction]:
        """What of the contact's length the rail's own groove leaves for the tenon."""
        low, high = self.is_beside
        return (
            self.depth_mm if low else Fraction(0),
            length_mm - (self.depth_mm if high else Fraction(0)),
        )

    def runs_under(self, ends: Ends) -> bool:
        """Tell whether it runs all along a span of the contact's length."""
        return self.along[0] <= ends[0] and ends[1] <= self.along[1]


def groove_across(marking: Marking) -> GrooveAcross | None:
    """The groove of a panel in the face that a tenon goes into; None where there is none."""
    ours, found = marking.contact, None
    if not marking.is_square:
        return None
    for other in edges_of(marking, ours.second):
        if other.contact.second != ours.second:
            continue
        try:
            edge = work_out_edge(other)
        except CannotJoinError:
            continue
        box = ours.frame.box_inward(other.contact.frame.box_outward(edge.groove))
        beside = ours.frame.box_inward(contact_box(other.contact))
        is_here = box.low[N] == 0 and box.low[U] < ours.u_mm and box.high[U] > 0
        if not is_here or box.low[V] < 0 or box.high[V] > ours.v_mm:
            continue
        one = GrooveAcross(
            across=(box.low[V], box.high[V]),
            along=(box.low[U], box.high[U]),
            depth_mm=edge.depth.value_mm,
            is_beside=(beside.high[U] <= 0, beside.low[U] >= ours.u_mm),
        )
        found = one if found is None else _both(found, one)
    return found


def _both(one: GrooveAcross, other: GrooveAcross) -> GrooveAcross:
    """A rail between two panels: their grooves are one where they lie in line."""
    if one.across != other.across:
        return one
    return GrooveAcross(
        across=one.across,
        along=(min(one.along[0], other.along[0]), max(one.along[1], other.along[1])),
        depth_mm=max(one.depth_mm, other.depth_mm),
        is_beside=(
            one.is_beside[0] or other.is_beside[0],
            one.is_beside[1] or other.is_beside[1],
        ),
    )


def warn_of_groove(marking: Marking, groove: GrooveAcross, section: tuple[Ends, Ends]) -> Finding:
    """Say that a tenon leaves a hole where a panel's groove runs on, or stands in its way.

    Args:
        marking: The tenon.
        groove: The groove.
        section: The tenon's ends along v and along u.
    """
    thick, room = groove.across[1] - groove.across[0], groove.room(marking.contact.u_mm)
    return marking.warn(
        "J360",
        f"the tenon of {marking.first} and the panel's groove in {marking.second} do not fit one "
        "another",
        f"Needed: a tenon as thick as the groove is wide, {marking.show(thick)}, in line with it, "
        f"and {marking.show(section[1][1] - section[1][0])} of width within the "
        f"{marking.show(room[1] - room[0])} that the groove leaves. Leave its sizes out.",
    )


def fits_groove(groove: GrooveAcross, across: Ends, along: Ends, length_mm: Fraction) -> bool:
    """Tell whether a tenon covers a groove's width and keeps out of the rail's own groove."""
    room = groove.room(length_mm)
    covers = across[0] <= groove.across[0] and groove.across[1] <= across[1]
    return covers and room[0] <= along[0] and along[1] <= room[1]
