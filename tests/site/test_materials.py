"""The list of tools: what every step takes."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

import handmade_plan as handmade
from benchleaf.pipeline import WorkedPlan, work_plan
from benchleaf.safety.loading import load_rules
from benchleaf.sequencing import OPERATION_KINDS
from benchleaf.sequencing.facts import FACTS
from benchleaf.sequencing.records import Operation, Setting
from benchleaf.sequencing.ways import WAYS
from benchleaf.site.toolbox import BY_FACT, BY_KIND, BY_RULE, BY_SETTING, SHELF_OF
from benchleaf.site.views.sound import SoundPlan, take_sound_plan
from benchleaf.site.views.table import Table
from benchleaf.site.views.tools import list_tools

PLANS = Path(__file__).parents[2] / "plans"
DEMOS = ("hall-bench", "plant-stand", "wall-bookcase")


def sound_of(worked: WorkedPlan) -> SoundPlan:
    sound = take_sound_plan(worked, {})
    assert sound is not None
    return sound


@pytest.fixture(scope="module")
def demos() -> Mapping[str, SoundPlan]:
    made = {}
    for name in DEMOS:
        text = (PLANS / f"{name}.plan.yml").read_text("utf-8")
        made[name] = sound_of(work_plan(text, f"plans/{name}.plan.yml"))
    return made


def words_of(table: Table) -> list[str]:
    return [
        " ".join(f"{cell.text} {cell.note}".strip() for cell in row).strip() for row in table.rows
    ]


def tools_of(sound: SoundPlan) -> dict[str, tuple[str, ...]]:
    """Tool to what else its row says."""
    return {
        texts[0]: tuple(texts[1:])
        for table in list_tools(sound)
        for row in table.rows
        for texts in [[cell.text for cell in row[1:]]]
    }


def test_oil_is_wiped_on_with_rags_and_varnish_is_brushed(
    demos: Mapping[str, SoundPlan],
) -> None:
    # Common practice, no source: hardwax oil goes on and comes off with a cloth.
    assert "Brush" not in tools_of(demos["wall-bookcase"])
    assert "Lidded metal can, for oily rags" in tools_of(demos["wall-bookcase"])
    assert "Brush" in tools_of(demos["plant-stand"])


# The tables behind the list of tools.


def test_every_kind_of_operation_says_what_it_takes() -> None:
    assert set(BY_KIND) == set(OPERATION_KINDS)


def test_the_tables_speak_of_rules_tools_and_facts_that_there_are() -> None:
    assert set(BY_RULE) <= {rule.id for rule in load_rules()}
    needs = [need for row in (*BY_KIND.values(), *BY_FACT.values()) for need in row]
    assert {need.fact for need in needs if need.fact} | set(BY_FACT) <= set(FACTS)
    own = {kind.tool for kind in OPERATION_KINDS.values()}
    own |= {way.tool for ways in WAYS.values() for way in ways}
    named = {need.tool for row in (*BY_KIND.values(), *BY_RULE.values()) for need in row}
    named |= {need.tool for need in BY_SETTING.values()}
    named |= {need.tool for row in BY_FACT.values() for need in row}
    assert set(SHELF_OF) <= own | named


# Words in actions that name a tool, as any reader of a step would take them.
SPOKEN = {
    "bench hook": "Bench hook with a stop",
    "block plane": "Block plane",
    "cauls?": "Cauls",
    "chalk": "Chalk",
    "chisel": "Chisel",
    "countersink": "Countersink",
    "dowel jig": "Dowel jig",
    "featherboards": "Featherboards",
    "keyhole saw": "Keyhole saw",
    "mallet": "Mallet",
    "push block": "Push block",
    "push stick": "Push stick",
    "router": "Router",
    "scrape": "Scraper",
    "sled": "Sled for the table saw",
    "straightedge": "Straightedge",
    "tape": "Masking tape",
    "try square": "Try square",
    "vacuum": "Vacuum cleaner",
    "wet rag": "Wet rag",
}


@pytest.mark.parametrize("name", DEMOS)
def test_every_tool_that_a_step_speaks_of_is_listed_with_that_step(
    demos: Mapping[str, SoundPlan], name: str
) -> None:
    sound = demos[name]
    tools = {tool: numbers_in(texts[-1]) for tool, texts in tools_of(sound).items()}
    missing = []
    for step in sound.sequence.steps:
        for operation in step.operations:
            said = " ".join((*operation.actions, operation.check)).lower()
            said = said.replace("tape measure", "").replace("countersink for", "")
            for word, tool in SPOKEN.items():
                if re.search(rf"\b{word}\b", said) and step.number not in tools.get(tool, ()):
                    missing.append((step.number, word))
    assert missing == []


def numbers_in(text: str) -> set[int]:
    """Numbers of steps as they are written: `3–5, 8`.

    >>> sorted(numbers_in("3–5, 8"))
    [3, 4, 5, 8]
    """
    found: set[int] = set()
    for run in text.split(", "):
        first, _, last = run.partition("–")
        found |= set(range(int(first), int(last or first) + 1))
    return found


def test_every_bit_is_listed_with_its_size(demos: Mapping[str, SoundPlan]) -> None:
    # Pilot holes of 2 and 2.5, clearance holes of 4 and 4.5 for screws No. 6 and No. 8.
    tools = tools_of(demos["wall-bookcase"])
    assert tools["Drill bit"][0] == "2, 2.5, 4 and 4.5"
    assert tools["Straight router bit"][0] == "6 and 18"


def test_straightedge_is_as_long_as_the_longest_cut(demos: Mapping[str, SoundPlan]) -> None:
    # A sheet of 48 x 96 is first cut along its 96.
    assert tools_of(demos["hall-bench"])["Straightedge"][0] == "96 or longer"


# Clamps.


def clamping(count: str, opening: Fraction) -> Operation:
    settings = (
        Setting(name="clamps", value_mm=None, text=count),
        Setting(name="clamp opening", value_mm=opening),
    )
    return replace(handmade.make_sequence().operations[2], settings=settings)


def with_steps(*operations: Operation) -> SoundPlan:
    sound = sound_of(handmade.make_worked())
    steps = tuple(
        replace(sound.sequence.steps[2], number=number, operations=(operation,))
        for number, operation in enumerate(operations, start=1)
    )
    return replace(sound, sequence=replace(sound.sequence, steps=steps))


def test_long_clamps_do_for_short_ones() -> None:
    # 4 that open to 1100 are sold as 1200; 3 to 500 are among them; of 6 to 90, 2 are still to buy.
    sound = with_steps(
        clamping("6 for the largest", Fraction(90)),
        clamping("4", Fraction(1100)),
        clamping("3", Fraction(500)),
    )
    tools = tools_of(sound)
    assert tools["4 clamps"] == ("opening to 1200", "2, 3")
    assert tools["2 clamps"] == ("opening to 150", "1")


def test_long_and_short_clamps_of_one_glue_up_are_all_needed_at_once() -> None:
    # 6 to 548 and 4 to 1027 at once, sold as 600 and 1200: ten in all, though four of the long ones
    # are there for another step.
    both = clamping("6", Fraction(548))
    both = replace(both, settings=(*both.settings, *clamping("4", Fraction(1027)).settings))
    tools = tools_of(with_steps(both, clamping("3", Fraction(900))))
    assert tools["4 clamps"] == ("opening to 1200", "1, 2")
    assert tools["6 clamps"] == ("opening to 600", "1")


def test_clamps_open_at_least_as_far_as_the_step_asks(demos: Mapping[str, SoundPlan]) -> None:
    for sound in demos.values():
        asked = max(
            setting.value_mm
            for operation in sound.sequence.operations
            for setting in operation.settings
            if setting.name == "clamp opening" and setting.value_mm is not None
        )
        openings = [
            texts[0].removeprefix("opening to ")
            for tool, texts in tools_of(sound).items()
            if re.match("[0-9]+ clamp", tool)
        ]
        per_unit = Fraction(254, 10) if sound.show.unit == "in" else 1
        assert max(map(Fraction, openings)) * per_unit >= asked


def test_a_tool_of_no_shelf_is_a_hand_tool() -> None:
    # A kind from elsewhere names a tool that we do not know.
    odd = replace(clamping("1", Fraction(90)), kind="carve", tool="gouge", settings=())
    tables = {table.caption: table for table in list_tools(with_steps(odd))}
    assert "Gouge" in " ".join(words_of(tables["Hand tools"]))
