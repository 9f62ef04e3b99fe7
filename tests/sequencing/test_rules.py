"""The rules of the shop, each on a plan where it matters.

All of them are common practice, no source, unless a comment says otherwise.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from tests.sequencing.worked import TABLE, all_worked, parts_of, work_demo, work_text

from benchleaf.pipeline import WorkedPlan
from benchleaf.sequencing.records import Operation

WORKED = all_worked()
every_plan = pytest.mark.parametrize("worked", WORKED.values(), ids=WORKED)


def operations_of(worked: WorkedPlan) -> tuple[Operation, ...]:
    return parts_of(worked)[2].operations


def places(worked: WorkedPlan, *kinds: str) -> list[int]:
    """Places in the order of operations of some kinds."""
    return [i for i, one in enumerate(operations_of(worked)) if one.kind in kinds]


def done_on(worked: WorkedPlan, mark: str, *kinds: str) -> list[int]:
    """Places of the operations of some kinds on one copy."""
    own = operations_of(worked)
    return [i for i in places(worked, *kinds) if mark in own[i].copies]


# Reference faces first; glue-ups trued after curing.


def test_a_glue_up_gets_a_clean_edge_first_and_its_width_and_length_from_it() -> None:
    worked = work_demo("hall-bench")
    (width,) = done_on(worked, "A1", "true-width")
    (length,) = done_on(worked, "A1", "true-length", "true-length-on-mitre-saw")
    words = operations_of(worked)[width].actions
    glue = next(i for i, said in enumerate(words) if "hard glue off one long edge" in said)
    plane = next(i for i, said in enumerate(words) if "straight, and square to the face" in said)
    marked = next(i for i, said in enumerate(words) if "face edge" in said)
    ripped = next(i for i, said in enumerate(words) if said.startswith("Rip"))
    assert glue < plane < marked < ripped
    assert "face edge against the fence" in words[ripped]
    assert width < length


@pytest.mark.parametrize("name", ["hall-bench", "plant-stand"])
def test_a_glue_up_is_trued_when_its_glue_is_hard(name: str) -> None:
    worked = work_demo(name)
    glue_ups = [one for one in operations_of(worked) if one.kind == "glue-up"]
    assert glue_ups
    # From memory: labels of PVA give 24 hours to full strength.
    assert {one.waiting_hours for one in glue_ups} == {Fraction(24)}
    needed = {one.id for one in glue_ups}
    trued = [one for one in operations_of(worked) if one.kind.startswith("true-width")]
    assert all(needed & set(one.needs) for one in trued)


# Mates are cut at one setting.


def test_both_sides_of_a_tray_are_cut_at_one_setting() -> None:
    worked = work_demo("tool-chest")
    grooved = [one for one in operations_of(worked) if one.kind == "rout-grooves"]
    (own,) = [one for one in grooved if "F1" in one.copies]
    assert {"F1", "F2", "G1", "G2"} <= set(own.copies)


# Joints before round-overs where the round-over would spoil a shoulder.


def test_edges_are_rounded_when_the_joints_of_their_part_are_cut() -> None:
    worked = work_demo("splayed-stool")
    (rounded,) = places(worked, "rout-edges")
    shaped = operations_of(worked)[rounded].copies
    joints = [
        i
        for i, one in enumerate(operations_of(worked))
        if any(mark in shaped for mark, _ in one.features)
    ]
    assert joints
    assert max(joints) < rounded
    assert any("shoulder" in said for said in operations_of(worked)[rounded].actions)


# Mortise before tenon, tenon fitted.


@pytest.mark.parametrize("name", ["take-down-trestle", "sorting table"])
def test_a_tenon_is_fitted_to_its_own_mortise(name: str) -> None:
    worked = WORKED[name]
    joinery, operations = parts_of(worked)[0], operations_of(worked)
    finished = {key: i for i, one in enumerate(operations) for key in one.features}
    fitted = [(i, one) for i, one in enumerate(operations) if one.kind == "fit-tenons"]
    assert fitted
    for place, one in fitted:
        for mark, index in one.features:
            tenon = joinery.copies[mark].features[index]
            mates = [
                finished[tenon.mate, i]
                for i, other in enumerate(joinery.copies[tenon.mate].features)
                if (other.joint, other.mate, other.role) == (tenon.joint, mark, "mortise")
            ]
            assert all(mate < place for mate in mates)


# Dry fit before each glue-up; inside faces before assembly; finish after.


@every_plan
def test_each_glue_up_in_which_something_goes_in_has_a_dry_fit_of_its_own(
    worked: WorkedPlan,
) -> None:
    joinery, operations = parts_of(worked)[0], operations_of(worked)
    tried: set[tuple[str, ...]] = set()
    together = {mark: frozenset([mark]) for mark in joinery.copies}
    for one in operations:
        if one.kind == "dry-fit":
            tried.add(one.copies)
        if not one.joined:
            continue
        closing = [
            fit
            for fit in joinery.fits
            if {fit.contact.first, fit.contact.second} <= set(one.joined)
            and together[fit.contact.first] != together[fit.contact.second]
        ]
        goes_in = [f for f in closing if f.is_glued and f.kind not in {"butt", "pocket screws"}]
        assert one.joined in tried or not goes_in, one.title
        together |= dict.fromkeys(one.joined, frozenset(one.joined))


@every_plan
def test_inside_faces_are_sanded_before_assembly_and_the_outside_after(
    worked: WorkedPlan,
) -> None:
    operations = operations_of(worked)
    joins = [i for i, one in enumerate(operations) if one.joined]
    for mark in parts_of(worked)[0].copies:
        (inside,) = done_on(worked, mark, "sand-inside")
        assert inside < min(i for i in joins if mark in operations[i].joined)
    (outside,) = places(worked, "sand-outside")
    assert max(joins) < outside


@every_plan
def test_each_coat_but_the_first_is_rubbed_down_before(worked: WorkedPlan) -> None:
    coats = [one for one in operations_of(worked) if one.kind == "coat"]
    (outside,) = places(worked, "sand-outside")
    assert all(place > outside for place in places(worked, "coat"))
    rubbed = [any(said.startswith("Rub the dry coat") for said in one.actions) for one in coats]
    assert rubbed[1:] == [True] * len(coats[1:])
    assert not any(rubbed[:1])


# Router depth in passes: routers' manuals, read, 1/8 in (3 mm) a pass.


@pytest.mark.parametrize("name", ["tool-chest", "wall-bookcase", "keepsake-box"])
def test_grooves_and_housings_are_routed_in_passes_of_an_eighth(name: str) -> None:
    worked = work_demo(name)
    routed = [one for one in operations_of(worked) if one.tool == "router" and one.features]
    assert routed
    for one in routed:
        said = " ".join(one.actions)
        assert "1/8 in a pass" in said or "3 mm a pass" in said or " passes" in said, one.title


# Waits have their basis: the label's hours.


@every_plan
def test_a_wait_says_that_the_label_goes_first(worked: WorkedPlan) -> None:
    for one in operations_of(worked):
        is_told = any("label" in said for said in one.actions)
        is_twin = one.actions[0].startswith("Do the same")
        assert is_told or is_twin or not one.waiting_hours, one.title


# Clamps: hooked two together where none is as long.


def test_no_bar_clamp_is_as_long_as_a_long_table() -> None:
    long = TABLE.replace("wide: 800", "wide: 1500").replace("right: 800", "right: 1500")
    # Common practice, no source: bar clamps are sold up to 50 in long.
    for text, is_linked in ((TABLE, False), (long, True)):
        glued = [one for one in operations_of(work_text(text)) if one.kind == "assemble"]
        said = " ".join(words for one in glued for words in one.actions)
        assert ("hook two together" in said) == is_linked


# What is laid beside comes to its place.


def test_what_is_laid_beside_is_pushed_on_in_the_end() -> None:
    (bolted,) = [
        one
        for one in operations_of(work_demo("take-down-trestle"))
        if one.kind == "bolt-together" and "E" not in one.copies
    ]
    beside = bolted.actions.index("Lay the assembly of A2, B2 and C2 beside it.")
    pushed = bolted.actions.index("Push the assembly of A2, B2 and C2 on to D.")
    assert beside < bolted.actions.index("Push on D.") < pushed


def test_a_seat_is_screwed_on_upside_down_and_so_it_says_and_so_it_is_drawn() -> None:
    turned = [one for one in operations_of(work_demo("hall-bench")) if one.is_turned]
    assert "Screw the seat to the seat cleats" in [one.title for one in turned]
