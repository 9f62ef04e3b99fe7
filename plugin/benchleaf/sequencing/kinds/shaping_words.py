"""What is said of each operation that shapes a part: title, settings, actions, check.

Takes a job, gives words in the plan's units. Must not know what comes before or after it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from benchleaf.frames import FACES
from benchleaf.piece.records import own_box
from benchleaf.sequencing.records import Setting
from benchleaf.sequencing.wording import Say, join_words
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shaping.hole_work import EASED_ROLE
from benchleaf.shaping.records import ShapedCut
from benchleaf.shaping.wording import describe_shaped

if TYPE_CHECKING:
    from benchleaf.sequencing.kinds.shaping import Job

# Routers' manuals: 1/8 in or 3 mm a pass at most.
_PASS_MM: Final = Fraction(318, 100)
# chosen: so many places are read out; of more the part sheet tells.
_MOST_PLACES: Final = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """The words of one operation."""

    name: str
    """What it is, for its id."""
    title: str
    actions: tuple[str, ...]
    check: str
    settings: tuple[Setting, ...] = ()


@dataclass(frozen=True, slots=True)
class _Talk:
    """What the words are made of."""

    job: Job
    room: Workroom

    @property
    def say(self) -> Say:
        return self.room.say

    @property
    def names(self) -> str:
        """The copies, named."""
        return self.room.name_copies(self.job.marks)

    @property
    def first(self) -> ShapedCut:
        return self.job.cuts[0]

    def size(self, name: str) -> Fraction:
        """A size of the first cut by its name; 0 where it has none."""
        return next((s.value_mm for s in self.first.sizes if s.name == name), Fraction(0))

    def described(self, cut: ShapedCut) -> str:
        """A cut with its sizes."""
        return describe_shaped(cut, own_box(self.job.part), self.room.plan.units.value)

    def places(self) -> Iterator[str]:
        """Where the cuts are marked, each in a sentence."""
        if sum(len(cut.places) for cut in self.job.cuts) > 2 * _MOST_PLACES:
            yield "Mark out by the part sheet."
            return
        for cut in self.job.cuts:
            if cut.places:
                spots = [
                    f"{self.say.length(at)} from the {axis.low_face}" for axis, at in cut.places
                ]
                yield f"Mark {join_words(spots)}."

    def told(
        self, title: str, actions: list[str], check: str, settings: tuple[Setting, ...] = ()
    ) -> Told:
        sizes = " ".join(f"{size.name} {size.value_mm}" for size in self.first.sizes)
        index = "" if self.first.sizes else f"{self.first.index + 1}"
        return Told(
            name=f"{self.first.role} {sizes} {index}",
            title=title,
            actions=tuple(actions),
            check=check,
            settings=settings,
        )


def tell(job: Job, room: Workroom) -> Told:
    """Put a job in words."""
    talk = _Talk(job, room)
    return _BY_KIND[job.kind.code](talk)


def _bore(talk: _Talk) -> Told:
    diameter, deep = talk.size("diameter"), talk.size("deep")
    settings = [Setting(name="bit", value_mm=diameter)]
    if deep:
        settings.append(Setting(name="depth stop", value_mm=deep))
    end = "Stop at the depth set." if deep else "Clamp a scrap board behind, and bore into it."
    return talk.told(
        f"Bore holes in {talk.names}",
        [
            *talk.places(),
            "Prick each middle with an awl.",
            end,
            f"Bore square to the {talk.first.face} face.",
        ],
        "A dowel of the size stands square in each hole.",
        tuple(settings),
    )


def _slot(talk: _Talk) -> Told:
    wide, long = talk.size("wide"), talk.size("long")
    deep = talk.size("deep")
    axis = FACES[talk.first.face][0]
    depth = deep or Fraction(own_box(talk.job.part).size[axis])
    passes = max(1, math.ceil(depth / _PASS_MM))
    return talk.told(
        f"Rout slots in {talk.names}",
        [
            *talk.places(),
            f"Clamp two stops that let the bit run {talk.say.length(long - wide)}.",
            *(() if deep else ("Clamp a scrap board below.",)),
            f"Plunge and rout in {passes} passes, each as deep as the last.",
        ],
        f"The slot is {talk.say.length(wide)} wide from end to end.",
        (
            Setting(name="bit", value_mm=wide),
            Setting(name="depth", value_mm=depth, text=f"in {passes} passes"),
        ),
    )


def _open(talk: _Talk) -> Told:
    hand = talk.first.kind == "hand hole"
    hole = (
        f"Bore a {talk.say.length(talk.size('wide'))} hole at each end."
        if hand
        else "Drill a hole inside each corner, large enough for the blade."
    )
    return talk.told(
        f"Cut the {'hand hole' if hand else 'cut-out'} in {talk.names}",
        [
            f"Mark the {talk.described(talk.first)}, on the {talk.first.face} face.",
            *talk.places(),
            "Clamp a scrap board behind.",
            hole,
            "Saw from hole to hole, just inside the line.",
            "File and sand to the line.",
        ],
        "No saw mark is left, and the sides stand square to the face.",
    )


def _notch(talk: _Talk) -> Told:
    return talk.told(
        f"Cut notches in {talk.names}",
        [
            *talk.places(),
            "Square the lines round the edge with a knife.",
            "Saw the sides just inside the lines, down to the depth.",
            "Chop the waste out from both faces towards the middle.",
        ],
        "The bottom is flat, and a square sits in both corners.",
    )


def _taper(talk: _Talk) -> Told:
    cut, tapers = _offset(talk), talk.job.cuts
    off, over = talk.say.length(cut), talk.say.length(talk.size("over"))
    return talk.told(
        f"Taper {talk.names}",
        [
            *(f"Mark the taper of the {face} side: {words}." for face, words in _tapered(talk)),
            f"Set the taper sled to take {off} off over {over}.",
            f"Set the blade {talk.say.usual('6 mm', '1/4 in')} higher than the work is thick.",
            "Clamp the work on the sled, the lines along its edge, the square side down.",
            *(
                ("Saw one side, turn the work, and saw the next.",)
                if len(tapers) > 1
                else ("Saw the side.",)
            ),
            "Fill behind a sawn side with its own offcut, so that the work lies firm.",
            "Plane the sawn sides to the lines.",
        ],
        f"The small end measures {talk.say.length(talk.size('to'))}.",
        (Setting(name="taper sled", value_mm=cut, text=f"over {over}"),),
    )


def _tapered(talk: _Talk) -> Iterator[tuple[str, str]]:
    """Each tapered side, with where it starts and what is left."""
    grain = talk.job.part.grain_axis
    for cut in talk.job.cuts:
        face = _face_of_taper(cut)
        starts = next((at for axis, at in cut.places if axis is grain), None)
        where = (
            f"{talk.say.length(starts)} from the {grain.low_face}"
            if starts is not None
            else "from end to end"
        )
        left = next(size.value_mm for size in cut.sizes if size.name == "to")
        yield face, f"starts {where}, {talk.say.length(left)} at the end"


def _face_of_taper(cut: ShapedCut) -> str:
    """The side that a taper takes wood from: its place across the grain lies near that side."""
    return cut.worked or cut.face


def _offset(talk: _Talk) -> Fraction:
    """How far a taper comes in at the small end."""
    axis = FACES[_face_of_taper(talk.first)][0]
    whole = Fraction(own_box(talk.job.part).size[axis])
    at = next(place for own, place in talk.first.places if own is axis)
    return min(at, whole - at)


def _curve(talk: _Talk) -> Told:
    curved = talk.described(talk.first)
    return talk.told(
        f"Saw {talk.names} to the line: {talk.first.role}",
        [
            "Print the template true to size, and measure its bar.",
            f"Draw the {curved} on the {talk.first.face} face.",
            f"Saw on the waste side, {talk.say.usual('1 mm', '1/32 in')} off the line.",
            "Cut in from the waste first where the line turns sharply.",
        ],
        "The line is whole all along.",
    )


def _fair(talk: _Talk) -> Told:
    return talk.told(
        f"Fair the curves of {talk.names}: {talk.first.role}",
        [
            "Clamp copies together where there are several, and work them as one.",
            "Work to the line with the spokeshave, downhill on the grain.",
            "File what the spokeshave cannot reach.",
            "Sand the curve with paper on a bent batten.",
        ],
        "Run along it, a finger feels no flat and no bump.",
    )


def _edges(talk: _Talk) -> Told:
    is_rim = talk.first.role == EASED_ROLE
    role = "round-over" if is_rim else talk.first.role
    size = talk.size("size") or talk.size("radius")
    passes = max(1, math.ceil(size / _PASS_MM))
    faces = sorted({cut.face for cut in talk.job.cuts})
    what = "the rim of its hole, on both faces" if is_rim else f"{len(talk.job.cuts)} edges"
    if not is_rim and len(talk.job.cuts) == 1:
        what = "one edge"
    return talk.told(
        f"{_VERB[role]} {'the rim' if is_rim else 'the edges'} of {talk.names}",
        [
            f"Rout {what} by the part sheet, with the bearing on the wood.",
            *(("Rout across the ends first, then along the sides.",) if len(faces) > 1 else ()),
            f"Take it in {passes} {'passes' if passes > 1 else 'pass'}, and try it on scrap.",
            "Stop short of every joint's shoulder and of what takes glue.",
            "Sand the marks of the cutter off by hand.",
        ],
        f"The {role} is even from end to end.",
        (
            Setting(name=f"{role} bit", value_mm=size),
            Setting(name="depth", value_mm=size, text=f"in {passes} passes" if passes > 1 else ""),
        ),
    )


_VERB: Final = {"chamfer": "Chamfer", "round-over": "Round over", "cove": "Cove"}
_BY_KIND: Final[Mapping[str, Callable[[_Talk], Told]]] = {
    "bore-holes": _bore,
    "rout-slots": _slot,
    "saw-cut-outs": _open,
    "saw-notches": _notch,
    "saw-tapers": _taper,
    "saw-curves": _curve,
    "saw-large-curves": _curve,
    "fair-curves": _fair,
    "rout-edges": _edges,
}
