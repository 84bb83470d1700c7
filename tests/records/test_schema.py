"""Pages against their schemas: what passes, and what is said of what does not."""

from __future__ import annotations

import dataclasses
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from ovenleaf.domain.ingredients import Ingredient, Kind
from ovenleaf.domain.revision import SLUG, code_at, is_slug, revision_name
from ovenleaf.domain.trial import Correction, Marks, State
from ovenleaf.findings import Severity
from ovenleaf.records.assets import ingredients_text, schema_text
from ovenleaf.records.nodes import Page, plain
from ovenleaf.records.schema import faults, inlined, kind_of
from ovenleaf.records.schema_fault import Fault
from ovenleaf.records.schema_words import TOLD_RULES, parts_of, tell
from ovenleaf.records.upgrade import LATEST
from ovenleaf.records.yaml_out import dump
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Iterator

KINDS = tuple(LATEST)
VALID = {path.stem: path.read_text(encoding="utf-8") for path in sorted((Path(__file__).parent / "valid").glob("*"))}
ANNOTATIONS = {"$schema", "$id", "$defs", "$ref", "title", "description"}
LOOK_INSIDE = {"properties", "items", "propertyNames"}


def page(text: str) -> Page:
    return read(text, path="x.yaml")


def said(kind: str, text: str, *, kept: bool = False) -> list[str]:
    return [f"{one.line} {one.code}: {one.message}\n  {one.fix}\n" for one in faults(kind, page(text), kept=kept)]


def schemas_in(part: Any) -> Iterator[dict[str, Any]]:
    """Every schema inside a schema file, as it is written there."""
    yield part
    for key in ("properties", "$defs"):
        for below in part.get(key, {}).values():
            yield from schemas_in(below)
    for key in ("additionalProperties", "items", "propertyNames"):
        if isinstance(part.get(key), dict):
            yield from schemas_in(part[key])


# --- the schema files ---------------------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
def test_each_schema_is_one(kind: str) -> None:
    """Each schema file is good JSON Schema 2020-12 and named by what it is."""
    schema = json.loads(schema_text(kind))
    Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["$id"] == f"{kind}.v1.json"


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_is_described(kind: str) -> None:
    """Every field, and everything a block may hold, has a sentence that says what it is."""
    found = 0
    for part in schemas_in(inlined(kind, 1)):
        found += 1
        assert re.fullmatch(r"[A-Zg].+\.", part["description"]), part
        assert "x-should" in part or "enum" in part, part
    assert found > 10


@pytest.mark.parametrize("kind", KINDS)
def test_schemas_keep_to_what_can_be_told(kind: str) -> None:
    """No rule stands in a schema that has no words, and none that would hide which field is at fault."""
    for part in schemas_in(json.loads(schema_text(kind))):
        rules = {key for key in part if not key.startswith("x-")} - ANNOTATIONS - LOOK_INSIDE
        assert rules <= TOLD_RULES
        if "properties" in part:
            assert part.get("additionalProperties") is not None
            assert "x-thing" in part
        if "$ref" in part:
            assert rules == set(), "only words may stand beside a $ref"


def test_schemas_agree_with_the_domain() -> None:
    """The fixed words and forms in the schemas are those of the domain."""
    ingredient = inlined("ingredients", 1)["properties"]["ingredients"]["additionalProperties"]["properties"]
    assert ingredient["kind"]["enum"] == [kind.value for kind in Kind]
    fields = {field.name for field in dataclasses.fields(Ingredient)} - {"name", "known", "sources"}
    assert {name for name in ingredient if not name.endswith("_source")} == fields
    trial = inlined("trial", 1)["properties"]
    assert trial["state"]["enum"] == [state.value for state in State]
    assert {field.name for field in dataclasses.fields(Marks)} - {"taster", "out_of"} <= set(
        trial["scores"]["additionalProperties"]["properties"]
    )
    assert [field.name for field in dataclasses.fields(Correction)] == list(trial["corrections"]["items"]["properties"])
    assert trial["formula"]["pattern"] == rf"^{SLUG.pattern}\Z"


@pytest.mark.parametrize(
    "name", ["r2.noor", "r2.noor.tomas", "r2", "r0.noor", "r02.noor", "r2.Noor", "r1234567.noor", "r2.noor\n", "2.noor"]
)
def test_revision_names_as_in_the_domain(name: str) -> None:
    """The schema takes just those revision names that the domain reads."""
    assert (said("trial", dump({"revision": name})) == []) == (revision_name(name) is not None)


@given(st.text(st.sampled_from("abAB0-. /\n"), max_size=44))
def test_names_as_in_the_domain(name: str) -> None:
    """The schema takes names of the right form; reserved words and a hyphen at the end are left to the domain."""
    taken = said("formula", dump({"formula": name})) == []
    assert taken or not is_slug(name)
    assert taken == bool(SLUG.fullmatch(name))


# --- pages that are right -----------------------------------------------------------------------


@pytest.mark.parametrize("name", VALID)
def test_good_pages_pass(name: str) -> None:
    """Nothing is said of a page that is right."""
    assert said(name.partition("-")[0], VALID[name]) == []


def test_the_built_in_ingredients_pass() -> None:
    """The built-in ingredient list is a good page."""
    assert said("ingredients", ingredients_text()) == []


@pytest.mark.parametrize("kind", KINDS)
def test_a_page_with_nothing_in_it_passes_until_it_is_kept(kind: str) -> None:
    """What is typed needs nothing but its content; a kept page needs what ovenleaf writes, in its order."""
    assert said(kind, "{}\n") == []
    told = said(kind, "{}\n", kept=True)
    assert [line.split(".\n")[0] for line in told] == [
        f"1 missing-field: this page has no {name}" for name in inlined(kind, LATEST[kind])["x-stamps"]
    ]


@pytest.mark.parametrize(
    "name", ["formula-market-roll", "formula-bowl-by-bowl", "trial-market-roll", "marks-market-roll"]
)
def test_kept_pages_pass_as_kept(name: str) -> None:
    """A page as ovenleaf keeps it has all its stamps."""
    assert said(name.partition("-")[0], VALID[name], kept=True) == []


def test_codes_of_any_length_pass() -> None:
    """Trial codes of two to four signs pass, though some look like the beginning of a number."""
    assert [said("trial", f"code: {code_at(place)}\n") for place in (0, 215, 216, 2376)] == [[], [], [], []]


# --- pages that are wrong -----------------------------------------------------------------------

_BLOCK = re.compile(r"^== (\w+)\n(.*?)^--\n(.*?)(?=\n==|\Z)", re.MULTILINE | re.DOTALL)
BROKEN = _BLOCK.findall((Path(__file__).parent / "broken_pages.txt").read_text(encoding="utf-8"))


def test_there_are_broken_pages() -> None:
    """The list of broken pages was read whole."""
    text = (Path(__file__).parent / "broken_pages.txt").read_text(encoding="utf-8")
    assert len(BROKEN) == text.count("\n== ") > 50


@pytest.mark.parametrize(("kind", "text", "expected"), BROKEN, ids=[text.split("\n")[0] for _, text, _ in BROKEN])
def test_faults_in_the_bakers_words(kind: str, text: str, expected: str) -> None:
    """Each fault is told in one sentence, with its line and how to mend it."""
    assert "".join(said(kind, text)) == expected


def test_all_faults_of_a_page_at_once() -> None:
    """All that is wrong with a page is told at once, in the order of its lines, with the line as typed."""
    broken = [
        "state: Done",
        "crum: 7",
        "scores:",
        "  tomas:",
        "    crust: good   # as ever",
        "    hours_after: -1",
        "steps:",
        "  - bake:",
        "bake_date: today",
    ]
    found = faults("trial", page("\n".join(broken)))
    assert [(one.line, one.code) for one in found] == [
        (1, "not-one-of"),
        (2, "unknown-field"),
        (5, "wrong-type"),
        (6, "out-of-range"),
        (8, "empty"),
        (9, "wrong-form"),
    ]
    assert found[2].text == "crust: good   # as ever"
    assert {(one.path, one.severity) for one in found} == {("x.yaml", Severity.ERROR)}


def test_numbers_are_shown_as_typed() -> None:
    """A number is shown with the digits that stand in the page."""
    assert "it is the number 110.50." in said("ingredients", "ingredients:\n  rye flour:\n    water: 110.50\n")[0]


def test_long_text_is_cut_off() -> None:
    """A long text is shown by its beginning."""
    told = said("trial", f"state: {'a long story of how it went ' * 9}\n")[0]
    assert "it is the text 'a long story of how it went a long st...'" in told


def test_newer_pages_are_noted_and_not_looked_into() -> None:
    """A page by a newer ovenleaf is a note, not an error, whatever else stands in it."""
    (note,) = faults("trial", page("format: trial/2\nunheard_of: 1\n"), kept=True)
    assert (note.severity, note.code) == (Severity.NOTE, "newer-page")


def test_a_rule_without_words_is_our_fault() -> None:
    """A rule that nobody gave words to stops the program rather than speak in another's words."""
    odd = Fault(rule="multipleOf", path=(), value=1, schema={}, whole={}, page=page("a: 1\n"))
    with pytest.raises(KeyError):
        list(tell(odd))


# --- what kind of page --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("format: trial/1\n", ("trial", 1)),
        ("title: x\nformat: 'formula/12'\n", ("formula", 12)),
        ("format: diary/3\n", ("diary", 3)),
        ("title: x\n", None),
        ("format: trial\n", None),
        ("format: trial/0\n", None),
        ("format: trial/1.0\n", None),
        ("format: 1\n", None),
        ("format:\n", None),
        ("format:\n  - trial/1\n", None),
        ('format: "trial/1\\n"\n', None),
    ],
)
def test_the_kind_of_a_page(text: str, kind: tuple[str, int] | None) -> None:
    """A page says its kind and version in one line, or it says none."""
    assert kind_of(page(text)) == kind


# --- laws ---------------------------------------------------------------------------------------


def verdicts(schema: dict[str, Any], data: object) -> list[tuple[str, tuple[str | int, ...], str]]:
    errors = Draft202012Validator(schema).iter_errors(data)
    return sorted((str(one.validator), tuple(one.absolute_path), str(one.instance)) for one in errors)


@pytest.mark.parametrize(("kind", "text"), [(kind, text) for kind, text, _ in BROKEN])
def test_inlining_changes_no_verdict_on_broken_pages(kind: str, text: str) -> None:
    """A schema finds the same faults whether its parts are named or written in place."""
    data = plain(page(text).root)
    assert verdicts(inlined(kind, 1), data) == verdicts(json.loads(schema_text(kind)), data)


LEAKS = re.compile(
    r"is not of type|does not match|is not valid|additional|propert|required|schema|pattern|null|object|array|boolean|"
    r"integer|decimal|None|\bcommit\b|\bbranch\b|\brepository\b",
    re.IGNORECASE,
)
SCALARS = st.sampled_from([None, True, 0, -1, 101, "", "seven", "7", "r2", "2026-11-12", "Noor", "noor"])
ODD = st.recursive(
    SCALARS,
    lambda below: (
        st.lists(below, max_size=2) | st.dictionaries(st.sampled_from(["a", "was", "water"]), below, max_size=2)
    ),
    max_leaves=4,
)


def paths(data: Any, above: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    below = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [path for key, value in below for path in ((*above, key), *paths(value, (*above, key)))]


@given(st.data())
def test_whatever_is_wrong_is_told_in_our_words(draw: st.DataObject) -> None:
    """However a good page is spoiled, something is said just when the schema says it is not good, and said plainly."""
    name = draw.draw(st.sampled_from(sorted(VALID)))
    kind, data = name.partition("-")[0], plain(page(VALID[name]).root)
    path = draw.draw(st.sampled_from([one for one in paths(data) if one != ("format",)]))
    spot: Any = data
    for step in path[:-1]:
        spot = spot[step]
    spot[path[-1]] = draw.draw(ODD)
    if isinstance(spot, dict) and draw.draw(st.booleans()):
        spot[draw.draw(st.sampled_from(["crumb", "Why", "odd", "Nothing Known"]))] = draw.draw(SCALARS)
    spoiled = page(dump(data))
    told = faults(kind, spoiled)
    assert bool(told) == (not Draft202012Validator(json.loads(schema_text(kind))).is_valid(plain(spoiled.root)))
    assert [one.line for one in told] == sorted(one.line or 0 for one in told)
    for one in told:
        assert one.line is not None
        assert one.fix
        assert not LEAKS.search(f"{one.message} {one.fix}")


@pytest.mark.parametrize("kind", KINDS)
def test_each_part_can_be_walked_to(kind: str) -> None:
    """The walk that looks for a field's home goes through every part of a schema."""

    def count(schema: Any) -> int:
        return 1 + sum(count(below) for below in parts_of(schema))

    assert count(inlined(kind, 1)) == sum(1 for _ in schemas_in(inlined(kind, 1)))


def test_the_checker_is_loaded_at_the_first_check() -> None:
    """Asking a page for its kind does not load the library that checks; checking it does."""
    script = (
        "import sys\n"
        "from ovenleaf.records import schema, yaml_text\n"
        "page = yaml_text.read('format: trial/1\\n', path='x')\n"
        "schema.kind_of(page), schema.inlined('trial', 1)\n"
        "print('jsonschema' in sys.modules)\n"
        "schema.faults('trial', page)\n"
        "print('jsonschema' in sys.modules)\n"
    )
    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert ran.stdout.split() == ["False", "True"]
