"""Arc: a face is cut to the arc of a circle, hollow as under an apron or crowned as on a rail.

Dimensions:
    chord: straight across the arc; the whole face when left out. Source: the plan.
    rise: height of the arc above its chord. Source: the plan.
    radius: (chord2 / 4 + rise2) / (2 rise). Source: the circle through three points (Euclid
        III.35).

Limits:
    The rise is at most half the chord, and less than the part is deep there. A crown spans its
    whole face.

Tools:
    A full-size template or a bent batten to mark it, a bandsaw or jigsaw to the line, a spokeshave,
    file and sandpaper.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.frames import FACES, Axis
from benchleaf.outlines import arc_over
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece, sizes
from benchleaf.shaping.face_work import SEEN_FROM, cut_to_line, inset_place, line_axis
from benchleaf.shaping.records import FaceLine, Shaped, ShapingKind, Told

_HOLLOW, _CROWNED = "hollow", "crowned"


def shape_arc(work: Workpiece) -> Shaped:
    """Cut the face named to an arc."""
    along = line_axis(work)
    is_crown = work.word("form", _HOLLOW) == _CROWNED
    chord, middle = _place(work, along)
    rise = _rise(work, chord)
    if is_crown and chord != work.extent(along):
        message = f"a crown {work.show(chord)} wide ends in steps: its face is longer"
        needed = f"Needed: `chord: {work.show(work.extent(along))}`, or none."
        raise work.refuse("F106", message, needed, option="chord")
    base = rise if is_crown else Fraction(0)
    start, end = (middle - chord / 2, base), (middle + chord / 2, base)
    line = FaceLine(work.face, along, start, (arc_over(start, end, -rise if is_crown else rise),))
    radius = (chord * chord / 4 + rise * rise) / (2 * rise)
    ends = ((along, at) for at in (start[0], end[0]) if 0 < at < work.extent(along))
    return cut_to_line(
        work,
        line,
        Told(
            role="crown" if is_crown else "arc",
            sizes=sizes(chord=chord, rise=rise, radius=radius),
            places=(*ends, inset_place(work, work.face, rise)),
        ),
    )


def _place(work: Workpiece, along: Axis) -> tuple[Fraction, Fraction]:
    """Chord, and where its middle lies along the face."""
    whole = work.extent(along)
    chord = work.length("chord") or whole
    middle = work.distance("centre")
    if middle is None:
        middle = whole / 2
    if middle - chord / 2 < 0 or middle + chord / 2 > whole:
        message = (
            f"the chord lies from {work.show(middle - chord / 2)} to "
            f"{work.show(middle + chord / 2)} along a face that is {work.show(whole)} long"
        )
        option = "centre" if work.distance("centre") is not None else "chord"
        raise work.refuse("F102", message, f"Needed: within 0 and {work.show(whole)}.",
                          option=option)  # fmt: skip
    return chord, middle


def _rise(work: Workpiece, chord: Fraction) -> Fraction:
    rise = work.length("rise")
    if rise is None:
        raise work.refuse("F109", "nothing says how high the arc is", "Needed: `rise`, a height.")
    axis = FACES[work.face][0]
    if rise >= work.extent(axis):
        message = f"a rise of {work.show(rise)} leaves nothing of {work.show(work.extent(axis))}"
        needed = f"Needed: less than {work.show(work.extent(axis))}."
        raise work.refuse("F103", message, needed, option="rise")
    if 2 * rise > chord:
        message = f"a rise of {work.show(rise)} is more than half of the chord {work.show(chord)}"
        needed = f"Needed: at most {work.show(chord / 2)}, half a circle."
        raise work.refuse("F105", message, needed, option="rise")
    return rise


KIND = ShapingKind(
    code="arc",
    title="Arc",
    words=ShapingWords(
        code="arc",
        takes=PlaceType.FACE,
        place="the face that is cut to it, such as the bottom of an apron",
        options=(
            Option(name="rise", type=OptionType.LENGTH, help="Height of the arc over its chord."),
            Option(
                name="chord",
                type=OptionType.LENGTH,
                help="Straight across the arc; the whole face when left out.",
            ),
            Option(
                name="centre",
                type=OptionType.LENGTH,
                help="Where the chord's middle lies along the face, from the left, front or "
                "bottom; the middle when left out.",
            ),
            Option(
                name="form",
                type=OptionType.CHOICE,
                choices=(_HOLLOW, _CROWNED),
                help="`hollow` cuts into the face, `crowned` leaves its middle standing; hollow "
                "when left out.",
            ),
            SEEN_FROM,
        ),
        help="A face is cut to the arc of a circle, by chord and rise.",
    ),
    shape=shape_arc,
)
