"""The public page of a joint kind, written from its own docstring and words.

Takes a kind and its module's docstring, gives Markdown. Knows no single family, and no files.
"""

from __future__ import annotations

import re
import textwrap

from benchleaf.joinery.records import JointKind
from benchleaf.reading.vocabulary import Option, OptionType

SECTIONS = ("Dimensions", "Limits", "Tools", "Source")
"""Sections that the docstring of every kind has, in this order."""

_TYPES = {
    OptionType.LENGTH: "a length",
    OptionType.LENGTH_LIST: "a length, or a list of lengths",
    OptionType.COUNT: "a whole number",
    OptionType.YES_NO: "yes or no",
    OptionType.CHOICE: "one of",
    OptionType.CHOICE_LIST: "one or more of",
    OptionType.FASTENER: "gauge x length, such as 8 x 1-1/4",
    OptionType.ROUND: "diameter x length, such as 3/8 x 2",
    OptionType.TEXT: "a word",
}


def write_page(kind: JointKind, docstring: str, *, figure: str = "") -> str:
    """Write a kind's page.

    Args:
        kind: The kind.
        docstring: Its module's docstring: `Name: what it is.`, then the sections, indented.
        figure: Address of a drawing of the joint; none where empty.

    Returns:
        Markdown, ending in a line feed.
    """
    sentence, sections = split_docstring(docstring)
    what = sentence.partition(": ")[2]
    lines = [f"# {kind.title}", "", f"{what[0].upper()}{what[1:]}", ""]
    if figure:
        lines += [f"![{kind.title}: the seat, and sections through both parts]({figure})", ""]
    lines += [*_example(kind), *_options(kind)]
    lines += ["## Dimensions", "", *_dimensions(sections["Dimensions"])]
    for name in SECTIONS[1:]:
        lines += [f"## {name}", "", " ".join(sections[name].split()), ""]
    return "\n".join(lines).rstrip() + "\n"


def split_docstring(docstring: str) -> tuple[str, dict[str, str]]:
    r"""Split a kind's docstring into its sentence and its sections.

    >>> split_docstring("One: two.\n\nLimits:\n    None.\n")
    ('One: two.', {'Limits': 'None.'})
    """
    head, *rest = re.split(r"^([A-Z][a-z]+):\n", docstring, flags=re.MULTILINE)
    bodies = (textwrap.dedent(body).strip() for body in rest[1::2])
    return " ".join(head.split()), dict(zip(rest[::2], bodies, strict=True))


def _example(kind: JointKind) -> list[str]:
    words = kind.words
    return [
        "## In the plan",
        "",
        "```yaml",
        "joints:",
        f"  - {kind.code}: [{words.first}, {words.second}]",
        "```",
        "",
    ]


def _options(kind: JointKind) -> list[str]:
    if not kind.words.options:
        return ["It takes no options beside a `note`.", ""]
    rows = [f"| `{o.name}` | {_takes(o)} | {o.help} |" for o in kind.words.options]
    return ["| Option | Takes | What it sets |", "| --- | --- | --- |", *rows, ""]


def _takes(option: Option) -> str:
    words = f" {', '.join(option.choices)}" if option.choices else ""
    return f"{_TYPES[option.type]}{words}"


def _dimensions(body: str) -> list[str]:
    rows = [" ".join(row.split()) for row in re.split(r"\n(?=\S)", body)]
    lines = ["| Dimension | Rule | Source |", "| --- | --- | --- |"]
    for row in rows:
        name, _, rest = row.partition(": ")
        rule, _, source = rest.partition(". Source: ")
        lines.append(f"| {name} | {rule[0].upper()}{rule[1:]}. | {source} |")
    return [*lines, ""]
