"""The fragments keep the house's rules, and what they print is inert."""

from __future__ import annotations

import inspect
import re
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import pytest
from jinja2 import UndefinedError

from benchleaf.site import emit, views
from benchleaf.site.addresses import Links
from benchleaf.site.templating import THEME_DIR, open_templates

FRAGMENTS = sorted((THEME_DIR / "benchleaf").glob("*.html"))
LINKS = Links(plan="box", here="plans/box/index.md", directory_urls=True)
MODULES = tuple(iter_modules(views.__path__))
VIEWS = {
    name
    for module in (emit, *(import_module(f"{views.__name__}.{m.name}") for m in MODULES))
    for name, value in vars(module).items()
    if inspect.isclass(value) and name.endswith("View")
}


@pytest.mark.parametrize("path", FRAGMENTS, ids=lambda path: path.name)
def test_fragment_begins_with_a_comment_that_names_its_context(path: Path) -> None:
    comment = path.read_text("utf-8").partition("#}")[0]
    assert comment.startswith("{# ")
    if path.name == "macros.html":
        return
    named = re.search(r"view: (\w+); links: Links\.", comment)
    assert named, comment
    assert named[1] in VIEWS


@pytest.mark.parametrize("path", FRAGMENTS, ids=lambda path: path.name)
def test_every_value_in_an_attribute_is_written_for_an_attribute(path: Path) -> None:
    # Elsewhere sizes are wrapped in an element, which would end the attribute.
    for attribute in re.findall(r'[a-z-]="([^"]*(?:\{\{.*?\}\}[^"]*)+)"', path.read_text("utf-8")):
        for expression in re.findall(r"\{\{(.*?)\}\}", attribute):
            assert expression.strip().endswith(("|address", "|attribute")), attribute


def write(folder: Path, text: str) -> tuple[Path, ...]:
    (folder / "benchleaf").mkdir()
    (folder / "benchleaf" / "try.html").write_text(text, "utf-8")
    return (folder,)


def render(folder: Path, text: str, view: object) -> str:
    return open_templates(write(folder, text)).render("try.html", view, LINKS)


def test_mixed_numbers_stay_on_one_line(tmp_path: Path) -> None:
    assert render(tmp_path, "{{ view }}", "≈29-1/2 in") == (
        '<span class="bl-size">≈29&#45;1&#47;2</span> in'
    )


def test_name_that_is_not_there_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(UndefinedError, match="nothing"):
        render(tmp_path, "{{ view.nothing }}", "x")


def test_what_is_no_text_is_not_printed(tmp_path: Path) -> None:
    with pytest.raises(TypeError, match="a template printed a list, which is not text"):
        render(tmp_path, "{{ view }}", ["x"])


def test_address_of_other_characters_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="is not an address"):
        render(tmp_path, "{{ view|address }}", "javascript:alert(1)")


def test_folder_of_the_site_goes_before_ours_and_changes_the_digest(tmp_path: Path) -> None:
    folders = write(tmp_path, "x")
    assert open_templates(folders).digest != open_templates().digest
