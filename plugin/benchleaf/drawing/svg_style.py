"""The style sheet of drawings: line widths, patterns and colours by role, light and dark.

Takes nothing but a scope, gives CSS text. One user unit is one printed millimetre. Must not know
scenes: a role's value is its class.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from benchleaf.drawing.scene import Role

ROOT_CLASS: Final = "benchleaf-drawing"

# ISO 128-2:2020 line widths, ratio 2:1; chosen: the pair 0.5/0.25 mm for A4 and Letter.
WIDE_MM: Final = 0.5
NARROW_MM: Final = 0.25
# ISO 128-2:2020 series; chosen: between the two, so that a saw cut stands out from both.
MEDIUM_MM: Final = 0.35
# chosen: the series' least that prints surely; hatching is to lie behind everything.
HATCH_MM: Final = 0.18

# ISO 128-2 (from memory) counts dashes in line widths d: dash 12d, gap 3d; at 0.25 mm 3 and 0.75.
# chosen: 2 and 0.6, for the small features of a part on a small sheet show more than one dash.
_DASHED: Final = "2 .6"
# ISO 128-2 (from memory): long dash 24d, gap 3d, dot 0.5d; chosen: shortened in like measure.
_LONG_DASH_DOT: Final = "5 .6 .3 .6"
# The same with a second dot.
_LONG_DASH_DOUBLE_DOT: Final = "5 .6 .3 .6 .3 .6"
# chosen: short dashes, unlike every ISO line type on the sheet, for the way a part travels.
_TRAIL: Final = "1 1"

# chosen: faces with the metrics that `text_metrics` measures by, then whatever there is.
FONT_STACK: Final = "Liberation Sans,Arimo,Arial,Helvetica,Nimbus Sans,sans-serif"


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """Colours of one appearance, as CSS."""

    ink: str
    """Visible edges and text."""
    paper: str
    measure: str
    """Dimensions, leaders, centre lines, trails."""
    soft: str
    """Hidden and adjacent edges, hatching."""
    cut: str
    tones: tuple[str, str, str, str, str, str]
    """Faces of wood, lightest to darkest."""


# chosen: all lines are darker than #949494 on white (3:1, WCAG 1.4.11), text 7:1 and more;
# colour is extra, since line type and hatch carry the meaning in black and white.
LIGHT: Final = Palette(
    ink="#111",
    paper="#fff",
    measure="#1b3a6b",
    soft="#4a4a4a",
    cut="#9a1b1b",
    tones=("#fffdf8", "#f6f0e3", "#e9dfca", "#d8caac", "#c0ae88", "#a08d66"),
)
# chosen: paper near the dark ground of the documented theme, inks light enough for 4.5:1 on it.
DARK: Final = Palette(
    ink="#f2f2f2",
    paper="#1e2129",
    measure="#a9c7ff",
    soft="#c3c7d0",
    cut="#ff9d8c",
    tones=("#5f6168", "#54565c", "#494b51", "#3e4046", "#34363b", "#2a2c31"),
)

_STROKES: Final = {
    Role.OUTLINE: ("ink", WIDE_MM, ""),
    Role.FINE: ("ink", NARROW_MM, ""),
    Role.HIDDEN: ("soft", NARROW_MM, _DASHED),
    Role.CENTRE: ("measure", NARROW_MM, _LONG_DASH_DOT),
    Role.DIMENSION: ("measure", NARROW_MM, ""),
    Role.LEADER: ("measure", NARROW_MM, ""),
    Role.CUT: ("cut", MEDIUM_MM, ""),
    Role.GHOST: ("soft", NARROW_MM, _LONG_DASH_DOUBLE_DOT),
    Role.WASTE: ("soft", NARROW_MM, ""),
    Role.PART: ("ink", MEDIUM_MM, ""),
    Role.PAPER: ("paper", NARROW_MM, ""),
    Role.TRAIL: ("measure", NARROW_MM, _TRAIL),
    Role.MARK: ("ink", NARROW_MM, ""),
    Role.NOTE: ("ink", NARROW_MM, ""),
    Role.TITLE: ("ink", WIDE_MM, ""),
}
"""Role to colour name, width in mm and dash pattern."""

_SOLID_ROLES: Final = (Role.OUTLINE, Role.DIMENSION, Role.LEADER, Role.CUT, Role.CENTRE, Role.NOTE)
"""Roles whose filled marks are filled with their own ink; others are filled with paper."""


def ink_of(role: Role) -> str:
    """Class that fills text and arrowheads of a role."""
    return f"fill-{_STROKES[role][0]}"


def filling_of(role: Role) -> str:
    """Class that fills areas and dots of a role."""
    return ink_of(role) if role in _SOLID_ROLES else "fill-paper"


def drawing_css(scope: str = f".{ROOT_CLASS} ") -> str:
    """Write the rules that hold in every appearance, and the light colours.

    Args:
        scope: Selector put before that of every rule; empty in a drawing's own file.
    """
    fixed = [
        f"{scope or 'svg '}*{{fill:none;stroke-linecap:round;stroke-linejoin:round}}",
        f"{scope}text{{font-family:{FONT_STACK};text-anchor:middle}}",
        f"{scope}.start{{text-anchor:start}}",
        f"{scope}.end{{text-anchor:end}}",
        # chosen: 0.9 mm of halo clears 0.45 mm each side, a wide line's half and a little.
        f"{scope}.halo{{paint-order:stroke;stroke-width:.9px}}",
        f"{scope}.hatch{{stroke-width:{_number(HATCH_MM)}px}}",
        *(_width_rule(scope, role) for role in Role),
    ]
    return "\n".join([*fixed, _colour_rules(scope, LIGHT)])


def dark_css(scope: str) -> str:
    """Write the colours of the dark appearance.

    Args:
        scope: Selector put before that of every rule, such as
            `[data-md-color-scheme=slate] .benchleaf-drawing `.
    """
    return _colour_rules(scope, DARK)


def file_css() -> str:
    """Write the style sheet that a drawing's own file carries."""
    return f"{drawing_css('')}\n@media (prefers-color-scheme:dark){{\n{dark_css('')}\n}}"


def _width_rule(scope: str, role: Role) -> str:
    _, width, dashes = _STROKES[role]
    # A dash with round caps closes its gaps: dashed lines are cut square.
    dashed = f";stroke-dasharray:{dashes};stroke-linecap:butt" if dashes else ""
    return f"{scope}.{role}{{stroke-width:{_number(width)}px{dashed}}}"


def _colour_rules(scope: str, palette: Palette) -> str:
    rules = []
    for colour in ("ink", "paper", "measure", "soft", "cut"):
        value = getattr(palette, colour)
        strokes = [f"{scope}.{role}" for role in Role if _STROKES[role][0] == colour]
        rules.append(f"{','.join(strokes)}{{stroke:{value}}}")
        rules.append(f"{scope}.fill-{colour}{{fill:{value}}}")
    rules += [f"{scope}.tone{i}{{fill:{tone}}}" for i, tone in enumerate(palette.tones)]
    rules.append(f"{scope}.hatch{{stroke:{palette.soft}}}")
    rules.append(f"{scope}.halo{{stroke:{palette.paper}}}")
    return "\n".join(rules)


def _number(value: float) -> str:
    return f"{value:g}".removeprefix("0")
