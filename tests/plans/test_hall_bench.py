"""The hall bench against figures worked out by hand, on paper, from the sizes at its head.

Source of every figure unless it says otherwise: arithmetic by hand. In inches.
"""

from fractions import Fraction
from itertools import pairwise

import pytest

from by_hand import (
    blanks_of,
    box_of,
    copies_per_part,
    counted,
    finished_sizes,
    first_boxes,
    number,
    sizes_of,
)

# Ply 23/32. Leg 3 x 23/32 = 2-5/32; rails and seat 2 x 23/32 = 1-7/16. Seat's underside 18 - 1-7/16
# = 16-9/16. Legs stand 1 in from the ends and 1/2 in from the edges, rails 1/8 behind their faces.
BOXES = {
    # left front bottom, right back top
    "leg": "1 1/2 0, 3-5/32 2-21/32 16-9/16",
    "long rail": "3-5/32 5/8 13-9/16, 40-27/32 2-1/16 16-9/16",
    "end rail": "1-1/8 2-21/32 13-9/16, 2-9/16 12-11/32 16-9/16",
    "shelf rail": "3-5/32 5/8 2, 40-27/32 2-1/16 4-1/2",
    "seat cleat": "4-5/32 2-1/16 15-1/16, 39-27/32 2-25/32 16-9/16",
    "shelf cleat": "3-13/32 2-1/16 2-9/32, 40-19/32 2-25/32 3-25/32",
    "slat": "3-5/8 2-3/16 3-25/32, 6-5/8 12-13/16 4-1/2",
    "seat": "0 0 16-9/16, 44 15 18",
}
COPIES = {
    "leg": 4,
    "long rail": 2,
    "end rail": 2,
    "shelf rail": 2,
    "seat cleat": 2,
    "shelf cleat": 2,
    "slat": 10,
    "seat": 1,
}
LAYERS = {
    "leg": 3,
    "long rail": 2,
    "end rail": 2,
    "shelf rail": 2,
    "seat cleat": 1,
    "shelf cleat": 1,
    "slat": 1,
    "seat": 2,
}


@pytest.fixture
def bench(worked):
    return worked("hall-bench")


def test_every_part_stands_where_the_arithmetic_puts_it(bench):
    assert first_boxes(bench.piece) == {name: box_of(text, "in") for name, text in BOXES.items()}
    assert copies_per_part(bench.piece) == COPIES
    assert {name: part.layers for name, part in bench.piece.parts.items()} == LAYERS


def test_rails_are_overall_less_overhangs_less_two_legs(bench):
    # 44 - 2 x 1 - 2 x 2-5/32 = 37-11/16; 15 - 2 x 1/2 - 2 x 2-5/32 = 9-11/16.
    assert finished_sizes(bench.joinery, "long rail") == sizes_of(["37-11/16 1-7/16 3"], "in")
    assert finished_sizes(bench.joinery, "end rail") == sizes_of(["1-7/16 9-11/16 3"], "in")


def test_the_last_slat_lies_as_far_from_its_leg_as_the_first(bench):
    # Ten slats of 3 and nine gaps of 3/4 are 36-3/4; (44 - 36-3/4) / 2 = 3-5/8 at either end.
    slats = [copy.box for copy in bench.piece.copies_of("slat")]
    mm = Fraction(254, 10)
    assert slats[0].low[0] == number("3-5/8") * mm
    assert slats[-1].high[0] == (44 - number("3-5/8")) * mm
    gaps = [b.low[0] - a.high[0] for a, b in pairwise(slats)]
    assert gaps == [number("3/4") * mm] * 9


def test_dowels_in_a_leg_do_not_meet(bench):
    # Rails 1-7/16 thick stand 1/8 behind the leg's face: their middle is 27/32 from it, 1-5/16 from
    # the inner face. A 1/2 hole 3/4 deep and 1/16 more stops 13/16 in; the other rail's hole starts
    # 1-5/16 - 1/4 = 1-1/16 in: 1/4 of wood between them.
    mm = Fraction(254, 10)
    leg = next(cut for cut in bench.joinery.copies.values() if cut.part == "leg")
    holes = [f.shape for f in leg.features if f.role == "dowel hole"]
    assert len(holes) == 6
    inner = number("2-5/32") * mm
    for hole in holes:
        across = 0 if hole.direction[0] else 1
        assert hole.mouth[across] == inner
        assert hole.mouth[1 - across] == number("27/32") * mm
        assert hole.depth_mm <= number("13/16") * mm
        assert hole.diameter_mm == number("1/2") * mm


def test_blanks_are_rough_by_the_allowance_where_layers_are_glued_up(bench):
    # Glued-up blanks are 1/4 over in length and in width, each layer of them; the rest is cut to
    # size. 4 legs of 3 layers, 2 of each rail and the seat of 2. Two long rails, two layers: 4.
    blanks = blanks_of(bench.cut_plan, "in")
    assert {part: blanks[part] for part in BOXES} == counted(
        {
            "leg": "12 of 16-13/16 x 2-13/32",
            "long rail": "4 of 37-15/16 x 3-1/4",
            "end rail": "4 of 9-15/16 x 3-1/4",
            "shelf rail": "4 of 37-15/16 x 2-3/4",
            "seat cleat": "2 of 35-11/16 x 1-1/2",
            "shelf cleat": "2 of 37-3/16 x 1-1/2",
            "slat": "10 of 10-5/8 x 3",
            "seat": "2 of 44-1/4 x 15-1/4",
        }
    )


def test_one_sheet_and_one_rod_are_enough(bench):
    # The blanks above come to 3,412 square inches of the 4,608 on a sheet of 48 x 96. Two dowels in
    # each of 12 rail ends: 24 of 1-1/2 are 36, and 23 kerfs of 1/8 make 38-7/8 of a rod of 48.
    assert [sheet.stock for sheet in bench.cut_plan.sheets] == ["ply"]
    assert [rod.stock for rod in bench.cut_plan.lengths] == ["dowel rod"]
    assert [len(rod.placed) for rod in bench.cut_plan.lengths] == [24]
