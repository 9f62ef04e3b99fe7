"""What is reckoned of pieces, against arithmetic on paper and facts that must hold."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from benchleaf.checking import CHECKS, members, racking, reckon_piece
from benchleaf.checking.loads import load_of
from benchleaf.checking.records import Verdict, Working
from benchleaf.checking.standing import how_it_stands
from benchleaf.checking.stiffness import stuff_of
from benchleaf.frames import Axis
from benchleaf.joinery import JOINT_KINDS
from benchleaf.joinery.records import Joinery
from benchleaf.reading.plan import PlanLoad, Room, Stands
from small_plans import work_small_plan

SHELF = {
    "units": "in",
    "overall": {"wide": 37.5, "deep": 11.25, "high": 40},
    "parts": {
        "side": {"box": "0 0 0 to 3/4 11-1/4 40", "mirror": ["left-right"]},
        "shelf": {"box": "3/4 0 20 to 36-3/4 11-1/4 20-3/4", "of": "red oak", "thickness": "high"},
    },
    "joints": [{"housing": ["shelf", "side"]}],
}


def _working(joinery: Joinery, title: str) -> Working:
    (found,) = (w for w in reckon_piece(joinery) if w.title.startswith(title))
    return found


def _with_plan(joinery: Joinery, **changes: object) -> Joinery:
    return replace(
        joinery, piece=replace(joinery.piece, plan=replace(joinery.piece.plan, **changes))
    )


def _with_load(joinery: Joinery, part: str, load: PlanLoad) -> Joinery:
    parts = dict(joinery.piece.plan.parts)
    parts[part] = replace(parts[part], load=load)
    return _with_plan(joinery, parts=parts)


def test_a_red_oak_shelf_sags_as_by_hand() -> None:
    # Red oak 11.25 x 0.75 in over 36 in, 40 lb on a square foot is 112.5 lb, E 1.82 million psi:
    # 5 W L3 / (384 E I) = 0.09495 in.
    joinery, _ = work_small_plan(SHELF)
    sag = _working(joinery, "Sag of shelf")
    assert float(sag.result.value) / 25.4 == pytest.approx(0.09495, abs=1e-5)
    assert sag.limit is not None
    assert float(sag.limit.value) / 25.4 == pytest.approx(36 / 144)


def test_the_formula_shown_gives_the_result_from_the_inputs_shown() -> None:
    joinery, _ = work_small_plan(SHELF)
    sag = _working(joinery, "Sag of shelf")
    given = {item.symbol: float(item.value) for item in sag.inputs}
    assert sag.formula == "s = 5 W L³ / (384 E I)"
    by_formula = 5 * given["W"] * given["L"] ** 3 / (384 * given["E"] * given["I"])
    assert float(sag.result.value) == pytest.approx(by_formula, rel=1e-4)
    assert given["I"] == pytest.approx(given["b"] * given["h"] ** 3 / 12)


def test_a_load_of_the_plan_takes_the_place_of_the_usual_one() -> None:
    joinery, _ = work_small_plan(SHELF)
    # 56.25 lb is half of the usual load on this shelf, so it sags half as much: 0.04747 in.
    mass = Fraction("56.25") * Fraction("0.45359237")
    heavy = _with_load(joinery, "shelf", PlanLoad(word="", mass_kg=mass))
    assert float(_working(heavy, "Sag of shelf").result.value) / 25.4 == pytest.approx(
        0.04747, abs=1e-5
    )
    none = _with_load(joinery, "shelf", PlanLoad(word="none", mass_kg=None))
    nought = _with_load(joinery, "shelf", PlanLoad(word="", mass_kg=Fraction(0)))
    for bare in (none, nought):
        assert not [w for w in reckon_piece(bare) if w.title.startswith("Sag")]


@pytest.mark.parametrize(
    ("title", "name", "word"),
    [
        ("Bookcase", "tall shelf", "books"),
        ("Plant stand", "tier", "plants"),
        ("Shoe rack", "slat", "a general load"),
        ("Hall bench", "seat", "one person"),
        ("Hall bench", "seat rail", None),
        ("Bookcase", "shelf pin", None),
        ("Desk", "top", None),
    ],
)
def test_loads_are_proposed_for_what_is_plainly_a_seat_or_a_shelf(title, name, word) -> None:
    # common practice, no source: what is called a shelf has things on it.
    joinery, _ = work_small_plan({"units": "mm", "parts": {name: "0 0 0 to 600 200 18"}})
    joinery = _with_plan(joinery, title=title)
    carried = load_of(joinery.piece, joinery.piece.parts[name])
    assert (carried.words if carried else None) == word


def test_rails_and_ends_share_what_lies_on_a_seat_and_nothing_is_lost() -> None:
    joinery, _ = work_small_plan(
        {
            "units": "mm",
            "overall": {"wide": 1000, "deep": 400, "high": 500},
            "parts": {
                "end": {"box": "0 0 0 to 20 400 500", "mirror": ["left-right"]},
                "rail": {"box": "20 0 380 to 980 20 480", "mirror": ["front-back"]},
                "shelf": {"box": "20 0 480 to 980 400 500", "sheet": "long", "thickness": "high"},
            },
            "joints": [
                {"dowels": ["rail", "end"]},
                {"rests on": ["shelf", "rail"]},
                {"dowels": ["shelf", "end"]},
            ],
        }
    )
    # 40 lb on a square foot is 1.9152 kPa: on 960 x 400 mm 735.4 N; statics halves it by symmetry.
    rail = _working(joinery, "Sag of rail")
    load = next(float(item.value) for item in rail.inputs if item.symbol == "W")
    assert load == pytest.approx(735.4 / 2, abs=0.1)
    # The rail is 20 x 100 of pine on edge, over 960: 5 W L3 / (384 E I).
    modulus = 1.29e6 * 6.894757e-3
    by_hand = 5 * load * 960**3 / (384 * modulus * 20 * 100**3 / 12)
    assert float(rail.result.value) == pytest.approx(by_hand, rel=1e-3)
    assert "With both ends held fast" in rail.note


def test_splayed_legs_carry_a_seat_at_points_and_it_bends_both_ways() -> None:
    joinery, _ = work_small_plan(
        {
            "units": "in",
            "overall": {"wide": 16, "deep": 12, "high": 18},
            "parts": {
                "leg": {
                    "box": "3 2-1/2 0 to 4-1/2 4 16-1/2",
                    "grain": "high",
                    "splay": {"side": 8, "front": 8},
                    "mirror": ["left-right", "front-back"],
                    "of": "ash",
                },
                "seat": {
                    "box": "0 0 16-1/2 to 16 12 18",
                    "grain": "wide",
                    "thickness": "high",
                    "of": "ash",
                },
            },
            "joints": [{"round tenon": ["leg", "seat"], "through": "yes", "wedged": "yes"}],
        }
    )
    sag = _working(joinery, "Sag of seat")
    # The tops of the legs are 8-1/2 apart from middle to middle along the seat.
    span = next(float(item.value) for item in sag.inputs if item.symbol == "L")
    assert span / 25.4 == pytest.approx(8.5, abs=0.05)
    # Across the grain it is far weaker, so that way decides: a fifth of 0.05 of 15,400 psi.
    strain = _working(joinery, "Strain of seat")
    assert strain.limit is not None
    assert float(strain.limit.value) / 6.894757e-3 == pytest.approx(154, rel=1e-3)
    # The feet of a splayed stool stand wider than its seat, and brace it.
    assert [w.verdict for w in reckon_piece(joinery) if w.code == "K226"] == [Verdict.HOLDS] * 2


def test_plywood_across_its_faces_is_the_softer() -> None:
    # Seven equal plies, ET 0.05 of EL: 0.447 of the stiffness along; on edge 0.817 (by hand: plies
    # along the span hold 4/7 of the section, 244/343 of its second moment when flat).
    joinery, _ = work_small_plan(
        {
            "units": "mm",
            "parts": {
                "shelf": {
                    "box": "0 0 0 to 600 300 18",
                    "sheet": "long",
                    "of": "birch plywood",
                }
            },
        }
    )
    part = joinery.piece.parts["shelf"]
    along, across, edge = (
        stuff_of(part, axis, is_on_edge=on_edge)
        for axis, on_edge in ((Axis.WIDE, False), (Axis.DEEP, False), (Axis.WIDE, True))
    )
    assert along is not None
    assert across is not None
    assert edge is not None
    flat = 244 / 343
    whole = flat + 0.05 * (1 - flat)
    assert across.modulus_mpa / along.modulus_mpa == pytest.approx(
        ((1 - flat) + 0.05 * flat) / whole
    )
    assert edge.modulus_mpa / along.modulus_mpa == pytest.approx((4 / 7 + 0.05 * 3 / 7) / whole)
    # Architectural Woodwork Standards (2009), p. 279: 1,800,000 psi.
    assert along.modulus_mpa == pytest.approx(1.8e6 * 6.894757e-3, rel=1e-6)


def test_damper_rooms_move_wood_more() -> None:
    joinery, _ = work_small_plan(
        {"units": "mm", "parts": {"top": {"box": "0 0 0 to 900 300 20", "of": "white oak"}}}
    )
    usual = _working(joinery, "Width of top")
    # Wood Handbook Table 4-2 at 70 F: 6.2 and 10.1 %; Table 13-5: 0.00365.
    assert float(usual.result.value) == pytest.approx(300 * 0.00365 * 3.9, rel=0.02)
    outside = _with_plan(joinery, room=Room(driest=40, dampest=90))
    wide = _working(outside, "Width of top")
    assert "3000 / S" in wide.formula
    assert float(wide.result.value) > 2 * float(usual.result.value)


def test_wood_along_the_grain_and_panels_do_not_move() -> None:
    joinery, _ = work_small_plan(
        {
            "units": "mm",
            "parts": {
                "top": {"box": "0 0 0 to 900 300 18", "sheet": "long", "of": "birch plywood"},
                "strip": {"box": "0 0 18 to 900 20 38", "of": "white oak"},
            },
            "joints": [{"butt": ["strip", "top"]}],
        }
    )
    assert not [w for w in reckon_piece(joinery) if w.code == "K223"]


@pytest.mark.parametrize(
    ("text", "stands"),
    [
        ("A shelf that hangs on the wall.", Stands.HUNG),
        ("A bench for the hall.", Stands.FLOOR),
    ],
)
def test_text_tells_how_a_piece_stands_where_no_word_does(text: str, stands: Stands) -> None:
    joinery, _ = work_small_plan(SHELF)
    plan = replace(joinery.piece.plan, summary=text)
    assert how_it_stands(plan) is stands
    assert how_it_stands(replace(plan, stands=Stands.ANCHORED)) is Stands.ANCHORED


def test_every_working_says_what_it_is_and_where_it_comes_from() -> None:
    joinery, _ = work_small_plan(SHELF)
    workings = reckon_piece(joinery)
    assert len({w.topic for w in workings}) >= 3
    for working in workings:
        assert working.title
        assert working.formula
        assert working.words
        assert not working.code or working.code in CHECKS
        if working.verdict in {Verdict.OVER, Verdict.DANGER}:
            assert working.remedy
        if working.limit:
            assert working.limit.source


def test_nothing_is_reckoned_of_a_piece_that_does_not_go_together() -> None:
    joinery, _ = work_small_plan(
        {
            "units": "in",
            "parts": {"side": "0 0 0 to 3/4 11 40", "shelf": "1/2 0 20 to 23-1/2 11 20-3/4"},
            "joints": [],
        }
    )
    assert reckon_piece(joinery) == ()


def test_joints_that_count_as_stiff_are_joints() -> None:
    assert set(JOINT_KINDS) >= racking._STIFF
    assert set(JOINT_KINDS) >= members._STIFF_ENDS


def test_a_stretcher_lapped_over_its_legs_bends_between_their_middles() -> None:
    # The legs are broader along the stretcher than it is thick, and carry it all the same.
    joinery, _ = work_small_plan(
        {
            "units": "mm",
            "overall": {"wide": 1200, "deep": 400, "high": 500},
            "parts": {
                "leg": {"box": "0 0 0 to 90 40 500", "mirror": ["left-right", "front-back"]},
                "stretcher": {"box": "0 0 150 to 1200 40 240", "mirror": ["front-back"]},
                "shelf": {"box": "90 0 240 to 1110 400 260", "sheet": "short", "thickness": "high"},
            },
            "joints": [
                {"half lap": ["stretcher", "leg"]},
                {"butt": ["shelf", "stretcher"], "screws": "8 x 50", "glue": "no"},
            ],
        }
    )
    sag = _working(joinery, "Sag of stretcher")
    span = next(float(item.value) for item in sag.inputs if item.symbol == "L")
    assert span == pytest.approx(1200 - 90)
