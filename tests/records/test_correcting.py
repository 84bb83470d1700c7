"""Values of a trial's page by their names: changed and changed back, the page is as it was to the byte."""

from __future__ import annotations

from textwrap import dedent

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.domain.trial_facts import trial_facts, value_of
from ovenleaf.records import schema
from ovenleaf.records.codec.correcting import with_value_of
from ovenleaf.records.codec.editing import StepWrittenOut
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.yaml_text import read

PAGE = dedent(
    """\
    # my own remark
    format: trial/1
    trial: market-roll/2026-11-12-noor
    formula: market-roll
    revision: r2.noor
    code: D2
    baker: noor
    state: done
    bake_date: 2026-11-12       # a Thursday
    batch: 600 g flour
    weighed:
      water: 396 g              # felt tight
      poolish:
        water: 120 g
    flours: {strong wheat flour: "Mill Lane, lot B-114"}
    steps:
      - fold: 30 min in
      - fold: 60 min in
      - bulk: 58 min at 26 C, covered
      - bake:
          time: 19 min
          temperature: 220 C
    measured:
      pieces: 12
      dough temperature: '25.5 C'
    scale: 0 to 10
    scores:
      noor:
        crumb: 7
        faults: [too pale, flat]
        blind: true
        note: wants more colour
    log:
      - 2026-11-12T07:39:00+01:00 +6 g water
    pin: "4f2c8a0b"
    """
)
FIELDS = {
    "bake_date": ("2026-11-11", "2026-11-10"),
    "batch": ("700 g flour", "500 g flour"),
    "weighed.water": ("369 g", "390 g"),
    "weighed.poolish:water": ("119 g", "121 g"),
    "flours.strong wheat flour": ("lot B-115", "another, with a comma"),
    "steps.fold": ("20 min in", "10 min in"),
    "steps.fold 2": ("50 min in", "40 min in"),
    "steps.bulk": ("60 min at 26 C", "1 h"),
    "steps.bulk.time": ("60 min", "85 min"),
    "steps.bulk.temperature": ("27 C", "24 C"),
    "steps.bake.time": ("18 min", "21 min"),
    "measured.pieces": ("11", "13"),
    "measured.dough temperature": ("25 C", "26 C"),
    "scores.noor.crumb": ("7.5", "8"),
    "scores.noor.blind": ("false", "false"),
    "scores.noor.note": ("wants more crust", "fine"),
    "log.1": ("2026-11-12T07:39:00+01:00 +9 g water", "x"),
}


def page(text=PAGE):
    """A trial's page."""
    return read(text, path="trial.yaml")


@pytest.mark.parametrize("field", FIELDS)
def test_a_value_changed_and_changed_back_leaves_the_page_as_it_was(field):
    """The trial says the new value under that very name, the page still fits its schema, and the way back is exact."""
    was = value_of(read_trial(page()), field)
    for value in FIELDS[field]:
        changed = with_value_of(page(), field, value)
        said = value_of(read_trial(changed), field)
        assert said == value
        assert schema.faults("trial", changed) == ()
        assert with_value_of(changed, field, was).text == PAGE


AWAY = (
    "weighed.water",
    "weighed.poolish:water",
    "steps.fold 2",
    "steps.bulk.temperature",
    "steps.bake.temperature",
    "measured.pieces",
    "scores.noor.crumb",
    "scores.noor.faults.flat",
    "batch",
    "log.1",
    "flours.strong wheat flour",
)


@pytest.mark.parametrize("field", AWAY)
def test_a_value_taken_away_is_not_there(field):
    """Nothing else is lost with it."""
    before = read_trial(page())
    after = read_trial(with_value_of(page(), field, ""))
    assert value_of(before, field)
    assert value_of(after, field) == ""
    gone = {key for key in trial_facts(before) if key not in trial_facts(after)}
    assert gone == ({field} if field in trial_facts(before) else set())


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("weighed.salt", "12 g"),
        ("weighed.poolish:instant yeast", "0.2 g"),
        ("kitchen.room", "21 C"),
        ("steps.final proof", "50 min at 28 C"),
        ("steps.final proof.time", "50 min"),
        ("steps.bulk.dough temperature", "25 C"),
        ("scores.noor.crust", "8"),
        ("scores.noor.faults.dull", "dull"),
        ("question", "softer?"),
    ],
)
def test_what_was_not_there_is_added(field, value):
    """Under its name, with everything else as it was."""
    changed = with_value_of(page(), field, value)
    assert value_of(read_trial(changed), field) == value
    assert schema.faults("trial", changed) == ()
    assert all(line in changed.text for line in PAGE.splitlines() if "bulk" not in line and "faults" not in line)


def test_the_line_of_a_step_whose_fields_stand_one_by_one_is_not_written_anew():
    """It has no line; each field has its name."""
    with pytest.raises(StepWrittenOut):
        with_value_of(page(), "steps.bake", "18 min at 230 C")


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc", "Zl", "Zp"]), min_size=1, max_size=30)


@QUICK
@given(
    field=st.sampled_from(["flours.strong wheat flour", "scores.noor.note", "batch", "kitchen.draught"]), value=WORDS
)
def test_any_words_come_back_as_they_were_typed(field, value):
    """Quotes, signs and letters of any script; and changed back, the trial says what it said."""
    changed = with_value_of(page(), field, value)
    assert value_of(read_trial(changed), field) == value
    was = value_of(read_trial(page()), field)
    assert trial_facts(read_trial(with_value_of(changed, field, was))) == trial_facts(read_trial(page()))
