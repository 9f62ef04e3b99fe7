"""SVG: well-formed, safe, the same every time, legible in every appearance."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from benchleaf.drawing.scene import Area, Circle, Line, Mark, Role, Scene, Text
from benchleaf.drawing.svg import write_svg
from benchleaf.drawing.svg_style import DARK, LIGHT, Palette, dark_css, drawing_css

SVG = "{http://www.w3.org/2000/svg}"
SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
HOSTILE = "<script>alert('&\"]]>')</script>\x00\x1b\u202eevil"


def scene(*marks: Mark, title: str = "A part", description: str = "What it shows.") -> Scene:
    return Scene(
        id="hall-bench-part-leg",
        width=180,
        height=60,
        marks=marks,
        title=title,
        description=description,
    )


def root_of(drawn: Scene) -> ElementTree.Element:
    return ElementTree.fromstring(write_svg(drawn))  # noqa: S314 - our own text


def one_of_each() -> Scene:
    return scene(
        Area(rings=(SQUARE,), role=Role.PART, tone=2, hatch=1, outlined=True, id="face"),
        Area(rings=(SQUARE,), role=Role.WASTE, hatch=3),
        Line(points=SQUARE, role=Role.HIDDEN, start_arrow=True, end_arrow=True),
        Line(points=SQUARE[:2], role=Role.OUTLINE, id="edge"),
        Circle(centre=(5, 5), radius=2, role=Role.MARK, filled=True, id="face"),
        Text(at=(5, 5), text="29-1/2", turn_deg=-90, anchor="start"),
    )


def test_a_drawing_is_as_wide_in_millimetres_as_its_scene() -> None:
    root = root_of(one_of_each())
    assert (root.get("width"), root.get("height")) == ("180mm", "60mm")
    assert root.get("viewBox") == "0 0 180 60"


def test_a_drawing_names_itself_to_readers_that_cannot_see_it() -> None:
    # W3C ACT rule 7d6734: role stated, accessible name from title and desc by id.
    root = root_of(one_of_each())
    named = {
        child.get("id"): child.text for child in root if child.tag in (f"{SVG}title", f"{SVG}desc")
    }
    assert root.get("role") == "img"
    assert [named[name] for name in root.get("aria-labelledby", "").split()] == [
        "A part",
        "What it shows.",
    ]


def test_every_id_is_its_own_and_begins_with_the_scene() -> None:
    root = root_of(one_of_each())
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(set(ids)) == len(ids)
    assert all(str(name).startswith("hall-bench-part-leg") for name in ids)
    assert {"hall-bench-part-leg-face", "hall-bench-part-leg-face-2"} <= set(ids)


def test_words_from_a_plan_stay_words() -> None:
    drawn = scene(Text(at=(1, 1), text=HOSTILE), title=HOSTILE, description=HOSTILE)
    root = root_of(drawn)
    assert not list(root.iter(f"{SVG}script"))
    shown = "<script>alert('&\"]]>')</script>evil"
    assert [element.text for element in root.iter(f"{SVG}text")] == [shown]
    assert root[0].text == root[1].text == shown


def test_an_id_made_of_hostile_words_is_a_plain_name() -> None:
    drawn = Scene(id='1"><script>', width=10, height=10, marks=(), title="t", description="d")
    assert re.fullmatch(r"[A-Za-z_][A-Za-z0-9_.-]*", str(root_of(drawn).get("id")))


def test_nothing_outside_the_file_is_asked_for() -> None:
    text = write_svg(one_of_each())
    # Names of namespaces are names, not addresses that anything fetches.
    without_names = re.sub(r'xmlns(:\w+)?="[^"]*"', "", text)
    assert "http" not in without_names
    assert "href" not in without_names
    assert "@import" not in without_names
    assert "url(" not in without_names


def test_the_same_scene_is_the_same_bytes() -> None:
    assert write_svg(one_of_each()) == write_svg(one_of_each())


def test_coordinates_have_two_decimals_at_most() -> None:
    third = Line(points=((1 / 3, 2 / 3), (100 / 7, 5.0)), role=Role.FINE)
    assert 'd="M0.33,0.67L14.29,5"' in write_svg(scene(third))


def test_lines_of_one_role_are_one_path_and_repeats_are_dropped() -> None:
    a = Line(points=((0, 0), (5, 0)), role=Role.OUTLINE)
    b = Line(points=((0, 2), (0, 9)), role=Role.OUTLINE)
    root = root_of(scene(a, b, a))
    paths = [p for p in root.iter(f"{SVG}path") if p.get("class") == "outline"]
    assert [p.get("d") for p in paths] == ["M0,0H5M0,2V9"]


def test_marks_are_painted_back_to_front() -> None:
    over = scene(
        Line(points=((0, 5), (20, 5)), role=Role.FINE),
        Area(rings=(SQUARE,), role=Role.PAPER),
        Line(points=((0, 6), (20, 6)), role=Role.FINE),
    )
    classes = [p.get("class") for p in root_of(over).iter(f"{SVG}path")]
    assert classes == ["fine", "fill-paper", "fine"]


def test_an_inlined_drawing_leaves_its_style_to_the_page() -> None:
    text = write_svg(one_of_each(), is_inline=True)
    assert "<style" not in text
    assert not text.startswith("<?xml")
    assert drawing_css().startswith(".benchleaf-drawing ")
    assert "prefers-color-scheme:dark" in write_svg(one_of_each())


def test_dark_colours_can_be_put_under_any_selector() -> None:
    rules = dark_css("[data-md-color-scheme=slate] .benchleaf-drawing ").splitlines()
    assert all(
        selector.startswith("[data-md-color-scheme=slate] .benchleaf-drawing .")
        for rule in rules
        for selector in rule.split("{")[0].split(",")
    )


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2, from `#rgb` or `#rrggbb`."""
    digits = colour.removeprefix("#")
    if len(digits) == 3:
        digits = "".join(digit * 2 for digit in digits)
    shares = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    linear = [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_every_ink_is_read_on_paper(palette: Palette) -> None:
    # WCAG 2.2, 1.4.3: 4.5 to 1 for text; lines need 3 to 1 (1.4.11), and have as much.
    inks = (palette.ink, palette.measure, palette.soft, palette.cut)
    assert min(contrast(ink, palette.paper) for ink in inks) >= 4.5


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_words_and_edges_are_read_on_every_tone(palette: Palette) -> None:
    assert min(contrast(palette.ink, tone) for tone in palette.tones) >= 4.5


def test_grey_values_of_tones_fall_from_lightest_to_darkest() -> None:
    for palette in (LIGHT, DARK):
        values = [luminance(tone) for tone in palette.tones]
        assert values == sorted(values, reverse=True)
