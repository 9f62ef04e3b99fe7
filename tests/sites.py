"""Sites built for tests: plans in, a built site and what was logged out."""

from __future__ import annotations

import logging
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urljoin, urlsplit

import yaml
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, BuildError, PluginError

# HTML Living Standard, 13.1.2: elements without an end tag.
_VOID = frozenset(
    "area base br col embed hr img input link meta source track wbr".split(" ")  # noqa: SIM905
)


@dataclass
class BuiltPage:
    """One page as a browser would read it."""

    path: Path
    html: str
    ids: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    """Values of href and src, as written."""
    tags: list[str] = field(default_factory=list)
    text: str = ""
    body: str = ""
    """Text within our own blocks."""
    open_at_end: list[str] = field(default_factory=list)
    """Elements that were never closed, or closed out of turn."""

    def __post_init__(self) -> None:
        _Reader(self).read()


class _Reader(HTMLParser):
    def __init__(self, page: BuiltPage) -> None:
        super().__init__(convert_charrefs=True)
        self.page = page
        self.stack: list[tuple[str, bool]] = []

    def read(self) -> None:
        self.feed(self.page.html)
        self.page.open_at_end = [tag for tag, _ in self.stack]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = dict(attrs)
        self.page.tags.append(tag)
        if values.get("id"):
            self.page.ids.append(str(values["id"]))
        self.page.links += [str(values[name]) for name in ("href", "src") if values.get(name)]
        if tag not in _VOID:
            is_ours = "bl-page" in (values.get("class") or "").split()
            self.stack.append((tag, is_ours))

    def handle_endtag(self, tag: str) -> None:
        for index in reversed(range(len(self.stack))):
            if self.stack[index][0] == tag:
                del self.stack[index:]
                break

    def handle_data(self, data: str) -> None:
        if any(tag in {"script", "style"} for tag, _ in self.stack):
            return
        self.page.text += data
        if any(is_ours for _, is_ours in self.stack):
            self.page.body += data


@dataclass
class Site:
    """A site and how its build went."""

    folder: Path
    config: MkDocsConfig
    records: list[logging.LogRecord]
    error: Exception | None = None

    @cached_property
    def pages(self) -> dict[str, BuiltPage]:
        """Pages by their path below the site, `plans/box/index.html`."""
        return {
            path.relative_to(self.folder).as_posix(): BuiltPage(path, path.read_text("utf-8"))
            for path in sorted(self.folder.rglob("*.html"))
        }

    def messages(self, level: int) -> list[str]:
        """What was logged at a level."""
        return [record.getMessage() for record in self.records if record.levelno == level]

    def broken_links(self) -> Iterator[str]:
        """Addresses within the site that lead nowhere, each with the page that has it."""
        for name, page in self.pages.items():
            for link in page.links:
                parts = urlsplit(link)
                if parts.scheme or parts.netloc or name == "404.html":
                    continue
                target = unquote(urlsplit(urljoin(f"http://site/{name}", link)).path)
                if not self._leads_somewhere(target.lstrip("/"), parts.fragment, name):
                    yield f"{name}: {link}"

    def _leads_somewhere(self, target: str, fragment: str, here: str) -> bool:
        file = target if target and not target.endswith("/") else f"{target}index.html"
        if not (self.folder / file).is_file():
            return False
        page = self.pages.get(file or here)
        return not fragment or page is None or fragment in page.ids or fragment.startswith("__")


def forget_plugins() -> None:
    """Let go of the plugins that MkDocs keeps for a preview: all tests share one process."""
    dict(MkDocsConfig()._schema)["plugins"].plugin_cache.clear()


class _Keep(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.DEBUG)
        self.records: list[logging.LogRecord] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.records.append(record)


def write_site(folder: Path, plans: Mapping[str, str], **settings: Any) -> Path:
    """Write a site's source: an index page, plans, mkdocs.yml; give the path of the latter."""
    (folder / "docs").mkdir(parents=True, exist_ok=True)
    (folder / "plans").mkdir(exist_ok=True)
    (folder / "docs" / "index.md").write_text("# Home\n\n[Plans](plans/index.md)\n", "utf-8")
    for name, text in plans.items():
        (folder / "plans" / f"{name}.plan.yml").write_text(text, "utf-8")
    config = {
        "site_name": "Test",
        "site_url": "https://example.org/",
        "plugins": ["search", "benchleaf"],
        "nav": [{"Home": "index.md"}, {"Plans": "plans/"}],
        "validation": {
            "anchors": "warn",
            "nav": {"omitted_files": "warn"},
            "links": {"absolute_links": "warn", "unrecognized_links": "warn"},
        },
        **settings,
    }
    path = folder / "mkdocs.yml"
    path.write_text(yaml.safe_dump(config, sort_keys=False), "utf-8")
    return path


def build_site(mkdocs_yml: Path, **options: Any) -> Site:
    """Build a site as `mkdocs build` does; an error that ends the build is kept, not raised."""
    keep = _Keep()
    logger = logging.getLogger("mkdocs")
    level = logger.level
    logger.setLevel(logging.DEBUG)
    logger.addHandler(keep)
    error: Exception | None = None
    config = load_config(str(mkdocs_yml), **options)
    try:
        build(config)
    except (Abort, BuildError, PluginError) as raised:
        error = raised
    finally:
        logger.removeHandler(keep)
        logger.setLevel(level)
    return Site(Path(config.site_dir), config, keep.records, error)
