"""The page of safety rules, written from the rules, clauses, sources and judgements themselves.

Run this file to write the page; a test holds that it is as written.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from benchleaf.handbook.data_files import read_data_file
from benchleaf.lengths import format_with_unit
from benchleaf.reading.plan import Units
from benchleaf.safety.conditions import (
    Arithmetic,
    Comparison,
    Condition,
    Joined,
    Known,
    Membership,
    Name,
    Negation,
)
from benchleaf.safety.loading import load_rules, load_sources
from benchleaf.safety.records import Rule
from benchleaf.safety.wording import show_mass
from benchleaf.sequencing.facts import FACTS, MEANINGS, FactKind

PAGE = Path(__file__).parents[1] / "docs" / "safety.md"
_HEAD = """\
# Safety

Call-outs come from rules, and a rule is a row of data: when it speaks, what can happen, what to do
about it, where each figure comes from, and the source. A rule looks at one operation's own numbers,
the gap at the fence or the width of the bit, and is silent where they do not call for it.

- At most three call-outs stand on a step, before the action, the most severe first; of two with one
  hazard the one with more to say stands.
- What holds whatever the numbers are stands once, on the set-up card of its tool, with why.
- The finished piece has a card of its own.
- Machine's manual, local codes and licensed work go before all of it. That is said in one place, at
  the top of a plan's safety page and of its printed book.

Signal words have the meaning that ANSI Z535.6 gives them: DANGER will kill or maim, and nothing
here is so; WARNING could kill or maim; CAUTION could hurt; NOTICE is about the work and not about
people. Rules made for employers are cited as the best public measure. They do not bind anybody at
home.
"""
_HEADINGS = {"any": "At every tool", "the piece": "The finished piece"}
_SCOPES = {"step": "on the step", "card": "on the card"}
_SIGNS = {"<": "under", "<=": "at most", ">": "over", ">=": "at least", "==": "", "!=": "not"}
_WORDS_OF = {"*": "times", "/": "divided by", "+": "and", "-": "less"}


def write_page() -> str:
    """The page's text."""
    return "\n".join(
        [
            _HEAD,
            _count(),
            *map(_tool, _by_tool().items()),
            _documents(),
            _disagreements(),
            _left_out(),
            _sources(),
        ]
    )


def _count() -> str:
    rules = load_rules()
    steps = sum(rule.scope == "step" for rule in rules)
    return (
        f"There are {len(rules)} rules: {steps} speak on steps, {len(rules) - steps} on cards. "
        f"They rest on {len(load_sources())} sources.\n"
    )


def _by_tool() -> Mapping[str, list[Rule]]:
    """Rules by tool: any first, the piece last."""
    tools: dict[str, list[Rule]] = {}
    order = {"any": "", "the piece": "~"}
    for rule in sorted(load_rules(), key=lambda own: (order.get(own.tool, own.tool), own.id)):
        tools.setdefault(rule.tool, []).append(rule)
    return tools


def _tool(row: tuple[str, list[Rule]]) -> str:
    tool, rules = row
    heading = _HEADINGS.get(tool, tool.capitalize())
    return _section(
        heading,
        ("Rule", "Speaks when", "Hazard, and what is said", "Rests on"),
        (
            (
                f"**{rule.id}**<br>{rule.signal}, {_SCOPES[rule.scope]}",
                _sentence(tell(rule.when)),
                _said(rule),
                _rests_on(rule),
            )
            for rule in rules
        ),
    )


def _said(rule: Rule) -> str:
    text = f"{_sentence(rule.hazard)} **{_show_control(rule.control)}**"
    if rule.why:
        text += f" {rule.why}"
    if rule.replaces:
        text += f" Stands for {_join(rule.replaces, 'and')} where both hold."
    return text


def _rests_on(rule: Rule) -> str:
    sources = "; ".join(source.key for source in rule.sources)
    return f"{sources}.<br>{rule.numbers}" if rule.numbers else f"{sources}."


# Conditions in words.


def tell(condition: Condition) -> str:
    """A condition in words.

    >>> from benchleaf.safety.conditions import parse_condition
    >>> tell(parse_condition("cut.kind == 'rip' and cut.fence_gap_mm < 150"))
    'the kind of cut is rip, and the gap between fence and blade is under 150 mm (5-29/32 in)'
    """
    match condition:
        case Joined(parts, is_and):
            return (", and " if is_and else ", or ").join(map(_part, parts))
        case Negation(part):
            return f"it is not so that {tell(part)}"
        case Comparison(left, sign, right):
            word = f"{_SIGNS[sign]} ".lstrip()
            return f"{_name(left)} is {word}{_value(right, _kind_of(left))}"
        case Membership(left, words):
            return f"{_name(left)} is {_join(words, 'or')}"
        case _:
            return _name(condition)


def _part(condition: Condition) -> str:
    """One of several conditions; brackets keep apart what is joined another way."""
    told = tell(condition)
    return f"({told})" if isinstance(condition, Joined) else told


def _name(term: Condition) -> str:
    match term:
        case Name(name):
            return MEANINGS[name]
        case Arithmetic(left, sign, right):
            return f"{_name(left)} {_WORDS_OF[sign]} {_name(right)}"
        case Known(value):
            return value if isinstance(value, str) else f"{float(value):g}"
        case _:
            return tell(term)


def _kind_of(term: Condition) -> FactKind | None:
    """What a figure is held to: a product of two lengths is no length."""
    if isinstance(term, Name):
        return FACTS[term.name]
    if isinstance(term, Arithmetic) and term.sign in "+-":
        return _kind_of(term.left)
    return None


def _value(term: Condition, kind: FactKind | None) -> str:
    if not isinstance(term, Known):
        return _name(term)
    value = term.value
    if isinstance(value, str):
        return value
    if kind is FactKind.LENGTH and value:
        inches = format_with_unit(value, Units.INCH.value, show_rounding=False)
        return f"{float(value):g} mm ({inches})"
    if kind is FactKind.MASS and value:
        return f"{float(value):g} kg ({show_mass(value, Units.INCH)})"
    return f"{float(value):g}{' degrees' if kind is FactKind.ANGLE else ''}"


def _show_control(control: str) -> str:
    def show(match: re.Match[str]) -> str:
        inner = match[1]
        if inner.startswith("either:"):
            metric, inch = inner.removeprefix("either:").split("|")
            return f"{metric} ({inch})"
        return f"[{MEANINGS[inner].removeprefix('the ')}]"

    return re.sub(r"\{([^{}]+)\}", show, control)


# Clauses, judgements, sources.


def _documents() -> str:
    titles = [_clauses(document) for document in read_data_file("benchleaf.safety", "clauses.yaml")]
    return "\n".join(["## Clause by clause\n", _CLAUSES, *titles])


_CLAUSES = """\
What the sources ask for, which rules carry it, and why none does where no planned operation can
meet it. A source's text was read where that is said; else it was seen in a manual, a page or
another code that reproduces it, or is known from memory only.
"""


def _clauses(document: Mapping[str, Any]) -> str:
    rows = (
        (
            row["clause"],
            row["asks"],
            ", ".join(row["rules"]) if "rules" in row else f"none: {row['why_not']}",
            row["seen"],
        )
        for row in document["rows"]
    )
    columns = ("Clause", "Asks for", "Carried by", "Seen")
    return _section(document["document"], columns, rows, level=3)


def _disagreements() -> str:
    rows = (
        (row["about"], row["sources"], row["ours"], ", ".join(row["rules"]))
        for row in read_data_file("benchleaf.safety", "judged.yaml")["disagreements"]
    )
    columns = ("About", "Sources", "Here", "Rules")
    return _section("Where sources disagree: the more careful stands", columns, rows)


def _left_out() -> str:
    rows = (
        (row["what"], row["why"])
        for row in read_data_file("benchleaf.safety", "judged.yaml")["left_out"]
    )
    return _section("Judged and left out", ("What", "Why"), rows)


def _sources() -> str:
    rows = ((source.key, source.title, source.status) for source in load_sources().values())
    return _section("Sources", ("Key", "Document", "How it was seen"), rows)


def _section(
    heading: str, columns: Sequence[str], rows: Iterable[Sequence[str]], *, level: int = 2
) -> str:
    lines = [f"{'#' * level} {heading}", "", _row(columns), "|---" * len(columns) + "|"]
    return "\n".join([*lines, *map(_row, rows), ""])


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in cells)} |"


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."


def _join(words: Sequence[str], last: str) -> str:
    return f" {last} ".join(filter(None, (", ".join(words[:-1]), words[-1])))


if __name__ == "__main__":
    PAGE.write_text(write_page(), "utf-8")
