"""Commands that cannot go on: what is wrong, what to type next, exit 3, and a book that stays as it was."""

from __future__ import annotations

import errno
import os
import re
import subprocess
import sys

import pytest

from ovenleaf.book import store
from ovenleaf.errors import Interrupted
from ovenleaf.present import writing
from refusals_support import reads_well, snapshot

NOW = "2026-11-25T12:00:00+01:00"

COMMANDS = {
    "unknown-formula": "show market-rol r1",
    "unknown-formula-diff": "diff market-rol",
    "unknown-revision": "show market-roll r9",
    "unknown-trial": "show Z9",
    "unknown-thing": "show butr",
    "unknown-trial-score": "score Q7 --crumb 5",
    "off-the-scale": "record market-roll --crumb 11 --crust 7",
    "another-scale": "score A2 --taster tomas --crumb 4/5",
    "another-scale-in-words": "record market-roll crumb 4/5, crust 8",
    "near-by-its-beginning": "show markt",
    "swap-for-no-yeast-there": 'weigh market-roll --swap "salt=fresh yeast"',
    "not-a-mark": "record market-roll --crumb seven",
    "no-scale": "record market-roll --crumb 7 --dough-temp 24",
    "no-scale-words": "record market-roll crumb 7, dough 24",
    "impossible-day": "record market-roll --crumb 7 --baked-on 2026-02-30",
    "future-day": "record market-roll --crumb 7 --baked-on 2026-12-24",
    "baked-above-dough": 'record market-roll --measured "dough weight=884 g" --measured "baked weight=1020 g"',
    "not-in-formula": "record market-roll --weighed honey=20g",
    "near-in-formula": "record market-roll --weighed watr=380g",
    "not-a-weight": "record market-roll --weighed water=lots",
    "batch-unclear": "record market-roll --batch big --crumb 6",
    "scored-already": "score A1 --crumb 7",
    "nothing-scored": "score A1",
    "tweak-no-equals": "tweak market-roll water --why x",
    "tweak-unknown-item": "tweak market-roll honey=lots --why x",
    "tweak-below-nothing": "tweak market-roll water=-90points --why x",
    "tweak-flours": 'tweak caraway-rye "medium rye flour=+5points" --why x',
    "tweak-unknown-step": "tweak market-roll kneading.time=9min --why x",
    "tweak-time-no-unit": "tweak market-roll bulk.time=60 --why x",
    "tweak-no-scale": "tweak market-roll bulk.temperature=26 --why x",
    "tweak-no-why": "tweak market-roll water=70%",
    "tweak-nothing": "tweak market-roll water=71% --why x",
    "settle-no-such-page": "settle markt-rol water=60%",
    "tweak-negative-dough": "tweak market-roll water=15% --why x",
    "rank-by-nonsense": "rank --by luck",
    "rank-weights": "rank --weights crumb=heavy",
    "rank-weights-zero": "rank --weights crumb=0,crust=0",
    "mark-nonsense": "mark market-roll r2 lovely --why x",
    "mark-no-why": "mark market-roll r2 dropped",
    "no-keeper": "show seeded-roll keeper",
    "copy-taken": "copy market-roll caraway-rye",
    "save-nothing": "save --why x",
    "enter-missing": "enter no-such-page.yaml",
    "enter-not-asked": "enter stall-loaf",
    "why-dots": 'tweak market-roll water=70% --why "..."',
    "finish-dots": 'finish --cut-short --because "…"',
    "enter-folder": "enter formulas",
    "other-baker": "--baker tomas tweak market-roll water=70% --why x",
    "bad-handle": "--baker Con! save --why x",
    "start-here": "start .",
    "nothing-between": "diff market-roll r4",
    "meant-nothing": "check seeded-roll --meant x",
    "undo-by-another": "--baker tomas undo",
    "begin-unknown": "begin market-rol",
    "begin-unknown-revision": "begin market-roll r9",
    "begin-no-weight": "begin market-roll --flour lots",
    "begin-two-ways": "begin market-roll --flour 600g --dough 1kg",
    "begin-no-count": "begin market-roll --each 85g",
    "begin-no-pieces": "begin market-roll --pieces 0",
    "begin-other-dough": "begin market-roll --shares-dough-with C9",
    "begin-unknown-dough": "begin market-roll --shares-dough-with Z9",
    "jot-no-words": "jot",
    "jot-nothing-in-hand": "jot fold",
    "jot-unknown-trial": "jot --trial Z9 fold",
    "finish-nothing-in-hand": "finish --crumb 7",
    "finish-done": "finish A1 --crumb 7",
    "begun-no-time": "record market-roll --begun early --crumb 7",
    "begun-to-come": "record market-roll --begun 23:30 --crumb 7",
    "correct-unknown-trial": "correct Z9 weighed.salt=10g --why x",
    "correct-nothing-said": "correct A4 --why x",
    "correct-no-equals": "correct A4 weighed.water= --why x",
    "correct-no-why": "correct A4 weighed.water=390g",
    "correct-the-same": "correct A4 weighed.water=396g --why x",
    "correct-short-name": "correct A4 crumb=8 --why x",
    "correct-misspelt": "correct A4 measured.peices=11 --why x",
    "correct-unknown-field": "correct A4 colour=brown --why x",
    "correct-unknown-item": "correct A4 weighed.honey=20g --why x",
    "correct-unknown-step": "correct A4 steps.kneading.time=9min --why x",
    "correct-new-taster": "correct A4 scores.lena.crumb=8 --why x",
    "correct-the-formula": "correct A4 formula=caraway-rye --why x",
    "correct-the-code": "correct A4 code=A9 --why x",
    "correct-twice": "correct A4 weighed.water=390g weighed.water=391g --why x",
    "correct-no-unit": "correct A4 weighed.water=390 --why x",
    "correct-no-weight": "correct A4 weighed.water=lots --why x",
    "correct-no-scale": 'correct A4 "measured.dough temperature=25.5" --why x',
    "correct-step-no-unit": "correct A4 steps.bulk.time=60 --why x",
    "correct-step-no-scale": "correct A4 steps.bake.temperature=230 --why x",
    "correct-measured-no-unit": "correct A4 measured.height=62 --why x",
    "correct-off-the-scale": "correct A4 scores.noor.crumb=11 --why x",
    "correct-another-scale": "correct A4 scores.noor.crumb=4/5 --why x",
    "correct-not-a-mark": "correct A4 scores.noor.crumb=good --why x",
    "correct-baked-above-dough": 'correct A4 "measured.baked weight=1100 g" --why x',
    "correct-core-above-boiling": "correct A4 steps.bake.core=105C --why x",
    "correct-core-measured": 'correct A4 "measured.core temperature=230 F" --why x',
    "correct-pieces-none": "correct A4 measured.pieces=0 --why x",
    "correct-future-day": "correct A4 bake_date=2026-12-24 --why x",
    "correct-no-day": "correct A4 bake_date=yesterday --why x",
    "correct-day-away": "correct A4 bake_date=none --why x",
    "correct-no-state": "correct A4 state=gone --why x",
    "correct-unknown-revision": "correct A4 revision=r9 --why x",
    "correct-unknown-code": "correct A4 shares_dough_with=Z9 --why x",
    "correct-its-own-code": "correct A4 shares_dough_with=A4 --why x",
    "correct-batch-unclear": "correct A4 batch=big --why x",
    "correct-not-a-moment": "correct A4 started=early --why x",
    "correct-begun-after-baking": "correct A4 started=2026-09-11T07:00 --why x",
}


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_that_cannot_go_on_says_so(name, sample_book, oven, golden):
    """Exit 3 or 2, nothing on stdout, a golden message, and the book byte for byte as before."""
    before = snapshot(sample_book)
    ran = oven(COMMANDS[name], cwd=sample_book, now=NOW)
    assert ran.code in (2, 3)
    assert ran.out == ""
    reads_well(ran.err)
    golden(
        f"refusals/command-{name}", ran.err.replace(str(sample_book), "BOOK").replace(str(sample_book.parent), "ABOVE")
    )
    assert snapshot(sample_book) == before


def test_a_draft_in_the_way_of_record_offers_commands_that_work(sample_book, oven):
    """The first command that the refusal offers can be typed as it stands, the second with a reason in its place."""
    page = sample_book / "formulas/market-roll.yaml"
    page.write_text(page.read_text().replace("water: 71%", "water: 72%"))
    refused = oven("record market-roll --crumb 7 --crust 8", cwd=sample_book, now=NOW)
    assert refused.code == 3
    offered = re.findall(r"^  (ovenleaf .*)$", refused.err, re.MULTILINE)
    assert offered[0] == "ovenleaf record market-roll r4 --crumb 7 --crust 8"
    assert oven(offered[0].removeprefix("ovenleaf "), cwd=sample_book, now=NOW).code == 0
    dots = offered[1].split(" && ")[0]
    unsaid = oven(dots.removeprefix("ovenleaf "), cwd=sample_book, now=NOW)
    assert unsaid.code == 3
    assert "words of your own" in unsaid.err
    for command in offered[1].replace('"..."', '"softer"').split(" && "):
        assert oven(command.removeprefix("ovenleaf "), cwd=sample_book, now=NOW).code == 0
    assert "revision 5" in oven("show last", cwd=sample_book, now=NOW).out


def test_two_bakers_with_one_number_are_both_named(sample_book, oven):
    """A bare r2 is refused and both are offered; screens name the baker."""
    folder = sample_book / "formulas/market-roll"
    other = (folder / "r2.noor.yaml").read_text().replace("by: noor", "by: tomas")
    (folder / "r2.tomas.yaml").write_text(other)
    refused = oven("show market-roll r2", cwd=sample_book, now=NOW)
    assert refused.code == 3
    assert "ovenleaf show market-roll r2.noor" in refused.err
    assert "ovenleaf show market-roll r2.tomas" in refused.err
    assert "Revision 2 by tomas" in oven("history market-roll", cwd=sample_book, now=NOW).out


def test_a_broken_page_stops_no_reading_command(sample_book, oven):
    """list, rank, history, diff and show answer for the others and say what could not be read."""
    (sample_book / "formulas/olive-flatbread.yaml").write_text("formula: olive-flatbread\ningredients: [\n")
    broken = next((sample_book / "trials/market-roll").glob("*.yaml"))
    broken.write_text("trial: {\n")
    for command in ("list", "rank", "rank market-roll", "history market-roll", "diff market-roll", "show caraway-rye"):
        ran = oven(command, cwd=sample_book, now=NOW)
        assert ran.code == 0, command
        assert ran.err == ""
        if command != "show caraway-rye":
            assert "could not be read" in ran.out, command
    checked = oven("check", cwd=sample_book, now=NOW)
    assert checked.code == 1
    assert "olive-flatbread.yaml, line" in checked.out


def test_a_folder_that_is_no_book_is_told(oven, tmp_path, golden):
    """A reading command outside a book says how to begin one, or how to name one."""
    ran = oven("list", cwd=tmp_path)
    assert (ran.code, ran.out) == (3, "")
    golden("refusals/not-a-book", ran.err)


def test_a_book_inside_another_history_is_never_written_into_it(oven, tmp_path):
    """A book without a history of its own is read, and refused to write; the outer one stays byte for byte."""
    subprocess.run(["git", "init", "-q", tmp_path], check=True)
    book = tmp_path / "book"
    book.mkdir()
    (book / "book.yaml").write_text("format: book/1\ntitle: Inner\n")
    outer = snapshot(tmp_path / ".git")
    assert oven("list", cwd=book).code == 0
    ran = oven("--baker noor enter -", cwd=book, typed="formula: x-loaf\ningredients:\n  strong wheat flour: 100%\n")
    assert ran.code == 3
    assert "no history" in ran.err
    assert snapshot(tmp_path / ".git") == outer


def test_a_setting_outside_the_list_is_refused(sample_book, oven):
    """A book whose own settings could run something is not worked with; file, line and what to do are named."""
    config = sample_book / ".git/config"
    config.write_text(config.read_text() + "[core]\n\tfsmonitor = touch /tmp/never\n")
    ran = oven("tweak market-roll water=70% --why x", cwd=sample_book, now=NOW)
    assert (ran.code, ran.out) == (3, "")
    assert "fsmonitor" in ran.err
    assert ".git/config, line" in ran.err


@pytest.mark.parametrize(("said", "script"), [("2.38", None), ("2.30", "#!/bin/sh\necho git version 2.30.1\n")])
def test_git_missing_or_too_old_is_told(sample_book, tmp_path, said, script):
    """What is needed and where to get it, in a program of its own with nothing else on its path."""
    programs = tmp_path / "programs"
    programs.mkdir()
    if script:
        (programs / "git").write_text(script)
        (programs / "git").chmod(0o755)
    ran = subprocess.run(
        [sys.executable, "-m", "ovenleaf", "tweak", "market-roll", "water=70%", "--why", "x"],
        cwd=sample_book,
        env={**os.environ, "PATH": str(programs)},
        capture_output=True,
        text=True,
    )
    assert ran.returncode == 3
    assert "needs the program git, 2.38 or newer" in " ".join(ran.stderr.split())
    assert said in ran.stderr


@pytest.mark.parametrize("stage", store.STAGES[1:-2])
def test_a_full_disk_leaves_the_book_as_it_was(stage, sample_book, oven, monkeypatch):
    """At every point before the moment of truth: a clear word, and the book byte for byte as before."""
    before = snapshot(sample_book)
    fail_at(stage, errno.ENOSPC, monkeypatch)
    ran = oven("tweak market-roll water=70% --why x", cwd=sample_book, now=NOW)
    assert ran.code == 3
    assert "full" in ran.err
    assert pages_of(snapshot(sample_book)) == pages_of(before)
    assert not (sample_book / ".git/ovenleaf/pending").exists()


def fail_at(stage, number, monkeypatch):
    """Makes the disk refuse, as `number` says, at one stage of the write path."""
    real = store.write

    def refuse(name):
        if name == stage:
            raise OSError(number, os.strerror(number))

    monkeypatch.setattr(store, "write", lambda *a, **k: real(*a, **{**k, "at_stage": refuse}))


def pages_of(files):
    """The pages alone: what git keeps of an entry that did not come to be is harmless."""
    return {name: data for name, data in files.items() if not name.startswith(".git/objects")}


@pytest.mark.parametrize(("stage", "saved"), [("page", False), ("index", True)])
def test_ctrl_c_is_as_before_or_wholly_saved(stage, saved, sample_book, oven, monkeypatch):
    """Exit 130 and which of the two it is, before and after the moment of truth."""
    real = store.write

    def stop(name):
        if name == stage:
            raise KeyboardInterrupt

    monkeypatch.setattr(store, "write", lambda *a, **k: real(*a, **{**k, "at_stage": stop}))
    before = snapshot(sample_book)
    ran = oven("tweak market-roll water=70% --why x", cwd=sample_book, now=NOW)
    assert ran.code == 130
    monkeypatch.setattr(store, "write", real)
    if saved:
        assert "saved already" in ran.err
        assert "market-roll r5" in ran.err
        assert "70.0 %" in oven("show market-roll", cwd=sample_book, now=NOW).out
    else:
        assert "Nothing was changed" in " ".join(ran.err.split())
        assert pages_of(snapshot(sample_book)) == pages_of(before)


def test_ctrl_c_after_the_entry_never_says_that_nothing_was_changed(sample_book, oven, monkeypatch):
    """A stop while the screen is made, or between two entries of one command, tells what is in the book already."""

    def stop(*_):
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(writing, "tweaked_screen", stop)
        ran = oven("tweak market-roll water=70% --why x", cwd=sample_book, now=NOW)
    assert (ran.code, ran.out) == (130, "")
    said = "Stopped, but this was saved already: market-roll r5.noor: water 71 to 70 %."
    assert " ".join(ran.err.split()) == said
    assert oven("show market-roll r5", cwd=sample_book, now=NOW).code == 0

    with monkeypatch.context() as patch:
        patch.setattr(store, "write", stop_at_the_second(store.write))
        for name in ("market-roll", "seeded-roll"):
            page = sample_book / f"formulas/{name}.yaml"
            page.write_text(page.read_text().replace("salt: 2%", "salt: 1.9%"))
        ran = oven("save --why x", cwd=sample_book, now=NOW)
    said = "this was saved already: market-roll r6.noor: salt 2 to 1.9 %. Not saved: seeded-roll r5.noor"
    assert ran.code == 130
    assert said in " ".join(ran.err.split())


def stop_at_the_second(real):
    """A write path that is stopped by Ctrl-C before its second entry."""
    calls = []

    def write(root, changes, entry, **words):
        calls.append(entry)
        if len(calls) == 2:
            raise Interrupted(saved=False, what=entry.subject)
        return real(root, changes, entry, **words)

    return write


def test_another_program_s_lock_is_told(sample_book, oven, monkeypatch):
    """A git lock that is not ours is waited for, then told; it is not taken away."""
    real = store.write
    monkeypatch.setattr(store, "write", lambda *a, **k: real(*a, **{**k, "lock_wait": 0.2}))
    lock = sample_book / ".git/index.lock"
    lock.write_text("")
    ran = oven("tweak market-roll water=70% --why x", cwd=sample_book, now=NOW)
    assert ran.code == 3
    assert lock.exists()
    assert "another program" in ran.err.lower()


def test_a_folder_that_cannot_be_written_is_told(sample_book, oven, monkeypatch):
    """A read-only folder: a clear word, and the book byte for byte as before."""
    before = snapshot(sample_book)
    fail_at("journal", errno.EROFS, monkeypatch)
    ran = oven("tweak market-roll water=70% --why x", cwd=sample_book, now=NOW)
    assert ran.code == 3
    assert "may not be written in" in ran.err
    assert snapshot(sample_book) == before


def test_nobody_s_name_is_refused_with_the_whole_command(oven, tmp_path):
    """Without a terminal: the command to type, with the name put in; with it, it is remembered."""
    refused = oven("start stall", cwd=tmp_path)
    assert refused.code == 3
    assert "ovenleaf --baker YOUR-NAME start stall" in refused.err
    assert oven("--baker noor start stall", cwd=tmp_path).code == 0


def test_standard_input_at_its_end_is_an_empty_page(sample_book, oven):
    """enter - with nothing behind it says that there is nothing on the page."""
    ran = oven("enter -", cwd=sample_book, now=NOW, typed="")
    assert ran.code == 3
    assert "nothing on this page" in ran.err


def test_a_page_by_a_newer_ovenleaf_is_listed_and_kept(sample_book, oven):
    """It is told of, never rewritten, and the others are worked with."""
    page = sample_book / "formulas/market-roll.yaml"
    newer = page.read_text().replace("format: formula/1", "format: formula/9")
    page.write_text(newer)
    assert "newer ovenleaf" in " ".join(oven("check", cwd=sample_book, now=NOW).out.split())
    assert oven("save --why x", cwd=sample_book, now=NOW).code == 3
    assert page.read_text() == newer
    assert oven("rank caraway-rye", cwd=sample_book, now=NOW).code == 0
