"""The plans of a folder written as a tree of Markdown pages, for any generator of sites.

Takes folders; writes files. It replaces files of the same name and deletes none.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from benchleaf.site.addresses import STYLE_SHEET
from benchleaf.site.records import GeneratedFile
from benchleaf.site.templating import THEME_DIR


def write_files(folder: Path, made: Iterable[GeneratedFile]) -> int:
    """Write files below a folder, with the style sheet; give how many."""
    style_sheet = GeneratedFile(src_uri=STYLE_SHEET, body=(THEME_DIR / STYLE_SHEET).read_bytes())
    count = 0
    for file in (*made, style_sheet):
        path = folder / file.src_uri
        path.parent.mkdir(parents=True, exist_ok=True)
        content = file.content
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        count += 1
    return count
