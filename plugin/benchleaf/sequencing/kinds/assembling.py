"""Operations that bring copies together: smooth hidden faces, dry fit, pilot holes, glue, screws.

Takes the groups of the assembly, gives drafts. Nothing is glued before the whole that it belongs to
has stood together dry. Must not know how joints were cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import Hardware, JointFit
from benchleaf.sequencing.clamping import Clamps, clamp_joints
from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    Thing,
    Work,
    blank_cut,
    copy_jointed,
    copy_sanded,
    copy_sized,
    draft,
    feature_cut,
    group_drilled,
    group_dry,
    group_joined,
)
from benchleaf.sequencing.gathering import Group, gather, groups_in
from benchleaf.sequencing.glues import find_glue
from benchleaf.sequencing.jointwork import WorkPiece, bore_of, find_work
from benchleaf.sequencing.kinds.holes import PILOT
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.stating import state_materials
from benchleaf.sequencing.squaring import Diagonals, find_diagonals
from benchleaf.sequencing.wording import join_marks, join_words, make_slug, sort_marks, spread
from benchleaf.sequencing.workroom import Workroom


def _kind(code: str, family: str, tool: str, **says: Fact) -> OperationKind:
    # Minutes chosen, as for all kinds: a careful beginner's; each is a copy put on or a hole.
    return OperationKind(
        code=code,
        phase="assembly",
        family=family,
        tool=tool,
        minutes=10,
        minutes_each=4,
        says=says,
    )


SAND_INSIDE: Final = _kind(
    "sand-inside", "sanding", "sander", **{"op.makes_dust": True, "op.loud": True}
)
DRY_FIT: Final = _kind("dry-fit", "dry fit", "clamps")
DRILL_PILOTS: Final = _kind(
    "drill-pilots",
    "assembly",
    "drill",
    **{"op.makes_chips": True, "op.rotating_cutter": True, "cut.kind": "bore", "cut.through": False},
)
ASSEMBLE: Final = _kind("assemble", "assembly", "clamps")
SCREW_TOGETHER: Final = _kind("screw-together", "assembly", "screwdriver")
SET_IN_PLACE: Final = _kind("set-in-place", "assembly", "by hand")
_JOINS: Final = (ASSEMBLE, SCREW_TOGETHER, SET_IN_PLACE)
# chosen: two sides are enough to show a box out of square.
_MOST_DIAGONALS: Final = 2


def plan_assembling(room: Workroom) -> Iterator[Draft]:
    """Plan everything from smooth parts to the piece standing."""
    root = gather(room)
    yield _sand_inside(room)
    groups = [group for group in groups_in(root) if group.fits]
    work = find_work(room)
    for group in groups:
        if group.is_glued:
            yield _dry_fit(group, room)
        pilots = _pilots_of(group, work)
        if pilots:
            yield _drill_pilots(group, pilots, room)
        yield _join(group, groups, pilots, room)


# Sanding.


def _sand_inside(room: Workroom) -> Draft:
    marks = room.marks
    finish = room.plan.finish
    grits = finish.grits if finish and finish.grits else (120, 180)  # chosen: usual for bare wood
    area = sum(float(copy.blank.volume_mm3) ** (2 / 3) for copy in room.joinery.copies.values())
    actions = [
        "Find the faces and edges that will be out of reach once the piece stands.",
        f"Sand them with grit {join_words([str(grit) for grit in grits], 'then')}.",
        "Keep off tenons, shoulders and every place that takes glue.",
        "Vacuum the dust off.",
    ]
    return draft(
        SAND_INSIDE,
        Work(
            id="sand-inside",
            title="Sand the inside faces",
            copies=marks,
            actions=actions,
            check="Held to the light, no face shows saw marks.",
            facts=state_materials(marks, room),
            takes=[thing for mark in marks for thing in (copy_sized(mark), copy_jointed(mark))],
            gives=map(copy_sanded, marks),
            # chosen: four minutes for each half square metre of face.
            pieces=1 + round(area / 500_000),
        ),
    )


# Dry fit.


def _dry_fit(group: Group, room: Workroom) -> Draft:
    name = name_group(group, room)
    return draft(
        DRY_FIT,
        Work(
            id=make_slug(f"dry-fit {join_marks(group.copies)}"),
            title=f"Dry fit {name}",
            copies=group.copies,
            actions=_dry_words(group, room),
            check="Every joint closes under light clamps, with no gap at a shoulder.",
            settings=_clamp_settings(group, room),
            facts=_assembly_facts(group, room),
            takes=[
                *map(copy_sized, group.copies),
                *map(copy_jointed, group.copies),
                *(group_dry(m.copies) for m in group.members if m.is_glued),
                *map(blank_cut, _pins(group, room)),
            ],
            gives=[group_dry(group.copies)],
            pieces=len(group.members),
            joints=group.joints,
        ),
    )


def _dry_words(group: Group, room: Workroom) -> Iterator[str]:
    yield from _bring_words(group, room, without="glue")
    clamps = clamps_for(group, room)
    yield f"Close the joints with {_count(clamps.count, 'clamp')}, only hand tight."
    yield from _diagonal_words(group, room)
    yield "Mark across each joint with a pencil, so that it goes back the same way."
    yield "Take it apart again."


def _diagonal_words(group: Group, room: Workroom) -> Iterator[str]:
    boxes = {mark: room.joinery.piece.copies[mark].box for mark in group.copies}
    for side in find_diagonals(boxes)[:_MOST_DIAGONALS]:
        yield _one_diagonal(side, room)


def _one_diagonal(side: Diagonals, room: Workroom) -> str:
    low, high, _, _ = side.corners
    about = room.say.about(Fraction(side.length_mm))
    return (
        f"Measure both diagonals of the {side.side}, outer corner of {low} to {high}: {about} each."
    )


# Pilot holes.


def _pilots_of(group: Group, work: Sequence[WorkPiece]) -> list[WorkPiece]:
    pairs = {(f.joint, *sort_marks((f.contact.first, f.contact.second))) for f in group.fits}
    return [
        piece
        for piece in work
        if piece.feature.role == PILOT
        and (piece.feature.joint, *sort_marks((piece.mark, piece.feature.mate))) in pairs
    ]


def _drill_pilots(group: Group, pilots: list[WorkPiece], room: Workroom) -> Draft:
    bores = [bore for piece in pilots if (bore := bore_of(piece)) is not None]
    bits = sorted({bore.diameter_mm for bore in bores})
    depth = max(bore.depth_mm for bore in bores)
    names = room.name_copies(piece.mark for piece in pilots)
    keys = tuple(piece.key for piece in pilots)
    return draft(
        DRILL_PILOTS,
        Work(
            id=make_slug(f"drill-pilots {join_marks(group.copies)}"),
            title=f"Drill pilot holes in {names}",
            copies=sort_marks(piece.mark for piece in pilots),
            actions=_pilot_words(group, pilots, room),
            check="A screw held against the hole's wall shows thread on both sides.",
            settings=tuple(Setting(name="bit", value_mm=bit) for bit in bits),
            facts={
                **state_materials(sort_marks(p.mark for p in pilots), room),
                "bit.diameter_mm": bits[0],
                "cut.depth_mm": depth,
            },
            takes=[
                *map(copy_jointed, group.copies),
                *map(copy_sized, group.copies),
                *map(copy_sanded, group.copies),
                *([group_dry(group.copies)] if group.is_glued else []),
                *(group_joined(member.copies) for member in group.members if member.fits),
            ],
            gives=[group_drilled(group.copies), *(feature_cut(*key) for key in keys)],
            pieces=1 + len(pilots) // 4,  # chosen: four holes are as quick as one copy
            joints=sorted({piece.feature.joint for piece in pilots}),
            features=keys,
        ),
    )


def _pilot_words(group: Group, pilots: list[WorkPiece], room: Workroom) -> Iterator[str]:
    mates = sort_marks(piece.feature.mate for piece in pilots)
    marks = sort_marks(piece.mark for piece in pilots)
    bores = [bore for piece in pilots if (bore := bore_of(piece)) is not None]
    sizes = sorted({(bore.diameter_mm, bore.depth_mm) for bore in bores})
    yield from spread(f"Clamp in place, on {join_marks(marks)},", mates)
    for diameter, depth in sizes:
        bit, deep = room.say.length(diameter), room.say.length(depth)
        yield f"Fit a {bit} bit, with tape {deep} from its tip beyond the upper part."
    yield f"Drill through the clearance holes: {_count(len(pilots), 'hole')} in all."
    del group


# Closing.


def _join(
    group: Group, groups: Sequence[Group], pilots: list[WorkPiece], room: Workroom
) -> Draft:
    screws = _screws_of(group)
    kind = ASSEMBLE if group.is_glued else SCREW_TOGETHER if screws else SET_IN_PLACE
    glue = find_glue(room.plan.shop.glue)
    verb = {ASSEMBLE: "Glue up", SCREW_TOGETHER: "Screw together", SET_IN_PLACE: "Set up"}[kind]
    name = name_group(group, room)
    base = max(group.members, key=lambda member: len(member.copies)).copies
    return draft(
        kind,
        Work(
            id=make_slug(f"{kind.code} {join_marks(group.copies)}"),
            title=f"{verb} {name}",
            copies=group.copies,
            actions=_join_words(kind, group, room),
            check=_join_check(kind, group, room),
            settings=_clamp_settings(group, room) if kind is ASSEMBLE else (),
            facts=_assembly_facts(group, room),
            takes=_join_takes(group, groups, pilots, room),
            gives=[group_joined(group.copies)],
            pieces=len(group.members),
            waiting_hours=glue.clamp_hours if kind is ASSEMBLE else Fraction(0),
            joints=group.joints,
            joined=group.copies,
            moved=tuple(mark for mark in group.copies if mark not in base),
        ),
    )


def _join_takes(
    group: Group, groups: Sequence[Group], pilots: list[WorkPiece], room: Workroom
) -> Iterator[Thing]:
    for mark in group.copies:
        yield copy_sized(mark)
        yield copy_jointed(mark)
        yield copy_sanded(mark)
    for member in group.members:
        if member.fits:
            yield group_joined(member.copies)
    if pilots:
        yield group_drilled(group.copies)
    if group.is_glued:
        for other in groups:
            if other.is_glued and set(group.copies) <= set(other.copies):
                yield group_dry(other.copies)
    for label in _pins(group, room):
        yield blank_cut(label)


def _pins(group: Group, room: Workroom) -> tuple[str, ...]:
    """Labels of the pegs cut from rods, where a joint of the group is held by any."""
    if not any(item.kind == "dowel" for item in _hardware_of(group)):
        return ()
    return tuple(label for label in room.labels if room.blanks[label].copy not in room.marks)


def _join_words(kind: OperationKind, group: Group, room: Workroom) -> Iterator[str]:
    glue = room.plan.shop.glue
    if kind is ASSEMBLE:
        clamps = clamps_for(group, room)
        yield (
            f"Lay out {_count(clamps.count, 'clamp')} that open at least "
            f"{room.say.about(clamps.opening_mm)}, a mallet and a wet rag."
        )
        yield f"Spread {glue} thinly in every joint that closes here."
    yield from _bring_words(group, room, without="")
    if kind is ASSEMBLE:
        yield "Tighten the clamps in turn, until a thin line of glue shows."
        yield from _diagonal_words(group, room)
        yield "Where they differ, slant the clamps along the longer one."
    for hardware in _screws_of(group):
        yield f"Drive {_count(hardware.count, 'screw')}, {hardware.size}."
    if kind is ASSEMBLE:
        yield "Wipe the squeezed-out glue off with the wet rag."


def _join_check(kind: OperationKind, group: Group, room: Workroom) -> str:
    if kind is ASSEMBLE:
        has_corners = bool(list(_diagonal_words(group, room)))
        square = "The diagonals agree within 1 mm (1/32 in)" if has_corners else "Faces are in line"
        return f"{square}, and no shoulder shows a gap."
    if kind is SCREW_TOGETHER:
        return "Nothing moves when it is shaken, and no screw stands proud."
    return "It sits without rocking."


def _bring_words(group: Group, room: Workroom, *, without: str) -> Iterator[str]:
    """How the members come together, one sentence for each kind of member and joint."""
    suffix = f", without {without}" if without else ""
    base, *rest = group.members
    del room
    yield f"Start with {_name_member(base)}, on a flat bench{suffix}."
    pins = [h for h in _hardware_of(group) if h.kind == "dowel"]
    for pin in pins:
        yield f"Put {_count(pin.count, 'dowel')}, {pin.size}, into the holes on one side."
    together: list[str] = []
    for member in rest:
        together.append(_name_member(member))
    for start in range(0, len(together), 4):
        yield f"Push home {join_words(together[start : start + 4])}."


def _name_member(member: Group) -> str:
    return join_marks(member.copies) if len(member.copies) == 1 else (
        f"the assembly of {join_marks(member.copies)}"
    )


# Names and numbers.


def name_group(group: Group, room: Workroom) -> str:
    """A group by its parts' names, or as the whole piece."""
    if set(group.copies) == set(room.marks):
        return "the whole piece"
    parts = room.parts_among(group.copies)
    if len(parts) <= 3:
        return f"{room.name_copies(group.copies)} ({join_marks(group.copies)})"
    base = max(group.members, key=lambda member: len(member.copies))
    moved = [mark for mark in group.copies if mark not in base.copies]
    if moved and len(room.parts_among(moved)) <= 3:
        return f"{room.name_copies(moved)} and the assembly"
    return f"the assembly of {join_marks(group.copies)}"


def clamps_for(group: Group, room: Workroom) -> Clamps:
    """Clamps that close a group's glued joints."""
    axis = group.axis if group.axis is not None else Axis.WIDE
    others = [other for other in Axis if other is not axis]
    rectangles = []
    for fit in group.fits:
        if fit.is_glued:
            box = _contact_box(fit)
            rectangles.append(
                tuple((float(box.low[other]), float(box.high[other])) for other in others)
            )
    span = room.box_round(group.copies).size[axis]
    return clamp_joints(rectangles, Fraction(span))  # type: ignore[arg-type]


def _contact_box(fit: JointFit) -> Box:
    contact = fit.contact
    low = (Fraction(0), Fraction(0), Fraction(0))
    return contact.frame.box_outward(Box(low, (contact.u_mm, contact.v_mm, contact.n_mm)))


def _clamp_settings(group: Group, room: Workroom) -> tuple[Setting, ...]:
    clamps = clamps_for(group, room)
    return (
        Setting(name="clamps", value_mm=None, text=str(clamps.count)),
        Setting(name="clamp opening", value_mm=clamps.opening_mm),
    )


def _hardware_of(group: Group) -> list[Hardware]:
    totals: dict[tuple[str, str], Hardware] = {}
    for fit in group.fits:
        for item in fit.hardware:
            key = (item.kind, item.size)
            held = totals.get(key)
            count = item.count + (held.count if held else 0)
            totals[key] = Hardware(
                kind=item.kind,
                size=item.size,
                diameter_mm=item.diameter_mm,
                length_mm=item.length_mm,
                count=count,
            )
    return [totals[key] for key in sorted(totals)]


def _screws_of(group: Group) -> list[Hardware]:
    return [item for item in _hardware_of(group) if "screw" in item.kind]


def _count(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _assembly_facts(group: Group, room: Workroom) -> dict[str, Fact | None]:
    size = room.box_round(group.copies).size
    glue = find_glue(room.plan.shop.glue)
    facts: dict[str, Fact | None] = {
        "assembly.mass_kg": room.mass_of_all_kg(group.copies),
        "assembly.high_mm": Fraction(size[Axis.HIGH]),
        "assembly.deep_mm": Fraction(min(size[Axis.WIDE], size[Axis.DEEP])),
    }
    if group.is_glued:
        facts |= {
            "clamp.count": clamps_for(group, room).count,
            "glue.kind": glue.kind,
            "glue.open_minutes": glue.open_minutes,
            # chosen: a minute to spread and close each joint, and two for the clamps.
            "glue.closing_minutes": 2 + sum(fit.is_glued for fit in group.fits),
        }
    return facts


PLANNER: Final = Planner(
    kinds=(SAND_INSIDE, DRY_FIT, DRILL_PILOTS, *_JOINS), plan=plan_assembling
)
