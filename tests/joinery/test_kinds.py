"""One kind, one file, one row, one case file, one page: the table of joint families holds together.

To write the pages anew after a change: `python tests/joinery/test_kinds.py`.
"""

import re
import sys
from pathlib import Path

import pytest

from benchleaf.joinery import JOINT_KINDS, JOINT_WORDS
from benchleaf.joinery.pages import SECTIONS, split_docstring, write_page

ROOT = Path(__file__).parents[2]
FAMILIES = ROOT / "plugin/benchleaf/joinery"
PAGES = ROOT / "docs/joints"
CODES = sorted(JOINT_KINDS)


def _stem(code: str) -> str:
    return code.replace(" ", "_")


def _module(code: str):
    return sys.modules[f"benchleaf.joinery.{_stem(code)}"]


def _page(code: str) -> str:
    figure = f"{_stem(code)}.svg"
    is_drawn = (PAGES / figure).exists()
    return write_page(JOINT_KINDS[code], _module(code).__doc__, figure=figure if is_drawn else "")


def test_the_table_is_sorted_and_keyed_by_code():
    assert list(JOINT_KINDS) == CODES
    assert {code: kind.code for code, kind in JOINT_KINDS.items()} == {c: c for c in CODES}
    assert {code: words.code for code, words in JOINT_WORDS.items()} == {c: c for c in CODES}


def test_every_module_that_ends_in_a_kind_is_in_the_table():
    holding = {
        path.stem for path in FAMILIES.glob("*.py") if "\nKIND = " in path.read_text("utf-8")
    }
    assert holding == {_stem(code) for code in CODES}
    for code in CODES:
        assert _module(code).KIND is JOINT_KINDS[code]


def test_every_kind_has_a_case_file_and_a_page_and_no_others_exist():
    stems = {_stem(code) for code in CODES}
    assert {path.stem for path in (ROOT / "tests/cases").glob("*.yml")} == stems
    assert {path.stem for path in PAGES.glob("*.md")} == stems | {"index"}


@pytest.mark.parametrize("code", CODES)
def test_a_kinds_docstring_has_the_fixed_form(code: str):
    sentence, sections = split_docstring(_module(code).__doc__)
    assert sentence.endswith(".")
    assert tuple(sections) == SECTIONS
    rows = re.split(r"\n(?=\S)", sections["Dimensions"])
    # Every dimension states its rule and where it came from.
    assert all(re.fullmatch(r"[^:]+: .+\. Source: .+\.", " ".join(r.split())) for r in rows)


@pytest.mark.parametrize("code", CODES)
def test_a_kinds_page_is_its_docstring(code: str):
    assert (PAGES / f"{_stem(code)}.md").read_text("utf-8") == _page(code)


@pytest.mark.parametrize("path", sorted(PAGES.glob("*.svg")), ids=lambda path: path.stem)
def test_a_pages_figure_is_that_of_its_kind(path: Path):
    # Drawn anew by: python tests/joint_figures.py
    code = next(code for code in CODES if _stem(code) == path.stem)
    title = re.search(r"<title[^>]*>([^<]*)</title>", path.read_text("utf-8"))
    assert title is not None
    assert title[1].startswith(f"{code}, ")


def test_the_list_of_joints_names_every_page():
    index = (PAGES / "index.md").read_text("utf-8")
    linked = re.findall(r"\]\(([a-z_]+)\.md\)", index)
    assert linked == [_stem(code) for code in CODES]


def test_a_code_of_a_joints_finding_is_said_in_one_place():
    texts = [
        path.read_text("utf-8") for path in sorted(FAMILIES.glob("*.py")) if path.stem != "codes"
    ]
    codes = re.findall(r'"(J\d{3})"', "".join(texts))
    assert sorted(codes) == sorted(set(codes))
    # J190 and up are the engine's; the families' run on without a gap.
    families = sorted(code for code in codes if code < "J190")
    assert families == [f"J{101 + index}" for index in range(len(families))]
    for first in (250, 350):
        later = sorted(code for code in codes if f"J{first}" <= code < f"J{first + 50}")
        assert later == [f"J{first + index}" for index in range(len(later))]


def test_every_finding_of_a_family_has_a_case():
    texts = "".join(path.read_text("utf-8") for path in FAMILIES.glob("*.py"))
    cases = "".join(path.read_text("utf-8") for path in (ROOT / "tests/cases").glob("*.yml"))
    said = {code for code in re.findall(r'"(J\d{3})"', texts) if not "J190" <= code < "J200"}
    assert said - set(re.findall(r"\[(J\d{3})\]", cases)) == set()


def _write_pages() -> None:
    PAGES.mkdir(exist_ok=True)
    rows = []
    for code in CODES:
        (PAGES / f"{_stem(code)}.md").write_text(_page(code), "utf-8")
        rows.append(f"- [{JOINT_KINDS[code].title}]({_stem(code)}.md): {JOINT_WORDS[code].help}")
    head = (
        "# Joints\n\nA plan names two parts and how they are joined; the sizes that it leaves out "
        "are\nproposed, each with its rule and source.\n\n"
    )
    (PAGES / "index.md").write_text(head + "\n".join(rows) + "\n", "utf-8")


if __name__ == "__main__":
    _write_pages()
