"""Curve: a face is cut to a smooth curve through points, from one place along it to another.

Dimensions:
    points: along the face, and how far in from it. Source: the plan.
    curve: through every point, its way there along the chord between the neighbours. Source:
        Catmull and Rom 1974 (from memory).

Limits:
    Points follow one another along the face. The curve leaves wood everywhere.

Tools:
    A full-size template, a bandsaw or jigsaw to the line, a spokeshave, file and sandpaper.

Source:
    Common practice, no source: a fair curve is drawn round a batten bent through the points.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from benchleaf.frames import FACES, Axis
from benchleaf.outlines import curve_through
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece
from benchleaf.shaping.face_work import SEEN_FROM, cut_to_line, inset_place, line_axis
from benchleaf.shaping.records import FaceLine, Shaped, ShapingKind, Told


def shape_curve(work: Workpiece) -> Shaped:
    """Cut the face named to a curve."""
    along = line_axis(work)
    points = work.points("through")
    _check(work, along, points)
    line = FaceLine(work.face, along, points[0], curve_through(points))
    places = [
        place
        for at, inset in points
        for place in ((along, at), inset_place(work, work.face, inset))
        if 0 < place[1] < work.extent(place[0])
    ]
    return cut_to_line(
        work,
        line,
        Told(
            role="curve",
            places=tuple(dict.fromkeys(places)),
            points=tuple(_on_face(work, along, point) for point in points),
        ),
    )


def _check(work: Workpiece, along: Axis, points: tuple[tuple[Fraction, Fraction], ...]) -> None:
    if len(points) < 2 or any(after[0] <= before[0] for before, after in pairwise(points)):
        message = "its points do not follow one another along the face"
        needed = "Needed: two or more, each farther along than the one before: `along x in`."
        raise work.refuse("F108", message, needed, option="through")
    deep = work.extent(FACES[work.face][0])
    for at, inset in points:
        if 0 <= at <= work.extent(along) and 0 <= inset < deep:
            continue
        message = f"the point {work.show(at)} x {work.show(inset)} lies outside the part"
        needed = (
            f"Needed: 0 to {work.show(work.extent(along))} along x 0 to less than "
            f"{work.show(deep)} in."
        )
        raise work.refuse("F102", message, needed, option="through")


def _on_face(
    work: Workpiece, along: Axis, point: tuple[Fraction, Fraction]
) -> tuple[Fraction, Fraction]:
    """The point on the face that shows the curve, in its own axes."""
    axis, place = inset_place(work, work.face, point[1])
    return (point[0], place) if along < axis else (place, point[0])


KIND = ShapingKind(
    code="curve",
    title="Curve",
    words=ShapingWords(
        code="curve",
        takes=PlaceType.FACE,
        place="the face that is cut to it",
        options=(
            Option(
                name="through",
                type=OptionType.PAIR_LIST,
                help="Points, each as far along the face (from the left, front or bottom) x as far "
                "in from it.",
            ),
            SEEN_FROM,
        ),
        help="A face is cut to a smooth curve through points.",
    ),
    shape=shape_curve,
)
