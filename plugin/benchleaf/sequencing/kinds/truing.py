"""Operations that bring rough blanks to their final sizes.

Takes copies whose blanks have an allowance, gives drafts: thickness, then width, then length,
grouped by equal settings. Must not know joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.cutting.boardtrees import SHORTEST_RIP_MM
from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    Thing,
    Work,
    blank_cut,
    copy_glued,
    copy_sized,
    copy_trued,
    draft,
)
from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.kinds.truing_words import (
    check_words,
    goes_over_jointer,
    hand_width_words,
    length_words,
    thickness_words,
    width_words,
)
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.saw_limits import CrossSaw, choose_cross_saw
from benchleaf.sequencing.wording import join_marks, make_slug
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shops import Shop

_SAW: Final[dict[str, Fact]] = {
    **MACHINED,
    "cut.through": True,
    "stock.kind": "glued blank",
}
# Minutes chosen, as for all kinds: a careful beginner's.
TRUE_THICKNESS: Final = OperationKind(
    code="true-thickness",
    phase="glue-up of blanks",
    family="truing",
    tool="table saw",
    minutes=10,
    minutes_each=5,
    says={**_SAW, "cut.kind": "resaw", "stock.edge_straight": True},
)
TRUE_WIDTH: Final = OperationKind(
    code="true-width",
    phase="glue-up of blanks",
    family="truing",
    tool="table saw",
    minutes=10,
    minutes_each=6,
    says={**_SAW, "cut.kind": "rip", "stock.edge_straight": False},
)
TRUE_WIDTH_BY_HAND: Final = OperationKind(
    code="true-width-by-hand",
    phase="glue-up of blanks",
    family="truing",
    tool="hand plane",
    minutes=10,
    minutes_each=12,
    says={"op.makes_chips": True, "cut.kind": "plane"},
)
_CROSSCUT: Final[dict[str, Fact]] = {**_SAW, "cut.kind": "crosscut", "stock.edge_straight": True}
TRUE_LENGTH: Final = OperationKind(
    code="true-length",
    phase="glue-up of blanks",
    family="truing",
    tool="table saw",
    minutes=5,
    minutes_each=3,
    says={**_CROSSCUT, "op.uses_stop": True},
)
TRUE_LENGTH_ON_MITRE_SAW: Final = OperationKind(
    code="true-length-on-mitre-saw",
    phase="glue-up of blanks",
    family="truing",
    tool="mitre saw",
    minutes=5,
    minutes_each=3,
    says={**_CROSSCUT, "op.uses_stop": True},
)
TRUE_LENGTH_ALONG_GUIDE: Final = OperationKind(
    code="true-length-along-guide",
    phase="glue-up of blanks",
    family="truing",
    tool="circular saw",
    minutes=10,
    minutes_each=10,
    says=_CROSSCUT,
)
_BY_SAW: Final = {
    CrossSaw.SLED: TRUE_LENGTH,
    CrossSaw.MITRE: TRUE_LENGTH_ON_MITRE_SAW,
    CrossSaw.CIRCULAR: TRUE_LENGTH_ALONG_GUIDE,
}
_LENGTHS: Final = {kind.code: saw for saw, kind in _BY_SAW.items()}
# Place among a copy's sizes, what it is called, in the order in which they are trued.
_ORDER: Final = ((2, "thickness"), (1, "width"), (0, "length"))


def plan_truing(room: Workroom) -> Iterator[Draft]:
    """Plan the truing of all rough blanks."""
    rough = [mark for mark in room.marks if room.blanks_of(mark) and not room.is_sawn_to_size(mark)]
    for index, name in _ORDER:
        groups: dict[tuple[Fraction, Fraction, str], list[str]] = {}
        kinds: dict[str, OperationKind] = {}
        for mark in rough:
            sizes = room.rough_and_final_mm(mark)
            if sizes[index][0] > sizes[index][1]:
                kind = _kind_for(name, sizes, room.shop)
                kinds[kind.code] = kind
                # A shared setting serves blanks of any width, but one thickness at a time.
                key = (sizes[index][1], sizes[2][0], kind.code)
                groups.setdefault(key, []).append(mark)
        for key in sorted(groups, reverse=True):
            yield _true_group(kinds[key[2]], key[0], groups[key], room)


def _kind_for(name: str, sizes: tuple[tuple[Fraction, Fraction], ...], shop: Shop) -> OperationKind:
    """What brings a copy to size, by its (rough, final) length, width and thickness."""
    if name == "thickness":
        return TRUE_THICKNESS
    if name == "width":
        return TRUE_WIDTH_BY_HAND if sizes[0][0] < SHORTEST_RIP_MM else TRUE_WIDTH
    return _BY_SAW[choose_cross_saw(sizes[0][0], sizes[1][1], sizes[2][1], shop=shop)]


def _true_group(kind: OperationKind, final: Fraction, marks: list[str], room: Workroom) -> Draft:
    size = room.say.length(final)
    return draft(
        kind,
        Work(
            id=make_slug(f"{kind.code} {size} {join_marks(marks)}"),
            title=_title(kind, size, room.name_copies(marks)),
            copies=marks,
            actions=_actions(kind, final, marks, room),
            check=check_words(_name_of(kind), size, len(marks)),
            settings=(
                Setting(name=_setting_of(kind), value_mm=final),
                *_face_edge(kind, marks, room),
            ),
            facts=_true_facts(kind, final, marks, room),
            takes=[thing for mark in marks for thing in _takes(kind, mark, room)],
            gives=[thing for mark in marks for thing in _gives(kind, mark, room)],
            pieces=len(marks),
        ),
    )


def _title(kind: OperationKind, size: str, names: str) -> str:
    if kind is TRUE_THICKNESS:
        return f"Bring {names} to {size} thick"
    if kind is TRUE_WIDTH:
        return f"Rip {names} to {size}"
    verb = "Plane" if kind is TRUE_WIDTH_BY_HAND else "Crosscut"
    return f"{verb} {names} to {size}"


def _actions(
    kind: OperationKind, final: Fraction, marks: Sequence[str], room: Workroom
) -> Iterator[str]:
    if kind is TRUE_THICKNESS:
        return thickness_words(final, marks, room)
    if kind is TRUE_WIDTH:
        return width_words(final, marks, room)
    if kind is TRUE_WIDTH_BY_HAND:
        return hand_width_words(final, marks, room)
    return length_words(_LENGTHS[kind.code], final, marks, room)


def _setting_of(kind: OperationKind) -> str:
    if kind is TRUE_WIDTH_BY_HAND:
        return "gauge"
    if kind is TRUE_LENGTH_ALONG_GUIDE:
        return "length"
    return "stop" if kind.code in _LENGTHS else "fence"


def _face_edge(kind: OperationKind, marks: Sequence[str], room: Workroom) -> tuple[Setting, ...]:
    """Where the edge is made true that the width is measured from."""
    if _name_of(kind) != "width" or not goes_over_jointer(marks, room):
        return ()
    return (Setting(name="face edge", value_mm=None, text="at the jointer"),)


def _name_of(kind: OperationKind) -> str:
    """Which size an operation brings about: `thickness`, `width` or `length`."""
    return next(name for _, name in _ORDER if kind.code.startswith(f"true-{name}"))


def _steps_of(mark: str, room: Workroom) -> list[str]:
    sizes = room.rough_and_final_mm(mark)
    return [name for index, name in _ORDER if sizes[index][0] > sizes[index][1]]


def _takes(kind: OperationKind, mark: str, room: Workroom) -> list[Thing]:
    steps = _steps_of(mark, room)
    before = steps[: steps.index(_name_of(kind))]
    if before:
        return [copy_trued(mark, step) for step in before]
    layers = room.blanks_of(mark)
    return [copy_glued(mark)] if len(layers) > 1 else [blank_cut(layers[0].label)]


def _gives(kind: OperationKind, mark: str, room: Workroom) -> list[Thing]:
    name = _name_of(kind)
    last = _steps_of(mark, room)[-1] == name
    return [copy_trued(mark, name), *([copy_sized(mark)] if last else [])]


def _true_facts(
    kind: OperationKind, final: Fraction, marks: Sequence[str], room: Workroom
) -> dict[str, Fact | None]:
    sizes = [room.rough_and_final_mm(mark) for mark in marks]
    lengths = [size[0][0] for size in sizes]
    widths = [size[1][0] for size in sizes]
    part = room.part_of(marks[0])
    material = room.material_of(part.stock)
    facts: dict[str, Fact | None] = {
        "stock.length_mm": min(lengths),
        "stock.longest_mm": max(lengths),
        "stock.width_mm": min(widths),
        "stock.widest_mm": max(widths),
        "stock.thickness_mm": sizes[0][2][0],
        "material.name": part.stock.material,
        "material.kind": material.kind if material else None,
        "material.group": material.group if material else None,
        "part.mass_kg": max(
            (mass for mark in marks if (mass := room.mass_kg(mark)) is not None), default=None
        ),
        "part.wide_mm": max(widths),
    }
    if kind.code in _LENGTHS:
        spare = min(rough - target for (rough, target), _, _ in sizes)
        return facts | {"cut.keeper_mm": final, "cut.offcut_mm": spare}
    if kind is TRUE_WIDTH_BY_HAND:
        return facts
    if kind is TRUE_THICKNESS:
        facts["cut.depth_mm"] = max(widths)
    return facts | {"cut.fence_gap_mm": final}


PLANNER: Final = Planner(
    kinds=(TRUE_THICKNESS, TRUE_WIDTH, TRUE_WIDTH_BY_HAND, *_BY_SAW.values()), plan=plan_truing
)
