from __future__ import annotations

import json
from pathlib import Path

import pytest
import yaml
from jsonschema import Draft7Validator

from benchleaf.reading import schema
from plan_texts import BENCH, WORDS, change, read

CASES = yaml.safe_load((Path(__file__).parent / "findings.yml").read_text("utf-8"))
SCHEMA = schema(WORDS)


def accepts(text):
    # As an editor sees the file: YAML's own guesses and all.
    return Draft7Validator(SCHEMA).is_valid(yaml.safe_load(text))


def test_the_schema_is_a_schema():
    Draft7Validator.check_schema(SCHEMA)  # the meta-schema of draft-07, from json-schema.org
    assert SCHEMA["$schema"] == "http://json-schema.org/draft-07/schema#"


def test_the_schema_is_plain_json_and_always_the_same():
    assert json.loads(json.dumps(SCHEMA)) == SCHEMA
    assert json.dumps(schema(WORDS)) == json.dumps(SCHEMA)


def test_the_schema_takes_what_the_reader_takes():
    assert accepts(BENCH)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("length: 44", "length: 44.5"),
        ("length: 44", "length: 3' 8\""),
        ("through: yes", "through: no"),
        ("mirror: front-back", "mirror: [front-back]"),
        ("revision: A", "revision: 3"),
        ("covers: [glue-up: leg]", 'covers: "glue-up: leg"'),
        ("lengths: [96, 72]", "lengths: 96"),
        ("lengths: [96, 72]", "length: 96"),
        ("count: 5, gap: 1", "count: 5, to: 40"),
    ],
)
def test_the_schema_takes_other_spellings_as_the_reader_does(old, new):
    text = change(old, new)
    assert read(text)[1] == ()
    assert accepts(text)


@pytest.mark.parametrize(
    "name",
    ["a missing key", "a part without stock", "a board without lengths", "two words for one thing",
     "a misspelt key of a part", "a misspelt key of the plan", "a list for a value",
     "a value for keys", "a number in words", "a number out of range", "a misspelt word",
     "neither yes nor no", "a sheet without an x", "a dowel without a length",
     "a joint of three parts", "a joint of one part", "stock of no kind", "stock of two kinds",
     "a misspelt joint", "a row without spacing", "a misspelt choice", "no lengths",
     "a mirror twice", "a name with a meaning of its own", "a text that is too long"],
)  # fmt: skip
def test_the_schema_refuses_what_it_can_see_is_wrong(name):
    case = next(case for case in CASES if case["name"] == name)
    assert not accepts(change(case["old"], case["new"]))


def test_every_key_is_described_for_the_editor():
    for name, described in SCHEMA["properties"].items():
        assert described["description"].endswith("."), name
