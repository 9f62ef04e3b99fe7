from __future__ import annotations

import re
from importlib.util import find_spec
from pathlib import Path

import pytest
import yaml

from benchleaf.findings import sort_findings
from benchleaf.reading import CODES
from benchleaf.reading import desk as desk_module
from plan_texts import BENCH, FILE, change, read, shown

CASES = yaml.safe_load((Path(__file__).parent / "findings.yml").read_text("utf-8"))
SOURCE = Path(find_spec("benchleaf.reading").origin).parent


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_what_is_wrong_is_said_word_for_word(case):
    assert shown(change(case["old"], case["new"])) == case["expect"]


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_the_slower_yaml_parser_gives_the_same_findings(case, monkeypatch):
    monkeypatch.delattr(yaml, "CSafeLoader")
    assert shown(change(case["old"], case["new"])) == case["expect"]


def test_a_file_name_that_is_no_address_is_refused():
    assert shown(BENCH, "plans/boot bench.plan.yml") == [
        (
            "1:1: the plan: the file's name `boot bench` cannot be part of an address\n"
            "  Needed: letters a to z, digits and single hyphens, such as `boot-bench.plan.yml`."
            "   [R004]"
        )
    ]


def test_an_empty_file_says_what_is_needed():
    expected = [
        (
            "1:1: the plan: the file is empty\n"
            "  Needed: the keys of a plan, from `plan:` to `parts:`.   [R006]"
        )
    ]
    assert shown("") == expected
    assert shown("# only a comment\n") == expected


def test_a_plan_that_is_a_list_says_what_is_needed():
    assert shown("- plan: x") == [
        (
            "1:1: the plan: a list stands here\n"
            "  Needed: a plan, with `units`, `plan`, `by`, `licence`, `overall`, `stock` and "
            "`parts`.   [R012]"
        )
    ]


def test_everything_wrong_is_found_in_one_pass():
    text = BENCH
    for old, new in (
        ("licence: CC BY 4.0\n", ""),
        ("layers: 3", "layers: three"),
        ("left: leg.right", "left: lge.right"),
        ("stock: pine", "stock: pien"),
        ("[long rail, leg]", "[long rial, leg]"),
        ("through: yes", "throuh: yes"),
        ("[120, 220, 400]", "[120, 400, 220]"),
    ):
        text = change(old, new, text)
    plan, findings = read(text)
    assert plan is None
    codes = ["R010", "R017", "R032", "R037", "R036", "R011", "R027"]
    assert [finding.code for finding in findings] == codes
    assert findings == sort_findings(findings)


def test_copies_are_bounded_over_the_whole_plan():
    text = change("count: 5, gap: 1", "count: 200, gap: 1")
    text = change("    top: seat.bottom\n", "    top: seat.bottom\n    mirror: "
                  "[left-right, front-back, bottom-top]\n", text)  # fmt: skip
    assert shown(text) == [
        (
            "18:1: parts: the parts come to 1607 copies\n"
            "  Needed: at most 1000. Split the piece into several plans.   [R024]"
        )
    ]


def test_shaping_is_bounded_over_the_whole_plan():
    shape = "    shape: [" + ", ".join(["{taper: left}"] * 40) + "]\n"
    slats = "".join(
        f"  slat {letter}:\n    stock: pine\n    left: 4\n    wide: 3/4\n    front: 3\n"
        f"    deep: 5\n    bottom: 1\n    high: 3\n{shape}"
        for letter in "abcdefghijk"
    )
    text = change("joints:\n", f"{slats}joints:\n")
    assert shown(text) == [
        (
            "18:1: parts: the parts are shaped in 440 ways\n"
            "  Needed: at most 400. Split the piece into several plans.   [R024]"
        )
    ]


def test_no_finding_shows_python_or_says_invalid():
    for case in CASES:
        for text in case["expect"]:
            words = set(re.findall(r"[A-Za-z]+", text))
            assert not words & {"invalid", "Invalid", "None", "str", "int", "dict", "NoneType"}
            remedy = text.splitlines()[1].strip()
            assert remedy.startswith("Needed: ") or re.match(r"[A-Z][a-z]+ ", remedy)


def test_every_code_used_is_in_the_table_and_the_other_way_round():
    used = set()
    for path in SOURCE.glob("*.py"):
        if path.name != "codes.py":
            used |= set(re.findall(r'"(R[0-9]{3})"', path.read_text("utf-8")))
    assert used == set(CODES)


def test_every_code_but_those_of_files_and_bounds_has_a_case():
    # R001 to R003 are in test_opening and test_hostile, the others in this file.
    elsewhere = {"R001", "R002", "R003", "R004", "R024", "R099"}
    told = {text[-5:-1] for case in CASES for text in case["expect"]}
    assert told == set(CODES) - elsewhere


def test_findings_end_where_nobody_reads_on():
    strange = "".join(f"strange{index}: 1\n" for index in range(5000))
    findings = read(BENCH + strange)[1]
    assert len(findings) == desk_module.MAX_FINDINGS
    assert str(findings[-1]).endswith(
        "there are more than 99 findings\n  Mend the ones shown and check again.   [R099]"
    )


def test_places_carry_the_file_as_it_was_given():
    finding = read("units: in", FILE)[1][0]
    assert str(finding).startswith("plans/boot-bench.plan.yml:1:1: the plan: ")
