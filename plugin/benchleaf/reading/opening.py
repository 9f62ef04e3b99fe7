"""The one place that opens plan files.

Takes a path, gives the text, or a finding that says why there is none. Everything after it is pure.
"""

from __future__ import annotations

from pathlib import Path

from benchleaf.findings import Finding, Place, Severity
from benchleaf.reading.desk import PLAN_FILE, FileKind
from benchleaf.reading.nodes import MAX_CHARACTERS

# UTF-8 takes at most four bytes for a character (RFC 3629, section 3), and a mark may come first.
_MAX_BYTES = 4 * MAX_CHARACTERS + 3


def open_plan(
    path: Path, shown: str | None = None, kind: FileKind = PLAN_FILE
) -> tuple[str | None, tuple[Finding, ...]]:
    """Read the text of a plan file, or of another kind of file that is written like one.

    Args:
        path: The file.
        shown: Its path as findings should show it; else as given, with forward slashes.
        kind: How findings speak of it.

    Returns:
        The text without a byte order mark, or None; and what is wrong with the file.
    """
    file = shown if shown is not None else path.as_posix()
    try:
        with path.open("rb") as stream:
            raw = stream.read(_MAX_BYTES + 1)
    except OSError as error:
        reason = (error.strerror or "it is no file").lower()
        message = f"{kind.whole} file cannot be opened: {reason}"
        return None, (
            _refuse(kind, "R001", (file, 1), message, remedy="Check its path and its rights."),
        )
    if len(raw) > _MAX_BYTES:
        message = f"{kind.whole} file has more than {_MAX_BYTES} bytes"
        remedy = f"Needed: at most {MAX_CHARACTERS} characters. {kind.too_much}"
        return None, (_refuse(kind, "R003", (file, 1), message, remedy=remedy),)
    try:
        return raw.decode("utf-8-sig"), ()
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        message = f"{kind.whole} file is not in UTF-8 from here on"
        remedy = "Save it as UTF-8, as editors offer when saving."
        return None, (_refuse(kind, "R002", (file, line), message, remedy=remedy),)


def _refuse(
    kind: FileKind, code: str, at: tuple[str, int], message: str, *, remedy: str
) -> Finding:
    return Finding(
        code=code,
        severity=Severity.ERROR,
        place=Place(file=at[0], line=at[1], column=1),
        subject=kind.whole,
        message=message,
        remedy=remedy,
    )
