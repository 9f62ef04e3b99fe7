"""Groups of a plan: parts that are placed and copied as one, such as a drawer or a door.

Takes the typed values of a plan and the desk; gives the same values with the parts of all groups
among the others, and the records of the groups. What a group's own arithmetic may name is checked
here. Must not know where things lie: `piece` does.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from benchleaf.frames import FACES, Axis
from benchleaf.reading.desk import Desk, Spot
from benchleaf.reading.expressions import Expression, PartSize, iterate_terms
from benchleaf.reading.plan import AxisSpec, PlanGroup, Row
from benchleaf.reading.showing import quote, show

Values = Mapping[str, Any]
IN_GROUP: Final = "in group"
"""Where the values of a part keep the name of its group; no key of the plan file has this name."""
_KEYS: Final = ("groups", "parts")


def scope_of(path: str) -> str:
    """The group in whose own axes a path's arithmetic is written; empty for the piece's.

    >>> scope_of("groups.drawer.parts.drawer side.wide"), scope_of("groups.drawer.wide")
    ('drawer', '')
    """
    # Names hold no dots.
    steps = path.split(".")
    return steps[1] if (steps[0], *steps[2:3]) == _KEYS else ""


def group_path(group: str, part: str) -> str:
    """The path of a part of a group in the plan file."""
    return f"groups.{group}.parts.{part}"


def gather_parts(values: Values, desk: Desk) -> Values:
    """Put the parts of all groups among the plan's parts, each told which group it is in.

    A name that stands twice is refused: joints and arithmetic name parts and groups by it.
    """
    groups: Values = values.get("groups") or {}
    if values.get("parts") is None or not groups:
        return values
    parts: dict[str, Any] = dict(values["parts"])
    kept = {
        name: group
        for name, group in groups.items()
        if not _refuse_twice(f"groups.{show(name)}", name, parts, desk)
    }
    for name, group in kept.items():
        for own, part in ((group or {}).get("parts") or {}).items():
            path = group_path(show(name), show(own))
            if not _refuse_twice(path, own, {**parts, **groups}, desk):
                parts[own] = None if part is None else {**part, IN_GROUP: name}
                _name_shortly(path, f"parts.{show(own)}", desk)
    return {**values, "parts": parts, "groups": kept}


def _refuse_twice(path: str, name: str, known: Values, desk: Desk) -> bool:
    if name not in known:
        return False
    spot = Spot(desk.spot(f"{path}#key").place, path)
    message = f"there is a part or a group {quote(name)} already"
    remedy = f"Needed: another name, such as {quote(f'{name} 2')}."
    desk.report("R960", spot, message, remedy=remedy)
    return True


def _name_shortly(path: str, short: str, desk: Desk) -> None:
    """Let the places of a part in a group be found as those of any other part."""
    found = {own: place for own, place in desk.places.items() if own.startswith(path)}
    for own, place in found.items():
        rest = own[len(path) :]
        if not rest or rest[0] in ".[#":
            desk.places.setdefault(short + rest, place)


def check_scope(expression: Expression, values: Values, desk: Desk) -> None:
    """Refuse places of the piece in a group's own arithmetic, where they have no meaning.

    Extents are the same wherever a part stands, and may be named anywhere.
    """
    scope = scope_of(expression.path)
    parts, groups = values.get("parts") or {}, values.get("groups") or {}
    for term in dict.fromkeys(iterate_terms(expression.term)):
        if not isinstance(term, PartSize):
            continue
        if ".trim." in expression.path and term.part in groups:
            message = f"{quote(term.part)} is a group, which has no wood of its own"
            remedy = "Needed: a face of one of its parts."
            desk.report("R962", expression, message, remedy=remedy)
        elif scope and _is_a_place(term) and not _is_inside(term, scope, parts):
            message = (
                f"{quote(term.part)} stands in the piece, and the parts of {quote(scope)} are "
                "placed in its own axes"
            )
            remedy = (
                f"Needed: places from 0 to {quote(f'{scope}.wide')}, `.deep` and `.high`, or faces "
                f"of its own parts."
            )
            desk.report("R961", expression, message, remedy=remedy)
        elif scope and term.part == scope and _is_copied(term, groups):
            message = f"in its own axes {quote(scope)} has no copies"
            desk.report("R034", expression, message, remedy="Leave `mirrored` and `copy` out.")


def _is_copied(term: PartSize, groups: Values) -> bool:
    """Tell whether a copy of a group is named that there is; that there is none is told already."""
    group = groups.get(term.part) or {}
    return bool(set(term.mirrored) & set(group.get("mirror") or ())) or (
        1 < term.copy <= ((group.get("row") or {}).get("count") or 1)
    )


def _is_a_place(term: PartSize) -> bool:
    return term.what in FACES or term.what.startswith("centre ")


def _is_inside(term: PartSize, scope: str, parts: Values) -> bool:
    return term.part == scope or (parts.get(term.part) or {}).get(IN_GROUP) == scope


def build_group(name: str, values: Values, *, row: Row | None) -> PlanGroup:
    """The record of a group.

    Args:
        name: Its name.
        values: What was read under it.
        row: Its row, built.
    """
    wide, deep, high = (build_axis(axis, values) for axis in Axis)
    return PlanGroup(
        name=name,
        axes=(wide, deep, high),
        mirror=values.get("mirror", ()),
        row=row,
        note=values.get("note", ""),
        parts=tuple(values["parts"]),
    )


def build_axis(axis: Axis, values: Values) -> AxisSpec:
    """What the plan gives for one axis."""
    return AxisSpec(
        low=values.get(axis.low_face),
        high=values.get(axis.high_face),
        extent=values.get(axis.extent),
        centre=values.get(f"centre {axis.extent}"),
    )
