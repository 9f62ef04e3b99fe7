"""The kinds of operation, and the planners that plan them, in the usual order of work.

`PLANNERS` is the table: one module each; adding one is a module and a row here. Its order decides
what is done first where nothing else does.
"""

from __future__ import annotations

from types import MappingProxyType

from benchleaf.sequencing.drafting import OperationKind, Planner
from benchleaf.sequencing.kinds import (
    assembling,
    bolting,
    box_joints,
    bridles,
    dovetails,
    finishing,
    grooves,
    hanging,
    holes,
    laps,
    layers,
    mitring,
    mortises,
    notches,
    panel_frames,
    panels,
    round_tenons,
    sanding,
    sawing,
    setting_out,
    shaping,
    shoulders,
    slanting,
    slanting_tenons,
    sliding_dovetails,
    tenon_forms,
    tenons,
    tongues,
    trimming,
    truing,
)

PLANNERS: tuple[Planner, ...] = (
    sawing.PLANNER,
    layers.PLANNER,
    panels.PLANNER,
    truing.PLANNER,
    trimming.PLANNER,
    setting_out.PLANNER,
    grooves.PLANNER,
    panel_frames.PLANNER,
    sliding_dovetails.PLANNER,
    tongues.PLANNER,
    mortises.PLANNER,
    shoulders.PLANNER,
    tenons.PLANNER,
    slanting_tenons.PLANNER,
    tenon_forms.PLANNER,
    laps.PLANNER,
    mitring.PLANNER,
    box_joints.PLANNER,
    dovetails.PLANNER,
    bridles.PLANNER,
    notches.PLANNER,
    holes.PLANNER,
    round_tenons.PLANNER,
    bolting.PLANNER,
    slanting.PLANNER,
    hanging.PLANNER,
    shaping.PLANNER,
    sanding.PLANNER,
    assembling.PLANNER,
    finishing.PLANNER,
)

OPERATION_KINDS: MappingProxyType[str, OperationKind] = MappingProxyType(
    {kind.code: kind for planner in PLANNERS for kind in planner.kinds}
)
"""Kinds by code, in the usual order of work."""
