"""A trial's page edited by path: values set, lines added, blocks begun where the page has them, all else as typed."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from textwrap import dedent

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.domain.trial import Correction
from ovenleaf.records import schema
from ovenleaf.records.codec import trial_edits
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.meant import SpliceFault
from ovenleaf.records.nodes import plain
from ovenleaf.records.yaml_text import read

PAGE = dedent(
    """\
    # my own remark
    format: trial/1
    trial: market-roll/2026-11-12-noor
    formula: market-roll
    revision: r2.noor
    code: D2                    # on the tape
    state: in hand
    weighed:
      water: 396 g              # felt tight
    steps:
      - bulk: 58 min at 26 C
    scores: {noor: {crumb: 7}}
    pin: "4f2c8a0b"
    """
)
MADE = Correction(
    field="weighed.water", was="369 g", now="396 g", by="noor", at="2026-11-19T18:02:00+01:00", why="digits swapped"
)


def page(text=PAGE):
    """A trial's page."""
    return read(text, path="trials/market-roll/2026-11-12-noor.yaml")


def changed(after):
    """The lines of a page that PAGE does not have, and those of PAGE that it has lost."""
    old, new = PAGE.splitlines(), after.text.splitlines()
    return [line for line in new if line not in old], [line for line in old if line not in new]


@pytest.mark.parametrize(
    ("where", "value", "lines", "lost"),
    [
        (("weighed", "water"), "390 g", ["  water: 390 g              # felt tight"], [PAGE.splitlines()[8]]),
        (("weighed", "salt"), "10 g", ["  salt: 10 g"], []),
        (("weighed", "poolish", "water"), "120 g", ["  poolish:", "    water: 120 g"], []),
        (("flours", "strong wheat flour"), "lot B-114", ["flours:", "  strong wheat flour: lot B-114"], []),
        (("measured", "pieces"), 12, ["measured:", "  pieces: 12"], []),
        (("steps", 0, "bulk"), "60 min", ["  - bulk: 60 min"], ["  - bulk: 58 min at 26 C"]),
        (
            ("scores", "noor", "crumb"),
            Decimal("7.5"),
            ["scores: {noor: {crumb: 7.5}}"],
            ["scores: {noor: {crumb: 7}}"],
        ),
        (
            ("scores", "tomas", "crust"),
            8,
            ["scores: {noor: {crumb: 7}, tomas: {crust: 8}}"],
            ["scores: {noor: {crumb: 7}}"],
        ),
        (("state",), "done", ["state: done"], ["state: in hand"]),
        (("bake_date",), "2026-11-12", ["bake_date: 2026-11-12"], []),
    ],
)
def test_a_value_is_set_where_it_belongs(where, value, lines, lost):
    """Only the lines that are meant are new or gone, and the page still fits its schema."""
    after = trial_edits.with_field(page(), where, value)
    assert changed(after) == (lines, lost)
    assert schema.faults("trial", after) == ()


def test_blocks_stand_in_the_order_of_the_page_whenever_they_come():
    """Whatever is told first, the page ends up in one order, with the pin at its foot."""
    after = page()
    for where in (("log",), ("flours", "rye"), ("measured", "pieces"), ("bake_date",), ("kitchen", "room")):
        after = trial_edits.with_field(after, where, ["07:40 mixed"] if where == ("log",) else "x")
    after = trial_edits.with_correction(after, MADE)
    keys = [entry.key for entry in after.root.entries]
    assert keys == sorted(keys, key=trial_edits.ORDER.index)
    assert keys[-1] == "pin"


def test_the_order_names_every_block_that_a_page_may_have():
    """A block that the schema knows has its place."""
    known = json.loads((Path(__file__).parents[2] / "schemas/trial.v1.json").read_text(encoding="utf-8"))
    assert sorted(trial_edits.ORDER) == sorted(known["properties"])


def test_lines_are_added_to_a_list_or_begin_one():
    """A log that is not there is begun; one that is grows at its end."""
    after = trial_edits.with_lines(page(), ("log",), ["07:39 +6 g water", "07:44 mixed"])
    assert read_trial(after).log == ("07:39 +6 g water", "07:44 mixed")
    assert changed(after)[1] == []
    more = trial_edits.with_line(after, ("steps",), {"bake": "19 min"})
    assert [step.name for step in read_trial(more).steps] == ["bulk", "bake"]


def test_a_correction_is_named_at_the_foot():
    """It reads back as it was made; a value that was not there is left empty, not zero."""
    after = trial_edits.with_correction(page(), MADE)
    assert read_trial(after).corrections == (MADE,)
    taken = Correction(field="measured.pieces", was="12", now="", by="noor", at=MADE.at, why="another dough")
    again = trial_edits.with_correction(after, taken)
    assert read_trial(again).corrections == (MADE, taken)
    assert "now: null" in again.text
    assert schema.faults("trial", again) == ()


def test_what_is_taken_away_leaves_no_empty_block():
    """The last value of a block takes the block's name with it, and nothing else."""
    assert changed(trial_edits.without_field(page(), ("weighed", "water"))) == ([], PAGE.splitlines()[7:9])
    assert changed(trial_edits.without_field(page(), ("scores", "noor", "crumb"))) == ([], [PAGE.splitlines()[11]])
    assert changed(trial_edits.without_field(page(), ("steps", 0))) == ([], PAGE.splitlines()[9:11])


def test_a_block_may_be_put_in_the_place_of_a_value():
    """Water under a bowl's name instead of in all, and back."""
    under = trial_edits.with_field(page(PAGE.replace("water:", "poolish:")), ("weighed", "poolish"), {"water": "120 g"})
    assert plain(under.root)["weighed"] == {"poolish": {"water": "120 g"}}
    back = trial_edits.with_field(under, ("weighed", "poolish"), "240 g")
    assert plain(back.root)["weighed"] == {"poolish": "240 g"}


@pytest.mark.parametrize("where", [("state", "of", "mind"), ("steps", 5, "bulk"), ("code", "x")])
def test_a_path_that_leads_nowhere_is_our_own_fault(where):
    """A value has nothing under it, and a list only the places it has."""
    with pytest.raises(SpliceFault):
        trial_edits.with_field(page(), where, "x")


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), min_size=1, max_size=20)


@QUICK
@given(
    block=st.sampled_from(["weighed", "flours", "kitchen", "measured", "plan"]),
    key=WORDS,
    value=WORDS,
    second=WORDS,
)
def test_any_words_set_and_set_back_leave_the_page_as_it_was(block, key, value, second):
    """Whatever is typed: it reads back as it is, a second value replaces it, and taking it away restores the bytes."""
    where = (block, f"{key} of mine")
    once = trial_edits.with_field(page(), where, value)
    assert plain(once.root)[block][where[1]] == value
    twice = trial_edits.with_field(trial_edits.with_field(once, where, second), where, value)
    assert plain(twice.root) == plain(once.root)
    assert trial_edits.without_field(once, where).text == PAGE
