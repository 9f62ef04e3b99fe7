"""Letters with leaders: where a tag finds room beside the thing that it names.

Takes what is taken on the sheet and a target, gives marks. Must not know what the letters mean.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from benchleaf.drawing.clearance import Clearance, Rectangle
from benchleaf.drawing.page import NOTE_HEIGHT
from benchleaf.drawing.scene import Circle, Line, Mark, Point, Role, Text
from benchleaf.drawing.text_metrics import text_width

# chosen: clears a letter 2.5 mm high by as much as its strokes are wide, four times over.
TAG_RADIUS_MM: Final = 2.1
# chosen: less than the 1.5 mm kept round part balloons, since letters are small and many.
_MARGIN_MM: Final = 0.4
# chosen: an arrowhead and a half.
_THIN_MM: Final = 3.5
# chosen: from as near as a short arrow allows to the width of a usual view.
_DISTANCES_MM: Final = (3.5, 5.0, 7.0, 9.0, 12.0, 16.0, 21.0, 28.0, 36.0, 46.0, 58.0)
# ISO 128-2: leaders slant, so that they are not taken for edges; square directions come last.
_ANGLES_DEG: Final = (-45, -135, 45, 135, -60, -120, 60, 120, -30, -150, 30, 150, -90, 90, 0, 180)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tag:
    """What a tag says, and how."""

    words: str
    height: float = NOTE_HEIGHT
    role: Role = Role.MARK

    @property
    def radius(self) -> float:
        """Radius of its circle, mm: chosen: the letter's height and as much again round it."""
        least = self.height * TAG_RADIUS_MM / NOTE_HEIGHT
        return max(least, text_width(self.words, self.height) / 2 + 0.5)


def draw_tag(
    tag: Tag, target: Rectangle, taken: Clearance, *, within: Rectangle, is_round: bool = False
) -> tuple[Mark, ...] | None:
    """Draw a tag with its leader in the nearest free place, and take that place.

    Args:
        tag: What it says.
        target: The thing named, on the sheet.
        taken: What is taken; the tag is added to it.
        within: The part of the sheet that it must stay on.
        is_round: True where the target is a circle that fills its rectangle.

    Returns:
        The marks, or None where no place is free.
    """
    half = tag.radius
    wide, high = target.right - target.left, target.bottom - target.top
    # An arrow on the outline of a thin thing would point at its neighbour as well.
    is_thin = not is_round and min(wide, high) < _THIN_MM
    aim = _middle_of(target) if is_thin else target
    for centre, tip in _candidates(aim, half, is_round=is_round):
        box = Rectangle(*centre, *centre).grown(half)
        if not within.holds(box) or not taken.is_free(box, _MARGIN_MM):
            continue
        start = _on_rim(centre, tip, half)
        if taken.has_text_on(start, tip):
            continue
        marks = (*_leader(start, tip, has_dot=is_thin), *draw_plain_tag(tag, centre))
        taken.take(marks)
        return marks
    return None


def _leader(start: Point, tip: Point, *, has_dot: bool) -> tuple[Mark, ...]:
    """A leader ends with a dot inside an outline, with an arrow on one (ISO 128-2)."""
    line = Line(points=(start, tip), role=Role.LEADER, end_arrow=not has_dot)
    if not has_dot:
        return (line,)
    # chosen: a dot of three narrow lines' width.
    return (line, Circle(centre=tip, radius=0.4, role=Role.LEADER, filled=True))


def draw_plain_tag(tag: Tag, centre: Point) -> tuple[Mark, ...]:
    """Draw a tag without a leader."""
    return (
        Circle(centre=centre, radius=tag.radius, role=Role.MARK, filled=True),
        Text(at=centre, text=tag.words, height=tag.height, role=tag.role, halo=False),
    )


def _middle_of(target: Rectangle) -> Rectangle:
    """The middle of a rectangle, as a rectangle of no size."""
    x, y = (target.left + target.right) / 2, (target.top + target.bottom) / 2
    return Rectangle(x, y, x, y)


def _candidates(target: Rectangle, half: float, *, is_round: bool) -> Iterator[tuple[Point, Point]]:
    """Centres for the tag, nearest first, and where the leader ends on the target."""
    middle = ((target.left + target.right) / 2, (target.top + target.bottom) / 2)
    for distance in _DISTANCES_MM:
        for angle in _ANGLES_DEG:
            direction = (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
            tip = _rim_of(target, middle, direction, is_round=is_round)
            reach = distance + half
            yield (tip[0] + direction[0] * reach, tip[1] + direction[1] * reach), tip


def _rim_of(target: Rectangle, middle: Point, direction: Point, *, is_round: bool) -> Point:
    """Where a ray from the middle of the target leaves it."""
    wide, high = (target.right - target.left) / 2, (target.bottom - target.top) / 2
    if is_round:
        run = wide
    else:
        runs = [
            size / abs(step)
            for size, step in ((wide, direction[0]), (high, direction[1]))
            if abs(step) > 1e-9
        ]
        run = min(runs)
    return middle[0] + direction[0] * run, middle[1] + direction[1] * run


def _on_rim(centre: Point, tip: Point, radius: float) -> Point:
    share = radius / math.dist(centre, tip)
    return (
        centre[0] + (tip[0] - centre[0]) * share,
        centre[1] + (tip[1] - centre[1]) * share,
    )
