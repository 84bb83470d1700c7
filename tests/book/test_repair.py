"""`check` finds what was done behind the book's back; `check --repair` mends what can be mended and tells of it."""

from __future__ import annotations

import os
import shutil
import subprocess

import pytest

NOW = "2026-11-25T12:00:00+01:00"
KEPT = "formulas/market-roll/r1.noor.yaml"


@pytest.fixture
def book(sample_as_built, tmp_path):
    shutil.copytree(sample_as_built, tmp_path / "book")
    return tmp_path / "book"


def plain_git(book, *words):
    who = ("-c", "user.name=ada", "-c", "user.email=ada@book.invalid")
    ran = subprocess.run(["git", "-C", book, *who, *words], capture_output=True, check=True, text=True)
    return ran.stdout.strip()


def loose(book, rev):
    """The file in which git keeps a thing; what lies in packs is taken out of them first."""
    for number, pack in enumerate(sorted((book / ".git/objects/pack").glob("*.pack"))):
        moved = pack.rename(book.parent / f"{number}.pack")
        pack.with_suffix(".idx").unlink()
        with moved.open("rb") as stream:
            subprocess.run(["git", "-C", book, "unpack-objects", "-q"], stdin=stream, check=True)
    found = plain_git(book, "rev-parse", rev)
    path = book / ".git/objects" / found[:2] / found[2:]
    path.chmod(0o644)
    return path


def spoil(name):
    """Ways in which a disk or a power cut spoils a history, each of which can be mended."""

    def a_page_lost(book):
        loose(book, f"HEAD:{KEPT}").unlink()

    def a_list_emptied(book):
        loose(book, "HEAD^{tree}").write_bytes(b"")

    def the_last_entry_cut_short(book):
        path = loose(book, "HEAD")
        path.write_bytes(path.read_bytes()[:40])

    def the_pointer_emptied(book):
        (book / ".git/HEAD").write_bytes(b"\0" * 41)

    def the_end_emptied(book):
        (book / ".git/refs/heads/main").write_text("")

    def the_list_of_files_spoiled(book):
        (book / ".git/index").write_bytes(b"x" * 400)

    def half_made_files(book):
        (book / ".git/ovenleaf/page.tmp").write_text("half")
        (book / ".git/ovenleaf/part.bundle").write_text("half")

    def an_old_lock(book):
        path = book / ".git/index.lock"
        path.write_text("")
        os.utime(path, (1_000_000_000, 1_000_000_000))

    def a_note_that_makes_no_sense(book):
        (book / ".git/ovenleaf/pending").write_text("[" * 100_000)

    return locals()[name]


WAYS = (
    "a_page_lost",
    "a_list_emptied",
    "the_last_entry_cut_short",
    "the_pointer_emptied",
    "the_end_emptied",
    "the_list_of_files_spoiled",
    "half_made_files",
    "an_old_lock",
    "a_note_that_makes_no_sense",
)


@pytest.mark.counted
@pytest.mark.parametrize("name", WAYS)
def test_what_a_power_cut_spoils_is_mended_and_told(name, book, oven, golden):
    """Each mending is a sentence; afterwards the whole history is sound, writing goes on, no page has changed."""
    pages = {path: path.read_bytes() for path in book.rglob("*.yaml")}
    spoil(name)(book)
    foreseen = oven("check --repair --preview", cwd=book, now=NOW)
    assert "A preview" in foreseen.out
    ran = oven("check --repair", cwd=book, now=NOW)
    assert ran.code == 0, ran.out
    golden(f"hostile/mended-{name.replace('_', '-')}", ran.out)
    assert oven("check --whole", cwd=book, now=NOW).code == 0
    assert {path: path.read_bytes() for path in book.rglob("*.yaml")} == pages
    assert "Nothing had to be mended." in oven("check --repair", cwd=book, now=NOW).out
    assert oven("tweak market-roll water=70% --why 'a little drier'", cwd=book, now=NOW).code == 0
    assert oven("check --whole", cwd=book, now=NOW).code == 0


def test_a_lock_that_may_be_in_use_is_left_and_told(book, oven):
    """Only a lock file that is an hour old is taken for left behind."""
    (book / ".git/index.lock").write_text("")
    ran = oven("check --repair", cwd=book, now=None)
    assert "Not mended\n  .git/index.lock was put there within the last hour" in ran.out
    assert (book / ".git/index.lock").exists()


@pytest.mark.counted
@pytest.mark.parametrize("how", ["by hand", "by another program"])
@pytest.mark.parametrize("what", ["edited", "gone"])
def test_a_kept_revision_changed_behind_the_book_s_back_is_found_and_put_back(how, what, book, oven, golden):
    """It is put back byte for byte; what lay in its place is kept beside; undo leaves that alone."""
    saved = (book / KEPT).read_bytes()
    if what == "edited":
        (book / KEPT).write_bytes(saved.replace(b"62%", b"64%"))
    else:
        (book / KEPT).unlink()
    if how == "by another program":
        plain_git(book, "add", "-A")
        plain_git(book, "commit", "-qm", "tidied")
    found = oven("check", cwd=book, now=NOW)
    assert found.code == 1
    golden(f"hostile/kept-{what}-check", found.out)
    mended = oven("check --repair", cwd=book, now=NOW)
    assert mended.code == 0, mended.out
    golden(f"hostile/kept-{what}-mended", mended.out)
    assert (book / KEPT).read_bytes() == saved
    beside = list((book / "aside").rglob("*.yaml")) if (book / "aside").exists() else []
    assert [b"64%" in path.read_bytes() for path in beside] == ([True] if what == "edited" else [])
    assert plain_git(book, "status", "--porcelain") == ""
    assert KEPT not in oven("undo --preview", cwd=book, now=NOW).out
    assert oven("check --whole", cwd=book, now=NOW).code == 0


def test_a_trial_that_was_taken_away_is_found_and_put_back(book, oven):
    """A trial stays for ever: one that is gone is a mistake, whoever took it away."""
    page = next((book / "trials/market-roll").glob("*.yaml"))
    saved = page.read_bytes()
    page.unlink()
    assert f"In {page.relative_to(book)}" in oven("check", cwd=book, now=NOW).out
    assert oven("check --repair", cwd=book, now=NOW).code == 0
    assert page.read_bytes() == saved


@pytest.mark.counted
def test_a_damaged_history_stops_no_reading_and_is_told_in_words(book, oven, golden):
    """Writing says what is wrong and what to do; nothing is changed, nothing is our own fault."""
    shutil.rmtree(book / ".git/objects")
    (book / ".git/objects").mkdir()
    for command in ("list", "rank", "diff market-roll", "show A1", "history market-roll", "--sentences"):
        assert oven(command, cwd=book, now=NOW).code == 0, command
    before = (book / "formulas/market-roll.yaml").read_bytes()
    refused = oven("tweak market-roll water=70% --why x", cwd=book, now=NOW)
    assert refused.code == 3
    golden("hostile/damaged", refused.err)
    assert (book / "formulas/market-roll.yaml").read_bytes() == before
    checked = oven("check --repair", cwd=book, now=NOW)
    assert checked.code == 1
    golden("hostile/damaged-beyond-repair", checked.out)
