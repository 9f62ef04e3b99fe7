"""Operations that smooth the wood: faces that will be out of reach, then all of the outside.

Takes the plan's grits, gives two drafts. Must not know joints or coats.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from benchleaf.frames import FACES
from benchleaf.piece.records import Part
from benchleaf.reading.plan import StockKind
from benchleaf.sequencing.drafting import (
    ALL_CLEANED,
    PIECE_TOGETHER,
    Draft,
    OperationKind,
    Planner,
    Thing,
    Work,
    copy_jointed,
    copy_sanded,
    copy_shaped,
    copy_sized,
    draft,
)
from benchleaf.sequencing.facing import has_turned_copies
from benchleaf.sequencing.finishes import sanding_grits
from benchleaf.sequencing.loose_panels import find_loose_panels
from benchleaf.sequencing.reaching import inner_faces
from benchleaf.sequencing.stating import state_materials
from benchleaf.sequencing.wording import join_words, sort_marks, spread
from benchleaf.sequencing.workroom import Workroom

# Minutes chosen, as for all kinds: a careful beginner's; each is half a square metre.
SAND_INSIDE: Final = OperationKind(
    code="sand-inside",
    phase="assembly",
    family="sanding",
    tool="sander",
    minutes=10,
    minutes_each=4,
    says={"op.makes_dust": True, "op.loud": True},
)
SAND_OUTSIDE: Final = OperationKind(
    code="sand-outside",
    phase="finish",
    family="sanding",
    tool="sander",
    minutes=15,
    minutes_each=8,
    says={"op.makes_dust": True, "op.loud": True},
)


# chosen: more sorts of faces than this are not read one by one.
_MOST_SORTS: Final = 8


def plan_sanding(room: Workroom) -> Iterator[Draft]:
    """Plan the sanding before assembly and after it."""
    yield _sand_inside(room)
    yield _sand_outside(room)


def _grits(room: Workroom) -> str:
    return join_words([str(grit) for grit in sanding_grits(room.plan.finish)], ", then")


def _sand_inside(room: Workroom) -> Draft:
    marks = room.marks
    return draft(
        SAND_INSIDE,
        Work(
            id="sand-inside",
            title="Sand the inside faces",
            copies=marks,
            actions=_inside_words(room),
            check="Held to the light, no face shows saw marks.",
            facts=state_materials(marks, room),
            takes=[thing for mark in marks for thing in _before(mark)],
            gives=map(copy_sanded, marks),
            pieces=half_square_metres(room),
        ),
    )


def _before(mark: str) -> tuple[Thing, ...]:
    """What a copy has before its hidden faces are sanded."""
    return copy_sized(mark), copy_jointed(mark), copy_shaped(mark)


def _inside_words(room: Workroom) -> Iterator[str]:
    """Which faces will be out of reach, how fine they are sanded, and what is left alone."""
    held: dict[str, list[str]] = {}
    named: dict[str, frozenset[str]] = {}
    for name, faces in inner_faces(room).items():
        words = _name_faces(faces, room.joinery.piece.parts[name])
        if words:
            own = [copy.mark for copy in room.joinery.piece.copies_of(name)]
            held.setdefault(words, []).extend(own)
            named[name] = faces
    loose = sorted(find_loose_panels(room.joinery)) if room.plan.finish else []
    if loose:
        yield from spread("Sand both faces and every edge of", sort_marks(loose))
    if len(held) > _MOST_SORTS:
        yield "Sand all faces and edges that look at another part; they will be out of reach."
        named = {}
    else:
        for words, marks in held.items():
            yield f"Sand {words} of {room.name_copies(marks)}."
    if any(has_turned_copies(name, faces, room) for name, faces in named.items()):
        yield "Faces are named as on each part's first copy; sand mirrored ones as mirror images."
    yield f"Use grit {_grits(room)}, along the grain."
    if any(_is_veneered(part) for part in room.joinery.piece.parts.values()):
        yield "Go lightly over plywood: its face veneer is thin."
    roles = {piece.feature.role for piece in room.work}
    tenons = "tenons, shoulders and " if "tenon" in roles else ""
    yield f"Keep off {tenons}every place that takes glue."
    yield "Vacuum the dust off."


def _name_faces(faces: frozenset[str], part: Part) -> str:
    """Faces and edges in words; ends are left to the block plane."""
    words = []
    for axis, noun in ((part.thickness_axis, "face"), (part.width_axis, "edge")):
        own = [face for face in FACES if face in faces and FACES[face][0] is axis]
        words += [f"both {noun}s"] if len(own) == 2 else [f"the {face} {noun}" for face in own]
    return join_words(words)


def _is_veneered(part: Part) -> bool:
    return part.stock.kind is StockKind.SHEET and "ply" in part.stock.material


def half_square_metres(room: Workroom) -> int:
    """The area of all parts, in half square metres, at least one."""
    area = 0.0
    for copy in room.joinery.copies.values():
        a, b, c = (float(side) for side in copy.blank.size)
        area += 2 * (a * b + b * c + c * a)
    return max(1, round(area / 500_000))


def _sand_outside(room: Workroom) -> Draft:
    return draft(
        SAND_OUTSIDE,
        Work(
            id="sand-outside",
            title="Clean up and sand the outside",
            copies=room.marks,
            actions=_sand_words(room),
            check="Held to the light, no face shows scratches across the grain.",
            facts=state_materials(room.marks, room),
            takes=[PIECE_TOGETHER, *map(copy_sanded, room.marks)],
            gives=[ALL_CLEANED],
            pieces=half_square_metres(room),
        ),
    )


def _sand_words(room: Workroom) -> Iterator[str]:
    yield "Scrape off every trace of glue; it shows through a finish."
    yield "Trim what stands proud of the faces with a block plane."
    yield f"Sand along the grain with grit {_grits(room)}."
    yield "Take the sharp edges off with a few strokes of the finest paper."
    yield "Vacuum the piece, and wipe it with a damp cloth."


PLANNER: Final = Planner(kinds=(SAND_INSIDE, SAND_OUTSIDE), plan=plan_sanding)
