"""The operation that cuts box joints: on the sled, against a key as wide as a finger.

Takes features of the role finger socket, gives drafts grouped by equal width and depth over all
boards, because dado head and key are then set once. Must not know what stands in the corner.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.frames import FACES, Axis, Box
from benchleaf.joinery.records import JointFit
from benchleaf.sequencing.drafting import Draft, OperationKind, Planner
from benchleaf.sequencing.kinds.joint_drafts import JointWork, draft_joint_work, keys_of
from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.kinds.shoulders import ABOVE_SLED
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import sort_marks, spread
from benchleaf.sequencing.workroom import WorkPiece, Workroom, longest_axis

ROLES: Final = frozenset({"finger socket"})
CUT_FINGERS: Final = OperationKind(
    code="cut-fingers",
    phase="joints",
    family="box joints",
    tool="table saw",
    minutes=40,
    minutes_each=1,
    says={
        "op.dado_head": True,
        **MACHINED,
        "cut.kind": "box joint",
        "cut.through": False,
        "stock.edge_straight": True,
    },
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Socket:
    """One socket: how wide its finger is, how deep it goes, and whether the board begins there."""

    work: WorkPiece
    finger_mm: Fraction
    depth_mm: Fraction
    edge: str
    """Own face that the corner is measured from."""
    is_at_edge: bool


def plan_box_joints(room: Workroom) -> Iterator[Draft]:
    """Plan the box joints, each width and depth once."""
    groups: dict[tuple[Fraction, Fraction], list[_Socket]] = {}
    for piece in room.work:
        if piece.feature.role in ROLES:
            socket = _measure(piece, room)
            groups.setdefault((socket.finger_mm, socket.depth_mm), []).append(socket)
    for sockets in groups.values():
        yield _cut(sockets, room)


def _measure(work: WorkPiece, room: Workroom) -> _Socket:
    fit = room.fit_between(work.mark, work.feature.mate, work.feature.joint)
    box = work.feature.shape
    if fit is None or not isinstance(box, Box):
        raise LookupError(f"no corner at {work.mark}")
    along = axis_through(work.feature.mate, work.mark, room)
    edge = _edge_of(fit, work.mark)
    axis, is_high = FACES[edge]
    touches = box.high[axis] >= work.body.high[axis] if is_high else box.low[axis] <= 0
    finger = next(size.value_mm for size in fit.sizes if size.name == "finger width")
    return _Socket(
        work=work,
        finger_mm=finger,
        depth_mm=Fraction(box.size[along]),
        edge=edge,
        is_at_edge=touches,
    )


def axis_through(mate: str, mark: str, room: Workroom) -> Axis:
    """The own axis of a copy that runs through the thickness of its mate: along the copy itself."""
    copies = room.joinery.piece.copies
    thin = room.part_of(mate).thickness_axis
    outward = copies[mate].frame.axes[thin]
    return longest_axis(copies[mark].frame.inward_direction(outward))


def _edge_of(fit: JointFit, mark: str) -> str:
    return next(row.reference for row in fit.setting_out if row.copy == mark and "wall" in row.what)


def _cut(sockets: list[_Socket], room: Workroom) -> Draft:
    first = sockets[0]
    pieces = [socket.work for socket in sockets]
    return draft_joint_work(
        CUT_FINGERS,
        pieces,
        JointWork(
            name=f"{first.finger_mm} {first.depth_mm}",
            title=f"Cut the fingers of {room.name_copies(piece.mark for piece in pieces)}",
            actions=_words(sockets, room),
            check="Each corner goes together with light taps of a mallet, without force.",
            settings=(
                Setting(name="dado head", value_mm=first.finger_mm),
                Setting(name="blade height", value_mm=first.depth_mm, text=ABOVE_SLED),
                Setting(name="key", value_mm=first.finger_mm, text="from the cut"),
            ),
            facts={"cut.depth_mm": first.depth_mm, "cut.width_mm": first.finger_mm},
            finishes=keys_of(pieces),
        ),
        room,
    )


def _words(sockets: Sequence[_Socket], room: Workroom) -> Iterator[str]:
    say, first = room.say, sockets[0]
    wide, deep = say.length(first.finger_mm), say.length(first.depth_mm)
    yield f"Make the dado head up to {wide} and a slip of paper."
    yield f"Set it {deep} {ABOVE_SLED}, and try it on scrap."
    yield "Plane a strip that slides in its cut. Saw it in two: a key and a spacer."
    yield f"Screw the key to the sled's fence, a spacer's width ({wide}) from the cut."
    yield "Cut a trial corner in scrap. Where it is tight, move the key nearer to the cut."
    open_start = {socket.work.mark for socket in sockets if socket.is_at_edge}
    whole_start = {socket.work.mark for socket in sockets} - open_start
    for edge, marks in _by_edge(sockets, whole_start).items():
        yield from spread(f"Stand on end, {edge} edge to the key, and cut", marks)
    for edge, marks in _by_edge(sockets, open_start).items():
        yield from spread(f"With the spacer between the key and the {edge} edge, begin", marks)
    yield "Set each new socket over the key to cut the next, to the far edge."
    yield "Keep a backing board behind the work, so that no fibres break out."


def _by_edge(sockets: Sequence[_Socket], among: set[str]) -> dict[str, tuple[str, ...]]:
    held: dict[str, set[str]] = {}
    for socket in sockets:
        if socket.work.mark in among:
            held.setdefault(socket.edge, set()).add(socket.work.mark)
    return {edge: sort_marks(marks) for edge, marks in held.items()}


PLANNER: Final = Planner(kinds=(CUT_FINGERS,), plan=plan_box_joints)
