"""Text of strangers stays text: no page carries an element or a macro of theirs."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import jinja2
import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from benchleaf.site.escaping import clean_text, escape_css, escape_text, escape_title

# Marks that HTML, Markdown, its extensions, Jinja, CSS and GitHub give a meaning to.
HOSTILE = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{ config.site_name }} {% raw %} {# x #}",
    "# heading\n\n- item\n\n```\nfence\n```",
    "[link](javascript:alert(1)) ![x](y) **b** _i_ `c` ~~s~~ ==m== ^^u^^",
    "{: onclick=alert(1) } {++ins++} :smile: $x$ \\(x\\) [^1] *[HTML]: x",
    '--8<-- "mkdocs.yml"\n;--8<-- "x"',
    "/// note\n!!! danger\n??? x\n=== tab",
    "https://example.org/ user@example.org",
    "a\u202eb\u2066c\x00d\x1b[31m\ud800",
    "x" * 300,
)
# All that themes and site authors commonly switch on.
EXTENSIONS = (
    "abbr",
    "admonition",
    "attr_list",
    "def_list",
    "footnotes",
    "md_in_html",
    "smarty",
    "tables",
    "toc",
    "pymdownx.arithmatex",
    "pymdownx.betterem",
    "pymdownx.caret",
    "pymdownx.critic",
    "pymdownx.details",
    "pymdownx.emoji",
    "pymdownx.inlinehilite",
    "pymdownx.keys",
    "pymdownx.magiclink",
    "pymdownx.mark",
    "pymdownx.smartsymbols",
    "pymdownx.snippets",
    "pymdownx.superfences",
    "pymdownx.tabbed",
    "pymdownx.tasklist",
    "pymdownx.tilde",
)


class _Elements(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(f"{tag} {' '.join(name for name, _ in attrs)}".strip())

    def handle_data(self, data: str) -> None:
        self.text += data


def parse(html: str) -> _Elements:
    parser = _Elements()
    parser.feed(html)
    return parser


def visible(text: str) -> str:
    """What is to be seen of a text: controls and white space as one blank, other unseen gone."""
    kept = "".join(c if c.isprintable() else " " if c in "\n\x00\x1b" else "" for c in text)
    return " ".join(kept.split())


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_heading_and_paragraph_come_through_markdown_as_text(text: str) -> None:
    inert = escape_text(text)
    source = f'# {inert} {{: #top }}\n\n<div class="bl-page">\n<p>{inert}</p>\n</div>\n'
    parsed = parse(markdown.markdown(source, extensions=EXTENSIONS))
    assert parsed.tags == ["h1 id", "div class", "p"]
    assert parsed.text.count(visible(text)) == 2


@pytest.mark.parametrize("text", HOSTILE)
def test_jinja_finds_nothing_to_run_in_inert_text(text: str) -> None:
    inert = escape_text(text)
    # A macro plugin renders the page's whole text.
    assert jinja2.Environment(autoescape=False).from_string(inert).render() == inert  # noqa: S701


@given(st.text())
def test_inert_text_holds_no_ascii_punctuation_but_references(text: str) -> None:
    inert = escape_text(text)
    left = parse(inert)
    assert left.tags == []
    assert not set(inert) & set("<>\"'{}[]()`*_\\~^$!:=+|@%")


@given(st.text())
def test_title_is_inert_as_text_as_attribute_and_after_themes_undo_it(text: str) -> None:
    title = escape_title(text)
    # Themes print titles as they are, or strip tags and undo references first (Jinja's striptags).
    for shown in (title, Markup(title).striptags()):  # noqa: S704 - as themes do
        assert parse(f"<p>{shown}</p>").tags == ["p"]
        assert parse(f'<p title="{shown}">x</p>').tags == ["p title"]


@given(st.text())
def test_css_string_cannot_be_left(text: str) -> None:
    inside = escape_css(text)
    assert not set(inside) & set("\"'\n\r\f<>{};")


@given(st.text())
def test_css_string_says_what_was_written(text: str) -> None:
    # CSS Syntax 3, 4.3.7: up to six hexadecimal digits, and one blank after them is part of it.
    said = re.sub(r"\\([0-9a-f]{1,6}) ", lambda m: chr(int(m[1], 16)), escape_css(text))
    assert said == clean_text(text)
