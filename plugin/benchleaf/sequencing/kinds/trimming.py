"""Operations that cut ends and edges at an angle: crosscuts with gauge and tilt, bevelled rips.

Takes copies at their sizes whose ends are not square, gives a draft for each setting. Must not know
joints: an end that carries a tenon is cut with it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from benchleaf.frames import FACES
from benchleaf.joinery.trimmed import open_trims
from benchleaf.lengths import format_degrees
from benchleaf.piece.records import Part, Trim
from benchleaf.piece.trim_angles import TrimAngles, trim_angles
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
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.stating import state_copies
from benchleaf.sequencing.wording import join_words, make_slug, spread
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shops import Shop
from benchleaf.shops.records import TableSaw

_SAW: Final[dict[str, Fact]] = {
    **MACHINED,
    "cut.through": True,
    "stock.kind": "part",
    "stock.edge_straight": True,
}
# Minutes chosen, as for all kinds: a careful beginner's, with a trial cut in scrap.
CROSSCUT_AT_ANGLE: Final = OperationKind(
    code="crosscut-at-angle",
    phase="joints",
    family="angles",
    tool="table saw",
    minutes=15,
    minutes_each=3,
    says={**_SAW, "cut.kind": "crosscut"},
)
RIP_AT_ANGLE: Final = OperationKind(
    code="rip-at-angle",
    phase="joints",
    family="angles",
    tool="table saw",
    minutes=15,
    minutes_each=4,
    says={**_SAW, "cut.kind": "rip"},
)
SAW_TO_LINE: Final = OperationKind(
    code="saw-to-line",
    phase="joints",
    family="angles",
    tool="hand saw",
    minutes=10,
    minutes_each=8,
    says={"op.makes_dust": True, "cut.kind": "saw"},
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cut:
    """The same cut on all copies of a part."""

    part: Part
    trims: tuple[Trim, ...]
    """The ends that one setting serves."""
    angles: tuple[TrimAngles, ...]
    """One for each."""
    marks: tuple[str, ...]
    kind: OperationKind


def plan_trimming(room: Workroom) -> Iterator[Draft]:
    """Plan all ends and edges that are cut at an angle."""
    for name, part in room.joinery.piece.parts.items():
        if not part.trims:
            continue
        marks = tuple(copy.mark for copy in room.joinery.piece.copies_of(name))
        held = {trim.face: trim for mark in marks for trim in open_trims(room.joinery, mark)}
        groups: dict[tuple[object, ...], list[Trim]] = {}
        for trim in held.values():
            angles = trim_angles(part, trim)
            kind = _kind_for(part, trim, angles, shop=room.shop)
            key = (kind.code, round(angles.gauge_deg, 3), round(angles.tilt_deg, 3))
            groups.setdefault(key, []).append(trim)
        for trims in groups.values():
            angles_of = tuple(trim_angles(part, trim) for trim in trims)
            kind = _kind_for(part, trims[0], angles_of[0], shop=room.shop)
            yield _draft(
                _Cut(part=part, trims=tuple(trims), angles=angles_of, marks=marks, kind=kind), room
            )


def _kind_for(part: Part, trim: Trim, angles: TrimAngles, *, shop: Shop) -> OperationKind:
    # Where there is none, the work of a usual one is done another way.
    saw = shop.table_saw or TableSaw()
    if angles.gauge_deg > saw.gauge_deg or angles.tilt_deg > saw.tilt_deg:
        return SAW_TO_LINE
    if FACES[trim.face][0] is part.grain_axis:
        return CROSSCUT_AT_ANGLE
    # An edge that runs out along the board cannot lie against the fence.
    return SAW_TO_LINE if angles.far_side else RIP_AT_ANGLE


def _draft(cut: _Cut, room: Workroom) -> Draft:
    pairs = [(mark, trim.face) for mark in cut.marks for trim in cut.trims]
    faces = join_words([f"the {trim.face}" for trim in cut.trims])
    names = room.name_copies(cut.marks)
    verb = {CROSSCUT_AT_ANGLE.code: "Crosscut", RIP_AT_ANGLE.code: "Bevel"}.get(
        cut.kind.code, "Saw"
    )
    own = make_slug(f"{cut.kind.code} {cut.part.name} {'-'.join(t.face for t in cut.trims)}")
    return draft(
        cut.kind,
        Work(
            id=own,
            title=f"{verb} {faces} of {names} at {_angles_words(cut.angles[0])}",
            copies=cut.marks,
            actions=tuple(_actions(cut, room)),
            check=_check(cut, room),
            settings=_settings(cut),
            facts={**state_copies(cut.marks, room), **_angle_facts(cut)},
            takes=[thing for mark in cut.marks for thing in _before(mark, room)],
            gives=[copy_sized(mark) for mark in cut.marks],
            pieces=len(pairs),
            trimmed=tuple(pairs),
        ),
    )


def _angle_facts(cut: _Cut) -> dict[str, Fact | None]:
    """What the safety rules look at of gauge and blade."""
    angles = cut.angles[0]
    return {
        "cut.gauge_deg": angles.gauge_deg if angles.far_side else 0.0,
        "cut.tilt_deg": angles.tilt_deg if angles.far_face else 0.0,
    }


def _before(mark: str, room: Workroom) -> Iterator[Thing]:
    """A copy has its sizes: this operation is the last of those that bring it to them."""
    for blank in room.blanks_of(mark):
        yield blank_cut(blank.label)
    yield copy_glued(mark)
    for size in ("thickness", "width", "length"):
        yield copy_trued(mark, size)


def both(angle_deg: float) -> str:
    """An angle and its complement: scales count from either end.

    >>> both(7.0532)
    '7.1° (82.9° from the blade)'
    """
    return f"{format_degrees(angle_deg)} ({format_degrees(90 - angle_deg)} from the blade)"


def both_of_tilt(angle_deg: float) -> str:
    """The tilt of a blade and its complement.

    >>> both_of_tilt(7.0532)
    '7.1° (82.9° to the table)'
    """
    return f"{format_degrees(angle_deg)} ({format_degrees(90 - angle_deg)} to the table)"


def _settings(cut: _Cut) -> tuple[Setting, ...]:
    angles, settings = cut.angles[0], []
    if cut.kind is CROSSCUT_AT_ANGLE:
        settings.append(
            Setting(
                name="mitre gauge",
                value_mm=None,
                text=both(angles.gauge_deg) if angles.far_side else "square",
                value_deg=angles.gauge_deg,
            )
        )
    if cut.kind is not SAW_TO_LINE:
        settings.append(
            Setting(
                name="blade tilt",
                value_mm=None,
                text=both_of_tilt(angles.tilt_deg) if angles.far_face else "upright",
                value_deg=angles.tilt_deg,
            )
        )
    return tuple(settings)


def _angles_words(angles: TrimAngles) -> str:
    shown = [
        format_degrees(own)
        for own, is_set in (
            (angles.gauge_deg, angles.far_side),
            (angles.tilt_deg, angles.far_face),
        )
        if is_set
    ]
    return " and ".join(shown)


def _actions(cut: _Cut, room: Workroom) -> Iterator[str]:
    for trim, angles in zip(cut.trims, cut.angles, strict=True):
        yield from _mark_words(cut, trim, angles, room=room)
    yield from _set_words(cut)
    ends = join_words([trim.face for trim in cut.trims])
    yield from spread(f"Cut the {ends} of", cut.marks, "with the blade just on the waste side")
    hands = [mark for mark in cut.marks if _is_other_hand(mark, cut, room)]
    if hands and cut.angles[0].is_compound and cut.kind is not SAW_TO_LINE:
        yield from spread("Turn the gauge to the other side of square for", hands, _OTHER_HAND)


_OTHER_HAND: Final = "of the other hand"


def _mark_words(cut: _Cut, trim: Trim, angles: TrimAngles, *, room: Workroom) -> Iterator[str]:
    """Where the line starts, how it runs, and which side of it is waste."""
    where = "edge" if FACES[trim.face][0] is not cut.part.grain_axis else "end"
    far = [own for own in (angles.far_side, angles.far_face) if own]
    start = "corner" if len(far) > 1 else "edge"
    sides = " and ".join(far)
    yield f"Start the line at the {trim.face} {where}, at the very {start} on the {sides}."
    if angles.far_side:
        back = room.say.about(angles.across_mm)
        shown = format_degrees(angles.gauge_deg)
        yield f"Run it back {back} over the broad faces, at {shown} from square."
    if angles.far_face:
        back = room.say.about(angles.through_mm)
        shown = format_degrees(angles.edge_deg)
        yield f"Run it back {back} over the edges, at {shown} from square."
    yield f"Mark the waste: it lies beyond the line, towards the {trim.face}."


def _set_words(cut: _Cut) -> Iterator[str]:
    angles = cut.angles[0]
    if cut.kind is SAW_TO_LINE:
        yield "Saw to the line on two neighbouring faces at once, and plane to it."
        return
    if cut.kind is CROSSCUT_AT_ANGLE:
        setting = both(angles.gauge_deg) if angles.far_side else ""
        yield f"Turn the mitre gauge {setting} off square." if setting else "Set the gauge square."
    if angles.far_face:
        yield f"Set the blade to tilt {both_of_tilt(angles.tilt_deg)}."
    else:
        yield "Set the blade upright."
    if cut.kind is RIP_AT_ANGLE:
        yield f"Set the fence so that the blade just meets the edge on the {angles.far_face}."
    yield "Try the setting on scrap, and hold the bevel to it."


def _is_other_hand(mark: str, cut: _Cut, room: Workroom) -> bool:
    copies = room.joinery.piece.copies
    return copies[mark].frame.is_mirrored != copies[cut.marks[0]].frame.is_mirrored


def _check(cut: _Cut, room: Workroom) -> str:
    del room
    meets = cut.trims[0].to
    if not meets:
        return "Stood on the cut, the part leans as drawn and does not rock."
    return f"Held in its place, the cut closes on {_name(meets)} along its whole face."


def _name(meets: str) -> str:
    named = meets.removeprefix("mitre with ").partition(".")[0]
    return "the floor" if meets == "floor" else f"the {named}"


PLANNER: Final = Planner(kinds=(CROSSCUT_AT_ANGLE, RIP_AT_ANGLE, SAW_TO_LINE), plan=plan_trimming)
