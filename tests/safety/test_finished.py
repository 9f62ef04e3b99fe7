"""What the finished piece itself brings: pieces that call for each call-out, and some beside."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest
from tests.sequencing.worked import work_demo

from benchleaf.joinery.records import Joinery
from benchleaf.reading.plan import Plan, Stands
from benchleaf.safety.finished import piece_facts
from benchleaf.safety.warning import THE_PIECE, warn
from benchleaf.sequencing.records import Sequence
from small_plans import work_small_plan

NO_WORK = Sequence(operations=(), steps=(), findings=())


def chest(deep_mm: int = 380, *, lid: str = "lid", of: str = "pine") -> Joinery:
    parts: dict[str, object] = {
        "back": {"box": f"0 {deep_mm - 18} 0 to 600 {deep_mm} 400", "grain": "wide", "of": of},
        lid: {"box": f"0 0 400 to 600 {deep_mm} 418", "grain": "wide", "of": of},
    }
    given = {"units": "mm", "parts": parts, "joints": [{"hinges": [lid, "back"], "pins": "back"}]}
    joinery, _ = work_small_plan(given)
    return joinery


def said(joinery: Joinery, **changes: object) -> set[str]:
    """The rules that a piece calls for, its plan changed."""
    plan: Plan = replace(joinery.piece.plan, **changes)  # type: ignore[arg-type]
    changed = replace(joinery, piece=replace(joinery.piece, plan=plan))
    cards = warn(NO_WORK, changed).cards
    return {call_out.rule for call_out in cards.get(THE_PIECE, ())}


CHILDREN = {"title": "Nursery chest"}
FOOD = {"summary": "A board for bread and fruit."}
CASES: Mapping[str, tuple[Mapping[str, object], bool]] = {
    "DS-06": (CHILDREN, True),
    "DS-11": (FOOD, True),
    "DS-12": ({"title": "Bunk bed for guests"}, False),  # only 418 high: 16 CFR 1213 starts at 760
    "DS-13": ({"title": "Rocking cradle"}, True),
    "DS-15": ({"stands": Stands.ANCHORED}, True),
    "DS-02": ({"stands": Stands.HUNG}, True),
}


@pytest.mark.parametrize(("rule", "case"), CASES.items())
def test_what_the_author_says_of_a_piece_calls_for_its_rule(
    rule: str, case: tuple[Mapping[str, object], bool]
) -> None:
    changes, fires = case
    plain = chest()
    assert rule not in said(plain, title="Chest", summary="", notes=())
    assert (rule in said(plain, **changes)) is fires


def test_a_bunk_above_30_inches_is_named_as_regulated() -> None:
    # 16 CFR 1213: bunk beds whose foundation is over 30 in (760 mm) up; the bookcase is 1040 high.
    tall = work_demo("wall-bookcase").joinery
    assert tall is not None
    assert "DS-12" in said(tall, title="Loft bed")
    assert "DS-12" not in said(tall, title="Bookcase")


def test_words_inside_other_words_do_not_count() -> None:
    quiet = {"title": "Kidney table", "summary": "Cotton lined, for scot's breadth.", "notes": ()}
    assert said(chest(), **quiet) <= {"DS-07", "DS-03"}


def test_a_hinged_lid_is_warned_of_from_31_litres_up() -> None:
    # ASTM F834 and F2598: chests of 1.1 cubic feet (0.031 m3) and more. 600 x 418 x 124 is 31.1.
    assert piece_facts(chest(124))["piece.litres"] == pytest.approx(31.1, abs=0.05)
    assert "DS-07" in said(chest(124))
    assert "DS-07" not in said(chest(123))
    assert "DS-07" not in said(chest(lid="door"))


def test_treated_wood_is_warned_of_and_kept_from_food() -> None:
    treated = chest(of="pressure-treated pine")
    assert "DS-09" in said(treated)
    assert "DS-08" not in said(treated, title="Chest")
    assert "DS-08" in said(treated, title="Bread bin")
    assert "DS-08" not in said(chest(), title="Bread bin")


def test_glass_is_warned_of() -> None:
    assert "DS-10" in said(chest(of="glass"))
    assert "DS-10" not in said(chest())


def test_drawers_are_known_by_the_name_of_a_part() -> None:
    tall = work_demo("wall-bookcase").joinery
    assert tall is not None
    parts = dict(tall.piece.parts)
    name, part = next(iter(parts.items()))
    with_drawer = replace(tall, piece=replace(tall.piece, parts={**parts, "drawer front": part}))
    assert name in parts
    assert "DS-04" in said(with_drawer, stands=Stands.FLOOR)
    assert "DS-04" not in said(tall, stands=Stands.FLOOR)


def test_clothing_storage_of_the_regulated_size_is_named_so() -> None:
    # 16 CFR 1261: from 27 in (686 mm) and 30 lb (13.6 kg). The bookcase is 1040 high, some 30 kg.
    tall = work_demo("wall-bookcase").joinery
    assert tall is not None
    heard = said(tall, title="Dresser", stands=Stands.FLOOR)
    assert "DS-05" in heard
    assert not heard & {"DS-01", "DS-04"}  # said once, by the rule that knows most
    assert "DS-05" not in said(chest(), title="Dresser")
