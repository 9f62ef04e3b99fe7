"""From a solved plan to the placed piece: copies with marks and frames, and where they touch.

Takes the Plan, gives the Piece. Knows no joint family: a joint's contacts are those between copies
of the two parts that it names.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from string import ascii_uppercase

from benchleaf.findings import Finding
from benchleaf.frames import Axis, Box, Frame, Vector
from benchleaf.piece.contacts import find_contacts, turn_contact
from benchleaf.piece.records import ChosenJoint, Contact, Copy, Part, Piece
from benchleaf.piece.solved import SolvedJoint, SolvedPart, SolvedPlan
from benchleaf.piece.solving import solve_sizes
from benchleaf.reading.plan import Plan


def place_parts(plan: Plan) -> tuple[Piece | None, tuple[Finding, ...]]:
    """Work out all sizes, make the copies, and find where they touch.

    Args:
        plan: The plan as read.

    Returns:
        The piece, or None where a size cannot be worked out, and findings P0xx.
    """
    solved, findings = solve_sizes(plan)
    if solved is None:
        return None, findings
    return place_solved(solved), findings


def place_solved(solved: SolvedPlan) -> Piece:
    """Make the copies of a solved plan and find where they touch."""
    parts = {
        part.name: _part(part, mark, solved)
        for part, mark in zip(solved.parts.values(), _letters(), strict=False)
    }
    copies = tuple(
        copy
        for part in solved.parts.values()
        for copy in _copies(part, parts[part.name].mark, solved.overall)
    )
    contacts = find_contacts(copies)
    named = {copy.mark: copy.part for copy in copies}
    joints = tuple(_choose(joint, contacts, named) for joint in solved.joints)
    return Piece(
        plan=solved.plan,
        overall=solved.overall,
        sizes=solved.sizes,
        parts=parts,
        copies={copy.mark: copy for copy in copies},
        joints=joints,
        loose_contacts=_loose(contacts, named, solved.joints),
    )


def _letters() -> Iterator[str]:
    """Marks for parts: A to Z, then AA, AB...

    O and I are kept: marks are written with a number behind them where it matters.
    """
    yield from ascii_uppercase
    for first, second in product(ascii_uppercase, repeat=2):
        yield first + second


def _part(part: SolvedPart, mark: str, solved: SolvedPlan) -> Part:
    return Part(
        name=part.name,
        mark=mark,
        stock=solved.plan.stock[part.stock],
        layers=part.layers,
        box=part.box,
        thickness_axis=part.thickness_axis,
        grain_axis=part.grain_axis,
        allowance_mm=part.allowance_mm,
        note=solved.plan.parts[part.name].note,
        shaping=part.shaping,
    )


def _copies(part: SolvedPart, letter: str, overall: Box) -> Iterator[Copy]:
    alone = part.copy_count == 1
    for number, (box, flipped) in enumerate(_boxes(part, overall), start=1):
        yield Copy(
            mark=letter if alone else f"{letter}{number}",
            part=part.name,
            frame=_frame(box, flipped),
            box=box,
        )


def _boxes(part: SolvedPart, overall: Box) -> Iterator[tuple[Box, frozenset[Axis]]]:
    """Where each copy stands and across which axes it is mirrored: the row first, then mirrored."""
    for turned in product((False, True), repeat=len(part.mirror)):
        axes = frozenset(
            axis for axis, is_over in zip(reversed(part.mirror), turned, strict=True) if is_over
        )
        for offset in part.row_offsets_mm:
            box = part.box if part.row_axis is None else _slide(part.box, part.row_axis, offset)
            for axis in axes:
                box = _mirror(box, axis, overall)
            yield box, axes


def _slide(box: Box, axis: Axis, by: object) -> Box:
    step = tuple(by if index == axis else 0 for index in Axis)
    low = tuple(a + b for a, b in zip(box.low, step, strict=True))  # type: ignore[operator]
    high = tuple(a + b for a, b in zip(box.high, step, strict=True))  # type: ignore[operator]
    return Box(low, high)  # type: ignore[arg-type]


def _mirror(box: Box, axis: Axis, overall: Box) -> Box:
    total = overall.low[axis] + overall.high[axis]
    low, high = list(box.low), list(box.high)
    low[axis], high[axis] = total - box.high[axis], total - box.low[axis]
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _frame(box: Box, flipped: frozenset[Axis]) -> Frame:
    signs = [-1 if axis in flipped else 1 for axis in Axis]
    origin = [box.high[axis] if axis in flipped else box.low[axis] for axis in Axis]
    units: list[Vector] = [(signs[0], 0, 0), (0, signs[1], 0), (0, 0, signs[2])]
    return Frame((origin[0], origin[1], origin[2]), (units[0], units[1], units[2]))


def _choose(
    joint: SolvedJoint, contacts: Sequence[Contact], named: Mapping[str, str]
) -> ChosenJoint:
    return ChosenJoint(
        index=joint.index,
        kind=joint.kind,
        first=joint.first,
        second=joint.second,
        choices=joint.choices,
        note=joint.note,
        contacts=tuple(_contacts_of(joint, contacts, named)),
    )


def _contacts_of(
    joint: SolvedJoint, contacts: Sequence[Contact], named: Mapping[str, str]
) -> Iterator[Contact]:
    pair = (joint.first, joint.second)
    for contact in contacts:
        parts = (named[contact.first], named[contact.second])
        if parts == pair:
            yield contact
        elif parts == pair[::-1]:
            yield turn_contact(contact)


def _loose(
    contacts: Sequence[Contact], named: Mapping[str, str], joints: Sequence[SolvedJoint]
) -> tuple[Contact, ...]:
    pairs = {frozenset((joint.first, joint.second)) for joint in joints}
    return tuple(
        contact
        for contact in contacts
        if frozenset((named[contact.first], named[contact.second])) not in pairs
    )
