"""The drawings of the whole piece: where they are shown, and under what heading.

Takes a `SoundPlan`; gives sections of pages.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from benchleaf.site.records import Figure, Section
from benchleaf.site.show import show_marks
from benchleaf.site.views.sound import SoundPlan, marks_of


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureView:
    """Context of `picture.html`."""

    figure: Figure
    kind: str
    """`drawing`, with figures in it; `whole`, a picture that takes a sheet of paper."""
    parts: tuple[tuple[str, str, str], ...]
    """(marks, part, key of its sheet) of what is marked on the picture."""


def show_overall_sizes(sound: SoundPlan, *, is_printed: bool) -> Iterator[Section]:
    """The general arrangement, as far as there is one.

    The overview shows it on a screen; on paper it stands below the parts list, as on a drawing board.
    """
    figure = sound.figures.get("arrangement")
    if figure:
        yield Section(
            heading="Overall sizes",
            anchor="arrangement",
            template="picture.html",
            view=PictureView(figure=figure, kind="drawing", parts=()),
            is_printed=is_printed,
        )


def show_exploded(sound: SoundPlan) -> Iterator[Section]:
    """The piece taken apart, as far as it is drawn, with what its marks stand for."""
    figure = sound.figures.get("exploded")
    if figure:
        yield Section(
            heading="How it goes together",
            anchor="exploded",
            template="picture.html",
            view=PictureView(figure=figure, kind="whole", parts=_list_marks(sound)),
        )


def _list_marks(sound: SoundPlan) -> tuple[tuple[str, str, str], ...]:
    return tuple(
        (show_marks(marks_of(shape)), shape.name, sound.shape_keys[shape.name])
        for shape in sound.joinery.shapes
    )
