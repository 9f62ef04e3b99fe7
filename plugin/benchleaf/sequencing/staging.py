"""Stages: what is closed before more is put on, as glue and screws ask for.

Takes members in the order in which they come together, gives one group that holds its stages. Must
not know how the order was found.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Final

from benchleaf.frames import Axis
from benchleaf.sequencing.glues import find_glue, joints_in_time
from benchleaf.sequencing.groups import Group, fits_between, part_names, put_together
from benchleaf.sequencing.workroom import Workroom

PANELLED: Final = "frame and panel"
"""The joint of a panel that stands loose in its frame."""


def put_in_stages(order: Sequence[Group], axis: Axis | None, room: Workroom) -> Group:
    """Put members together in as many stages as glue and screws ask for.

    Copies of one part that follow one another are put on in one stage, where that is in time.
    """
    current = order[0]
    waiting: list[Group] = []
    for _, run in groupby(order[1:], key=lambda member: part_names(member, room)):
        alike = list(run)
        while alike:
            count = _count_in_time([current, *waiting], alike, room)
            if count == 0:
                current, waiting = put_together([current, *waiting], axis, room), []
                continue
            waiting, alike = [*waiting, *alike[:count]], alike[count:]
    return put_together([current, *waiting], axis, room) if waiting else current


def _count_in_time(stage: Sequence[Group], alike: Sequence[Group], room: Workroom) -> int:
    """How many of a run go on in a stage: all, if a stage of their own would hold them all."""
    if _fits(stage, alike, room):
        return len(alike)
    is_fresh = len(stage) == 1
    if not is_fresh and _fits([put_together(stage, None, room)], alike, room):
        return 0
    counts = range(len(alike) - 1, 0, -1)
    return next((n for n in counts if _fits(stage, alike[:n], room)), int(is_fresh))


def _fits(stage: Sequence[Group], alike: Sequence[Group], room: Workroom) -> bool:
    """Tell whether some may be put on in the same stage as what waits already."""
    before = fits_between(stage, room)
    after = fits_between([*stage, *alike], room)
    added = [fit for fit in after if fit not in before]
    most = joints_in_time(find_glue(room.plan.shop.glue))
    in_time = sum(fit.is_glued for fit in after) <= most
    if not before or not added:
        # They only stand beside one another until now.
        return in_time
    if all(fit.kind == PANELLED and not fit.is_glued for fit in after):
        # A panel and its rails are held together by what comes on next: they are one stage.
        return True
    is_glued = any(fit.is_glued for fit in before)
    if is_glued != any(fit.is_glued for fit in added):
        return False
    # Without glue there is no hurry: each part's copies are a stage of their own.
    return is_glued and in_time
