"""Findings as people read them: one by one with the line of the plan, and as a count.

Takes findings and the plan's text; gives plain text for a terminal, a log or a page, and the
commands that make GitHub show them beside the lines. Must not know logs, MkDocs or the disk.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.findings import Finding, Place, Severity
from benchleaf.site.escaping import clean_text, escape_text
from benchleaf.site.show import show_count, show_list

# chosen: a quoted line fits an 80-column terminal with its gutter.
_QUOTE_WIDTH: Final = 72
# GitHub Docs, actions/toolkit problem-matchers: 10 annotations of a kind are shown for a step.
_ANNOTATIONS_OF_A_KIND: Final = 10
_GITHUB_WORDS: Final = {
    Severity.ERROR: "error",
    Severity.WARNING: "warning",
    Severity.NOTE: "notice",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Quote:
    """A line of a plan, and where in it to look."""

    line: int
    text: str
    """The line, or the stretch of it round the place, without unseen characters."""
    caret: int
    """Characters of `text` before the place."""

    @property
    def pointer(self) -> str:
        """A caret below the place."""
        return " " * self.caret + "^"


def quote_place(text: str, place: Place) -> Quote | None:
    """Quote the line of a place, or nothing where the text has no such line."""
    lines = text.splitlines()
    if not 1 <= place.line <= len(lines):
        return None
    line = "".join(c if c.isprintable() else " " for c in lines[place.line - 1])
    caret = min(place.column - 1, len(line))
    # Long lines are shown from a little before the place, so that the caret stays in view.
    start = 0 if caret < _QUOTE_WIDTH else caret - _QUOTE_WIDTH // 2
    return Quote(line=place.line, text=line[start : start + _QUOTE_WIDTH], caret=caret - start)


def format_finding(finding: Finding, text: str) -> str:
    """Write a finding in full: place, severity, what, the line with a caret, the remedy, the code.

    Every line but the first starts with a gutter, so that no text of a plan stands at a line's
    start, where a build service would take it for a command.
    """
    head = f"{finding.place}: {finding.severity}: {finding.subject}: {finding.message}"
    lines = [defuse(head)]
    quote = quote_place(text, finding.place)
    if quote:
        gutter = len(str(quote.line))
        lines += [
            f" {quote.line} | {_break_commands(quote.text)}",
            f" {'':{gutter}} | {quote.pointer}",
        ]
    lines.append(f"  {defuse(finding.remedy)}   [{finding.code}]")
    return "\n".join(lines)


def defuse(text: str) -> str:
    """Make a line of text safe to print: no control characters, no command of a build service."""
    line = text.strip() if text.isprintable() else clean_text(text)
    line = _break_commands(line)
    return line.replace("::", ": :", 1) if line.startswith("::") else line


def _break_commands(text: str) -> str:
    # actions/runner takes `##[` anywhere in a line, and `::` at its start, for a command
    # (from memory).
    return text.replace("##[", "## [")


def annotate(findings: Sequence[Finding]) -> tuple[str, ...]:
    """Write GitHub workflow commands, as many of each kind as GitHub shows."""
    shown: Counter[Severity] = Counter()
    commands = []
    for finding in findings:
        shown[finding.severity] += 1
        if shown[finding.severity] <= _ANNOTATIONS_OF_A_KIND:
            commands.append(_annotation(finding))
    return tuple(commands)


def _annotation(finding: Finding) -> str:
    # GitHub Docs, workflow commands: properties after the command, the message after `::`.
    place = finding.place
    title = _escape_property(f"{finding.code} {finding.subject}")
    position = f"file={_escape_property(place.file)},line={place.line},col={place.column}"
    message = _escape_message(f"{finding.message}\n{finding.remedy}")
    return f"::{_GITHUB_WORDS[finding.severity]} {position},title={title}::{message}"


def _escape_message(text: str) -> str:
    # actions/toolkit, command.ts: percent, carriage return and line feed.
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _escape_property(text: str) -> str:
    # actions/toolkit, command.ts: in properties also the colon and the comma.
    return _escape_message(text).replace(":", "%3A").replace(",", "%2C")


def write_job_summary(findings: Sequence[Finding]) -> str:
    """Write all findings as Markdown, for the page of a job, where ten annotations are not all."""
    lines = [f"Plans: {summarise(findings)}", ""]
    for finding in findings:
        what = f"{finding.place} {finding.subject}: {finding.message} {finding.remedy}"
        lines.append(f"- **{finding.severity}** {escape_text(what)} ({finding.code})")
    return "\n".join(lines) + "\n"


def summarise(findings: Iterable[Finding]) -> str:
    """Count findings in words: `2 errors and 1 warning`, or `nothing to say`."""
    counts = Counter(finding.severity for finding in findings)
    words = [show_count(counts[kind], kind.value) for kind in Severity if counts[kind]]
    return show_list(words) or "nothing to say"
