"""Every check: small plans that it stops at, word for word, and the table that holds them.

To write the page anew after a change: `PYTHONPATH=tests python tests/checking/test_checks.py`.
"""

import math
import re
import sys
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from benchleaf.checking import CHECKS, check_piece
from benchleaf.checking.cuts import Cut, box_round
from benchleaf.checking.fasteners import find_long_fasteners
from benchleaf.checking.meeting_holes import distance_mm
from benchleaf.checking.pages import SECTIONS, write_page
from benchleaf.forms import Bore
from benchleaf.joinery.pages import split_docstring
from small_plans import show_findings, work_small_plan

CASES = yaml.safe_load((Path(__file__).parent / "cases.yml").read_text("utf-8"))
PAGE = Path(__file__).parents[2] / "docs/checks.md"
CHECKING = Path(sys.modules["benchleaf.checking"].__file__).parent


@pytest.mark.parametrize("case", [pytest.param(c, id=f"{c['check']}: {c['name']}") for c in CASES])
def test_case(case: Mapping):
    joinery, said = work_small_plan(case["given"])
    families = [finding for finding in said if not finding.code.startswith("J19")]
    assert show_findings(families) == case.get("joints say", [])
    assert sorted(show_findings(_of_kind(case, check_piece(joinery)))) == sorted(case["findings"])


def _of_kind(case: Mapping, said: tuple) -> list:
    """What checks that look have found; of a case of a check that reckons, what this one found.

    Pieces for trial are fragments: they tip, rack and split wherever nobody asks.
    """
    own = next(check for check in CHECKS.values() if check.name == case["check"])
    if own.reckon:
        return [finding for finding in said if finding.code == own.code]
    return [finding for finding in said if CHECKS[finding.code].run]


def test_every_check_has_a_case_that_it_stops_at():
    stopped = set(re.findall(r"\[(K\d{3})\]", str([case["findings"] for case in CASES])))
    # A fastener longer than its holes cannot come out of our own families: see below.
    assert stopped == set(CHECKS) - {"K208"}


def test_the_table_is_sorted_and_every_module_that_ends_in_a_check_is_in_it():
    assert list(CHECKS) == sorted(CHECKS)
    holding = {p.stem for p in CHECKING.glob("*.py") if "\nCHECK = " in p.read_text("utf-8")}
    assert holding == {check.name for check in CHECKS.values()}
    assert {case["check"] for case in CASES} <= holding


@pytest.mark.parametrize("code", list(CHECKS))
def test_a_checks_docstring_has_the_fixed_form_and_its_code_is_its_own(code: str):
    check = CHECKS[code]
    module = sys.modules[f"benchleaf.checking.{check.name}"]
    sentence, sections = split_docstring(module.__doc__)
    assert sentence == check.title
    assert tuple(sections) == SECTIONS
    users = [p.stem for p in CHECKING.glob("*.py") if f'"{code}"' in p.read_text("utf-8")]
    assert users == [check.name]


def _page() -> str:
    names = {code: f"benchleaf.checking.{check.name}" for code, check in CHECKS.items()}
    return write_page((check, sys.modules[names[code]].__doc__) for code, check in CHECKS.items())


def test_the_page_of_the_checks_is_their_docstrings():
    assert PAGE.read_text("utf-8") == _page()


def test_a_dowel_longer_than_its_holes_is_an_error():
    joinery, _ = work_small_plan(
        {
            "units": "in",
            "parts": {"leg": "0 0 0 to 2 2 18", "rail": "2 1/2 6 to 18 1-1/2 9"},
            "joints": [{"dowels": ["rail", "leg"], "size": "3/8 x 1-1/2"}],
        }
    )
    (fit,) = joinery.fits
    (pins,) = fit.hardware
    long = replace(pins, length_mm=Fraction("50.8"))
    outside = replace(joinery, fits=(replace(fit, hardware=(long,)),))
    (said,) = show_findings(tuple(find_long_fasteners(outside)))
    assert said == (
        "error joints[0]: a dowel 2 long goes into holes that are 1-5/8 deep together / "
        "Needed: at most 1-5/8, or deeper holes. [K208]"
    )
    assert list(find_long_fasteners(joinery)) == []


def _bore(x: int, y: int, *, way: tuple[int, int, int], diameter: int) -> Cut:
    bore = Bore(
        (Fraction(x), Fraction(y), Fraction(0)),
        way,
        Fraction(diameter),
        Fraction(30),
        Fraction(diameter),
    )
    return Cut(
        mark="A", role="dowel hole", joint=0, mate="B", box=box_round(bore), bore=bore, way=way
    )


@given(st.integers(-60, 60), st.integers(-60, 60), st.integers(2, 20), st.integers(2, 20))
def test_bores_abreast_are_as_far_apart_as_circles(x, y, one, other):
    # Source: two circles are apart by the distance of their centres less both radii.
    up = (0, 0, 1)
    found = distance_mm(_bore(0, 0, way=up, diameter=one), _bore(x, y, way=up, diameter=other))
    true = math.hypot(x, y) - (one + other) / 2
    assert true - 0.0101 <= found <= true + 1e-9


def test_bores_that_cross_are_as_far_apart_as_their_axes_less_both_radii():
    # One runs along x at y = 0, the other along y at x = 20; they are 25 apart in z.
    along = _bore(0, 0, way=(1, 0, 0), diameter=10)
    bore = Bore(
        (Fraction(20), Fraction(-15), Fraction(25)), (0, 1, 0), *(Fraction(n) for n in (8, 30, 8))
    )
    across = replace(along, bore=bore, box=box_round(bore), way=(0, 1, 0))
    assert distance_mm(along, across) == 25 - 5 - 4


if __name__ == "__main__":
    PAGE.write_text(_page(), "utf-8")
