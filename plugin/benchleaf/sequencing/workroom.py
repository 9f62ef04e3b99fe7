"""What every planner of operations looks at: the joinery, the cut plan, and short ways to ask them.

Takes the two results, gives a frozen `Workroom`. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Final

from benchleaf.cutting.records import Blank, CutPlan
from benchleaf.frames import Axis, Box, Vector
from benchleaf.handbook.materials import Material, find_material
from benchleaf.joinery.assembly import plan_assembly
from benchleaf.joinery.moving import units_of
from benchleaf.joinery.placed import placed_box
from benchleaf.joinery.records import CutCopy, Feature, Joinery, JointFit, Stops
from benchleaf.joinery.solids import placed_solid
from benchleaf.piece.records import GroupCopy, Part, own_box
from benchleaf.reading.plan import Plan, Stock
from benchleaf.sequencing.clamping import Clamps
from benchleaf.sequencing.wording import (
    Say,
    join_marks,
    join_words,
    name_parts,
    order_of_mark,
    sort_marks,
)
from benchleaf.shops import USUAL_SHOP, Shop

# Joints that are pressed home the way that they slide, whichever way their contact looks.
CORNERED: Final = frozenset(
    {
        "box joint",
        "bridle",
        "sliding dovetail",
        "dowelled mitre",
        "half blind dovetail",
        "keyed mitre",
        "mitre",
        "splined mitre",
        "through dovetail",
    }
)
# chosen: a title names three parts at most; more are named by their letters.
_MOST_NAMES: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkPiece:
    """One feature of one copy."""

    mark: str
    index: int
    """In the copy's features."""
    feature: Feature
    into: Axis
    """Own axis along which the joint goes in: the contact's normal."""
    body: Box
    """The copy shoulder to shoulder, in its own axes."""
    grain: Axis

    @property
    def key(self) -> tuple[str, int]:
        """Mark and index, as operations name a feature."""
        return (self.mark, self.index)


@dataclass(frozen=True, kw_only=True)
class Workroom:
    """The piece's joinery, its cut plan, and the shop that it is made in."""

    joinery: Joinery
    cut_plan: CutPlan
    shop: Shop = USUAL_SHOP

    @cached_property
    def clamps_known(self) -> dict[tuple[object, ...], tuple[Clamps, ...]]:
        """Clamps of groups that have been worked out; lives as long as the room."""
        return {}

    @property
    def plan(self) -> Plan:
        """The plan."""
        return self.joinery.piece.plan

    @property
    def say(self) -> Say:
        """Wording in the plan's units."""
        return Say(self.plan.units)

    @cached_property
    def marks(self) -> tuple[str, ...]:
        """Marks of all copies, in order."""
        return tuple(sorted(self.joinery.copies, key=order_of_mark))

    @cached_property
    def units(self) -> Mapping[str, frozenset[str]]:
        """For each copy, what moves as one with it: a copy of a group, or itself alone."""
        return {mark: frozenset(unit) for unit in units_of(self.joinery.piece) for mark in unit}

    @cached_property
    def groups(self) -> Mapping[frozenset[str], GroupCopy]:
        """Copies of the plan's groups, by their marks."""
        return {frozenset(group.marks): group for group in self.joinery.piece.groups}

    @cached_property
    def labels(self) -> tuple[str, ...]:
        """Labels of all blanks, in order."""
        return tuple(sorted((blank.label for blank in self.cut_plan.blanks), key=order_of_mark))

    @cached_property
    def blanks(self) -> Mapping[str, Blank]:
        """Blanks by label."""
        return {blank.label: blank for blank in self.cut_plan.blanks}

    def blanks_of(self, mark: str) -> tuple[Blank, ...]:
        """The layers of a copy, in order; one for a plain part."""
        return self._blanks_by_copy.get(mark, ())

    @cached_property
    def _blanks_by_copy(self) -> Mapping[str, tuple[Blank, ...]]:
        held: dict[str, list[Blank]] = {}
        for blank in self.cut_plan.blanks:
            held.setdefault(blank.copy, []).append(blank)
        return {mark: tuple(sorted(own, key=lambda b: b.layer)) for mark, own in held.items()}

    def part_of(self, mark: str) -> Part:
        """The part of which a mark is a copy."""
        return self.joinery.piece.part_of(mark)

    def stock_named(self, name: str) -> Stock:
        """A line of stock by its name."""
        return self.plan.stock[name]

    def material_of(self, stock: Stock) -> Material | None:
        """What a stock is made of, where its words are known."""
        return find_material(stock.material)

    def copy(self, mark: str) -> CutCopy:
        """A copy with its features."""
        return self.joinery.copies[mark]

    def parts_among(self, marks: Iterable[str]) -> tuple[tuple[Part, tuple[str, ...]], ...]:
        """Parts with those of their copies that are among the marks, in the plan's order."""
        held: dict[str, list[str]] = {}
        for mark in sort_marks(marks):
            if mark in self.joinery.copies:
                held.setdefault(self.joinery.copies[mark].part, []).append(mark)
        order = list(self.joinery.piece.parts)
        names = sorted(held, key=order.index)
        return tuple((self.joinery.piece.parts[name], tuple(held[name])) for name in names)

    def name_copies(self, marks: Iterable[str]) -> str:
        """Copies by their parts' names, or by letters where there are many parts.

        `the legs and the seat`; `parts A to F`; `all parts`.
        """
        wanted = frozenset(marks)
        parts = self.parts_among(wanted)
        if len(parts) <= _MOST_NAMES:
            return join_words([self._name_some(part, own) for part, own in parts])
        if wanted.issuperset(self.marks):
            return "all parts"
        letters = [part.mark for part in self.joinery.piece.parts.values()]
        return f"parts {join_marks([part.mark for part, _ in parts], letters)}"

    def rough_and_final_mm(self, mark: str) -> tuple[tuple[Fraction, Fraction], ...]:
        """(rough, final) length, width and thickness of a copy once its layers are one, mm."""
        part, layers = self.part_of(mark), self.blanks_of(mark)
        length, width, thickness = own_size_mm(self.copy(mark), part)
        glued = part.stock.thickness_mm * max(1, len(layers))
        if not layers:
            return ((length, length), (width, width), (thickness, thickness))
        if layers[0].is_strip:
            rough_width = sum((own.width_mm for own in layers), start=Fraction(0))
            return (
                (layers[0].length_mm, layers[0].final_length_mm),
                (rough_width, width),
                (part.stock.thickness_mm, thickness),
            )
        return (
            (layers[0].length_mm, layers[0].final_length_mm),
            (layers[0].width_mm, layers[0].final_width_mm),
            (glued, thickness),
        )

    def is_sawn_to_size(self, mark: str) -> bool:
        """Tell whether a copy has its final sizes as soon as it is sawn out."""
        sizes = self.rough_and_final_mm(mark)
        return len(self.blanks_of(mark)) == 1 and all(rough <= final for rough, final in sizes)

    def _name_some(self, part: Part, own: tuple[str, ...]) -> str:
        """Copies of one part: `the legs`, or with marks where they are not all: `the leg (A4)`."""
        name = name_parts([(part.name, len(own))])
        is_all = len(own) == len(self.joinery.piece.copies_of(part.name))
        return name if is_all else f"{name} ({join_marks(own)})"

    def fit_between(self, mark: str, mate: str, joint: int) -> JointFit | None:
        """The joint worked out between two copies."""
        low, high = sort_marks((mark, mate))
        return self._fits.get((joint, low, high))

    @cached_property
    def _fits(self) -> Mapping[tuple[int, str, str], JointFit]:
        return {
            (fit.joint, *sort_marks((fit.contact.first, fit.contact.second))): fit  # type: ignore[misc]
            for fit in self.joinery.fits
        }

    def fits_of(self, mark: str) -> tuple[JointFit, ...]:
        """All joints of a copy."""
        return self._fits_by_copy.get(mark, ())

    @cached_property
    def _fits_by_copy(self) -> Mapping[str, tuple[JointFit, ...]]:
        held: dict[str, list[JointFit]] = {}
        for fit in self.joinery.fits:
            for mark in (fit.contact.first, fit.contact.second):
                held.setdefault(mark, []).append(fit)
        return {mark: tuple(fits) for mark, fits in held.items()}

    @cached_property
    def work(self) -> tuple[WorkPiece, ...]:
        """All features of all copies, in order of marks."""
        return tuple(piece for mark in self.marks for piece in self._work_on(mark))

    def _work_on(self, mark: str) -> Iterator[WorkPiece]:
        copy = self.joinery.piece.copies[mark]
        body = own_box(self.part_of(mark))
        for index, feature in enumerate(self.copy(mark).features):
            fit = self.fit_between(mark, feature.mate, feature.joint)
            if fit is not None:
                normal = copy.frame.inward_direction(fit.contact.frame.axes[2])
                yield WorkPiece(
                    mark=mark,
                    index=index,
                    feature=feature,
                    into=longest_axis(normal),
                    body=body,
                    grain=self.part_of(mark).grain_axis,
                )

    def work_at(self, mark: str, mate: str, joint: int) -> tuple[WorkPiece, ...]:
        """What one joint puts on one copy where it meets one mate."""
        return self._work_by_joint.get((mark, mate, joint), ())

    @cached_property
    def _work_by_joint(self) -> Mapping[tuple[str, str, int], tuple[WorkPiece, ...]]:
        held: dict[tuple[str, str, int], list[WorkPiece]] = {}
        for piece in self.work:
            key = (piece.mark, piece.feature.mate, piece.feature.joint)
            held.setdefault(key, []).append(piece)
        return {key: tuple(pieces) for key, pieces in held.items()}

    @cached_property
    def volumes_mm3(self) -> Mapping[str, float]:
        """Volume of each finished copy's blank, by mark, mm3."""
        return {mark: float(own.blank.volume_mm3) for mark, own in self.joinery.copies.items()}

    @cached_property
    def closings(self) -> tuple[tuple[str, str, frozenset[Axis]], ...]:
        """For each joint at each contact: both marks, and the axes along which it is closed.

        That is the way in which the faces look; what lies in a rebate goes in either way, and a
        corner of fingers or tails the way that it slides.
        """
        found = []
        for fit, (first, second, ways) in zip(self.joinery.fits, self.slides, strict=True):
            axes = {normal_axis(fit)}
            slid = {axis for axis in Axis if any(way[axis] for way in ways)}
            if fit.kind == "rebate":
                axes |= slid
            elif fit.kind in CORNERED:
                axes = slid
            found.append((first, second, frozenset(axes)))
        return tuple(found)

    @cached_property
    def closing_axes(self) -> Mapping[tuple[int, str, str], frozenset[Axis]]:
        """The axes along which a joint is closed, by its index and the two marks of a contact."""
        return {
            (fit.joint, first, second): axes
            for fit, (first, second, axes) in zip(self.joinery.fits, self.closings, strict=True)
        }

    @cached_property
    def slides(self) -> tuple[tuple[str, str, frozenset[Vector]], ...]:
        """How the first copy comes off the second, for each joint at each contact.

        First mark, second mark, and directions in the piece's axes.
        """
        return tuple(
            (
                fit.contact.first,
                fit.contact.second,
                frozenset(map(fit.contact.frame.outward_direction, fit.free_directions)),
            )
            for fit in self.joinery.fits
        )

    @cached_property
    def stops(self) -> Stops:
        """What stops which copy on its way straight off."""
        if self.joinery.stops is not None:
            return self.joinery.stops
        solids = {mark: placed_solid(self.joinery, mark) for mark in self.joinery.copies}
        return plan_assembly(solids, self.joinery.fits).stops

    def mass_kg(self, mark: str) -> float | None:
        """Mass of a copy, taken as a full box; None where its material is not known."""
        part = self.part_of(mark)
        material = self.material_of(part.stock)
        if material is None:
            return None
        return mass_of_mm3(self.volumes_mm3[mark], material)

    def mass_of_all_kg(self, marks: Iterable[str]) -> float | None:
        """Mass of several copies; None where any is not known."""
        masses = [self.mass_kg(mark) for mark in marks]
        known = [mass for mass in masses if mass is not None]
        return sum(known) if len(known) == len(masses) else None

    def stood_box(self, mark: str) -> Box:
        """The box round a finished copy where it stands, tenons and all, in the piece's axes."""
        return self._stood_boxes[mark]

    @cached_property
    def _stood_boxes(self) -> Mapping[str, Box]:
        return {mark: placed_box(self.joinery, mark) for mark in self.joinery.copies}

    def cornered_box(self, mark: str) -> Box:
        """The box of a finished copy whose corners are wood, in the piece's axes.

        What goes into a mate over the copy's whole section, such as the end of a shelf in its
        housing, carries the corners with it; a tenon does not.
        """
        return self._cornered_boxes[mark]

    @cached_property
    def _cornered_boxes(self) -> Mapping[str, Box]:
        return {mark: self._cornered(mark) for mark in self.joinery.copies}

    def _cornered(self, mark: str) -> Box:
        copy = self.joinery.piece.copies[mark]
        own = body = own_box(self.part_of(mark))
        for feature in self.copy(mark).features:
            if feature.adds and isinstance(feature.shape, Box) and _is_whole(feature.shape, body):
                own = own.join(feature.shape)
        return copy.frame.box_outward(own)

    def box_round(self, marks: Iterable[str]) -> Box:
        """The box round copies where they stand, tenons and all, in the piece's axes."""
        boxes = [self.stood_box(mark) for mark in marks]
        whole = boxes[0]
        for other in boxes[1:]:
            whole = whole.join(other)
        return whole


def _is_whole(added: Box, body: Box) -> bool:
    """Tell whether added wood goes on over the whole of a body's section."""
    inside = [
        axis
        for axis in Axis
        if body.low[axis] <= added.low[axis] and added.high[axis] <= body.high[axis]
    ]
    return len(inside) > 1 and all(added.size[axis] == body.size[axis] for axis in inside)


def longest_axis(direction: Vector) -> Axis:
    """The axis along which a direction points most."""
    return Axis(max(range(3), key=lambda axis: abs(float(direction[axis]))))


def normal_axis(fit: JointFit) -> Axis:
    """The axis of the piece on which the two faces of a contact look."""
    return longest_axis(fit.contact.frame.axes[2])


def mass_of_mm3(volume_mm3: float | Fraction, material: Material) -> float:
    """Mass of a volume, kg."""
    return float(volume_mm3) * float(material.density_kg_m3) / 1e9


def own_size_mm(copy: CutCopy, part: Part) -> tuple[Fraction, Fraction, Fraction]:
    """Length, width and thickness of a finished copy, tenons and all, mm."""
    size = copy.blank.size
    axes = (part.grain_axis, part.width_axis, part.thickness_axis)
    length, width, thickness = (Fraction(size[Axis(axis)]) for axis in axes)
    return (length, width, thickness)
