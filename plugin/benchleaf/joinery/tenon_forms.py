"""What the further forms of mortise and tenon share: the plain joint that each of them starts from.

Takes a Marking, gives the plain joint worked out, and its tenon in the contact's frame. Knows no
single further form.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Axis, Box
from benchleaf.joinery.marking import CannotJoinError, Marking
from benchleaf.joinery.mortise_and_tenon import KIND as PLAIN
from benchleaf.joinery.records import Feature, JointFit
from benchleaf.piece.records import Choice
from benchleaf.reading.vocabulary import Option


def plain_tenon(marking: Marking, **settled: Choice) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work the plain mortise and tenon out that a further form starts from.

    Args:
        marking: The joint, with the options of a mortise and tenon among its own.
        settled: Options that the form settles, whatever the author chose.
    """
    chosen = replace(marking.chosen, choices={**marking.chosen.choices, **settled})
    fit, said = PLAIN.fit(chosen, marking.contact, marking.bench)
    if fit is None:
        raise CannotJoinError(said[0] if said else None)
    return fit, said


def plain_options(*left_out: str) -> tuple[Option, ...]:
    """The options of a mortise and tenon, but those that a form settles.

    The further forms are made square, in a mortise: which way a tenon leans is no choice of
    theirs, nor is a stub.
    """
    without = {*left_out, "stub", "tenon"}
    return tuple(own for own in PLAIN.words.options if own.name not in without)


def block_of(features: Iterable[Feature], role: str) -> Box:
    """The box of the one feature with a role."""
    (shape,) = (f.shape for f in features if f.role == role)
    assert isinstance(shape, Box)  # noqa: S101 - a plain tenon and its mortise are boxes
    return shape


def extent(box: Box, axis: int) -> Fraction:
    """A box's size along an axis of the contact, mm."""
    return Fraction(box.size[axis])


def looks_outward(marking: Marking, mark: str, axis: int) -> bool:
    """Tell whether a copy's high side along a contact axis looks away from the piece's middle."""
    overall, box = marking.bench.piece.overall, marking.box_of(mark)
    middle = tuple((overall.low[own] + overall.high[own]) / 2 for own in Axis)
    at = marking.contact.frame.inward((middle[0], middle[1], middle[2]))[axis]
    return at < (box.low[axis] + box.high[axis]) / 2
