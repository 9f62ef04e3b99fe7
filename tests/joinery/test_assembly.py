"""How pieces come apart: hand-made free, nested and locked cases, and brute force on small ones."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from benchleaf.frames import Vector
from benchleaf.joinery.assembly import plan_assembly as prove
from benchleaf.joinery.blocking import AXIS_WAYS
from benchleaf.joinery.closing_together import MOST_COPIES
from benchleaf.joinery.locks import Lock
from benchleaf.joinery.records import Assembly, Hardware, JointFit
from benchleaf.piece.solids import solid_of_cylinder
from small_plans import work_small_plan
from solids_by_hand import (
    all_of,
    block,
    joint,
    nodes,
    prism,
    replay_apart,
    runs_into,
    unit,
)


def plan_assembly(
    solids: Mapping[str, Manifold], fits: Sequence[JointFit]
) -> tuple[Assembly, tuple[Lock, ...]]:
    proof = prove(solids, fits)
    return proof.tree, proof.locks


X: Vector = (1, 0, 0)
Y: Vector = (0, 1, 0)
UP: Vector = (0, 0, 1)
SCREW = Hardware(kind="wood screw", size="8 x 30", diameter_mm=4, length_mm=30, count=2)


def back(way: Vector) -> Vector:
    return (-way[0], -way[1], -way[2])


def splits(tree: Assembly) -> list[tuple[tuple[str, ...], tuple[str, ...], Vector]]:
    return [(node.moved.copies, node.fixed.copies, node.direction) for node in nodes(tree)]


def is_free(tree: Assembly) -> bool:
    return not any(node.is_locked for node in nodes(tree))


def table() -> dict[str, Manifold]:
    """Four legs and four rails between them."""
    return {
        "A1": block(0, 0, 0, 50, 50, 400),
        "A2": block(950, 0, 0, 1000, 50, 400),
        "A3": block(0, 250, 0, 50, 300, 400),
        "A4": block(950, 250, 0, 1000, 300, 400),
        "B1": block(50, 10, 300, 950, 40, 380),
        "B2": block(50, 260, 300, 950, 290, 380),
        "C1": block(10, 50, 300, 40, 250, 380),
        "C2": block(960, 50, 300, 990, 250, 380),
    }


def test_rails_dowelled_between_four_legs_go_in_as_two_frames_close():
    fits = [
        *(joint(rail, leg, X, pegs=2) for rail, leg in (("B1", "A1"), ("B2", "A3"))),
        *(joint(rail, leg, back(X), pegs=2) for rail, leg in (("B1", "A2"), ("B2", "A4"))),
        *(joint(rail, leg, Y, pegs=2) for rail, leg in (("C1", "A1"), ("C2", "A2"))),
        *(joint(rail, leg, back(Y), pegs=2) for rail, leg in (("C1", "A3"), ("C2", "A4"))),
    ]
    tree, locks = plan_assembly(table(), fits)
    assert (is_free(tree), locks) == (True, ())
    moved, fixed, _ = splits(tree)[0]
    # Common practice, no source: a frame of two legs and a rail closes onto the rest.
    assert len(moved) == 3 or len(fixed) == 3


def test_a_rail_that_is_tenoned_into_two_posts_goes_in_as_the_second_comes_on():
    tongue = block(-20, 20, 320, 0, 30, 360) + block(900, 20, 320, 920, 30, 360)
    rail = block(0, 10, 300, 900, 40, 380) + tongue
    solids = {
        "A1": block(-50, 0, 0, 0, 50, 400) - rail,
        "A2": block(900, 0, 0, 950, 50, 400) - rail,
        "B": rail,
    }
    tree, _ = plan_assembly(solids, ())
    (first, second) = splits(tree)
    assert first[2] in (X, back(X))
    assert len(first[0]) == 1
    assert {*second[0], *second[1]} & {"A1", "A2"}
    assert replay_apart(tree, solids, far=1000, step=7) == []


def test_a_shelf_that_stands_under_another_comes_off_after_it():
    solids = {
        "A": block(40, 40, 0, 60, 60, 600),
        "B": block(0, 0, 100, 100, 100, 118) - block(40, 40, 0, 60, 60, 600),
        "C": block(0, 0, 400, 100, 100, 418) - block(40, 40, 0, 60, 60, 600),
    }
    tree, _ = plan_assembly(solids, [joint("B", "A", UP), joint("C", "A", UP)])
    assert splits(tree)[0] == (("C",), ("A", "B"), UP)


def test_wood_decides_where_a_joint_says_too_much():
    """A shelf in a housing that is stopped at both ends does not slide along it."""
    shelf = block(-6, 20, 100, 300, 180, 118)
    solids = {"A": block(-18, 0, 0, 0, 200, 400) - shelf, "B": shelf}
    tree, _ = plan_assembly(solids, [joint("B", "A", Y, back(Y), X)])
    assert splits(tree) == [(("A",), ("B",), back(X))]


def test_a_joint_decides_where_wood_would_let_go():
    """Boards that only touch, with dowels between them, part along the dowels alone."""
    solids = {"A": block(0, 0, 0, 50, 20, 400), "B": block(50, 0, 0, 100, 20, 400)}
    tree, _ = plan_assembly(solids, [joint("A", "B", back(X), pegs=3)])
    assert splits(tree) == [(("A",), ("B",), back(X))]


def test_a_part_that_no_joint_lets_go_is_locked():
    solids = {"A": block(0, 0, 0, 10, 10, 10), "B": block(10, 0, 0, 20, 10, 10)}
    tree, (lock,) = plan_assembly(solids, [joint("A", "B")])
    assert tree.is_locked
    assert lock.copies == ("A", "B")
    assert [holder.mark for holder in lock.holders] == ["B" if lock.nearest == "A" else "A"]


# Directions off the axes.


def test_a_tenon_at_an_angle_comes_out_along_itself():
    way = unit(1, 0, 2)
    pin = Manifold.cube((20, 20, 60), True).rotate((0, 26.56505117707799, 0))
    leg = block(-60, -30, -40, 60, 30, 0) - pin
    tree, _ = plan_assembly({"A": leg, "B": pin}, [joint("B", "A", way)])
    ((moved, _, out),) = splits(tree)
    assert moved in (("A",), ("B",))
    assert abs(sum(a * b for a, b in zip(out, way, strict=True))) == pytest.approx(1)


def test_a_tail_in_a_slanted_groove_slides_along_it():
    """By its wood alone, a sliding dovetail leaves in two ways only, here at 30 degrees."""
    tail = prism([(-8, 0), (8, 0), (12, 10), (-12, 10)], -200, 200).rotate((90, 0, 30))
    board = (block(-60, -60, -30, 60, 60, 0) + tail) ^ block(-60, -60, -30, 60, 60, 10)
    over = block(-60, -60, 0, 60, 60, 20) - board
    along = unit(0.5, -(3**0.5) / 2, 0)
    tree, _ = plan_assembly({"A": over, "B": board}, [joint("A", "B", along, back(along))])
    ((_, _, out),) = splits(tree)
    assert abs(out[0] * along[0] + out[1] * along[1]) == pytest.approx(1)
    assert plan_assembly({"A": over, "B": board}, ())[0].is_locked


# Two slides.


def on_pins() -> dict[str, Manifold]:
    """A shelf notched over pins on two sides, with a lip above its front edge."""
    pins = block(0, 30, 90, 10, 40, 105) + block(190, 30, 90, 200, 40, 105)
    case = block(-18, 0, 0, 0, 200, 200) + block(200, 0, 0, 218, 200, 200)
    case += block(-18, 200, 0, 218, 218, 200) + block(-18, 0, 182, 218, 218, 200)
    shelf = block(0, 10, 100, 200, 200, 118) - pins
    return {"A": case + pins, "B": shelf}


def test_a_shelf_on_pins_is_lifted_and_then_drawn_out():
    solids = on_pins()
    tree, locks = plan_assembly(solids, ())
    (node,) = nodes(tree)
    assert locks == ()
    assert [node.moved.copies, node.direction] == [("B",), (0, -1, 0)] or node.direction == Y
    # Notches of 5 mm; 64 mm to the top of the case.
    assert 5 <= abs(node.shift_mm[2]) <= 64
    assert replay_apart(tree, solids, far=300, step=1) == []


def test_the_first_slide_stops_where_the_way_out_is_open():
    """Lifted right up, the shelf would catch behind a lip that hangs from the top."""
    solids = on_pins()
    solids["A"] += block(-18, 0, 130, 218, 9, 200)
    tree, locks = plan_assembly(solids, ())
    (node,) = nodes(tree)
    assert locks == ()
    assert 5 <= abs(node.shift_mm[2]) <= 12
    assert replay_apart(tree, solids, far=300, step=1) == []


def test_a_dowel_is_not_slid_across():
    """As the shelf on pins, but dowelled down: the first slide must be along the dowels."""
    tree, _ = plan_assembly(on_pins(), [joint("B", "A", (0, -1, 0), pegs=2)])
    assert tree.is_locked


# Several at once.


def mitred_frame(corners: int, *, tongues: bool) -> dict[str, Manifold]:
    """The sides of a regular frame, mitred, each with a tongue into the next square to the mitre.

    The first side lies below; their outer faces are 200 mm from the middle.
    """
    turn = 360 / corners
    half = math.tan(math.radians(turn / 2))
    outer, inner = 200 * half, 150 * half
    side = prism([(-outer, -200), (outer, -200), (inner, -150), (-inner, -150)], 0, 20)
    tongue = Manifold.cube((24, 30, 8), True).rotate((0, 0, turn / 2))
    tongue = tongue.translate((175 * half, -175, 10))
    sides = [side.rotate((0, 0, turn * number)) for number in range(corners)]
    for number in range(corners if tongues else 0):
        turned, following = tongue.rotate((0, 0, turn * number)), (number + 1) % corners
        sides[number] += turned ^ sides[following]
        sides[following] -= turned
    return {f"A{number + 1}": own for number, own in enumerate(sides)}


def mitre_joints(corners: int, *, pegs: int) -> list[JointFit]:
    """Each side comes off the next square to the mitre."""
    turn = math.radians(360 / corners)
    angles = [turn * (number + 0.5) for number in range(corners)]
    return [
        joint(
            f"A{number + 1}",
            f"A{(number + 1) % corners + 1}",
            (-math.cos(angle), -math.sin(angle), 0.0),
            pegs=pegs,
        )
        for number, angle in enumerate(angles)
    ]


def test_a_mitred_frame_of_four_with_tongues_closes_as_two_halves():
    solids = mitred_frame(4, tongues=True)
    tree, locks = plan_assembly(solids, mitre_joints(4, pegs=0))
    assert (is_free(tree), locks) == (True, ())
    halves = nodes(tree)
    first = next(halves)
    assert len(first.moved.copies) == len(first.fixed.copies) == 2
    assert replay_apart(tree, solids, far=600, step=2) == []


def test_halves_are_found_though_no_joint_names_their_way():
    solids = mitred_frame(4, tongues=True)
    tree, locks = plan_assembly(solids, ())
    assert (is_free(tree), locks) == (True, ())
    assert replay_apart(tree, solids, far=600, step=2) == []


@pytest.mark.parametrize("corners", [3, 5])
@pytest.mark.parametrize("tongues", [True, False])
def test_a_mitred_frame_of_odd_sides_closes_all_at_once(corners: int, tongues: bool):
    """No two of its corners face the same way, so that no half of it slides onto the other."""
    solids = mitred_frame(corners, tongues=tongues)
    tree, locks = plan_assembly(solids, mitre_joints(corners, pegs=0 if tongues else 2))
    assert (is_free(tree), locks) == (True, ())
    assert next(nodes(tree)).is_with_fixed
    if tongues:
        assert replay_apart(tree, solids, far=600, step=2) == []
    else:
        # Without dowels each side comes off by itself.
        loose, _ = plan_assembly(solids, ())
        assert not any(node.is_with_fixed for node in nodes(loose))


def test_a_panel_with_tongues_all_round_is_closed_in_by_its_frame():
    frame = mitred_frame(3, tongues=True)
    panel = prism([(0, 317), (-274, -158), (274, -158)], 6, 14)
    solids = {mark: side - panel for mark, side in frame.items()} | {"B": panel}
    tree, locks = plan_assembly(solids, mitre_joints(3, pegs=0))
    assert (is_free(tree), locks) == (True, ())
    assert sum(node.is_with_fixed for node in nodes(tree)) >= 1
    assert replay_apart(tree, solids, far=600, step=2) == []


def _turned(start: tuple[float, ...], end: tuple[float, ...], diameter: float) -> Manifold:
    """A rod from one point to another."""
    length = math.dist(start, end)
    way = tuple((b - a) / length for a, b in zip(start, end, strict=True))
    return solid_of_cylinder(start, way, depth_mm=length, diameters_mm=(diameter, diameter))


def splayed_stool() -> tuple[dict[str, Manifold], list[JointFit]]:
    """A seat on four legs that splay both ways, with a stretcher between front and back legs."""
    seat = block(-200, -150, 400, 200, 150, 440)
    signs = {"B1": (-1, -1), "B2": (1, -1), "B3": (-1, 1), "B4": (1, 1)}
    # Splayed by 0.2 to the side and 0.15 to front and back, as rake and splay are given.
    spots = {m: (x * 100, y * 80, 445.0) for m, (x, y) in signs.items()}
    feet = {m: (x * 189, y * 146.75, 0.0) for m, (x, y) in signs.items()}
    legs = {mark: _turned(spots[mark], feet[mark], 30) for mark in signs}
    rails = {}
    for mark, x in (("C1", -1), ("C2", 1)):
        at = x * (100 + 0.2 * 295), 80 + 0.15 * 295
        rails[mark] = _turned((at[0], -at[1] + 12, 150), (at[0], at[1] - 12, 150), 20)
        rails[mark] += _turned((at[0], -at[1] - 5, 150), (at[0], at[1] + 5, 150), 12)
    fits = [joint(mark, "A", unit(x * 0.2, y * 0.15, -1)) for mark, (x, y) in signs.items()]
    for rail, front, rear in (("C1", "B1", "B3"), ("C2", "B2", "B4")):
        fits += [joint(rail, front, Y), joint(rail, rear, back(Y))]
    solids = {"A": seat - all_of(legs.values())}
    solids |= {mark: leg - all_of(rails.values()) for mark, leg in legs.items()}
    return solids | rails, fits


def test_splayed_legs_go_on_together_with_the_stretchers_between_them():
    """Each leg goes into the seat along itself, while it draws nearer to the next on their rail."""
    solids, fits = splayed_stool()
    tree, locks = plan_assembly(solids, fits)
    assert (is_free(tree), locks) == (True, ())
    assert replay_apart(tree, solids, far=600, step=5) == []
    pairs = [node for node in nodes(tree) if node.is_with_fixed]
    assert pairs
    assert plan_assembly({m: s for m, s in solids.items() if m[0] != "C"}, fits[:4])[1] == ()


def test_a_panel_in_dowelled_mitres_is_closed_in_from_all_sides():
    joinery, said = work_small_plan(
        {
            "units": "mm",
            "parts": {
                "rail": {
                    "box": "0 0 0 to 400 20 60", "thickness": "deep", "mirror": ["bottom-top"]
                },
                "stile": {
                    "box": "0 0 0 to 60 20 300", "thickness": "deep", "mirror": ["left-right"]
                },
                "panel": {"box": "60 7 60 to 340 13 240", "thickness": "deep"},
            },
            "overall": {"wide": "400", "deep": "20", "high": "300"},
            "joints": [
                {"dowelled mitre": ["rail", "stile"]},
                {"groove": ["panel", "rail"], "glue": "no"},
                {"groove": ["panel", "stile"], "glue": "no"},
            ],
        }
    )  # fmt: skip
    assert said == ()
    moves = {node.moved.copies: node.direction for node in nodes(joinery.assembly)}
    assert moves == {
        ("A1",): (0, 0, -1),
        ("A2",): (0, 0, 1),
        ("B1",): (-1, 0, 0),
        ("B2",): (1, 0, 0),
    }
    assert [node.is_with_fixed for node in nodes(joinery.assembly)] == [True, True, True, False]


# Boxes, frames and puzzles.


def dovetailed(clockwise: bool) -> dict[str, Manifold]:
    """Four boards as a ring, one dovetail a corner: front and back between the ends, or each
    board's tail in the next one."""
    boards = {
        "A1": block(0, 0, 0, 300, 18, 100),
        "A2": block(282, 0, 0, 300, 200, 100),
        "B1": block(0, 182, 0, 300, 200, 100),
        "B2": block(0, 0, 0, 18, 200, 100),
    }
    corners = {
        ("A1", "A2"): (282, 0),
        ("A2", "B1"): (282, 182),
        ("B1", "B2"): (0, 182),
        ("B2", "A1"): (0, 0),
    }
    for (one, other), (x, y) in corners.items():
        corner = block(x, y, 0, x + 18, y + 18, 100)
        tailed, pinned = (one, other) if clockwise or one in ("A2", "B2") else (other, one)
        # A tail runs through the thickness of the pinned board: it is wider at its end.
        lies_along_x = tailed in ("A1", "B1")
        at_end = (x > 0) if lies_along_x else (y > 0)
        if at_end:
            tail = prism([(0, 36), (18, 30), (18, 70), (0, 64)], 0, 18)
        else:
            tail = prism([(0, 30), (18, 36), (18, 64), (0, 70)], 0, 18)
        # The prism's u runs along the tailed board, its w upwards, its height across.
        if lies_along_x:
            tail = tail.rotate((90, 0, 0)).translate((x, y + 18, 0))
        else:
            tail = tail.rotate((90, 0, 90)).translate((x, y, 0))
        boards[pinned] -= corner
        boards[pinned] += corner - tail
        boards[tailed] -= corner
        boards[tailed] += corner ^ tail
    return boards


def test_a_drawer_box_goes_together_by_its_tails():
    solids = dovetailed(clockwise=False)
    bottom = block(12, 12, 10, 288, 188, 16)
    solids = {mark: board - bottom for mark, board in solids.items()} | {"C": bottom}
    tree, locks = plan_assembly(solids, ())
    assert (is_free(tree), locks) == (True, ())
    # Common practice, no source: tailed sides go on last, across the fronts' faces.
    assert splits(tree)[0][0] in (("A2",), ("B2",))
    assert replay_apart(tree, solids, far=400, step=2) == []


def test_a_ring_with_each_tail_in_the_next_board_closes_as_two_corners():
    solids = dovetailed(clockwise=True)
    tree, locks = plan_assembly(solids, ())
    assert (is_free(tree), locks) == (True, ())
    assert len(splits(tree)[0][0]) == 2
    assert replay_apart(tree, solids, far=400, step=2) == []


def test_a_panel_goes_into_its_frame_before_the_last_stile():
    panel = block(60, 6, 60, 340, 12, 240)
    rails = {
        "B1": block(50, 0, 20, 350, 18, 70),
        "B2": block(50, 0, 230, 350, 18, 280),
    }
    tongues = {mark: block(35, 6, z + 10, 365, 12, z + 40) for mark, z in (("B1", 20), ("B2", 230))}
    rails = {mark: rail + tongues[mark] - panel for mark, rail in rails.items()}
    taken = panel + all_of(rails.values())
    stiles = {
        "A1": block(0, 0, 0, 50, 18, 300) - block(42, 6, 55, 50, 12, 245) - taken,
        "A2": block(350, 0, 0, 400, 18, 300) - block(350, 6, 55, 358, 12, 245) - taken,
    }
    wide = block(42, 6, 60, 358, 12, 240) - all_of(rails.values())
    stiles = {mark: stile - wide for mark, stile in stiles.items()}
    solids = {**stiles, **rails, "C": wide}
    tree, locks = plan_assembly(solids, ())
    assert (is_free(tree), locks) == (True, ())
    assert splits(tree)[0][0] in (("A1",), ("A2",))
    assert replay_apart(tree, solids, far=500, step=3) == []


def test_a_cube_in_two_halves_with_pins_two_ways_has_no_order():
    pins = block(4, 4, 5, 6, 6, 8) + block(6, 3, 2, 9, 5, 4)
    lower = block(0, 0, 0, 6, 10, 5) + pins
    solids = {"A": lower, "B": block(0, 0, 0, 10, 10, 10) - lower}
    tree, (lock,) = plan_assembly(solids, ())
    assert tree.is_locked
    assert lock.holders[0].fits == ()


def test_a_cube_in_three_held_three_ways_has_no_order():
    """Any two parts could leave one another, each pair another way: up, backwards, sideways."""
    up = block(4, 2, 6, 8, 4, 9)
    across = block(4, 6, 8, 8, 10, 10)
    tail = prism([(8, 6), (10, 6), (11, 4), (7, 4)], 0, 12).rotate((90, 0, 90))
    lower = block(0, 0, 0, 12, 12, 6) + up - tail
    front = block(0, 0, 6, 12, 6, 12) + across - up
    rear = block(0, 6, 6, 12, 12, 12) + tail - across
    solids = {"A": lower, "B": front, "C": rear}
    pairs = [("A", "B"), ("A", "C"), ("B", "C")]
    assert all((solids[a] ^ solids[b]).volume() < 1e-6 for a, b in pairs)
    for pair in pairs:
        assert is_free(plan_assembly({mark: solids[mark] for mark in pair}, ())[0])
    tree, locks = plan_assembly(solids, ())
    assert tree.is_locked
    assert locks[0].copies == ("A", "B", "C")


def test_links_of_a_chain_are_locked():
    link = block(0, 0, 0, 30, 6, 20) - block(6, 0, 6, 24, 6, 14)
    other = block(15, -12, 7, 21, 18, 13) + block(15, -12, -3, 21, -6, 7)
    other += block(15, 12, -3, 21, 18, 7) + block(15, -12, -9, 21, 18, -3)
    assert (link ^ other).volume() == 0
    tree, locks = plan_assembly({"A": link, "B": other}, ())
    assert tree.is_locked
    assert len(locks) == 1


# Brute force.


def _disjoint(rows: list[tuple[int, ...]], cuts: list[tuple[int, ...]]) -> dict[str, Manifold]:
    """Blocks with notches, each less what is there already; what nothing is left of drops out."""
    there = Manifold()
    solids: dict[str, Manifold] = {}
    for number, (x, y, z, a, b, c) in enumerate(rows):
        solid = block(x, y, z, x + a, y + b, z + c) - there
        for p, q, r, d, e, f in cuts[number : number + 1]:
            solid -= block(p, q, r, p + d, q + e, r + f)
        # What falls into pieces is no part.
        if not solid.is_empty() and len(solid.decompose()) == 1:
            solids[f"P{number}"] = solid
            there += solid
    return solids


corner = st.integers(0, 5)
rows = st.lists(st.tuples(*[corner] * 3, *[st.integers(2, 4)] * 3), min_size=2, max_size=4)
notches = st.lists(st.tuples(*[corner] * 3, *[st.integers(1, 3)] * 3), max_size=4)


@settings(max_examples=60, deadline=None)
@given(rows, notches)
def test_notched_blocks_come_apart_where_brute_force_says_so(sizes, cuts):
    solids = _disjoint(sizes, cuts)
    if len(solids) < 2:
        return
    tree, _ = plan_assembly(solids, ())
    assert replay_apart(tree, solids, far=16) == []
    for node in nodes(tree):
        if node.is_locked or any(node.shift_mm) or node.is_with_fixed:
            assert not _slides_apart(node.copies, solids)


def _slides_apart(marks: tuple[str, ...], solids: dict[str, Manifold]) -> bool:
    """Brute force: whether any set of them leaves the others along an axis."""
    sets = [own for n in range(1, len(marks)) for own in combinations(marks, n)]
    return any(
        runs_into(
            all_of(solids[m] for m in own),
            all_of(solids[m] for m in marks if m not in own),
            way,
            far=16,
        )
        is None
        for own in sets
        for way in AXIS_WAYS
    )


# What is said.


def test_a_finding_names_who_locks_whom_and_what_would_free_them():
    _, said = work_small_plan(
        {
            "units": "mm",
            "parts": {
                "post": {"box": "0 0 0 to 100 100 200", "thickness": "wide"},
                "foot": {"box": "100 0 0 to 200 200 100", "thickness": "wide"},
                "arm": {"box": "0 100 100 to 200 200 200", "thickness": "deep"},
            },
            "joints": [
                {"dowels": ["foot", "post"]},
                {"dowels": ["arm", "post"]},
                {"dowels": ["arm", "foot"]},
            ],
        }
    )
    (finding,) = [own for own in said if own.code == "J190"]
    assert finding.message == (
        "A, B and C lock one another: no straight slide takes them apart, nor two in turn, nor "
        "several parts moved at once; what is held least is C, which would come off upwards but "
        "for A (dowels, joints[1])"
    )
    assert finding.remedy == (
        "Needed: a way for C upwards. Make joints[1] one that slides that way, or make C in two "
        "parts."
    )


def test_hardware_that_is_driven_later_holds_nothing_while_parts_move():
    screwed = replace(joint("B", "A", UP, pegs=1), hardware=(SCREW,))
    tree, _ = plan_assembly(on_pins(), [screwed])
    assert next(nodes(tree)).shift_mm != (0, 0, 0)


def test_what_was_too_much_to_look_at_is_not_claimed():
    few, many = (
        [joint(f"P{n}", f"P{n + 1}") for n in range(count - 1)] for count in (3, MOST_COPIES + 2)
    )
    for fits, is_searched in ((few, True), (many, False)):
        solids = {f"P{n}": block(n, 0, 0, n + 1, 1, 1) for n in range(len(fits) + 1)}
        _, locks = plan_assembly(solids, fits)
        assert locks[0].is_searched is is_searched
