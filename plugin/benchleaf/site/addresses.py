"""Where pages and drawings stand, and how one is reached from another.

Takes paths below the source folder; gives relative addresses of the built site. Pure, so that links
are right for any generator that builds `x.md` to `x/` (or to `x.html`, where told so).
"""

from __future__ import annotations

import posixpath
from collections.abc import Mapping
from dataclasses import dataclass, field

from benchleaf.site.records import HOME

GALLERY = f"{HOME}/index.md"
"""Page of all plans."""
STYLE_SHEET = "assets/benchleaf/benchleaf.css"


def page_uri(plan: str, key: str) -> str:
    """Source path of a plan's page.

    >>> page_uri("boot-bench", "parts/leg")
    'plans/boot-bench/parts/leg.md'
    """
    return f"{HOME}/{plan}/{key}.md"


def drawing_uri(plan: str, name: str) -> str:
    """Source path of a plan's drawing."""
    return f"{HOME}/{plan}/drawings/{name}.svg"


def built_uri(src_uri: str, *, directory_urls: bool) -> str:
    """Address of a built file below the site's root, as MkDocs forms it.

    >>> built_uri("plans/box/parts.md", directory_urls=True)
    'plans/box/parts/'
    >>> built_uri("plans/box/index.md", directory_urls=False)
    'plans/box/index.html'
    """
    stem, suffix = posixpath.splitext(src_uri)
    if suffix != ".md":
        return src_uri
    if not directory_urls:
        return f"{stem}.html"
    return f"{posixpath.dirname(stem)}/" if posixpath.basename(stem) == "index" else f"{stem}/"


@dataclass(frozen=True, slots=True, kw_only=True)
class Links:
    """The addresses of a plan's pages and drawings, as one page writes them."""

    plan: str
    here: str
    """Source path of the page that writes them."""
    directory_urls: bool
    anchors: Mapping[str, str] = field(default_factory=dict)
    """Key of a page to its anchor on this very page, where the page holds others."""

    def page(self, key: str) -> str:
        """Address of a page of the plan, or of a heading on it: `joints#joint-1`."""
        key, mark, anchor = key.partition("#")
        if key in self.anchors:
            return f"#{self.anchors[key]}{'-' * bool(anchor)}{anchor}"
        return f"{self._to(page_uri(self.plan, key))}{mark}{anchor}"

    def drawing(self, name: str) -> str:
        """Address of a drawing of the plan."""
        return self._to(drawing_uri(self.plan, name))

    def gallery(self) -> str:
        """Address of the page of all plans."""
        return self._to(GALLERY)

    def of_plan(self, plan: str) -> Links:
        """The addresses of another plan, from the same page."""
        return Links(plan=plan, here=self.here, directory_urls=self.directory_urls)

    def _to(self, src_uri: str) -> str:
        target = built_uri(src_uri, directory_urls=self.directory_urls)
        here = built_uri(self.here, directory_urls=self.directory_urls)
        folder = posixpath.dirname(here)
        relative = posixpath.relpath(target.rstrip("/") or ".", folder or ".")
        return f"{relative}/" if target.endswith("/") else relative
