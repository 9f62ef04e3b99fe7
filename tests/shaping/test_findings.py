"""What shaping has to say, word for word."""

from __future__ import annotations

import re
from importlib.util import find_spec
from pathlib import Path

import pytest
import yaml
from tests.shaping.shaped import shape

from benchleaf.shaping.codes import CODES

PAGE = Path(__file__).parent / "cases.yml"
CASES = yaml.safe_load(PAGE.read_text("utf-8"))
SHAPING = Path(find_spec("benchleaf.shaping").origin).parent
JOINERY = Path(find_spec("benchleaf.joinery").origin).parent
# A board as an apron is placed: 300 long, 18 thick, 100 high, mm.
BOARD = (300, 18, 100)


def told(case):
    entries = [(kind, places, _typed(choices)) for kind, places, choices in case["shape"]]
    return [
        f"{f.severity} {f.subject}: {f.message} / {f.remedy} [{f.code}]"
        for f in shape(BOARD, entries)[1]
    ]


def _typed(choices):
    """Pairs as the plan's `a x b`: a list of two numbers; lists of pairs stay lists."""
    return {
        name: (
            [tuple(pair) for pair in value]
            if isinstance(value, list) and isinstance(value[0], list)
            else tuple(value)
            if isinstance(value, list)
            else value
        )
        for name, value in choices.items()
    }


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_what_cannot_be_shaped_is_said_word_for_word(case):
    assert told(case) == case["finding"]


def test_every_code_is_used_and_every_code_used_is_in_the_table():
    used = set()
    for path in (*SHAPING.glob("*.py"), *JOINERY.glob("*.py")):
        if path.name != "codes.py":
            used |= set(re.findall(r'"(F[0-9]{3})"', path.read_text("utf-8")))
    assert used == set(CODES)


def test_every_code_of_shaping_itself_has_a_case():
    shown = {finding[-5:-1] for case in CASES for finding in case["finding"]}
    assert shown == {code for code in CODES if code < "F120"}


def test_no_finding_shows_python_or_says_invalid():
    for case in CASES:
        for finding in case["finding"]:
            words = set(re.findall(r"[A-Za-z]+", finding))
            assert not words & {"invalid", "Invalid", "None", "Fraction", "tuple"}
            assert re.search(r" / (Needed: |[A-Z][a-z]+ )", finding)
