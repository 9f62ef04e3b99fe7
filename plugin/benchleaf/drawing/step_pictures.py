"""Pictures of steps: what is put on what, and what is worked on.

Takes the steps, the joinery and the finished bodies, gives Scenes by name. A step that puts copies
together, dry or with glue, is drawn as it is done; a step that works on joints shows one of each
part that it works on. Must not know sheets or pages.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from benchleaf.drawing.bodies import Body
from benchleaf.drawing.captions import Caption, write_assembly, write_work
from benchleaf.drawing.exploding import explode_offsets, restrict, usual_gap_mm
from benchleaf.drawing.pictorial import step_picture
from benchleaf.drawing.projection import (
    ISOMETRIC,
    View,
    from_back,
    from_below,
    from_left,
    turned_over,
)
from benchleaf.drawing.scene import Scene
from benchleaf.drawing.spacing import count_lost
from benchleaf.forms import Bore, box_round
from benchleaf.frames import FACES, Axis, Box, Number, Vector
from benchleaf.joinery.records import (
    Assembly,
    Feature,
    Joinery,
)
from benchleaf.sequencing.kinds.assembling import DRY_FIT
from benchleaf.sequencing.kinds.shaping import SHAPING_CODES
from benchleaf.sequencing.records import Operation, Step

_ABOVE: Final = (ISOMETRIC, from_left(ISOMETRIC), from_back(ISOMETRIC))
# chosen: a step is seen from the usual side unless that hides what it does; then the next.
STEP_VIEWS: Final = (
    *_ABOVE,
    from_back(from_left(ISOMETRIC)),
    *(from_below(view) for view in _ABOVE),
    from_below(from_back(from_left(ISOMETRIC))),
)

# chosen: a mate half as long again as the part worked on still leaves it large enough to be read.
_MATE_RATIO: Final = Fraction(3, 2)
# chosen: what a cut shows at an opening half as large as its largest one is still seen.
_LEAST_OPENING: Final = Fraction(1, 2)
_STAYS: Final = (0, 0, 0)

Groups = Sequence[frozenset[str]]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stage:
    """What steps are drawn from."""

    joinery: Joinery
    bodies: Mapping[str, Body]
    """Finished copies at their seats, by mark."""
    boxes: Mapping[str, Box]
    """Round them, in the piece's axes."""
    mates: frozenset[frozenset[str]]
    """Marks of the copies that a joint holds together."""


def draw_steps(steps: Sequence[Step], stage: Stage) -> Iterator[tuple[str, Scene]]:
    """Draw each step that puts copies together or works on a joint.

    Steps that show the same are drawn once.
    """
    glue_ups = {
        frozenset(operation.joined): operation
        for step in steps
        for operation in step.operations
        if operation.joined
    }
    glued: list[frozenset[str]] = []
    dry: list[frozenset[str]] = []
    drawn: dict[Hashable, Scene] = {}
    for step in steps:
        operations = _one_of_twins(step.operations, stage)
        fitted = [_partner(operation, glue_ups) for operation in operations]
        groups = [frozenset(found.joined) for found in fitted if found]
        moved = frozenset(mark for found in fitted if found for mark in found.moved)
        shows: Hashable
        if groups:
            joined = frozenset().union(*groups)
            standing = (*glued, *dry) if not step.joined else tuple(glued)
            standing = tuple(group for group in standing if group <= joined)
            is_turned = any(found.is_turned for found in fitted if found)
            shows = (joined, moved, standing, is_turned)
            if shows not in drawn:
                drawn[shows] = _draw_assembly(
                    joined, moved, standing, stage=stage, is_turned=is_turned
                )
            # What is fitted dry comes apart again before anything is glued.
            dry = [*dry, *groups] if not step.joined else []
            glued += groups if step.joined else []
        else:
            worked, joints = _one_of_each(step, stage.joinery)
            if not worked:
                continue
            shaped = frozenset(key for operation in step.operations for key in operation.shaped)
            shows = (worked, joints, shaped)
            if shows not in drawn:
                drawn[shows] = draw_work(worked, joints, stage, shaped=shaped)
        yield f"step-{step.slug}", replace(drawn[shows], id=f"step-{step.slug}")


def _one_of_twins(operations: Sequence[Operation], stage: Stage) -> list[Operation]:
    """Of what is done to several copies of one group, what is done to the first.

    Their parts would cross one another in one picture.
    """
    first: dict[str, int] = {}
    kept = []
    for operation in operations:
        groups = stage.joinery.piece.groups
        marks = set(operation.copies)
        group = next((own for own in groups if marks and marks <= set(own.marks)), None)
        if group is None or first.setdefault(group.group, group.number) == group.number:
            kept.append(operation)
    return kept


def _partner(
    operation: Operation, glue_ups: Mapping[frozenset[str], Operation]
) -> Operation | None:
    """The operation that puts copies together: itself, or for a dry fit the one it prepares."""
    if operation.joined or operation.kind != DRY_FIT.code:
        return operation if operation.joined else None
    return glue_ups.get(frozenset(operation.copies))


def _draw_assembly(
    joined: frozenset[str],
    moved: frozenset[str],
    standing: Groups,
    *,
    stage: Stage,
    is_turned: bool,
) -> Scene:
    """Draw what goes on in full, drawn off its seat, and what stands already pale."""
    tree = restrict(stage.joinery.assembly, joined)
    offsets = explode_offsets(
        prune(tree, joined, moved, standing), stage.boxes, _gap_mm(joined, stage)
    )
    fresh = [mark for mark in stage.bodies if mark in moved]
    others = [mark for mark in stage.bodies if mark in joined - moved]
    boxes = {mark: stage.boxes[mark] for mark in stage.bodies if mark in joined}
    views = tuple(map(turned_over, STEP_VIEWS)) if is_turned else STEP_VIEWS
    view = _best_view(lambda view: (count_lost(boxes, offsets, fresh, view),), views)
    caption = write_assembly(fresh, others, stage.joinery, view=view.name)
    return _picture(fresh, others, offsets, stage, view=view, caption=caption)


def draw_work(
    worked: tuple[str, ...],
    joints: frozenset[int],
    stage: Stage,
    *,
    shaped: frozenset[tuple[str, int]] = frozenset(),
) -> Scene:
    """Draw one of each part that is worked on; a part alone has a mate beside it, pale.

    Args:
        worked: Marks of the copies, in the order of their parts.
        joints: The joints that are worked on: what they do to the copies is to show.
        stage: What steps are drawn from.
        shaped: Mark and index of what is shaped: the faces that show it are to be seen.
    """
    beside = _mate_of(worked[0], joints, stage) if len(worked) == 1 else ()
    shown = frozenset((*worked, *beside))
    tree = restrict(stage.joinery.assembly, shown)
    offsets = explode_offsets(tree, stage.boxes, _gap_mm(shown, stage))
    boxes = {mark: stage.boxes[mark] for mark in stage.bodies if mark in shown}
    openings = [
        *_openings(worked, joints, stage.joinery),
        *_shaped_faces(worked, shaped, stage.joinery),
    ]

    def hides(view: View) -> tuple[int, ...]:
        toward = view.toward_viewer
        seen = [(work, any(toward @ way > 0 for way in ways)) for work, ways in openings]
        # That something of each joint shows comes before how much of it.
        missed = len({work for work, _ in seen} - {work for work, shows in seen if shows})
        hidden = sum(not shows for _, shows in seen)
        return missed, hidden, count_lost(boxes, offsets, worked, view)

    view = _best_view(hides)
    caption = write_work(worked, beside, stage.joinery, view=view.name)
    return _picture(worked, beside, offsets, stage, view=view, caption=caption)


def _best_view(
    hides: Callable[[View], tuple[int, ...]], views: Sequence[View] = STEP_VIEWS
) -> View:
    """The first view that hides nothing, or else the first of those that hide least."""
    found: dict[View, tuple[int, ...]] = {}
    for view in views:
        found[view] = hides(view)
        if not any(found[view]):
            return view
    return min(found, key=lambda view: found[view])


def _gap_mm(shown: Iterable[str], stage: Stage) -> float:
    return usual_gap_mm({mark: stage.boxes[mark] for mark in shown})


def _picture(  # noqa: PLR0913 - four by position, two named
    fresh: Sequence[str],
    others: Sequence[str],
    offsets: Mapping[str, tuple[float, float, float]],
    stage: Stage,
    *,
    view: View,
    caption: Caption,
) -> Scene:
    shown = [body for mark, body in stage.bodies.items() if mark in (*fresh, *others)]
    return step_picture(shown, fresh, offsets, view=view, mates=stage.mates, caption=caption)


def _one_of_each(step: Step, joinery: Joinery) -> tuple[tuple[str, ...], frozenset[int]]:
    """One copy of each part that a step joints or shapes, mates of one another where they can.

    With them the joints that it works on.
    """
    working = [
        operation
        for operation in step.operations
        if operation.joints or operation.kind in SHAPING_CODES
    ]
    joints = frozenset(joint for operation in working for joint in operation.joints)
    copies = {mark for operation in working for mark in operation.copies}
    pairs = {
        frozenset((fit.contact.first, fit.contact.second))
        for fit in joinery.fits
        if fit.joint in joints
    }
    chosen: list[str] = []
    for part in joinery.piece.parts:
        found = [m for m in joinery.copies if m in copies and joinery.copies[m].part == part]
        mates = [m for m in found if any(frozenset((m, other)) in pairs for other in chosen)]
        chosen += [*mates, *found][:1]
    return tuple(chosen), joints


def _mate_of(mark: str, joints: frozenset[int], stage: Stage) -> tuple[str, ...]:
    """The first copy that a joint brings to another; none that would dwarf it in the picture."""
    most = _MATE_RATIO * max(stage.boxes[mark].size)
    for fit in stage.joinery.fits:
        pair = (fit.contact.first, fit.contact.second)
        if fit.joint in joints and mark in pair:
            mate = next(other for other in pair if other != mark)
            return (mate,) if max(stage.boxes[mate].size) <= most else ()
    return ()


def _openings(
    marks: Iterable[str], joints: frozenset[int], joinery: Joinery
) -> Iterator[tuple[tuple[str, int], list[tuple[float, ...]]]]:
    """For each thing that joints do to copies, the directions from which it is seen open.

    With each, the copy and the joint.
    """
    for mark in marks:
        cut = joinery.copies[mark]
        frame = joinery.piece.copies[mark].frame
        for feature in cut.features:
            if feature.joint in joints:
                ways = (frame.outward_direction(way) for way in _ways_into(feature, cut.blank))
                flat = [tuple(float(part) for part in way) for way in ways]
                yield (mark, feature.joint), flat


def _shaped_faces(
    marks: Iterable[str], shaped: frozenset[tuple[str, int]], joinery: Joinery
) -> Iterator[tuple[tuple[str, int], list[tuple[float, ...]]]]:
    """For each thing that is shaped on copies, the faces that show it, as directions.

    With each, the copy and a number of its own, below those of joints.
    """
    for mark in marks:
        frame = joinery.piece.copies[mark].frame
        for cut in joinery.copies[mark].shaping:
            if (mark, cut.index) in shaped:
                axis, is_high = FACES[cut.worked or cut.face]
                way = tuple((1 if is_high else -1) * int(other is axis) for other in Axis)
                turned = frame.outward_direction(way)  # type: ignore[arg-type]
                yield (mark, -1 - cut.index), [tuple(float(part) for part in turned)]


def _ways_into(feature: Feature, blank: Box) -> list[Vector]:
    """Directions, in the part's own axes, in which a feature lies open or stands out.

    Of a housing the broad opening counts, not its ends.
    """
    shape = feature.shape
    if isinstance(shape, Bore):
        x, y, z = shape.direction
        return [(-x, -y, -z)]
    box = box_round(shape)
    ways: list[tuple[Number, Vector]] = []
    for axis in Axis:
        size = box.size
        area = size[(axis + 1) % 3] * size[(axis + 2) % 3]
        for sign, is_open in (
            (-1, box.low[axis] <= blank.low[axis]),
            (1, box.high[axis] >= blank.high[axis]),
        ):
            if is_open:
                way = tuple(sign if other is axis else 0 for other in Axis)
                ways.append((area, way))  # type: ignore[arg-type]
    most = max((area for area, _ in ways), default=0)
    return [way for area, way in ways if area >= most * _LEAST_OPENING]


def prune(
    node: Assembly, joined: frozenset[str], fresh: frozenset[str], standing: Groups
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
    halves = (node.moved, node.fixed)
    moved, fixed = (frozenset(half.copies) & joined for half in halves)
    is_kept = bool(moved and fixed) and not any(moved | fixed <= group for group in standing)
    if is_kept and not moved <= fresh and fixed <= fresh:
        return prune(_turned(node), joined, fresh, standing)
    if not is_kept or not moved <= fresh:
        node = replace(node, direction=_STAYS, shift_mm=_STAYS, fixed_direction=_STAYS)
    first, second = (prune(half, joined, fresh, standing) for half in halves)
    return replace(node, moved=first, fixed=second)


def _turned(node: Assembly) -> Assembly:
    """The same parting with the other half moved."""
    x, y, z = node.direction
    u, v, w = node.shift_mm
    return replace(
        node,
        moved=node.fixed,
        fixed=node.moved,
        direction=(-x, -y, -z),
        shift_mm=(-u, -v, -w),
        fixed_direction=_STAYS,
    )
