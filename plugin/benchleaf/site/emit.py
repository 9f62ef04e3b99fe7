"""Pages as Markdown: headings that reach the table of contents, fragments as raw HTML between them.

Takes `PlanPages` and templates; gives the parts of each page. The headings' text and all that the
fragments print is inert (see `escaping`), so that no extension finds anything in it to work on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from benchleaf.site.addresses import GALLERY, Links, page_uri
from benchleaf.site.escaping import escape_text
from benchleaf.site.records import GalleryCard, Page, PlanPages, Section
from benchleaf.site.templating import Templates

PRINT_KEY: Final[str] = "print"
"""Key of the page that holds all others in order."""
# Pages that a plan's own navigation leads to; a constant number, however large the plan.
_LOCAL: Final[tuple[str, ...]] = (
    "index",
    "safety",
    "shopping",
    "materials",
    "cutting",
    "parts/index",
    "joints",
    "strength",
    "schedule",
    "steps/index",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameView:
    """Context of `plan-head.html` and `plan-foot.html`: what stands round every page of a plan."""

    plan: str
    """The plan's title."""
    revision: str
    page: str
    """The page's title."""
    tabs: tuple[tuple[str, str, bool], ...]
    """(words, key, whether it is the page at hand or above it)."""
    previous: tuple[str, str] | None
    """(title, key) of the page before in the chain."""
    next: tuple[str, str] | None
    is_print: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class GalleryView:
    """Context of `gallery.html`."""

    cards: tuple[GalleryCard, ...]


@dataclass(frozen=True, slots=True)
class Writer:
    """Writes pages for one kind of address; lives as long as a build."""

    templates: Templates
    directory_urls: bool

    def write_page(self, plan: PlanPages, page: Page) -> tuple[str, ...]:
        """Write one page of a plan: headings, and blocks of raw HTML."""
        links = self._links(plan, page.key)
        frame = _frame(plan, page)
        return (
            self._block("plan-head.html", frame, links),
            _heading(1, page.title, page.anchor),
            *self._sections(page.sections, links, level=2),
            self._block("plan-foot.html", frame, links),
        )

    def write_print_page(self, plan: PlanPages) -> tuple[str, ...]:
        """Write the page that holds all others in order."""
        pages = tuple(page for page in plan.pages if page.is_printed)
        anchors = {page.key: page.anchor for page in pages}
        links = self._links(plan, PRINT_KEY, anchors)
        frame = _frame(plan, None)
        blocks = [
            self._block("plan-head.html", frame, links),
            _heading(1, plan.title, plan.pages[0].anchor),
        ]
        for page in pages:
            if page.key != "index":  # the plan's title heads its first page
                css_class = "bl-sheet" if page.starts_sheet else "bl-follows"
                blocks.append(_heading(2, page.title, page.anchor, css_class))
            sections = (section for section in page.sections if section.is_printed)
            blocks += self._sections(map(_as_printed, sections), links, level=3, prefix=f"{page.anchor}-")
        return tuple(blocks)

    def write_gallery(self, cards: tuple[GalleryCard, ...]) -> tuple[str, ...]:
        """Write the page of all plans."""
        links = Links(plan="", here=GALLERY, directory_urls=self.directory_urls)
        block = self._block("gallery.html", GalleryView(cards=cards), links)
        return (_heading(1, "Plans", "plans"), block)

    def _links(self, plan: PlanPages, key: str, anchors: dict[str, str] | None = None) -> Links:
        name = plan.source.name
        return Links(
            plan=name,
            here=page_uri(name, key),
            directory_urls=self.directory_urls,
            anchors=anchors or {},
        )

    def _sections(
        self, sections: Iterable[Section], links: Links, *, level: int, prefix: str = ""
    ) -> Iterator[str]:
        for section in sections:
            if section.heading:
                yield _heading(level, section.heading, f"{prefix}{section.anchor}")
            yield self._block(section.template, section.view, links)

    def _block(self, template: str, view: object, links: Links) -> str:
        body = self.templates.render(template, view, links).strip()
        return f'<div class="bl-page">\n{body}\n</div>'


def _as_printed(section: Section) -> Section:
    return section if section.printed is None else replace(section, view=section.printed)


def _heading(level: int, text: str, anchor: str, css_class: str = "") -> str:
    marks = f"#{anchor} .{css_class}" if css_class else f"#{anchor}"
    return f"{'#' * level} {escape_text(text) or 'Untitled'} {{: {marks} }}"


def _frame(plan: PlanPages, page: Page | None) -> FrameView:
    pages = {other.key: other for other in plan.pages}
    here = _keys_above(pages, page)
    tabs = [(_tab_words(pages[key]), key, key in here) for key in _LOCAL if key in pages]
    if len(pages) > 1:  # a plan without numbers has nothing to print
        tabs.append(("Print", PRINT_KEY, page is None))
    return FrameView(
        plan=plan.title,
        revision=plan.revision,
        page=page.title if page else plan.title,
        tabs=tuple(tabs),
        previous=_name_page(pages, page.previous) if page else None,
        next=_name_page(pages, page.next) if page else None,
        is_print=page is None,
    )


def _keys_above(pages: dict[str, Page], page: Page | None) -> set[str]:
    """The page's key, or that of the nearest page above it that the navigation leads to."""
    while page and page.key not in _LOCAL:
        page = pages.get(page.parent)
    return {page.key} if page else set()


def _tab_words(page: Page) -> str:
    return "Overview" if page.key == "index" else page.short_title


def _name_page(pages: dict[str, Page], key: str) -> tuple[str, str] | None:
    return (pages[key].title, key) if key in pages else None
