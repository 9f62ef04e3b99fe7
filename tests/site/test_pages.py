"""What the pages of a sound plan say: expected texts follow from the hand-made plan's numbers."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from html.parser import HTMLParser

import pytest

import handmade_plan as handmade
from benchleaf.findings import Finding, Place, Severity
from benchleaf.joinery.records import Shape
from benchleaf.pipeline import WorkedPlan
from benchleaf.sequencing.records import CutMade
from benchleaf.site.emit import Writer
from benchleaf.site.pages import view_plan, write_gallery, write_plan
from benchleaf.site.records import GeneratedFile
from benchleaf.site.templating import open_templates


class _Text(HTMLParser):
    """Collects what a reader sees: the text, with alternative texts in brackets."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.seen: list[str] = []
        self.is_style = False

    def handle_data(self, data: str) -> None:
        if not self.is_style:
            self.seen.append(data)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.is_style = tag == "style"
        self.seen.append("" if tag == "span" else " ")
        if tag == "img":
            self.seen.append(f"[{dict(attrs)['alt']}]")

    def handle_endtag(self, tag: str) -> None:
        self.is_style = False
        self.seen.append("" if tag == "span" else " ")


def text_of(file: GeneratedFile) -> str:
    parser = _Text()
    parser.feed(str(file.body))
    return " ".join("".join(parser.seen).split())


@pytest.fixture(scope="module")
def writer() -> Writer:
    return Writer(open_templates(), directory_urls=True)


def write(worked: WorkedPlan, writer: Writer) -> dict[str, GeneratedFile]:
    pages = view_plan(handmade.SOURCE, worked, handmade.SCENES)
    return {
        file.src_uri.removeprefix("plans/side-frame/"): file for file in write_plan(pages, writer)
    }


@pytest.fixture(scope="module")
def files(writer: Writer) -> dict[str, GeneratedFile]:
    return write(handmade.make_worked(), writer)


def test_every_kind_of_page_is_there_and_every_drawing(files: dict[str, GeneratedFile]) -> None:
    expected = {
        "index.md",
        "safety.md",
        "materials.md",
        "shopping.md",
        "cutting.md",
        "parts/index.md",
        "parts/leg.md",
        "parts/rail.md",
        "parts/far-leg.md",
        "joints.md",
        "schedule.md",
        "steps/index.md",
        "steps/rip-strips.md",
        "steps/drill-holes.md",
        "steps/glue-frame.md",
        "print.md",
        *(f"drawings/{name}.svg" for name in handmade.SCENES),
    }
    assert expected == set(files)


def test_only_the_overview_asks_for_a_place_in_the_navigation(
    files: dict[str, GeneratedFile],
) -> None:
    assert [name for name, file in files.items() if file.is_in_nav] == ["index.md"]


def test_parts_list_has_mark_quantity_finished_and_rough_sizes_and_layers(
    files: dict[str, GeneratedFile],
) -> None:
    # 400 x 40 x 36 finished, two layers of 406 x 46 rough: the hand-made plan's own numbers.
    assert "A leg 1 400 40 36 406 × 46 2 ply" in text_of(files["parts/index.md"])


def test_shopping_list_counts_stock_hardware_glue_and_finish(
    files: dict[str, GeneratedFile],
) -> None:
    text = text_of(files["shopping.md"])
    assert "1 sheet of birch plywood ply 1220 × 2440 × 18 mm 1 piece laid out" in text
    assert "1 rod of birch peg 10 × 1000 mm 1 piece laid out" in text
    # two dowels at each of two joints
    assert "dowel 10 × 50 mm 2 rail to leg + 2 rail to far leg + 1 spare" in text
    # Between layers 406 x (46 + 86 + 46) = 72268 mm2, at the joints 2 x 2880. At 182 sq ft to the
    # gallon, 4.47 m2 to the litre, 0.078 m2 takes 17.5 ml.
    assert "250 ml PVA glue 0.0058 m² in joints + 0.0723 m² between layers" in text
    assert "at 4.47 m²/l: 20 ml" in text
    for words in ("abrasive, grit 120", "abrasive, grit 180", "hard wax oil", "; 2 times"):
        assert words in text


def test_finish_is_reckoned_without_the_faces_that_touch(writer: Writer) -> None:
    # Faces by hand: each leg 2(40*36 + 36*400 + 400*40) = 63680, the rail
    # 2(400*36 + 36*80 + 80*400) = 98560; each end of the rail hides 36 x 80 on both sides.
    # 2 * 63680 + 98560 - 4 * 2880 = 214400 mm2 = 0.21 m2.
    text = text_of(write(handmade.make_worked(), writer)["shopping.md"])
    assert "− 0.0115 m² faces against one another = 0.214 m²; 2 times" in text


def test_cuts_are_listed_in_order_with_what_each_gives(files: dict[str, GeneratedFile]) -> None:
    text = text_of(files["cutting.md"])
    first = text.index("1 the sheet 2440 × 1220 across the sheet 406 the sheet offcut")
    second = text.index("2 the sheet 1220 × 406 along the sheet 46 A.1 offcut")
    assert first < second


def test_joint_shows_sizes_with_rule_and_source_and_setting_out(
    files: dict[str, GeneratedFile],
) -> None:
    text = text_of(files["joints.md"])
    assert (
        "dowel diameter 10 1/3 of the thinner part’s thickness common practice, no source"
        in text.replace("'", "’")
    )
    assert "A, B, C centre of dowel hole 1 20 top 20 mm gauge" in text


def test_part_sheet_names_holes_by_face_and_distance(files: dict[str, GeneratedFile]) -> None:
    # Set out 20 from the top, so that is where the list has it too: 400 high, its centre at 380.
    text = text_of(files["parts/leg.md"])
    assert "dowel hole ⌀ 10, 25 deep into the right; centre 18 from front, 20 from top B" in text


def test_part_sheet_speaks_of_mirror_images_only_where_there_are_any(writer: Writer) -> None:
    worked = handmade.make_worked()
    assert worked.joinery is not None
    leg, *others = worked.joinery.shapes

    def caption(leg: Shape) -> str:
        joinery = replace(worked.joinery, shapes=(leg, *others))
        text = text_of(write(replace(worked, joinery=joinery), writer)["parts/leg.md"])
        return text[text.index("Setting out A, in millimetres") :].split(" Joint ")[0]

    assert caption(leg) == "Setting out A, in millimetres"
    assert caption(replace(leg, mirrored=("C",))) == (
        "Setting out A, in millimetres; C as mirror images"
    )
    assert caption(replace(leg, as_drawn=("A", "C"))) == "Setting out A, in millimetres; C alike"


def test_numbers_that_the_actions_of_setting_out_say_are_not_said_twice(writer: Writer) -> None:
    worked = handmade.make_worked()
    assert worked.sequence is not None
    rip, drill, glue = worked.sequence.operations
    marking = replace(drill, kind="set-out")
    first, second, third = worked.sequence.steps
    sequence = replace(
        worked.sequence,
        operations=(rip, marking, glue),
        steps=(first, replace(second, operations=(marking,)), third),
    )
    made = write(replace(worked, sequence=sequence), writer)
    assert "Setting out, in millimetres" not in text_of(made["steps/drill-holes.md"])


def test_call_outs_stand_before_the_actions_and_the_check_after(
    files: dict[str, GeneratedFile],
) -> None:
    text = text_of(files["steps/rip-strips.md"])
    order = ["WARNING", "push stick", "Fence 46 mm", "Rip the strips for B", "show no light"]
    places = [text.index(words) for words in order]
    assert places == sorted(places)


def test_setting_out_numbers_stand_where_they_are_first_needed(
    files: dict[str, GeneratedFile],
) -> None:
    assert "centre of dowel hole 1" in text_of(files["steps/drill-holes.md"])
    assert "centre of dowel hole 1" not in text_of(files["steps/glue-frame.md"])


def test_nothing_is_set_out_once_parts_come_together(writer: Writer) -> None:
    worked = handmade.make_worked()
    assert worked.sequence is not None
    rip, drill, glue = worked.sequence.operations
    dry = replace(drill, kind="dry-fit")
    steps = (
        worked.sequence.steps[0],
        replace(worked.sequence.steps[1], operations=(dry,)),
        worked.sequence.steps[2],
    )
    sequence = replace(worked.sequence, operations=(rip, dry, glue), steps=steps)
    made = write(replace(worked, sequence=sequence), writer)
    assert "centre of dowel hole 1" not in text_of(made["steps/drill-holes.md"])


def test_step_that_saws_one_sheet_shows_its_cutting_diagram(writer: Writer) -> None:
    worked = handmade.make_worked()
    assert worked.sequence is not None
    rip, *others = worked.sequence.operations
    rip = replace(rip, cuts=(CutMade(stock="ply", sheet=1, cut=1),))
    first, *steps = worked.sequence.steps
    sequence = replace(
        worked.sequence,
        operations=(rip, *others),
        steps=(replace(first, operations=(rip,)), *steps),
    )
    made = write(replace(worked, sequence=sequence), writer)
    assert "[Drawing sheet-ply-1." in text_of(made["steps/rip-strips.md"])
    assert "[Drawing sheet-ply-1." not in text_of(made["steps/drill-holes.md"])
    # On paper it is there once.
    printed = str(made["print.md"].body)
    shown = re.findall(r'<div class="bl-screen-only">\s*<figure', printed)
    assert len(shown) == 1
    assert "Under Cutting: Drawing sheet-ply-1." in text_of(made["print.md"])


def test_step_shows_its_picture_in_words_too(files: dict[str, GeneratedFile]) -> None:
    expected = "[Drawing step-glue-frame. A rectangle 140 wide and 70 high.]"
    assert expected in text_of(files["steps/glue-frame.md"])


def test_safety_page_defers_and_orders_cards_shop_tools_piece(
    files: dict[str, GeneratedFile],
) -> None:
    text = text_of(files["safety.md"])
    words = ["machine's own manual", "Local codes", "licensed person", "At every tool"]
    words += ["Set-up card: table saw", "The finished piece", "How it was checked"]
    places = [text.index(word) for word in words]
    assert places == sorted(places)


def test_what_a_plan_defers_to_stands_in_one_place_and_once_in_print(
    files: dict[str, GeneratedFile],
) -> None:
    said = {name: text_of(file).count("licensed person") for name, file in files.items()}
    assert {name: count for name, count in said.items() if count} == {"safety.md": 1, "print.md": 1}


def test_printed_plan_holds_every_page_once_in_order(files: dict[str, GeneratedFile]) -> None:
    lines = str(files["print.md"].body).splitlines()
    titles = [line.split(" {")[0] for line in lines if line.startswith(("# ", "## "))]
    assert titles == [
        "# Side frame",
        "## Safety",
        "## Shopping list",
        "## What you need",
        "## Cutting",
        "## Parts",
        "## A&#58; leg",
        "## B&#58; rail",
        "## C&#58; far leg",
        "## Joints",
        "## Schedule",
        "## Order of work",
        "## 1&#46; Rip strips for A&#44; B and C",
        "## 2&#46; Drill the dowel holes",
        "## 3&#46; Glue the rail to the legs",
    ]


def test_printed_plan_leads_within_itself(files: dict[str, GeneratedFile]) -> None:
    body = str(files["print.md"].body)
    assert 'href="#parts-leg"' in body
    assert 'href="../parts/leg/"' not in body


def test_front_matter_keeps_macro_plugins_off(files: dict[str, GeneratedFile]) -> None:
    pages = [file for name, file in files.items() if name.endswith(".md")]
    assert all("\nrender_macros: false\n" in str(file.content) for file in pages)


def test_same_plan_same_bytes(files: dict[str, GeneratedFile], writer: Writer) -> None:
    again = write(handmade.make_worked(), writer)
    assert {name: file.content for name, file in files.items()} == {
        name: file.content for name, file in again.items()
    }


def test_inches_are_shown_as_the_reader_of_the_plan_writes_them(writer: Writer) -> None:
    worked = handmade.make_worked()
    assert worked.plan is not None
    inch = type(worked.plan.units)("in")
    made = write(replace(worked, plan=replace(worked.plan, units=inch)), writer)
    # 46 mm is 1.8110 in, nearest 1/64 is 1-13/16 = 1.8125; not exact, so it says so.
    assert "≈1-13/16" in text_of(made["cutting.md"])


@pytest.fixture
def broken() -> WorkedPlan:
    finding = Finding(
        code="P101",
        severity=Severity.ERROR,
        place=Place(file=handmade.FILE, line=4, column=11),
        subject="parts.leg.wide",
        message="`40` is wider than the stock",
        remedy="Needed: at most 18.",
    )
    return WorkedPlan(file=handmade.FILE, findings=(finding,))


def test_plan_with_errors_is_one_page_with_the_line_and_a_caret(
    broken: WorkedPlan, writer: Writer
) -> None:
    made = write(broken, writer)
    assert list(made) == ["index.md"]
    text = text_of(made["index.md"])
    assert "not ready to build from" in text
    assert "plans/side-frame.plan.yml:4:11 parts.leg.wide" in text
    assert "4 wide: 40 4 ^ Needed: at most 18. P101" in text


def test_gallery_shows_sound_and_broken_plans(broken: WorkedPlan, writer: Writer) -> None:
    good = view_plan(handmade.SOURCE, handmade.make_worked(), handmade.SCENES).card
    bad = view_plan(replace(handmade.SOURCE, name="other"), broken, {}).card
    text = text_of(write_gallery([good, bad], writer))
    assert "Side frame Two legs and a rail. 480 × 36 × 400 mm 3 parts 3 steps" in text
    assert "other Not ready to build from: 1 error." in text


def test_parts_and_steps_of_odd_names_have_addresses_of_their_own(writer: Writer) -> None:
    worked = handmade.make_worked()
    assert worked.joinery is not None
    names = ("index", "足", "手")
    shapes = tuple(
        replace(shape, name=name) for shape, name in zip(worked.joinery.shapes, names, strict=True)
    )
    worked = replace(worked, joinery=replace(worked.joinery, shapes=shapes))
    sheets = [name for name in write(worked, writer) if name.startswith("parts/")]
    assert sheets == ["parts/index.md", "parts/index-2.md", "parts/b.md", "parts/c.md"]


def test_waits_are_told_apart_from_work(writer: Writer) -> None:
    worked = handmade.make_worked()
    assert worked.sequence is not None
    assert worked.sequence.operations[-1].waiting_hours == Fraction(24)
    text = text_of(write(worked, writer)["steps/index.md"])
    # three operations of 20 minutes
    assert "About 1 h of work" in text
    assert "Glue and finish take 24 h at least" in text


def test_overview_does_not_call_it_a_joint_where_a_part_only_rests(writer: Writer) -> None:
    worked = handmade.make_worked()
    assert worked.piece is not None
    dowels, other = worked.piece.joints
    joints = (dowels, replace(other, kind="rests on"))
    text = text_of(
        write(replace(worked, piece=replace(worked.piece, joints=joints)), writer)["index.md"]
    )
    assert "Joints dowels Steps" in text


def test_joints_that_are_alike_share_a_section(writer: Writer) -> None:
    # The hand-made plan's two joints differ in nothing but their place.
    made = write(handmade.make_worked(), writer)
    text = text_of(made["joints.md"])
    assert "Joints 1, 2: dowels, rail to leg and far leg" in text
    assert (
        "Rail to leg: B to A. Rail to far leg: B to C. Glued. Takes 4 dowels, 10 x 50 mm." in text
    )
    assert 'href="../../joints/#joint-1"' in str(made["parts/leg.md"].body)
    assert "#joint-2" not in "".join(str(file.body) for file in made.values())


def test_what_only_rests_is_a_line_and_no_figure(writer: Writer) -> None:
    worked = handmade.make_worked()
    assert worked.piece is not None
    dowels, other = worked.piece.joints
    joints = (replace(dowels, kind="rests on"), other)
    made = write(replace(worked, piece=replace(worked.piece, joints=joints)), writer)
    assert "Rail on leg: B on A" in text_of(made["joints.md"])
    assert "drawings/joint-1.svg" not in made


def test_joint_in_which_nothing_is_cut_has_no_figure(writer: Writer) -> None:
    worked = handmade.make_worked()
    assert worked.joinery is not None
    plain = tuple(
        replace(fit, first_features=(), second_features=(), sizes=()) for fit in worked.joinery.fits
    )
    made = write(replace(worked, joinery=replace(worked.joinery, fits=plain)), writer)
    assert "Rail to leg: B to A. Rail to far leg: B to C. Glued." in text_of(made["joints.md"])
    assert "drawings/joint-1.svg" not in made


def test_overall_sizes_are_drawn_on_the_overview_where_there_is_a_drawing(writer: Writer) -> None:
    scenes = {**handmade.SCENES, "arrangement": handmade.make_scene("arrangement")}
    pages = view_plan(handmade.SOURCE, handmade.make_worked(), scenes)
    made = {file.src_uri: file for file in write_plan(pages, writer)}
    overview = text_of(made["plans/side-frame/index.md"])
    assert "Overall sizes {: #arrangement } [Drawing arrangement." in overview
    assert "plans/side-frame/drawings/arrangement.svg" in made
    # On paper it shares the sheet of the parts list, and is there once.
    printed = str(made["plans/side-frame/print.md"].body)
    assert printed.count("Overall sizes {:") == 1
    assert printed.index("#parts-index ") < printed.index("Overall sizes {:")
    without = write(handmade.make_worked(), writer)
    assert "Overall sizes" not in text_of(without["index.md"])


def test_every_part_sheet_leads_to_the_key_of_its_signs(files: dict[str, GeneratedFile]) -> None:
    text = text_of(files["parts/index.md"])
    for sign in ("Face mark", "Edge mark", "Grain", "Letters"):
        assert sign in text
    assert 'href="../#key"' in str(files["parts/leg.md"].body)
    assert 'href="#parts-index-key"' in str(files["print.md"].body)


def test_marks_on_the_exploded_view_are_named_below_it(files: dict[str, GeneratedFile]) -> None:
    for page in ("index.md", "print.md"):
        text = text_of(files[page])
        assert re.search(
            r"\[Drawing exploded\.[^]]*\] Drawing exploded.*? A leg B rail C far leg", text
        )


def test_the_cutting_page_says_what_is_taken_and_what_to_store(
    files: dict[str, GeneratedFile],
) -> None:
    text = text_of(files["cutting.md"])
    assert "Stock, in millimetres Qty Stock Size From 1 ply 1220 × 2440 the yard" in text
    # Of the sheet and of the rod made by hand.
    assert "ply 1a ply 2031 1220" in text
    assert "peg 1a peg 894 10" in text


def test_the_store_s_cuts_are_listed_apart_where_the_plan_says_what_fits_the_car(
    writer: Writer,
) -> None:
    worked = handmade.make_worked()
    assert worked.cut_plan is not None
    haul = (Fraction(1220), Fraction(2100))
    cut_plan = replace(
        worked.cut_plan,
        haul_mm=haul,
        sheets=tuple(replace(sheet, store=(1,)) for sheet in worked.cut_plan.sheets),
    )
    text = text_of(write(replace(worked, cut_plan=cut_plan), writer)["cutting.md"])
    # By hand: the sheet of 2440 is cut at 406; what is left of it, 2031 x 1220, fits.
    # Birch plywood of 680 kg/m3 (handbook/panels.yml), 18 mm: 12.24 kg/m2.
    assert "Pieces of up to 1220 × 2100 mm are hauled." in text
    assert "ply 1 1 the sheet 2440 × 1220 across the sheet 406 left end large" in text
    assert "ply 1: 2 pieces, 1220 × 406 mm (6.1 kg) and 2031 × 1220 mm (30.3 kg)." in text
    assert "At the store" not in text_of(write(worked, writer)["cutting.md"])


def test_labels_have_a_page_that_the_printed_plan_leaves_out(writer: Writer) -> None:
    scenes = {**handmade.SCENES, "labels-1": handmade.make_scene("labels-1")}
    pages = view_plan(handmade.SOURCE, handmade.make_worked(), scenes)
    made = {file.src_uri: file for file in write_plan(pages, writer)}
    assert "[Drawing labels-1." in text_of(made["plans/side-frame/labels.md"])
    assert "labels-1" not in str(made["plans/side-frame/print.md"].body)
    assert 'href="../labels/"' in str(made["plans/side-frame/parts/index.md"].body)
    assert "plans/side-frame/drawings/labels-1.svg" in made


def test_the_schedule_tells_terms_days_and_what_holds_up_the_end(
    files: dict[str, GeneratedFile],
) -> None:
    text = text_of(files["schedule.md"])
    assert "one person and 6 hours a day" in text
    assert "It is proved that no other order is done sooner." in text
    assert "1. Rip strips for A, B and C" in text
    assert "Holds up the end" in text
