"""Scenes to SVG: the only module that knows svgwrite.

Takes a Scene, gives the text of an SVG file or of an element to stand in a page. Coordinates are
rounded here and nowhere else. Must not know what is drawn: classes follow from roles.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from itertools import groupby, pairwise
from typing import Any, Final

import svgwrite

from benchleaf.drawing.hatching import hatch_lines
from benchleaf.drawing.scene import Area, Circle, Line, Mark, Path, Point, Role, Scene, Text
from benchleaf.drawing.svg_style import ROOT_CLASS, file_css, filling_of, ink_of
from benchleaf.drawing.text_metrics import font_size, text_width
from benchleaf.outlines import Arc, Curve, Outline, Segment, sweep_rad
from benchleaf.outlines import Point as OutlinePoint

# chosen: 0.01 mm is a hundredth of what a printer places; finer digits are only bytes.
_DECIMALS: Final = 2
# ISO 129 (older edition, by a textbook): closed and filled, three times as long as wide;
# chosen: ten narrow lines long.
ARROW_LENGTH_MM: Final = 2.5
ARROW_HALF_WIDTH_MM: Final = ARROW_LENGTH_MM / 6

_NOT_IN_IDS = re.compile(r"[^A-Za-z0-9_.-]+")
# XML 1.0, 2.2: characters that no document may hold; and marks that turn the order of reading.
_NOT_IN_TEXT = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff"
    "\u200e\u200f\u202a-\u202e\u2066-\u2069]"
)


def write_svg(scene: Scene, *, is_inline: bool = False) -> str:
    """Write a scene as SVG.

    Args:
        scene: The drawing.
        is_inline: True for an element to stand inside a page that carries the style sheet itself;
            False for a file of its own, with its style sheet.

    Returns:
        Well-formed XML; the same for the same scene.
    """
    return _Writer(scene).write(is_inline=is_inline)


class _Writer:
    """Writes one scene; lives as long as that."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        self.prefix = _as_id(scene.id)
        self.used_ids: set[str] = set()
        # debug=False: svgwrite's own checks take most of its time, and the tests parse the result.
        self.drawing: Any = svgwrite.Drawing(
            size=(f"{_mm(scene.width)}mm", f"{_mm(scene.height)}mm"),
            viewBox=f"0 0 {_mm(scene.width)} {_mm(scene.height)}",
            debug=False,
            class_=ROOT_CLASS,
            id=self.prefix,
        )

    def write(self, *, is_inline: bool) -> str:
        self._name_drawing()
        if not is_inline:
            self.drawing.defs.add(self.drawing.style(file_css()))
        sheet = (0, 0), (_mm(self.scene.width), _mm(self.scene.height))
        self.drawing.add(self.drawing.rect(*sheet, class_="fill-paper"))
        for is_line, run in groupby(self.scene.marks, key=lambda mark: isinstance(mark, Line)):
            if is_line:
                self._add_lines([mark for mark in run if isinstance(mark, Line)])
            else:
                for mark in run:
                    self._add_mark(mark)
        text: str = self.drawing.tostring()
        return text if is_inline else f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'

    def _name_drawing(self) -> None:
        self.drawing.set_desc(_plain(self.scene.title), _plain(self.scene.description))
        names = []
        for element in self.drawing.elements[:2]:
            names.append(self._own_id(element.elementname))
            element.xml.set("id", names[-1])
        self.drawing.attribs["role"] = "img"
        self.drawing.attribs["aria-labelledby"] = " ".join(names)

    def _own_id(self, name: str) -> str:
        """An id that nothing else in this drawing has."""
        wanted = f"{self.prefix}-{_as_id(name)}"
        own, count = wanted, 1
        while own in self.used_ids:
            count += 1
            own = f"{wanted}-{count}"
        self.used_ids.add(own)
        return own

    def _add_lines(self, lines: list[Line]) -> None:
        """Lines lie on one another in any order: those of one role become one path."""
        roles = dict.fromkeys(line.role for line in lines)
        for role in roles:
            plain = [line for line in lines if line.role is role and not line.id]
            self._add_path("".join(dict.fromkeys(_run(line.points) for line in plain)), str(role))
            for line in lines:
                if line.role is role and line.id:
                    self._add_path(_run(line.points), str(role), self._own_id(line.id))
            heads = "".join(_heads(line) for line in lines if line.role is role)
            self._add_path(heads, ink_of(role))

    def _add_path(self, path: str, css_class: str, own_id: str = "") -> None:
        if not path:
            return
        extra = {"id": own_id} if own_id else {}
        self.drawing.add(self.drawing.path(path, class_=css_class, **extra))

    def _add_mark(self, mark: Mark) -> None:
        if isinstance(mark, Area):
            self._add_area(mark)
        elif isinstance(mark, Circle):
            self._add_circle(mark)
        elif isinstance(mark, Text):
            self._add_text(mark)
        elif isinstance(mark, Path):
            own_id = self._own_id(mark.id) if mark.id else ""
            self._add_path(_true_line(mark.outline), str(mark.role), own_id)

    def _add_area(self, area: Area) -> None:
        path = "".join(f"{_run(ring)}Z" for ring in area.rings if len(ring) > 2)
        css_class = f"tone{area.tone}" if area.role is Role.PART else filling_of(area.role)
        if area.outlined:
            css_class = f"{area.role} {css_class}"
        extra = {"id": self._own_id(area.id)} if area.id else {}
        if len(area.rings) > 1:
            # Holes are rings inside rings, whichever way each runs.
            extra["fill-rule"] = "evenodd"
        if path:
            self.drawing.add(self.drawing.path(path, class_=css_class, **extra))
        if area.hatch:
            lines = hatch_lines(area.rings, area.hatch)
            self._add_path("".join(_run(line) for line in lines), "hatch")

    def _add_circle(self, circle: Circle) -> None:
        css_class = str(circle.role)
        if circle.filled:
            css_class += f" {filling_of(circle.role)}"
        extra = {"id": self._own_id(circle.id)} if circle.id else {}
        centre = (_mm(circle.centre[0]), _mm(circle.centre[1]))
        self.drawing.add(self.drawing.circle(centre, _mm(circle.radius), class_=css_class, **extra))

    def _add_text(self, text: Text) -> None:
        words = _plain(text.text)
        if not words:
            return
        extra: dict[str, str] = {"id": self._own_id(text.id)} if text.id else {}
        if len(words) > 1 and not text.halo:
            # Holds a face with other widths to the room that the drawing has made. Set so, letters
            # are painted one by one, and each halo would cover the letter before.
            extra["textLength"] = _mm(text_width(words, text.height))
        at = (_mm(text.at[0]), _mm(text.at[1] + text.height / 2))
        if text.turn_deg:
            turn = f"rotate({_mm(text.turn_deg)} {_mm(text.at[0])} {_mm(text.at[1])})"
            extra["transform"] = turn
        css_class = ink_of(text.role) + (" halo" if text.halo else "")
        if text.anchor != "middle":
            css_class += f" {text.anchor}"
        self.drawing.add(
            self.drawing.text(
                words,
                insert=at,
                class_=css_class,
                font_size=_mm(font_size(text.height)),
                **extra,
            )
        )


def _mm(value: float) -> str:
    """Round a coordinate: the one place where drawings are rounded.

    >>> _mm(12.0), _mm(-0.001), _mm(1 / 3)
    ('12', '0', '0.33')
    """
    text = f"{value:.{_DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _run(points: Iterable[Point]) -> str:
    """Write a run of straight lines as path data; a run of no length is left out.

    >>> _run([(0, 0), (10, 0), (10, 5), (3, 2)])
    'M0,0H10V5L3,2'
    """
    places = [(_mm(x), _mm(y)) for x, y in points]
    steps = list(_steps(places))
    return f"M{places[0][0]},{places[0][1]}{''.join(steps)}" if steps else ""


def _true_line(outline: Outline) -> str:
    """Write a closed line as path data, its arcs and curves as such."""
    steps = "".join(_true_step(start, segment) for start, segment in outline.steps())
    return f"M{_place(outline.start)}{steps}Z"


def _true_step(start: OutlinePoint, segment: Segment) -> str:
    if isinstance(segment, Arc):
        turn = sweep_rad(start, segment)[1]
        flags = f"{int(abs(turn) > math.pi)} {int(turn > 0)}"
        a, b = (_mm(float(radius)) for radius in segment.radii)
        return f"A{a} {b} 0 {flags} {_place(segment.end)}"
    if isinstance(segment, Curve):
        points = (segment.control_1, segment.control_2, segment.end)
        return f"C{' '.join(map(_place, points))}"
    return f"L{_place(segment.end)}"


def _place(point: OutlinePoint) -> str:
    return f"{_mm(float(point[0]))},{_mm(float(point[1]))}"


def _steps(places: list[tuple[str, str]]) -> Iterator[str]:
    for (x0, y0), (x, y) in pairwise(places):
        if x == x0 and y == y0:
            continue
        yield f"H{x}" if y == y0 else f"V{y}" if x == x0 else f"L{x},{y}"


def _heads(line: Line) -> str:
    """Path data of a line's arrowheads."""
    heads = ""
    if len(line.points) > 1:
        if line.start_arrow:
            heads += _head(line.points[0], line.points[1])
        if line.end_arrow:
            heads += _head(line.points[-1], line.points[-2])
    return heads


def _head(tip: Point, tail: Point) -> str:
    length = math.dist(tip, tail)
    if not length:
        return ""
    along = ((tail[0] - tip[0]) / length, (tail[1] - tip[1]) / length)
    x, y = tip[0] + along[0] * ARROW_LENGTH_MM, tip[1] + along[1] * ARROW_LENGTH_MM
    side = (-along[1] * ARROW_HALF_WIDTH_MM, along[0] * ARROW_HALF_WIDTH_MM)
    return f"{_run([tip, (x + side[0], y + side[1]), (x - side[0], y - side[1])])}Z"


def _as_id(text: str) -> str:
    """Make a text fit to be an XML name."""
    name = _NOT_IN_IDS.sub("-", text).strip("-.")
    return name if name[:1].isalpha() or name[:1] == "_" else f"x{name}"


def _plain(text: str) -> str:
    """Take out what no XML document may hold, and what would turn the reading order."""
    return _NOT_IN_TEXT.sub("", text)
