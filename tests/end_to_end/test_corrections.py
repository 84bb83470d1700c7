"""A trial put right in the open: the old value, who, when and why stay, and what it moves is named."""

from __future__ import annotations

import json
import subprocess

import pytest

from ovenleaf.domain.trial_facts import trial_facts
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.yaml_text import read
from refusals_support import reads_well

NOW = "2026-11-25T18:02:00+01:00"
A4 = "trials/market-roll/2026-09-10-noor.yaml"


@pytest.fixture
def run(oven, sample_book):
    """One command in a sample book of the test's own, which must go well."""

    def go(line, *, now=NOW):
        ran = oven(line, cwd=sample_book, now=now)
        assert ran.code == 0, (line, ran.err)
        reads_well(ran.out)
        return ran.out

    return go


@pytest.fixture
def page(sample_book):
    """The page of trial A4."""
    return sample_book / A4


def facts(path):
    """What a trial's page says, its corrections left out; and those corrections."""
    trial = read_trial(read(path.read_text(encoding="utf-8"), path=path.name))
    said = {key: value for key, value in trial_facts(trial).items() if not key.startswith("corrections.")}
    return said, trial.corrections


def by_hand(path, old, new):
    """An edit in an editor."""
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_a_typo_found_a_week_later(run, page, golden):
    """Salt 2.2 g that should read 22 g is put right with its reason; it says what that moves, and show tells of it."""
    run("correct A6 weighed.salt=2.2g")
    screen = run("correct A6 weighed.salt=22g --why 'dropped a digit'")
    golden("corrections/a-typo", screen)
    assert "salt, weighed     2.2 g      22 g" in screen
    assert "Compared anew" not in screen  # A8 is the bake by which revision 3 is compared
    assert "No ranking and no comparison" in screen
    shown = run("show A6")
    assert "salt, weighed: was 2.2 g, now 22 g; 25 Nov, by noor: dropped a digit" in shown
    told = json.loads(run("show A6 --json"))["corrections"]
    assert [{key: one[key] for key in ("field", "was", "now", "by", "at", "why")} for one in told] == [
        {"field": "weighed.salt", "was": "2.2 g", "now": "22 g", "by": "noor", "at": NOW, "why": "dropped a digit"}
    ]


def test_a_mark_put_right_names_what_it_moves(run, golden):
    """The trial's own place, those it passes, its revision, and the comparisons of that revision; and rank agrees."""
    screen = run("correct A4 scores.noor.crumb=8.5 --why 'read the wrong line'")
    golden("corrections/a-mark", screen)
    assert "trial A4       place 8 equal, 7.25     place 6, 7.63" in screen
    assert "Compared anew: revisions 1 and 2, revisions 2 and 3." in screen
    rows = json.loads(run("rank market-roll --json"))["rows"]
    assert next((row["place"], row["score"]) for row in rows if row["code"] == "A4") == (6, 7.625)
    assert "Put right\n  crumb, noor: was 7, now 8.5; 25 Nov, by noor: read the wrong line\n" in run("show A4")


def test_the_value_of_the_last_bake_moves_its_comparison(run):
    """A4 is the only bake of no revision, but C3 is the last of revision 4: its water is what diff shows."""
    screen = run("correct C3 weighed.water=430g --why 'the jug was not empty'")
    assert "Compared anew: revisions 3 and 4." in screen
    assert "No place in the ranking moves." in screen


def test_the_oracle_of_a_weight_typed_with_its_digits_swapped(oven, tmp_path):
    """432 g is put right to 423 g 20 min later: the value is 423 g, and the first stays readable in its correction."""

    def go(line, now, typed=""):
        ran = oven(line, cwd=tmp_path / "stall" if "start" not in line else tmp_path, now=now, typed=typed)
        assert ran.code == 0, ran.err
        return ran.out

    loaf = "formula: loaf\ningredients:\n  strong wheat flour: 300 g\n  water: 200 g\n  salt: 6 g\n"
    go("start stall --title Stall --baker alma", NOW)
    go("enter -", NOW, loaf)
    go("record loaf --measured 'dough weight=506 g' --measured 'baked weight=432 g'", "2026-11-25T19:00:00+01:00")
    before = next((tmp_path / "stall/trials/loaf").glob("*.yaml")).read_text()
    later = "2026-11-25T19:20:00+01:00"
    go("correct A1 'measured.baked weight=423 g' --why transposed", later)
    after = next((tmp_path / "stall/trials/loaf").glob("*.yaml"))
    said, corrections = facts(after)
    assert said["measured.baked weight"] == "423 g"
    assert [(one.was, one.now, one.by, one.at, one.why) for one in corrections] == [
        ("432 g", "423 g", "alma", later, "transposed")
    ]
    lost = [line for line in before.splitlines() if line not in after.read_text().splitlines()]
    assert lost == ["  baked weight: 432 g"]
    assert "16.4 %" in go("show A1", later)  # 423 of 506 g, once


ROUND = [
    ("weighed.water=369g", "weighed.water=396g"),
    ("scores.tomas.crust=6.5", "scores.tomas.crust=7"),
    ("'flours.strong wheat flour=Mill Lane, lot B-141'", "'flours.strong wheat flour=Mill Lane, lot B-114'"),
    ("steps.bulk.time=85min", "'steps.bulk.time=58 min'"),
    ("bake_date=2026-09-09", "bake_date=2026-09-10"),
    ("revision=r1", "revision=r2"),
    ("state=withdrawn", "state=done"),
]


def test_put_right_and_put_back_is_as_it_was_with_both_shown(run, page, sample_book):
    """The same facts again, two corrections more each time, the book in order, and nothing left unsaved."""
    was, _ = facts(page)
    for number, (there, back) in enumerate(ROUND, start=1):
        run(f"correct A4 {there} --why 'a slip'")
        run(f"correct A4 {back} --why 'it was right'")
        again, both = facts(page)
        assert again == was, there
        assert len(both) == 2 * number
        assert (both[-1].was, both[-1].now, both[-1].field) == (both[-2].now, both[-2].was, both[-2].field)
    assert "nothing found" in " ".join(run("check").split())
    ran = subprocess.run(["git", "-C", sample_book, "status", "--porcelain"], capture_output=True, check=True)
    assert ran.stdout == b""


def test_what_was_not_recorded_is_added_and_marked_late(run, page, golden):
    """No correction and no reason: adding is not correcting; the log says when and by whom."""
    screen = run("correct A4 measured.height=62mm kitchen.oven='stall oven'")
    golden("corrections/added", screen)
    said, corrections = facts(page)
    assert (said["measured.height"], said["kitchen.oven"], corrections) == ("62 mm", "stall oven", ())
    assert said["log.1"] == f"{NOW} height 62 mm, added by noor"
    assert "Put right" not in run("show A4")


def test_what_is_taken_away_is_not_recorded(run, page):
    """Nothing is what it is then, not zero; and the page says what it was."""
    screen = run("correct A4 measured.pieces=none --why 'counted the next batch'")
    assert "pieces     12         not recorded" in screen
    assert "measured.pieces" not in facts(page)[0]
    assert "pieces: was 12, now not recorded" in run("show A4")


def test_a_trial_is_tied_to_another_revision_with_its_reason(run, page, sample_book, golden):
    """The pin follows: the bake stands beside the plan of that revision, and check has nothing to say."""
    screen = run("correct A4 revision=r1 --why 'the new page came after the mixing'")
    golden("corrections/revision", screen)
    assert "revision     revision 2     revision 1" in screen
    kept = sample_book / "formulas/market-roll/r1.noor.yaml"
    ran = subprocess.run(["git", "hash-object", "--no-filters", kept], capture_output=True, text=True, check=True)
    assert f'pin: "{ran.stdout.strip()}"' in page.read_text()
    assert "Market roll, revision 1" in run("show A4")
    assert "nothing found" in " ".join(run("check").split())


def test_a_trial_may_be_put_aside_and_taken_back_in(run):
    """Withdrawn, it is left out of the ranking and said to be; done again, it has its place."""
    screen = run("correct A8 state=withdrawn --why 'another dough by mistake'")
    assert "trial A8       place 1, 8.33           not ranked" in screen
    assert "A8, 19 Sep, revision 3: withdrawn" in run("rank market-roll")
    assert "withdrawn" in run("show A8").partition("\n\n")[0]
    assert "place 1, 8.33" in run("correct A8 state=done --why 'it was this dough'")


def test_a_trial_edited_by_hand_is_noticed_and_kept_as_a_correction(run, oven, page, sample_book, golden):
    """check says what was and is; score waits; save wants the reason, and then each change has its correction."""
    by_hand(page, "pieces: 12", "pieces: 13")
    by_hand(page, "  room: 21 C", "  room: 21 C\n  oven: stall oven")
    by_hand(page, "core 97 C", "core 92 C")
    checked = oven("check", cwd=sample_book, now=NOW)
    assert checked.code == 1
    assert "measured.pieces was 12, is 13" in " ".join(checked.out.split())
    golden("corrections/by-hand-found", checked.out.partition("To look at")[2])
    for line in (
        "score A4 --taster lena --crumb 7",
        "jot --trial A4 felt slack",
        "photo A4 cut.png",
        "correct A4 measured.pieces=14 --why x",
        "save",
    ):
        refused = oven(line, cwd=sample_book, now=NOW)
        assert refused.code == 3, line
        assert "measured.pieces" in refused.err
        assert 'ovenleaf save --why "misread the scale"' in refused.err
        assert "jot" not in line or "  ovenleaf jot --trial A4 'felt slack'" in refused.err
    golden("corrections/by-hand-no-reason", refused.err)
    golden("corrections/by-hand-saved", run("save --why 'counted again'"))
    said, corrections = facts(page)
    assert said["kitchen.oven"] == "stall oven"
    assert [(one.field, one.was, one.now, one.why) for one in corrections] == [
        ("measured.pieces", "12", "13", "counted again"),
        ("steps.bake", "19 min at 220 C, core 97 C", "19 min at 220 C, core 92 C", "counted again"),
    ]
    assert "nothing found" in " ".join(run("check").split())


def test_another_revision_by_hand_brings_its_pin(run, page):
    """What a baker types is the revision; the pin is ours to set."""
    by_hand(page, "revision: r2.noor", "revision: r1.noor")
    run("save --why 'baked from the first page'")
    assert [one.field for one in facts(page)[1]] == ["revision"]
    assert "nothing found" in " ".join(run("check").split())


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [("code: A4", "code: A9", "its code"), ("formula: market-roll", "formula: caraway-rye", "its formula")],
)
def test_what_a_trial_is_called_by_is_not_edited(old, new, said, oven, page, sample_book):
    """Names never change their meaning, whatever the reason."""
    by_hand(page, old, new)
    refused = oven("save --why 'neater'", cwd=sample_book, now=NOW)
    assert refused.code == 3
    assert said in " ".join(refused.err.split())
    assert "Put it back as it was" in refused.err


def test_a_correction_is_not_taken_out_by_hand(run, oven, page, sample_book):
    """Taking one back is a correction of its own."""
    run("correct A4 measured.pieces=13 --why 'counted again'")
    text = page.read_text()
    page.write_text(text[: text.index("corrections:")] + text[text.index("pin:") :])
    refused = oven("save --why 'tidying up'", cwd=sample_book, now=NOW)
    assert refused.code == 3
    assert "stays for ever: a correction" in " ".join(refused.err.split())


def test_a_change_behind_the_books_back_is_noticed(run, oven, page, sample_book):
    """Kept by another program, it is still a finding; save with a reason, or the old value again, makes it good."""

    def other_program():
        who = ("-c", "user.name=Tomas", "-c", "user.email=tomas@stall.invalid")
        subprocess.run(["git", "-C", sample_book, *who, "commit", "-qam", "tidy"], check=True)

    by_hand(page, "pieces: 12", "pieces: 13")
    other_program()
    run("score A4 --taster lena --crumb 7")
    checked = oven("check", cwd=sample_book, now=NOW)
    assert checked.code == 1
    assert "measured.pieces was 12, is 13" in " ".join(checked.out.split())
    run("save --why 'counted again'")
    assert [(one.was, one.now) for one in facts(page)[1]] == [("12", "13")]
    assert "nothing found" in " ".join(run("check").split())
    by_hand(page, "water: 396 g", "water: 369 g")
    other_program()
    assert "weighed.water was 396 g" in " ".join(oven("check", cwd=sample_book, now=NOW).out.split())
    run("correct A4 weighed.water=396g --why 'as it was'")
    assert "nothing found" in " ".join(run("check").split())


def test_two_wishes_at_once_are_one_entry_that_reads_well(run, sample_book):
    """Its one line says what became what, the reason is its body."""
    run("correct A4 measured.pieces=13 weighed.water=390g --why 'two sheets mixed up'")
    ran = subprocess.run(["git", "-C", sample_book, "log", "-1", "--format=%s%n%b"], capture_output=True, text=True)
    line, reason = ran.stdout.splitlines()[:2]
    assert line == "market-roll A4 (noor): measured.pieces, weighed.water put right"
    assert len(line) <= 72
    assert reason == "two sheets mixed up"


def test_a_trial_may_be_named_by_formula_and_day(run):
    """What stands in front of the first FIELD=VALUE names the trial."""
    assert "trial A4" in run("correct market-roll 2026-09-10 measured.pieces=13 --why x --preview")


def test_a_formula_edited_after_the_dough_was_mixed_is_noticed(run, oven, page, sample_book, golden):
    """The revision in force when it was begun is offered and pinned; later it can be tied to another, with a reason."""
    run("tweak market-roll water=72% --why 'wetter still'", now="2026-11-25T11:00:00+01:00")
    line = "record market-roll --begun 07:30 --crumb 7 --crust 8"
    refused = oven(line, cwd=sample_book, now=NOW)
    assert refused.code == 3
    reads_well(refused.err)
    golden("corrections/begun-before", refused.err)
    assert "ovenleaf record market-roll r4 --begun 07:30 --crumb 7 --crust 8" in refused.err
    run("record market-roll r4 --begun 07:30 --crumb 7 --crust 8")
    made = next(path for path in page.parent.glob("2026-11-25*"))
    said, _ = facts(made)
    assert (said["revision"], said["started"]) == ("r4.noor", "2026-11-25T07:30:00+01:00")
    assert oven("record market-roll --begun 11:30 --crumb 7 --crust 8 --preview", cwd=sample_book, now=NOW).code == 0
    run("correct last revision=r5 --why 'it was the new page after all'")
    again, corrections = facts(made)
    assert again["revision"] == "r5.noor"
    assert again["pin"] != said["pin"]
    assert [(one.field, one.was, one.now) for one in corrections] == [("revision", "r4.noor", "r5.noor")]
    assert "nothing found" in " ".join(run("check").split())
