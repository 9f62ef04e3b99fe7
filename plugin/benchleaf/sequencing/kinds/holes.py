"""Operations that drill round holes before assembly: for dowels and screws, and countersinks.

Takes round features, gives drafts for each bit and depth, over all joints. Pilot holes wait for the
parts to stand together and are not planned here. Must not know hardware.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from benchleaf.forms import Bore
from benchleaf.sequencing.drafting import Draft, OperationKind, Planner, Thing, feature_cut
from benchleaf.sequencing.jointwork import bore_of
from benchleaf.sequencing.kinds.joint_drafts import JointWork, draft_joint_work, keys_of
from benchleaf.sequencing.kinds.machine_facts import DRILLED
from benchleaf.sequencing.kinds.role_work import ELSEWHERE
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom

_DRILL: Final = {**DRILLED}


def _kind(code: str, minutes_each: int, word: str) -> OperationKind:
    return OperationKind(
        code=code,
        phase="joints",
        family="holes",
        tool="drill",
        minutes=5,
        minutes_each=minutes_each,
        says={**_DRILL, "cut.kind": word},
    )


DRILL_DOWEL_HOLES: Final = _kind("drill-dowel-holes", 3, "bore")
DRILL_CLEARANCE: Final = _kind("drill-clearance", 1, "bore")
COUNTERSINK: Final = _kind("countersink", 1, "countersink")
DRILL_HOLES: Final = _kind("drill-holes", 2, "bore")
_BY_ROLE: Final = {
    "dowel hole": DRILL_DOWEL_HOLES,
    "clearance hole": DRILL_CLEARANCE,
    "countersink": COUNTERSINK,
}
PILOT: Final = "pilot hole"


def plan_holes(room: Workroom) -> Iterator[Draft]:
    """Plan all round holes but pilot holes."""
    groups: dict[tuple[str, str, Fraction, Fraction], list[tuple[WorkPiece, Bore]]] = {}
    for work in room.work:
        bore = bore_of(work)
        if bore is None or work.feature.adds or work.feature.role in {PILOT, *ELSEWHERE}:
            continue
        kind = _BY_ROLE.get(work.feature.role, DRILL_HOLES)
        # A hole right through needs no depth stop, so that its depth is no setting.
        depth = Fraction(0) if _is_through(work) else bore.depth_mm
        key = (kind.code, work.feature.role, bore.diameter_mm, depth)
        groups.setdefault(key, []).append((work, bore))
    kinds = {kind.code: kind for kind in PLANNER.kinds}
    for (code, _, _, _), held in groups.items():
        yield _drill(kinds[code], [work for work, _ in held], held[0][1], room)


def _drill(kind: OperationKind, pieces: list[WorkPiece], bore: Bore, room: Workroom) -> Draft:
    feature = pieces[0].feature
    is_through = kind is not COUNTERSINK and all(map(_is_through, pieces))
    noun = feature.role + ("s" if len(pieces) > 1 else "")
    name = "countersink" if kind is COUNTERSINK else "bit"
    settings = [Setting(name=name, value_mm=bore.diameter_mm)]
    if not is_through:
        settings.append(Setting(name="depth stop", value_mm=bore.depth_mm))
    return draft_joint_work(
        kind,
        pieces,
        JointWork(
            name=f"{feature.role} {bore.diameter_mm} {bore.depth_mm}",
            title=_title(kind, noun, [piece.mark for piece in pieces], room),
            actions=_words(kind, pieces, bore, room),
            check=_check(kind, bore, room),
            settings=tuple(settings),
            facts={
                "bit.diameter_mm": bore.diameter_mm,
                "cut.depth_mm": bore.depth_mm,
                "cut.through": is_through,
            },
            takes=[thing for piece in pieces for thing in _takes(kind, piece, room)],
            finishes=keys_of(pieces),
        ),
        room,
    )


def _title(kind: OperationKind, noun: str, marks: Sequence[str], room: Workroom) -> str:
    names = room.name_copies(marks)
    if kind is COUNTERSINK:
        return f"Countersink the holes in {names}"
    return f"Drill the {noun} in {names}"


def _takes(kind: OperationKind, piece: WorkPiece, room: Workroom) -> list[Thing]:
    if kind is not COUNTERSINK:
        return []
    return [
        feature_cut(piece.mark, index)
        for index, feature in enumerate(room.copy(piece.mark).features)
        if feature.role == "clearance hole" and feature.joint == piece.feature.joint
    ]


def _is_through(piece: WorkPiece) -> bool:
    bore = bore_of(piece)
    if bore is None:
        return False
    size = piece.body.size
    along = next(axis for axis in range(3) if bore.direction[axis])
    return bore.depth_mm >= size[along]


def _words(
    kind: OperationKind, pieces: list[WorkPiece], bore: Bore, room: Workroom
) -> Iterator[str]:
    say = room.say
    marks = sort_marks(piece.mark for piece in pieces)
    if kind is COUNTERSINK:
        yield f"Fit a countersink, and set it for {_name_head(pieces[0], bore, room)}."
        yield "Try one hole with a screw; its head comes just below the face."
        yield from spread("Countersink the holes in", marks, "on the marked side, for the heads")
        return
    yield f"Fit the {say.length(bore.diameter_mm)} bit."
    if all(map(_is_through, pieces)):
        yield "Lay scrap under the work, so that the far face does not break out."
    else:
        yield f"Set the depth stop to {say.length(bore.depth_mm)}."
    if kind is DRILL_DOWEL_HOLES:
        yield "Clamp the dowel jig over each mark, its fence on the face that was measured from."
    counts = {mark: sum(piece.mark == mark for piece in pieces) for mark in marks}
    for count in sorted(set(counts.values())):
        some = [mark for mark in marks if counts[mark] == count]
        holes = "one hole" if count == 1 else f"{count} holes"
        each = "each of " if len(some) > 1 else ""
        side = "from the marked side" if kind is DRILL_CLEARANCE else ""
        yield from spread(f"Drill {holes} in {each}".rstrip(), some, side)


def _name_head(piece: WorkPiece, bore: Bore, room: Workroom) -> str:
    """The head that a countersink is for: by the screw's number, as a maker reaches for it."""
    fit = room.fit_between(piece.mark, piece.feature.mate, piece.feature.joint)
    sizes = [item.size for item in fit.hardware] if fit else []
    number = next((size.partition(" x ")[0] for size in sizes if size.startswith("No. ")), "")
    if number:
        return f"the head of a {number} screw"
    return f"a head {room.say.length(bore.diameter_mm)} across"


def _check(kind: OperationKind, bore: Bore, room: Workroom) -> str:
    if kind is COUNTERSINK:
        return "A screw's head sits just below the face in every hole."
    if kind is DRILL_DOWEL_HOLES:
        return f"A dowel pushes into every hole by hand, {room.say.length(bore.depth_mm)} deep."
    if kind is DRILL_CLEARANCE:
        return "Every hole is on its mark, square to the face, and clean where the head comes."
    return "Every hole is on its mark and square to the face."


PLANNER: Final = Planner(
    kinds=(DRILL_DOWEL_HOLES, DRILL_CLEARANCE, COUNTERSINK, DRILL_HOLES), plan=plan_holes
)
