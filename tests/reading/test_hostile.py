"""Plans come from strangers: nothing in them may crash the reader, hang it, or fill the memory."""

from __future__ import annotations

import tracemalloc

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.findings import Finding
from benchleaf.reading.plan import Plan
from plan_texts import BENCH, change, read, shown

# The shape of the attack known as billion laughs, CVE-2003-1564 in XML, in YAML.
LAUGHS = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]\n"
    for before, name in zip("abcdefgh", "bcdefghi", strict=True)
)


def codes(text):
    plan, findings = read(text)
    assert plan is None
    return [finding.code for finding in findings]


def test_billion_laughs_are_not_expanded():
    assert codes(LAUGHS) == ["R007"]


@pytest.mark.parametrize(
    "text",
    [
        "[" * 100_000,
        "{a: " * 100_000,
        "- " * 100_000,
        "\n".join(" " * depth + "a:" for depth in range(600)),
        "? " * 100_000,
    ],
    ids=["lists", "maps", "dashes", "blocks", "keys"],
)
def test_deep_nesting_ends_in_a_finding(text):
    assert codes(text)[0] in {"R003", "R005"}


def test_ten_megabytes_are_refused_unread():
    text = "a: 1\n" * 2_000_000
    tracemalloc.start()
    assert shown(text) == [
        (
            "1:1: the plan: the plan has 10000000 characters\n"
            "  Needed: at most 262144. Split the piece into several plans.   [R003]"
        )
    ]
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 1_000_000


def test_a_hundred_thousand_keys_end_in_a_finding():
    assert codes("[" + "a," * 100_000 + "]")[-1] == "R003"


def test_an_endless_number_is_refused():
    assert codes(change("length: 44", "length: 1e999")) == ["R030"]
    assert codes(change("length: 44", f"length: {'9' * 150}")) == ["R020"]
    assert codes(change("layers: 3", f"layers: {'9' * 5000}")) == ["R017"]
    assert codes(change("count: 2}", "count: \N{ARABIC-INDIC DIGIT TWO}}")) == ["R017"]


@pytest.mark.parametrize(
    "new",
    [
        "!!python/object/apply:os.system [ls]",
        "!!binary aGVsbG8=",
        "!<tag:yaml.org,2002:int> 3",
        "! x",
    ],
)
def test_tags_are_refused(new):
    assert codes(change("wide: leg\n", f"wide: {new}\n")) == ["R007"]


def test_a_merge_key_is_only_a_strange_key():
    assert codes(change("  leg:\n", "  leg:\n    <<: {stock: pine}\n")) == ["R011"]


def test_hidden_signs_are_never_shown_back():
    text = change("    note: Glue", "    n\u202eote: Glue")
    assert "\u202e" not in "".join(shown(text))
    assert "n?ote" in shown(text)[0]


def test_hidden_signs_in_a_name_are_never_shown_back():
    text = BENCH.replace("slat", "sl\u202eat").replace("stock: pine", "stock: pien")
    assert codes(text)[:2] == ["R015", "R037"]
    assert "\u202e" not in "".join(shown(text))


def test_half_a_surrogate_pair_is_refused():
    assert codes(BENCH + "x: \ud800") == ["R005"]


def test_long_words_are_cut_in_findings():
    text = change("stock: pine", f"stock: {'long ' * 5000}")
    assert max(map(len, shown(text))) < 400
    assert max(map(len, shown(BENCH + "k" * 900 + ": 1"))) < 400


def _is_sound(text):
    plan, findings = read(text)
    assert plan is None or isinstance(plan, Plan)
    assert all(isinstance(finding, Finding) for finding in findings)
    assert all(str(finding).isprintable() or "\n" in str(finding) for finding in findings)
    return (plan is None) <= bool(findings)


@given(st.text(max_size=200))
def test_any_text_gives_findings_and_no_error(text):
    assert _is_sound(text)


@given(st.binary(max_size=200))
def test_any_bytes_give_findings_and_no_error(raw):
    assert _is_sound(raw.decode("latin-1"))


values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(
            st.sampled_from(
                ["plan", "units", "parts", "stock", "leg", "left", "wide", "row", "mirror",
                 "joints", "dowels", "size", "sheet", "overall", "sizes", "covers", "steps",
                 "x", ""]
            ),
            inner,
            max_size=6,
        )
    ),
    max_leaves=30,
)  # fmt: skip


@given(values)
def test_any_yaml_gives_findings_and_no_error(value):
    assert _is_sound(yaml.safe_dump(value, allow_unicode=True))


@settings(max_examples=150)
@given(st.integers(0, len(BENCH)), st.integers(0, 12), st.text(max_size=6))
def test_a_plan_damaged_anywhere_gives_findings_or_a_plan(at, length, inserted):
    assert _is_sound(BENCH[:at] + inserted + BENCH[at + length :])
