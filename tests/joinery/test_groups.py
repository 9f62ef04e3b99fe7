"""Groups in the proof of assembly: one body once together; what slides or swings goes last."""

import pytest

from benchleaf.joinery import JOINT_WORDS, cut_joints
from benchleaf.joinery.moving import find_movers
from benchleaf.piece.placing import place_parts
from benchleaf.reading import read_plan
from group_plans import CASE
from small_plans import show_findings


def _cut(text=CASE):
    plan, findings = read_plan(text, "plans/case.plan.yml", JOINT_WORDS)
    assert plan is not None, [str(finding) for finding in findings]
    piece, findings = place_parts(plan)
    assert piece is not None, [str(finding) for finding in findings]
    return cut_joints(piece)


@pytest.fixture(scope="module")
def case():
    joinery, findings = _cut()
    assert show_findings(findings) == []
    return joinery


def _nodes(assembly):
    yield assembly
    if assembly.moved is not None:
        yield from _nodes(assembly.moved)
        yield from _nodes(assembly.fixed)


def test_the_door_comes_off_first_and_then_the_drawers_each_forwards(case):
    # By eye: nothing stands before any of the three.
    node, off = case.assembly, []
    for _ in range(3):
        off.append((set(node.moved.copies), node.direction))
        node = node.fixed
    door, *drawers = off
    assert door == ({"K1", "K2", "L1", "L2"}, (0, -1, 0))
    assert sorted(map(sorted, (own for own, _ in drawers))) == [
        ["G1", "G2", "H1", "I1", "J1"],
        ["G3", "G4", "H2", "I2", "J2"],
    ]
    assert {way for _, way in drawers} == {(0, -1, 0)}


def test_every_copy_of_a_group_is_a_node_and_every_copy_a_leaf(case):
    nodes = list(_nodes(case.assembly))
    assert {group.marks for group in case.piece.groups} <= {node.copies for node in nodes}
    leaves = [node.copies for node in nodes if node.moved is None]
    assert sorted(leaves) == sorted((mark,) for mark in case.piece.copies)
    assert not any(node.is_locked for node in nodes)


def test_a_drawers_bottom_comes_out_at_the_back_under_the_back(case):
    first = case.piece.groups[0]
    node = next(own for own in _nodes(case.assembly) if own.copies == first.marks)
    while node.moved is not None and node.moved.copies != ("J1",):
        node = node.fixed
    # Common practice: it leaves its grooves to the back once the front is glued on.
    assert case.stops.is_free(("J1",), ("G1", "G2", "H1", "I1"), (0, 1, 0))
    assert not case.stops.is_free(("J1",), ("G1", "G2", "H1", "I1"), (0, -1, 0))


def test_what_moves_is_what_slides_or_hangs(case):
    movers = find_movers(case.piece, case.fits)
    assert [(own.title, own.path, own.is_hung) for own in movers] == [
        ("door", "groups.door", True),
        ("drawer 1", "groups.drawer", False),
        ("drawer 2", "groups.drawer", False),
    ]
    assert movers[1].ways == ((0, -1, 0),)


def test_a_strip_glued_before_the_drawers_is_found_and_a_door_is_not():
    strip = (
        "  strip: {stock: strips, left: side.right, right: side.mirrored(left-right).left, "
        "front: 0, bottom: 5-1/2, high: 1/2, thickness: deep}\ngroups:\n"
    )
    # The second drawer begins at 6-1/2, above the strip; the first ends at 5-1/4.
    clear = CASE.replace("groups:\n", strip).replace(
        "joints:\n", "joints:\n  - {butt: [strip, side]}\n"
    )
    assert show_findings(_cut(clear)[1]) == []
    raised = clear.replace("bottom: 5-1/2, high: 1/2", "bottom: 5, high: 1")
    moved_in = raised.replace("    front: 0\n    deep: 15\n", "    front: 3/4\n    deep: 14\n")
    said = show_findings(_cut(moved_in)[1])
    assert said == [
        (
            "warning groups.drawer: drawer 1 does not slide out forwards: strip (G) is in its way "
            "/ Needed: a clear way forwards. Move or shorten what stands in it, or write `out` at "
            "`slides on` where it slides out another way. [J300]"
        )
    ]
