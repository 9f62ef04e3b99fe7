"""Checking: whether the parts, with all that joints do to them, can stand where they are placed.

Takes the Joinery, gives workings and findings K2xx. `CHECKS` is the table: one module each; adding
a check is a module and a row here. Must not know cutting, order of work or drawings.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from benchleaf.checking import (
    bolts,
    breaking,
    collisions,
    crossings,
    empty_joints,
    fasteners,
    hanging,
    holding,
    loose_contacts,
    meeting_holes,
    movement,
    moving_room,
    overall,
    panels_in_grooves,
    racking,
    sagging,
    screw_edges,
    short_parts,
    thin_walls,
    tipping,
)
from benchleaf.checking.records import Check, Voice, Working
from benchleaf.checking.survey import Survey, take_survey
from benchleaf.checking.weights import reckon_weights
from benchleaf.findings import Finding, has_errors, sort_findings
from benchleaf.joinery.records import Joinery

_TABLE: tuple[Check, ...] = (
    crossings.CHECK,
    collisions.CHECK,
    loose_contacts.CHECK,
    empty_joints.CHECK,
    hanging.CHECK,
    thin_walls.CHECK,
    meeting_holes.CHECK,
    fasteners.CHECK,
    overall.CHECK,
    short_parts.CHECK,
    sagging.CHECK,
    breaking.CHECK,
    movement.CHECK,
    tipping.CHECK,
    holding.CHECK,
    racking.CHECK,
    screw_edges.CHECK,
    panels_in_grooves.CHECK,
    bolts.CHECK,
    moving_room.CHECK,
)

CHECKS = MappingProxyType({check.code: check for check in _TABLE})
"""Checks by code, sorted."""


def check_piece(joinery: Joinery) -> tuple[Finding, ...]:
    """Run every check on a piece; findings K2xx, sorted by place."""
    return study_piece(joinery)[1]


def reckon_piece(joinery: Joinery) -> tuple[Working, ...]:
    """Work out weight, bending, standing, movement and screws of a piece, topic by topic."""
    return study_piece(joinery)[0]


def study_piece(joinery: Joinery) -> tuple[tuple[Working, ...], tuple[Finding, ...]]:
    """Run every check on a piece, and keep the workings.

    Returns:
        Workings, those of one topic together, and findings K2xx, sorted by place. What is wrong
        with the joints comes first: nothing is reckoned of a piece that does not go together.
    """
    looked = [finding for check in CHECKS.values() if check.run for finding in check.run(joinery)]
    if has_errors(looked):
        return (), sort_findings(looked)
    survey = take_survey(joinery)
    workings = tuple(_reckon(survey))
    judged = (Voice(joinery.piece, working.code).judge(working) for working in workings)
    return workings, sort_findings([*looked, *filter(None, judged)])


def _reckon(survey: Survey) -> Iterator[Working]:
    yield from reckon_weights(survey)
    for check in CHECKS.values():
        if check.reckon:
            yield from check.reckon(survey)
