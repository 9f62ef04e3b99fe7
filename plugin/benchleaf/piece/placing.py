"""From a solved plan to the placed piece: copies with marks and frames, and where they touch.

Takes the Plan, gives the Piece. Knows no joint family: a joint's contacts are those between copies
of the two parts that it names.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import product
from string import ascii_uppercase

from benchleaf.findings import Finding, has_errors, sort_findings
from benchleaf.frames import Axis, Box, Frame, Vector
from benchleaf.piece.contacts import find_contacts, turn_contact
from benchleaf.piece.records import ChosenJoint, Contact, Copy, GroupCopy, Part, Piece
from benchleaf.piece.solved import SolvedGroup, SolvedJoint, SolvedPart, SolvedPlan
from benchleaf.piece.solving import solve_sizes
from benchleaf.piece.trimming import Stood, box_round_body, find_outside, stand_parts
from benchleaf.piece.turning import copied_frame, square_frame
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
    stood, said = stand_parts(solved)
    findings = sort_findings((*findings, *said))
    if has_errors(said):
        return None, findings
    piece = _place(solved, stood)
    return piece, sort_findings((*findings, *find_outside(piece, stood)))


def place_solved(solved: SolvedPlan) -> Piece:
    """Make the copies of a solved plan and find where they touch."""
    return _place(solved, stand_parts(solved)[0])


def _place(solved: SolvedPlan, stood: Mapping[str, Stood]) -> Piece:
    parts = {
        part.name: _part(stood[part.name], mark, solved)
        for part, mark in zip(solved.parts.values(), _letters(), strict=False)
    }
    copies = tuple(
        copy for name, part in parts.items() for copy in _copies(stood[name], part.mark, solved)
    )
    bodies = {name: one.body for name, one in stood.items() if not one.is_plain}
    contacts = find_contacts(copies, bodies)
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
        groups=tuple(
            copy
            for group in solved.groups.values()
            for copy in _group_copies(group, solved, copies)
        ),
    )


def _letters() -> Iterator[str]:
    """Marks for parts: A to Z, then AA, AB...

    O and I are kept: marks are written with a number behind them where it matters.
    """
    yield from ascii_uppercase
    for first, second in product(ascii_uppercase, repeat=2):
        yield first + second


def _part(stood: Stood, mark: str, solved: SolvedPlan) -> Part:
    part = stood.part
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
        trims=stood.trims,
    )


def _copies(stood: Stood, letter: str, solved: SolvedPlan) -> Iterator[Copy]:
    frames = list(_frames(stood, solved))
    for number, frame in enumerate(frames, start=1):
        yield Copy(
            mark=letter if len(frames) == 1 else f"{letter}{number}",
            part=stood.part.name,
            frame=frame,
            box=box_round_body(stood, frame),
        )


def _frames(stood: Stood, solved: SolvedPlan) -> Iterator[Frame]:
    """The frames of all copies; those in one copy of a group before those in the next."""
    part = stood.part
    around = solved.box_round(part)
    inside = [
        copied_frame(stood.frame, around, slid=slid, flipped=flipped)
        for slid, flipped in _places(part)
    ]
    if not part.group:
        yield from inside
        return
    for slid, flipped in _places(solved.groups[part.group]):
        for frame in inside:
            yield copied_frame(frame, solved.overall, slid=slid, flipped=flipped)


def _places(part: SolvedPart | SolvedGroup) -> Iterator[tuple[Vector, frozenset[Axis]]]:
    """How far each copy is slid and across which axes it is mirrored: the row first."""
    for turned in product((False, True), repeat=len(part.mirror)):
        axes = frozenset(
            axis for axis, is_over in zip(reversed(part.mirror), turned, strict=True) if is_over
        )
        for offset in part.row_offsets_mm:
            slid = [offset if axis == part.row_axis else Fraction(0) for axis in Axis]
            yield (slid[0], slid[1], slid[2]), axes


def _group_copies(
    group: SolvedGroup, solved: SolvedPlan, copies: Sequence[Copy]
) -> Iterator[GroupCopy]:
    places = list(_places(group))
    for index, (slid, flipped) in enumerate(places):
        frame = copied_frame(square_frame(group.box), solved.overall, slid=slid, flipped=flipped)
        yield GroupCopy(
            group=group.name,
            number=index + 1,
            count=len(places),
            box=frame.box_outward(Box((Fraction(0),) * 3, group.box.size)),
            marks=tuple(
                mark
                for name in group.parts
                for mark in _share([own.mark for own in copies if own.part == name], index, places)
            ),
        )


def _share(marks: Sequence[str], index: int, places: Sequence[object]) -> Sequence[str]:
    """Those of a part's copies that are in one copy of its group."""
    each = len(marks) // len(places)
    return marks[index * each : (index + 1) * each]


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
