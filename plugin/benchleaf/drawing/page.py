"""The sheet: its safe box, its scale and the title block at its foot.

Takes sizes in mm and words, gives scales and marks. Must not know what is drawn above the block.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from benchleaf.drawing.scene import Circle, Line, Mark, Point, Role, Text
from benchleaf.drawing.text_metrics import fit_text
from benchleaf.reading.plan import Units

# chosen: the box that A4 (ISO 5457) and Letter (ASME Y14.1 size A) both print with 15 mm at the
# sides, so that a scale holds on either paper.
SAFE_WIDTH_MM: Final = 180.0
SAFE_HEIGHT_MM: Final = 250.0

TITLE_HEIGHT_MM: Final = 11.0

# ISO 3098-1:2015 series of letter heights, mm; chosen: 2.5 for sizes and notes, 3.5 for names.
NOTE_HEIGHT: Final = 2.5
NAME_HEIGHT: Final = 3.5
# ISO 3098-1:2015, the least of the series: for captions of the title block.
CAPTION_HEIGHT: Final = 1.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """Paper to wood."""

    divisor: int
    """Millimetres of wood for one on paper."""

    @property
    def label(self) -> str:
        """As written on the sheet: `1:8`."""
        return f"1:{self.divisor}"

    def on_paper(self, length_mm: float) -> float:
        """Length on paper, mm."""
        return length_mm / self.divisor


# ISO 5455 (from memory) for metric plans. Inch plans: chosen: halves, which read off an inch rule,
# and the builder's inch to the foot, 1:12; 1:32 and 1:50 for what is longer than the rest show.
_DIVISORS: Final = {
    Units.MILLIMETRE: (1, 2, 5, 10, 20, 50),
    Units.INCH: (1, 2, 4, 8, 12, 16, 32),
}


def scales(units: Units) -> tuple[Scale, ...]:
    """The scales of a plan's unit, largest first."""
    return tuple(Scale(divisor=divisor) for divisor in _DIVISORS[units])


def choose_scale(size_mm: Point, room_mm: Point, units: Units) -> Scale:
    """Choose the largest scale at which a thing fits its room, or the smallest if none does.

    Args:
        size_mm: Wide and high, of the thing.
        room_mm: Wide and high, on paper.
        units: Unit of the plan.

    >>> choose_scale((2440, 1220), (180, 200), Units.MILLIMETRE).label
    '1:20'
    >>> choose_scale((96 * 25.4, 48 * 25.4), (180, 200), Units.INCH).label
    '1:16'
    """
    for scale in scales(units):
        if all(scale.on_paper(size) <= room for size, room in zip(size_mm, room_mm, strict=True)):
            return scale
    return scales(units)[-1]


# chosen: layouts of stock are read, not measured, so they take steps between those of ISO 5455 too,
# and fill the sheet; 1:12 is the inch to the foot.
_LAYOUT_DIVISORS: Final = {
    Units.MILLIMETRE: (1, 2, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100),
    Units.INCH: (1, 2, 4, 6, 8, 12, 16, 20, 24, 32, 48, 64, 96),
}


def layout_scales(units: Units) -> tuple[Scale, ...]:
    """The scales of layouts in a plan's unit, largest first."""
    return tuple(Scale(divisor=divisor) for divisor in _LAYOUT_DIVISORS[units])


def choose_layout_scale(size_mm: Point, room_mm: Point, units: Units) -> Scale:
    """Choose the largest scale at which a piece of stock fits its room, or the smallest."""
    steps = layout_scales(units)
    return next((scale for scale in steps if _fits(scale, size_mm, room_mm)), steps[-1])


def _fits(scale: Scale, size_mm: Point, room_mm: Point) -> bool:
    return all(scale.on_paper(size) <= room for size, room in zip(size_mm, room_mm, strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleBlock:
    """What the foot of a sheet says. Empty words leave their cell out."""

    plan: str
    """The plan's title."""
    subject: str
    """Part, step or sheet of stock."""
    mark: str = ""
    """Marks of the copies: `A1-A4`."""
    quantity: str = ""
    """`4`, or `2 + 2 mirrored`."""
    scale: str = ""
    units: str = ""
    """`in` or `mm`."""
    revision: str = ""
    has_views: bool = False
    """True for orthographic views: the projection symbol stands in the block."""


# Caption, share of the width and letter height of each cell; chosen: by the length of usual words.
_CELLS: Final = (
    ("plan", "Plan", 43.0),
    ("subject", "Drawing", 43.0),
    ("mark", "Mark", 25.0),
    ("quantity", "Quantity", 29.0),
    ("scale", "Scale", 12.0),
    ("units", "Units", 10.0),
    ("revision", "Revision", 14.0),
)
_SYMBOL_WIDTH: Final = 17.0


def draw_title_block(block: TitleBlock, top: float, width: float = SAFE_WIDTH_MM) -> list[Mark]:
    """Draw the title block.

    Args:
        block: What it says.
        top: Where it begins on the sheet, mm; it is TITLE_HEIGHT_MM high.
        width: Width of the sheet, mm.
    """
    bottom = top + TITLE_HEIGHT_MM
    # Half a wide line in from the edge of the sheet, so that the frame is not cut.
    left, right, foot = 0.25, width - 0.25, bottom - 0.25
    frame = ((left, top), (right, top), (right, foot), (left, foot), (left, top))
    marks: list[Mark] = [Line(points=frame, role=Role.OUTLINE)]
    cells = list(_filled_cells(block, width))
    for (caption, words, cell_width), x in zip(cells, _starts(cells), strict=True):
        marks += _cell(caption, words, x, top, room=cell_width)
    if block.has_views:
        marks += _third_angle_symbol((right - _SYMBOL_WIDTH / 2, (top + foot) / 2))
    return marks


def _filled_cells(block: TitleBlock, width: float) -> Iterator[tuple[str, str, float]]:
    """Cells with words in them, widened in proportion to fill the block."""
    filled = [(title, getattr(block, name), share) for name, title, share in _CELLS]
    filled = [cell for cell in filled if cell[1]]
    room = width - (_SYMBOL_WIDTH if block.has_views else 0)
    grow = room / sum(share for _, _, share in filled)
    for title, words, share in filled:
        yield title, words, share * grow


def _starts(cells: list[tuple[str, str, float]]) -> Iterator[float]:
    x = 0.0
    for _, _, cell_width in cells:
        yield x
        x += cell_width


def _cell(caption: str, words: str, x: float, top: float, *, room: float) -> Iterator[Mark]:
    left = x + 1.5
    if x:
        yield Line(points=((x, top), (x, top + TITLE_HEIGHT_MM - 0.25)), role=Role.FINE)
    yield Text(
        at=(left, top + 2.4),
        text=fit_text(caption, CAPTION_HEIGHT, room - 2),
        height=CAPTION_HEIGHT,
        anchor="start",
        halo=False,
    )
    height = NAME_HEIGHT if caption in ("Plan", "Drawing") else NOTE_HEIGHT
    if fit_text(words, height, room - 2.5) != words:
        height = NOTE_HEIGHT
    yield Text(
        at=(left, top + 7.4),
        text=fit_text(words, height, room - 2.5),
        height=height,
        anchor="start",
        halo=False,
        role=Role.TITLE,
    )


def _third_angle_symbol(centre: Point) -> Iterator[Mark]:
    """A cone frustum and its view from the small end, which stands beside that end.

    Third angle puts each view on the side that it is seen from (ISO 5456-2, by geometry): the two
    circles, both in full since the frustum widens away from the eye, stand next to the small end.
    """
    x, y = centre
    # Diameters 1:2 and length equal to the large one; chosen: 5 mm fits the block.
    large, small, length = 2.5, 1.25, 5.0
    circles = (x - 4.0, y)
    start = x + 1.0
    yield Circle(centre=circles, radius=large, role=Role.FINE)
    yield Circle(centre=circles, radius=small, role=Role.FINE)
    frustum = (
        (start, y - small),
        (start + length, y - large),
        (start + length, y + large),
        (start, y + small),
        (start, y - small),
    )
    yield Line(points=frustum, role=Role.FINE)
    yield Line(points=((circles[0] - 3.3, y), (circles[0] + 3.3, y)), role=Role.CENTRE)
    yield Line(points=((circles[0], y - 3.3), (circles[0], y + 3.3)), role=Role.CENTRE)
    yield Line(points=((start - 0.8, y), (start + length + 0.8, y)), role=Role.CENTRE)
