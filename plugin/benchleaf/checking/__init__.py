"""Checking: whether the parts, with all that joints do to them, can stand where they are placed.

Takes the Joinery, gives findings K2xx. `CHECKS` is the table: one module each; adding a check is a
module and a row here. Must not know cutting, order of work or drawings.
"""

from __future__ import annotations

from types import MappingProxyType

from benchleaf.checking import (
    collisions,
    crossings,
    empty_joints,
    fasteners,
    hanging,
    loose_contacts,
    meeting_holes,
    overall,
    short_parts,
    thin_walls,
)
from benchleaf.checking.records import Check
from benchleaf.findings import Finding, sort_findings
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
)

CHECKS = MappingProxyType({check.code: check for check in _TABLE})
"""Checks by code, sorted."""


def check_piece(joinery: Joinery) -> tuple[Finding, ...]:
    """Run every check on a piece; findings K2xx, sorted by place."""
    return sort_findings(finding for check in CHECKS.values() for finding in check.run(joinery))
