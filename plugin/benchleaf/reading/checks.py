"""What can only be checked once the whole plan is read: names that must be there, and totals.

Takes the typed values of a plan (None where one could not be read) and the desk with all
expressions, makes findings. Must not know where things lie: `piece` does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from benchleaf.findings import Place
from benchleaf.reading.containers import KIND_KEY
from benchleaf.reading.desk import Desk
from benchleaf.reading.expressions import (
    Expression,
    Negative,
    PartSize,
    SizeName,
    StockThickness,
    Sum,
    Term,
)
from benchleaf.reading.grammar import MIRRORS
from benchleaf.reading.showing import join_words, needed_word, quote
from benchleaf.reading.table import MOST_COPIES

Values = Mapping[str, Any]


def check_whole(values: Values, desk: Desk) -> None:
    """Check names and totals of a plan whose values are typed."""
    _check_stock_names(values, desk)
    _check_joint_parts(values, desk)
    _check_copies(values, desk)
    _check_grits(values, desk)
    for expression in desk.expressions:
        if desk.is_full:
            return
        _check_expression(expression, values, desk)


def _place(desk: Desk, path: str) -> Place:
    return desk.places.get(path, desk.start)


def _readable(values: Values, key: str) -> dict[str, Any]:
    """The named values under a key, those left out that could not be read."""
    return {name: value for name, value in (values.get(key) or {}).items() if value is not None}


def _check_stock_names(values: Values, desk: Desk) -> None:
    stock = values.get("stock")
    for name, part in _readable(values, "parts").items():
        wanted = part.get("stock")
        if stock is None or wanted is None or wanted in stock:
            continue
        path = f"parts.{name}.stock"
        message = f"there is no stock {quote(wanted)}"
        remedy = needed_word("the name of a line under `stock`", wanted, stock)
        desk.report("R037", _place(desk, path), path, message, remedy)


def _check_joint_parts(values: Values, desk: Desk) -> None:
    parts = values.get("parts")
    for index, joint in enumerate(values.get("joints") or ()):
        if joint is None or parts is None:
            continue
        pair = joint.get(joint[KIND_KEY]) or ()
        for place, name in enumerate(pair):
            if name is not None and name not in parts:
                path = f"joints[{index}].{joint[KIND_KEY]}[{place}]"
                remedy = needed_word("the name of a part", name, parts)
                message = f"there is no part {quote(name)}"
                desk.report("R036", _place(desk, path), path, message, remedy)


def count_copies(part: Values) -> int:
    """Copies of a part in all."""
    in_row: int = (part.get("row") or {}).get("count") or 1
    return in_row << len(part.get("mirror") or ())  # each mirror doubles


def _check_copies(values: Values, desk: Desk) -> None:
    total = sum(count_copies(part) for part in _readable(values, "parts").values())
    if total > MOST_COPIES:
        message = f"the parts come to {total} copies"
        remedy = f"Needed: at most {MOST_COPIES}. Split the piece into several plans."
        desk.report("R024", _place(desk, "parts"), "parts", message, remedy)


def _check_grits(values: Values, desk: Desk) -> None:
    grits = [grit for grit in (values.get("finish") or {}).get("sand") or () if grit is not None]
    if grits != sorted(grits):
        path = "finish.sand"
        message = f"the grits run {', '.join(map(str, grits))}"
        remedy = f"Needed: coarse to fine: {', '.join(map(str, sorted(grits)))}."
        desk.report("R027", _place(desk, path), path, message, remedy)


def iterate_terms(term: Term) -> Iterator[Term]:
    """Every term of a tree, left to right; depth is bounded by the parser."""
    if isinstance(term, Negative):
        yield from iterate_terms(term.of)
    elif isinstance(term, Sum):
        yield from iterate_terms(term.left)
        yield from iterate_terms(term.right)
    else:
        yield term


def _check_expression(expression: Expression, values: Values, desk: Desk) -> None:
    for term in dict.fromkeys(iterate_terms(expression.term)):
        if isinstance(term, SizeName):
            _check_size(term, expression, values, desk)
        elif isinstance(term, StockThickness):
            _check_known(term.stock, "stock", expression, values, desk)
        elif isinstance(term, PartSize) and _check_known(
            term.part, "parts", expression, values, desk
        ):
            part = (values.get("parts") or {}).get(term.part)
            if part is not None:
                _check_copy(term, part, expression, desk)


def _check_size(term: SizeName, expression: Expression, values: Values, desk: Desk) -> None:
    sizes: Iterable[str] = values.get("sizes") or {}
    name = term.name
    if name in sizes or ("sizes" in values and values["sizes"] is None):
        return
    message = f"there is no size {quote(name)}"
    remedy = needed_word("a name under `sizes`", name, sizes)
    if name in (values.get("parts") or {}) or name == "overall":
        message = f"{quote(name)} is a part, not a size"
        last = "wide" if name == "overall" else "right"
        remedy = f"Needed: one of its faces or extents, as in `{name}.{last}`."
    if name == "overall":
        message = "`overall` is the whole piece, not a size"
    desk.report("R032", expression.place, expression.path, message, remedy)


def _check_known(name: str, key: str, expression: Expression, values: Values, desk: Desk) -> bool:
    known = values.get(key)
    if known is None or name in known:
        return known is not None
    what = "part" if key == "parts" else "stock"
    message = f"there is no {what} {quote(name)}"
    remedy = needed_word(f"a name under `{key}`", name, known)
    desk.report("R032", expression.place, expression.path, message, remedy)
    return False


def _check_copy(term: PartSize, part: Values, expression: Expression, desk: Desk) -> None:
    missing = set(term.mirrored) - set(part.get("mirror") or ())
    if missing:
        words = [word for word, axis in MIRRORS.items() if axis in missing]
        message = f"{quote(term.part)} is not mirrored {join_words(words, 'and')}"
        remedy = f"Add it to `mirror` of {quote(term.part)}, or leave `mirrored` out."
        desk.report("R034", expression.place, expression.path, message, remedy)
    count = (part.get("row") or {}).get("count") or 1
    if term.copy > count:
        message = f"{quote(term.part)} has no copy {term.copy}; its row has {count}"
        remedy = f"Needed: `copy` from 1 to {count}."
        desk.report("R034", expression.place, expression.path, message, remedy)
