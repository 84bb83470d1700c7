"""What the machine does in the middle of it: full and read-only disks, Ctrl-C, other programs, no git, no answer."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from ovenleaf.book import store
from ovenleaf.errors import ExitCode
from refusals_support import as_document, offered, reads_well, refused, whole

pytestmark = pytest.mark.counted

NOW = "2026-11-25T12:00:00+01:00"
TWEAK = "tweak market-roll water=70% --why 'a little drier'"
RECORD = "record market-roll --crumb 7 --crust 8"
BEFORE_THE_TRUTH = store.STAGES[: store.STAGES.index("truth") + 1]
AFTER_THE_TRUTH = store.STAGES[store.STAGES.index("truth") + 1 :]


@pytest.fixture
def at_stage(monkeypatch):
    """`at_stage(NAME, FAULT)` raises FAULT just before that step of the write path is taken; None: no fault."""
    real = store.write

    def arm(name, fault, **more):
        def reached(stage):
            if stage == name and fault is not None:
                raise fault

        monkeypatch.setattr(store, "write", lambda *a, **k: real(*a, **{**k, "at_stage": reached, **more}))

    yield arm
    monkeypatch.setattr(store, "write", real)


def disk(number):
    """What a disk says, by its number."""
    return OSError(number, os.strerror(number))


@pytest.mark.parametrize(("stage", "command"), [*((stage, TWEAK) for stage in BEFORE_THE_TRUTH), ("page", RECORD)])
def test_a_full_disk_before_the_truth_leaves_all_as_it_was(stage, command, sample_book, oven, at_stage, golden):
    """A clear word, no note, no lock, no half page; and with room again the same command goes through."""
    at_stage(stage, disk(errno.ENOSPC))
    golden("bad/machine/disk-full", refused(oven, command, sample_book, now=NOW))
    at_stage("", None)
    assert oven(command, cwd=sample_book, now=NOW).code == 0
    assert oven("check", cwd=sample_book, now=NOW).code == 0


@pytest.mark.parametrize(("stage", "command"), [*((stage, TWEAK) for stage in AFTER_THE_TRUTH), ("index", RECORD)])
def test_a_full_disk_after_the_truth_leaves_all_saved(stage, command, sample_book, oven, at_stage):
    """The entry is in the book and is said to be; nothing is left lying about; the book is in order."""
    at_stage(stage, disk(errno.ENOSPC))
    ran = oven(command, cwd=sample_book, now=NOW)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith(("Market roll, revision 5", "Recorded: trial "))
    assert not [path for path in (sample_book / ".git/ovenleaf").iterdir() if "pending" in path.name]
    assert oven("check", cwd=sample_book, now=NOW).code == 0
    status = subprocess.run(["git", "-C", sample_book, "status", "--porcelain"], capture_output=True, check=True)
    assert status.stdout == b""


@pytest.mark.parametrize(
    ("number", "name"), [(errno.EROFS, "read-only"), (errno.EACCES, "read-only"), (errno.EIO, "failing")]
)
def test_a_disk_that_does_not_take_it_is_told(number, name, sample_book, oven, at_stage, golden):
    """Read-only or failing: why, what became of the book, what to do."""
    at_stage("journal", disk(number))
    golden(f"bad/machine/disk-{name}", refused(oven, TWEAK, sample_book, now=NOW))


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write in any folder")
def test_a_folder_that_may_not_be_written_in_is_told(sample_book, oven):
    """The real thing: taken away rights, not a made-up fault."""
    folders = [sample_book, *(path for path in sample_book.rglob("*") if path.is_dir())]
    for folder in folders:
        folder.chmod(0o555)
    try:
        ran = oven(TWEAK, cwd=sample_book, now=NOW)
    finally:
        for folder in folders:
            folder.chmod(0o755)
    assert ran.code == 3
    assert "may not be written in" in " ".join(ran.err.split())


@pytest.mark.parametrize("stage", BEFORE_THE_TRUTH)
def test_ctrl_c_before_the_truth_leaves_all_as_it_was(stage, sample_book, oven, at_stage, golden):
    """Exit 130; what was not saved is named, and the book is as before."""
    before = whole(sample_book)
    at_stage(stage, KeyboardInterrupt())
    ran = oven(TWEAK, cwd=sample_book, now=NOW)
    assert (ran.code, ran.out) == (ExitCode.INTERRUPTED, "")
    reads_well(ran.err)
    golden("bad/machine/ctrl-c-before", ran.err)
    assert whole(sample_book) == before


@pytest.mark.parametrize("stage", AFTER_THE_TRUTH)
def test_ctrl_c_after_the_truth_leaves_all_saved(stage, sample_book, oven, at_stage, golden):
    """Exit 130; what was saved is named, and it is all there."""
    at_stage(stage, KeyboardInterrupt())
    ran = oven(TWEAK, cwd=sample_book, now=NOW)
    assert (ran.code, ran.out) == (ExitCode.INTERRUPTED, "")
    reads_well(ran.err)
    golden("bad/machine/ctrl-c-after", ran.err)
    at_stage("", None)
    assert "70.0 %" in oven("show market-roll", cwd=sample_book, now=NOW).out
    assert oven("check", cwd=sample_book, now=NOW).code == 0


def test_ctrl_c_while_a_book_is_started_leaves_no_folder(oven, tmp_path, at_stage):
    """A book that did not come to be leaves nothing behind; one that did is said to be there."""
    at_stage("page", KeyboardInterrupt())
    ran = oven("start deep/stall --baker noor", cwd=tmp_path)
    assert ran.code == ExitCode.INTERRUPTED
    assert "Nothing was changed" in ran.err
    assert not (tmp_path / "deep").exists()
    at_stage("done", KeyboardInterrupt())
    ran = oven("start deep/stall --baker noor", cwd=tmp_path)
    assert ran.code == ExitCode.INTERRUPTED
    assert "this was saved already" in ran.err
    at_stage("", None)
    assert oven("check", cwd=tmp_path / "deep/stall").code == 0


def test_a_full_disk_while_a_book_is_started_leaves_an_empty_folder_empty(oven, tmp_path, at_stage, golden):
    """The folder was there before and stays, with nothing in it."""
    (tmp_path / "stall").mkdir()
    at_stage("blob", disk(errno.ENOSPC))
    golden("bad/machine/start-disk-full", refused(oven, "start stall --baker noor", tmp_path))
    assert list((tmp_path / "stall").iterdir()) == []


def test_a_folder_where_none_can_be_made_is_told(oven, tmp_path, monkeypatch, golden):
    """start says why there can be no book there."""

    def refuse(self, *args, **words):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr(Path, "mkdir", refuse)
    said = refused(oven, "start stall --baker noor", tmp_path)
    monkeypatch.undo()
    golden("bad/machine/start-no-folder", said)


@pytest.mark.parametrize("name", ["index.lock", "HEAD.lock"])
def test_another_program_s_lock_is_waited_for_and_told(name, sample_book, oven, at_stage, golden):
    """It is not ours to take away; when it is gone, the same command goes through."""
    at_stage("", None, lock_wait=0.2)
    lock = sample_book / ".git" / name
    lock.write_text("")
    golden(f"bad/machine/lock-{name.partition('.')[0].lower()}", refused_with_lock(oven, sample_book, lock))
    assert oven("list", cwd=sample_book, now=NOW).code == 0
    lock.unlink()
    assert oven(TWEAK, cwd=sample_book, now=NOW).code == 0


def refused_with_lock(oven, book, lock):
    """As `refused`, for a book that git itself cannot be asked about meanwhile."""
    ran = oven(TWEAK, cwd=book, now=NOW)
    assert (ran.code, ran.out) == (3, "")
    reads_well(ran.err)
    assert lock.exists()
    assert "water: 71%" in (book / "formulas/market-roll.yaml").read_text()
    return ran.err


def test_another_ovenleaf_at_work_is_waited_for_and_told(sample_book, oven, at_stage, golden):
    """One writes at a time; reading goes on meanwhile."""
    fcntl = pytest.importorskip("fcntl", reason="Windows ties such a lock to another call")
    at_stage("", None, lock_wait=0.2)
    descriptor = os.open(sample_book / ".git/ovenleaf/lock", os.O_RDWR | os.O_CREAT)
    fcntl.flock(descriptor, fcntl.LOCK_EX)
    try:
        golden("bad/machine/lock-ours", refused(oven, TWEAK, sample_book, now=NOW))
        assert oven("list", cwd=sample_book, now=NOW).code == 0
    finally:
        os.close(descriptor)
    assert oven(TWEAK, cwd=sample_book, now=NOW).code == 0


GITS = {"missing": None, "too-old": "echo git version 2.30.1", "not-git": "exit 1"}


@pytest.mark.parametrize("name", GITS)
def test_git_missing_or_too_old_is_told(name, sample_book, tmp_path, golden):
    """What is needed and how to get it; reading needs none; a book is not half started."""
    programs = tmp_path / "programs"
    programs.mkdir()
    if GITS[name]:
        (programs / "git").write_text(f"#!/bin/sh\n{GITS[name]}\n")
        (programs / "git").chmod(0o755)
    before = whole(sample_book)
    for words in (("tweak", "market-roll", "water=70%", "--why", "x"), ("start", "new", "--baker", "noor")):
        ran = alone(words, sample_book, programs)
        assert (ran.returncode, ran.stdout) == (3, "")
        reads_well(ran.stderr.replace("sudo apt", "apt"))
        golden(f"bad/machine/git-{name}", ran.stderr)
    for words in (("list",), ("diff", "market-roll")):
        assert alone(words, sample_book, programs).returncode == 0, words
    assert whole(sample_book) == before


def alone(words, book, programs):
    """ovenleaf in a program of its own, with nothing else on its path."""
    return subprocess.run(
        [sys.executable, "-m", "ovenleaf", *words],
        cwd=book,
        env={**os.environ, "PATH": str(programs), "OVENLEAF_NOW": NOW},
        capture_output=True,
        text=True,
    )


def test_a_wrong_kind_of_answer_ends_in_no_traceback(sample_book, oven):
    """Standard input at its end is an empty page, a page of nothing but space too."""
    for typed in ("", "\n\n", "# only a remark\n"):
        said = refused(oven, "enter -", sample_book, now=NOW, typed=typed)
        assert "There is nothing on this page." in said
        said = refused(oven, f"{RECORD} --from -", sample_book, now=NOW, typed=typed)
        assert "There is nothing on this page." in said


NEEDS_A_NAME = {
    "tweak": TWEAK,
    "enter": "enter -",
    "record": "record market-roll crumb 7, crust 8, a little tight",
    "score": "score A1 --flavour 5",
    "save": "save --why 'salt was wrong'",
    "mark": "mark market-roll r2 dropped --why 'too dry'",
    "copy": "copy market-roll other-roll",
    "retire": "retire market-roll --why 'no longer made'",
}


@pytest.fixture
def nobody_s(sample_book):
    """A copy of the sample book that nobody has written in yet."""
    (sample_book / ".git/ovenleaf/baker").unlink()
    return sample_book


@pytest.mark.parametrize("name", NEEDS_A_NAME)
def test_without_a_name_the_whole_command_is_offered(name, nobody_s, oven, golden):
    """Not on a terminal: refused, with the command as it was typed and a place for the name."""
    said = refused(oven, NEEDS_A_NAME[name], nobody_s, now=NOW, typed="formula: x\n")
    golden(f"bad/machine/no-name-{name}", said)
    assert offered(said)[0].startswith("--baker YOUR-NAME ")
    document = as_document(oven(f"{NEEDS_A_NAME[name]} --json", cwd=nobody_s, now=NOW, typed=""))
    assert document["next"]


def test_a_name_is_remembered_by_the_first_entry_and_not_by_a_slip(nobody_s, oven):
    """A command that is refused, or a preview, binds nobody to a name."""
    refused(oven, "--baker tomsa tweak market-rol water=70% --why x", nobody_s, now=NOW)
    before = whole(nobody_s)
    assert oven(f"--baker tomsa {TWEAK} --preview", cwd=nobody_s, now=NOW).code == 0
    assert whole(nobody_s) == before
    assert oven(f"--baker tomas {TWEAK}", cwd=nobody_s, now=NOW).code == 0
    assert oven(RECORD, cwd=nobody_s, now=NOW).code == 0
    said = refused(oven, f"--baker noor {RECORD}", nobody_s, now=NOW)
    assert said.startswith("This copy of the book writes as tomas, not as noor.")


@pytest.mark.skipif(sys.platform == "win32", reason="there are no pseudo-terminals")
class TestOnATerminal:
    """The same on a real pseudo-terminal."""

    def test_the_name_is_asked_for_once_and_remembered(self, nobody_s):
        """Asked in the middle of the first command that writes; the next does not ask."""
        code, seen = on_terminal(["tweak", "market-roll", "water=70%", "--why", "x"], nobody_s, b"tomas\n")
        assert code == 0, seen
        assert seen.count("Your name in this book") == 1
        assert "by tomas" in seen
        code, seen = on_terminal(["record", "market-roll", "--crumb", "7"], nobody_s, b"")
        assert code == 0, seen
        assert "Your name" not in seen

    def test_a_terminal_that_closes_at_the_question_changes_nothing(self, nobody_s):
        """Ctrl-D instead of a name: exit 130, and the book is as it was."""
        before = whole(nobody_s)
        code, seen = on_terminal(["tweak", "market-roll", "water=70%", "--why", "x"], nobody_s, b"\x04")
        assert code == 130, seen
        assert "Nothing was changed" in seen
        assert whole(nobody_s) == before

    def test_a_name_that_cannot_be_one_is_refused_with_the_nearest(self, nobody_s):
        """Capitals and signs; the book is as it was and nobody's still."""
        before = whole(nobody_s)
        code, seen = on_terminal(["tweak", "market-roll", "water=70%", "--why", "x"], nobody_s, b"Tomas!\n")
        assert code == 3, seen
        assert "Tomas! cannot be a baker's name in a book." in seen
        assert whole(nobody_s) == before

    def test_a_formula_told_line_by_line_that_does_not_come_out_is_kept(self, sample_book):
        """Nothing that was told is lost: it lies in a page, and the refusal names it."""
        lines = b"strong wheat flour 90%\nwater 65%\nsalt 2%\n\n2 loaves\ncrackling\nopen\n"
        code, seen = on_terminal(["enter", "stall-loaf"], sample_book, lines)
        assert code == 3, seen
        page = (sample_book / "stall-loaf.yaml").read_text()
        assert "  strong wheat flour: 90%" in page
        assert "stall-loaf.yaml, line" in seen
        assert "ovenleaf enter stall-loaf.yaml" in seen


def on_terminal(words, book, typed):
    """Runs ovenleaf on a pseudo-terminal, types `typed` when it asks; gives the exit code and what was seen."""
    import pty
    import select

    child, terminal = pty.fork()
    if child == 0:
        os.chdir(book)
        env = {**os.environ, "OVENLEAF_NOW": NOW, "TERM": "dumb", "COLUMNS": "200"}
        os.execve(sys.executable, [sys.executable, "-m", "ovenleaf", *words], env)
    seen = b""
    waiting = typed.splitlines(keepends=True)
    while True:
        ready = select.select([terminal], [], [], 30)[0]
        assert ready, f"nothing happens any more: {seen!r}"
        try:
            data = os.read(terminal, 4096)
        except OSError:  # Linux: the other side is closed
            break
        if not data:
            break
        seen += data
        if waiting and seen.rstrip(b" ").endswith(b":"):
            os.write(terminal, waiting.pop(0))
    os.close(terminal)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), seen.decode().replace("\r\n", "\n")
