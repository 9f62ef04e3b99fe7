"""The tables of docs/handbook.md, written from the handbook's own rows.

Run this file to write them into the page; a test holds that they are there as written.
"""

from __future__ import annotations

import re
from pathlib import Path

from benchleaf.handbook.records import Published
from benchleaf.handbook.supplies import load_supplies
from benchleaf.handbook.tables import (
    load_lateral,
    load_loads,
    load_panels,
    load_rules,
    load_sizes,
    load_table,
    load_withdrawal,
    load_woods,
)

PAGE = Path(__file__).parents[1] / "docs" / "handbook.md"
_MARK = re.compile(r"<!-- (?P<what>\w+) -->\n.*?<!-- end -->\n", re.DOTALL)
_SHORT = {
    "read": "R",
    "transcription": "T",
    "secondary": "S",
    "from memory": "M",
    "computed": "C",
    "practice": "P",
    "chosen": "X",
}


def written() -> str:
    """The page's text with every table written anew."""
    return _MARK.sub(
        # Blank lines keep Markdown from taking the table for part of the comment.
        lambda mark: f"<!-- {mark['what']} -->\n\n{_TABLES[mark['what']]()}\n<!-- end -->\n",
        PAGE.read_text("utf-8"),
    )


def _rows(head: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    lines = [head, tuple("---" for _ in head), *rows]
    return "".join(f"| {' | '.join(line)} |\n" for line in lines)


def _mark(figure: Published) -> str:
    return "+".join(_SHORT[word] for word in figure.status.split(", "))


def _cell(figure: Published | None, form: str) -> str:
    return f"{float(figure.value):{form}} {_mark(figure)}" if figure else "–"


def _woods() -> str:
    head = ("wood", "gravity", "stiffness, MPa", "strength, MPa", "hardness, N",
            "radial", "tangential")  # fmt: skip
    rows = [
        (
            wood.label,
            _cell(wood.gravity, ".2f"),
            _cell(wood.modulus, ",.0f"),
            _cell(wood.strength, ".0f"),
            _cell(wood.hardness, ",.0f"),
            _cell(wood.change.get("radial"), ".5f"),
            _cell(wood.change.get("tangential"), ".5f"),
        )
        for wood in load_woods().values()
    ]
    return _rows(head, rows)


def _panels() -> str:
    head = ("panel", "density, kg/m³", "stiffness along, MPa", "strength along, MPa", "source")
    rows = [
        (
            panel.name,
            _cell(panel.density, ".0f"),
            _cell(panel.modulus, ",.0f"),
            _cell(panel.strength, ".1f"),
            panel.modulus.source,
        )
        for panel in load_panels().values()
    ]
    return _rows(head, rows)


def _loads() -> str:
    head = ("word", "load", "source")
    rows = [
        (
            f"`{load.word}`",
            f"{float(load.published.value):.4g} {load.published.unit} {_mark(load.published)}",
            load.published.source,
        )
        for load in load_loads().values()
    ]
    return _rows(head, rows)


def _fasteners() -> str:
    head = ("fastener", "fails at, N and mm", "source")
    rows = [
        (
            name,
            f"{float(row.coefficient):g} G^{row.gravity_power} D^{row.diameter_power} L, drawn out",
            f"{row.source} {'+'.join(_SHORT[word] for word in row.status.split(', '))}",
        )
        for name, row in load_withdrawal().items()
    ]
    for name, row in load_lateral().items():
        factors = [float(k) for *_, k in row.factors]
        formula = f"K D^{row.diameter_power}, pushed aside; K {min(factors):g} to {max(factors):g}"
        status = "+".join(_SHORT[word] for word in row.status.split(", "))
        rows.append((name, formula, f"{row.source} {status}"))
    return _rows(head, rows)


def _rules() -> str:
    head = ("rule", "figure", "source")
    rows = [
        (
            key,
            f"{float(rule.value):.4g} {rule.unit}".strip() + f" {_mark(rule)}",
            rule.source,
        )
        for section in ("rules", "tipping", "movement", "fastener rules", "bolts")
        for key, rule in load_rules(section).items()
    ]
    return _rows(head, rows)


def _lumber() -> str:
    table = load_sizes()["softwood lumber"]
    head = ("sold as, in", "dry, thick", "dry, wide")
    thick = {str(row[0]): str(row[1]) for kind in ("boards", "dimension") for row in table[kind]}
    wide = {str(row[0]): str(row[1]) for row in table["width"]}
    names = list(dict.fromkeys([*thick, *wide]))
    return _rows(head, [(name, thick.get(name, "–"), wide.get(name, "–")) for name in names])


def _hardwood() -> str:
    rows = [
        (
            name,
            *(str(row[key]) for key in ("rough", "one_side", "two_sides")),
            _SHORT[row["status"]],
        )
        for name, row in load_sizes()["hardwood lumber"]["rows"].items()
    ]
    return _rows(("quarters", "rough, in", "one side", "two sides", "status"), rows)


def _plywood() -> str:
    rows = [
        (str(name), *(f"{size:.3f}" for size in sizes))
        for name, sizes in load_sizes()["structural plywood"]["categories"].items()
    ]
    return _rows(("category, in", "least", "most", "on the label"), rows)


def _nails() -> str:
    rows = [
        (name, f"{long:g}", f"{thick:g}")
        for name, (long, thick) in load_table("fasteners.yml")["common nails"]["mm"].items()
    ]
    return _rows(("common nail", "long, mm", "thick, mm"), rows)


def _supplies() -> str:
    supplies = load_supplies()
    head = ("what", "goes, at the least", "at the most", "source")
    named = [
        *((f"{kind} glue", reach) for kind, reach in supplies.glue.items()),
        *((f"{kind} finish", reach) for kind, reach in supplies.finish.items()),
        ("sheet of abrasive", supplies.abrasive),
    ]
    rows = [
        (
            name,
            *(f"{float(end.value):.3g} {end.unit}" for end in (reach.low, reach.high)),
            f"{reach.low.source} {_mark(reach.low)}",
        )
        for name, reach in named
    ]
    return _rows(head, rows)


_TABLES = {
    "supplies": _supplies,
    "lumber": _lumber,
    "hardwood": _hardwood,
    "plywood": _plywood,
    "nails": _nails,
    "woods": _woods,
    "panels": _panels,
    "loads": _loads,
    "fasteners": _fasteners,
    "rules": _rules,
}


if __name__ == "__main__":
    PAGE.write_text(written(), "utf-8")
