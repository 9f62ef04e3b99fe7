"""The table of numbers that some copies are set out by, for the pages of joints and of steps.

Takes worked joints, gives a table. Must not know templates.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.joinery.records import JointFit
from benchleaf.site.show import show_marks
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Column, Table, write_row


def list_setting_out(
    sound: SoundPlan, fits: tuple[JointFit, ...], *, copies: set[str]
) -> Table | None:
    """The numbers to set out by on some copies; copies that are set out alike share a row."""
    marks_by_number: dict[tuple[str, str, Fraction, str], dict[str, None]] = {}
    for fit in fits:
        for item in fit.setting_out:
            if item.copy in copies:
                number = (item.what, item.reference, item.distance_mm, item.spacer)
                marks_by_number.setdefault(number, {})[item.copy] = None
    if not marks_by_number:
        return None
    rows = tuple(
        write_row("", show_marks(marks), what, sound.show.length(distance_mm), reference, spacer)
        for (what, reference, distance_mm, spacer), marks in marks_by_number.items()
    )
    columns = (
        Column("Done", "tick"),
        Column("Mark", "mark"),
        Column("Set out"),
        Column("At", "number"),
        Column("From"),
        Column("Set with"),
    )
    caption = f"Setting out, in {sound.show.unit_word}"
    return Table(caption=caption, columns=columns, rows=rows).without_empty_columns()
