"""The book as a folder: without its history, edited by hand, and as people see it who use git directly."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys

import pytest

from refusals_support import snapshot

NOW = "2026-11-25T12:00:00+01:00"
READING = [
    "list",
    "show market-roll",
    "show A4",
    "diff market-roll",
    "rank",
    "rank market-roll --by revision",
    "history caraway-rye",
    "",
]


def git(book, *words):
    """What plain git says of the book."""
    return subprocess.run(["git", "-C", book, *words], capture_output=True, text=True, check=True).stdout


def test_a_book_copied_without_its_history_still_reads(sample_book, oven, tmp_path):
    """Every reading command gives the same answer; writing is refused, and says why."""
    copy = tmp_path / "copy"
    shutil.copytree(sample_book, copy, ignore=shutil.ignore_patterns(".git"))
    for line in READING:
        there, here = (oven(f"--book {book} {line}", cwd=tmp_path, now=NOW) for book in (sample_book, copy))
        assert (there.code, there.out) == (here.code, here.out), line
    before = snapshot(copy)
    refused = oven("--baker noor tweak market-roll water=70% --why x", cwd=copy, now=NOW)
    assert refused.code == 3
    assert "no history" in refused.err
    assert snapshot(copy) == before


def test_a_touch_up_makes_no_new_revision(sample_book, oven):
    """Comments, order, quotes and spacing are kept as typed; the dough is the same, so the number is too."""
    page = sample_book / "formulas/market-roll.yaml"
    text = (
        page.read_text()
        .replace("  salt: 2%\n", "")
        .replace("  water: 71%\n", "  salt: '2%'     # sea salt\n  water: 71%\n")
    )
    page.write_text(text)
    saved = oven("save", cwd=sample_book, now=NOW)
    assert saved.code == 0, saved.err
    assert "Touched up" in saved.out
    assert page.read_text() == text
    assert "four revisions" in oven("history market-roll", cwd=sample_book, now=NOW).out
    assert git(sample_book, "status", "--short") == ""


def test_a_scale_changed_without_its_words_is_told(sample_book, oven):
    """What the marks mean must lie on the scale, or screens would say that half way is the best there is."""
    page = sample_book / "book.yaml"
    text = page.read_text(encoding="utf-8")
    page.write_text(text.replace("scale: 0 to 10", "scale: 1 to 5"), encoding="utf-8")
    checked = oven("check", cwd=sample_book)
    assert checked.code == 1
    said = " ".join(checked.out.split())
    assert "Under anchors, 10 and 0 lie off the book's scale of 1 to 5." in said
    assert "Say there what 5 and 1 mean now, and whatever lies between." in said
    page.write_text(text, encoding="utf-8")
    assert "anchors" not in oven("check", cwd=sample_book).out


def test_a_draft_is_said_to_be_one(sample_book, oven):
    """list, show, diff and bare ovenleaf say that a page was edited and not saved."""
    page = sample_book / "formulas/market-roll.yaml"
    page.write_text(page.read_text().replace("water: 71%", "water: 73%"))
    assert "edited, not saved" in " ".join(oven("list", cwd=sample_book, now=NOW).out.split())
    assert "a draft, not saved yet" in oven("show market-roll", cwd=sample_book, now=NOW).out
    assert "73.0 %" in oven("diff market-roll --draft", cwd=sample_book, now=NOW).out
    assert "not saved" in oven("--book . ", cwd=sample_book, now=NOW).out
    assert oven("tweak market-roll salt=1.9% --why x", cwd=sample_book, now=NOW).code == 3


def test_a_bake_from_a_typed_up_page(sample_book, oven, tmp_path):
    """record --from takes a page with only what was told; the rest is written for it."""
    (tmp_path / "sheet.yaml").write_text(
        "bake_date: 2026-11-20\nbatch: 600 g flour\nweighed:\n  water: 410 g\nmeasured:\n  dough temperature: 25.5 C\n"
        "scores:\n  noor:\n    crumb: 8\n    crust: 7\n    note: good oven spring\n"
    )
    ran = oven("record market-roll r3 --from ../sheet.yaml", cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err
    assert "baked Friday 20 November 2026" in ran.out
    page = (sample_book / "trials/market-roll/2026-11-20-noor.yaml").read_text()
    assert "entered: 2026-11-25T12:00:00+01:00" in page
    assert "water: 410 g" in page


def test_entries_read_well_to_git_people(sample_book):
    """A subject that says what changed, the reason as the body, trailers, and an address that goes nowhere."""
    log = git(sample_book, "log", "--format=%an <%ae>%n%B", "--grep=^market-roll r2")
    assert log.startswith(
        "noor <noor@book.invalid>\nmarket-roll r2.noor: water 62 to 65 %\n\nsofter crumb, so a little more water"
    )
    assert "Ovenleaf-Verb: tweak" in log
    shown = git(sample_book, "log", "-p", "--format=", "--grep=^market-roll r2", "--", "formulas/market-roll.yaml")
    assert "-  water: 62%\n+  water: 65%\n" in shown
    assert git(sample_book, "status", "--short") == ""
    assert git(sample_book, "fsck", "--strict") == ""


def test_the_machine_s_own_git_settings_change_nothing(tmp_path):
    """Hooks, signing, line ends and a template from outside do nothing; no identity is needed."""
    home = tmp_path / "home"
    (home / "hooks").mkdir(parents=True)
    canary = home / "canary"
    for hook in ("pre-commit", "post-commit", "reference-transaction"):
        (home / "hooks" / hook).write_text(f"#!/bin/sh\ntouch {canary}\n")
        (home / "hooks" / hook).chmod(0o755)
    (home / ".gitconfig").write_text(
        f"[core]\n\thooksPath = {home}/hooks\n\tautocrlf = true\n[commit]\n\tgpgSign = true\n"
        f"[init]\n\ttemplateDir = {home}/hooks\n"
    )
    env = {**os.environ, "HOME": str(home), "GIT_DIR": str(home / "elsewhere"), "GIT_INDEX_FILE": str(home / "index")}
    env.pop("GIT_CONFIG_GLOBAL", None)
    run = [sys.executable, "-m", "ovenleaf"]
    subprocess.run([*run, "start", "stall", "--baker", "noor"], cwd=tmp_path, env=env, check=True, capture_output=True)
    page = "formula: x-loaf\ningredients:\n  strong wheat flour: 100%\n  water: 65%\n  salt: 2%\n"
    subprocess.run(
        [*run, "enter", "-"], cwd=tmp_path / "stall", env=env, check=True, capture_output=True, input=page.encode()
    )
    assert not canary.exists()
    assert not (home / "elsewhere").exists()
    assert b"\r" not in (tmp_path / "stall/formulas/x-loaf.yaml").read_bytes()
    assert git(tmp_path / "stall", "log", "--format=%an") == "noor\nnoor\n"


@pytest.mark.parametrize("name", ["../x", "/x", "con", "x" * 60, "Ärger"])
def test_a_name_that_is_no_name_is_refused(name, sample_book, oven):
    """Names that lead elsewhere, that a system reserves, or that are too long never become files."""
    before = snapshot(sample_book)
    page = f'formula: "{name}"\ningredients:\n  strong wheat flour: 100%\n  water: 65%\n'
    assert oven("enter -", cwd=sample_book, now=NOW, typed=page).code == 3
    assert snapshot(sample_book) == before
