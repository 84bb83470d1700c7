"""--sentences on every reading command: each row spoken whole, with every figure that the table has."""

from __future__ import annotations

import importlib
import inspect
import re

import pytest

from ovenleaf.cli import table
from refusals_support import reads_well

NOW = "2026-11-25T12:00:00+01:00"

# Those that test_side_roads.py reads as well are told here of other formulas, so that more kinds of rows are heard.
SPOKEN = {
    "rank-all": "rank",
    "rank-weights": "rank caraway-rye --weights crumb=2,crust=1,flavour=0 --top 3",
    "rank-all-by-revision": "rank --by revision",
    "diff-formulas": "diff market-roll seeded-roll",
    "diff-trials": "diff --trials A4 A6",
    "diff-enriched": "diff honey-milk-bun",
    "diff-flours": "diff caraway-rye r2 r3",
    "compare": "compare olive-flatbread",
    "history-roll": "history market-roll",
    "show-poolish": "show market-roll",
    "show-levain": "show caraway-rye keeper",
    "show-ingredient": "show butter",
    "show-left-out": "show B3",
    "show-card": "show tea-cake --card",
    "weigh-pieces": "weigh caraway-rye --pieces 6",
    "taste": "taste 2026-10-24",
    "next": "next seeded-roll",
    "check": "check",
    "find": "find crumb above 8",
}
READING = ("list", "rank", "diff", "compare", "history", "show", "find", "weigh", "check", "taste", "next")
FIGURE = re.compile(r"\d+(?:\.\d+)?")


@pytest.mark.parametrize("name", SPOKEN)
def test_a_screen_in_sentences(name, oven, sample_book, golden):
    """Golden, and read by eye: no row is split into columns, and no row ends in the air."""
    ran = oven(f"{SPOKEN[name]} --sentences", cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err
    reads_well(ran.out)
    golden(f"sentences/{name}", ran.out)
    told = ran.out.split("\nNext\n")[0].split("\nNext, ")[0]
    assert not [line for line in told.splitlines() if re.search(r"\S {2,}\S", line)]
    tables = [block for block in told.split("\n\n") if not block.startswith(("Left out", "What this can tell"))]
    rows = re.sub(r"\n {4}(?! )", " ", "\n\n".join(tables))  # a sentence that goes on in the next line
    for row in re.findall(r"^ {2}([^:\n]+: .*)$", rows, re.MULTILINE):
        assert row.endswith((".", "?", "!")), row


@pytest.mark.parametrize("name", SPOKEN)
def test_sentences_say_all_that_the_table_says(name, oven, sample_book):
    """Every figure of the table is heard, and no other."""
    table_screen = oven(SPOKEN[name], cwd=sample_book, now=NOW).out
    spoken = oven(f"{SPOKEN[name]} --sentences", cwd=sample_book, now=NOW).out
    assert set(FIGURE.findall(spoken)) == set(FIGURE.findall(table_screen))


def test_ovenleaf_alone_can_be_heard(oven, sample_book, golden):
    """What is going on, told in whole sentences; before a command the option is refused, as --json is."""
    ran = oven("--sentences", cwd=sample_book, now=NOW)
    assert ran.code == 0
    reads_well(ran.out)
    golden("sentences/now", ran.out)
    refused = oven("--sentences list", cwd=sample_book, now=NOW)
    assert (refused.code, refused.out) == (2, "")
    assert refused.err.startswith("--sentences stands behind the command")


def test_every_command_with_tables_can_be_heard():
    """The commands that answer in JSON, which are those that read, take --sentences too, and are tried."""
    tried = {line.split(" ")[0] for line in SPOKEN.values()} | {"list"}  # list: test_side_roads.py
    for command in table.COMMANDS:
        module, _, function = command.target.partition(":")
        takes = inspect.signature(getattr(importlib.import_module(module), function)).parameters
        assert ("as_json" in takes) == ("sentences" in takes) == (command.name in READING), command.name
        assert command.name in tried or command.name not in READING
