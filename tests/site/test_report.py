"""Findings in words: what a terminal, a log and GitHub are given."""

from __future__ import annotations

from dataclasses import replace

from benchleaf.findings import Finding, Place, Severity
from benchleaf.site.report import (
    annotate,
    format_finding,
    quote_place,
    summarise,
    write_job_summary,
)

FINDING = Finding(
    code="J104",
    severity=Severity.ERROR,
    place=Place(file="plans/hall-bench.plan.yml", line=2, column=9),
    subject="joints[1]",
    message="a 3/8 tenon is wider than the 5/16 left between the grooves",
    remedy="Needed: at most 5/16. Narrow the tenon or move the groove.",
)
TEXT = "plan: x\n  size: 3/8\n"


def test_finding_names_place_and_shows_the_line_with_a_caret() -> None:
    assert format_finding(FINDING, TEXT) == (
        "plans/hall-bench.plan.yml:2:9: error: joints[1]: "
        "a 3/8 tenon is wider than the 5/16 left between the grooves\n"
        " 2 |   size: 3/8\n"
        "   |         ^\n"
        "  Needed: at most 5/16. Narrow the tenon or move the groove.   [J104]"
    )


def test_finding_on_a_line_that_is_not_there_goes_without_a_quote() -> None:
    away = replace(FINDING, place=replace(FINDING.place, line=40))
    assert "|" not in format_finding(away, TEXT)


def test_long_line_is_quoted_round_its_place() -> None:
    quote = quote_place("x" * 500 + "HERE" + "y" * 500, replace(FINDING.place, line=1, column=501))
    assert quote is not None
    assert quote.text[quote.caret : quote.caret + 4] == "HERE"
    assert len(quote.text) <= 80


def test_no_line_of_a_report_can_be_a_command_of_the_runner() -> None:
    # actions/runner takes a line for a command that starts with `::`, blanks aside, or holds `##[`.
    text = "::add-mask::x\n"
    hostile = replace(
        FINDING,
        place=replace(FINDING.place, line=1, column=1),
        subject="::error::x",
        message="##[error]y\n::stop-commands::z",
        remedy="Needed:\r\n::debug::w",
    )
    for line in format_finding(hostile, text).splitlines():
        assert not line.lstrip().startswith("::")
        assert "##[" not in line


def test_terminal_controls_do_not_reach_the_terminal() -> None:
    hostile = replace(FINDING, message="red \x1b[31m and \x07 bell")
    report = format_finding(hostile, "\x1b]0;title\x07\n  \x1b[2J\n")
    assert all(line.isprintable() for line in report.splitlines())


def test_annotation_escapes_what_github_would_read() -> None:
    # GitHub Docs, workflow commands; escapes as in actions/toolkit, command.ts.
    odd = replace(
        FINDING,
        place=replace(FINDING.place, file="a,b:c.yml"),
        message="50 % of\nit",
        remedy="Add.",
    )
    assert annotate([odd]) == (
        "::error file=a%2Cb%3Ac.yml,line=2,col=9,title=J104 joints[1]::50 %25 of%0Ait%0AAdd.",
    )


def test_ten_of_each_kind_are_annotated_and_all_are_in_the_summary() -> None:
    warning = replace(FINDING, severity=Severity.WARNING)
    many = [replace(kind, code=f"J{n}") for n in range(15) for kind in (FINDING, warning)]
    commands = annotate(many)
    assert [sum(c.startswith(f"::{word} ") for c in commands) for word in ("error", "warning")] == [
        10,
        10,
    ]
    assert write_job_summary(many).count("\n- ") == 30


def test_job_summary_is_inert() -> None:
    summary = write_job_summary([replace(FINDING, message="<img src=x> | [a](b) `c`")])
    assert "<img" not in summary
    assert "[a]" not in summary


def test_count_in_words() -> None:
    warning = replace(FINDING, severity=Severity.WARNING)
    assert summarise([FINDING, FINDING, warning]) == "2 errors and 1 warning"
    assert summarise([]) == "nothing to say"
