"""A pipeline to stand in for the real one, so that the site's own behaviour shows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace

import pytest

import handmade_plan as handmade
from benchleaf.drawing.scene import Scene
from benchleaf.findings import Finding, Place, Severity
from benchleaf.pipeline import WorkedPlan
from sites import forget_plugins


class StandIn:
    """Works by the first word of a plan's text: good, warn, note, bad or crash."""

    def __init__(self) -> None:
        self.worked: list[str] = []
        self.plan = handmade.make_worked()

    def work(self, text: str, file: str, *shops: object) -> WorkedPlan:  # noqa: ARG002
        self.worked.append(file)
        word = text.partition("\n")[0]
        if word == "crash":
            raise ZeroDivisionError("a saw of no teeth")
        severity = {"bad": Severity.ERROR, "warn": Severity.WARNING, "note": Severity.NOTE}
        findings = tuple(
            make_finding(file, severity[word], line) for line in (2, 3) if word in severity
        )
        if word == "bad":
            return WorkedPlan(file=file, findings=findings)
        return replace(self.plan, file=file, findings=findings)

    def draw(self, worked: WorkedPlan) -> Mapping[str, Scene]:  # noqa: ARG002
        return handmade.SCENES


def make_finding(file: str, severity: Severity, line: int) -> Finding:
    return Finding(
        code="P101",
        severity=severity,
        place=Place(file=file, line=line, column=3),
        subject="parts.leg",
        message=f"something on line {line}",
        remedy="Needed: something else.",
    )


@contextmanager
def stand_in_for_pipeline() -> Iterator[StandIn]:
    """Put a stand-in where the plugin and the command line look for the pipeline."""
    stand_in = StandIn()
    with pytest.MonkeyPatch.context() as patch:
        for module in ("benchleaf.site.plugin", "benchleaf.__main__"):
            patch.setattr(f"{module}.work_plan", stand_in.work)
            patch.setattr(f"{module}.draw_plan", stand_in.draw)
        # Without the theme's word on the next major version of MkDocs.
        patch.setenv("NO_MKDOCS_2_WARNING", "1")
        forget_plugins()
        yield stand_in
        forget_plugins()
