"""Shop files: what they give, and what is said of those that cannot be read."""

from __future__ import annotations

from fractions import Fraction

import jsonschema
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.shops import CODES, HAND_TOOLS, KNOWN_SHOPS, USUAL_SHOP, read_shop, schema
from benchleaf.shops.records import ClampStock, MitreSaw

FERNHILL = """\
shop: Fernhill community workshop
units: in
machines:
  table saw: {rip: 30, sled: 36 x 24, carries: 45 lb}
  mitre saw: {wide: 8}
  drill press: usual
  router: yes
router bits: [1/2, 1/4]
dowel jig: []
clamps: [4 x 48, 8 x 24]
"""
INCH = Fraction(254, 10)


def say(text: str, file: str = "shops/fernhill.shop.yml") -> list[str]:
    shop, findings = read_shop(text, file)
    assert (shop is None) == bool(findings)
    return [str(finding).partition(f"{file}:")[2] for finding in findings]


def read(text: str):
    shop, findings = read_shop(text, "shops/fernhill.shop.yml")
    assert findings == ()
    assert shop is not None
    return shop


def test_a_shop_has_the_machines_that_are_named_and_no_others():
    shop = read(FERNHILL)
    assert shop.machines() == ("table saw", "mitre saw", "drill press", "router")
    assert (shop.name, shop.title) == ("fernhill", "Fernhill community workshop")


def test_what_is_told_of_a_machine_is_taken_and_the_rest_is_usual():
    saw = read(FERNHILL).table_saw
    usual = USUAL_SHOP.table_saw
    assert saw is not None
    assert usual is not None
    assert (saw.rip_mm, saw.sled_deep_mm) == (30 * INCH, 24 * INCH)
    assert (saw.height_mm, saw.panel_mm) == (usual.height_mm, usual.panel_mm)
    # NIST Special Publication 811, B.8: a pound is 0.45359237 kg.
    assert saw.carries_kg == 45 * Fraction("0.45359237")


def test_a_narrow_mitre_saw_is_no_wider_without_its_slide_nor_at_45():
    saw = read(FERNHILL).mitre_saw
    assert saw is not None
    assert saw.rigid_mm == min(8 * INCH, MitreSaw().rigid_mm)
    # The cosine of 45 degrees is half the square root of two, 0.7071.
    assert float(saw.wide_at_45_mm) == pytest.approx(8 * 25.4 * 0.5**0.5, abs=0.01)


def test_bits_and_clamps_are_put_in_order():
    shop = read(FERNHILL)
    assert shop.router_bits_mm == (INCH / 4, INCH / 2)
    assert shop.dowel_jig_mm == ()
    assert shop.drill_bits_mm is None
    assert shop.clamps == (
        ClampStock(count=8, opening_mm=24 * INCH),
        ClampStock(count=4, opening_mm=48 * INCH),
    )


def test_a_shop_that_names_no_machines_has_the_usual_ones():
    shop = read("shop: Ours\nunits: mm\n")
    assert shop.machines() == USUAL_SHOP.machines()
    assert shop.is_assumed
    assert not read(FERNHILL).is_assumed


def test_hand_tools_have_no_motor_and_a_name_of_their_own():
    assert HAND_TOOLS.machines() == ()
    assert [shop.name for shop in KNOWN_SHOPS.values()] == list(KNOWN_SHOPS)


@pytest.mark.parametrize(
    ("old", "new", "expect"),
    [
        (
            "drill press: usual",
            "drillpress: usual",
            (
                "6:3: machines: `drillpress` is no key of the machines\n"
                "  Needed: one of its keys; the nearest are `drill press` and `drill`.   [R011]"
            ),
        ),
        (
            "drill press: usual",
            "drill press: great",
            (
                "6:16: machines.drill press: `great` says nothing of a drill press\n"
                "  Needed: `usual`, or what it takes, such as `throat`.   [R982]"
            ),
        ),
        (
            "8 x 24",
            "many x 24",
            (
                "10:18: clamps[1]: `many x 24` is not a number of clamps and how far they open\n"
                "  Needed: count x opening, such as 8 x 24.   [R981]"
            ),
        ),
        (
            "carries: 45 lb",
            "carries: a piano",
            (
                "4:48: machines.table saw.carries: `a piano` is not a mass\n"
                "  Needed: a mass with its unit, such as 45 lb or 20 kg.   [R980]"
            ),
        ),
        (
            "carries: 45 lb",
            "carries: 0 kg",
            (
                "4:48: machines.table saw.carries: `0 kg` is not a mass\n"
                "  Needed: a mass with its unit, such as 45 lb or 20 kg.   [R980]"
            ),
        ),
        (
            "rip: 30",
            "rip: 0",
            "4:20: machines.table saw.rip: `0` is not more than 0\n  Needed: more than 0.   [R021]",
        ),
    ],
)
def test_a_slip_is_found_with_its_place_and_what_is_needed(old: str, new: str, expect: str):
    assert say(FERNHILL.replace(old, new)) == [expect]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "R006"),
        ("shop: a\n---\nshop: b\n", "R006"),
        ("- list", "R012"),
        ("a: &a [x]\nb: *a\n", "R007"),
        ("shop: !!python/object/apply:os.system [ls]\nunits: in\n", "R007"),
        ("shop: {\n", "R005"),
        ("shop: \x07\nunits: in\n", "R005"),
        ("shop: ours\u202e\nunits: in\n", "R016"),
        ("[" * 100_000, "R005"),
        ("a: 1\n" * 200_000, "R003"),
        (f"shop: a\nunits: in\nclamps: [{'1 x 6, ' * 40}]\n", "R024"),
    ],
)
def test_hostile_files_end_in_a_finding_that_speaks_of_shops(text: str, code: str):
    shop, findings = read_shop(text, "shops/a.shop.yml")
    assert shop is None
    assert code in [finding.code for finding in findings]
    assert not any("plan" in f"{own.message} {own.remedy} {own.subject}" for own in findings)


def test_a_name_that_cannot_be_an_address_is_refused():
    assert say("shop: a\nunits: in\n", "shops/Our Shop.shop.yml") == [
        (
            "1:1: the shop: the file's name `Our Shop` cannot be part of an address\n"
            "  Needed: letters a to z, digits and single hyphens, such as `hand-tools.shop.yml`.   "
            "[R004]"
        )
    ]


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=80))
def test_no_text_crashes_the_reader(text: str):
    read_shop(text, "shops/a.shop.yml")
    read_shop(f"shop: a\nunits: in\nmachines:\n  table saw: {text}\n", "shops/a.shop.yml")


def test_the_schema_takes_what_the_reader_takes():
    checker = jsonschema.Draft7Validator(schema())
    assert list(checker.iter_errors(yaml.safe_load(FERNHILL))) == []
    wrong = yaml.safe_load(FERNHILL.replace("drill press: usual", "drillpress: usual"))
    assert list(checker.iter_errors(wrong)) != []


def test_codes_of_shops_are_none_of_the_plans():
    from benchleaf.reading import CODES as READING  # noqa: PLC0415 - beside the only use

    assert not set(CODES) & set(READING)
