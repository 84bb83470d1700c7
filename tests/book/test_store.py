"""Pages and their entry are written together or not at all, whatever happens in between."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
import threading
import time
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from ovenleaf.book import git, git_child, journal, layout, lock, settings, store, write_faults
from ovenleaf.book.write_faults import CannotWrite, Changed
from ovenleaf.errors import Interrupted

AT = datetime(2026, 11, 18, 7, 39, tzinfo=timezone(timedelta(hours=1)))
ENTRY = store.Entry(subject="market-roll r2 (noor): water 62 to 65 %", body="softer crumb", by="noor", at=AT)
START = {"book.yaml": b"title: Ferry Lane\n", "formulas/market-roll.yaml": b"water: 62%\n", "trials/old.yaml": b"x\n"}
CHANGES = {
    "formulas/market-roll.yaml": b"water: 65%\n",
    "formulas/market-roll/r2.noor.yaml": b"water: 65%\n",
    "trials/old.yaml": None,
    "photos/market-roll/d2.jpg": bytes(range(256)),
}
BEFORE_TRUTH = store.STAGES[: store.STAGES.index("truth") + 1]
AFTER_TRUTH = store.STAGES[len(BEFORE_TRUTH) :]
TESTS = Path(__file__).parents[1]


@pytest.fixture
def book(tmp_path):
    root = tmp_path / "ferry-lane"
    root.mkdir()
    git.init(root)
    store.write(root, START, replace(ENTRY, subject="the book is begun"))
    return root


def files_of(root):
    """Every file of the book outside .git with its bytes, and every folder."""
    return {
        path.relative_to(root).as_posix(): path.read_bytes() if path.is_file() else None
        for path in root.rglob("*")
        if ".git" not in path.relative_to(root).parts
    }


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def state_of(root):
    """What a baker or someone who knows git could notice: files, last entry, what is noted beside it."""
    index = {row.split("\t")[1]: row.split(" ")[1] for row in plain_git(root, "ls-files", "-s").splitlines()}
    return files_of(root), git.head(root), index, names(root / ".git/ovenleaf")


def plain_git(root, *args):
    """What someone who knows git gets by typing it in the book, with no settings of this machine."""
    quiet = {"PATH": os.environ["PATH"], "GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1"}
    who = {"GIT_AUTHOR_NAME": "x", "GIT_AUTHOR_EMAIL": "x@y", "GIT_COMMITTER_NAME": "x", "GIT_COMMITTER_EMAIL": "x@y"}
    command = ("git", "-C", str(root), *args)
    return subprocess.run(command, env=quiet | who, capture_output=True, check=True).stdout.decode()


def raising(stage, fault, *, time=1):
    """An `at_stage` that raises `fault` when `stage` comes for the n-th time."""
    seen = []

    def at_stage(name):
        seen.append(name)
        if name == stage and seen.count(name) == time:
            raise fault

    return at_stage


def test_a_write_puts_pages_and_entry_in_the_book(book):
    """Pages are new, changed and gone as asked; the entry holds them and the one before; all is clean."""
    before = git.head(book)
    written = store.write(book, CHANGES, ENTRY)
    assert written.recovered is None
    assert written.entry == git.head(book)
    assert plain_git(book, "rev-parse", "HEAD^").strip() == before
    expected = {"book.yaml": START["book.yaml"], **{page: data for page, data in CHANGES.items() if data is not None}}
    assert {page: data for page, data in files_of(book).items() if data is not None} == expected
    assert git.tree_ids(book) == {page: git.blob_id(data) for page, data in expected.items()}
    assert not (book / "trials").exists()
    assert plain_git(book, "diff-files", "--name-only") == ""  # before status, which would put it right
    assert plain_git(book, "status", "--porcelain") == ""
    assert names(book / ".git/ovenleaf") == ["lock"]
    assert plain_git(book, "fsck", "--strict", "--no-dangling") == ""


def test_stages_come_in_the_order_that_is_promised(book):
    """Every step is told of before it is taken, pages before their bytes are kept, the truth once."""
    seen = []
    store.write(book, CHANGES, ENTRY, at_stage=seen.append)
    assert tuple(dict.fromkeys(seen)) == store.STAGES
    assert [name for name in seen if name not in ("page", "blob")] == [
        name for name in store.STAGES if name not in ("page", "blob")
    ]
    assert seen.count("page") == len(CHANGES)


def test_an_entry_reads_well_to_people_who_know_git(book):
    """Subject, reason and trailers, one name for who wrote and who kept, the time given with its offset."""
    entry = replace(ENTRY, trailers=(("Verb", "tweak"), ("Ovenleaf", "0.1.0")))
    store.write(book, CHANGES, entry)
    assert plain_git(book, "log", "-1", "--format=%B") == (
        "market-roll r2 (noor): water 62 to 65 %\n\nsofter crumb\n\nVerb: tweak\nOvenleaf: 0.1.0\n\n"
    )
    who = plain_git(book, "log", "-1", "--format=%an|%ae|%aI|%cn|%ce|%cI").strip()
    assert who == "|".join(["noor", "noor@book.invalid", "2026-11-18T07:39:00+01:00"] * 2)
    assert plain_git(book, "log", "-1", "--format=%(trailers:key=Verb,valueonly)").strip() == "tweak"
    assert plain_git(book, "reflog", "-1", "--format=%gn %gd", "--date=iso").strip() == (
        "noor HEAD@{2026-11-18 07:39:00 +0100}"
    )


def test_an_address_that_is_given_is_used_and_words_may_be_in_any_letters(book):
    """A baker's own address, an entry without a reason, letters beyond ASCII."""
    entry = replace(ENTRY, subject="Brötchen r2: Wasser 65 %", body="", email="noor@example.org")
    store.write(book, CHANGES, entry)
    assert plain_git(book, "log", "-1", "--format=%ae|%B") == "noor@example.org|Brötchen r2: Wasser 65 %\n\n"


def test_the_same_write_makes_the_same_entry(tmp_path):
    """Nothing of the clock, the machine or chance gets into an entry."""
    ids = set()
    for name in ("one", "other"):
        root = tmp_path / name
        root.mkdir()
        git.init(root)
        store.write(root, START, ENTRY)
        ids.add(store.write(root, CHANGES, ENTRY).entry)
    assert len(ids) == 1


def test_a_page_is_kept_byte_for_byte(book):
    """Neither the settings of the machine nor attributes in the book change what is kept."""
    odd = {
        ".gitattributes": b"*.yaml text eol=crlf ident\n",
        "formulas/crlf.yaml": b"a: 1\r\nb: 2\r\n",
        "formulas/id.yaml": b"$Id$\n",
    }
    store.write(book, odd, ENTRY)
    assert git.read_blobs(book, git.tree_ids(book).values()).keys() >= {git.blob_id(data) for data in odd.values()}
    assert {page: (book / page).read_bytes() for page in odd} == odd


def test_settings_hooks_and_signing_of_the_machine_do_not_run(book, tmp_path, monkeypatch):
    """A baker's global hooks, signing and line endings, and hooks in the book, have no part in a write."""
    home, canary = tmp_path / "home", tmp_path / "ran"
    hooks = book / ".git/hooks"
    for folder in (home / "hooks", hooks):
        folder.mkdir(parents=True)
        for hook in (
            "pre-commit", "prepare-commit-msg", "commit-msg", "post-commit", "reference-transaction",
            "post-index-change", "pre-auto-gc", "fsmonitor-watchman",
        ):  # fmt: skip
            (folder / hook).write_text(f"#!/bin/sh\necho {hook} >>{canary}\n")
            (folder / hook).chmod(0o755)
    (home / ".gitconfig").write_text(
        f"[core]\n\thooksPath = {home}/hooks\n\tautocrlf = true\n\tfsmonitor = touch {canary}\n"
        f"[commit]\n\tgpgSign = true\n[gpg]\n\tprogram = {home}/hooks/pre-commit\n[user]\n\tname = Someone Else\n"
        "[i18n]\n\tcommitEncoding = ISO-8859-1\n"
    )
    monkeypatch.setenv("HOME", str(home))
    store.write(book, CHANGES | {"formulas/crlf.yaml": b"a\r\n"}, ENTRY)
    git.changed(book)
    assert not canary.exists()
    assert plain_git(book, "log", "-1", "--format=%an").strip() == "noor"
    header = plain_git(book, "cat-file", "commit", "HEAD").split("\n\n")[0]
    assert [line.split()[0] for line in header.splitlines()] == ["tree", "parent", "author", "committer"]
    assert git.tree_ids(book)["formulas/crlf.yaml"] == git.blob_id(b"a\r\n")


def test_hooks_in_the_book_would_run_without_us(book, tmp_path):
    """The canary of the test before can sing: plain git does run the book's hooks."""
    canary = tmp_path / "ran"
    (book / ".git/hooks").mkdir()
    hook = book / ".git/hooks/reference-transaction"
    hook.write_text(f"#!/bin/sh\ntouch {canary}\n")
    hook.chmod(0o755)
    plain_git(book, "commit", "--allow-empty", "-m", "x")
    assert canary.exists()


def test_git_variables_of_the_caller_do_not_reach_a_write(book, tmp_path, monkeypatch):
    """A write from inside someone's git hook lands in this book and nowhere else."""
    for name, value in {
        "GIT_DIR": str(tmp_path / "stray"),
        "GIT_INDEX_FILE": str(tmp_path / "stray"),
        "GIT_WORK_TREE": str(tmp_path),
        "GIT_OBJECT_DIRECTORY": str(tmp_path / "stray"),
        "GIT_AUTHOR_NAME": "Someone Else",
        "GIT_COMMITTER_DATE": "1999-01-01T00:00:00",
    }.items():
        monkeypatch.setenv(name, value)
    store.write(book, CHANGES, ENTRY)
    assert not (tmp_path / "stray").exists()
    assert plain_git(book, "log", "-1", "--format=%an %cI").strip() == "noor 2026-11-18T07:39:00+01:00"


def test_what_others_had_noted_or_edited_stays(book):
    """Someone's half-done work beside ours, noted in git's index or only typed, is neither taken nor lost."""
    (book / "book.yaml").write_text("title: edited by hand\n")
    (book / "notes.txt").write_text("mine")
    (book / "formulas/other.yaml").write_text("noted")
    plain_git(book, "add", "formulas/other.yaml")
    store.write(book, CHANGES, ENTRY)
    assert plain_git(book, "status", "--porcelain") == " M book.yaml\nA  formulas/other.yaml\n?? notes.txt\n"
    assert "formulas/other.yaml" not in git.tree_ids(book)


def test_a_draft_is_kept_by_saving_its_own_bytes(book):
    """A page edited by hand already holds what is saved; it counts against the last entry."""
    page = book / "formulas/market-roll.yaml"
    page.write_bytes(b"water: 65%\n")
    store.write(book, {"formulas/market-roll.yaml": b"water: 65%\n"}, ENTRY)
    assert git.tree_ids(book)["formulas/market-roll.yaml"] == git.blob_id(b"water: 65%\n")


def test_a_missing_shared_index_is_made_whole(book):
    """A copy whose index was lost does not show every other page as taken away."""
    (book / ".git/index").unlink()
    store.write(book, CHANGES, ENTRY)
    assert plain_git(book, "status", "--porcelain") == ""


def test_a_page_keeps_its_permissions(book):
    """A page that only its baker may read stays so."""
    page = book / "formulas/market-roll.yaml"
    page.chmod(0o600)
    store.write(book, CHANGES, ENTRY)
    assert page.stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("changes", [{}, {"book.yaml": START["book.yaml"]}, {"none.yaml": None}])
def test_a_write_that_changes_nothing_is_our_own_mistake(book, changes):
    """Empty entries are never made; a caller that asks for one is wrong, and nothing happens."""
    before = state_of(book)
    with pytest.raises(AssertionError):
        store.write(book, changes, ENTRY)
    assert state_of(book) == before


def test_a_page_that_changed_since_it_was_read_is_refused(book):
    """A job that read a page is not allowed to write over what came in between."""
    read = {"formulas/market-roll.yaml": b"water: 62%\n", "formulas/new.yaml": None}
    (book / "formulas/market-roll.yaml").write_bytes(b"water: 64%\n")
    before = state_of(book)
    with pytest.raises(Changed) as caught:
        store.write(book, CHANGES, ENTRY, expect=read)
    assert caught.value.page == "formulas/market-roll.yaml"
    assert state_of(book) == before
    (book / "formulas/market-roll.yaml").write_bytes(b"water: 62%\n")
    (book / "formulas/new.yaml").write_bytes(b"now there\n")
    with pytest.raises(Changed) as caught:
        store.write(book, CHANGES, ENTRY, expect=read)
    assert caught.value.page == "formulas/new.yaml"
    (book / "formulas/new.yaml").unlink()
    store.write(book, CHANGES, ENTRY, expect=read)


@pytest.mark.parametrize("page", ["../out.yaml", ".git/config", "link/x.yaml", "formulas/../../x"])
def test_a_write_never_leaves_the_book(book, tmp_path, page):
    """A page's name cannot lead out of the book, into its history or over a link."""
    (tmp_path / "elsewhere").mkdir()
    (book / "link").symlink_to(tmp_path / "elsewhere")
    before = state_of(book)
    with pytest.raises(layout.NotAPage):
        store.write(book, {page: b"x"}, ENTRY)
    assert state_of(book) == before
    assert names(tmp_path / "elsewhere") == []


def test_a_copy_without_history_cannot_be_written_in(book, tmp_path):
    """Neither such a copy nor the history around it is touched."""
    copy = book / "copy"
    copy.mkdir()
    (copy / "book.yaml").write_bytes(START["book.yaml"])
    before = state_of(book)
    with pytest.raises(settings.NoHistory):
        store.write(copy, CHANGES, ENTRY)
    assert state_of(book) == before


@pytest.mark.parametrize("path", ["", None])
def test_without_git_nothing_is_written(book, tmp_path, monkeypatch, path):
    """A missing or an old git is told before anything is touched."""
    before = state_of(book)
    if path is None:
        path = str(tmp_path / "bin")
        Path(path).mkdir()
        (Path(path) / "git").write_text("#!/bin/sh\necho git version 2.30\n")
        (Path(path) / "git").chmod(0o755)
    with monkeypatch.context() as patch:
        patch.setenv("PATH", path)
        with pytest.raises(git.NeedsGit):
            store.write(book, CHANGES, ENTRY)
    assert state_of(book) == before


@pytest.mark.parametrize(
    ("stage", "time"), [*((stage, 1) for stage in BEFORE_TRUTH), ("page", 2), ("page", 4), ("blob", 2), ("blob", 4)]
)
@pytest.mark.parametrize(
    ("number", "reason"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EROFS, "the book's folder may not be written in"),
        (errno.EACCES, "the book's folder may not be written in"),
        (errno.EIO, "the disk answered: Input/output error"),
    ],
)
@pytest.mark.counted
def test_a_fault_of_the_disk_leaves_the_book_as_it_was(book, stage, number, reason, time):
    """Whichever step meets a full, locked or failing disk, every byte is as before, and why is said."""
    before = state_of(book)
    with pytest.raises(CannotWrite) as caught:
        store.write(book, CHANGES, ENTRY, at_stage=raising(stage, OSError(number, os.strerror(number)), time=time))
    assert (caught.value.reason, caught.value.put_back) == (reason, True)
    assert state_of(book) == before
    assert store.write(book, CHANGES, ENTRY).recovered is None


@pytest.mark.parametrize("stage", AFTER_TRUTH)
def test_a_fault_of_the_disk_after_the_truth_loses_nothing(book, stage):
    """Once the entry is in, it is finished, and the write counts as done."""
    written = store.write(book, CHANGES, ENTRY, at_stage=raising(stage, OSError(errno.ENOSPC, "full")))
    assert written.entry == git.head(book)
    assert plain_git(book, "status", "--porcelain") == ""
    assert names(book / ".git/ovenleaf") == ["lock"]


@pytest.mark.parametrize("stage", store.STAGES)
def test_ctrl_c_leaves_the_book_as_before_or_wholly_saved(book, stage):
    """An interrupt that strikes within a step says truly which of the two it is."""
    before = state_of(book)
    with pytest.raises(Interrupted) as caught:
        store.write(book, CHANGES, ENTRY, at_stage=raising(stage, KeyboardInterrupt()))
    assert (caught.value.saved, caught.value.what) == (stage in AFTER_TRUTH, ENTRY.subject)
    if caught.value.saved:
        assert git.tree_ids(book)["photos/market-roll/d2.jpg"] == git.blob_id(CHANGES["photos/market-roll/d2.jpg"])
        assert plain_git(book, "status", "--porcelain") == ""
        assert names(book / ".git/ovenleaf") == ["lock"]
    else:
        assert state_of(book) == before


@pytest.mark.parametrize("stage", store.STAGES)
@pytest.mark.skipif(sys.platform == "win32", reason="Windows cannot put Ctrl-C off; the test before stands for it")
def test_a_real_ctrl_c_is_put_off_until_the_entry_is_saved(book, stage):
    """The terminal's signal ends a wait at once; from the journal on the write is finished first."""
    before = state_of(book)

    def press(name):
        if name == stage:  # to this thread: the program has one, a test runner may have more
            signal.pthread_kill(threading.get_ident(), signal.SIGINT)

    with pytest.raises(Interrupted) as caught:
        store.write(book, CHANGES, ENTRY, at_stage=press)
    assert caught.value.saved == (stage != "lock")
    assert (git.head(book) != before[1]) == caught.value.saved
    assert git.changed(book) == ()
    assert signal.SIGINT not in signal.pthread_sigmask(signal.SIG_BLOCK, ())


def test_a_mistake_of_ours_before_the_truth_leaves_the_book_as_it_was(book):
    """Even a fault that nobody foresaw is undone, and is passed on as it is."""
    before = state_of(book)
    with pytest.raises(ZeroDivisionError):
        store.write(book, CHANGES, ENTRY, at_stage=raising("tree", ZeroDivisionError()))
    assert state_of(book) == before


def test_a_page_that_does_not_read_back_is_refused(book, monkeypatch):
    """A disk that keeps other bytes than it was given is found out before the entry is made."""
    good = layout.replace_file

    def bad(target, data, *, temporary):
        good(target, data[:-2] + b"?\n" if data.startswith(b"water: 65") else data, temporary=temporary)

    monkeypatch.setattr(layout, "replace_file", bad)
    head = git.head(book)
    with pytest.raises(CannotWrite) as caught:
        store.write(book, CHANGES, ENTRY)
    assert "does not read back" in caught.value.reason
    assert git.head(book) == head


def test_a_disk_that_stays_broken_leaves_the_note_for_the_next_command(book, monkeypatch):
    """Where even putting back fails, it is said, and the next write does it and says so."""
    before = files_of(book)

    def broken(*args, **kwargs):
        raise OSError(errno.EIO, "Input/output error")

    with monkeypatch.context() as patch:

        def at_stage(name):
            if name == "tree":
                patch.setattr(layout, "replace_file", broken)
                broken()

        with pytest.raises(CannotWrite) as caught:
            store.write(book, CHANGES, ENTRY, at_stage=at_stage)
    assert caught.value.put_back is False
    assert "the next command" in caught.value.detail[0]
    assert files_of(book) != before
    assert store.recover(book) == (
        "An earlier entry had been cut off: market-roll r2 (noor): water 62 to 65 %. "
        "It was not saved, so nothing of it is in the book."
    )
    assert files_of(book) == before


def abandon(book, stage, changes=CHANGES, *, time=1):
    """A write that ends at `stage` as if it were killed there: nothing is put back."""
    writer = os.fork()
    if writer == 0:
        seen = []

        def end(name):
            seen.append(name)
            if name == stage and seen.count(name) == time:
                os.kill(os.getpid(), signal.SIGKILL)

        try:
            store.write(book, changes, ENTRY, at_stage=end)
        finally:
            os._exit(1)
    assert os.waitstatus_to_exitcode(os.waitpid(writer, 0)[1]) == -signal.SIGKILL


@pytest.mark.parametrize("stage", store.STAGES[2:])
def test_the_next_write_settles_what_a_killed_one_left(book, stage):
    """It finishes or drops the entry, says which, and then does its own work."""
    before = state_of(book)
    abandon(book, stage)
    written = store.write(book, {"formulas/other.yaml": b"x\n"}, replace(ENTRY, subject="other"))
    saved = stage in AFTER_TRUTH
    end = "It is saved." if saved else "It was not saved, so nothing of it is in the book."
    assert written.recovered == f"An earlier entry had been cut off: {ENTRY.subject}. {end}"
    kept = START | CHANGES if saved else START
    expected = {page: data for page, data in kept.items() if data is not None} | {"formulas/other.yaml": b"x\n"}
    assert {page: data for page, data in files_of(book).items() if data is not None} == expected
    assert plain_git(book, "status", "--porcelain") == ""
    assert plain_git(book, "rev-list", "--count", f"{before[1]}..HEAD").strip() == str(1 + saved)
    assert names(book / ".git/ovenleaf") == ["lock"]


def test_a_note_on_a_cut_off_entry_is_told_even_when_the_next_write_is_refused(book):
    """The baker hears of it once, whatever becomes of the command that found it."""
    abandon(book, "truth")
    with pytest.raises(Changed) as caught:
        store.write(book, CHANGES, ENTRY, expect={"book.yaml": b"other"})
    assert caught.value.detail[0].startswith("An earlier entry had been cut off")


def test_a_page_edited_by_hand_since_stays_and_is_named(book):
    """Putting back touches only what still is as the cut-off write left it."""
    abandon(book, "truth")
    (book / "formulas/market-roll.yaml").write_bytes(b"edited\n")
    assert store.recover(book) == (
        f"An earlier entry had been cut off: {ENTRY.subject}. It was not saved, so nothing of it is in the book, "
        "but formulas/market-roll.yaml was edited since and stays as it is."
    )
    expected = START | {"formulas/market-roll.yaml": b"edited\n"}
    assert {page: data for page, data in files_of(book).items() if data is not None} == expected


def test_an_entry_that_another_program_went_on_from_is_saved(book):
    """A further entry made with plain git on top of ours hides neither ours nor its own pages."""
    abandon(book, "index")
    plain_git(book, "reset", "-q")
    (book / "formulas/market-roll.yaml").write_bytes(b"water: 70%\n")
    plain_git(book, "commit", "-q", "-am", "by hand")
    assert store.recover(book).endswith("It is saved.")
    assert (book / "formulas/market-roll.yaml").read_bytes() == b"water: 70%\n"
    assert plain_git(book, "status", "--porcelain") == ""


def test_lock_files_beside_a_note_are_ours_and_go(book):
    """What a git of ours left when it was killed with us does not stop the next write."""
    abandon(book, "index")
    for name in ("index.lock", "HEAD.lock", "refs/heads/main.lock", "ovenleaf/entry-index.lock"):
        (book / ".git" / name).touch()
    assert store.recover(book, lock_wait=0).endswith("It is saved.")
    assert git.pending_locks(book) == ()
    assert names(book / ".git/ovenleaf") == ["lock"]


@pytest.mark.parametrize("name", ["index.lock", "HEAD.lock", "refs/heads/main.lock"])
def test_another_programs_lock_file_is_waited_for_then_refused(book, name):
    """Without a note it is not ours: it stays, and the refusal says which file and what to do."""
    path = book / ".git" / name
    path.touch()
    before = state_of(book)
    with pytest.raises(lock.OtherProgramBusy) as caught:
        store.write(book, CHANGES, ENTRY, lock_wait=0.1)
    assert caught.value.files == (f".git/{name}",)
    assert caught.value.what == "Another program is busy in this book's .git folder."
    assert path.exists()
    assert state_of(book) == before


def test_another_program_that_finishes_in_time_is_only_waited_for(book):
    """A lock file that goes away lets the write go on."""
    path = book / ".git/index.lock"
    path.touch()
    other = subprocess.Popen([sys.executable, "-c", f"import time, os; time.sleep(.3); os.remove({str(path)!r})"])
    assert store.write(book, CHANGES, ENTRY, lock_wait=10).entry == git.head(book)
    other.wait()


def test_a_lock_file_that_appears_in_the_midst_is_refused_and_undone(book):
    """Another program that comes in between is told of in words, not as a fault of ours."""
    before = state_of(book)
    path = book / ".git/refs/heads/main.lock"

    def at_stage(name):
        if name == "truth":
            path.touch()

    with pytest.raises(lock.OtherProgramBusy):
        store.write(book, CHANGES, ENTRY, at_stage=at_stage)
    assert path.exists()
    assert state_of(book) == before


def test_an_entry_that_comes_in_between_is_never_written_over(book):
    """The last step takes place only if the last entry still is the one that was read."""

    def at_stage(name):
        if name == "truth":
            plain_git(book, "commit", "-q", "--allow-empty", "-m", "by hand")

    with pytest.raises(Changed) as caught:
        store.write(book, CHANGES, ENTRY, at_stage=at_stage)
    assert caught.value.page is None
    assert plain_git(book, "log", "-1", "--format=%s").strip() == "by hand"
    assert plain_git(book, "status", "--porcelain") == ""


def test_an_index_held_by_another_program_after_the_truth_is_finished_later(book):
    """The entry counts as written; the index that git users see follows with the next write."""
    path = book / ".git/index.lock"
    written = store.write(book, CHANGES, ENTRY, at_stage=lambda name: path.touch() if name == "index" else None)
    assert written.entry == git.head(book)
    assert store.write(book, {"book.yaml": b"x\n"}, ENTRY).recovered.endswith("It is saved.")
    assert plain_git(book, "status", "--porcelain") == ""


def test_a_second_writer_waits_and_is_refused_in_words(book):
    """Two at once never mix; the one that waited too long is told why."""
    refusals = []

    def at_stage(name):
        if name == "truth":
            with pytest.raises(lock.BookInUse) as caught:
                store.write(book, {"book.yaml": b"y\n"}, ENTRY, lock_wait=0.1)
            refusals.append(caught.value)

    store.write(book, CHANGES, ENTRY, at_stage=at_stage)
    assert refusals[0].what == "Another ovenleaf is writing in this book."
    assert refusals[0].waited == 0.1


def odd_git(folder, verb, script):
    """A PATH whose git runs the Python line `script` when it is asked for `verb`, and then the real git.

    Not a shell script: some shells let through the Ctrl-C that their caller had put off.
    """
    folder.mkdir()
    real = str(git_child._program(os.environ))
    program = folder / "git"
    program.write_text(
        f"#!{sys.executable} -IS\nimport os, signal, sys, time\n"
        f"if {verb!r} in sys.argv:\n    {script}\nos.execv({real!r}, [{real!r}, *sys.argv[1:]])\n"
    )
    program.chmod(0o755)
    return f"{folder}{os.pathsep}{os.environ['PATH']}"


def start_child(book, path, *args, count=1):
    """The crash test's child at work in `book`, in a process group of its own."""
    env = os.environ | {"PATH": path, "PYTHONPATH": str(Path(git.__file__).parents[2])}
    command = [sys.executable, str(TESTS / "counted/crash_child.py"), str(book), "run", str(count), *args]
    return subprocess.Popen(command, env=env, start_new_session=True, stdout=subprocess.PIPE)


def wait_for(path):
    for _ in range(500):
        if path.exists():
            return
        time.sleep(0.01)
    raise AssertionError(f"{path} did not come")


@pytest.mark.skipif(sys.platform == "win32", reason="Windows ties a lock to its process; nothing is inherited there")
def test_a_git_that_outlives_its_killed_parent_still_holds_the_book(book, tmp_path):
    """The next writer waits until that git has ended too, and then finds the entry it finished."""
    started = tmp_path / "started"
    path = odd_git(tmp_path / "bin", "update-ref", f"open({str(started)!r}, 'w'); time.sleep(1)")
    child = start_child(book, path)
    wait_for(started)
    child.kill()
    child.communicate()
    with pytest.raises(lock.BookInUse):
        store.write(book, CHANGES, ENTRY, lock_wait=0.2)
    written = store.write(book, CHANGES, ENTRY, lock_wait=10)
    assert written.recovered == "An earlier entry had been cut off: run 0. It is saved."


@pytest.mark.skipif(sys.platform == "win32", reason="process groups and their Ctrl-C are another thing on Windows")
@pytest.mark.parametrize("verb", ["hash-object", "update-ref", "--index-info"])
@pytest.mark.counted
def test_ctrl_c_at_a_terminal_does_not_break_a_git_at_work(book, tmp_path, verb):
    """The terminal interrupts the whole group, git too; the entry is saved all the same and that is said."""
    started = tmp_path / "started"
    path = odd_git(tmp_path / "bin", verb, f"open({str(started)!r}, 'w'); time.sleep(0.5)")
    child = start_child(book, path)
    wait_for(started)
    os.killpg(child.pid, signal.SIGINT)
    out, _ = child.communicate()
    assert out.decode().split() == ["interrupted", "True"]
    assert plain_git(book, "log", "-1", "--format=%s").strip() == "run 0"
    assert plain_git(book, "status", "--porcelain") == ""
    assert names(book / ".git/ovenleaf") == ["lock"]


@pytest.mark.skipif(sys.platform == "win32", reason="process groups and their Ctrl-C are another thing on Windows")
@pytest.mark.parametrize("verb", ["hash-object", "update-ref", "--index-info", "--refresh"])
@pytest.mark.counted
def test_a_git_that_gives_up_at_ctrl_c_is_told_of_truly(book, tmp_path, verb):
    """Should a git not keep to the putting off, the book is still on one side, and that side is named."""
    before = state_of(book)
    started = tmp_path / "started"
    give_up = "signal.pthread_sigmask(signal.SIG_SETMASK, ()), signal.signal(signal.SIGINT, signal.SIG_DFL)"
    path = odd_git(tmp_path / "bin", verb, f"{give_up}; open({str(started)!r}, 'w'); time.sleep(1)")
    child = start_child(book, path)
    wait_for(started)
    os.killpg(child.pid, signal.SIGINT)
    out, _ = child.communicate()
    saved = out.decode().split() == ["interrupted", "True"]
    assert out.decode().split() == ["interrupted", str(saved)]
    assert saved == (git.head(book) != before[1])
    if not saved:
        assert state_of(book) == before


def test_a_git_that_is_killed_alone_leaves_nothing_in_the_way(book, tmp_path, monkeypatch):
    """A git ended from outside, for want of memory say, leaves its lock files; they are ours and go."""
    before = state_of(book)
    spoil = f"open({str(book / '.git/HEAD.lock')!r}, 'w'); os.kill(os.getpid(), signal.SIGKILL)"
    with monkeypatch.context() as patch:
        patch.setenv("PATH", odd_git(tmp_path / "bin", "update-ref", spoil))
        with pytest.raises(git.GitFault):
            store.write(book, CHANGES, ENTRY)
    assert state_of(book) == before
    assert store.write(book, CHANGES, ENTRY, lock_wait=0).recovered is None


@pytest.mark.parametrize(
    ("words", "reason"),
    [
        ("fatal: unable to write: No space left on device", "the disk is full"),
        ("error: insufficient permission for adding an object", "the book's folder may not be written in"),
    ],
)
def test_what_git_says_of_the_disk_is_put_into_our_words(book, tmp_path, monkeypatch, words, reason):
    """git meets a full or locked disk as well as we do; its own message stays out of sight."""
    before = state_of(book)
    with monkeypatch.context() as patch:
        patch.setenv("PATH", odd_git(tmp_path / "bin", "write-tree", f"sys.exit({words!r})"))
        with pytest.raises(CannotWrite) as caught:
            store.write(book, CHANGES, ENTRY)
    assert (caught.value.reason, caught.value.put_back) == (reason, True)
    assert words not in " ".join((caught.value.what, *caught.value.detail))
    assert state_of(book) == before


@pytest.mark.parametrize(
    "note",
    [
        b"",
        b"{",
        b"[]",
        b'{"what": "x", "base": null}',
        b'{"what": "x", "base": "HEAD", "changes": []}',
        b'{"what": 1, "base": null, "changes": []}',
        b'{"what": "x", "base": null, "changes": [{"path": "a.yaml", "old": "?", "new": null}]}',
        b'{"what": "x", "base": null, "changes": [{"path": "a.yaml", "old": null, "new": "--output=x"}]}',
    ],
)
def test_a_note_that_makes_no_sense_is_refused(book, note):
    """A damaged note is not guessed at; nothing is touched and what to do is said."""
    (book / ".git/ovenleaf/pending").write_bytes(note)
    before = state_of(book)
    with pytest.raises(journal.JournalUnreadable):
        store.write(book, CHANGES, ENTRY)
    assert state_of(book) == before


def test_a_note_cannot_make_us_write_outside_the_book(book, tmp_path):
    """A copied book may bring a note of someone else's making."""
    victim = tmp_path / "victim"
    victim.write_bytes(b"new")
    changes = (
        journal.Change(path="book.yaml", old=b"old", new=git.blob_id(START["book.yaml"])),
        journal.Change(path="../victim", old=b"old", new=git.blob_id(b"new")),
    )
    journal.save(book, journal.Pending(what="x", base=git.head(book), changes=changes))
    before = files_of(book)
    with pytest.raises(journal.JournalUnreadable):
        store.recover(book)
    assert victim.read_bytes() == b"new"
    assert files_of(book) == before


def test_recovering_a_sound_book_says_and_does_nothing(book):
    """There is nothing to tell where nothing was cut off."""
    before = state_of(book)
    assert store.recover(book) is None
    assert state_of(book) == before


WORDS = "commit branch head hash repository remote push pull merge fetch clone stash tag checkout origin conflict blob"


def test_no_git_word_stands_in_what_a_baker_reads():
    """The refusals of the write path speak of books, pages and entries."""
    refusals = [
        settings.NoHistory(),
        settings.strange_file("commondir"),
        lock.BookInUse(10.0),
        lock.OtherProgramBusy(("x",)),
        journal.JournalUnreadable(),
        layout.NotAPage("a.yaml", "It is a link."),
        git.NeedsGit(None),
        git.NeedsGit("2.30"),
        *map(Changed, (None, "a.yaml")),
        *map(CannotWrite, (write_faults.UNKNOWN, write_faults.FULL)),
        CannotWrite(write_faults.READ_ONLY, put_back=False),
    ]
    for refusal in refusals:
        said = " ".join((refusal.what, *refusal.detail)).lower()
        assert not set(WORDS.split()) & set(said.replace(",", " ").replace(".", " ").split()), said
