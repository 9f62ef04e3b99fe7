"""Operations of round tenons: holes bored at a lean along a sight line, tenons shaved to fit them.

Takes round mortises and round tenons, gives drafts for each bit and lean. Must not know splays.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.joinery.records import JointFit
from benchleaf.lengths import format_degrees
from benchleaf.sequencing.drafting import Draft, OperationKind, Planner
from benchleaf.sequencing.kinds.joint_drafts import JointWork, draft_joint_work, mates_cut
from benchleaf.sequencing.kinds.machine_facts import DRILLED
from benchleaf.sequencing.kinds.role_work import bore
from benchleaf.sequencing.records import Fact, Setting
from benchleaf.sequencing.wording import join_words, pluralise, sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

_BY_DRILL: Final[dict[str, Fact]] = {
    **DRILLED,
    "cut.kind": "bore",
}
# Minutes chosen, as for all kinds: a careful beginner's.
BORE_ROUND_MORTISES: Final = OperationKind(
    code="bore-round-mortises",
    phase="joints",
    family="holes",
    tool="drill",
    minutes=15,
    minutes_each=6,
    says=_BY_DRILL,
)
SHAVE_ROUND_TENONS: Final = OperationKind(
    code="shave-round-tenons",
    phase="joints",
    family="tenons",
    tool="spokeshave",
    minutes=10,
    minutes_each=20,
    says={"op.makes_chips": True, "cut.kind": "tenon"},
)


def plan_round_tenons(room: Workroom) -> Iterator[Draft]:
    """Plan round mortises, then the tenons that are tried in them."""
    for role, make in (("round mortise", _bore), ("round tenon", _shave)):
        groups: dict[tuple[object, ...], list[WorkPiece]] = {}
        for piece in room.work:
            if piece.feature.role == role:
                groups.setdefault(_setting(piece, room), []).append(piece)
        for pieces in groups.values():
            yield make(pieces, room)


def _setting(piece: WorkPiece, room: Workroom) -> tuple[object, ...]:
    sizes = _sizes(piece, room)
    return (
        bore(piece).diameter_mm,
        sizes.get("mortise depth"),
        sizes.get("lean"),
        sizes.get("sight line"),
        room.part_of(piece.mark).name,
    )


def _fit(piece: WorkPiece, room: Workroom) -> JointFit:
    fit = room.fit_between(piece.mark, piece.feature.mate, piece.feature.joint)
    assert fit is not None  # noqa: S101 - every feature is of a joint
    return fit


def _sizes(piece: WorkPiece, room: Workroom) -> dict[str, Fraction]:
    return {size.name: size.value_mm for size in _fit(piece, room).sizes}


def _is_through(piece: WorkPiece, room: Workroom) -> bool:
    return "depth clearance" not in _sizes(piece, room)


# Mortises.


def _bore(pieces: Sequence[WorkPiece], room: Workroom) -> Draft:
    one = pieces[0]
    sizes = _sizes(one, room)
    own = bore(one)
    noun = "round mortise" + ("s" if len(pieces) > 1 else "")
    names = room.name_copies(piece.mark for piece in pieces)
    return draft_joint_work(
        BORE_ROUND_MORTISES,
        pieces,
        JointWork(
            name=f"{own.diameter_mm} {float(sizes.get('lean', 0)):.3f} {names}",
            title=f"Bore the {noun} in {names}",
            actions=tuple(_bore_words(pieces, room)),
            check=_bore_check(sizes),
            settings=tuple(_bore_settings(one, room)),
            facts={
                "bit.diameter_mm": own.diameter_mm,
                "cut.depth_mm": sizes["mortise depth"],
                "cut.through": _is_through(one, room),
                "cut.tilt_deg": float(sizes.get("lean", 0)),
            },
            finishes=tuple(piece.key for piece in pieces),
        ),
        room,
    )


def _bore_settings(piece: WorkPiece, room: Workroom) -> Iterator[Setting]:
    sizes = _sizes(piece, room)
    yield Setting(name="bit", value_mm=bore(piece).diameter_mm)
    if not _is_through(piece, room):
        yield Setting(name="depth stop", value_mm=sizes["mortise depth"])
    if "lean" in sizes:
        lean, line = float(sizes["lean"]), float(sizes["sight line"])
        text = f"{format_degrees(lean)} from upright ({format_degrees(90 - lean)} to the face)"
        yield Setting(name="sliding bevel", value_mm=None, text=text, value_deg=lean)
        text = f"{format_degrees(line)} from the grain ({format_degrees(90 - line)} across it)"
        yield Setting(name="sight line", value_mm=None, text=text, value_deg=line)


def _bore_words(pieces: Sequence[WorkPiece], room: Workroom) -> Iterator[str]:
    one = pieces[0]
    sizes = _sizes(one, room)
    face = _near_face(one)
    marks = sort_marks(piece.mark for piece in pieces)
    yield from spread("Turn over", marks, f"so that the {face} is up")
    if "lean" in sizes:
        yield from _sight_words(sizes, pieces)
    yield f"Fit the {room.say.length(bore(one).diameter_mm)} bit."
    if _is_through(one, room):
        yield "Clamp scrap under the work, so that the far face does not break out."
    else:
        yield f"Set the depth stop to {room.say.length(sizes['mortise depth'])} along the bit."
    count = len(pieces) // len(marks)
    holes = "the hole" if count == 1 else f"the {count} holes"
    end = "in line with the bevel, sighting from two sides" if "lean" in sizes else "square"
    yield from spread(f"Drill {holes} in", marks, end)


def _sight_words(sizes: dict[str, Fraction], pieces: Sequence[WorkPiece]) -> Iterator[str]:
    lean, line = float(sizes["lean"]), float(sizes["sight line"])
    corners = join_words(sorted({_leans_to(piece) for piece in pieces}))
    through = "each centre" if len(pieces) > 1 else "the centre"
    where = f"{format_degrees(line)} from the grain, {format_degrees(90 - line)} across it"
    yield f"Mark a sight line through {through}: {where}."
    each = "each towards its own corner" if len(pieces) > 1 else "it"
    yield f"Run {each}, to the {corners}."
    yield (
        f"Set the bevel {format_degrees(lean)} from upright, which is "
        f"{format_degrees(90 - lean)} to the face, and stand it on the line."
    )
    yield "Let the shank of the bit lean outwards along the line."


def _near_face(piece: WorkPiece) -> str:
    """The own face that the hole is bored from."""
    way = bore(piece).direction
    axis = max(range(3), key=lambda own: abs(float(way[own])))
    names = (("left", "right"), ("front", "back"), ("bottom", "top"))
    return names[axis][way[axis] < 0]


def _leans_to(piece: WorkPiece) -> str:
    """The corner or side of the face to which the mate leans, as drawn: `front left`."""
    way = bore(piece).direction
    into = max(range(3), key=lambda own: abs(float(way[own])))
    names = (("left", "right"), ("front", "back"), ("bottom", "top"))
    # chosen: a hundredth, half a degree: less is not seen as a lean.
    words = [
        names[axis][way[axis] < 0]
        for axis in (2, 1, 0)
        if axis != into and abs(float(way[axis])) > 0.01
    ]
    return " ".join(words)


def _bore_check(sizes: dict[str, Fraction]) -> str:
    if "lean" not in sizes:
        return "A straight rod stands square in every hole."
    return "A straight rod in each hole lies along the bevel, and over the sight line."


# Tenons.


def _shave(pieces: Sequence[WorkPiece], room: Workroom) -> Draft:
    one = pieces[0]
    names = room.name_copies(piece.mark for piece in pieces)
    noun = pluralise("round tenon") if len(pieces) > 1 else "round tenon"
    roles = {"round tenon", "tenon end", "round tenon slot"}
    finishes = [
        own.key
        for piece in pieces
        for own in room.work_at(piece.mark, piece.feature.mate, piece.feature.joint)
        if own.feature.role in roles
    ]
    return draft_joint_work(
        SHAVE_ROUND_TENONS,
        pieces,
        JointWork(
            name=f"{bore(one).diameter_mm} {names}",
            title=f"Shave the {noun} on {names}",
            actions=tuple(_shave_words(pieces, room)),
            check="Each tenon turns home in its mortise by hand; its shoulder closes all round.",
            settings=tuple(_shave_settings(one, room)),
            takes=mates_cut(pieces, room),
            finishes=tuple(finishes),
        ),
        room,
    )


def _shave_settings(piece: WorkPiece, room: Workroom) -> Iterator[Setting]:
    sizes = _sizes(piece, room)
    yield Setting(name="diameter", value_mm=bore(piece).diameter_mm)
    if "lean" in sizes:
        lean = float(sizes["lean"])
        text = f"{format_degrees(lean)} from square ({format_degrees(90 - lean)} to the edge)"
        yield Setting(name="shoulder", value_mm=None, text=text, value_deg=lean)


def _shave_words(pieces: Sequence[WorkPiece], room: Workroom) -> Iterator[str]:
    one = pieces[0]
    sizes, say = _sizes(one, room), room.say
    long = say.about(sizes["tenon length"])
    yield "Find the centre of the end by its diagonals, and draw the tenon's circle round it."
    yield f"Mark the middle of the shoulder {_shoulder_mm(one, room)} from the end, all round."
    if "lean" in sizes:
        yield from _shoulder_words(one, room)
    yield "Saw in at the shoulder line on every side, down to the circle and no deeper."
    yield from spread("Split and shave the waste to the circle, on", _marks(pieces))
    yield f"Try it in its own mortise as it nears {say.length(bore(one).diameter_mm)}."
    if _is_through(one, room) and "lean" in sizes:
        yield f"Saw the end parallel to the shoulder, {long} from it along the middle."
        yield "Leave it a hair proud: it is pared flush when the glue is hard."
    if any(f.role == "round tenon slot" for f in room.copy(one.mark).features):
        yield from _slot_words(one, room)


def _shoulder_words(piece: WorkPiece, room: Workroom) -> Iterator[str]:
    sizes = _sizes(piece, room)
    lean = float(sizes["lean"])
    shown = format_degrees(lean)
    yield f"Run it at {shown} from square, by the bevel; the waste is towards the end."
    yield "Keep its lowest point on the side to which the foot goes out."


def _slot_words(piece: WorkPiece, room: Workroom) -> Iterator[str]:
    fit = _fit(piece, room)
    wedges = [item for item in fit.hardware if item.kind == "wedge"]
    deep = room.say.about(_sizes(piece, room)["tenon length"] * Fraction(2, 3))
    yield (
        f"Saw a slot {deep} deep down the middle, to lie across the grain of the "
        f"{room.part_of(piece.feature.mate).name}."
    )
    if wedges:
        yield f"Cut a wedge for each: {wedges[0].size}, at its thick end."


def _shoulder_mm(piece: WorkPiece, room: Workroom) -> str:
    fit = _fit(piece, room)
    row = next(row for row in fit.setting_out if row.what.startswith("shoulder line"))
    return room.say.about(row.distance_mm)


def _marks(pieces: Sequence[WorkPiece]) -> tuple[str, ...]:
    return sort_marks(piece.mark for piece in pieces)


PLANNER: Final = Planner(kinds=(BORE_ROUND_MORTISES, SHAVE_ROUND_TENONS), plan=plan_round_tenons)
