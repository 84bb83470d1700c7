"""Every JSON document has a schema of its own; every answer fits it, and a mutated answer does not."""

from __future__ import annotations

import ast
import copy
import functools
import json
import os
import re
import shlex
import shutil
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

import ovenleaf.present
from ovenleaf.cli import table
from ovenleaf.cli.lazy import load
from ovenleaf.present.documents.common import text
from ovenleaf.records.assets import answer_kinds, answer_schema_text
from ovenleaf.records.upgrade import LATEST
from support import run_ovenleaf

NOW = "2026-11-25T12:00:00+01:00"
EACH = "*"  # every element of a list, every value of an open map

# (book, command line): the kind of document that answers it. `lived-in` is the sample book with a bake in
# hand, a correction, a draft, a draft whose flours are not 100 %, and two pages that cannot be read;
# `stall` is an empty book; `cut-off` is an empty book whose last entry was cut off; `nowhere` is none;
# `spoiled` is an empty book with a half-made file and another program's lock file in it.
ANSWERS = {
    ("sample", "show market-roll"): "formula",
    ("sample", "show honey-milk-bun r1"): "formula",
    ("sample", "show caraway-rye"): "formula",
    ("sample", "show advent-loaf r5"): "formula",
    ("lived-in", "show market-roll"): "formula",
    ("sample", "show advent-loaf --more"): "more",
    ("sample", "show honey-milk-bun r2 --more --bake-loss 11%"): "more",
    ("sample", "show olive-flatbread --more"): "more",
    ("lived-in", "show market-roll --more"): "more",
    ("sample", "show tea-cake --card"): "card",
    ("lived-in", "show tea-cake --card"): "card",
    ("sample", "show market-roll --card"): "refusal",
    ("sample", "show A4"): "trial",
    ("sample", "show last"): "trial",
    ("sample", "show A3"): "trial",
    ("sample", "show D3"): "trial",
    ("sample", "show B3"): "trial",
    ("sample", "show seeded-roll/2026-11-20-noor"): "trial",
    ("lived-in", "show last"): "trial",
    ("lived-in", "show D3"): "trial",
    ("lived-in", "show Z9"): "trial",
    ("sample", "show butter"): "ingredient",
    ("sample", "show levain"): "ingredient",
    ("sample", "show 'fresh yeast'"): "ingredient",
    ("stall", "show water"): "ingredient",
    ("sample", "list"): "list",
    ("stall", "list"): "list",
    ("lived-in", "list"): "list",
    ("sample", "find market-roll, dough above 24C"): "find",
    ("sample", "find gummy, dough above 90C"): "find",
    ("lived-in", "find too pale"): "find",
    ("sample", "list --gaps"): "gaps",
    ("stall", "list --gaps"): "gaps",
    ("lived-in", "list --gaps"): "gaps",
    ("sample", ""): "now",
    ("stall", ""): "now",
    ("lived-in", ""): "now",
    ("cut-off", ""): "now",
    ("sample", "history caraway-rye"): "history",
    ("sample", "history market-roll"): "history",
    ("sample", "history advent-loaf"): "history",
    ("lived-in", "history market-roll"): "history",
    ("sample", "history market-roll --against hydration"): "history",
    ("sample", "history caraway-rye --chart --of crumb"): "history",
    ("sample", "diff market-roll"): "diff",
    ("sample", "diff caraway-rye r1 r4"): "diff",
    ("sample", "diff honey-milk-bun r1 r3"): "diff",
    ("sample", "diff --trials A4 A6"): "diff",
    ("sample", "compare market-roll honey-milk-bun"): "diff",
    ("lived-in", "diff market-roll --draft"): "diff",
    ("sample", "rank"): "rank",
    ("sample", "rank --top 2 --weights crumb=1,crust=0"): "rank",
    ("sample", "rank market-roll --by revision"): "rank",
    ("lived-in", "rank"): "rank",
    ("lived-in", "rank --by revision"): "rank",
    ("sample", "next seeded-roll"): "next",
    ("lived-in", "next market-roll"): "next",
    ("lived-in", "next caraway-rye"): "next",
    ("lived-in", "taste 2026-11-20"): "tasting",
    ("lived-in", "taste 2026-11-21"): "tasting",
    ("lived-in", "taste 2026-11-22"): "tasting",
    ("sample", "check"): "check",
    ("stall", "check"): "check",
    ("lived-in", "check"): "check",
    ("spoiled", "check --repair --preview"): "check",
    ("sample", "weigh market-roll caraway-rye --pieces 24,2"): "weigh",
    ("sample", "weigh market-roll --flour 1000g"): "weigh",
    ("sample", "weigh honey-milk-bun --household"): "weigh",
    ("sample", "weigh market-roll --water-temp --room 30C --flour-temp 28C --tap 24C"): "weigh",
    ("sample", "weigh market-roll --begin 2026-11-26T07:00"): "weigh",
    ("stall", "rank"): "refusal",
    ("stall", "rank --by revision"): "refusal",
    ("stall", "diff market-roll"): "refusal",
    ("stall", "history market-roll"): "refusal",
    ("stall", "weigh market-roll"): "refusal",
    ("stall", "show last"): "refusal",
    ("stall", "taste"): "refusal",
    ("stall", "next market-roll"): "refusal",
    ("sample", "show nothing-such"): "refusal",
    ("sample", "show"): "refusal",
    ("sample", "show --schema trail"): "refusal",
    ("sample", "diff"): "refusal",
    ("lived-in", "show olive-flatbread"): "refusal",
    ("lived-in", "show seeded-roll"): "refusal",
    ("lived-in", "diff olive-flatbread --draft"): "refusal",
    ("nowhere", ""): "refusal",
    ("nowhere", "list"): "refusal",
}


@dataclass(frozen=True)
class Field:
    """One field that a schema asks for: the kind of document, the way to it, and what the schema says of it.

    `when` is what a document must fit for the schema to ask for this field at all.
    """

    kind: str
    path: tuple[str, ...]
    part: dict
    when: dict

    def __str__(self) -> str:
        return f"{self.kind}:{'/'.join(self.path)}"


def schema(kind):
    """The schema of one kind of document."""
    return json.loads(answer_schema_text(kind))


@functools.cache
def validator(kind):
    """The validator of one kind of document."""
    return Draft202012Validator(schema(kind))


def parts(part, path=(), when=None):
    """A schema and all that stands inside it, each with the way to it and the condition it stands under."""
    when = when or {}
    yield path, part, when
    for name, inner in part.get("properties", {}).items():
        yield from parts(inner, (*path, name), when)
    for key in ("items", "additionalProperties"):
        if isinstance(part.get(key), dict):
            yield from parts(part[key], (*path, EACH), when)
    if "if" in part:
        yield from parts(part["then"], path, part["if"])
        yield from parts(part["else"], path, {"not": part["if"]})


FIELDS = [
    Field(kind, path, part, when)
    for kind in answer_kinds()
    for path, part, when in parts(schema(kind))
    if path and any(word in part for word in ("type", "enum", "const"))
]


def types(part):
    """The types a schema allows."""
    given = part.get("type", [])
    return [given] if isinstance(given, str) else given


def wrong(part):
    """A value that is near the right one, and of the wrong type: a number as text, text as a number."""
    kind = next(iter(types(part)), "string")
    return {"string": 7, "number": "7.5", "integer": 7.5, "boolean": "yes", "array": {}, "object": []}[kind]


@pytest.fixture(scope="module")
def books(sample_as_built, tmp_path_factory):
    """The books by name, for reading only."""
    room = tmp_path_factory.mktemp("books")
    for name in ("sample", "lived-in"):
        shutil.copytree(sample_as_built, room / name)
    for name in ("stall", "cut-off", "spoiled"):
        assert run_ovenleaf(f"start {name} --baker noor", cwd=room, now=NOW).code == 0
    (room / "nowhere").mkdir()
    _live_in(room / "lived-in")
    pending = room / "cut-off/.git/ovenleaf/pending"
    pending.parent.mkdir(exist_ok=True)
    pending.write_text("half a li")
    (room / "spoiled/.git/ovenleaf/page.tmp").write_text("half a page")
    lock = room / "spoiled/.git/index.lock"
    lock.write_text("")
    os.utime(lock, (datetime.fromisoformat(NOW).timestamp(),) * 2)
    return room


def _live_in(book: Path) -> None:
    _edit(book / "formulas/market-roll.yaml", "water: 71%", "water: 72%\n  quark: 2%")
    _edit(book / "formulas/seeded-roll.yaml", "ingredients:", "ingredients:\n  medium rye flour: 5%")
    (book / "formulas/olive-flatbread.yaml").write_text("formula: [\n")
    (book / "trials/market-roll/2026-11-24-noor.yaml").write_text("trial: [\n")
    last = book / "trials/caraway-rye/2026-11-07-noor.yaml"
    _edit(last, "log:\n", LOGGED)
    _edit(last, "pin:", f"{CORRECTED}pin:")
    _edit(last, "  petra:", "  petra:\n    faults: [too pale]")
    in_hand = last.read_text().replace("2026-11-07-noor", "2026-11-25-noor").replace("code: D3", "code: Z9")
    in_hand = in_hand.replace("+6 g water, felt tight", "mixed")
    in_hand = in_hand.replace("batch:", "plan:\n  room: 17 C\nbatch:", 1)
    in_hand = re.sub(r"^scores:.*?^(?=\w)", "", in_hand.replace("state: done", "state: in hand"), flags=re.M | re.S)
    (last.parent / "2026-11-25-noor.yaml").write_text(in_hand.replace("bake_date: 2026-11-07", "bake_date: 2026-11-25"))
    (book / "trials/caraway-rye/2026-11-26-noor.yaml").write_text(PLANNED)
    (book / "tastings").mkdir(exist_ok=True)
    for day, page in TASTINGS.items():
        head = f"format: tasting/1\ntasting: {day}-noor\nby: noor\nset_up: {day}T12:00:00+01:00\n"
        (book / f"tastings/{day}-noor.yaml").write_text(head + page)


PLANNED = """\
format: trial/1
trial: caraway-rye/2026-11-26-noor
formula: caraway-rye
revision: r2.noor
code: Z8
baker: noor
question: was it the day?
state: planned
pin: "0000000000000000000000000000000000000000"
"""

# One that is opened, a triangle that is, and one that is not all in; the sealed words are the keys below them.
TASTINGS = {
    "2026-11-20": """\
design: marks
question: is the wetter dough worth it?
breads: [A7, B5]
orders: {noor: 417 282, tomas: 282 417, petra: 417 282, anna: 282 417, ben: 417 282, jo: 282 417}
sealed: 737 O0; 962 N2
marks:
  noor: {"417": {crumb: 6, crust: 6}, "282": {crumb: 8, crust: 7}}
  tomas: {"417": {crumb: 5, crust: 6}, "282": {crumb: 8, crust: 7}}
  petra: {"417": {crumb: 6, crust: 7}, "282": {crumb: 8, crust: 8}}
  anna: {"417": {crumb: 6, crust: 6}, "282": {crumb: 7, crust: 7}}
  ben: {"417": {crumb: 4, crust: 6}, "282": {crumb: 8, crust: 7}}
  jo: {"417": {crumb: 6, crust: 5}, "282": {crumb: 8, crust: 7}}
opened: 2026-11-20T13:00:00+01:00
key: {"282": B5, "417": A7}
""",
    "2026-11-21": """\
design: triangle
breads: [A7, B5]
orders: {noor: 417 282 905}
sealed: 737 O0; 450 N2; 962 N2
odd: {noor: "282"}
opened: 2026-11-21T13:00:00+01:00
key: {"282": B5, "417": A7, "905": A7}
""",
    "2026-11-22": """\
design: marks
breads: [A7, B5]
orders: {noor: 417 282, tomas: 282 417}
sealed: 737 O0; 962 N2
absent: {tomas: had to leave}
""",
}

LOGGED = """\
log:
  - 2026-11-07T07:39:00+01:00 +6 g water, felt tight
"""
CORRECTED = """\
corrections:
  - field: weighed.water
    was: 369 g
    now: 396 g
    by: noor
    at: 2026-11-19T18:02:00+01:00
    why: digits swapped
"""


def _edit(page: Path, old: str, new: str) -> None:
    before = page.read_text()
    assert before.count(old) == 1, (page, old)
    page.write_text(before.replace(old, new))


@pytest.fixture(scope="module")
def answer(books):
    """`answer(BOOK, LINE)` is the document that a command prints, and where: "out" or "err"."""

    @functools.cache
    def ask(book, line):
        ran = run_ovenleaf(*shlex.split(f"{line} --json"), cwd=books / book, now=NOW)
        assert ran.code in (0, 1, 2, 3), ran.err
        refused = ran.code > 1
        assert (ran.out if refused else ran.err) == "", line
        return json.loads(ran.err if refused else ran.out)

    return ask


def test_every_kind_of_document_has_a_schema_and_every_schema_a_document():
    """No document is made in `present` without a schema in `schemas/answers`, nor a schema kept for none."""
    folder = Path(ovenleaf.present.__file__).parent
    made = {
        node.value
        for page in folder.rglob("*.py")
        for node in ast.walk(ast.parse(page.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and re.fullmatch(r"ovenleaf\.[a-z-]+/\d+", str(node.value))
    }
    assert made == {f"ovenleaf.{kind}/1" for kind in answer_kinds()}


def test_every_command_that_answers_in_json_is_asked_here():
    """A new reading command cannot be forgotten by these tests."""
    bare = load(table.BARE)
    answering = {
        command.name for command in table.COMMANDS if any("--json" in param.opts for param in load(command).params)
    }
    asked = {line.split()[0] if line else "" for (_, line), kind in ANSWERS.items() if kind != "refusal"}
    assert any("--json" in param.opts for param in bare.params)
    assert asked == answering | {""}
    assert set(ANSWERS.values()) == set(answer_kinds())


@pytest.mark.parametrize("kind", answer_kinds())
def test_a_schema_is_whole(kind):
    """Valid JSON Schema 2020-12; every field described and required, nothing beside them, no address made up."""
    whole = schema(kind)
    Draft202012Validator.check_schema(whole)
    assert "$id" not in whole
    assert whole["properties"]["format"]["const"] == f"ovenleaf.{kind}/1"
    for path, part, when in parts(whole):
        under_condition = bool(when) and not path
        assert under_condition or part.get("description", "").endswith((".", "/1")), path
        if "properties" in part and not under_condition:
            assert part["additionalProperties"] is False, path
            assert part["required"] == list(part["properties"]), path
        elif "object" in types(part):
            assert isinstance(part["additionalProperties"], dict), path


UNITS = {
    r".*_pct|pct": "percent",
    r".*_points": "percentage points",
    r".*_g|grams": r"\bg\b",
    r".*_c": "Celsius",
    r"density_g_per_ml": "1 ml.*in g",
    r"crumb|crust|flavour|score|mean|low|high|lowest": "in marks",
    r"hours_after": "Hours",
    r"saved|begins|ends|at|now": "date and time with the offset|what it is now",
    r"bake_date": "year-month-day",
    r"line": "counted from 1",
}


@pytest.mark.parametrize("field", [f for f in FIELDS if f.path[-1] != EACH], ids=str)
def test_a_field_says_its_unit_and_what_null_is(field):
    """Whatever has a unit names it, and whatever can be null says what null means."""
    words = field.part["description"]
    for name, unit in UNITS.items():
        if re.fullmatch(name, field.path[-1]) and field.part.get("type") != "array":
            assert re.search(unit, words, re.I), words
    assert ("null" in types(field.part)) == ("null" in words.lower()), words


@pytest.mark.parametrize(("asked", "kind"), ANSWERS.items(), ids=lambda one: " ".join(one) if len(one) == 2 else one)
def test_every_answer_fits_its_schema(asked, kind, answer):
    """Over the sample book, an empty book, broken pages, drafts: what a command prints keeps its form."""
    document = answer(*asked)
    assert document["format"] == f"ovenleaf.{kind}/1"
    assert [f"{e.json_path}: {e.message}" for e in validator(kind).iter_errors(document)] == []


def found(answer, field, holding=object):
    """The first answer that holds `field`, with the way to it there; `holding` is what the value has to be."""
    for asked, kind in ANSWERS.items():
        if kind == field.kind and Draft202012Validator(field.when).is_valid(answer(*asked)):
            for way in ways(answer(*asked), field.path):
                if isinstance(inside(answer(*asked), way)[way[-1]], holding):
                    return copy.deepcopy(answer(*asked)), way
    raise AssertionError(f"no answer here holds {field}")


def ways(value, path):
    """All the ways to what `path` means in `value`."""
    if not path:
        yield ()
        return
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in pairs:
        if path[0] in (EACH, key):
            for rest in ways(inner, path[1:]):
                yield (key, *rest)


def inside(document, way):
    """What the last word of `way` is a key of."""
    return functools.reduce(lambda value, key: value[key], way[:-1], document)


def removed(value, key, part):
    """Without the field."""
    del value[key]


def renamed(value, key, part):
    """With the field under a name nearby."""
    value[f"{key}s"] = value.pop(key)


def mistyped(value, key, part):
    """With a value of another type."""
    value[key] = wrong(part)


def blanked(value, key, part):
    """With null in it."""
    value[key] = None


def mutations(field):
    """What may not happen to a field; an element of a list may go, and what can be null may be blank."""
    named = [removed, renamed] if field.path[-1] != EACH else []
    return [*named, mistyped, *([] if "null" in types(field.part) else [blanked])]


@pytest.mark.parametrize("field", FIELDS, ids=str)
def test_a_mutated_answer_does_not_fit(field, answer):
    """Each field stands in some answer here, and cannot go, be renamed, be of another type or be blank."""
    document, way = found(answer, field)
    assert validator(field.kind).is_valid(document)
    for mutate in mutations(field):
        mutated = copy.deepcopy(document)
        mutate(inside(mutated, way), way[-1], field.part)
        assert not validator(field.kind).is_valid(mutated), mutate.__name__


def test_one_field_too_many_does_not_fit(answer):
    """A closed form is closed at every depth."""
    for kind in answer_kinds():
        asked = next(asked for asked, its in ANSWERS.items() if its == kind)
        assert not validator(kind).is_valid({**answer(*asked), "more": 1}), kind
    for field in FIELDS:
        if field.part.get("additionalProperties") is False:
            document, way = found(answer, field, holding=dict)
            inside(document, way)[way[-1]]["more"] = 1
            assert not validator(field.kind).is_valid(document), field


def test_decimals_come_out_as_numbers_and_blank_as_null():
    """Never as text, never with a tail of noughts; what is not known is null and not zero."""
    given = {"a": Decimal("7.50"), "b": Decimal("1E+3"), "c": Decimal(2) / 3, "d": Decimal(0), "e": None}
    assert json.loads(text(given)) == {"a": 7.5, "b": 1000, "c": 0.666667, "d": 0, "e": None}
    assert '"b": 1000,' in text(given)
    assert '"d": 0,' in text(given)


def test_what_nobody_scored_is_null_and_what_was_scored_is_as_scored(answer):
    """Blank stays blank from the page to the document."""
    bake = answer("lived-in", "show Z9")
    assert (bake["state"], bake["scores"], bake["crumb"], bake["score"]) == ("in hand", [], None, None)
    scored = {one["taster"]: one for one in answer("sample", "show D3")["scores"]}
    assert (scored["petra"]["crumb"], scored["petra"]["flavour"], scored["tomas"]["hours_after"]) == (9, None, 22)


def test_ovenleaf_alone_says_in_json_what_is_going_on(answer):
    """The bake in hand, the drafts, the pages not saved, the last bake; an entry that was cut off."""
    document = answer("lived-in", "")
    assert document["title"] == "Ferry Lane bread"
    assert "Z9" in [bake["code"] for bake in document["in_hand"]]
    assert {"market-roll", "seeded-roll"} <= set(document["drafts"])
    assert "formulas/market-roll.yaml" in document["unsaved"]
    assert document["last"]["code"] == answer("sample", "")["last"]["code"]
    assert document["cut_off"] is None
    assert answer("cut-off", "")["cut_off"]


@pytest.mark.parametrize("line", ["--json list", "--json start stall", "--book ferry-lane --json rank"])
def test_json_before_a_command_is_refused(line, oven, tmp_path):
    """It is not taken for the command's, and the command does not run; the refusal is a document, as was asked."""
    ran = oven(line)
    assert (ran.code, ran.out) == (2, "")
    document = json.loads(ran.err)
    command = line.split("--json ")[1].split()[0]
    assert document["what"].startswith("--json stands behind the command")
    assert document["next"][0]["command"] == f"ovenleaf {command} --help"
    assert validator("refusal").is_valid(document)
    assert list(tmp_path.iterdir()) == []


def test_a_mistake_before_a_command_is_told_as_a_document_too(oven):
    """Options at the front door are seen by whatever tells what went wrong."""
    document = json.loads(oven("--json lsit").err)
    assert document["what"] == "There is no command lsit. Did you mean list?"


@pytest.mark.parametrize("typed", [kind for kind in answer_kinds() if kind not in LATEST] + ["ovenleaf.check/1"])
def test_the_schema_of_an_answer_is_shown_outside_a_book(typed, oven):
    """By its format, or by its plain name where no page has that name."""
    ran = oven(f"show --schema {typed}")
    assert (ran.code, ran.err) == (0, "")
    kind = typed.removeprefix("ovenleaf.").removesuffix("/1")
    assert json.loads(ran.out) == schema(kind)


@pytest.mark.parametrize("kind", LATEST)
def test_the_schema_of_a_page_is_shown_outside_a_book(kind, oven):
    """By its kind, or as the first line of the page has it."""
    ran = oven(f"show --schema {kind}")
    assert (ran.code, ran.err) == (0, "")
    assert json.loads(ran.out)["properties"]["format"]["pattern"] == f"^{kind}/1$"
    assert oven(f"show --schema {kind}/1").out == ran.out


@pytest.mark.parametrize("kind", sorted(set(LATEST) & set(answer_kinds())))
def test_a_name_that_is_both_means_the_page(kind, oven):
    """And the format means the answer."""
    page, document = (json.loads(oven(f"show --schema {typed}").out) for typed in (kind, f"ovenleaf.{kind}/1"))
    assert page["title"] != document["title"] == f"ovenleaf.{kind}/1"


@pytest.mark.parametrize(
    ("typed", "near"),
    [("trail", "trial"), ("rnak", "rank"), ("ovenleaf.trail/1", "ovenleaf.trial/1"), ("formula/2", "formula")],
)
def test_an_unknown_schema_is_refused_with_the_nearest(typed, near, oven):
    """All there are stand below, and what was probably meant can be typed next."""
    ran = oven(f"show --schema {typed}")
    assert (ran.code, ran.out) == (3, "")
    assert f"There is no schema of {typed}. Did you mean {near}?" in ran.err
    assert all(f"ovenleaf.{kind}/1" in ran.err for kind in answer_kinds())
    assert "Pages: book, ingredients, formula, trial, marks, tasting, card." in ran.err
    assert oven(ran.err.splitlines()[-1].strip()[len("ovenleaf ") :]).code == 0


def test_an_unknown_schema_that_is_near_nothing_guesses_nothing(oven):
    """No nearest is made up."""
    ran = oven("show --schema zzz")
    assert ran.code == 3
    assert "Did you mean" not in ran.err


@pytest.mark.parametrize("line", ["show", "show --schema rank butter"])
def test_show_wants_a_name_or_a_schema(line, oven):
    """Neither, or both, is wrong usage."""
    ran = oven(*line.split())
    assert (ran.code, ran.out) == (2, "")
    assert "NAME" in ran.err
