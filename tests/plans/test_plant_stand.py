"""The plant stand against figures worked out by hand, on paper, from the sizes at its head.

Source of every figure unless it says otherwise: arithmetic by hand. In inches.
"""

import math

import pytest

from benchleaf.joinery.solids import solid_of_copy
from by_hand import (
    blanks_of,
    box_of,
    copies_per_part,
    counted,
    finished_sizes,
    first_boxes,
    sizes_of,
)

# Pads 3/4, feet 2-1/4: posts stand at 3. Panels lie at 7, 19 and 31 and are 3/4 thick; lips stand
# 1-1/2 from each panel's underside. Each tier is 2 narrower at each end and 1 at each edge, and the
# lips take 3/4 of each edge.
BOXES = {
    # left front bottom, right back top
    "pad": "5 0 0, 8 3 3/4",
    "foot": "5 0 3/4, 8 16 3",
    "stretcher": "4 6-1/2 3/4, 32 9-1/2 3",
    "post": "5 3 3, 8 6 31-3/4",
    "lower shelf": "0 3/4 7, 36 15-1/4 7-3/4",
    "middle shelf": "2 1-3/4 19, 34 14-1/4 19-3/4",
    "top": "4 2-3/4 31, 32 13-1/4 31-3/4",
    "lower lip": "0 0 7, 36 3/4 8-1/2",
    "middle lip": "2 1 19, 34 1-3/4 20-1/2",
    "top lip": "4 2 31, 32 2-3/4 32-1/2",
}
COPIES = {
    "pad": 4,
    "foot": 2,
    "stretcher": 1,
    "post": 4,
    "lower shelf": 1,
    "middle shelf": 1,
    "top": 1,
    "lower lip": 2,
    "middle lip": 2,
    "top lip": 2,
}


@pytest.fixture
def stand(worked):
    return worked("plant-stand")


def volume_in3(worked, mark):
    # NIST SP 811 (2008), appendix B.8: 1 in is 25.4 mm exactly.
    return solid_of_copy(worked.joinery, mark).volume() / 25.4**3


def mark_of(worked, part):
    return worked.piece.copies_of(part)[0].mark


def test_every_part_stands_where_the_arithmetic_puts_it(stand):
    assert first_boxes(stand.piece) == {name: box_of(text, "in") for name, text in BOXES.items()}
    assert copies_per_part(stand.piece) == COPIES


def test_posts_take_four_layers_and_feet_three(stand):
    # 4 x 3/4 = 3; 3 x 3/4 = 2-1/4.
    layers = {name: part.layers for name, part in stand.piece.parts.items()}
    assert (layers["post"], layers["foot"], layers["stretcher"]) == (4, 3, 3)


def test_nothing_grows_where_posts_pass_through_and_feet_are_lapped(stand):
    assert finished_sizes(stand.joinery, "post") == sizes_of(["3 3 28-3/4"], "in")
    assert finished_sizes(stand.joinery, "foot") == sizes_of(["3 16 2-1/4"], "in")
    assert finished_sizes(stand.joinery, "stretcher") == sizes_of(["28 3 2-1/4"], "in")


def test_a_post_loses_three_eighths_all_round_at_each_tier(stand):
    # From the foot up: 4 of 3 x 3, 12 of 2-1/4 x 2-1/4, 12 of 1-1/2 x 1-1/2, 3/4 of 3/4 x 3/4:
    # 36 + 60.75 + 27 + 0.421875 = 124.171875 cubic inches, less two 1/2 dowel holes.
    holes = [
        f.shape
        for f in stand.joinery.copies[mark_of(stand, "post")].features
        if f.role == "dowel hole"
    ]
    assert len(holes) == 2
    bored = sum(math.pi * 0.25**2 * float(hole.depth_mm) / 25.4 for hole in holes)
    left = volume_in3(stand, mark_of(stand, "post"))
    assert left == pytest.approx(124.171875 - bored, rel=1e-9)


@pytest.mark.parametrize(
    ("panel", "size", "hole"),
    [
        # Panel's volume, and the side of what of the post passes through it.
        ("lower shelf", 36 * 14.5 * 0.75, 2.25),
        ("middle shelf", 32 * 12.5 * 0.75, 1.5),
        ("top", 28 * 10.5 * 0.75, 0.75),
    ],
)
def test_each_panel_has_four_holes_for_the_posts_reduced_section(stand, panel, size, hole):
    # Chosen in the handbook of joints: 1/64 of play on each side, so 1/32 across.
    left = volume_in3(stand, mark_of(stand, panel))
    assert left == pytest.approx(size - 4 * (hole + 1 / 32) ** 2 * 0.75, rel=1e-9)


def test_laps_take_half_of_the_foot_and_half_of_the_stretcher(stand):
    # A lap is 3 x 3 x 1-1/8 on either; the stretcher has two.
    lap = 3 * 3 * 1.125
    holes = [
        f.shape
        for f in stand.joinery.copies[mark_of(stand, "foot")].features
        if f.role in {"dowel hole", "pilot hole"}
    ]
    bored = sum(
        math.pi * (float(h.diameter_mm) / 2) ** 2 * float(h.depth_mm) / 25.4**3 for h in holes
    )
    assert volume_in3(stand, mark_of(stand, "stretcher")) == pytest.approx(
        28 * 3 * 2.25 - 2 * lap, rel=1e-9
    )
    assert volume_in3(stand, mark_of(stand, "foot")) == pytest.approx(
        3 * 16 * 2.25 - lap - bored, rel=1e-6
    )


def test_layers_of_posts_and_feet_come_out_of_boards_three_and_a_half_wide(stand):
    # 1/4 over on what is glued up is 3-1/4; what 3-1/2 has more is not worth a rip, so boards are
    # glued as they are bought. 4 posts of 4 layers, 2 feet and a stretcher
    # of 3.
    blanks = blanks_of(stand.cut_plan, "in")
    assert {part: blanks[part] for part in BOXES} == counted(
        {
            "pad": "4 of 3 x 3",
            "foot": "6 of 16-1/4 x 3-1/2",
            "stretcher": "3 of 28-1/4 x 3-1/2",
            "post": "16 of 29 x 3-1/2",
            "lower shelf": "1 of 36 x 14-1/2",
            "middle shelf": "1 of 32 x 12-1/2",
            "top": "1 of 28 x 10-1/2",
            "lower lip": "2 of 36 x 1-1/2",
            "middle lip": "2 of 32 x 1-1/2",
            "top lip": "2 of 28 x 1-1/2",
        }
    )


def test_no_more_boards_are_bought_than_the_work_needs(stand):
    # Nineteen layers over 28 in long: three to a board of 96 (3 x 29 + 2 kerfs = 87-1/4), so seven
    # boards. The seventh holds one post and four of the six foot layers (29 + 4 x 16-1/4 + 4 kerfs
    # = 94-1/2); the last two need an eighth. Lips: 36 + 32 + 28 are a whole 96 without a kerf, so
    # two boards cannot hold them, and three of 72 can (36 + 32, twice, and 28 + 28).
    bought = [board.stock for board in stand.cut_plan.lengths]
    assert bought.count("pine") == 8
    assert bought.count("lipping") == 3
    assert bought.count("dowel rod") == 1
    assert [sheet.stock for sheet in stand.cut_plan.sheets] == ["ply"]
