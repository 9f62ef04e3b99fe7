"""YAML's own errors in words that help a plan author.

Takes an error of the YAML parser and the text, gives a finding with line and column.
"""

from __future__ import annotations

import re
from typing import Final

import yaml

from benchleaf.findings import Finding, Place, Severity

_REMEDIES: Final = (
    ("mapping values are not allowed", "Quote a value that holds `: `, and line keys up."),
    ("expected ',' or", "Close the bracket, and put a comma between its values."),
    ("did not find expected node content", "Close the bracket, and give each key a value."),
    ("end of stream", "Close the quote that is still open."),
    ("document separator", "Close the quote that is still open."),
    ("expected ':'", "Put a colon and a space after the key, and line keys up."),
    ("could not find expected", "Put a colon and a space after the key, and line keys up."),
    ("did not find expected key", "Line the keys up in one column."),
    ("expected <block end>", "Line the keys up in one column."),
    ("did not find expected '-'", "Line the dashes of the list up in one column."),
    ("block sequence entries are not allowed", "Start the list on a line of its own."),
    ("escape", "Put the value in single quotes; in double quotes `\\` has a meaning."),
    ("cannot start any token", "Put the value in quotes."),
    ("anchor", "Put the value in quotes: it starts with `&` or `*`."),
    ("alias", "Put the value in quotes: it starts with `&` or `*`."),
    ("tag", "Put the value in quotes: it starts with `!`."),
)
"""What the parser's words hold, and the next act; the first that fits serves."""


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
        subject="plan",
        message=message,
        remedy=remedy,
    )


def _explain(error: yaml.YAMLError, source: str, around: list[str]) -> tuple[str, str]:
    if re.match(r" *\t", source):
        return "a tab stands before the key", "Indent with spaces; YAML takes no tabs there."
    problem = str(getattr(error, "problem", None) or "it ends too soon")
    # The scanner says `found character '\t'`; what it shows of the text is not repeated.
    problem = re.sub(r" '\\?.*?' that cannot", " that cannot", problem)
    message = f"the YAML cannot be read: {problem}"
    cut = next((line for line in around if _has_cutting_comment(line)), None)
    if cut is not None:
        return message, "Quote the value: `#` after a space starts a comment, to the end of line."
    return message, next((act for words, act in _REMEDIES if words in problem), _LAST_RESORT)


_LAST_RESORT: Final = "Needed: YAML; look for a missing colon, quote or bracket near this line."


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
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    # Only errors of decoding have no mark, and the text is checked before it is parsed.
    return (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
