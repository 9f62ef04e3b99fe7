"""What can only be checked once the whole plan is read: names that must be there, and totals.

Takes the typed values of a plan (None where one could not be read) and the desk with all
expressions, makes findings. Must not know where things lie: `piece` does.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from benchleaf.reading.angles import check_angles
from benchleaf.reading.containers import KIND_KEY
from benchleaf.reading.desk import Desk
from benchleaf.reading.expressions import (
    Expression,
    PartSize,
    SizeName,
    StockThickness,
    iterate_terms,
)
from benchleaf.reading.grammar import MIRRORS
from benchleaf.reading.groups import IN_GROUP, check_scope
from benchleaf.reading.showing import join_words, needed_word, quote, show
from benchleaf.reading.stocking import check_prices
from benchleaf.reading.table import MOST_COPIES, MOST_PARTS, MOST_SHAPINGS_IN_ALL

Values = Mapping[str, Any]


def check_whole(values: Values, desk: Desk) -> None:
    """Check names and totals of a plan whose values are typed."""
    _check_stock_names(values, desk)
    check_prices(_readable(values, "stock"), desk)
    _check_joint_parts(values, desk)
    _check_together(values, desk)
    _check_copies(values, desk)
    _check_shapings(values, desk)
    _check_edge_glued(values, desk)
    _check_grits(values, desk)
    check_angles(values, desk)
    _check_room(values, desk)
    for expression in desk.expressions:
        if desk.is_full:
            return
        _ExpressionCheck(expression, values, desk).check()
        check_scope(expression, values, desk)


def _readable(values: Values, key: str) -> dict[str, Any]:
    """The named values under a key, those left out that could not be read."""
    return {name: value for name, value in (values.get(key) or {}).items() if value is not None}


def _check_stock_names(values: Values, desk: Desk) -> None:
    stock = values.get("stock")
    for name, part in _readable(values, "parts").items():
        wanted = part.get("stock")
        if stock is None or wanted is None or wanted in stock:
            continue
        path = f"parts.{show(name)}.stock"
        message = f"there is no stock {quote(wanted)}"
        remedy = needed_word("the name of a line under `stock`", wanted, stock)
        desk.report("R037", desk.spot(path), message, remedy=remedy)


def _check_joint_parts(values: Values, desk: Desk) -> None:
    parts = values.get("parts")
    for index, joint in enumerate(values.get("joints") or ()):
        if desk.is_full or parts is None:
            return
        if joint is None:
            continue
        pair = joint.get(joint[KIND_KEY]) or ()
        for place, name in enumerate(pair):
            if name is not None and name not in parts:
                path = f"joints[{index}].{joint[KIND_KEY]}[{place}]"
                _report_no_part(path, name, values, desk)


def _report_no_part(path: str, name: str, values: Values, desk: Desk) -> None:
    group = (values.get("groups") or {}).get(name)
    if group is not None:
        message = f"{quote(name)} is a group, and parts are joined"
        remedy = f"Needed: one of its parts: {join_words(group.get('parts') or ())}."
        desk.report("R962", desk.spot(path), message, remedy=remedy)
        return
    remedy = needed_word("the name of a part", name, values["parts"])
    desk.report("R036", desk.spot(path), f"there is no part {quote(name)}", remedy=remedy)


def _check_together(values: Values, desk: Desk) -> None:
    """Parts that are cut together are there, and each is in one list only."""
    parts = values.get("parts")
    listed: set[str] = set()
    for key in ("grain matched", "from one piece"):
        for index, names in enumerate(values.get(key) or ()):
            for place, name in enumerate(names or ()):
                spot = desk.spot(f"{key}[{index}][{place}]")
                if name is None or desk.is_full or parts is None:
                    continue
                if name not in parts:
                    message = f"there is no part {quote(name)}"
                    remedy = needed_word("the name of a part", name, parts)
                    desk.report("R036", spot, message, remedy=remedy)
                elif name in listed:
                    message = f"{quote(name)} is in a list of parts cut together already"
                    desk.report("R970", spot, message, remedy="Remove one of the two.")
                listed.add(name)


def count_copies(part: Values) -> int:
    """Copies of a part, or of a group, in all."""
    in_row: int = (part.get("row") or {}).get("count") or 1
    return in_row << len(part.get("mirror") or ())  # each mirror doubles


def _check_copies(values: Values, desk: Desk) -> None:
    parts, groups = _readable(values, "parts"), _readable(values, "groups")
    if groups and len(parts) > MOST_PARTS:
        message = f"there are {len(parts)} parts, with those of groups"
        remedy = f"Needed: at most {MOST_PARTS}. Split the piece into several plans."
        desk.report("R024", desk.spot("groups"), message, remedy=remedy)
    total = sum(
        count_copies(part) * count_copies(groups.get(part.get(IN_GROUP)) or {})
        for part in parts.values()
    )
    if total > MOST_COPIES:
        message = f"the parts come to {total} copies"
        remedy = f"Needed: at most {MOST_COPIES}. Split the piece into several plans."
        desk.report("R024", desk.spot("parts"), message, remedy=remedy)


def _check_shapings(values: Values, desk: Desk) -> None:
    total = sum(len(part.get("shape") or ()) for part in _readable(values, "parts").values())
    if total > MOST_SHAPINGS_IN_ALL:
        message = f"the parts are shaped in {total} ways"
        remedy = f"Needed: at most {MOST_SHAPINGS_IN_ALL}. Split the piece into several plans."
        desk.report("R024", desk.spot("parts"), message, remedy=remedy)


def _check_edge_glued(values: Values, desk: Desk) -> None:
    """Boards are glued edge to edge in one layer: what else is asked for would be left undone."""
    stock = _readable(values, "stock")
    for name, part in _readable(values, "parts").items():
        kind = (stock.get(part.get("stock")) or {}).get(KIND_KEY)
        is_layered = (part.get("layers") or 1) > 1
        if not part.get("edge glued") or not (is_layered or kind not in {None, "board"}):
            continue
        what = f"{part['layers']} layers" if is_layered else f"a {kind}"
        remedy = "Leave `edge glued` out, or make the part of boards in one layer."
        spot = desk.spot(f"parts.{show(name)}.edge glued")
        desk.warn("R994", spot, f"{quote(name)} is of {what}: no boards are glued", remedy=remedy)


def _check_grits(values: Values, desk: Desk) -> None:
    grits = [grit for grit in (values.get("finish") or {}).get("sand") or () if grit is not None]
    if grits != sorted(grits):
        path = "finish.sand"
        message = f"the grits run {', '.join(map(str, grits))}"
        remedy = f"Needed: coarse to fine: {', '.join(map(str, sorted(grits)))}."
        desk.report("R027", desk.spot(path), message, remedy=remedy)


def _check_room(values: Values, desk: Desk) -> None:
    room = values.get("room") or {}
    driest, dampest = room.get("driest"), room.get("dampest")
    if driest is not None and dampest is not None and driest >= dampest:
        message = f"the driest season has {driest} %, the dampest {dampest} %"
        remedy = "Needed: fewer percent in the driest than in the dampest."
        desk.report("R039", desk.spot("room"), message, remedy=remedy)


@dataclass(frozen=True, slots=True)
class _ExpressionCheck:
    """Checks that everything one expression names is there."""

    expression: Expression
    values: Values
    desk: Desk

    def check(self) -> None:
        """Check each term once."""
        for term in dict.fromkeys(iterate_terms(self.expression.term)):
            if isinstance(term, SizeName):
                self._check_size(term.name)
            elif isinstance(term, StockThickness):
                self._is_known(term.stock, "stock", "stock")
            elif isinstance(term, PartSize) and self._is_known_part(term.part):
                self._check_copy(term)

    def _check_size(self, name: str) -> None:
        sizes: Iterable[str] = self.values.get("sizes") or {}
        if name in sizes or ("sizes" in self.values and self.values["sizes"] is None):
            return
        message = f"there is no size {quote(name)}"
        remedy = needed_word("a name under `sizes`", name, sizes)
        if name == "overall":
            message = "`overall` is the whole piece, not a size"
            remedy = "Needed: one of its extents, as in `overall.wide`."
        elif name in (self.values.get("parts") or {}):
            message = f"{quote(name)} is a part, not a size"
            remedy = f"Needed: one of its faces or extents, as in `{show(name)}.right`."
        self._report("R032", message, remedy)

    def _is_known_part(self, name: str) -> bool:
        groups = self.values.get("groups") or {}
        return name in groups or self._is_known(name, "parts", "part")

    def _is_known(self, name: str, key: str, what: str) -> bool:
        known = self.values.get(key)
        if known is None or name in known:
            return known is not None
        remedy = needed_word(f"a name under `{key}`", name, known)
        self._report("R032", f"there is no {what} {quote(name)}", remedy)
        return False

    def _check_copy(self, term: PartSize) -> None:
        groups = self.values.get("groups") or {}
        part = groups[term.part] if term.part in groups else self.values["parts"][term.part]
        if part is None:
            return
        missing = set(term.mirrored) - set(part.get("mirror") or ())
        if missing:
            words = [word for word, axis in MIRRORS.items() if axis in missing]
            message = f"{quote(term.part)} is not mirrored {join_words(words, 'and')}"
            remedy = f"Add it to `mirror` of {quote(term.part)}, or leave `mirrored` out."
            self._report("R034", message, remedy)
        count = (part.get("row") or {}).get("count") or 1
        if term.copy > count:
            message = f"{quote(term.part)} has no copy {term.copy}; its row has {count}"
            self._report("R034", message, f"Needed: `copy` from 1 to {count}.")

    def _report(self, code: str, message: str, remedy: str) -> None:
        self.desk.report(code, self.expression, message, remedy=remedy)
