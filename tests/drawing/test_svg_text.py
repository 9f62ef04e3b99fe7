"""Widths of text, against a face whose figures are public."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.drawing.clearance import box_of_text
from benchleaf.drawing.scene import Text
from benchleaf.drawing.text_metrics import fit_text, font_size, text_width, wrap_text

# Advance widths in thousandths of an em, Adobe Font Metrics of Helvetica (from memory), to which
# the faces of the font stack are cut.
HELVETICA = {
    "0": 556,
    "1": 556,
    " ": 278,
    "/": 278,
    "-": 333,
    "A": 667,
    "M": 833,
    "W": 944,
    "i": 222,
    "m": 833,
    "t": 278,
    "×": 584,
    "½": 834,
}


@pytest.mark.parametrize("character", HELVETICA)
def test_widths_are_those_of_the_common_sans_faces(character: str) -> None:
    height = 2.5
    expected = HELVETICA[character] / 1000 * font_size(height)
    # A thousandth of an em is the fineness of the older figures.
    assert text_width(character, height) == pytest.approx(expected, abs=0.001 * font_size(height))


def test_capitals_of_two_and_a_half_millimetres_are_set_in_ten_point() -> None:
    # One point is 25.4/72 mm; capitals are 0.69 of the size in these faces.
    assert font_size(2.5) / (25.4 / 72) == pytest.approx(10.3, abs=0.05)


@settings(deadline=None)
@given(st.text(max_size=60), st.floats(1, 60))
def test_a_fitted_text_is_never_wider_than_its_room(text: str, room: float) -> None:
    assert text_width(fit_text(text, 2.5, room), 2.5) <= max(room, 0)


@settings(deadline=None)
@given(st.text(alphabet="abc -/1×", max_size=80), st.floats(15, 60))
def test_wrapped_lines_keep_every_word_that_fits(text: str, room: float) -> None:
    lines = wrap_text(text, 2.5, room)
    assert all(text_width(line, 2.5) <= room for line in lines)
    if all(text_width(word, 2.5) <= room for word in text.split()):
        assert " ".join(lines).split() == text.split()


def test_a_turned_text_takes_the_room_of_its_width_upwards() -> None:
    box = box_of_text(Text(at=(50, 50), text="18-3/4", turn_deg=-90, anchor="start"))
    assert box.bottom == pytest.approx(50)
    assert box.top == pytest.approx(50 - text_width("18-3/4", 2.5))
    assert (box.left, box.right) == pytest.approx((48.75, 51.25))
