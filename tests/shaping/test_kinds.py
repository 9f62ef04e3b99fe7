"""Every kind of shaping is one module, one key, one page: its docstring and a drawing."""

from __future__ import annotations

import re
from importlib import import_module

import pytest
from tests.shaping.kind_pages import EXAMPLES, PAGES, draw_example, stem, write_index, write_page
from tests.shaping.shaped import shape
from tests.shaping.test_sheet import ENTRIES

from benchleaf.frames import Axis
from benchleaf.joinery.pages import SECTIONS, split_docstring
from benchleaf.outlines import limits
from benchleaf.shaping import SHAPING_KINDS, SHAPING_WORDS
from benchleaf.shaping.bench import face_axes

CODES = tuple(SHAPING_KINDS)


def docstring(code: str) -> str:
    return import_module(f"benchleaf.shaping.{stem(code)}").__doc__ or ""


def test_the_table_is_sorted_and_its_words_carry_its_keys() -> None:
    assert list(CODES) == sorted(CODES)
    assert {code: words.code for code, words in SHAPING_WORDS.items()} == {c: c for c in CODES}
    assert set(EXAMPLES) == set(CODES)


@pytest.mark.parametrize("code", CODES)
def test_a_kinds_docstring_has_the_fixed_form(code: str) -> None:
    sentence, sections = split_docstring(docstring(code))
    assert re.fullmatch(r"[A-Z][a-z -]+: .+\.", sentence)
    assert tuple(sections) == SECTIONS
    rows = re.split(r"\n(?=\S)", sections["Dimensions"])
    # Every dimension states its rule and where it came from.
    assert all(re.fullmatch(r"[^:]+: .+\. Source: .+\.", " ".join(r.split())) for r in rows)


@pytest.mark.parametrize("code", CODES)
def test_a_kinds_page_is_its_docstring(code: str) -> None:
    # To write them anew: python tests/shaping/kind_pages.py
    assert (PAGES / f"{stem(code)}.md").read_text("utf-8") == write_page(code)


@pytest.mark.parametrize("code", CODES)
def test_a_kinds_drawing_is_that_of_its_example(code: str) -> None:
    assert (PAGES / f"{stem(code)}.svg").read_text("utf-8") == draw_example(code)


def test_the_list_of_kinds_names_every_page() -> None:
    assert (PAGES / "index.md").read_text("utf-8") == write_index()
    linked = re.findall(r"\]\(([a-z_]+)\.md\)", write_index())
    assert linked == [stem(code) for code in CODES]


@pytest.mark.parametrize("entry", ENTRIES, ids=[next(iter(entry)) for entry in ENTRIES])
def test_a_template_lies_on_its_face(entry: dict[str, object]) -> None:
    size = (30 * 8, 8, 4 * 8)  # the part of the sheets' tests, at 8 mm for an inch
    choices = {name: _scaled(value) for name, value in list(entry.items())[1:]}
    kind, places = next(iter(entry.items()))
    named = ", ".join(places) if isinstance(places, list) else str(places)
    for cut in shape(size, [(kind, named, choices)])[0]:
        if cut.template is not None:
            (u0, v0), (u1, v1) = limits(cut.template)
            wide, high = (size[Axis(axis)] for axis in face_axes(cut.face))
            # chosen: a curve's farthest point is known to a hundredth of a millimetre.
            assert -0.01 <= u0 < u1 <= wide + 0.01
            assert -0.01 <= v0 < v1 <= high + 0.01


def _scaled(value: object) -> object:
    """A length of the entries in eighths of an inch as whole millimetres; pairs as tuples."""
    if isinstance(value, list):
        return [_scaled(each) for each in value]
    text = str(value)
    if " x " in text:
        return tuple(_scaled(half) for half in text.split(" x "))
    if re.fullmatch(r"[a-z]+", text):
        return text
    whole, _, part = text.rpartition("-") if "-" in text else ("0", "", text)
    top, _, below = part.partition("/")
    return int(whole) * 8 + int(top) * 8 // int(below or 1)
