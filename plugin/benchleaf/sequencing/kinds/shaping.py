"""Operations that shape parts by themselves: bored, slotted, tapered, sawn to a line, edges worked.

Takes the shaping of each part, gives drafts. All of it comes after the part's joints, which are cut
while its faces are square; and edges come after the lines that they follow. Must not know joints.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Final

from benchleaf.frames import FACES
from benchleaf.piece.records import Part, own_box
from benchleaf.sequencing.curving import tightest_radius_mm
from benchleaf.sequencing.drafting import (
    Draft,
    OperationKind,
    Planner,
    Thing,
    Work,
    copy_jointed,
    copy_shaped,
    copy_sized,
    draft,
    line_sawn,
    part_shaped,
)
from benchleaf.sequencing.kinds import shaping_words as words
from benchleaf.sequencing.kinds.joint_drafts import joint_kind
from benchleaf.sequencing.kinds.machine_facts import DRILLED, MACHINED
from benchleaf.sequencing.records import Fact
from benchleaf.sequencing.stating import state_copies
from benchleaf.sequencing.wording import make_slug
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shaping.hole_work import EASED_ROLE
from benchleaf.shaping.records import ShapedCut
from benchleaf.shops.records import BandSaw

_CUTS: Final = {"op.loud": True, "op.makes_chips": True, "op.makes_dust": True}


_kind: Final = partial(joint_kind, family="shaping")

BORE: Final = _kind(
    "bore-holes",
    "drill",
    minutes=(5, 2),
    says={**DRILLED, "cut.kind": "bore"},
)
SLOT: Final = _kind(
    "rout-slots",
    "router",
    minutes=(15, 6),
    says={**MACHINED, "cut.kind": "slot", "cut.stopped": True},
)
OPEN: Final = _kind(
    "saw-cut-outs", "jigsaw", minutes=(10, 12), says={**_CUTS, "cut.kind": "cut-out"}
)
NOTCH: Final = _kind(
    "saw-notches", "hand saw", minutes=(5, 10), says={"op.makes_chips": True, "cut.kind": "notch"}
)
TAPER: Final = _kind(
    "saw-tapers",
    "table saw",
    minutes=(30, 6),
    says={**MACHINED, "cut.kind": "taper", "cut.through": True},
)
CURVE: Final = _kind(
    "saw-curves", "bandsaw", minutes=(10, 8), says={**MACHINED, "cut.kind": "curve"}
)
LARGE_CURVE: Final = _kind(
    "saw-large-curves", "jigsaw", minutes=(10, 12), says={**_CUTS, "cut.kind": "curve"}
)
FAIR: Final = _kind(
    "fair-curves", "spokeshave", minutes=(5, 12), says={"op.makes_chips": True, "cut.kind": "curve"}
)
EDGES: Final = _kind("rout-edges", "router", minutes=(15, 3), says={**MACHINED, "cut.kind": "edge"})

# What is done first where several are done to one part: holes while it lies flat, then what changes
# its faces, then what follows its edges.
_STAGES: Final = (
    frozenset({"hole", "slot", "cut-out", "hand hole", "notch"}),
    frozenset({"taper"}),
    frozenset({"arc", "curve", "circle", "ellipse", "outline"}),
    frozenset({"chamfer", "round over", "cove"}),
)
_KIND_OF: Final = {
    "hole": BORE,
    "slot": SLOT,
    "cut-out": OPEN,
    "hand hole": OPEN,
    "notch": NOTCH,
    "taper": TAPER,
    **dict.fromkeys(_STAGES[2], CURVE),
    **dict.fromkeys(_STAGES[3], EDGES),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What one operation shapes on all copies of one part."""

    part: Part
    marks: tuple[str, ...]
    kind: OperationKind
    cuts: tuple[ShapedCut, ...]
    """At least one; all of one kind of shaping, and of one size where a tool is set to it."""

    @property
    def stage(self) -> int:
        """When it is done among the part's shaping."""
        return next(n for n, kinds in enumerate(_STAGES) if self.cuts[0].kind in kinds)

    @property
    def indices(self) -> tuple[int, ...]:
        """Entries of the part's `shape`."""
        return tuple(dict.fromkeys(cut.index for cut in self.cuts))


def plan_shaping(room: Workroom) -> Iterator[Draft]:
    """Plan the shaping of every part."""
    for part in room.joinery.piece.parts.values():
        marks = tuple(copy.mark for copy in room.joinery.piece.copies_of(part.name))
        shaping = room.copy(marks[0]).shaping
        jobs = list(_jobs(part, marks, shaping, room.shop.band_saw or BandSaw()))
        for job in jobs:
            yield from _draft(job, jobs, room)
        for cut in {c.index: c for c in shaping if c.role == EASED_ROLE}.values():
            rim = Job(part=part, marks=marks, kind=EDGES, cuts=(cut,))
            yield _ease(rim, room)


def _jobs(
    part: Part, marks: tuple[str, ...], shaping: tuple[ShapedCut, ...], saw: BandSaw
) -> Iterator[Job]:
    held: dict[tuple[object, ...], list[ShapedCut]] = {}
    for cut in shaping:
        if cut.role != EASED_ROLE:
            held.setdefault(_setting_of(cut), []).append(cut)
    for cuts in held.values():
        kind = _KIND_OF[cuts[0].kind]
        if kind is CURVE and part.box.size[part.width_axis] > saw.throat_mm:
            kind = LARGE_CURVE
        yield Job(part=part, marks=marks, kind=kind, cuts=tuple(cuts))


def _setting_of(cut: ShapedCut) -> tuple[object, ...]:
    """What a tool is set to: cuts that share it are made together."""
    if cut.kind in _STAGES[2] or cut.kind in ("cut-out", "hand hole"):
        return (cut.kind, cut.index)
    if cut.kind in ("notch", "taper"):
        return (cut.kind,)
    return (cut.kind, *((size.name, size.value_mm) for size in cut.sizes))


def _draft(job: Job, jobs: list[Job], room: Workroom) -> Iterator[Draft]:
    done = [(mark, index) for mark in job.marks for index in job.indices]
    takes = [thing for mark in job.marks for thing in (copy_sized(mark), copy_jointed(mark))]
    takes += [
        part_shaped(mark, index)
        for other in jobs
        if other.stage < job.stage
        for mark in job.marks
        for index in other.indices
    ]
    gives: list[Thing] = [part_shaped(*key) for key in done]
    gives += map(copy_shaped, job.marks)
    if job.kind not in (CURVE, LARGE_CURVE):
        yield _work(job, room, takes, gives, shaped=done)
        return
    sawn: list[Thing] = [line_sawn(*key) for key in done]
    yield _work(job, room, takes, sawn)
    fair = Job(part=job.part, marks=job.marks, kind=FAIR, cuts=job.cuts)
    yield _work(fair, room, [*takes, *sawn], gives, shaped=done)


def _ease(job: Job, room: Workroom) -> Draft:
    takes: list[Thing] = [part_shaped(mark, job.indices[0]) for mark in job.marks]
    takes += map(copy_sized, job.marks)
    return _work(job, room, takes, list(map(copy_shaped, job.marks)))


def _work(
    job: Job,
    room: Workroom,
    takes: list[Thing],
    gives: list[Thing],
    shaped: list[tuple[str, int]] = [],  # noqa: B006 - never changed
) -> Draft:
    told = words.tell(job, room)
    return draft(
        job.kind,
        Work(
            id=make_slug(f"{job.kind.code} {job.part.name} {told.name}"),
            title=told.title,
            copies=job.marks,
            actions=told.actions,
            check=told.check,
            settings=told.settings,
            facts={**state_copies(job.marks, room), **_facts(job)},
            takes=takes,
            gives=gives,
            pieces=len(job.marks) * len(job.cuts),
            shaped=tuple(shaped),
        ),
    )


# A bit that follows an edge is twice as wide as what it takes off, and its bearing: 1/2 in, common
# practice, no source.
_BEARING_MM: Final = Fraction(127, 10)


def _facts(job: Job) -> dict[str, Fact | None]:
    """What the safety rules look at."""
    sizes = {size.name: size.value_mm for size in job.cuts[0].sizes}
    body = own_box(job.part)
    if job.kind is EDGES:
        depth = sizes.get("size", sizes.get("radius", Fraction(0)))
        ends = any(_is_on_end(cut, job.part) for cut in job.cuts)
        bit = 2 * depth + _BEARING_MM
        return {"cut.depth_mm": depth, "cut.end_grain": ends, "bit.diameter_mm": bit}
    if job.kind in (BORE, SLOT):
        depth = sizes.get("deep", Fraction(body.size[FACES[job.cuts[0].face][0]]))
        bit = sizes.get("diameter", sizes.get("wide", Fraction(0)))
        through = "deep" not in sizes
        return {"cut.depth_mm": depth, "bit.diameter_mm": bit, "cut.through": through}
    if job.kind in (CURVE, LARGE_CURVE):
        return {
            "cut.length_mm": Fraction(max(body.size)),
            "cut.radius_mm": _tightest_mm(job),
            "cut.through": True,
        }
    return {"cut.radius_mm": _tightest_mm(job), "cut.through": True} if job.kind is OPEN else {}


def _tightest_mm(job: Job) -> float | None:
    """The tightest bend of the lines that are sawn to; None where they are straight."""
    radii = (tightest_radius_mm(cut.template) for cut in job.cuts if cut.template)
    return min((radius for radius in radii if radius is not None), default=None)


def _is_on_end(cut: ShapedCut, part: Part) -> bool:
    """Whether an edge is cut across the grain: it is then looked at along the part's width."""
    return FACES[cut.face][0] is not part.grain_axis


PLANNER: Final = Planner(
    kinds=(BORE, SLOT, OPEN, NOTCH, TAPER, CURVE, LARGE_CURVE, FAIR, EDGES), plan=plan_shaping
)
SHAPING_CODES: Final = frozenset(kind.code for kind in PLANNER.kinds)
"""Codes of all operations that shape."""
