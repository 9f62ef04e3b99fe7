"""Something braces the piece against racking in both level directions.

What:
    A piece on the floor has, along its width or its depth, no panel, no rail with stiff joints and
    no brace: nothing but the squareness of its joints' faces.

Why:
    A push sideways folds it like a hinge, a little more each time.

Limit:
    In each level direction one of: a panel or board on edge, fixed to two others; a joint that
    holds over at least 40 mm of height: tenon, dowels, half lap, housing or a post through a panel;
    a part that stands aslant.

Source:
    Common practice, no source: triangles, panels and deep joints brace; 40 mm is chosen, the depth
    of the least rail that is used so.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checking.records import Check, Quantity, Topic, Verdict, Working
from benchleaf.checking.standing import how_it_stands
from benchleaf.checking.stays import Tie, is_plate
from benchleaf.checking.survey import Survey
from benchleaf.frames import Axis
from benchleaf.reading.plan import Stands

# chosen: see the module's docstring, mm.
_DEEP_MM = 40
# chosen: a piece lower than a hand is deep does not rack, mm.
_HIGH_MM = 150
# Kinds of joints that hold an angle by their depth.
_STIFF = frozenset(
    {
        "bolt and cross dowel",
        "box joint",
        "bridle",
        "carriage bolts",
        "dowels",
        "drawbored tenon",
        "half lap",
        "half blind dovetail",
        "housing",
        "keyed mitre",
        "loose tenon",
        "mortise and tenon",
        "splined mitre",
        "sliding dovetail",
        "through dovetail",
        "through post",
        "twin tenons",
        "wedged tenon",
    }
)
_WORDS = {Axis.WIDE: "from side to side", Axis.DEEP: "from front to back"}


def reckon_racking(survey: Survey) -> Iterator[Working]:
    """Look for what braces the piece along its width and its depth."""
    piece = survey.piece
    is_low = float(piece.overall.size[Axis.HIGH]) < _HIGH_MM
    # What nothing ties to the rest is said by another check.
    is_loose = any(not survey.stays.ties[mark] for mark in survey.stays.grounded)
    if is_low or is_loose or how_it_stands(piece.plan) is Stands.HUNG:
        return
    for axis in filter(lambda axis: _stands_on_two(survey, axis), (Axis.WIDE, Axis.DEEP)):
        yield _working(axis, tuple(dict.fromkeys(_braces(survey, axis))))


def _stands_on_two(survey: Survey, axis: Axis) -> bool:
    """Tell whether the piece stands on feet apart along an axis: one foot alone cannot fold."""
    boxes = [survey.piece.copies[mark].box for mark in sorted(survey.stays.grounded)]
    ends = sorted((box.low[axis], box.high[axis]) for box in boxes)
    reach = ends[0][1]
    for low, high in ends:
        if low > reach:
            return True
        reach = max(reach, high)
    return False


def _braces(survey: Survey, axis: Axis) -> Iterator[str]:
    """Marks of copies that brace the piece along an axis."""
    for mark, copy in survey.piece.copies.items():
        part = survey.piece.parts[copy.part]
        fixed = [tie for tie in survey.stays.ties[mark] if tie.is_fastened]
        if not copy.frame.is_square:
            yield mark
            continue
        faces = next(a for a in Axis if copy.frame.axes[part.thickness_axis][a])
        lies_in_plane = not is_plate(part) and faces != axis
        others = {tie.other for tie in fixed}
        if (lies_in_plane and len(others) > 1 and _is_panel(survey, mark, axis)) or any(
            _is_stiff(tie, axis) for tie in fixed
        ):
            yield mark


def _is_panel(survey: Survey, mark: str, axis: Axis) -> bool:
    """Tell whether a copy on edge is a panel: as high and as long as the least rail and more."""
    size = survey.piece.copies[mark].box.size
    return float(size[Axis.HIGH]) >= 2 * _DEEP_MM and float(size[axis]) >= 2 * _DEEP_MM


def _is_stiff(tie: Tie, axis: Axis) -> bool:
    """Tell whether a joint holds an angle in the upright plane along an axis."""
    if tie.kind not in _STIFF or tie.normal is None:
        return False
    level = Axis.DEEP if axis is Axis.WIDE else Axis.WIDE
    if tie.kind == "through post":
        return float(tie.region.size[axis]) >= _DEEP_MM
    if tie.normal == level:
        return tie.kind == "half lap" and float(tie.region.size[Axis.HIGH]) >= _DEEP_MM
    height = Axis.HIGH if tie.normal == axis else axis
    return float(tie.region.size[height]) >= _DEEP_MM


def _working(axis: Axis, braces: tuple[str, ...]) -> Working:
    way = _WORDS[axis]
    unit = "part" if len(braces) == 1 else "parts"
    count = Quantity(symbol="", name="parts that brace it", value=len(braces), unit=unit)
    least = Quantity(
        symbol="", name="at least", value=1, unit="part", source="common practice, no source"
    )
    return Working(
        topic=Topic.STANDING,
        code="K226",
        title=f"Bracing {way}",
        subject="plan",
        marks=braces,
        formula="panels and stiff joints in each upright plane, counted",
        inputs=(),
        result=count,
        limit=least,
        verdict=Verdict.HOLDS if braces else Verdict.OVER,
        words=f"Parts that brace it {way}: {len(braces)}."
        if braces
        else f"nothing braces the piece {way}",
        remedy="Add a back, a panel or a deep rail that is tenoned or dowelled to two uprights.",
    )


CHECK = Check(
    code="K226",
    name="racking",
    title="Something braces the piece against racking in both level directions.",
    reckon=reckon_racking,
)
