"""A plan that is fit to be built from, with what all its pages share.

Takes a `WorkedPlan` and its figures; gives a `SoundPlan`. Must not know templates or addresses.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from benchleaf.buying.records import ShoppingList
from benchleaf.checking.records import Working
from benchleaf.cutting.records import Blank, CutPlan, LengthLayout, SheetLayout
from benchleaf.findings import Finding, Place
from benchleaf.frames import Axis
from benchleaf.joinery.records import Joinery, JointFit, Shape
from benchleaf.joinery.rests_on import KIND as RESTS_ON
from benchleaf.piece.records import ChosenJoint, Part, Piece
from benchleaf.pipeline import Elsewhere, WorkedPlan
from benchleaf.reading.plan import Plan
from benchleaf.safety.records import CallOuts
from benchleaf.scheduling.records import Schedule
from benchleaf.sequencing.records import Sequence, Step
from benchleaf.shops import Shop
from benchleaf.site.escaping import make_anchors
from benchleaf.site.records import Figure
from benchleaf.site.show import Show


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundPlan:
    """A worked plan all of whose stages ran, and how its numbers and pictures are shown."""

    plan: Plan
    piece: Piece
    joinery: Joinery
    cut_plan: CutPlan
    sequence: Sequence
    shopping: ShoppingList
    call_outs: CallOuts
    schedule: Schedule
    findings: tuple[Finding, ...]
    shop: Shop
    """The site's own."""
    elsewhere: tuple[Elsewhere, ...]
    """The same work in other shops."""
    workings: tuple[Working, ...]
    """What was reckoned of the finished piece."""
    figures: Mapping[str, Figure]
    """By the drawing's name: `part-long rail`; a name that is missing has no picture."""
    shape_keys: Mapping[str, str]
    """Name of a shape to the key of its part sheet."""
    step_keys: Mapping[int, str]
    """Number of a step to the key of its page."""

    @property
    def show(self) -> Show:
        """The wording of numbers in the plan's units."""
        return Show(self.plan.units)

    @property
    def layouts(self) -> tuple[SheetLayout | LengthLayout, ...]:
        """Every piece of stock that is cut up: sheets, then boards and rods."""
        return (*self.cut_plan.sheets, *self.cut_plan.lengths)

    def place(self, path: str) -> Place:
        """Where something is written in the plan."""
        return self.plan.place(path)

    def part(self, shape: Shape) -> Part:
        """The part of which a shape's copies are."""
        return self.piece.parts[shape.part]

    def blanks_of(self, shape: Shape) -> tuple[Blank, ...]:
        """The rough pieces that a shape's copies are made of."""
        marks = {*shape.as_drawn, *shape.mirrored}
        return tuple(blank for blank in self.cut_plan.blanks if blank.copy in marks)

    def fits_of(self, joint: int) -> tuple[JointFit, ...]:
        """A joint of the plan at all its contacts."""
        return tuple(fit for fit in self.joinery.fits if fit.joint == joint)


def take_sound_plan(worked: WorkedPlan, figures: Mapping[str, Figure]) -> SoundPlan | None:
    """Take what all stages made, or nothing where one did not run or met an error."""
    if not worked.is_sound:
        return None
    # A sound plan has every stage's result; the type checker needs to be told one by one.
    if worked.plan is None or worked.piece is None or worked.joinery is None:
        return None
    if worked.cut_plan is None or worked.sequence is None or worked.call_outs is None:
        return None
    if worked.shopping is None or worked.schedule is None:
        return None
    return SoundPlan(
        plan=worked.plan,
        piece=worked.piece,
        joinery=worked.joinery,
        cut_plan=worked.cut_plan,
        sequence=worked.sequence,
        shopping=worked.shopping,
        call_outs=worked.call_outs,
        schedule=worked.schedule,
        findings=worked.findings,
        shop=worked.shop,
        elsewhere=worked.elsewhere,
        workings=worked.workings,
        figures=figures,
        shape_keys=_name_part_sheets(worked.joinery.shapes),
        step_keys=_name_step_pages(worked.sequence.steps),
    )


def _name_part_sheets(shapes: tuple[Shape, ...]) -> dict[str, str]:
    # A name without a Latin letter or digit gives way to the mark.
    anchors = make_anchors(((s.name, s.drawn.mark) for s in shapes), reserved="index")
    return {s.name: f"parts/{anchor}" for s, anchor in zip(shapes, anchors, strict=True)}


def _name_step_pages(steps: tuple[Step, ...]) -> dict[int, str]:
    anchors = make_anchors(((s.slug, f"step {s.number}") for s in steps), reserved="index")
    return {s.number: f"steps/{anchor}" for s, anchor in zip(steps, anchors, strict=True)}


def marks_of(shape: Shape) -> tuple[str, ...]:
    """Marks of all copies of a shape."""
    return (*shape.as_drawn, *shape.mirrored)


def axes_of(part: Part) -> tuple[Axis, Axis, Axis]:
    """The axes along which a part's length, width and thickness lie."""
    return (part.grain_axis, part.width_axis, part.thickness_axis)


def is_joined(joint: ChosenJoint) -> bool:
    """Tell whether anything holds two parts together; what only rests on another is not joined."""
    return joint.kind != RESTS_ON.code
