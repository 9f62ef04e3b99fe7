"""The page of findings names every code that any stage can say, and no other."""

from __future__ import annotations

import re
from importlib.util import find_spec
from pathlib import Path

import pytest

from benchleaf.cutting.codes import CODES as CUTTING
from benchleaf.joinery.codes import CODES as JOINERY
from benchleaf.sequencing.codes import CODES as SEQUENCING
from findings_page import PAGE, write_page

STAGES = {"joinery": ("J", JOINERY), "cutting": ("C", CUTTING), "sequencing": ("S", SEQUENCING)}


def test_the_page_is_that_of_the_tables() -> None:
    # To write it anew: python tests/findings_page.py
    assert PAGE.read_text("utf-8") == write_page()


@pytest.mark.parametrize("stage", STAGES)
def test_a_stages_table_has_the_codes_that_its_modules_say(stage: str) -> None:
    letter, codes = STAGES[stage]
    spec = find_spec(f"benchleaf.{stage}")
    assert spec is not None
    assert spec.origin is not None
    folder = Path(spec.origin).parent
    texts = [path.read_text("utf-8") for path in folder.rglob("*.py") if path.name != "codes.py"]
    said = set(re.findall(rf'"({letter}[0-9]{{3}})"', "".join(texts)))
    assert said == set(codes)
    assert list(codes) == sorted(codes)


def test_every_code_of_a_finding_is_a_word_of_its_own() -> None:
    rows = re.findall(r"^[|] ([A-Z][0-9]{3}) [|] (.+) [|]$", PAGE.read_text("utf-8"), re.MULTILINE)
    assert len(rows) == len(dict(rows))
    assert all(meaning.endswith(".") for _, meaning in rows)
