"""Where boxes meet, against shapely's independent predicates on their projections."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import box as flat

from benchleaf.frames import Box
from benchleaf.piece.contacts import contact_box, turn_contact
from benchleaf.piece.records import Contact, ContactKind
from pieces import box, build_piece

_corner = st.tuples(*[st.integers(0, 6)] * 3)
_extent = st.tuples(*[st.integers(1, 4)] * 3)


def _contacts(first: Box, second: Box) -> tuple[Contact, ...]:
    return build_piece({"a": first, "b": second}).loose_contacts


def _shadow(solid: Box, dropped: int):
    i, j = (axis for axis in range(3) if axis != dropped)
    return flat(*map(float, (solid.low[i], solid.low[j], solid.high[i], solid.high[j])))


@given(_corner, _extent, _corner, _extent)
def test_boxes_cross_where_all_three_shadows_share_area(at_a, size_a, at_b, size_b):
    # Source: separating axis theorem; axis-parallel boxes overlap exactly if all shadows do.
    first = box(*at_a, *(a + s for a, s in zip(at_a, size_a, strict=True)))
    second = box(*at_b, *(a + s for a, s in zip(at_b, size_b, strict=True)))
    shared = [_shadow(first, i).intersection(_shadow(second, i)).area for i in range(3)]
    found = _contacts(first, second)
    crossing = [c for c in found if c.kind is ContactKind.CROSSING]
    assert bool(crossing) == all(area > 0 for area in shared)
    if crossing:
        common = contact_box(crossing[0])
        assert float(common.volume_mm3) ** 2 == shared[0] * shared[1] * shared[2]
    faces = [c for c in found if c.kind is ContactKind.FACE]
    if faces:
        assert max(shared) == float(faces[0].u_mm * faces[0].v_mm)


def test_edges_that_meet_are_no_contact():
    assert _contacts(box(0, 0, 0, 10, 10, 10), box(10, 10, 0, 20, 20, 10)) == ()


def test_a_crossing_is_split_along_its_thinnest_extent():
    (contact,) = _contacts(box(0, 40, 0, 300, 90, 20), box(100, 0, 0, 150, 300, 20))
    assert contact.kind is ContactKind.CROSSING
    assert (contact.u_mm, contact.v_mm, contact.n_mm) == (50, 50, 20)
    assert contact.frame.axes[2] == (0, 0, 1)


def test_turning_a_contact_twice_gives_it_back():
    (contact,) = _contacts(box(0, 0, 0, 10, 20, 30), box(10, 5, 5, 90, 15, 25))
    turned = turn_contact(contact)
    assert turned.frame.axes[2] == (-1, 0, 0)
    assert turned.first_box.high[2] == 0
    assert turn_contact(turned) == contact


def test_both_boxes_seen_from_the_contact_are_the_boxes_that_stand():
    first, second = box(0, 0, 0, 10, 20, 30), box(10, 5, 5, 90, 15, 25)
    (contact,) = _contacts(first, second)
    assert contact.frame.box_outward(contact.first_box) == first
    assert contact.frame.box_outward(contact.second_box) == second
    assert contact.u_mm == Fraction(20)
