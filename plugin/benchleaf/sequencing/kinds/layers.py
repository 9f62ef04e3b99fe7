"""Operations that make blanks of several layers.

Takes copies whose blanks have layers, gives drafts of their glue-ups. Must not know joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.sequencing.clamping import ONE_ROW_MM, Clamps, clamp_stack
from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    Work,
    blank_cut,
    copy_glued,
    draft,
)
from benchleaf.sequencing.glues import find_glue
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import join_marks, make_slug
from benchleaf.sequencing.workroom import Workroom, mass_of_mm3

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


def plan_layers(room: Workroom) -> Iterator[Draft]:
    """Plan the glue-ups of layers."""
    stacks: dict[tuple[str, int, bool], list[str]] = {}
    for mark in room.marks:
        layers = room.blanks_of(mark)
        if len(layers) > 1 and not layers[0].is_strip:
            is_wide = layers[0].width_mm > ONE_ROW_MM
            stacks.setdefault((layers[0].stock, len(layers), is_wide), []).append(mark)
    for marks in stacks.values():
        yield _glue_layers(marks, room)


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


PLANNER: Final = Planner(kinds=(GLUE_UP,), plan=plan_layers)
