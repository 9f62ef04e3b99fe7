"""All drawings of a plan: what is drawn, under which name.

Takes a sound WorkedPlan, gives Scenes by name: `assembled`, `arrangement`, `exploded`,
`labels-<n>`, `part-<shape>`, `template-<shape>-<n>-<n>`, `sheet-<stock>-<n>`,
`lengths-<stock>-<n>`, `joint-<n>`, `schedule-<n>`, `step-<slug>`. Knows no pages.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from manifold3d import Manifold

from benchleaf.cutting.records import CutPlan
from benchleaf.drawing.bodies import Body, body_of
from benchleaf.drawing.cutting_diagram import draw_sheet_layout
from benchleaf.drawing.elevations import draw_arrangement
from benchleaf.drawing.joint_figure import draw_joint
from benchleaf.drawing.label_sheets import draw_labels
from benchleaf.drawing.length_diagram import draw_length_layout
from benchleaf.drawing.part_sheet import draw_part_sheet
from benchleaf.drawing.pictorial import SIZE, assembled_picture, exploded_picture
from benchleaf.drawing.projection import ISOMETRIC
from benchleaf.drawing.scene import Scene
from benchleaf.drawing.schedule_chart import draw_schedule
from benchleaf.drawing.shading import tell_apart
from benchleaf.drawing.spacing import readable_offsets
from benchleaf.drawing.step_pictures import Stage, draw_steps
from benchleaf.drawing.template_sheets import draw_templates
from benchleaf.frames import Box
from benchleaf.joinery.placed import placed_box
from benchleaf.joinery.records import Joinery, JointFit
from benchleaf.joinery.solids import placed_solid
from benchleaf.pipeline import WorkedPlan
from benchleaf.reading.plan import Plan

# chosen: the width of other pictures, and as high as leaves room for a heading on a printed page.
EXPLODED = (SIZE[0], 190.0)


def draw_plan(worked: WorkedPlan) -> dict[str, Scene]:
    """Draw everything that a plan's pages show.

    Args:
        worked: A plan that is sound, so that every stage is there.

    Returns:
        Scenes by name, in order of the pages.
    """
    if worked.joinery is None or worked.cut_plan is None or worked.sequence is None:
        return {}
    joinery = worked.joinery
    solids = solids_of(joinery)
    bodies = tell_apart([body_of(solid, mark) for mark, solid in solids.items()])
    scenes = [*_pictures(joinery, bodies)]
    scenes += draw_labels(joinery)
    scenes += _parts(joinery, bodies)
    scenes += _layouts(worked.cut_plan, joinery.piece.plan)
    scenes += draw_joints(joinery, solids)
    scenes += _schedule(worked)
    scenes += draw_steps(worked.sequence.steps, stage_of(joinery, bodies))
    return dict(scenes)


def solids_of(joinery: Joinery) -> dict[str, Manifold]:
    """The finished copies at their seats, in the piece's axes, by mark."""
    return {mark: placed_solid(joinery, mark) for mark in joinery.copies}


def bodies_of(joinery: Joinery) -> tuple[Body, ...]:
    """The finished copies at their seats, toned so that neighbours can be told apart."""
    return tell_apart([body_of(solid, mark) for mark, solid in solids_of(joinery).items()])


def boxes_of(joinery: Joinery) -> dict[str, Box]:
    """The box of each finished copy at its seat, tenons and all."""
    return {mark: placed_box(joinery, mark) for mark in joinery.copies}


def _pictures(joinery: Joinery, bodies: Sequence[Body]) -> Iterator[tuple[str, Scene]]:
    offsets = readable_offsets(joinery.assembly, boxes_of(joinery), ISOMETRIC)
    yield "assembled", assembled_picture(bodies, ISOMETRIC)
    yield "arrangement", draw_arrangement(joinery, bodies, boxes_of(joinery))
    yield (
        "exploded",
        exploded_picture(bodies, offsets, ISOMETRIC, size=EXPLODED, mates=mates_of(joinery)),
    )


def _parts(joinery: Joinery, bodies: Sequence[Body]) -> Iterator[tuple[str, Scene]]:
    placed = {body.mark: body for body in bodies}
    for shape in joinery.shapes:
        yield f"part-{shape.name}", draw_part_sheet(shape, joinery, placed[shape.drawn.mark])
        yield from draw_templates(shape, joinery)


def stage_of(joinery: Joinery, bodies: Sequence[Body]) -> Stage:
    """What pictures of steps are drawn from."""
    return Stage(
        joinery=joinery,
        bodies={body.mark: body for body in bodies},
        boxes=boxes_of(joinery),
        mates=mates_of(joinery),
    )


def mates_of(joinery: Joinery) -> frozenset[frozenset[str]]:
    """Marks of the copies that a joint holds together."""
    return frozenset(frozenset((fit.contact.first, fit.contact.second)) for fit in joinery.fits)


def _layouts(cut_plan: CutPlan, plan: Plan) -> Iterator[tuple[str, Scene]]:
    for sheet in cut_plan.sheets:
        yield f"sheet-{sheet.stock}-{sheet.number}", draw_sheet_layout(sheet, cut_plan, plan)
    for layout in cut_plan.lengths:
        name = f"lengths-{layout.stock}-{layout.number}"
        yield name, draw_length_layout(layout, cut_plan, plan)


def _schedule(worked: WorkedPlan) -> Iterator[tuple[str, Scene]]:
    if worked.schedule is None or worked.sequence is None or worked.plan is None:
        return
    sheets = draw_schedule(worked.schedule, worked.sequence.steps, worked.plan)
    for number, scene in enumerate(sheets, start=1):
        yield f"schedule-{number}", scene


def draw_joints(joinery: Joinery, solids: Mapping[str, Manifold]) -> Iterator[tuple[str, Scene]]:
    """Draw one figure for each entry in the plan's list, at its first contact.

    What only rests or is only glued, face to face, has nothing to be shown inside.
    """
    for fit in _first_fits(joinery):
        if fit.first_features or fit.second_features:
            yield f"joint-{fit.joint + 1}", draw_joint(fit, joinery, solids)


def _first_fits(joinery: Joinery) -> list[JointFit]:
    first: dict[int, JointFit] = {}
    for fit in joinery.fits:
        first.setdefault(fit.joint, fit)
    return list(first.values())
