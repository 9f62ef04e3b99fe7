"""All drawings of a plan: what is drawn, under which name.

Takes a sound WorkedPlan, gives Scenes by name: `assembled`, `exploded`, `part-<shape>`,
`sheet-<stock>-<n>`, `lengths-<stock>-<n>`, `joint-<n>`, `step-<slug>`. Knows no pages.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from manifold3d import Manifold

from benchleaf.cutting.records import CutPlan
from benchleaf.drawing.bodies import Body, body_of
from benchleaf.drawing.cutting_diagram import draw_sheet_layout
from benchleaf.drawing.exploding import explode_offsets, usual_gap_mm
from benchleaf.drawing.joint_figure import draw_joint
from benchleaf.drawing.length_diagram import draw_length_layout
from benchleaf.drawing.part_sheet import draw_part_sheet
from benchleaf.drawing.pictorial import assembled_picture, exploded_picture, step_picture
from benchleaf.drawing.projection import ISOMETRIC, View, from_back, from_below, from_left
from benchleaf.drawing.scene import Scene
from benchleaf.drawing.shading import tell_apart
from benchleaf.drawing.spacing import clearest_view, readable_offsets
from benchleaf.frames import Box, Vector
from benchleaf.joinery.records import Assembly, Joinery, JointFit
from benchleaf.joinery.solids import placed_solid
from benchleaf.pipeline import WorkedPlan
from benchleaf.reading.plan import Plan
from benchleaf.sequencing.records import Step

# chosen: the mates of a joint stand this share of the smaller one's length apart.
MATES_APART = 0.25
# chosen: a step is seen from the usual side unless that hides what it puts on; then the next.
STEP_VIEWS = (ISOMETRIC, from_left(ISOMETRIC), from_back(ISOMETRIC), from_below(ISOMETRIC))


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
    scenes += _parts(joinery, bodies)
    scenes += _layouts(worked.cut_plan, joinery.piece.plan)
    scenes += draw_joints(joinery, solids)
    scenes += _steps(worked.sequence.steps, joinery, bodies)
    return dict(scenes)


def solids_of(joinery: Joinery) -> dict[str, Manifold]:
    """The finished copies at their seats, in the piece's axes, by mark."""
    return {mark: placed_solid(joinery, mark) for mark in joinery.copies}


def bodies_of(joinery: Joinery) -> tuple[Body, ...]:
    """The finished copies at their seats, toned so that neighbours can be told apart."""
    return tell_apart([body_of(solid, mark) for mark, solid in solids_of(joinery).items()])


def boxes_of(joinery: Joinery) -> dict[str, Box]:
    """The box of each finished copy at its seat, tenons and all."""
    return {
        mark: joinery.piece.copies[mark].frame.box_outward(cut.blank)
        for mark, cut in joinery.copies.items()
    }


def _pictures(joinery: Joinery, bodies: Sequence[Body]) -> Iterator[tuple[str, Scene]]:
    offsets = readable_offsets(joinery.assembly, boxes_of(joinery), ISOMETRIC)
    yield "assembled", assembled_picture(bodies, ISOMETRIC)
    yield "exploded", exploded_picture(bodies, offsets, ISOMETRIC, mates=mates_of(joinery))


def _parts(joinery: Joinery, bodies: Sequence[Body]) -> Iterator[tuple[str, Scene]]:
    placed = {body.mark: body for body in bodies}
    for shape in joinery.shapes:
        yield f"part-{shape.name}", draw_part_sheet(shape, joinery, placed[shape.drawn.mark])


def mates_of(joinery: Joinery) -> frozenset[frozenset[str]]:
    """Marks of the copies that a joint holds together."""
    return frozenset(frozenset((fit.contact.first, fit.contact.second)) for fit in joinery.fits)


def _layouts(cut_plan: CutPlan, plan: Plan) -> Iterator[tuple[str, Scene]]:
    for sheet in cut_plan.sheets:
        yield f"sheet-{sheet.stock}-{sheet.number}", draw_sheet_layout(sheet, cut_plan, plan)
    for layout in cut_plan.lengths:
        name = f"lengths-{layout.stock}-{layout.number}"
        yield name, draw_length_layout(layout, cut_plan, plan)


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


def _steps(
    steps: Sequence[Step], joinery: Joinery, bodies: Sequence[Body]
) -> Iterator[tuple[str, Scene]]:
    """A picture for each step that puts copies together, and for each that cuts a joint."""
    standing: list[frozenset[str]] = []
    fits = {fit.joint: fit for fit in _first_fits(joinery)}
    drawn: dict[int, Scene] = {}
    for step in steps:
        name = f"step-{step.slug}"
        joint = next((n for operation in step.operations for n in operation.joints), None)
        if step.joined:
            yield name, _draw_assembly(step, standing, joinery, bodies=bodies)
            standing.append(frozenset(step.joined))
        elif joint in fits:
            # Several steps may work on one joint: its mates are drawn once.
            if joint not in drawn:
                drawn[joint] = draw_mates(fits[joint], bodies, name=name)
            yield name, replace(drawn[joint], id=name)


def _draw_assembly(
    step: Step, standing: Sequence[frozenset[str]], joinery: Joinery, *, bodies: Sequence[Body]
) -> Scene:
    boxes = boxes_of(joinery)
    tree = prune(joinery.assembly, frozenset(step.joined), frozenset(step.moved), standing)
    standing_boxes = {mark: boxes[mark] for mark in step.joined}
    offsets = explode_offsets(tree, boxes, usual_gap_mm(standing_boxes))
    view = clearest_view(standing_boxes, offsets, step.moved, views=STEP_VIEWS)
    shown = [body for body in bodies if body.mark in step.joined]
    return step_picture(
        shown,
        step.moved,
        offsets,
        view=view,
        mates=mates_of(joinery),
        id=f"step-{step.slug}",
    )


def prune(
    node: Assembly,
    joined: frozenset[str],
    fresh: frozenset[str],
    standing: Sequence[frozenset[str]],
) -> Assembly:
    """Keep of an assembly tree what one step does.

    Args:
        node: The tree.
        joined: Copies that stand together when the step is done.
        fresh: Those of them that the step puts on.
        standing: What earlier steps have put together; it moves as one.

    Returns:
        The tree with a direction only where the step moves something.
    """
    if node.moved is None or node.fixed is None:
        return node
    moved = frozenset(node.moved.copies) & joined
    fixed = frozenset(node.fixed.copies) & joined
    is_kept = bool(moved and fixed) and not any(moved | fixed <= group for group in standing)
    x, y, z = node.direction
    halves, direction = (node.moved, node.fixed), node.direction
    if is_kept and not moved <= fresh and fixed <= fresh:
        halves, direction = (node.fixed, node.moved), (-x, -y, -z)
    elif not is_kept or not moved <= fresh:
        direction = (0, 0, 0)
    first, second = (prune(half, joined, fresh, standing) for half in halves)
    return Assembly(
        copies=node.copies,
        moved=first,
        fixed=second,
        direction=direction,
        is_locked=node.is_locked,
    )


def draw_mates(fit: JointFit, bodies: Sequence[Body], *, name: str) -> Scene:
    """Draw the two mates of a joint drawn apart, seen from where the second's seat shows."""
    contact = fit.contact
    mates = [body for body in bodies if body.mark in (contact.first, contact.second)]
    away = contact.frame.outward_direction(
        fit.free_directions[0] if fit.free_directions else (0, 0, -1)
    )
    reach = MATES_APART * min(max(_extent(body)) for body in mates)
    offset = tuple(float(part) * reach for part in away)
    return exploded_picture(mates, {contact.first: offset}, _view_towards(away), id=name)


def _extent(body: Body) -> Sequence[float]:
    extents: Sequence[float] = (body.vertices.max(axis=0) - body.vertices.min(axis=0)).tolist()
    return extents


def _view_towards(face: Vector) -> View:
    """An isometric view in which a face that looks along a direction shows."""
    views = (ISOMETRIC, from_left(ISOMETRIC), from_back(ISOMETRIC), from_below(ISOMETRIC))
    direction = [float(part) for part in face]
    return next((view for view in views if view.toward_viewer @ direction > 0), ISOMETRIC)
