"""The page of rules is what the rules say, and tells a condition as it is."""

from __future__ import annotations

import doctest

import pytest

import safety_page
from benchleaf.handbook.data_files import read_data_file
from benchleaf.safety.conditions import parse_condition
from benchleaf.safety.loading import load_rules, load_sources
from safety_page import PAGE, tell, write_page

THROUGH = "the cut goes through the wood"


def test_the_page_is_as_written_from_the_rules() -> None:
    assert PAGE.read_text("utf-8") == write_page(), "run python tests/safety_page.py"


def test_every_rule_clause_and_source_stands_on_it() -> None:
    page = write_page()
    for rule in load_rules():
        assert f"**{rule.id}**" in page
    for document in read_data_file("benchleaf.safety", "clauses.yaml"):
        for row in document["rows"]:
            assert f"| {row['clause']} | {row['asks']} |" in page
    for source in load_sources().values():
        assert f"| {source.key} | {source.title} | {source.status} |" in page


@pytest.mark.parametrize(
    ("condition", "words"),
    [
        ("cut.depth_mm > 3", "the depth of the cut is over 3 mm (1/8 in)"),
        ("not cut.through", "it is not so that the cut goes through the wood"),
        (
            "finish.kind in ['oil', 'solvent']",
            "the finish is oil or solvent",
        ),
        (
            "cut.depth_mm > 3 * bit.diameter_mm",
            "the depth of the cut is over 3 times the bit's diameter",
        ),
        ("part.mass_kg > 10", "the mass of the heaviest piece is over 10 kg (22 lb)"),
        (
            "cut.through and (op.makes_dust or op.loud)",
            f"{THROUGH}, and (the tool makes dust, or the machine calls for ear defenders)",
        ),
        ("cut.tilt_deg > 0", "the tilt of blade or bit from square is over 0 degrees"),
    ],
)
def test_a_condition_is_told_in_words(condition: str, words: str) -> None:
    assert tell(parse_condition(condition)) == words


def test_the_example_in_its_words_holds() -> None:
    assert doctest.testmod(safety_page).failed == 0
