"""A question that was answered before, of a book that has not changed since, is answered without being worked out."""

from __future__ import annotations

import importlib
import inspect
import os
import shutil
import sqlite3
import time

import pytest

from ovenleaf.cli import front, handler, remembered, table
from ovenleaf.cli.lazy import load
from support import run_ovenleaf

LATER = 3_600_000_000_000  # nanoseconds
QUESTIONS = (
    "rank", "rank market-roll --by revision", "rank --json", "diff market-roll", "diff --trials A1 A2",
    "history market-roll --chart", "next market-roll", "find crumb above 7", "show market-roll", "show A1 --json",
    "check", "check --sentences", "list --gaps",
)  # fmt: skip
PAGE = "trials/market-roll/2026-09-03-noor.yaml"


@pytest.fixture
def book(sample_book, monkeypatch):
    """A sample book that was left alone for an hour."""
    real = time.time_ns
    monkeypatch.setattr(remembered.time, "time_ns", lambda: real() + LATER)
    (sample_book / ".git/ovenleaf/index.sqlite").unlink(missing_ok=True)
    return sample_book


@pytest.fixture
def worked_out(monkeypatch):
    """The command lines that were worked out, in order."""
    seen = []
    real = front._worked_out
    monkeypatch.setattr(front, "_worked_out", lambda words, question: (seen.append(words), real(words, question))[1])
    return seen


def ask(words, book):
    """What the program answers by the way that the installed one takes."""
    return run_ovenleaf(words, cwd=book, through=front.answer)


@pytest.mark.parametrize("question", QUESTIONS)
def test_the_second_answer_is_the_first(book, worked_out, question):
    """Byte for byte, with the same exit code; it is worked out once, and is that of the plain way."""
    first, second = ask(question, book), ask(question, book)
    assert first == second == run_ovenleaf(question, cwd=book)
    assert len(worked_out) == 1
    assert first.out


def edit(book):
    """Another mark, by hand."""
    page = book / PAGE
    page.write_text(page.read_text(encoding="utf-8").replace("crumb: 5", "crumb: 9"), encoding="utf-8")


def edit_unseen(book):
    """Another mark in a file of the same size and times."""
    told = (book / PAGE).stat()
    edit(book)
    os.utime(book / PAGE, ns=(told.st_atime_ns, told.st_mtime_ns))


def take_away(book):
    """The page is gone."""
    (book / PAGE).unlink()


def add(book):
    """One more page that was never entered."""
    shutil.copy(book / PAGE, (book / PAGE).with_name("2026-09-04-tomas.yaml"))


def add_hidden(book):
    """One more, of a kind that the book's folder says to pass by."""
    (book / ".gitignore").write_text("*tomas*\n", encoding="utf-8")
    add(book)


def forget_history(book):
    """The last entry is another one."""
    head = book / ".git/refs/heads/main"
    head.write_text("0" * 40 + "\n", encoding="utf-8")


def exclude(book):
    """git is told, in this copy alone, to pass pages by."""
    (book / ".git/info").mkdir(exist_ok=True)
    (book / ".git/info/exclude").write_text("*tomas*\n", encoding="utf-8")


def share(book):
    """What waits to be shared is another number."""
    (book / ".git/ovenleaf/sharing.json").write_text("{}", encoding="utf-8")


TRAPS = [exclude, share, edit, edit_unseen, take_away, add, add_hidden, forget_history]


@pytest.mark.parametrize("trap", TRAPS, ids=lambda trap: trap.__name__.replace("_", " "))
def test_a_book_that_has_changed_is_asked_anew(book, worked_out, trap):
    """Whatever was done to it, by whatever way."""
    ask("rank", book)
    trap(book)
    assert ask("rank", book) == run_ovenleaf("rank", cwd=book)
    assert len(worked_out) == 2


def test_a_copy_is_asked_anew(book, worked_out, tmp_path):
    """A book copied elsewhere brings its index along, and is another book."""
    ask("rank", book)
    copy = shutil.copytree(book, tmp_path / "copy")
    ask("rank", copy)
    assert len(worked_out) == 2


def test_what_was_changed_a_moment_ago_is_not_yet_kept(sample_book, worked_out):
    """A second change within the same tick of the disk's clock could not be told from the first."""
    (sample_book / PAGE).touch()
    ask("rank", sample_book)
    ask("rank", sample_book)
    assert len(worked_out) == 2


def test_a_change_while_it_is_worked_out_is_not_kept(book, worked_out, monkeypatch):
    """The answer may be that of the page before or after."""
    real = remembered.keep
    monkeypatch.setattr(remembered, "keep", lambda *args: (edit(book), real(*args)))
    ask("rank", book)
    monkeypatch.setattr(remembered, "keep", real)
    assert ask("rank", book) == run_ovenleaf("rank", cwd=book)
    assert len(worked_out) == 2


def test_another_day_is_another_question(book, worked_out):
    """What is missing or late may hang on the day."""
    for now in ("2026-11-04T12:00:00+01:00", "2026-11-05T12:00:00+01:00"):
        run_ovenleaf("check", cwd=book, through=front.answer, now=now)
    assert len(worked_out) == 2


def test_a_list_with_a_bake_in_hand_is_never_kept(book, worked_out):
    """What is due next is another thing a minute later."""
    assert run_ovenleaf("begin market-roll --flour 600g", cwd=book).code == 0
    ask("list", book)
    ask("list", book)
    assert len(worked_out) == 2


def test_a_refusal_is_never_kept(book, worked_out):
    """It is said on the other stream, and may offer what is there now."""
    assert ask("show nothing-such", book).code == 3
    assert ask("show nothing-such", book).err
    assert len(worked_out) == 2


@pytest.mark.parametrize("typed", ["history market-roll --chart --svg a.svg", "check market-roll --meant yes"])
def test_what_writes_does_not_go_this_way(book, typed):
    """Neither kept, nor answered from what was kept."""
    assert remembered._question(typed.split()) is None


@pytest.mark.parametrize("text", ["Crumb 8.0\x1b[2J", "r\u202eevised"])
def test_what_no_screen_of_ours_says_is_not_said(book, worked_out, text):
    """A book can come from anyone, and its index with it."""
    right = ask("rank", book)
    from ovenleaf.book import index

    with sqlite3.connect(book / ".git/ovenleaf/index.sqlite") as opened:
        ((question, state),) = opened.execute("SELECT question, state FROM answer").fetchall()
    index.keep_answer(book, question, state, index.Answer(0, text))
    assert ask("rank", book) == right
    assert len(worked_out) == 2


def test_a_spoiled_answer_is_worked_out_again(book, worked_out):
    """One letter of it is another."""
    right = ask("rank", book)
    with sqlite3.connect(book / ".git/ovenleaf/index.sqlite") as opened:
        opened.execute("UPDATE answer SET text = replace(text, 'a', 'e')")
    assert ask("rank", book) == right
    assert len(worked_out) == 2


@pytest.mark.parametrize("name", remembered.QUESTIONS)
def test_each_option_is_one_that_the_command_has_and_takes_as_many_words(name):
    """A flag takes none, and a pair two."""
    command = load(next(entry for entry in table.COMMANDS if entry.name == name))
    known = {option: param for param in command.params for option in param.opts}
    for option, words in (remembered.QUESTIONS[name] | remembered.ALWAYS).items():
        assert (0 if known[option].is_flag else known[option].nargs) == words, option


def test_what_takes_a_baker_is_not_a_question_or_has_its_writing_options_left_out():
    """A command that signs an entry does it only with an option that does not go this way."""
    for entry in table.COMMANDS:
        module = importlib.import_module(entry.target.partition(":")[0])
        if "signed(" in inspect.getsource(module) and entry.name in remembered.QUESTIONS:
            assert entry.name in {"check", "next"}, entry.name
            assert not {"--meant", "--keep", "--preview", "--report"} & set(remembered.QUESTIONS[entry.name])


def test_who_reads_no_further_is_no_fault(book, monkeypatch):
    """`ovenleaf rank | head -1` ends well the second time too."""
    ask("rank", book)
    read, write = os.pipe()
    os.close(read)
    answer = handler.ExitCode.DONE
    with os.fdopen(write, "w", encoding="utf-8") as stream:
        monkeypatch.setattr(remembered.sys, "stdout", stream)
        assert remembered._say("a line\n", int(answer)) == answer


def test_a_folder_that_was_taken_away_underfoot_is_told_of(tmp_path):
    """The way past typer leaves it to the plain one."""
    gone = tmp_path / "gone"
    gone.mkdir()
    here = os.open(".", os.O_RDONLY)
    os.chdir(gone)
    gone.rmdir()
    try:
        assert remembered.say_again(["rank"]) == (None, None)
    finally:
        os.chdir(here)
        os.close(here)


def test_a_word_that_is_no_text_is_answered_and_not_kept(book, worked_out):
    """An argument that came in bytes of another writing."""
    words = ["find", "caf\udce9"]
    answers = [run_ovenleaf(*words, cwd=book, through=front.answer) for _ in range(2)]
    assert answers[0] == answers[1] == run_ovenleaf(*words, cwd=book)
    assert len(worked_out) == 2
