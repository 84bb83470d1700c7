"""The index can be missing, spoiled, old or locked: the answers are the same, and only the wait is another."""

from __future__ import annotations

import os
import shutil
import sqlite3
import stat
import sys
from typing import TYPE_CHECKING

import pytest

from ovenleaf.book import index
from ovenleaf.book.steps import bakes, meanwhile, remembering
from ovenleaf.book.steps.bakes import read_trials

if TYPE_CHECKING:
    from pathlib import Path

ANSWERS = (
    "rank",
    "check",
    "check --json",
    "list",
    "history market-roll",
    "diff market-roll",
    "rank market-roll --by revision --json",
)
READER = index.Reader("trial", "a way")


@pytest.fixture
def book(sample_as_built, tmp_path, monkeypatch) -> Path:
    """The sample book without an index, in which even a few trials are worth one."""
    monkeypatch.setattr(remembering, "FEW", 1)
    folder = tmp_path / "ferry-lane"
    shutil.copytree(sample_as_built, folder)
    place(folder).unlink(missing_ok=True)
    return folder


def place(book: Path) -> Path:
    """Where the index lies."""
    return book / ".git" / "ovenleaf" / "index.sqlite"


def rows(book: Path) -> set[tuple[str, str]]:
    """The pages that the index knows, by path and id."""
    with sqlite3.connect(place(book)) as opened:
        return set(opened.execute("SELECT path, id FROM page"))


@pytest.fixture
def reads(monkeypatch) -> list[str]:
    """The pages that are read as YAML, in order."""
    seen: list[str] = []
    real = bakes.read_one
    monkeypatch.setattr(bakes, "read_one", lambda root, page: (seen.append(page), real(root, page))[1])
    return seen


def test_a_page_is_read_once(book, reads):
    """The second look reads nothing, and says the same."""
    cold = read_trials(book)
    count = len(reads)
    assert count == len(bakes.trial_pages(book))
    assert read_trials(book) == cold
    assert len(reads) == count
    before = rows(book)
    read_trials(book)
    assert rows(book) == before


def test_one_more_entry_adds_just_its_row(book, reads, oven):
    """A new bake is read once, when the book is next looked at, and nothing else is read for it."""
    read_trials(book)
    before = rows(book)
    assert oven("record market-roll --crumb 7 --crust 7", cwd=book, now="2026-11-25T12:00:00+01:00").code == 0
    reads_before = len(reads)
    trials, _ = read_trials(book)
    new = rows(book) - before
    assert [path for path, _ in new] == [f"trials/{trials[-1].name}.yaml"]
    assert len(reads) == reads_before + 1


def trap_edit(page: Path) -> None:
    """Another mark, by hand."""
    page.write_text(page.read_text(encoding="utf-8").replace("crumb: 5", "crumb: 9"), encoding="utf-8")


def trap_same_size_and_time(page: Path) -> None:
    """Another mark, in a file of the same size and time."""
    told = page.stat()
    trap_edit(page)
    os.utime(page, ns=(told.st_atime_ns, told.st_mtime_ns))
    assert page.stat().st_size == told.st_size


def trap_gone(page: Path) -> None:
    """The page is taken away."""
    page.unlink()


def trap_moved(page: Path) -> None:
    """The same bytes under another name."""
    page.rename(page.with_name("2026-09-04-noor.yaml"))


def trap_broken(page: Path) -> None:
    """The page cannot be read any more."""
    page.write_text("crumb: [", encoding="utf-8")


def trap_touched(page: Path) -> None:
    """The same bytes, written again."""
    page.write_bytes(page.read_bytes())


def trap_windows_line_ends(page: Path) -> None:
    """The same text as another editor saves it."""
    page.write_bytes(page.read_bytes().replace(b"\n", b"\r\n"))


TRAPS = [trap_edit, trap_same_size_and_time, trap_gone, trap_moved, trap_broken, trap_touched, trap_windows_line_ends]


@pytest.mark.parametrize("trap", TRAPS, ids=lambda trap: trap.__name__[5:].replace("_", " "))
def test_no_trap_is_fallen_into(book, trap):
    """After whatever happened to a page, the index gives what reading it gives; and so the next time."""
    read_trials(book)
    trap(book / "trials" / "market-roll" / "2026-09-03-noor.yaml")
    first, second = read_trials(book), read_trials(book)
    place(book).unlink()
    assert first == second == read_trials(book)


def spoil_with_words(at: Path) -> None:
    """No database at all."""
    at.write_text("flour", encoding="utf-8")


def spoil_in_the_middle(at: Path) -> None:
    """Bytes in its midst are others."""
    data = bytearray(at.read_bytes())
    data[100 : len(data) : 7] = b"x" * len(data[100 : len(data) : 7])
    at.write_bytes(data)


def spoil_by_cutting(at: Path) -> None:
    """Half of it is gone."""
    at.write_bytes(at.read_bytes()[: at.stat().st_size // 2])


def spoil_by_emptying(at: Path) -> None:
    """Nothing is left of it."""
    at.write_bytes(b"")


def spoil_facts(at: Path) -> None:
    """What it says of pages is nonsense."""
    with sqlite3.connect(at) as opened:
        opened.execute("UPDATE page SET facts = '[\"Trial\", 5]'")


def spoil_shape(at: Path) -> None:
    """Another program's table of the same name."""
    with sqlite3.connect(at) as opened:
        opened.execute("DROP TABLE page")
        opened.execute("CREATE TABLE page (flour TEXT)")


def spoil_by_an_older_program(at: Path) -> None:
    """Facts as another way of reading left them."""
    with sqlite3.connect(at) as opened:
        opened.execute("UPDATE page SET reader = 'older', facts = '[\"tuple\"]'")


SPOILS = [
    spoil_with_words, spoil_in_the_middle, spoil_by_cutting, spoil_by_emptying, spoil_facts, spoil_shape,
    spoil_by_an_older_program,
]  # fmt: skip


@pytest.mark.parametrize("spoil", SPOILS, ids=lambda spoil: spoil.__name__[6:].replace("_", " "))
def test_a_spoiled_index_changes_no_answer(book, spoil):
    """The answers are those of the pages, before and after it has mended itself or been given up."""
    right = read_trials(book)
    known = rows(book)
    spoil(place(book))
    assert read_trials(book) == right
    assert read_trials(book) == right
    assert rows(book) == known


@pytest.mark.parametrize("answer", ANSWERS)
def test_answers_are_the_same_warm_cold_and_without(book, oven, monkeypatch, answer):
    """Byte for byte."""
    cold = oven(answer, cwd=book)
    assert place(book).exists()
    warm = oven(answer, cwd=book)
    monkeypatch.setattr(remembering, "FEW", 10_000)
    without = oven(answer, cwd=book)
    assert cold == warm == without
    assert cold.code in (0, 1)
    assert cold.out


def test_a_broken_page_is_remembered_as_broken(book, reads):
    """What is wrong with it is told again without reading it again."""
    trap_broken(book / "trials" / "market-roll" / "2026-09-03-noor.yaml")
    first = read_trials(book)
    reads.clear()
    assert read_trials(book) == first
    assert first[1]
    assert reads == []


def test_another_program_at_the_index_stops_nobody(book):
    """While it is locked, pages are read."""
    right = read_trials(book)
    with sqlite3.connect(place(book), isolation_level=None) as other:
        other.execute("BEGIN EXCLUSIVE")
        assert read_trials(book) == right
    assert read_trials(book) == right


@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="root may write in any folder")
def test_a_book_that_may_only_be_read_is_read(book):
    """No index is made, and nothing is said of it."""
    folder = place(book).parent
    folder.chmod(stat.S_IRUSR | stat.S_IXUSR)
    try:
        assert read_trials(book)[0]
        assert not place(book).exists()
    finally:
        folder.chmod(stat.S_IRWXU)


def test_a_copy_without_history_is_read_without_an_index(book):
    """There is no place for one, and none is made."""
    right = read_trials(book)
    shutil.rmtree(book / ".git")
    assert read_trials(book) == right
    assert not (book / ".git").exists()


def test_an_index_that_is_a_link_is_not_followed(book, tmp_path):
    """Whoever hands a book on cannot have another file written over."""
    victim = tmp_path / "victim"
    victim.write_text("mine", encoding="utf-8")
    place(book).symlink_to(victim)
    assert read_trials(book)[0]
    assert victim.read_text(encoding="utf-8") == "mine"


def test_ways_of_reading_do_not_mix(book):
    """What one way has left is not handed to another."""
    index.learn(book, READER, {("trials/x.yaml", "1"): "facts"}, ())
    assert index.known_below(book, "trials/", READER) == {("trials/x.yaml", "1"): "facts"}
    assert index.known_below(book, "trials/", index.Reader("trial", "other")) == {}
    assert index.known_below(book, "trial/", READER) == {}
    index.learn(book, index.Reader("trial", "other"), {}, ())
    assert index.known_below(book, "trials/", READER) == {}


def test_two_processes_read_what_one_reads(book, monkeypatch):
    """With half of the pages read by another process the answers and the index are the same."""
    alone = read_trials(book)
    kept = rows(book)
    index.throw_away(book)
    monkeypatch.setattr(meanwhile, "MANY", 2)
    monkeypatch.setattr(meanwhile, "_is_of_use", lambda: sys.platform == "linux")
    assert read_trials(book) == alone
    assert rows(book) == kept
