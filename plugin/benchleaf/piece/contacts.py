"""Where copies meet: faces that touch, and copies that pass through one another.

Takes the copies of a piece, gives Contacts with a frame each. Exact on rationals; pairs of which
one is turned or trimmed are handed to `meeting`. Knows no joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType

import numpy as np

from benchleaf.frames import Axis, Box, Frame, Vector
from benchleaf.piece.bodies import Body, body_of_box, move_body
from benchleaf.piece.meeting import Standing, contacts_between
from benchleaf.piece.records import Contact, ContactKind, Copy

# Far more than a rational loses on becoming a float; mm.
NEAR_MM = 1e-3
_UNITS: tuple[Vector, Vector, Vector] = ((1, 0, 0), (0, 1, 0), (0, 0, 1))


def find_contacts(
    copies: Sequence[Copy], bodies: Mapping[str, Body] = MappingProxyType({})
) -> tuple[Contact, ...]:
    """Find every contact between two copies, in order of the copies.

    Two boxes that share volume cross; two that share a rectangle touch. Edges and corners that
    meet without area are no contact.

    Args:
        copies: All copies.
        bodies: By name, the parts that are no box square to the piece, in their own axes.
    """
    standing = {copy.mark: _stand(copy, bodies) for copy in copies} if bodies else {}
    return tuple(
        contact
        for i, j in _near_pairs(copies)
        for contact in _contacts_of_pair(copies[i], copies[j], standing, bodies)
    )


def _stand(copy: Copy, bodies: Mapping[str, Body]) -> Standing:
    if copy.part in bodies:
        body = move_body(bodies[copy.part], copy.frame)
    else:
        body = body_of_box(copy.box)
    return Standing(mark=copy.mark, body=body, axes=copy.frame.axes)


def _contacts_of_pair(
    first: Copy, second: Copy, standing: Mapping[str, Standing], bodies: Mapping[str, Body]
) -> Iterator[Contact]:
    if first.part in bodies or second.part in bodies:
        return contacts_between(standing[first.mark], standing[second.mark])
    return _contacts_between(first, second)


def _near_pairs(copies: Sequence[Copy]) -> list[tuple[int, int]]:
    """Pairs whose boxes meet or nearly do, by floats: the exact look is for these alone."""
    low = np.array([[float(v) for v in copy.box.low] for copy in copies]).reshape(-1, 3)
    high = np.array([[float(v) for v in copy.box.high] for copy in copies]).reshape(-1, 3)
    meets = (low[:, None] <= high[None] + NEAR_MM).all(axis=2)
    near = np.triu(meets & meets.T, k=1)
    return [(int(i), int(j)) for i, j in np.argwhere(near)]


def turn_contact(contact: Contact) -> Contact:
    """Look at the same contact from the other copy's side.

    A FACE contact's n turns round; a CROSSING keeps its n, which belongs to neither copy.
    """
    frame, first_box, second_box = contact.frame, contact.second_box, contact.first_box
    if contact.kind is ContactKind.FACE:
        u, v, n = frame.axes
        frame = Frame(frame.origin, (u, v, (-n[0], -n[1], -n[2])))
        first_box, second_box = _turn_over(first_box), _turn_over(second_box)
    return replace(
        contact,
        first=contact.second,
        second=contact.first,
        frame=frame,
        first_box=first_box,
        second_box=second_box,
    )


def _turn_over(box: Box) -> Box:
    """The same box where n runs the other way."""
    (u, v, n), (far_u, far_v, far_n) = box.low, box.high
    return Box((u, v, -far_n), (far_u, far_v, -n))


def _contacts_between(first: Copy, second: Copy) -> Iterator[Contact]:
    common = first.box.meet(second.box)
    extents = common.size
    if all(extent > 0 for extent in extents):
        yield _contact(ContactKind.CROSSING, first, second, _thinnest_axis(extents), 1)
        return
    if any(extent < 0 for extent in extents) or sum(extent == 0 for extent in extents) != 1:
        return
    axis = Axis(extents.index(0))
    sign = 1 if first.box.high[axis] == second.box.low[axis] else -1
    yield _contact(ContactKind.FACE, first, second, axis, sign)


def _thinnest_axis(extents: Vector) -> Axis:
    return min(Axis, key=lambda axis: (extents[axis], -axis))


def _contact(kind: ContactKind, first: Copy, second: Copy, normal: Axis, sign: int) -> Contact:
    common = first.box.meet(second.box)
    others = [axis for axis in Axis if axis != normal]
    u_axis, v_axis = sorted(others, key=lambda axis: (-common.size[axis], axis))
    n: Vector = tuple(sign * part for part in _UNITS[normal])  # type: ignore[assignment]
    frame = Frame(common.low, (_UNITS[u_axis], _UNITS[v_axis], n))
    return Contact(
        kind=kind,
        first=first.mark,
        second=second.mark,
        frame=frame,
        u_mm=Fraction(common.size[u_axis]),
        v_mm=Fraction(common.size[v_axis]),
        n_mm=Fraction(common.size[normal]),
        first_box=frame.box_inward(first.box),
        second_box=frame.box_inward(second.box),
    )


def contact_box(contact: Contact) -> Box:
    """The touching rectangle or common box, in the piece's axes."""
    own = Box((Fraction(0), Fraction(0), Fraction(0)), (contact.u_mm, contact.v_mm, contact.n_mm))
    return contact.frame.box_outward(own)
