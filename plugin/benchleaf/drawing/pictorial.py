"""Axonometric pictures of a piece: assembled, exploded, and as it stands at a step.

Takes bodies at their seats and a view, gives Scenes: every visible face filled by its tone,
outlines wide and inner edges narrow, trails and balloons where parts stand off. Pictures carry no
scale.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from benchleaf.drawing.arrangement import Arrangement, arrange
from benchleaf.drawing.balloons import least_height, place_balloons, ring_for, share_balloons
from benchleaf.drawing.bodies import Body, Floats, Ints, Soup, gather
from benchleaf.drawing.captions import Caption
from benchleaf.drawing.exploding import trails
from benchleaf.drawing.projection import Fit, View, fit_into
from benchleaf.drawing.scene import Area, Line, Mark, Point, Role, Scene
from benchleaf.drawing.shading import face_tones
from benchleaf.drawing.visibility import (
    Occluders,
    Stretches,
    drawn_edges,
    occluders_of,
    seen_faces,
    visible,
)
from benchleaf.sequencing.wording import join_marks

Size = tuple[float, float]
Offsets = Mapping[str, Sequence[float]]
Mates = Collection[frozenset[str]]

# chosen: 180 mm wide prints on A4 and Letter with 15 mm margins; 130 mm leaves room for the text.
SIZE: Size = (180.0, 130.0)
# chosen: clear margin round a picture without balloons, mm.
MARGIN = 2.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Picture:
    """Bodies drawn, before they become marks on a sheet."""

    soup: Soup
    view: View
    fit: Fit
    arrangement: Arrangement
    trails: Floats
    """(n, 2, 2) visible stretches of trails, mm on the sheet."""


def draw_bodies(
    bodies: Sequence[Body],
    view: View,
    room: tuple[Point, Point],
    *,
    ghosts: Collection[str] = (),
    lines: Floats | None = None,
) -> Picture:
    """Draw bodies where they stand.

    Args:
        bodies: At least one.
        view: The projection.
        room: Low and high corner of the room on the sheet, mm.
        ghosts: Marks of bodies whose outlines are not to stand out from the paper.
        lines: (n, 2, 3) trails in the piece's axes, hidden by bodies like edges.

    Returns:
        The picture, fitted into the room.
    """
    soup = gather(bodies)
    occluders = occluders_of(soup, view)
    fit = fit_into(view.flat(soup.vertices), *room)
    edges = visible(drawn_edges(soup, view), occluders, view)
    ghostly = np.array([body.mark in ghosts for body in bodies])

    def look(points: Floats) -> tuple[Ints, Floats]:
        return seen_faces(fit.on_plane(points), soup, occluders, view=view)

    def owner_of(faces: Ints) -> Ints:
        owners = soup.owners[faces]
        return np.where((faces < 0) | ghostly[owners], -1, owners)

    return Picture(
        soup=soup,
        view=view,
        fit=fit,
        arrangement=arrange(_on_sheet(edges, view, fit), look, owner_of),
        trails=_visible_trails(lines, occluders, view, fit=fit),
    )


def _visible_trails(lines: Floats | None, occluders: Occluders, view: View, *, fit: Fit) -> Floats:
    if lines is None or not len(lines):
        return np.zeros((0, 2, 2))
    whole = Stretches(starts=lines[:, 0], ends=lines[:, 1], sources=np.arange(len(lines)))
    return _on_sheet(visible(whole, occluders, view), view, fit)


def _on_sheet(stretches: Stretches, view: View, fit: Fit) -> Floats:
    ends = [fit.on_sheet(view.flat(points)) for points in (stretches.starts, stretches.ends)]
    return np.stack(ends, axis=1)


def assembled_picture(
    bodies: Sequence[Body],
    view: View,
    size: Size = SIZE,
    *,
    id: str = "assembled",  # noqa: A002 - the scene's own word
) -> Scene:
    """Draw the piece put together.

    Args:
        bodies: All copies at their seats.
        view: The projection.
        size: Width and height of the sheet, mm.
        id: Of the scene.
    """
    room = ((MARGIN, MARGIN), (size[0] - MARGIN, size[1] - MARGIN))
    picture = draw_bodies(bodies, view, room)
    return Scene(
        id=id,
        width=size[0],
        height=size[1],
        marks=picture_marks(picture),
        title=f"The piece assembled, {view.name}",
        description=f"{len(bodies)} parts in place: {_listed(bodies)}.",
    )


def exploded_picture(  # noqa: PLR0913 - three by position, the rest named and with defaults
    bodies: Sequence[Body],
    offsets: Offsets,
    view: View,
    *,
    size: Size = SIZE,
    mates: Mates | None = None,
    id: str = "exploded",  # noqa: A002 - the scene's own word
) -> Scene:
    """Draw the piece taken apart, with trails to the seats and a balloon for each copy.

    Args:
        bodies: All copies at their seats.
        offsets: How far each is moved, mm in the piece's axes; those not named stay.
        view: The projection.
        size: Width of the sheet, and its height at most, mm.
        mates: Pairs of marks between which trails run; None for all that touch.
        id: Of the scene.
    """
    shared = _shared_words(share_balloons([body.mark for body in bodies]))
    caption = Caption(
        title=f"The piece taken apart, {view.name}{shared}",
        description=f"{len(bodies)} parts, each moved away from its seat: {_listed(bodies)}.",
    )
    picture = _Off(bodies=bodies, offsets=offsets, view=view, size=size, mates=mates)
    return _draw_off(picture, caption, id=id)


def step_picture(  # noqa: PLR0913 - three by position, the rest named and with defaults
    bodies: Sequence[Body],
    moved: Sequence[str],
    offsets: Offsets,
    *,
    view: View,
    size: Size = SIZE,
    mates: Mates | None = None,
    caption: Caption | None = None,
    id: str = "step",  # noqa: A002 - the scene's own word
) -> Scene:
    """Draw a step of the assembly: what goes on in full, what stands already pale.

    Args:
        bodies: What stands after the step, at their seats.
        moved: Marks of the copies put on in this step.
        offsets: How far each of them stands off, mm in the piece's axes.
        view: The projection.
        size: Width of the sheet, and its height at most, mm.
        mates: Pairs of marks between which trails run; None for all that touch.
        caption: Its words; None for words by the marks.
        id: Of the scene.
    """
    fresh = [body for body in bodies if body.mark in moved]
    standing = tuple(body.mark for body in bodies if body.mark not in moved)
    caption = caption or Caption(
        title=f"Putting on {_listed(fresh)}, {view.name}",
        description=_step_words(fresh, len(standing)),
    )
    picture = _Off(
        bodies=bodies, offsets=offsets, view=view, size=size, mates=mates, standing=standing
    )
    return _draw_off(picture, caption, id=id)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Off:
    """Bodies drawn off their seats."""

    bodies: Sequence[Body]
    offsets: Offsets
    view: View
    size: Size
    mates: Mates | None
    standing: tuple[str, ...] = ()
    """Marks of those that are pale and bear no balloon."""


def _draw_off(
    off: _Off,
    caption: Caption,
    *,
    id: str,  # noqa: A002 - the scene's own word
) -> Scene:
    """Draw bodies off their seats, on a sheet as high as they need, with balloons and trails."""
    named = [body.mark for body in off.bodies if body.mark not in off.standing]
    balloons = share_balloons(named)
    apart = [body.moved(off.offsets.get(body.mark, (0, 0, 0))) for body in off.bodies]
    size = _trimmed(apart, tuple(balloons), off)
    ring = ring_for(tuple(balloons), size)
    lines = trails(off.bodies, off.offsets, off.mates)
    picture = draw_bodies(apart, off.view, ring.inner, ghosts=off.standing, lines=lines)
    areas = {body.mark: _seen(picture, i) for i, body in enumerate(off.bodies)}
    shapes = {text: [a for m in marks for a in areas[m]] for text, marks in balloons.items()}
    return Scene(
        id=id,
        width=size[0],
        height=size[1],
        marks=(*picture_marks(picture, ghosts=off.standing), *place_balloons(shapes, ring)),
        title=caption.title,
        description=caption.description,
    )


def _trimmed(apart: Sequence[Body], balloons: Sequence[str], off: _Off) -> Size:
    """The sheet, no higher than the picture at its full width and the balloons need."""
    wide, tallest = off.size
    flat = off.view.flat(np.concatenate([body.vertices for body in apart]))
    extent = np.maximum(flat.max(axis=0) - flat.min(axis=0), 1e-9)
    ring = ring_for(balloons, off.size)
    (left, top), (right, _) = ring.inner
    high = float((right - left) * extent[1] / extent[0]) + 2 * top
    return wide, min(max(float(np.ceil(high)), least_height(len(balloons), ring)), tallest)


def _shared_words(balloons: Mapping[str, Sequence[str]]) -> str:
    """What balloons stand for that several copies share."""
    shared = [(text, marks) for text, marks in balloons.items() if len(marks) > 1]
    return "".join(f"; {text} is each of {join_marks(marks)}" for text, marks in shared)


def _step_words(fresh: Sequence[Body], standing: int) -> str:
    """What a step does, in a sentence."""
    if not standing:
        return f"{_listed(fresh)} come together."
    verb = "goes" if len(fresh) == 1 else "go"
    onto = "the part that stands" if standing == 1 else f"the {standing} parts that stand"
    return f"{_listed(fresh)} {verb} onto {onto} already."


def _listed(bodies: Sequence[Body]) -> str:
    return ", ".join(body.mark for body in bodies)


def _seen(picture: Picture, body: int) -> list[object]:
    """The areas in which a body is seen."""
    owners = picture.soup.owners
    return [fill.shape for fill in picture.arrangement.fills if owners[fill.face] == body]


def picture_marks(picture: Picture, *, ghosts: Collection[str] = ()) -> tuple[Mark, ...]:
    """Marks of a picture, back to front: areas, narrow lines, wide lines, trails."""
    areas = _areas(picture, ghosts)
    inner = [_line(run, Role.FINE) for run in picture.arrangement.inner]
    outlines = [_line(run, Role.OUTLINE) for run in picture.arrangement.outlines]
    paths = [_line(run, Role.TRAIL) for run in picture.trails]
    return (*areas, *inner, *outlines, *paths)


def _areas(picture: Picture, ghosts: Collection[str]) -> list[Area]:
    tones = face_tones(picture.soup, picture.view)
    fills = picture.arrangement.fills
    counts: Counter[str] = Counter()
    areas = []
    for fill, rings in zip(fills, _rings([fill.shape for fill in fills]), strict=True):
        body = picture.soup.bodies[picture.soup.owners[fill.face]]
        counts[body.mark] += 1
        is_ghost = body.mark in ghosts
        areas.append(
            Area(
                rings=rings,
                role=Role.GHOST if is_ghost else Role.PART,
                tone=0 if is_ghost else int(tones[fill.face]),
                hatch=0 if is_ghost else body.hatch,
                id=f"{body.mark}-face-{counts[body.mark]}",
            )
        )
    return areas


def _rings(shapes: Sequence[shapely.Polygon]) -> list[tuple[tuple[Point, ...], ...]]:
    """Outer ring and holes of each polygon, without their closing points."""
    rings, owner = shapely.get_rings(np.array(shapes, dtype=object), return_index=True)
    points, which = shapely.get_coordinates(rings, return_index=True)
    starts = np.flatnonzero(np.diff(which, prepend=-1))
    listed = [(x, y) for x, y in points.tolist()]
    found: list[list[tuple[Point, ...]]] = [[] for _ in shapes]
    for ring, (start, end) in enumerate(pairwise([*starts.tolist(), len(points)])):
        found[owner[ring]].append(tuple(listed[start : end - 1]))
    return [tuple(runs) for runs in found]


def _line(run: Floats, role: Role) -> Line:
    return Line(points=tuple((x, y) for x, y in run.tolist()), role=role)
