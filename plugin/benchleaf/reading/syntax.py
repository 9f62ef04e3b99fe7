"""YAML's own errors in words that help a plan author.

Takes an error of the YAML parser and the text, gives a finding with line and column.
"""

from __future__ import annotations

import re
from typing import Final

import yaml

from benchleaf.findings import Finding, Place, Severity
from benchleaf.reading.desk import THE_PLAN
from benchleaf.reading.showing import show

_QUOTE: Final = "Put the value in quotes."
_LINE_UP: Final = "Line the keys up in one column, each with a colon and a space after it."
_FAULTS: Final = (
    (
        "mapping values are not allowed",
        "a colon stands where none can be read",
        "Line the keys up in one column, and quote a value that holds `: `.",
    ),
    (
        "expected ',' or",
        "a bracket is left open, or a comma is missing",
        "Close the bracket, and put a comma between its values.",
    ),
    (
        "node content",
        "a value is missing inside a bracket, or the bracket is left open",
        "Close the bracket, and give each key a value.",
    ),
    ("end of stream", "a quote is left open", "Close the quote."),
    ("document separator", "a quote is left open", "Close the quote."),
    ("expected ':'", "a key has no colon", _LINE_UP),
    ("expected key", "a key stands out of line", _LINE_UP),
    ("expected <block end>", "a key stands out of line", _LINE_UP),
    ("expected '-'", "a dash of a list is missing or stands out of line", "Line the dashes up."),
    (
        "sequence entries are not allowed",
        "a dash stands where no list can begin",
        "Begin a list on a line of its own, and quote a value that begins with `- `.",
    ),
    (
        "escape",
        "a backslash in double quotes is followed by a sign that it has no meaning with",
        "Put the value in single quotes.",
    ),
    ("cannot start any token", "a value begins with a sign that YAML keeps for itself", _QUOTE),
    (
        "alphabetic or numeric",
        "a value begins with `&` or `*`, which YAML keeps for itself",
        _QUOTE,
    ),
    ("tag", "a value begins with `!`, which YAML keeps for itself", _QUOTE),
)
"""What the parsers' words hold, the fault in ours, and the next act; the first that fits serves.

The C parser and the other one word their errors differently; the findings must not."""
_LAST_RESORT: Final = "Needed: YAML; look for a missing colon, quote or bracket near this line."


def describe_syntax_error(error: yaml.YAMLError, text: str, file: str) -> Finding:
    """Turn an error of the YAML parser into a finding."""
    line, column = _find_place(error)
    lines = text.splitlines()
    source = lines[line - 1] if line <= len(lines) else ""
    message, remedy = _explain(error, source, lines[_first_line(error, line) - 1 : line])
    return Finding(
        code="R005",
        severity=Severity.ERROR,
        place=Place(file=file, line=line, column=column),
        subject=THE_PLAN,
        message=message,
        remedy=remedy,
    )


def _explain(error: yaml.YAMLError, source: str, around: list[str]) -> tuple[str, str]:
    if re.match(r" *\t", source):
        return "a tab stands before the key", "Indent with spaces; YAML takes no tabs there."
    problem = str(getattr(error, "problem", None) or "it ends too soon")
    if any(_has_cutting_comment(line) for line in around):
        message = "a `#` after a space starts a comment, and the bracket before it is left open"
        return message, "Put the value that holds `#` in quotes, or leave the `#` out."
    for words, message, remedy in _FAULTS:
        if words in problem:
            return message, remedy
    return f"the YAML cannot be read: {show(problem)}", _LAST_RESORT


def _has_cutting_comment(line: str) -> bool:
    """Tell whether a bracket opened on the line is left open before a comment starts."""
    before, mark, _ = line.partition(" #")
    opened = sum(before.count(sign) for sign in "[{")
    return bool(mark) and opened > sum(before.count(sign) for sign in "]}")


def _first_line(error: yaml.YAMLError, line: int) -> int:
    # The parser notes a fault after the line that holds it: one line back is looked at too.
    context = getattr(error, "context_mark", None)
    first = context.line + 1 if context is not None else line
    return max(1, min(first, line - 1, line))


def _find_place(error: yaml.YAMLError) -> tuple[int, int]:
    context, problem = (getattr(error, f"{name}_mark", None) for name in ("context", "problem"))
    # An open quote is found out at the end of the file; where it was opened is what helps.
    is_quote = "quoted scalar" in str(getattr(error, "context", ""))
    mark = context if is_quote else problem or context
    # Only errors of decoding have no mark, and the text is checked before it is parsed.
    return (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
