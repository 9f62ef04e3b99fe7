from __future__ import annotations

from fractions import Fraction

import pytest

from benchleaf.findings import Place, Severity
from benchleaf.frames import Axis
from benchleaf.reading import plan_name
from benchleaf.reading.expressions import Literal, PartSize, SizeName, StockThickness, Sum
from benchleaf.reading.plan import (
    Finish,
    Grain,
    PlanLoad,
    PlanStep,
    Room,
    ShopSettings,
    Stands,
    Stock,
    StockKind,
    Units,
)
from plan_texts import BENCH, FILE, change, read

IN = Fraction(254, 10)  # NIST SP 811, appendix B.8


@pytest.fixture(scope="module")
def bench():
    plan, findings = read(BENCH)
    assert findings == ()
    return plan


def test_the_head_of_a_plan_is_read(bench):
    assert bench.name == "boot-bench"
    assert bench.file == FILE
    assert bench.title == "Boot bench"
    assert bench.author == "Fernhill community workshop"
    assert bench.licence == "CC BY 4.0"
    assert bench.revision == "A"
    assert bench.summary == "A bench for the porch of the workshop."
    assert bench.units is Units.INCH
    assert bench.notes == ("Made for the porch.", "Wants a dry day.")


def test_a_sheet_has_its_short_side_as_width_whichever_way_it_is_written(bench):
    assert bench.stock["ply"] == Stock(
        name="ply",
        kind=StockKind.SHEET,
        material="birch plywood",
        thickness_mm=IN * 23 / 32,
        width_mm=IN * 48,
        lengths_mm=(IN * 96,),
        grain=Grain.LONG,
        trim_mm=IN / 4,
    )


def test_a_board_has_its_lengths_in_order(bench):
    pine = bench.stock["pine"]
    assert (pine.thickness_mm, pine.width_mm) == (IN * 3 / 4, IN * 11 / 2)
    assert pine.lengths_mm == (IN * 72, IN * 96)


def test_a_rod_is_as_wide_as_it_is_thick(bench):
    rod = bench.stock["peg rod"]
    assert (rod.thickness_mm, rod.width_mm, rod.lengths_mm) == (
        IN * 3 / 8,
        IN * 3 / 8,
        (IN * 48,),
    )


def test_parts_keep_their_order_and_their_axes(bench):
    assert list(bench.parts) == ["leg", "long rail", "seat", "slat"]
    leg = bench.parts["leg"]
    assert (leg.stock, leg.layers, leg.note) == ("ply", 3, "Glue up four at once.")
    assert (leg.thickness_axis, leg.grain_axis) == (Axis.WIDE, Axis.HIGH)
    assert leg.mirror == (Axis.WIDE, Axis.DEEP)
    assert leg.axes[Axis.WIDE].extent.term == SizeName("leg")
    assert leg.axes[Axis.WIDE].high is None
    assert leg.axes[Axis.HIGH].extent.term == Sum("-", SizeName("seat"), StockThickness("ply"))


def test_a_measure_of_a_mirrored_part_is_read(bench):
    rail = bench.parts["long rail"]
    assert rail.axes[Axis.WIDE].high.term == PartSize("leg", "left", (Axis.WIDE,))
    assert rail.mirror == (Axis.DEEP,)


def test_a_row_is_read(bench):
    row = bench.parts["slat"].row
    assert (row.axis, row.count, row.step, row.to) == (Axis.WIDE, 5, None, None)
    assert row.gap.term == Literal(Fraction(1), False)


def test_joints_carry_typed_choices(bench):
    dowels, tenon, rest, butt = bench.joints
    assert (dowels.kind, dowels.first, dowels.second) == ("dowels", "long rail", "leg")
    assert dowels.choices["count"] == 2
    assert dowels.choices["size"].diameter.term == Literal(Fraction(3, 8), False)
    assert dowels.choices["size"].length.text == "2"
    assert tenon.choices["through"] is True
    assert (tenon.note, tenon.index) == ("Dry fit first.", 1)
    assert (rest.kind, rest.choices) == ("rests on", {})
    assert butt.choices["screws"].gauge == 8


def test_finish_shop_and_steps_are_read(bench):
    assert bench.finish == Finish(
        material="water-based polyurethane", coats=3, grits=(120, 220, 400)
    )
    assert bench.shop == ShopSettings(
        kerf_mm=IN / 8, allowance_mm=IN / 4, wall_mm=IN / 4, glue="PVA"
    )
    assert bench.steps == (
        PlanStep(title="Glue up the legs", text="Three layers each.", covers=("glue-up: leg",)),
    )


def test_every_value_and_key_has_its_place(bench):
    lines = BENCH.splitlines()
    for path, text in {
        "parts.leg.wide": "leg",
        "parts.leg.wide#key": "wide",
        "joints[0].size": "3/8 x 2",
        "joints[0].dowels[1]": "leg]",
        "stock.ply.thickness": "23/32",
        "sizes.length": "44",
        "steps[0].title": "Glue up the legs",
    }.items():
        place = bench.places[path]
        assert lines[place.line - 1][place.column - 1 :].startswith(text)


def test_the_second_half_of_a_pair_has_its_own_place(bench):
    length = bench.joints[0].choices["size"].length
    line = BENCH.splitlines()[length.place.line - 1]
    assert line[length.place.column - 1 :].startswith("2, count")


def test_a_missing_path_has_the_place_of_its_nearest_ancestor(bench):
    assert bench.place("parts.leg.colour") == bench.places["parts.leg"]
    assert bench.place("no.such.thing") == Place(file=FILE, line=1, column=1)


def test_a_short_plan_gets_usual_values():
    text = """
plan: Shelf
by: Fernhill community workshop
licence: CC BY 4.0
units: mm
overall: {wide: 800, deep: 200, high: 18}
stock: {pine: {board: 18 x 200, length: 2400}}
parts: {shelf: {stock: pine, left: 0, wide: 800, front: 0, deep: 200, bottom: 0}}
"""
    plan, findings = read(text, "shelf.yml")
    assert findings == ()
    assert plan.name == "shelf"
    assert plan.stock["pine"].material == "pine"
    assert plan.stock["pine"].grain is Grain.LONG
    assert plan.shop == ShopSettings(
        kerf_mm=Fraction(3), allowance_mm=Fraction(6), wall_mm=Fraction(6), glue="PVA"
    )
    assert (plan.finish, plan.steps, plan.notes, plan.joints) == (None, (), (), ())
    assert (plan.summary, plan.revision) == ("", "")
    shelf = plan.parts["shelf"]
    assert (shelf.layers, shelf.mirror, shelf.row, shelf.allowance) == (None, (), None, None)


def test_yaml_makes_no_guesses():
    # YAML 1.1 would type these as 66, 8, a date, a truth and nothing (yaml.org/type).
    text = change("summary: A bench for the porch of the workshop.", "summary: 1:6")
    assert read(text)[0].summary == "1:6"
    for written in ("010", "2020-01-01", "no", "null", "~", "1e3"):
        text = change("revision: A", f"revision: {written}")
        assert read(text)[0].revision == written


def test_inches_are_millimetres_where_the_plan_says_so():
    plan, _ = read(change("units: in", "units: mm"))
    assert plan.stock["peg rod"].thickness_mm == Fraction(3, 8)
    assert plan.shop.kerf_mm == Fraction(1, 8)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("mirror: front-back", "mirror: [front-back]"),
        ("through: yes", "through: true"),
        ("through: yes", 'through: "yes"'),
        ("through: yes", "through: Yes"),
        ("screws: 8 x 1-1/4", 'screws: "#8 x 1-1/4"'),
        ("screws: 8 x 1-1/4", "screws: No. 8 x 1-1/4"),
        ("screws: 8 x 1-1/4", "screws: 8x1-1/4"),
        ("size: 3/8 x 2", "size: 3/8 \N{MULTIPLICATION SIGN} 2"),
        ("covers: [glue-up: leg]", 'covers: "glue-up: leg"'),
        ("peg rod: {rod: 3/8, length: 48", "peg rod: {rod: 3/8, lengths: [48]"),
        ("left: leg.right", 'left: "leg.right"'),
        ("left: leg.right", "left: >-\n      leg.right"),
        ("plan: Boot bench", "plan: |\n  Boot\n  bench"),
    ],
)
def test_other_spellings_give_the_same_plan(old, new, bench):
    plan, findings = read(change(old, new))
    assert findings == ()
    assert plan.title == bench.title
    assert [part.mirror for part in plan.parts.values()] == [
        part.mirror for part in bench.parts.values()
    ]
    assert plan.steps == bench.steps
    assert plan.stock == bench.stock
    for ours, theirs in zip(plan.joints, bench.joints, strict=True):
        assert ours.choices.keys() == theirs.choices.keys()
    assert plan.joints[1].choices["through"] is True
    assert plan.joints[3].choices["screws"].gauge == 8


def test_lists_of_choices_and_lengths_are_read():
    text = change("count: 2}", "offsets: [1, leg / 2]}")
    text = change("through: yes,", "haunch: sloping, edges: [front, back],", text)
    text = change("screws: 8 x 1-1/4", "with: brass cups", text)
    plan, findings = read(text)
    assert findings == ()
    dowels, tenon, _, butt = plan.joints
    assert [each.text for each in dowels.choices["offsets"]] == ["1", "leg / 2"]
    assert tenon.choices["haunch"] == "sloping"
    assert tenon.choices["edges"] == ("front", "back")
    assert butt.choices == {"with": "brass cups"}


def test_letters_with_marks_are_one_name_however_they_are_typed():
    composed = BENCH.replace("slat", "lat\N{LATIN SMALL LETTER E WITH ACUTE}")
    mixed = composed.replace("\N{LATIN SMALL LETTER E WITH ACUTE}", "e\u0301", 1)
    plan, findings = read(mixed)
    assert findings == ()
    assert "lat\N{LATIN SMALL LETTER E WITH ACUTE}" in plan.parts


def test_a_byte_order_mark_does_no_harm():
    plan, findings = read("\ufeff" + BENCH)
    assert findings == ()
    assert plan.places["plan#key"] == Place(file=FILE, line=1, column=1)


def test_windows_line_ends_do_no_harm(bench):
    plan, findings = read(BENCH.replace("\n", "\r\n"))
    assert findings == ()
    assert plan.places == bench.places


def test_the_same_text_gives_the_same_plan(bench):
    assert read(BENCH)[0] == bench


def test_a_warning_does_not_keep_the_plan_back():
    plan, findings = read(change("note: Glue up four at once.", "note: Drill #8 holes."))
    assert plan is not None
    assert [finding.severity for finding in findings] == [Severity.WARNING]


@pytest.mark.parametrize(
    ("file", "name"),
    [
        ("plans/boot-bench.plan.yml", "boot-bench"),
        ("boot-bench.plan.yaml", "boot-bench"),
        ("C:\\plans\\bench2.yml", "bench2"),
        ("plans/boot-bench/boot-bench.plan.yml", "boot-bench"),
    ],
)
def test_a_plan_is_named_after_its_file(file, name):
    assert plan_name(file) == name


def test_loads_rooms_and_how_it_stands_are_read():
    # 1 lb is 0.45359237 kg exactly: NIST SP 811, appendix B.8.
    text = change("  seat:\n    stock: ply\n", "  seat:\n    stock: ply\n    load: 60 lb\n")
    head = "room: {driest: 20, dampest: 70, built at: 9}\nstands: anchored\nshop: {kerf"
    plan, said = read(change("shop: {kerf", head, text))
    assert said == ()
    assert plan.parts["seat"].load == PlanLoad(word="", mass_kg=Fraction("27.2155422"))
    assert plan.room == Room(driest=20, dampest=70, built_at=9)
    assert plan.stands is Stands.ANCHORED


def test_a_usual_load_is_read_by_its_word():
    text = change("  seat:\n    stock: ply\n", "  seat:\n    stock: ply\n    load: people\n")
    plan, said = read(text)
    assert said == ()
    assert plan.parts["seat"].load == PlanLoad(word="people", mass_kg=None)
    assert (plan.parts["leg"].load, plan.room, plan.stands) == (None, None, None)


def test_shaping_is_read_with_its_places_in_one_spelling():
    shape = (
        "    shape:\n"
        "      - {chamfer: [all edges of top, top front, back left], size: leg / 16}\n"
        "      - {hole: front, size: 1/4, at: [1 x 2, leg/2 x 4], note: For pegs.}\n"
        "      - {taper: [left, front], centre: 1 x 2}\n"
    )
    plan, findings = read(change("    note: Glue up four at once.\n", shape))
    assert findings == ()
    chamfer, hole, taper = plan.parts["leg"].shaping
    assert chamfer.places == ("left top", "right top", "front top", "back top", "left back")
    assert (hole.kind, hole.index, hole.places, hole.note) == ("hole", 1, ("front",), "For pegs.")
    assert [pair.second.text.strip() for pair in hole.choices["at"]] == ["2", "4"]
    assert taper.places == ("left", "front")
    assert taper.choices["centre"].first.text == "1"


@pytest.mark.parametrize(
    ("haul", "size", "weight"),
    [
        ("50 lb", None, Fraction(50) * Fraction("0.45359237")),  # NIST SP 811, appendix B.8
        ("48 x 60", (Fraction("1219.2"), Fraction(1524)), None),
        ("{weight: 20 kg}", None, Fraction(20)),
        ("{size: 48 x 60, weight: 20 kg}", (Fraction("1219.2"), Fraction(1524)), Fraction(20)),
    ],
)
def test_what_is_hauled_is_a_size_a_weight_or_both(haul, size, weight):
    plan, said = read(change("shop: {kerf", f"shop: {{haul: {haul}, kerf"))
    assert said == ()
    assert (plan.shop.haul_mm, plan.shop.haul_kg) == (size, weight)
