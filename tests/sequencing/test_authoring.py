"""The author's own steps: matched, kept in order, and what is said where they cannot stand."""

from __future__ import annotations

import pytest
from tests.sequencing.worked import TABLE, parts_of, work_demo, work_text

from benchleaf.pipeline import WorkedPlan, work_plan
from benchleaf.sequencing.records import Step


def with_steps(steps: str) -> WorkedPlan:
    return work_plan(f"{TABLE}steps:\n{steps}", "plans/trial.plan.yml")


def step_called(worked: WorkedPlan, title: str) -> Step:
    (step,) = (step for step in parts_of(worked)[2].steps if step.title == title)
    return step


def test_an_authors_step_takes_the_operations_it_covers_and_keeps_its_words() -> None:
    worked = with_steps(
        "  - {title: The legs' mortises, text: Work on a firm bench., "
        "covers: [drill-waste: leg, chop: leg]}\n"
    )
    step = step_called(worked, "The legs' mortises")
    assert {operation.kind for operation in step.operations} == {"drill-waste", "chop"}
    assert step.notes == ("Work on a firm bench.",)
    assert step.slug == "the-legs-mortises"
    assert worked.findings == ()


def test_all_other_operations_are_still_planned() -> None:
    plain = work_text(TABLE)
    worked = with_steps("  - {title: Mortises, text: '', covers: [chop: leg]}\n")
    one, two = ({o.id for o in parts_of(w)[2].operations} for w in (plain, worked))
    assert one == two


def test_steps_come_in_the_order_in_which_the_author_writes_them() -> None:
    worked = with_steps(
        "  - {title: Saw tenons, text: '', covers: [saw-shoulders: long rail]}\n"
        "  - {title: Mortises, text: '', covers: [drill-waste: leg, chop: leg]}\n"
    )
    saw, mortises = (step_called(worked, title) for title in ("Saw tenons", "Mortises"))
    assert saw.number < mortises.number


def test_a_note_on_a_joint_stands_where_the_joint_is_first_closed() -> None:
    note = "Glue and clamp. Screws here would meet those that hold the seat."
    steps = parts_of(work_demo("hall-bench"))[2].steps
    (step,) = (step for step in steps if note in step.notes)
    assert {"B1", "E1"} <= set(step.joined)


# Findings, word for word.

CHOP = "  - {title: %s, text: '', covers: [chop: leg]}\n"
FIT = "  - {title: Fit, text: '', covers: [fit-tenons: long rail]}\n"
BOTH = "  - {title: Both, text: '', covers: [set-out: leg, fit-tenons: long rail]}\n"
CASES = {
    "a slip in a kind": {
        "steps": "  - {title: Mortises, text: '', covers: [chopp: leg]}\n",
        "code": "S501",
        "message": "no planned operation is called `chopp: leg`",
        "remedy": "Needed: an operation and a part, such as `chop: leg`, ",
    },
    "a part that has no such operation": {
        "steps": "  - {title: Mortises, text: '', covers: [chop: board]}\n",
        "code": "S501",
        "message": "no planned operation is called `chop: board`",
        "remedy": "Needed: an operation and a part, such as `chop: leg`.",
    },
    "twice": {
        "steps": CHOP % "One" + CHOP % "Two",
        "code": "S502",
        "message": "`chop: leg` is covered already by step 1, `One`",
        "remedy": "Needed: every operation in one step. Take it out of one of the two.",
    },
    "nothing": {
        "steps": "  - {title: A rest, text: Drink some tea., covers: []}\n",
        "code": "S503",
        "message": "step 1, `A rest`, covers no operation",
        "remedy": "Needed: `covers:` with at least one entry, such as `glue-up: leg`.",
    },
    "the wrong order": {
        "steps": FIT + CHOP % "Chop",
        "code": "S504",
        "message": "step 1, `Fit`: `Fit the long rails to the legs` needs "
        "`Chop the haunches in the legs`, which "
        "the later step `Chop` covers",
        "remedy": "Move the step `Chop` before this one.",
    },
    "something in between": {
        "steps": BOTH,
        "code": "S505",
        "message": "step 1, `Both`: `Chop the haunches in the legs` comes between its operations, "
        "before `Fit the long rails to the legs`",
        "remedy": "Cover that operation too, or split the step in two.",
    },
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_what_is_said_of_a_step_that_cannot_stand(case: dict[str, str]) -> None:
    findings = [f for f in with_steps(case["steps"]).findings if f.code.startswith("S")]
    assert [finding.code for finding in findings][:1] == [case["code"]]
    assert findings[0].message == case["message"]
    assert findings[0].remedy.startswith(case["remedy"])
    assert findings[0].subject.startswith("steps[")
    assert findings[0].place.line > TABLE.count("\n")
