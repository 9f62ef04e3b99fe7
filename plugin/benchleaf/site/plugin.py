"""The plugin: hands what Benchleaf makes to MkDocs, and what it finds to the log.

Takes MkDocs' events; gives it pages, drawings and a style sheet. Everything that is not MkDocs' own
business is done elsewhere.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from typing import Final, Literal

from mkdocs.config import config_options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin, event_priority, get_plugin_logger
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page

from benchleaf.drawing import draw_plan
from benchleaf.findings import Finding, Severity
from benchleaf.pipeline import work_plan
from benchleaf.site.addresses import STYLE_SHEET
from benchleaf.site.emit import Writer
from benchleaf.site.nav import expand_nav
from benchleaf.site.pages import write_gallery
from benchleaf.site.records import GeneratedFile, PlanSource
from benchleaf.site.report import format_finding, summarise
from benchleaf.site.shops import USUAL_OTHERS, Choice, FoundShops, find_shops
from benchleaf.site.sources import FoundPrices, find_plans, find_prices
from benchleaf.site.templating import THEME_DIR, open_templates
from benchleaf.site.workshop import DonePlan, Workshop
from benchleaf.shops import USUAL_SHOP

log = get_plugin_logger(__name__)

_LOG_BY_SEVERITY: Final = {
    Severity.ERROR: log.error,
    Severity.WARNING: log.warning,
    Severity.NOTE: log.info,
}
# Any of these brings the attribute lists by which headings carry their ids.
_ATTRIBUTE_LISTS: Final = ("attr_list", "extra")

# Stands for a block of raw HTML while a page goes through Markdown.
_PLACEHOLDER: Final = '<div class="bl-page" data-bl="{}"></div>'


class BenchleafConfig(Config):  # type: ignore[no-untyped-call] # MkDocs' hook is untyped
    """What a site says of Benchleaf in mkdocs.yml."""

    plans_dir = config_options.Dir(default="plans", exists=False)
    """Folder of plans, beside mkdocs.yml."""
    prices = config_options.Optional(config_options.File())
    """File of prices; else prices.yml beside mkdocs.yml, where there is one."""
    shops_dir = config_options.Dir(default="shops", exists=False)
    """Folder of shops, beside mkdocs.yml."""
    shop = config_options.Type(str, default=USUAL_SHOP.name)
    """Name of the site's own shop."""
    other_shops = config_options.ListOfItems(
        config_options.Type(str), default=list(USUAL_OTHERS)
    )
    """Names of the shops that pages tell the other way for."""


class BenchleafPlugin(BasePlugin[BenchleafConfig]):  # type: ignore[no-untyped-call] # likewise
    """Adds the plans of a folder to a site."""

    def __init__(self) -> None:
        super().__init__()
        self.workshop = Workshop(work=work_plan, draw=draw_plan)
        self.is_preview = False
        self.made: tuple[GeneratedFile, ...] = ()
        self.blocks: dict[str, tuple[str, ...]] = {}

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:  # noqa: ARG002
        """Note what the site is built for. That this is here keeps the workshop over rebuilds."""
        self.is_preview = command == "serve"

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Add templates, style sheet and the Markdown extension that the pages need."""
        if str(THEME_DIR) not in config.theme.dirs:
            # Last, so that a folder of the site's own with the same file goes before it.
            config.theme.dirs.append(str(THEME_DIR))
        if STYLE_SHEET not in config.extra_css:
            # First, so that the site's own style sheets have the last word.
            config.extra_css.insert(0, STYLE_SHEET)
        extensions = {name.rpartition(".")[2] for name in config.markdown_extensions}
        if not extensions.intersection(_ATTRIBUTE_LISTS):
            config.markdown_extensions.append("attr_list")
        return config

    @event_priority(-50)  # after plugins that read files, before those that read the nav
    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Work the plans out and add their files; in strict builds stop if there is anything wrong.

        Raises:
            PluginError: A plan has errors or warnings and the build is strict.
        """
        found = find_plans(self._plans_dir, self._shown(config))
        shops = self._find_shops(config)
        self.workshop.here, self.workshop.others = shops.here, shops.others
        for complaint in found.complaints:
            log.warning(complaint)
        prices = self._find_prices(config)
        self.workshop.prices = prices.prices
        done = self._work(found.sources)
        findings = [*found.findings, *shops.findings, *prices.findings]
        findings += [f for plan in done.values() for f in plan.findings]
        texts = {**shops.texts, **{source.file: source.text for source in found.sources}}
        texts[self._beside(self._price_file(config), config)] = prices.text
        _log_findings(findings, texts)
        self._stop_if_strict(findings, len(found.complaints), config)
        self.made = self._write(done, config)
        self._add_files(files, config)
        self.workshop.clear_up()
        return files

    def on_nav(self, nav: Navigation, *, config: MkDocsConfig, files: Files) -> Navigation:  # noqa: ARG002
        """Tell pages outside the navigation what stands above, before and after them."""
        for made in self.made:
            page = _page_of(files, made.src_uri)
            if page is None or made.is_in_nav:
                continue
            page.parent = _page_of(files, made.parent)  # type: ignore[assignment]
            page.previous_page = _page_of(files, made.previous)
            page.next_page = _page_of(files, made.next)
        return nav

    @event_priority(100)  # before plugins that read Markdown: none has business in our blocks
    def on_page_markdown(
        self,
        markdown: str,
        *,
        page: Page,
        config: MkDocsConfig,  # noqa: ARG002
        files: Files,  # noqa: ARG002
    ) -> str:
        """Keep raw HTML away from the Markdown parser, which would read every element of it."""
        for number, block in enumerate(self.blocks.get(page.file.src_uri, ())):
            markdown = markdown.replace(block, _PLACEHOLDER.format(number), 1)
        return markdown

    @event_priority(100)  # before plugins that read the page's HTML
    def on_page_content(
        self,
        html: str,
        *,
        page: Page,
        config: MkDocsConfig,  # noqa: ARG002
        files: Files,  # noqa: ARG002
    ) -> str:
        """Put the raw HTML in its place."""
        for number, block in enumerate(self.blocks.get(page.file.src_uri, ())):
            html = html.replace(_PLACEHOLDER.format(number), block, 1)
        return html

    def on_serve(
        self,
        server: LiveReloadServer,
        *,
        config: MkDocsConfig,
        builder: object,  # noqa: ARG002
    ) -> LiveReloadServer:
        """Watch the plans; MkDocs cannot watch a folder that is not there."""
        for folder in (self._plans_dir, Path(self.config.shops_dir)):
            if folder.is_dir():
                server.watch(str(folder))
        if self._price_file(config).is_file():
            server.watch(str(self._price_file(config)))
        return server

    @property
    def _plans_dir(self) -> Path:
        return Path(self.config.plans_dir)

    def _shown(self, config: MkDocsConfig) -> str:
        """The folder of plans as findings show it."""
        return self._beside(self._plans_dir, config)

    def _beside(self, path: Path, config: MkDocsConfig) -> str:
        """A path as findings show it: seen from where mkdocs.yml is."""
        return Path(os.path.relpath(path, _home(config))).as_posix()

    def _price_file(self, config: MkDocsConfig) -> Path:
        return Path(self.config.prices) if self.config.prices else _home(config) / "prices.yml"

    def _find_prices(self, config: MkDocsConfig) -> FoundPrices:
        path = self._price_file(config)
        return find_prices(
            path, self._beside(path, config), is_asked=self.config.prices is not None
        )

    def _find_shops(self, config: MkDocsConfig) -> FoundShops:
        folder = Path(self.config.shops_dir)
        choice = Choice(
            shop=self.config.shop,
            other_shops=self.config.other_shops,
            told_in=Path(config.config_file_path or "mkdocs.yml").name,
        )
        return find_shops(folder, self._beside(folder, config), choice)

    def _work(self, sources: Iterable[PlanSource]) -> dict[PlanSource, DonePlan]:
        done = {}
        for source in sources:
            try:
                done[source] = self.workshop.do(source)
            except Exception as error:
                # A mistake of ours must name the plan that brought it out.
                message = (
                    f"{source.file}: working this plan out failed: {type(error).__name__}: {error}"
                )
                if not self.is_preview:
                    raise PluginError(message) from error
                # A preview goes on without the plan: MkDocs would show nothing until it is mended.
                log.exception(message)
        return done

    def _stop_if_strict(
        self, findings: list[Finding], complaints: int, config: MkDocsConfig
    ) -> None:
        """Stop here and not by MkDocs' own count, which sees nothing when the log is quiet."""
        wrong = [finding for finding in findings if finding.severity is not Severity.NOTE]
        if config.strict and not self.is_preview and (wrong or complaints):
            what = summarise(wrong) if wrong else "files that are left out"
            raise PluginError(f"The plans have {what}, and this build is strict.")

    def _write(
        self, done: dict[PlanSource, DonePlan], config: MkDocsConfig
    ) -> tuple[GeneratedFile, ...]:
        templates = open_templates(tuple(map(Path, config.theme.dirs)))
        writer = Writer(templates, directory_urls=config.use_directory_urls)
        made = [write_gallery([plan.pages.card for plan in done.values()], writer)]
        for source in done:
            made += self.workshop.write(source, writer)
        return tuple(made)

    def _add_files(self, files: Files, config: MkDocsConfig) -> None:
        self.blocks.clear()
        in_nav = [made.src_uri for made in self.made if made.is_in_nav]
        has_place = config.nav is None
        if config.nav is not None:
            config.nav, has_place = expand_nav(config.nav, in_nav)
        for made in self.made:
            if files.get_file_from_path(made.src_uri) is not None:
                log.info("%s is in the docs folder already; that one is kept.", made.src_uri)
                continue
            self.blocks[made.src_uri] = made.blocks
            is_shown = made.is_in_nav and has_place
            files.append(_make_file(made, config, is_in_nav=is_shown))


def _make_file(made: GeneratedFile, config: MkDocsConfig, *, is_in_nav: bool) -> File:
    is_page = made.src_uri.endswith(".md")
    inclusion = InclusionLevel.INCLUDED if is_in_nav or not is_page else InclusionLevel.NOT_IN_NAV
    file = File.generated(config, made.src_uri, content=made.content, inclusion=inclusion)
    if made.place is not None and config.config_file_path:
        plan = Path(config.config_file_path).absolute().parent / made.place.file
        # "Edit this page" is to open the plan.
        file.edit_uri = Path(os.path.relpath(plan, config.docs_dir)).as_posix()
    return file


def _page_of(files: Files, src_uri: str) -> Page | None:
    file = files.get_file_from_path(src_uri) if src_uri else None
    return file.page if file is not None else None


def _home(config: MkDocsConfig) -> Path:
    """The folder of mkdocs.yml."""
    return Path(config.config_file_path or "mkdocs.yml").absolute().parent


def _log_findings(findings: Iterable[Finding], texts: dict[str, str]) -> None:
    for finding in findings:
        text = texts.get(finding.place.file, "")
        _LOG_BY_SEVERITY[finding.severity](format_finding(finding, text))
