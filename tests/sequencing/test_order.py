"""The order of work, over whole plans: everything once, nothing too early, words short."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from tests.sequencing.worked import all_worked, parts_of, room_of

from benchleaf.cutting.records import CutNode
from benchleaf.cutting.trees import name_cuts
from benchleaf.joinery.records import Feature
from benchleaf.pipeline import WorkedPlan
from benchleaf.sequencing import OPERATION_KINDS, order_work
from benchleaf.sequencing.facts import FACTS, FactKind
from benchleaf.sequencing.jointwork import measure_tenon
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.wording import MOST_WORDS, count_words, order_of_mark

WORKED = all_worked()
every_plan = pytest.mark.parametrize("worked", WORKED.values(), ids=WORKED)


def operations_of(worked: WorkedPlan) -> tuple[Operation, ...]:
    return parts_of(worked)[2].operations


@every_plan
def test_replay_finds_nothing_impossible(worked: WorkedPlan) -> None:
    assert parts_of(worked)[2].findings == ()


@every_plan
def test_every_operation_comes_after_all_that_it_needs(worked: WorkedPlan) -> None:
    done: set[str] = set()
    for operation in operations_of(worked):
        assert set(operation.needs) <= done
        done.add(operation.id)


@every_plan
def test_ids_are_unique_and_safe_in_an_address(worked: WorkedPlan) -> None:
    ids = [operation.id for operation in operations_of(worked)]
    assert len(set(ids)) == len(ids)
    assert all(re.fullmatch(r"[a-z0-9-]+", own) for own in ids)


def needs_work(worked: WorkedPlan, mark: str, feature: Feature) -> bool:
    """Added wood without a shoulder comes with the blank's length; everything else is cut."""
    if not feature.adds or feature.role == "round tenon":
        return True
    work = next(
        piece for piece in room_of(worked).work if piece.mark == mark and piece.feature is feature
    )
    tenon = measure_tenon(work)
    return tenon is not None and bool(tenon.shoulders)


@every_plan
def test_every_feature_of_every_copy_is_finished_by_exactly_one_operation(
    worked: WorkedPlan,
) -> None:
    joinery = parts_of(worked)[0]
    wanted = Counter(
        (mark, index)
        for mark, copy in joinery.copies.items()
        for index, feature in enumerate(copy.features)
        if needs_work(worked, mark, feature)
    )
    made = Counter(key for operation in operations_of(worked) for key in operation.features)
    assert made == wanted


def cut_nodes(node: CutNode | None) -> list[CutNode]:
    if node is None:
        return []
    own = [node] if node.direction is not None else []
    return own + cut_nodes(node.first) + cut_nodes(node.second)


@every_plan
def test_every_cut_of_every_sheet_is_made_exactly_once(worked: WorkedPlan) -> None:
    _, cut_plan, _ = parts_of(worked)
    wanted = Counter(
        (sheet.stock, sheet.number, node.number)
        for sheet in cut_plan.sheets
        for node in cut_nodes(sheet.tree)
    )
    sheets = {stock.name for stock in cut_plan.stock if stock.kind == "sheet"}
    made = Counter(
        (cut.stock, cut.sheet, cut.cut)
        for operation in operations_of(worked)
        for cut in operation.cuts
        if cut.stock in sheets
    )
    assert made == wanted


def numbers_said(action: str) -> list[int]:
    """Numbers of cuts that an action opens with: `Cuts 3 to 5 and 7: ...`."""
    head = re.match(r"(?:On [^:]+, c|C)uts? ([\d, toand]+):", action)
    numbers: list[int] = []
    for low, high in re.findall(r"(\d+)(?: to (\d+))?", head[1] if head else ""):
        numbers += range(int(low), int(high or low) + 1)
    return numbers


@every_plan
def test_cuts_are_numbered_in_the_order_of_work_and_said_by_their_numbers(
    worked: WorkedPlan,
) -> None:
    _, cut_plan, _ = parts_of(worked)
    for sheet in cut_plan.sheets:
        count = len(cut_nodes(sheet.tree))
        own = [
            operation
            for operation in operations_of(worked)
            if any((cut.stock, cut.sheet) == (sheet.stock, sheet.number) for cut in operation.cuts)
        ]
        # No demo plan cuts two sheets of one stock, so that no operation is on two sheets.
        made = [cut.cut for operation in own for cut in operation.cuts]
        said = [n for operation in own for a in operation.actions for n in numbers_said(a)]
        assert made == list(range(1, count + 1))
        assert said == made


@every_plan
def test_pieces_have_one_name_in_steps_and_tables(worked: WorkedPlan) -> None:
    _, cut_plan, _ = parts_of(worked)
    for sheet in cut_plan.sheets:
        named = name_cuts(sheet.tree)
        known = {name for cut in named for name in (cut.first, cut.second) if name}
        for operation in operations_of(worked):
            if any(cut.stock == sheet.stock for cut in operation.cuts):
                said = re.findall(r"\b\d+[ab]\b", " ".join(operation.actions))
                assert set(said) <= known


@every_plan
def test_every_blank_is_cut_free_exactly_once(worked: WorkedPlan) -> None:
    _, cut_plan, _ = parts_of(worked)
    freed = Counter(
        label for operation in operations_of(worked) if operation.cuts for label in operation.blanks
    )
    assert freed == Counter(blank.label for blank in cut_plan.blanks)


@every_plan
def test_every_joint_is_closed_by_some_operation(worked: WorkedPlan) -> None:
    joinery = parts_of(worked)[0]
    closed = {joint for op in operations_of(worked) if op.joined for joint in op.joints}
    assert closed == {fit.joint for fit in joinery.fits}


@every_plan
def test_all_copies_stand_together_in_the_end(worked: WorkedPlan) -> None:
    joinery, _, sequence = parts_of(worked)
    last = [step for step in sequence.steps if step.joined][-1]
    assert set(last.joined) == set(joinery.copies)


# Steps.


@every_plan
def test_steps_hold_all_operations_in_their_order(worked: WorkedPlan) -> None:
    _, _, sequence = parts_of(worked)
    held = [operation for step in sequence.steps for operation in step.operations]
    assert held == list(sequence.operations)
    assert [step.number for step in sequence.steps] == list(range(1, len(sequence.steps) + 1))


@every_plan
def test_titles_and_addresses_of_steps_are_unique(worked: WorkedPlan) -> None:
    _, _, sequence = parts_of(worked)
    assert len({step.title for step in sequence.steps}) == len(sequence.steps)
    assert len({step.slug for step in sequence.steps}) == len(sequence.steps)
    assert all(re.fullmatch(r"[a-z0-9-]+", step.slug) for step in sequence.steps)


@every_plan
def test_a_step_fits_on_a_page(worked: WorkedPlan) -> None:
    for step in parts_of(worked)[2].steps:
        count = sum(len(operation.actions) for operation in step.operations)
        # Twelve is the aim; one operation that cannot be parted may take one more.
        assert count <= (12 if len(step.operations) > 1 else 13) + _twins(step.operations)


def _twins(operations: tuple[Operation, ...]) -> int:
    """Twins add one action each, and a first twin may be long."""
    return 8 if any(o.actions[0].startswith("Do the same") for o in operations) else 0


# Words.


def sentences(operation: Operation) -> list[str]:
    checks = re.split(r"(?<=\.) ", operation.check) if operation.check else []
    return [*operation.actions, *checks]


@every_plan
def test_every_sentence_is_short_plain_and_whole(worked: WorkedPlan) -> None:
    for operation in operations_of(worked):
        for sentence in sentences(operation):
            # ASD-STE100, from memory: 20 words at most in a procedural sentence.
            assert count_words(sentence) <= MOST_WORDS, sentence
            assert sentence.endswith("."), sentence
            assert sentence[0].isupper() or sentence[0].isdigit(), sentence
            assert "  " not in sentence
            assert "None" not in sentence
            assert "{" not in sentence


# Words that open a condition or a place before the verb; all others open with an imperative.
OPENERS = {"On", "Where", "With", "Part", "Faces", "One"}
VERBS = {
    "Brush", "Bring", "Chalk", "Chamfer", "Chop", "Clamp", "Close", "Countersink", "Cut", "Do",
    "Drill", "Drive", "Find", "Fit", "Gauge", "Glue", "Go", "Keep", "Lay", "Leave", "Let", "Line",
    "Lengthen", "Lower", "Mark", "Measure", "Move", "Nibble", "Overlap", "Pare", "Pencil", "Plane",
    "Press", "Push", "Put", "Raise", "Rip", "Rout", "Rub", "Run", "Sand", "Saw", "Scrape", "Set",
    "Slide", "Split", "Spread", "Square", "Stack", "Start", "Stir", "Stop", "Take", "Tighten",
    "Trim", "Try", "Turn", "Use", "Vacuum", "Wipe", "Write",
}  # fmt: skip
# Pegs and cross dowels ask for some, corners of boxes for some more.
VERBS |= {"Drop", "Hold", "Prick", "Taper"}
VERBS |= {"Carry", "Deepen", "Hatch", "Join", "Knife", "Make", "Screw", "Slant", "Stand"}


@every_plan
def test_every_action_opens_with_a_verb(worked: WorkedPlan) -> None:
    for operation in operations_of(worked):
        for action in operation.actions:
            # `Cuts 3 to 5: ...` names the cuts before it says what is done.
            said = re.sub(r"^(On [^:]+, c|C)uts? (\d|,| |to|and)+: ", "", action)
            first = said.split()[0].strip(",")
            assert first[0].upper() + first[1:] in VERBS | OPENERS, action


@every_plan
def test_every_operation_has_a_title_a_check_and_a_time(worked: WorkedPlan) -> None:
    for operation in operations_of(worked):
        assert operation.title
        assert operation.active_minutes > 0
        assert operation.waiting_hours >= 0
        assert operation.check or operation.kind == "coat"


# Facts.

_TYPES = {FactKind.FLAG: bool, FactKind.WORD: str}


@every_plan
def test_operations_state_facts_that_are_in_the_table_and_of_its_kind(worked: WorkedPlan) -> None:
    for operation in operations_of(worked):
        for name, fact in operation.facts.items():
            kind = FACTS[name]
            if kind in _TYPES:
                assert isinstance(fact, _TYPES[kind]), name
            else:
                assert not isinstance(fact, (bool, str)), name
                assert fact >= 0, name
        assert operation.facts["op.tool"] == operation.tool
        assert operation.facts["op.kind"] == operation.kind


@every_plan
def test_marks_are_sorted_and_known(worked: WorkedPlan) -> None:
    joinery = parts_of(worked)[0]
    for operation in operations_of(worked):
        assert list(operation.copies) == sorted(set(operation.copies), key=order_of_mark)
        assert set(operation.copies) <= set(joinery.copies)


def test_kinds_are_found_by_their_codes_and_say_what_they_are() -> None:
    phases = {"stock", "glue-up of blanks", "joints", "assembly", "finish"}
    for code, kind in OPERATION_KINDS.items():
        assert kind.code == code
        assert re.fullmatch(r"[a-z-]+", code)
        assert kind.phase in phases
        assert set(kind.says) <= set(FACTS)


@every_plan
def test_the_same_plan_gives_the_same_order_and_words(worked: WorkedPlan) -> None:
    joinery, cut_plan, sequence = parts_of(worked)
    assert order_work(joinery, cut_plan) == sequence
