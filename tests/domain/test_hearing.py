"""Lines at the bench heard: what goes where, in whatever way it is said, and what cannot be so."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from decimal import Decimal

import pytest

from builders import pantry, sheet, trial
from ovenleaf.compare.bakes import condition_name
from ovenleaf.domain.bench_echo import AsWords, Begun, Bread, Ended, EndUnknown, Folded, Kept, Measured, Note, Stands
from ovenleaf.domain.hearing import Bench, hear, with_heard
from ovenleaf.domain.log import standing_lines
from ovenleaf.present.bench_words import sentences

ROLL = """
makes: 12 rolls of 85 g
ingredients:
  strong wheat flour: 100%
  water: 65%
  salt: 2%
  instant yeast: 0.62%
preferments:
  poolish:
    takes: 20% of the flour
    strong wheat flour: 100%
    water: 100%
    rest: 12 h at 21 C
process:
  - first mix: 3 min, low
  - second mix: 9 min, medium, dough 25 C
  - bulk: 60 min at 26 C, until half as big again
  - divide: 85 g
  - shape: round
  - final proof: 50 min at 28 C
  - bake: 18 min at 220 C
"""
BEGUN = """
state: in hand
started: 2026-11-12T07:00:00+01:00
baker: noor
batch: 600 g flour
"""
DAY = "2026-11-12"


@pytest.fixture(scope="module")
def rolls():
    """The market roll worked out."""
    return sheet(ROLL)


class AtTheBench:
    """A bake in hand, and one line after the other."""

    def __init__(self, rolls, page=BEGUN, *, boiling="100", speaker="noor"):
        self.bench = Bench(trial=trial(page), sheet=rolls, pantry=pantry(), boiling=Decimal(boiling), speaker=speaker)
        self.heard = ()

    def say(self, clock, text, day=DAY):
        """Says a line at a clock time; gives what was told back of it."""
        now = datetime.fromisoformat(f"{day}T{clock}:00+01:00")
        self.heard = hear(self.bench, text, now)
        for one in self.heard:
            self.bench = replace(self.bench, trial=with_heard(self.bench.trial, one))
        return [echo for one in self.heard for echo in one.echoes]

    @property
    def trial(self):
        """The trial as it stands now."""
        return self.bench.trial

    def has(self, block):
        """One block of the page."""
        return dict(getattr(self.trial, block))

    @property
    def steps(self):
        """The steps of the page, as their lines."""
        return [f"{step.name}: {step.line.typed}" for step in self.trial.steps]


@pytest.fixture
def at(rolls):
    """A bake just begun."""
    return AtTheBench(rolls)


# How it is said, and where it goes: a block of the page, a field and its text.
FIELDS = (
    ("dough 25.5C", "measured", "dough temperature", "25.5 C"),
    ("dough 25,5 C", "measured", "dough temperature", "25.5 C"),
    ("dough temp 78F", "measured", "dough temperature", "78 F"),
    ("25.5 °C dough", "measured", "dough temperature", "25.5 C"),
    ("FDT 25.5 C", "measured", "dough temperature", "25.5 C"),
    ("mixed, 25,5C", "measured", "dough temperature", "25.5 C"),
    ("second mix done at 78F", "measured", "dough temperature", "78 F"),
    ("mixed, dough 25,5C", "measured", "dough temperature", "25.5 C"),
    ("dough 25,5C, mixed", "measured", "dough temperature", "25.5 C"),
    ("felt tight, dough 25,5C, mixed", "measured", "dough temperature", "25.5 C"),
    ("the dough is 26 C", "measured", "dough temperature", "26 C"),
    ("core 97C", "measured", "core temperature", "97 C"),
    ("97 C core", "measured", "core temperature", "97 C"),
    ("internal 207F", "measured", "core temperature", "207 F"),
    ("pH 4,2", "measured", "pH", "4.2"),
    ("ph: 4.2", "measured", "pH", "4.2"),
    ("12 rolls", "measured", "pieces", "12"),
    ("12 rolls 884 g cold", "measured", "baked weight", "884 g"),
    ("884 g cold, well coloured", "measured", "baked weight", "884 g"),
    ("cold: 884 g", "measured", "baked weight", "884 g"),
    ("dough 1020 g", "measured", "dough weight", "1020 g"),
    ("1,02 kg dough", "measured", "dough weight", "1.02 kg"),
    ("+6 g water", "weighed", "water", "396 g"),
    ("+ 6g water, felt tight", "weighed", "water", "396 g"),
    ("plus 6 g of water", "weighed", "water", "396 g"),
    ("added 6 g water", "weighed", "water", "396 g"),
    ("6 g more water", "weighed", "water", "396 g"),
    ("-20 g water", "weighed", "water", "370 g"),
    ("held back 20 g water", "weighed", "water", "370 g"),
    ("kept back 12,5 g water", "weighed", "water", "377.5 g"),
    ("20 g less water", "weighed", "water", "370 g"),
    ("water 396 g", "weighed", "water", "396 g"),
    ("396 g water", "weighed", "water", "396 g"),
    ("salt 12,5 g", "weighed", "salt", "12.5 g"),
    ("+1 g yeast", "weighed", "instant yeast", "4.7 g"),
    ("flour lot B-114", "flours", "strong wheat flour", "lot B-114"),
    ("lot B-114", "flours", "strong wheat flour", "lot B-114"),
    ("flour Mill Lane lot B-114", "flours", "strong wheat flour", "Mill Lane, lot B-114"),
    ("strong wheat flour Mill Lane lot B-114", "flours", "strong wheat flour", "Mill Lane, lot B-114"),
    ("room 21C", "kitchen", "room", "21 C"),
    ("kitchen 70F", "kitchen", "room", "70 F"),
    ("water 27 C", "kitchen", "water", "27 C"),
    ("flour 18,5C", "kitchen", "flour", "18.5 C"),
    ("height 82 mm", "measured", "height", "82 mm"),
    ("loaf 8,2 cm high", "measured", "height", "8.2 cm"),
    ("width: 120 mm", "measured", "width", "120 mm"),
    ("volume 2,4 l", "measured", "volume", "2.4 l"),
    ("2400 ml in volume", "measured", "volume", "2400 ml"),
    ("water 20 g held back", "weighed", "water", "370 g"),
    ("20 g of the water kept back", "weighed", "water", "370 g"),
    ("held back 20 g water, 6 g of it went in", "weighed", "water", "376 g"),
    ("salt forgotten", "weighed", "salt", "0 g"),
    ("forgot the salt", "weighed", "salt", "0 g"),
    ("no salt", "weighed", "salt", "0 g"),
    ("salt: none", "weighed", "salt", "0 g"),
    ("yeast left out", "weighed", "instant yeast", "0 g"),
)


@pytest.mark.parametrize(("line", "block", "field", "text"), FIELDS, ids=[row[0] for row in FIELDS])
def test_a_line_becomes_a_field_and_a_log_line(at, line, block, field, text):
    """Whatever the order, the sign of the decimals or the unit, it goes where it belongs, and stays word for word."""
    at.say("08:00", line)
    assert at.has(block)[field] == text
    assert at.trial.log == (f"{DAY}T08:00:00+01:00 {line}",)


# How it is said, and the step that then runs or is over, from a bulk that began at 08:00.
STEPS = (
    ("bulk end", "bulk: 58 min"),
    ("bulk ended", "bulk: 58 min"),
    ("Bulk done.", "bulk: 58 min"),
    ("bulk is over", "bulk: 58 min"),
    ("end of bulk", "bulk: 58 min"),
    ("ended the bulk", "bulk: 58 min"),
    ("bulk end, 60%", "bulk: 58 min, rise 60 %"),
    ("divided & rounded, 12 x 85 g", "bulk: 58 min"),
    ("end of bulk looks near", None),
    ("not yet divided & oiled", None),
    ("bulk end 60%", "bulk: 58 min, rise 60 %"),
    ("bulk ended, dough 26C", "bulk: 58 min, dough 26 C"),
    ("bulk 55 min", "bulk: 55 min"),
    ("bulk 55 min at 25 C", "bulk: 55 min at 25 C"),
    ("bulk end, pH 4,3", "bulk: 58 min, pH 4.3"),
    ("divided", "bulk: 58 min"),
    ("divide", "bulk: 58 min"),
    ("12 rolls of 85 g", "bulk: 58 min"),
)


@pytest.mark.parametrize(("line", "step"), STEPS, ids=[row[0] for row in STEPS])
def test_ways_to_end_a_step(at, line, step):
    """A step that is over stands on the page, with the time between two lines, or with what was told."""
    at.say("08:00", "mixed")
    at.say("08:58", line)
    assert at.steps[:1] == ([step] if step else [])


MIXED = (
    "mixed",
    "mixing done",
    "kneaded",
    "Mix ended",
    "second mix done",
    "dough mixed",
    "mixed now",
    "mixed, felt tight",
)


@pytest.mark.parametrize("line", MIXED)
def test_bulk_runs_when_mixing_ends(at, line):
    """What is waited for begins by itself, with the time to look at it and the sign to look for."""
    begun = next(echo for echo in at.say("08:00", line) if isinstance(echo, Begun))
    assert begun.step.name == "bulk"
    assert (f"{begun.look:%H:%M}", begun.until) == ("09:00", "half as big again")


IN = (
    "in the oven",
    "into the oven at 220C",
    "loaded",
    "oven in",
    "bake start",
    "baking",
    "bread in the oven",
    "bake",
    "loaf in",
    "the loaves are in",
    "rolls in",
    "oven 245C, loaf in",
)


@pytest.mark.parametrize("line", IN)
def test_ways_to_put_it_in_the_oven(at, line):
    """The proof ends, the bake runs, and that day is the day of baking."""
    at.say("08:00", "shaped")
    at.say("08:47", line)
    assert at.steps == ["final proof: 47 min"]
    assert at.trial.bake_date == DAY
    at.say("09:06", "out")
    assert at.steps[-1].startswith("bake: 19 min")


@pytest.mark.parametrize(
    "line",
    [
        "out",
        "out of the oven",
        "bread out",
        "baked",
        "bake done",
        "out now",
        "core 97C, out",
        "the loaves came out",
        "out 884 g",
    ],
)
def test_ways_to_take_it_out(at, line):
    """The bake ends."""
    at.say("08:00", "in the oven at 220C")
    at.say("08:19", line)
    assert at.steps[0].startswith("bake: 19 min at 220 C")


@pytest.mark.parametrize(
    ("line", "folds"),
    [
        ("fold", 1),
        ("folded", 1),
        ("2 folds", 2),
        ("two folds", 2),
        ("coil fold", 1),
        ("S&F no 2", 1),
        ("stretch & fold", 1),
        ("folded and covered", 1),
        ("stretch and fold", 1),
        ("2nd fold", 1),
        ("folded twice", 2),
    ],
)
def test_folds_are_counted(at, line, folds):
    """A fold is one of the bulk that runs."""
    at.say("08:00", "mixed")
    assert [echo.folds for echo in at.say("08:30", line) if isinstance(echo, Folded)] == [folds]
    at.say("09:00", "bulk end")
    assert at.steps == [f"bulk: 60 min, {folds} fold{'s' if folds > 1 else ''}"]


@pytest.mark.parametrize(
    ("line", "step"),
    [
        ("pre-shaped", "pre-shape: done"),
        ("preshape 20 min", "pre-shape: 20 min"),
        ("bench rest 15 min", "rest: 15 min"),
        ("rested 15 min", "rest: 15 min"),
        ("autolyse 30 min", "autolyse: 30 min"),
    ],
)
def test_a_step_that_the_page_does_not_have(at, line, step):
    """It is one of this bake, not a note; bulk goes on beside a rest, and the next step stays the plan's own."""
    at.say("08:00", "mixed")
    told = at.say("09:00", line)
    assert at.steps[-1] == step
    assert "no such step" in " ".join(sentences(at.heard[-1], "D2"))
    assert Note not in [type(echo) for echo in told]
    at.say("09:05", "divided, 12 x 85 g")
    at.say("09:10", "shaped")
    assert at.bench.runs[-1].step.name == "final proof"


def test_a_rest_ends_with_what_comes_next(at):
    """Begun by its name, it is over when the dough is shaped."""
    at.say("08:00", "mixed")
    at.say("09:00", "divided, 12 x 85 g")
    at.say("09:02", "pre-shaped")
    at.say("09:03", "bench rest")
    at.say("09:20", "shaped")
    assert at.steps == ["bulk: 60 min", "divide: 12 pieces of 85 g", "pre-shape: done", "rest: 17 min"]


def test_what_was_forgotten_may_go_in_later(at):
    """Nothing of it, then all of it: the page has both, the first in its correction."""
    at.say("08:00", "salt forgotten")
    assert "If it goes in later, say +12 g salt." in sentences(at.heard[-1], "D2")[0]
    at.say("08:20", "+12 g salt")
    assert at.has("weighed")["salt"] == "12 g"
    assert [(made.was, made.now) for made in at.trial.corrections] == [("0 g", "12 g")]


@pytest.mark.parametrize("line", ["no steam", "forgot the salt in the first mix", "height looks good", "5 g went in"])
def test_words_that_only_sound_like_it_stay_a_note(at, line):
    """No item of the formula, no figure, nothing held back."""
    assert [type(echo) for echo in at.say("08:00", line)] == [Note]
    assert not at.trial.weighed
    assert not at.trial.measured


def test_a_step_and_a_remark_joined(at):
    """The step counts, and the remark is kept beside it, whatever stands between the two."""
    for line in ("shaped & covered", "shaped/covered with a cloth", "shaped and covered"):
        at.say("08:00", line)
        assert at.bench.runs[-1].step.name == "final proof", line


def test_the_heat_of_the_dough_while_it_waits(at):
    """It is bulk's own, not the one at the end of mixing."""
    at.say("08:00", "mixed")
    at.say("08:30", "dough 26C")
    at.say("09:00", "bulk end")
    assert at.steps == ["bulk: 60 min, dough 26 C"]
    assert condition_name("bulk", "dough temperature") == "bulk, dough temperature"


def test_a_fold_with_nothing_to_fold(at):
    """Kept as a note."""
    assert [type(echo) for echo in at.say("08:30", "fold")] == [Note]


@pytest.mark.parametrize(
    ("line", "seen", "told"),
    [
        ("bulk end, 20 min ago", "09:40", "10:00"),
        ("20 min ago bulk end", "09:40", "10:00"),
        ("bulk ended 09:40", "09:40", "10:00"),
        ("09:40 bulk end", "09:40", "10:00"),
        ("at 9:40 am bulk end", "09:40", "10:00"),
        ("today 09:40 bulk end", "09:40", "10:00"),
    ],
)
def test_when_it_was_seen_and_when_it_was_told(at, line, seen, told):
    """Both are in the log, and the time of the step is that of what was seen."""
    at.say("08:00", "mixed")
    at.say("10:00", line)
    assert at.steps == ["bulk: 1 h 40 min"]
    assert at.trial.log[-1] == f"{DAY}T{seen}:00+01:00 (told {DAY}T{told}:00+01:00) {line}"


def test_a_line_with_two_times(at):
    """Each part has its own."""
    at.say("10:00", "mixed 07:40, dough 25C, bulk end 08:40")
    assert at.steps == ["bulk: 60 min"]
    assert len(at.trial.log) == 2


def test_yesterday_and_a_weekday(rolls):
    """A poolish mixed the evening before, told next morning."""
    for said in (
        "yesterday",
        "Wednesday at",
        "last night",
        "11 Nov",
        "Nov 11 at",
        "on 11. November 2026 at",
        "2026-11-11",
    ):
        line = f"poolish mixed {said} 19:30"
        at = AtTheBench(rolls)
        at.say("07:10", line)
        at.say("07:30", "mixed")
        assert at.steps == ["poolish: 12 h"], line


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("core 104C", "water boils"),
        ("bulk end 08:10", "still to come"),
        ("monday 08:00 mixed", "days before D2 was begun"),
        ("out at 16:00", "the day before D2 was not begun; else say yesterday 16:00"),
        ("dough 80C", "yeast is dead"),
        ("-500 g water", "only 390 g of water went in"),
        ("12 rolls 1100 g cold", "more than the dough, 1020 g, 12 pieces of 85 g"),
        ("bake loss -3%", "a loss cannot be below zero"),
        ("mixed, 2026-11-25 07:00", "07:00 on 2026-11-25 is still to come"),
        ("mixed, 2 Nov 07:00", "days before D2 was begun"),
        ("room 90C", "no kitchen"),
        ("dough 25.5", "has no scale"),
    ],
)
def test_what_cannot_be_is_kept_as_words(at, line, why):
    """Nothing of it is counted, it is said why, and not a letter is lost."""
    (echo,) = at.say("08:00", line)
    assert isinstance(echo, AsWords)
    assert why in echo.why
    assert at.trial.log == (f"{DAY}T08:00:00+01:00 (as words) {line}",)
    assert not standing_lines(at.trial.log)
    assert (at.trial.measured, at.trial.weighed, at.trial.steps) == ((), (), ())


def test_an_end_before_its_start(at):
    """Kept as words; the step goes on."""
    at.say("08:00", "mixed")
    (echo,) = at.say("08:30", "bulk end 07:50")
    assert isinstance(echo, AsWords)
    assert echo.why == "bulk began at 08:00 and cannot have ended at 07:50"
    at.say("09:00", "bulk end")
    (echo,) = at.say("09:30", "bulk end 07:50")
    assert isinstance(echo, AsWords)
    assert at.steps == ["bulk: 60 min"]


def test_the_rest_of_a_line_counts_when_some_of_it_cannot_be(at):
    """`core 104C, out`: out is out."""
    at.say("08:00", "in the oven")
    at.say("08:19", "core 104C, out")
    assert at.steps == ["bake: 19 min"]
    assert at.trial.log[1:] == (f"{DAY}T08:19:00+01:00 out", f"{DAY}T08:19:00+01:00 (as words) core 104C")


def test_core_at_altitude(rolls):
    """Where water boils at 95 °C, a core of 97 °C is a slip."""
    at = AtTheBench(rolls, boiling="95.0")
    assert [type(echo) for echo in at.say("08:00", "core 97C")] == [AsWords]


def test_an_unusual_reading_is_kept_and_said(at):
    """A core of 79 °C is kept; what is usual is told."""
    (echo,) = at.say("08:00", "core 79C")
    assert isinstance(echo, Measured)
    assert "93 to 98 °C is usual" in echo.usual
    assert at.has("measured")["core temperature"] == "79 C"


def test_what_stands_on_the_page_stays(at):
    """A second reading is in the log alone, and it is said which stands."""
    at.say("08:00", "dough 25C")
    (echo,) = at.say("08:01", "dough 27C")
    assert echo == Stands(name="dough temperature", said="27 C", stands="25 C")
    assert at.has("measured")["dough temperature"] == "25 C"
    assert [type(e) for e in at.say("08:02", "dough 25C")] == [Kept]


def test_more_of_what_was_weighed_is_named_as_a_change(at):
    """The second lot of water changes the page, so it is a correction with its reason."""
    at.say("08:00", "+6 g water")
    assert not at.trial.corrections
    at.say("08:01", "+4 g water")
    (made,) = at.trial.corrections
    assert (made.field, made.was, made.now, made.why) == ("weighed.water", "396 g", "400 g", "more went in")


def test_a_step_whose_end_was_not_told(at):
    """Work further on shows that bulk is over; how long it took is not made up, and can be told later."""
    at.say("08:00", "mixed")
    told = at.say("09:10", "shaped")
    assert [echo.step.name for echo in told if isinstance(echo, EndUnknown)] == ["bulk"]
    assert at.steps == []
    at.say("10:00", "bulk 55 min")
    assert at.steps == ["bulk: 55 min"]


def test_a_bake_that_nobody_saw_go_in(at):
    """It is out; how long the proof before it took is not known, since the time in the oven is not."""
    at.say("08:00", "shaped")
    told = at.say("09:06", "out of the oven")
    assert [echo.step.name for echo in told if isinstance(echo, EndUnknown)] == ["final proof"]
    assert at.steps == []
    at.say("09:20", "baked 19 min")
    assert at.steps == ["bake: 19 min"]


def test_an_end_told_late_fits_in_between(at):
    """The log is read in the order in which things were seen."""
    at.say("08:00", "mixed")
    at.say("09:10", "shaped")
    at.say("09:30", "bulk end 08:58")
    assert at.steps == ["bulk: 58 min"]


def test_a_late_reading_of_a_step_that_is_on_the_page_is_added_to_it(at):
    """What the page has of the step stays; the new field stands beside it."""
    at.say("08:00", "in the oven at 220C")
    at.say("08:19", "out")
    at.say("08:25", "core 97C")
    assert at.steps == ["bake: 19 min at 220 C", "bake: core 97 C"]


def test_heat_that_falls_on_the_way(at):
    """Two heats of the oven make a course."""
    at.say("08:00", "in the oven at 240C")
    at.say("08:10", "oven 220C")
    at.say("08:30", "out")
    assert at.steps == ["bake: 30 min at 240 C falling to 220 C"]


def test_bread_that_is_weighed(at):
    """How long after baking, and the loss of the dough it was, which is said to be worked out."""
    at.say("08:00", "in the oven")
    at.say("08:19", "out")
    (echo,) = at.say("10:23", "12 rolls 884 g cold")
    assert isinstance(echo, Bread)
    assert (str(echo.after), echo.dough, echo.of) == ("2 h 4 min", Decimal(1020), "12 pieces of 85 g")
    assert round(echo.loss, 1) == Decimal("13.3")
    assert at.has("measured") == {"pieces": "12", "baked weight": "884 g", "cooled": "2 h 4 min"}


@pytest.mark.parametrize("line", ["out, core 97C, 884 g baked", "out, 884 g baked", "out of the oven, 884 g out"])
def test_bread_that_is_weighed_as_it_comes_out(at, line):
    """The weight is kept beside the end of the bake."""
    at.say("08:00", "in the oven at 220C, 12 rolls")
    at.say("08:19", line)
    assert at.steps[0].startswith("bake: 19 min")
    assert at.has("measured")["baked weight"] == "884 g"


def test_bread_that_is_weighed_when_it_is_long_out(at):
    """`baked` beside a weight says what was weighed; when it came out stays unknown."""
    at.say("08:00", "in the oven")
    at.say("11:19", "884 g baked")
    assert at.steps == []
    assert at.has("measured") == {"baked weight": "884 g"}


@pytest.mark.parametrize(
    "line", ["a dog came in", "smells of apples", "???", "bulk looks slow", "12", "looks good at 24 C"]
)
def test_a_line_that_means_nothing_is_a_note(at, line):
    """Kept as it is, and said."""
    at.say("07:30", "mixed")
    echoes = at.say("08:00", line)
    assert echoes == [Note(text=line)]
    assert at.trial.log[-1].endswith(f" {line}")


def test_another_baker_is_named_in_the_log(rolls):
    """What tomas says of noor's bake is his."""
    at = AtTheBench(rolls, speaker="tomas")
    at.say("08:00", "fold, 5 min ago")
    assert at.trial.log == (f"{DAY}T07:55:00+01:00 (told {DAY}T08:00:00+01:00, by tomas) fold, 5 min ago",)


def test_an_end_told_twice_is_a_note(at):
    """The first stands."""
    at.say("08:00", "mixed")
    at.say("08:58", "bulk end")
    (echo,) = at.say("09:30", "bulk end")
    assert echo == Note(text="bulk end", hint="Bulk ended at 08:58 already.")
    assert at.steps == ["bulk: 58 min"]


def test_a_told_time_beside_the_clock(at):
    """The baker's time stands, and what the clock says is told."""
    at.say("08:00", "mixed")
    ended = next(echo for echo in at.say("09:00", "bulk 45 min") if isinstance(echo, Ended))
    assert (str(ended.took), str(ended.clock)) == ("45 min", "60 min")


def test_the_batch_can_be_told_later(rolls):
    """Until then more water cannot be told in grams."""
    at = AtTheBench(rolls, BEGUN.replace("batch: 600 g flour\n", ""))
    (echo,) = at.say("08:00", "+6 g water")
    assert isinstance(echo, Note)
    assert "600 g flour" in echo.hint
    at.say("08:01", "600 g flour")
    at.say("08:02", "+6 g water")
    assert at.has("weighed") == {"water": "396 g"}
