"""Plans worked out, drawn and written, and kept for the next build of the same site.

The one place of the site that keeps something: results by the content that they came from. It lives
as long as the plugin does, which is one build, or all the rebuilds of a preview.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from benchleaf.buying.prices import PriceList
from benchleaf.drawing.scene import Scene
from benchleaf.findings import Finding
from benchleaf.pipeline import WorkedPlan
from benchleaf.site.emit import Writer
from benchleaf.site.pages import view_plan, write_plan
from benchleaf.site.records import GeneratedFile, PlanPages, PlanSource
from benchleaf.shops import USUAL_SHOP, Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class DonePlan:
    """A plan's findings and pages."""

    findings: tuple[Finding, ...]
    pages: PlanPages


@dataclass(slots=True)
class Workshop:
    """Works plans out, unless the same text was worked before."""

    work: Callable[[str, str, Shop, tuple[Shop, ...]], WorkedPlan]
    """Text, file name, the site's own shop and others to a worked plan."""
    draw: Callable[[WorkedPlan], Mapping[str, Scene]]
    """A worked plan to its drawings by name."""
    prices: PriceList | None = None
    """What things cost, where the site has a price file."""
    here: Shop = USUAL_SHOP
    """The site's own shop."""
    others: tuple[Shop, ...] = ()
    """Shops that pages tell the other way for."""
    _done: dict[str, DonePlan] = field(default_factory=dict)
    _written: dict[tuple[str, str, bool], tuple[GeneratedFile, ...]] = field(default_factory=dict)
    _used: set[str] = field(default_factory=set)

    def do(self, source: PlanSource) -> DonePlan:
        """Work a plan out and view its pages."""
        key = self._digest(source)
        self._used.add(key)
        if key not in self._done:
            worked = self.work(source.text, source.file, self.here, self.others)
            scenes = self.draw(worked) if worked.is_sound else {}
            pages = view_plan(source, worked, scenes, self.prices)
            self._done[key] = DonePlan(findings=worked.findings, pages=pages)
        return self._done[key]

    def write(self, source: PlanSource, writer: Writer) -> tuple[GeneratedFile, ...]:
        """Write a plan's files."""
        key = (self._digest(source), writer.templates.digest, writer.directory_urls)
        if key not in self._written:
            self._written[key] = write_plan(self.do(source).pages, writer)
        return self._written[key]

    def clear_up(self) -> None:
        """Let go of what was not asked for since the last clearing up."""
        self._done = {key: done for key, done in self._done.items() if key in self._used}
        self._written = {key: made for key, made in self._written.items() if key[0] in self._used}
        self._used.clear()

    def _digest(self, source: PlanSource) -> str:
        """What a plan's pages come from, in one word."""
        told = repr((self.prices, self.here, self.others))
        texts = (source.name, source.file, source.text, told)
        return hashlib.sha256("\0".join(texts).encode()).hexdigest()
