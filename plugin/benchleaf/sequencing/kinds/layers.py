"""Operations that make blanks of several layers, and bring rough blanks to their final sizes.

Takes copies whose blanks have layers or an allowance, gives drafts: glue the layers, then
thickness, width and length, grouped by equal settings. Must not know joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.sequencing.boardtrees import SHORTEST_RIP_MM
from benchleaf.sequencing.clamping import ONE_ROW_MM, Clamps, clamp_stack
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
from benchleaf.sequencing.glues import find_glue
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.wording import join_marks, make_slug, spread
from benchleaf.sequencing.workroom import Workroom, mass_of_mm3

_SAW: Final[dict[str, Fact]] = {
    "op.loud": True,
    "op.makes_chips": True,
    "op.makes_dust": True,
    "op.rotating_cutter": True,
    "cut.through": True,
    "stock.kind": "glued blank",
}
# Minutes chosen, as for all kinds: a careful beginner's.
GLUE_UP: Final = OperationKind(
    code="glue-up",
    phase="glue-up of blanks",
    family="gluing layers",
    tool="clamps",
    minutes=10,
    minutes_each=10,
    says={},
)
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
TRUE_LENGTH: Final = OperationKind(
    code="true-length",
    phase="glue-up of blanks",
    family="truing",
    tool="table saw",
    minutes=5,
    minutes_each=3,
    says={**_SAW, "cut.kind": "crosscut", "op.uses_stop": True, "stock.edge_straight": True},
)
# Common practice, no source: a 10 in saw cuts 3-1/8 in deep; more is sawn from both faces.
DEEPEST_SAW_MM: Final = 79


def plan_layers(room: Workroom) -> Iterator[Draft]:
    """Plan the glue-ups of layers, then the truing of all rough blanks."""
    stacks: dict[tuple[str, int, bool], list[str]] = {}
    for mark in room.marks:
        layers = room.blanks_of(mark)
        if len(layers) > 1:
            is_wide = layers[0].width_mm > ONE_ROW_MM
            stacks.setdefault((layers[0].stock, len(layers), is_wide), []).append(mark)
    for marks in stacks.values():
        yield _glue_layers(marks, room)
    yield from _true(room)


def _glue_layers(marks: list[str], room: Workroom) -> Draft:
    stock = room.part_of(marks[0]).stock
    layers = len(room.blanks_of(marks[0]))
    thickness = stock.thickness_mm * layers
    clamps = _largest_clamps(marks, room)
    glue = find_glue(room.plan.shop.glue)
    labels = [own.label for mark in marks for own in room.blanks_of(mark)]
    material = room.material_of(stock)
    largest = max((room.blanks_of(m)[0] for m in marks), key=lambda b: b.length_mm * b.width_mm)
    volume = thickness * largest.length_mm * largest.width_mm
    return draft(
        GLUE_UP,
        Work(
            id=make_slug(f"glue-up {join_marks(marks)}"),
            title=f"Glue up {room.name_copies(marks)}",
            copies=marks,
            actions=_glue_actions(marks, room),
            check="Edges and ends of the layers are in line all round.",
            settings=(
                Setting(name="clamps", value_mm=None, text=f"{clamps.count} for the largest"),
                Setting(name="clamp opening", value_mm=clamps.opening_mm),
            ),
            facts={
                "clamp.count": clamps.count,
                "glue.kind": glue.kind,
                "glue.open_minutes": glue.open_minutes,
                # chosen: two minutes to spread and lay each layer.
                "glue.closing_minutes": 2 * layers,
                "part.mass_kg": mass_of_mm3(volume, material) if material else None,
                "part.wide_mm": largest.width_mm,
                "material.name": stock.material,
            },
            takes=map(blank_cut, labels),
            gives=map(copy_glued, marks),
            pieces=len(marks),
            waiting_hours=glue.work_hours,
            blanks=tuple(labels),
        ),
    )


def _largest_clamps(marks: Sequence[str], room: Workroom) -> Clamps:
    blanks = [room.blanks_of(mark) for mark in marks]
    thickness = room.part_of(marks[0]).stock.thickness_mm
    return max(
        (clamp_stack(own[0].length_mm, own[0].width_mm, thickness * len(own)) for own in blanks),
        key=lambda clamps: clamps.count,
    )


def _glue_actions(marks: list[str], room: Workroom) -> Iterator[str]:
    layers = room.blanks_of(marks[0])
    clamps = _largest_clamps(marks, room)
    glue = find_glue(room.plan.shop.glue)
    labels = join_marks([own.label for own in layers], room.labels)
    each = "" if len(marks) == 1 else "of each piece "
    made = f"{labels} make {marks[0]}"
    yield f"Stack the {len(layers)} layers {each}dry, best faces outwards: {made}."
    yield f"Spread {room.plan.shop.glue} evenly over one face of each joint in a stack."
    yield "Line up one long edge and one end of the layers."
    apart = room.say.usual("150 mm", "6 in")
    most = "clamps" if len(marks) == 1 else "clamps on the longest stack"
    yield f"Clamp between cauls, no more than {apart} apart: {clamps.count} {most}."
    if layers[0].width_mm > ONE_ROW_MM:
        yield "Lay weights or a bowed caul over the middle, where clamps do not reach."
    yield "Tighten from the middle outwards, until a thin line of glue shows."
    if len(marks) > 1:
        yield "Glue as many stacks at a time as you have clamps."
    yield f"Leave the clamps on {_hours(glue.clamp_hours)}, or as the label says."


def _hours(hours: Fraction) -> str:
    return "for an hour" if hours == 1 else f"for {hours} hours"


# Truing.


def _true(room: Workroom) -> Iterator[Draft]:
    rough = [mark for mark in room.marks if room.blanks_of(mark) and not room.is_sawn_to_size(mark)]
    for kind, index in ((TRUE_THICKNESS, 2), (TRUE_WIDTH, 1), (TRUE_LENGTH, 0)):
        groups: dict[tuple[Fraction, Fraction, bool], list[str]] = {}
        for mark in rough:
            sizes = room.rough_and_final_mm(mark)
            if sizes[index][0] > sizes[index][1]:
                # A shared setting serves blanks of any width, but one thickness at a time.
                by_hand = kind is TRUE_WIDTH and sizes[0][0] < SHORTEST_RIP_MM
                key = (sizes[index][1], sizes[2][0], by_hand)
                groups.setdefault(key, []).append(mark)
        for key in sorted(groups, reverse=True):
            own = TRUE_WIDTH_BY_HAND if key[2] else kind
            yield _true_group(own, key[0], groups[key], room)


def _true_group(kind: OperationKind, final: Fraction, marks: list[str], room: Workroom) -> Draft:
    size = room.say.length(final)
    names = room.name_copies(marks)
    title = {
        TRUE_THICKNESS: f"Bring {names} to {size} thick",
        TRUE_WIDTH: f"Rip {names} to {size}",
        TRUE_WIDTH_BY_HAND: f"Plane {names} to {size}",
        TRUE_LENGTH: f"Crosscut {names} to {size}",
    }[kind]
    words = {
        TRUE_THICKNESS: _thickness_words,
        TRUE_WIDTH: _width_words,
        TRUE_WIDTH_BY_HAND: _hand_width_words,
        TRUE_LENGTH: _length_words,
    }[kind]
    check = {
        TRUE_THICKNESS: f"Both ends measure {size} thick.",
        TRUE_WIDTH: f"Both ends measure {size}; a try square fits both edges.",
        TRUE_WIDTH_BY_HAND: f"Both ends measure {size}; a try square fits both edges.",
        TRUE_LENGTH: "Stood side by side, the pieces show no step.",
    }[kind]
    return draft(
        kind,
        Work(
            id=make_slug(f"{kind.code} {size} {join_marks(marks)}"),
            title=title,
            copies=marks,
            actions=words(size, marks, room),
            check=check,
            settings=(Setting(name=_SETTINGS[kind.code], value_mm=final),),
            facts=_true_facts(kind, final, marks, room),
            takes=[thing for mark in marks for thing in _takes(kind, mark, room)],
            gives=[thing for mark in marks for thing in _gives(kind, mark, room)],
            pieces=len(marks),
        ),
    )


_SETTINGS: Final = {
    TRUE_THICKNESS.code: "fence",
    TRUE_WIDTH.code: "fence",
    TRUE_WIDTH_BY_HAND.code: "gauge",
    TRUE_LENGTH.code: "stop",
}
_ORDER: Final = ((2, "thickness"), (1, "width"), (0, "length"))


def _steps_of(mark: str, room: Workroom) -> list[str]:
    sizes = room.rough_and_final_mm(mark)
    return [name for index, name in _ORDER if sizes[index][0] > sizes[index][1]]


def _takes(kind: OperationKind, mark: str, room: Workroom) -> list[Thing]:
    steps = _steps_of(mark, room)
    name = kind.code.removeprefix("true-").removesuffix("-by-hand")
    before = steps[: steps.index(name)]
    if before:
        return [copy_trued(mark, step) for step in before]
    layers = room.blanks_of(mark)
    return [copy_glued(mark)] if len(layers) > 1 else [blank_cut(layers[0].label)]


def _gives(kind: OperationKind, mark: str, room: Workroom) -> list[Thing]:
    name = kind.code.removeprefix("true-").removesuffix("-by-hand")
    last = _steps_of(mark, room)[-1] == name
    return [copy_trued(mark, name), *([copy_sized(mark)] if last else [])]


def _thickness_words(size: str, marks: Sequence[str], room: Workroom) -> Iterator[str]:
    yield f"Set a tall fence {size} from the blade, with featherboards."
    yield from spread("On edge, best face to the fence, rip", marks)
    yield "Where the blade does not reach through, turn the piece over and rip again."
    del room


def _width_words(size: str, marks: Sequence[str], room: Workroom) -> Iterator[str]:
    yield from _face_edge_words(marks, room)
    yield f"Set the fence {size} from the blade."
    yield from _depth_words(marks, room)
    yield from spread("Rip", marks, "with the face edge against the fence")


def _hand_width_words(size: str, marks: Sequence[str], room: Workroom) -> Iterator[str]:
    yield from _face_edge_words(marks, room)
    yield f"Gauge a line {size} from the face edge, on both faces."
    yield from spread("Plane", marks, "down to the lines; they are too short for the saw")


def _face_edge_words(marks: Sequence[str], room: Workroom) -> Iterator[str]:
    if any(len(room.blanks_of(mark)) > 1 for mark in marks):
        yield "Scrape the hard glue off one long edge of each piece."
        yield "Plane that edge straight, and square to the face."
    else:
        yield "Plane one long edge of each piece straight, and square to the face."
    yield "Mark it as the face edge."


def _depth_words(marks: Sequence[str], room: Workroom) -> Iterator[str]:
    if room.rough_and_final_mm(marks[0])[2][0] > DEEPEST_SAW_MM:
        yield "Set the blade to just over half the thickness, and saw from both faces."


def _length_words(size: str, marks: Sequence[str], room: Workroom) -> Iterator[str]:
    yield from spread("Square one end of", marks, "on the sled, taking off as little as cleans it")
    yield f"Clamp a stop to the sled, {size} from the blade."
    yield from _depth_words(marks, room)
    yield from spread("Cut", marks, "to length, squared end against the stop")


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
    if kind is TRUE_LENGTH:
        spare = min(rough - target for (rough, target), _, _ in sizes)
        return facts | {"cut.keeper_mm": final, "cut.offcut_mm": spare}
    if kind is TRUE_WIDTH_BY_HAND:
        return facts
    if kind is TRUE_THICKNESS:
        facts["cut.depth_mm"] = max(widths)
    return facts | {"cut.fence_gap_mm": final}


PLANNER: Final = Planner(
    kinds=(GLUE_UP, TRUE_THICKNESS, TRUE_WIDTH, TRUE_WIDTH_BY_HAND, TRUE_LENGTH), plan=plan_layers
)
