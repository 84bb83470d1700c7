"""Every JSON document has a schema of its own, and every answer fits it."""

from __future__ import annotations

import copy
import json

import pytest
from jsonschema import Draft202012Validator

from ovenleaf.records.assets import answer_kinds, answer_schema_text

NOW = "2026-11-25T12:00:00+01:00"
ANSWERS = {
    "formula": ["show market-roll", "show honey-milk-bun r1", "show caraway-rye"],
    "trial": ["show A4", "show last", "show A3"],
    "ingredient": ["show butter", "show levain", "show water"],
    "list": ["list"],
    "history": ["history caraway-rye", "history market-roll"],
    "diff": ["diff market-roll", "diff --trials A4 A6", "diff market-roll honey-milk-bun"],
    "rank": ["rank", "rank market-roll --by revision", "rank --top 2"],
    "check": ["check"],
    "weigh": [
        "weigh market-roll caraway-rye --pieces 24,2",
        "weigh market-roll --water-temp --room 20C --flour-temp 19C",
    ],
}


def validator(kind):
    """The validator of one kind of document."""
    return Draft202012Validator(json.loads(answer_schema_text(kind)))


@pytest.mark.parametrize("kind", answer_kinds())
def test_schemas_are_schemas_and_describe_every_field(kind):
    """Each is valid JSON Schema 2020-12, and no field goes undescribed."""
    schema = json.loads(answer_schema_text(kind))
    Draft202012Validator.check_schema(schema)

    def walk(part):
        for value in part.get("properties", {}).values():
            assert value.get("description") or "const" in value, part
            walk(value)
        for key in ("items", "then", "else", "additionalProperties"):
            if isinstance(part.get(key), dict):
                walk(part[key])

    walk({key: value for key, value in schema.items() if key not in ("then", "else")})


@pytest.mark.parametrize(("kind", "line"), [(kind, line) for kind, lines in ANSWERS.items() for line in lines])
def test_every_answer_fits_its_schema_and_a_mutated_one_does_not(kind, line, oven, sample_book):
    """What a command prints is valid; with any required key missing, or one too many, it is not."""
    ran = oven(f"{line} --json", cwd=sample_book, now=NOW)
    assert ran.code in (0, 1), ran.err
    document = json.loads(ran.out)
    assert document["format"] == f"ovenleaf.{kind}/1"
    check = validator(kind)
    assert [e.message for e in check.iter_errors(document)] == []
    for key in document:
        mutated = copy.deepcopy(document)
        del mutated[key]
        assert not check.is_valid(mutated), key
    assert not check.is_valid({**document, "more": 1})


def test_answers_over_an_empty_and_a_broken_book_fit_too(oven, tmp_path, sample_book):
    """No formula at all, a broken page, a draft: the documents keep their form."""
    oven("start stall --baker noor", cwd=tmp_path)
    for line in ("list", "check"):
        document = json.loads(oven(f"{line} --json", cwd=tmp_path / "stall", now=NOW).out)
        assert validator(document["format"].split(".")[1].split("/")[0]).is_valid(document)
    (sample_book / "formulas/olive-flatbread.yaml").write_text("formula: [\n")
    page = sample_book / "formulas/market-roll.yaml"
    page.write_text(page.read_text().replace("water: 71%", "water: 72%"))
    for line in ("list", "rank", "show market-roll", "diff market-roll --draft", "history market-roll", "check"):
        document = json.loads(oven(f"{line} --json", cwd=sample_book, now=NOW).out)
        kind = document["format"].split(".")[1].split("/")[0]
        assert [e.message for e in validator(kind).iter_errors(document)] == [], line


def test_a_refusal_fits_its_schema(oven, sample_book):
    """On the error output, with what to type next."""
    document = json.loads(oven("show nothing-such --json", cwd=sample_book, now=NOW).err)
    assert validator("refusal").is_valid(document)


@pytest.mark.parametrize("kind", ["trial", "ovenleaf.trial/1", "rank", "book"])
def test_schemas_can_be_shown_without_a_book(kind, oven, tmp_path):
    """A page's by its kind, an answer's by its format."""
    ran = oven(f"show --schema {kind}", cwd=tmp_path)
    assert ran.code == 0, ran.err
    assert json.loads(ran.out)["properties"]["format"]
    refused = oven("show --schema trail", cwd=tmp_path)
    assert refused.code == 3
    assert "Did you mean trial?" in refused.err
