"""What the site is made of, as data: figures, sections, pages, and the files written of them.

Holds records only. Must not know templates, MkDocs or the disk.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from benchleaf.drawing.scene import Scene
from benchleaf.findings import Place

HOME: Final = "plans"
"""Folder of the site, and the nav's placeholder, under which all plans stand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSource:
    """A plan file as it was found."""

    name: str
    """Part of the plan's addresses: the file's name without `.plan.yml`."""
    file: str
    """Path as findings show it, with forward slashes."""
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing as a page shows it."""

    name: str
    """File name of the drawing, without suffix: `part-leg`."""
    width_px: int
    """Width at 96 px to the inch, so that it prints at the drawing's own size."""
    height_px: int
    title: str
    description: str
    """What the drawing tells, in words, for those who cannot see it."""
    scale: str
    """`1:5`, or empty for a picture not to scale."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A stretch of a page: a heading and one fragment."""

    heading: str
    """Plain text; empty for what stands right below the page's title."""
    anchor: str
    """Id of the heading within its page; letters, digits, hyphens."""
    template: str
    """File name of the fragment's template: `parts-list.html`."""
    view: object
    """What the template lays out; its comment names the type."""
    is_printed: bool = True
    """False where the printed plan says the same elsewhere."""
    printed: object | None = None
    """What the printed plan lays out instead; None where it is the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page of a plan."""

    key: str
    """Address within the plan, without suffix: `index`, `parts/leg`, `steps/cut-the-legs`."""
    title: str
    """Plain text, as the page's heading."""
    short_title: str
    """Plain text, for the navigation."""
    description: str
    sections: tuple[Section, ...]
    parent: str = ""
    """Key of the page above."""
    previous: str = ""
    """Key of the page before in a chain, or empty."""
    next: str = ""
    place: Place
    """Where in the plan the page's subject is written."""
    is_searched: bool = True
    is_printed: bool = True
    """False where the page is printed from its own place and not with the whole plan."""
    starts_sheet: bool = True
    """True where the printed plan begins a new sheet of paper with this page; others follow on, and
    go to the next sheet only where they do not fit on what is left of one."""

    @property
    def anchor(self) -> str:
        """Id of the page's heading where all pages are printed in one."""
        return self.key.replace("/", "-")


@dataclass(frozen=True, slots=True, kw_only=True)
class GalleryCard:
    """A plan as the gallery shows it."""

    name: str
    title: str
    summary: str
    facts: tuple[str, ...]
    """`44 × 14 × 18 in`, `9 parts`, ..., each a few words."""
    figure: Figure | None
    is_broken: bool
    """True where the plan has errors and is published without numbers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanPages:
    """All that a plan adds to the site."""

    source: PlanSource
    title: str
    revision: str
    """What the author calls the revision, or empty."""
    pages: tuple[Page, ...]
    """In the order in which they are printed; the overview first."""
    card: GalleryCard
    scenes: Mapping[str, Scene]
    """Drawings by file name, without suffix."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GeneratedFile:
    """A file for the site's source folder: a Markdown page, a drawing or a style sheet."""

    src_uri: str
    """Path below the source folder, with forward slashes."""
    body: str | bytes
    blocks: tuple[str, ...] = ()
    """The stretches of a page's body that are raw HTML, in order."""
    title: str = ""
    """Of a page, safe in HTML text and attributes."""
    meta: Mapping[str, object] = field(default_factory=dict)
    """Front matter of a page; empty for any other file."""
    place: Place | None = None
    """Where its subject is written, or None where it has no single place."""
    is_in_nav: bool = False
    parent: str = ""
    """`src_uri` of the page above, or empty."""
    previous: str = ""
    next: str = ""

    @property
    def content(self) -> str | bytes:
        """The file as it is written: front matter and body, or the body alone."""
        if not self.meta:
            return self.body
        # JSON is YAML; one entry a line keeps the front matter readable and its order stable.
        lines = [
            f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in self.meta.items()
        ]
        return "\n".join(["---", *lines, "---", "", str(self.body)])
