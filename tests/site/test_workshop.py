"""What is kept between builds, and what is worked again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

import handmade_plan as handmade
from benchleaf.drawing.scene import Scene
from benchleaf.pipeline import WorkedPlan
from benchleaf.site.emit import Writer
from benchleaf.site.templating import open_templates
from benchleaf.site.workshop import Workshop


class Counting:
    """Stands in for the pipeline: hands out the hand-made plan and counts."""

    def __init__(self) -> None:
        self.worked: list[str] = []
        self.drawn = 0
        self.workshop = Workshop(work=self.work, draw=self.draw)

    def work(self, text: str, file: str, *shops: object) -> WorkedPlan:  # noqa: ARG002
        self.worked.append(text)
        return handmade.make_worked()

    def draw(self, worked: WorkedPlan) -> Mapping[str, Scene]:  # noqa: ARG002
        self.drawn += 1
        return handmade.SCENES


@pytest.fixture
def counting() -> Counting:
    return Counting()


def test_same_text_is_worked_and_drawn_once(counting: Counting) -> None:
    first = counting.workshop.do(handmade.SOURCE)
    assert counting.workshop.do(handmade.SOURCE) is first
    assert (len(counting.worked), counting.drawn) == (1, 1)


def test_changed_text_is_worked_again_and_the_rest_is_not(counting: Counting) -> None:
    other = replace(handmade.SOURCE, name="other", file="plans/other.plan.yml", text="other")
    for text in ("first", "second"):
        counting.workshop.do(replace(handmade.SOURCE, text=text))
        counting.workshop.do(other)
        counting.workshop.clear_up()
    assert counting.worked == ["first", "other", "second"]


def test_what_was_not_asked_for_is_let_go(counting: Counting) -> None:
    counting.workshop.do(handmade.SOURCE)
    counting.workshop.clear_up()
    counting.workshop.clear_up()
    counting.workshop.do(handmade.SOURCE)
    assert len(counting.worked) == 2


def test_pages_are_written_again_where_addresses_change(counting: Counting) -> None:
    templates = open_templates()
    by_folder, by_file = (Writer(templates, directory_urls=kind) for kind in (True, False))
    folder_pages = counting.workshop.write(handmade.SOURCE, by_folder)
    assert counting.workshop.write(handmade.SOURCE, by_folder) is folder_pages
    file_pages = counting.workshop.write(handmade.SOURCE, by_file)
    assert 'href="materials/"' in str(folder_pages[0].body)
    assert 'href="materials.html"' in str(file_pages[0].body)
    assert len(counting.worked) == 1


def test_drawings_are_not_made_of_a_plan_with_errors() -> None:
    counting = Counting()
    counting.workshop = Workshop(
        work=lambda _text, file, *_shops: WorkedPlan(file=file),
        draw=counting.draw,
    )
    counting.workshop.do(handmade.SOURCE)
    assert counting.drawn == 0
