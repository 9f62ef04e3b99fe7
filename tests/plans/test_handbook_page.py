"""The page of the handbook is the handbook's own rows."""

from __future__ import annotations

import re

from benchleaf.handbook.materials import find_material
from handbook_tables import PAGE, written


def test_the_page_is_written_from_the_tables() -> None:
    assert PAGE.read_text("utf-8") == written()


def test_the_words_that_the_page_promises_find_what_it_says() -> None:
    text = " ".join(PAGE.read_text("utf-8").split())
    generic = re.search(r"A bare (.+?) is the commonest of its kind \((.+?)\)", text)
    assert generic
    words = re.findall(r"`(\w+)`", generic[1])
    meant = generic[2].split(", ")
    assert len(words) == len(meant)
    for word, label in zip(words, meant, strict=True):
        found = find_material(word)
        assert found is not None
        assert found.wood is not None
        # `Oak, northern red` to `northern red oak`
        name, _, kind = found.wood.label.lower().partition(", ")
        spelt = re.sub(r" \(.*\)", "", f"{kind} {name}".strip())
        assert spelt == label.lower()
    assert find_material("quartersawn white oak, 4/4") == find_material("white oak")
