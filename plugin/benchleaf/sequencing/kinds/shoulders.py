"""Operations that cut shoulders round tenons and posts: saw to depth, pare what is long.

Takes shoulders that tenons imply or joints give, gives drafts grouped by stop and blade height.
Must not know what the tenon goes into.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from benchleaf.frames import FACES, Axis, Box, face_name
from benchleaf.piece.records import Part
from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    Thing,
    feature_begun,
    feature_cut,
)
from benchleaf.sequencing.jointwork import measure_tenon
from benchleaf.sequencing.kinds.joint_drafts import JointWork, draft_joint_work, keys_of
from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import join_words, sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

_SAW: Final = {
    **MACHINED,
    "op.uses_stop": True,
    "cut.through": False,
    "stock.edge_straight": True,
}
SAW_SHOULDERS: Final = OperationKind(
    code="saw-shoulders",
    phase="joints",
    family="tenons",
    tool="table saw",
    minutes=15,
    minutes_each=6,
    says={**_SAW, "cut.kind": "shoulder"},
)
PARE_SHOULDERS: Final = OperationKind(
    code="pare-shoulders",
    phase="joints",
    family="tenons",
    tool="chisel",
    minutes=5,
    minutes_each=15,
    says={"op.makes_chips": True, "cut.kind": "shoulder"},
)
# The work lies on the sled, not on the table.
ABOVE_SLED: Final = "above the sled's floor"
# chosen: waste up to 4 in long is nibbled away on the sled; longer is sawn in slices and pared.
LONGEST_NIBBLE_MM: Final = 100
# chosen: a shoulder deeper than 30 mm, or one with a haunch, is sawn by hand: the blade would
# stand too far out of the table, or cut the haunch off.
DEEPEST_ON_SLED_MM: Final = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Shoulder:
    """Waste on one side of a tenon or post."""

    work: WorkPiece
    """The tenon, or the waste itself where the joint gives it."""
    from_end_mm: Fraction
    """From the end of the part to the shoulder line."""
    length_mm: Fraction
    """Of the waste, along the part."""
    depth_mm: Fraction
    face: str
    end: str
    """Own face at the end of the part."""


def plan_shoulders(room: Workroom) -> Iterator[Draft]:
    """Plan all shoulders that the sled can cut, each depth and distance once."""
    groups: dict[tuple[Fraction, Fraction], list[Shoulder]] = {}
    shoulders = _shorten(list(_shoulders(room.work, room)))
    for shoulder in shoulders:
        key = (shoulder.from_end_mm, shoulder.depth_mm)
        groups.setdefault(key, []).append(shoulder)
    for key in sorted(groups):
        yield from _shape(groups[key], shoulders, room)


def _shoulders(work: Sequence[WorkPiece], room: Workroom) -> Iterator[Shoulder]:
    for piece in work:
        if piece.feature.role == "shoulder":
            found = _given_shoulder(piece, room)
            if found is not None:
                yield found
        elif piece.feature.role == "tenon":
            yield from _implied_shoulders(piece, has_haunch=haunch_of(piece, work) is not None)


def haunch_of(tenon: WorkPiece, work: Sequence[WorkPiece]) -> WorkPiece | None:
    """The haunch that stands beside a tenon."""
    return next(
        (
            piece
            for piece in work
            if piece.feature.role == "haunch"
            and piece.feature.adds
            and piece.mark == tenon.mark
            and (piece.feature.joint, piece.feature.mate)
            == (tenon.feature.joint, tenon.feature.mate)
        ),
        None,
    )


def is_by_hand(depth: Fraction, piece: WorkPiece, *, has_haunch: bool) -> bool:
    """Tell whether a shoulder is sawn by hand; a haunch stands on the edge with the deepest."""
    tenon = measure_tenon(piece)
    deepest = max((own for _, own in tenon.shoulders), default=depth) if tenon else depth
    return depth > DEEPEST_ON_SLED_MM or (has_haunch and depth == deepest)


def _implied_shoulders(piece: WorkPiece, *, has_haunch: bool) -> Iterator[Shoulder]:
    tenon = measure_tenon(piece)
    if tenon is None:
        return
    for face, depth in tenon.shoulders:
        if is_by_hand(depth, piece, has_haunch=has_haunch):
            continue
        yield Shoulder(
            work=piece,
            from_end_mm=tenon.length_mm,
            length_mm=tenon.length_mm,
            depth_mm=depth,
            face=face,
            end=tenon.end,
        )


def _given_shoulder(piece: WorkPiece, room: Workroom) -> Shoulder | None:
    """Waste round a post, measured from the part's own face: posts are shaped from their end."""
    box, body = piece.feature.shape, piece.body
    if not isinstance(box, Box):
        return None
    axis, is_high = max(
        ((axis, high) for axis in Axis if axis is not piece.into for high in (False, True)),
        key=lambda side: _share_off_centre(box, body, side[0], is_high=side[1]),
    )
    whole = room.copy(piece.mark).blank
    near = Fraction(box.high[piece.into] - whole.low[piece.into])
    far = Fraction(whole.high[piece.into] - box.low[piece.into])
    depth = body.high[axis] - box.low[axis] if is_high else box.high[axis] - body.low[axis]
    return Shoulder(
        work=piece,
        from_end_mm=min(near, far),
        length_mm=min(near, far),
        depth_mm=Fraction(depth),
        face=face_name(axis, is_high),
        end=face_name(piece.into, far <= near),
    )


def _share_off_centre(box: Box, body: Box, axis: Axis, *, is_high: bool) -> Fraction:
    off = (box.low[axis] + box.high[axis]) - (body.low[axis] + body.high[axis])
    share = Fraction(off) / Fraction(body.size[axis])
    return share if is_high else -share


def _shorten(shoulders: list[Shoulder]) -> list[Shoulder]:
    """Where a post has several shoulders, end the waste of each where the next one begins."""
    lines: dict[str, set[Fraction]] = {}
    for shoulder in shoulders:
        lines.setdefault(shoulder.work.mark, set()).add(shoulder.from_end_mm)
    return [
        replace(
            shoulder,
            length_mm=shoulder.from_end_mm
            - max(
                (at for at in lines[shoulder.work.mark] if at < shoulder.from_end_mm),
                default=Fraction(0),
            ),
        )
        for shoulder in shoulders
    ]


def _shape(group: list[Shoulder], all_of_them: list[Shoulder], room: Workroom) -> Iterator[Draft]:
    is_long = max(shoulder.length_mm for shoulder in group) > LONGEST_NIBBLE_MM
    yield _saw(group, all_of_them, room, is_long=is_long)
    if is_long:
        yield _pare(group, room)


def _given(group: Sequence[Shoulder]) -> tuple[tuple[str, int], ...]:
    """Waste that the joint gives as such, and so is finished with the shoulder."""
    return tuple(s.work.key for s in group if s.work.feature.role == "shoulder")


def _sides_of_tenons(group: Sequence[Shoulder]) -> list[tuple[str, int, str]]:
    """The sides of tenons that stand free when the waste is off."""
    return [(*s.work.key, s.face) for s in group if s.work.feature.role == "tenon"]


def _above(group: list[Shoulder], all_of_them: list[Shoulder]) -> Iterator[Thing]:
    """What is nearer the end of a part: shaped first, so that full stock lies on the sled."""
    for shoulder in group:
        for other in all_of_them:
            is_same = other.work.mark == shoulder.work.mark
            if is_same and other.from_end_mm < shoulder.from_end_mm and _given([other]):
                yield feature_cut(*other.work.key)


def _saw(
    group: list[Shoulder], all_of_them: list[Shoulder], room: Workroom, *, is_long: bool
) -> Draft:
    first = group[0]
    pieces = [shoulder.work for shoulder in group]
    given = _given(group)
    depth, length = room.say.length(first.depth_mm), room.say.length(first.from_end_mm)
    return draft_joint_work(
        SAW_SHOULDERS,
        pieces,
        JointWork(
            name=f"{first.from_end_mm} {first.depth_mm}",
            title=f"Saw the {depth} shoulders of {room.name_copies(p.mark for p in pieces)}",
            actions=_saw_words(group, room, is_long=is_long),
            check=f"The shoulder line stands {length} from the end on every side.",
            settings=(
                Setting(name="blade height", value_mm=first.depth_mm, text=ABOVE_SLED),
                Setting(name="stop", value_mm=first.from_end_mm),
            ),
            facts={"cut.depth_mm": first.depth_mm},
            takes=_above(group, all_of_them),
            begins=keys_of(pieces),
            finishes=() if is_long else given,
            slits=_sides_of_tenons(group) if is_long else (),
            clears=() if is_long else _sides_of_tenons(group),
        ),
        room,
    )


def _saw_words(group: list[Shoulder], room: Workroom, *, is_long: bool) -> Iterator[str]:
    first, say = group[0], room.say
    yield f"Set the blade {say.length(first.depth_mm)} {ABOVE_SLED}, and try it on scrap."
    yield f"Clamp a stop to the sled, {say.length(first.from_end_mm)} from the blade's far side."
    ends = {shoulder.end for shoulder in group}
    end = f"the {ends.pop()} end" if len(ends) == 1 else "each end in turn"
    for sides, marks in _sides(group, room).items():
        yield from spread(f"With {end} against the stop, saw {sides} of", marks)
    if is_long:
        spacing = say.usual("20 mm", "3/4 in")
        yield f"Go on towards the end as far as there is waste, with a cut every {spacing}."
    else:
        yield "Slide the work away from the stop, and nibble the rest down to the end."


def _sides(group: Sequence[Shoulder], room: Workroom) -> dict[str, tuple[str, ...]]:
    """Which sides are sawn, in words, to the marks of the copies that it holds for."""
    faces: dict[str, set[str]] = {}
    for shoulder in group:
        faces.setdefault(shoulder.work.mark, set()).add(shoulder.face)
    held: dict[str, list[str]] = {}
    for mark, own in faces.items():
        held.setdefault(_name_sides(own, room.part_of(mark)), []).append(mark)
    return {words: sort_marks(marks) for words, marks in held.items()}


def _name_sides(faces: set[str], part: Part) -> str:
    if len(faces) == 4:
        return "all four sides"
    names = []
    for axis, noun in ((part.thickness_axis, "face"), (part.width_axis, "edge")):
        own = [face for face in FACES if face in faces and FACES[face][0] is axis]
        names += [f"both {noun}s"] if len(own) == 2 else [f"the {face} {noun}" for face in own]
    return join_words(names)


def _pare(group: list[Shoulder], room: Workroom) -> Draft:
    first = group[0]
    pieces = [shoulder.work for shoulder in group]
    return draft_joint_work(
        PARE_SHOULDERS,
        pieces,
        JointWork(
            name=f"{first.from_end_mm} {first.depth_mm}",
            title=f"Pare {room.name_copies(p.mark for p in pieces)} down to the saw cuts",
            actions=[
                "Split the slices off with a wide chisel, bevel down.",
                "Plane or pare down to the bottom of the cuts, right up to the shoulder.",
            ],
            check="A straightedge lies flat on every side.",
            takes=[feature_begun(*piece.key) for piece in pieces],
            finishes=_given(group),
            clears=_sides_of_tenons(group),
        ),
        room,
    )


PLANNER: Final = Planner(kinds=(SAW_SHOULDERS, PARE_SHOULDERS), plan=plan_shoulders)
