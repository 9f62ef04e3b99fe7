"""What kinds that cut a face to a line have in common: the way it is seen, and its cut.

Takes a part on the bench and a line, gives the cut. Knows no single kind.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.frames import FACES, Axis
from benchleaf.reading.vocabulary import Option, OptionType
from benchleaf.shaping.bench import Workpiece
from benchleaf.shaping.drawing_out import across, crossing_axis, on_face
from benchleaf.shaping.edge_work import showing_face
from benchleaf.shaping.records import FaceLine, Shaped, ShapedCut, Told

SEEN_FROM = Option(
    name="seen from",
    type=OptionType.CHOICE,
    choices=tuple(FACES),
    help="The face that shows its line; a broad face when left out.",
)


def line_axis(work: Workpiece) -> Axis:
    """The axis along which a face is cut to a line: square to the way that it is seen."""
    face = FACES[work.face][0]
    part = work.part
    usual = part.thickness_axis if part.thickness_axis is not face else part.width_axis
    named = work.word("seen from", "")
    seen = FACES[named][0] if named else usual
    if seen is face:
        raise work.refuse(
            "F107",
            f"a line on the {work.face} face cannot be seen from `{named}`",
            "Needed: a face beside it.",
            option="seen from",
        )
    return Axis(3 - face - seen)


def cut_to_line(
    work: Workpiece, line: FaceLine, told: Told, *, has_template: bool = True
) -> Shaped:
    """The cut of a face to a line.

    Args:
        work: The part.
        line: Where the face is cut to.
        told: Its sizes and where it is set out.
        has_template: Whether it is a curve that wants a template.
    """
    cut = ShapedCut(
        kind=work.chosen.kind,
        index=work.chosen.index,
        role=told.role,
        form=across(line, work.body),
        keeps=False,
        face=showing_face(crossing_axis(line)),
        sizes=told.sizes,
        places=told.places,
        worked=line.face,
        template=on_face(line, work.body) if has_template else None,
        points=told.points,
    )
    return Shaped(cuts=(cut,), lines=(line,))


def inset_place(work: Workpiece, face: str, inset: Fraction) -> tuple[Axis, Fraction]:
    """A place as far in from a face, along own axes."""
    axis, is_high = FACES[face]
    return axis, (work.extent(axis) - inset if is_high else inset)
