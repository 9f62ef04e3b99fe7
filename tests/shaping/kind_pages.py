"""The pages of the kinds of shaping, written from their docstrings and drawn from small plans.

Run this file to write them into docs/shaping; tests hold that they are there as written. Look at
every drawing that changed.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Mapping
from importlib import import_module
from pathlib import Path
from typing import Final

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

import yaml  # noqa: E402
from tests.small_plans import work_small_plan  # noqa: E402

from benchleaf.drawing.part_sheet import draw_part_sheet  # noqa: E402
from benchleaf.drawing.svg import write_svg  # noqa: E402
from benchleaf.joinery.pages import SECTIONS, split_docstring  # noqa: E402
from benchleaf.reading.table import option_shape  # noqa: E402
from benchleaf.shaping import SHAPING_KINDS  # noqa: E402
from benchleaf.shaping.records import ShapingKind  # noqa: E402

PAGES = ROOT / "docs" / "shaping"
_APRON: Final = "0 0 0 to 26 3/4 4"
_LEG: Final = "0 0 0 to 1-3/4 1-3/4 28"
_SEAT: Final = "0 0 0 to 14 12 1"
EXAMPLES: Final[Mapping[str, tuple[str, str, list[dict[str, object]]]]] = {
    "arc": ("apron", _APRON, [{"arc": "bottom", "chord": 22, "rise": "1-1/2"}]),
    "chamfer": ("leg", _LEG, [{"chamfer": ["left front", "right front"], "size": "3/16"}]),
    "circle": ("seat", "0 0 0 to 13 13 1", [{"circle": "top", "diameter": "12-1/2"}]),
    "cove": ("apron", _APRON, [{"cove": "bottom front", "radius": "3/8"}]),
    "curve": (
        "apron",
        _APRON,
        [
            {
                "curve": "bottom",
                "through": ["0 x 0", "5 x 1-1/4", "13 x 1/2", "21 x 1-1/4", "26 x 0"],
            }
        ],
    ),
    "cut-out": (
        "panel",
        "0 0 0 to 24 3/4 16",
        [{"cut-out": "front", "size": "14 x 8", "corner": 1}],
    ),
    "ellipse": ("seat", _SEAT, [{"ellipse": "top"}]),
    "hand hole": ("end", "0 0 0 to 14 3/4 9", [{"hand hole": "front", "at": "7 x 6-1/2"}]),
    "hole": (
        "apron",
        _APRON,
        [{"hole": "front", "diameter": "3/4", "depth": "1/2", "at": ["4 x 2", "22 x 2"]}],
    ),
    "notch": ("apron", _APRON, [{"notch": "bottom", "width": 18, "depth": "1-1/2", "at": 4}]),
    "outline": (
        "seat",
        _SEAT,
        [
            {
                "outline": "top",
                "through": ["2 x 1", "7 x 1-1/2", "12 x 1", "13 x 6", "10 x 11", "4 x 11", "1 x 6"],
            }
        ],
    ),
    "round over": (
        "apron",
        _APRON,
        [
            {"arc": "bottom", "chord": 22, "rise": "1-1/2"},
            {"round over": ["bottom front", "bottom back"], "radius": "1/4"},
        ],
    ),
    "slot": ("apron", _APRON, [{"slot": "front", "size": "6 x 1/2", "at": "13 x 2"}]),
    "taper": ("leg", _LEG, [{"taper": ["right", "back"], "from": 6, "to": "7/8"}]),
}


def stem(code: str) -> str:
    """The name of a kind's module and page."""
    return code.replace(" ", "_").replace("-", "_")


def write_page(code: str) -> str:
    """A kind's page."""
    kind = SHAPING_KINDS[code]
    docstring = import_module(f"benchleaf.shaping.{stem(code)}").__doc__ or ""
    sentence, sections = split_docstring(docstring)
    what = sentence.partition(": ")[2]
    part, box, entries = EXAMPLES[code]
    shown = yaml.safe_dump(
        {"parts": {part: {"shape": entries}}}, sort_keys=False, default_flow_style=None, width=90
    )
    lines = [f"# {kind.title}", "", f"{what[0].upper()}{what[1:]}", ""]
    lines += [f"![The part sheet of {_article(part)}, {code} and all]({stem(code)}.svg)", ""]
    lines += ["## In the plan", "", "```yaml", *shown.replace("'", "").splitlines(), "```", ""]
    lines += [
        f"The drawing is that of a part {box.replace('0 0 0 to ', '').replace(' ', ' x ')} in.",
        "",
    ]
    lines += _options(kind)
    lines += ["## Dimensions", "", *_dimensions(sections["Dimensions"])]
    for name in SECTIONS[1:]:
        lines += [f"## {name}", "", _raised(" ".join(sections[name].split())), ""]
    return "\n".join(lines).rstrip() + "\n"


def _article(part: str) -> str:
    return f"an {part}" if part[0] in "aeiou" else f"a {part}"


def _options(kind: ShapingKind) -> list[str]:
    rows = [f"| `{o.name}` | {option_shape(o).needed} | {o.help} |" for o in kind.words.options]
    lead = f"`{kind.code}` names {kind.words.place}."
    return [lead, "", "| Option | Takes | What it sets |", "| --- | --- | --- |", *rows, ""]


def _dimensions(body: str) -> list[str]:
    rows = [" ".join(row.split()) for row in re.split(r"\n(?=\S)", body)]
    lines = ["| Dimension | Rule | Source |", "| --- | --- | --- |"]
    for row in rows:
        name, _, rest = row.partition(": ")
        rule, _, source = rest.partition(". Source: ")
        lines.append(f"| {name} | {_raised(rule[0].upper() + rule[1:])}. | {source} |")
    return [*lines, ""]


def _raised(text: str) -> str:
    """Squares as such: `radius2` is written `radius²`."""
    return re.sub(r"(?<=[a-z])2\b", "\N{SUPERSCRIPT TWO}", text)


def draw_example(code: str) -> str:
    """The drawing of a kind's example."""
    part, box, entries = EXAMPLES[code]
    joinery, said = work_small_plan(
        {"units": "in", "parts": {part: {"box": box, "of": "maple", "shape": entries}}}
    )
    assert [str(finding) for finding in said] == []
    return write_svg(draw_part_sheet(joinery.shapes[0], joinery))


def write_index() -> str:
    """The list of all kinds."""
    rows = [
        f"- [{kind.title}]({stem(code)}.md): {kind.words.help}"
        for code, kind in SHAPING_KINDS.items()
    ]
    head = (
        "# Shaping\n\nWhat is done to a part by itself stands under its `shape`, by the faces and "
        "edges that it is\ndone on; see [the plan format](../plan-format.md#shaping).\n\n"
    )
    foot = (
        "\n\nThere is no kerf bending: how far a kerfed board bends before it breaks hangs on the "
        "wood, its\nmoisture and the saw, and no rule was found that is right to build by.\n"
    )
    return head + "\n".join(rows) + foot


def main() -> None:
    """Write every page and drawing."""
    PAGES.mkdir(exist_ok=True)
    for code in SHAPING_KINDS:
        (PAGES / f"{stem(code)}.md").write_text(write_page(code), "utf-8")
        (PAGES / f"{stem(code)}.svg").write_text(draw_example(code), "utf-8", newline="\n")
    (PAGES / "index.md").write_text(write_index(), "utf-8")


if __name__ == "__main__":
    main()
