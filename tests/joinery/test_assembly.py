"""How pieces come apart: hand-made free, nested and locked cases, and brute force on small ones."""

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.frames import Box
from benchleaf.joinery.assembly import DIRECTIONS, plan_assembly
from benchleaf.joinery.records import Assembly, JointFit
from benchleaf.piece.records import Contact, Piece
from pieces import box, build_piece


def _sliding(contact: Contact, *ways: tuple[int, int, int]) -> JointFit:
    """A joint that frees its first copy in the stated ways, in the contact's frame."""
    return JointFit(
        joint=0,
        kind="test",
        contact=contact,
        first_features=(),
        second_features=(),
        sizes=(),
        setting_out=(),
        hardware=(),
        free_directions=ways,
        glue_area_mm2=0,
        is_glued=False,
    )


def _drawn_straight(piece: Piece) -> tuple[JointFit, ...]:
    """Every contact a joint that draws apart along its normal alone, as dowels do."""
    return tuple(_sliding(contact, (0, 0, -1)) for contact in piece.loose_contacts)


def _splits(node: Assembly) -> list[tuple[tuple[str, ...], tuple[str, ...], tuple]]:
    if node.moved is None or node.fixed is None:
        return []
    here = (node.moved.copies, node.fixed.copies, node.direction)
    return [here, *_splits(node.moved), *_splits(node.fixed)]


def test_rails_dowelled_between_four_legs_go_in_as_two_frames_close():
    legs = {
        "leg a": box(0, 0, 0, 50, 50, 400),
        "leg b": box(950, 0, 0, 1000, 50, 400),
        "leg c": box(0, 250, 0, 50, 300, 400),
        "leg d": box(950, 250, 0, 1000, 300, 400),
    }
    rails = {
        "long rail a": box(50, 10, 300, 950, 40, 380),
        "long rail b": box(50, 260, 300, 950, 290, 380),
        "short rail a": box(10, 50, 300, 40, 250, 380),
        "short rail b": box(960, 50, 300, 990, 250, 380),
    }
    piece = build_piece(legs | rails)
    tree = plan_assembly(piece, _drawn_straight(piece))
    assert _no_node_is_locked(tree)
    moved, fixed, _ = _splits(tree)[0]
    # Common practice, no source: a frame of two legs and a rail closes onto the rest.
    assert len(moved) == 3 or len(fixed) == 3


def test_a_shelf_that_stands_under_another_comes_off_after_it():
    piece = build_piece(
        {
            "post": box(40, 40, 0, 60, 60, 600),
            "low shelf": box(0, 0, 100, 100, 100, 118),
            "top shelf": box(0, 0, 400, 100, 100, 118 + 300),
        }
    )
    fits = tuple(_sliding(contact, (0, 0, -1)) for contact in piece.loose_contacts)
    tree = plan_assembly(piece, fits)
    assert _splits(tree)[0] == (("C",), ("A", "B"), (0, 0, 1))


def test_a_part_held_on_two_sides_is_locked():
    piece = build_piece(
        {"u": box(0, 0, 0, 10, 10, 10), "v": box(10, 0, 0, 20, 10, 10)},
    )
    (contact,) = piece.loose_contacts
    tree = plan_assembly(piece, (_sliding(contact),))
    assert tree.is_locked


def _no_node_is_locked(node: Assembly) -> bool:
    if node.moved is None or node.fixed is None:
        return True
    return not node.is_locked and _no_node_is_locked(node.moved) and _no_node_is_locked(node.fixed)


def _collides(moved: list[Box], fixed: list[Box], direction: tuple[int, int, int]) -> bool:
    """Brute force: step the moved boxes half a unit at a time and look for shared volume."""
    for step in range(1, 60):
        shift = tuple(d * step / 2 for d in direction)
        for a in moved:
            slid = Box(
                tuple(p + s for p, s in zip(a.low, shift, strict=True)),
                tuple(p + s for p, s in zip(a.high, shift, strict=True)),
            )
            if any(slid.meet(b).is_solid() for b in fixed):
                return True
    return False


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(*[st.integers(0, 5)] * 3, *[st.integers(1, 3)] * 3), min_size=2, max_size=5)
)
def test_loose_boxes_come_apart_where_brute_force_says_so(rows):
    boxes = [box(x, y, z, x + a, y + b, z + c) for x, y, z, a, b, c in rows]
    if any(a.meet(b).is_solid() for a, b in combinations(boxes, 2)):
        return
    piece = build_piece({f"p{i}": solid for i, solid in enumerate(boxes)})
    tree = plan_assembly(piece, ())
    for moved, fixed, direction in _splits(tree):
        if direction == (0, 0, 0):
            continue
        placed = piece.copies
        assert not _collides(
            [placed[m].box for m in moved], [placed[m].box for m in fixed], direction
        )
    if tree.is_locked:
        marks = list(piece.copies)
        subsets = [s for n in range(1, len(marks)) for s in combinations(marks, n)]
        assert all(
            _collides(
                [piece.copies[m].box for m in s],
                [piece.copies[m].box for m in marks if m not in s],
                direction,
            )
            for s in subsets
            for direction in DIRECTIONS
        )
