"""A book as people see it who use git directly: its entries, its state after each command, and their own settings."""

from __future__ import annotations

import subprocess

import pytest

from support import run_ovenleaf

pytestmark = pytest.mark.counted

PAGE = """\
formula: stall-loaf
title: Stall loaf
ingredients:
  strong wheat flour: 100%
  water: 68%            # from the well
  salt: 2%
process:
  - bulk: 90 min at 25 C
"""
EDIT = "edit"

# Each command, and the subject, body and verb of the entry it makes; none for a command that only reads.
STORY = [
    ("start stall --title Stall --baker noor", ("Stall: a new book (noor)", "", "start")),
    ("enter -", ("stall-loaf r1.noor: a new formula", "", "enter")),
    (
        "tweak stall-loaf water=70% --why 'softer crumb'",
        ("stall-loaf r2.noor: water 68 to 70 %", "softer crumb", "tweak"),
    ),
    (
        "record stall-loaf --crumb 7 --crust 8",
        ("stall-loaf A1 (noor): baked 2026-11-04, crumb 7, crust 8", "", "record"),
    ),
    ("score A1 --taster tomas --crumb 8", ("stall-loaf A1 (tomas): crumb 8", "", "score")),
    (EDIT, None),
    (
        "save --why 'longer, for flavour'",
        ("stall-loaf r3.noor: bulk time 1 h 30 min to 2 h", "longer, for flavour", "save"),
    ),
    ("mark stall-loaf r3 keeper --why 'best so far'", ("stall-loaf r3.noor: marked keeper", "best so far", "mark")),
    ("copy stall-loaf evening-loaf", ("evening-loaf r1.noor: begun from stall-loaf r3.noor", "", "copy")),
    ("retire evening-loaf --why 'not now'", ("evening-loaf: put away (noor)", "not now", "retire")),
    ("list", None),
    ("show stall-loaf", None),
    ("show A1", None),
    ("diff stall-loaf", None),
    ("rank stall-loaf", None),
    ("history stall-loaf", None),
    ("weigh stall-loaf", None),
    ("check", None),
    ("tweak stall-loaf water=71% --why wetter --preview", None),
]


def git(book, *words):
    """What plain git says of the book."""
    return subprocess.run(["git", "-C", book, *words], capture_output=True, text=True, check=True).stdout


def play(folder, env=None):
    """The story told in a folder; gives the book and, for each command, what git says right after it."""
    book = folder / "stall"
    seen = []
    for line, _ in STORY:
        if line == EDIT:
            page = book / "formulas/stall-loaf.yaml"
            page.write_text(page.read_text().replace("90 min", "2 h"))
            seen.append(("", ""))
            continue
        at = folder if line.startswith("start") else book
        ran = run_ovenleaf(line, cwd=at, typed=PAGE if line == "enter -" else "", env=env)
        assert ran.code == 0, (line, ran.err)
        seen.append((git(book, "status", "--porcelain"), git(book, "rev-parse", "HEAD").strip()))
    return book, seen


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    """The story, told once with no settings at all around it."""
    return play(tmp_path_factory.mktemp("told"))


def test_nothing_is_left_lying_about_after_any_command(told):
    """Plain git finds the book as it was kept, after each command that writes and each that reads."""
    assert [line for (line, _), (status, _) in zip(STORY, told[1], strict=True) if status] == []


def test_only_what_writes_makes_an_entry(told):
    """One entry for each command that keeps something, none for one that reads or previews."""
    at = ""
    for (line, entry), (_, now) in zip(STORY, told[1], strict=True):
        if line != EDIT:
            assert (now != at) == (entry is not None), line
            at = now


def test_each_entry_says_what_it_is_why_and_by_which_command(told):
    """Subject within 72 columns, the reason as the body, trailers that git can read, an address that goes nowhere."""
    book, seen = told
    for (line, entry), (_, at) in zip(STORY, seen, strict=True):
        if entry is None:
            continue
        subject, reason, verb = entry
        form = "%an <%ae>%n%s%n%(trailers:key=Ovenleaf-Verb,valueonly)%(trailers:key=Ovenleaf-Version,valueonly)"
        who, said, named, version = git(book, "log", "-1", f"--format={form}", at).splitlines()[:4]
        assert who == "noor <noor@book.invalid>"
        assert said == subject, line
        assert len(said) <= 72
        assert named == verb
        assert version[0].isdigit()
        body = git(book, "log", "-1", "--format=%b", at).split("Ovenleaf-Verb")[0].strip()
        assert body == reason, line


def test_the_store_is_whole(told):
    """`fsck` finds nothing amiss, and nothing that hangs loose."""
    assert git(told[0], "fsck", "--strict", "--no-dangling") == ""


def test_a_tweak_is_a_line_in_the_page_that_git_shows(told):
    """The page's own change is the figure, and what ovenleaf stamps; the remark beside the figure is still there."""
    book, seen = told
    at = seen[2][1]
    shown = git(book, "show", "--format=", "--unified=0", at, "--", "formulas/stall-loaf.yaml")
    lines = [line for line in shown.splitlines() if line[:1] in "+-" and line[:3] not in ("+++", "---")]
    of_dough = [line for line in lines if "saved" not in line and line[1:].partition(":")[0] not in STAMPED]
    assert of_dough == ["-  water: 68%            # from the well", "+  water: 70%            # from the well"]


STAMPED = {"revision", "made_from", "why"}

SETTINGS = {
    "hooks and signing": (
        "[core]\n\thooksPath = {home}/hooks\n[commit]\n\tgpgSign = true\n[tag]\n\tgpgSign = true\n"
        "[gpg]\n\tprogram = {home}/hooks/sign\n"
    ),
    "line ends and filters": (
        "[core]\n\tautocrlf = true\n\tsafecrlf = true\n\tattributesFile = {home}/attributes\n"
        '[filter "shout"]\n\tclean = tr a-z A-Z\n\tsmudge = tr A-Z a-z\n\trequired = true\n'
    ),
    "an identity": "[user]\n\tname = Somebody Else\n\temail = else@example.org\n[author]\n\tname = Another\n",
    "an identity to be told": "[user]\n\tuseConfigOnly = true\n",
    "other habits": (
        "[init]\n\tdefaultBranch = trunk\n\ttemplateDir = {home}/template\n[core]\n\tignoreCase = true\n"
        "\tquotePath = true\n\tfsmonitor = {home}/hooks/fsmonitor\n[status]\n\tshort = true\n"
        "[log]\n\tshowSignature = true\n[color]\n\tui = always\n[safe]\n\tdirectory = /nowhere\n"
    ),
}


@pytest.mark.parametrize("name", SETTINGS)
def test_no_setting_from_outside_changes_a_thing(name, told, tmp_path):
    """With a git user's own settings the same commands make the very same entries, and nothing of theirs is run."""
    home = tmp_path / "home"
    (home / "hooks").mkdir(parents=True)
    (home / "template/hooks").mkdir(parents=True)
    canary = home / "canary"
    for hook in ("pre-commit", "post-commit", "reference-transaction", "post-index-change", "sign", "fsmonitor"):
        for folder in ("hooks", "template/hooks"):
            (home / folder / hook).write_text(f"#!/bin/sh\ntouch {canary}\nexit 1\n")
            (home / folder / hook).chmod(0o755)
    (home / "attributes").write_text("*.yaml filter=shout\n")
    (home / ".gitconfig").write_text(SETTINGS[name].format(home=home))
    env = {"HOME": str(home), "GIT_CONFIG_GLOBAL": str(home / ".gitconfig")}
    _, seen = play(tmp_path, env)
    assert not canary.exists()
    assert [at for _, at in seen] == [at for _, at in told[1]]


def test_a_git_person_may_keep_a_page_and_ovenleaf_goes_on(tmp_path, oven):
    """What was added and kept with plain git is read, and the next entry stands on it."""
    book, _ = play(tmp_path)
    page = book / "formulas/stall-loaf.yaml"
    page.write_text(page.read_text().replace("# from the well", "# from the tap"))
    who = ("-c", "user.name=Tomas", "-c", "user.email=tomas@stall.invalid")
    git(book, *who, "commit", "-q", "-am", "tap water")
    theirs = git(book, "rev-parse", "HEAD").strip()
    ran = oven("tweak stall-loaf salt=1.9% --why 'a little less'", cwd=book)
    assert ran.code == 0, ran.err
    assert git(book, "rev-parse", "HEAD^").strip() == theirs
    assert "# from the tap" in page.read_text()
    assert git(book, "status", "--porcelain") == ""
    assert git(book, "fsck", "--strict", "--no-dangling") == ""
