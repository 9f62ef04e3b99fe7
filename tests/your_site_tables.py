"""The tables of docs/your-site.md, written from the style sheet and the fragments.

Run this file to write them into the page; a test holds that they are there as written.
"""

from __future__ import annotations

import re
from pathlib import Path

from benchleaf.reading.containers import Record
from benchleaf.shops import CODES
from benchleaf.shops.table import MACHINES, SHOP, MachineShape
from benchleaf.site.addresses import STYLE_SHEET
from benchleaf.site.templating import THEME_DIR

PAGE = Path(__file__).parents[1] / "docs" / "your-site.md"
_MARK = re.compile(
    r"<!-- (?P<what>variables|fragments|shop: [a-z ]+) -->\n.*?<!-- end -->\n", re.DOTALL
)
_MEANINGS = {
    "--bl-ink": "words",
    "--bl-soft": "words that matter less, and boxes",
    "--bl-ground": "what words stand on",
    "--bl-shade": "the shadow at the edge of what scrolls",
    "--bl-tint": "ground of settings and quotes",
    "--bl-line": "rules and frames",
    "--bl-accent": "links, ticks and checks",
    "--bl-mark": "ground of parts' marks and tools",
    "--bl-danger": "DANGER, and errors",
    "--bl-warning": "WARNING, and warnings",
    "--bl-caution": "CAUTION",
    "--bl-notice": "NOTICE",
}


def written() -> str:
    """The page's text with its tables written anew."""
    bodies = {
        "variables": _variables(),
        "fragments": _fragments(),
        "shop: a shop": _keys(SHOP),
        "shop: the machines": _machines(),
        "shop: codes": _codes(),
    }
    return _MARK.sub(
        # Blank lines keep Markdown from taking the table for part of the comment.
        lambda mark: f"<!-- {mark['what']} -->\n\n{bodies[mark['what']]}\n<!-- end -->\n",
        PAGE.read_text("utf-8"),
    )


def _variables() -> str:
    sheet = (THEME_DIR / STYLE_SHEET).read_text("utf-8")
    root = sheet[sheet.index(":root {") : sheet.index("}")]
    lines = ["| variable | colour of | by day |", "|---|---|---|"]
    for name, value in re.findall(r"(--bl-[a-z]+): (.+);", root):
        lines.append(f"| `{name}` | {_MEANINGS[name]} | `{value}` |")
    return "\n".join(lines) + "\n"


def _fragments() -> str:
    lines = ["| fragment | lays out | blocks |", "|---|---|---|"]
    for path in sorted((THEME_DIR / "benchleaf").glob("*.html")):
        text = path.read_text("utf-8")
        named = re.match(r"\{# (.+?)\. view: ", text)
        if named:
            names = re.findall(r"\{% block (\w+)(?: scoped)? %\}", text)
            blocks = ", ".join(f"`{block}`" for block in names)
            lines.append(f"| `{path.name}` | {named[1]} | {blocks or 'none'} |")
    return "\n".join(lines) + "\n"


def _keys(record: Record) -> str:
    lines = ["| key | value | what it says | left out |", "|---|---|---|---|"]
    for key in record.keys:
        left_out = "**needed**" if key.required else key.default
        needed = key.shape.needed.replace("|", "/")
        if key.name == "machines":
            needed = "[machines](#machines)"
        lines.append(f"| `{key.name}` | {needed} | {key.help} | {left_out} |")
    return "\n".join(lines) + "\n"


def _machines() -> str:
    lines = ["| machine | key | value | what it says | left out |", "|---|---|---|---|---|"]
    for machine in MACHINES.keys:
        if not isinstance(machine.shape, MachineShape):
            lines.append(f"| `{machine.name}` | - | `yes` or `no` | {machine.help} | not there |")
            continue
        for key in machine.shape.record.keys:
            needed = key.shape.needed.partition(",")[0]
            value = f"{needed} | {key.help} | {key.default}"
            lines.append(f"| `{machine.name}` | `{key.name}` | {value} |")
    return "\n".join(lines) + "\n"


def _codes() -> str:
    rows = "".join(f"| {code} | {meaning} |\n" for code, meaning in CODES.items())
    return f"| code | what it means |\n|---|---|\n{rows}"


if __name__ == "__main__":
    PAGE.write_text(written(), "utf-8")
