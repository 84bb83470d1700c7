"""The one way to write in a book: pages and their entry in its history, together or not at all.

book lock, journal, pages, blobs, tree, entry, the one moment of truth (`update-ref` with the expected
old value), shared index, journal removed. Whatever goes wrong before the truth leaves the book as it
was; after it the entry is saved. Must not know what a page says, and looks at no clock.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NoReturn

from ovenleaf.book import git, journal, layout, lock, settings
from ovenleaf.book.write_faults import UNKNOWN, CannotWrite, Changed, reason_of
from ovenleaf.errors import Interrupted, Refusal, note_saved, saved_so_far

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from datetime import datetime
    from pathlib import Path

# The steps of a write, as `at_stage` is told of them, each just before it is taken.
STAGES = ("lock", "journal", "page", "blob", "tree", "entry", "truth", "index", "done")


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What the book's history says of a write.

    `subject` is one line, and the phrase by which a baker hears of it should it be cut off; `by` is
    a handle; `email` is HANDLE@book.invalid unless given; `at` must carry its offset. `ready` is an entry
    that is there already, to which the book goes on from the entry `after`: it holds the very pages that are written.
    """

    subject: str
    body: str = ""
    trailers: tuple[tuple[str, str], ...] = ()
    by: str
    email: str | None = None
    at: datetime
    ready: str | None = None
    after: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """The id of the entry that was written; a sentence on an earlier one that had been cut off, or None."""

    entry: str
    recovered: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    root: Path
    changes: Mapping[str, bytes | None]
    entry: Entry
    pending: journal.Pending
    at_stage: Callable[[str], None]
    inherited: Sequence[int]


def write(
    root: Path,
    changes: Mapping[str, bytes | None],
    entry: Entry,
    *,
    expect: Mapping[str, bytes | None] | None = None,
    at_stage: Callable[[str], None] = lambda stage: None,
    lock_wait: float = 10.0,
) -> Written:
    """Writes pages (None takes one away) and one entry that holds them.

    `expect` gives the bytes of pages as the caller read them (None: it was not there): Changed if
    one is no longer so, before anything is written. `lock_wait` is in seconds. Raises Refusals
    (BookInUse, OtherProgramBusy, Changed, CannotWrite, NoHistory, SettingsRefused, NeedsGit) with the
    book as it was, Interrupted for Ctrl-C, GitFault where git fails in a way no baker can mend.
    """
    git.require()
    settings.check(root)
    before = saved_so_far()
    try:
        at_stage("lock")
        with lock.held(root, lock_wait) as inherited:
            with lock.ctrl_c_held_back():
                recovered = _recover(root, inherited)
            try:
                lock.wait_for_others(root, lock_wait)
                with lock.ctrl_c_held_back():
                    pending = _plan(root, changes, entry, expect or {})
                    made = _carry_out(
                        _Work(
                            root=root,
                            changes=changes,
                            entry=entry,
                            pending=pending,
                            at_stage=at_stage,
                            inherited=inherited,
                        )
                    )
            except Refusal as refusal:
                refusal.detail = (*([recovered] if recovered else []), *refusal.detail)
                raise
    except Interrupted:
        raise
    except KeyboardInterrupt as stop:  # while waiting, or put off until the entry was saved
        raise Interrupted(saved=saved_so_far() != before, what=entry.subject) from stop
    except OSError as fault:
        raise CannotWrite(reason_of(fault) or UNKNOWN) from fault
    return Written(entry=made, recovered=recovered)


def recover(root: Path, *, lock_wait: float = 10.0) -> str | None:
    """Settles what a cut-off write left, as the next write would; a sentence on it, or None."""
    git.require()
    settings.check(root)
    with lock.held(root, lock_wait) as inherited, lock.ctrl_c_held_back():
        return _recover(root, inherited)


def _recover(root: Path, inherited: Sequence[int]) -> str | None:
    try:
        return journal.recover(root, pass_fds=inherited)
    except (OSError, git.GitFault) as fault:
        if reason := reason_of(fault):
            raise CannotWrite(reason, put_back=False) from fault
        raise


def _plan(
    root: Path, changes: Mapping[str, bytes | None], entry: Entry, expect: Mapping[str, bytes | None]
) -> journal.Pending:
    """What is to be written, as the journal will have it; Changed if the caller read something else."""
    for page, read in expect.items():
        if layout.read_file(root, page) != read:
            raise Changed(page)
    old = {page: layout.read_file(root, page) for page in changes}
    base = git.head(root)
    if entry.ready is not None and base != entry.after:
        raise Changed(None)
    before = git.ids_at(root, base, changes)
    after = {page: None if data is None else git.blob_id(data) for page, data in changes.items()}
    nothing = before == after and all(old[page] == data for page, data in changes.items())
    if nothing and entry.ready is None:
        raise AssertionError("a write that changes nothing")
    if "\n" in entry.subject or not entry.subject.strip() or entry.at.utcoffset() is None:
        raise AssertionError("an entry needs one line of subject and a time with its offset")
    moves = tuple(journal.Change(path=page, old=old[page], new=after[page]) for page in changes)
    return journal.Pending(what=entry.subject, base=base, changes=moves)


def _carry_out(work: _Work) -> str:
    """Takes every step from the journal on; gives the entry's id."""
    root, inherited = work.root, work.inherited
    try:
        work.at_stage("journal")
        journal.save(root, work.pending)
        _put_pages(work)
        who = git.signature(work.entry.by, _address(work.entry), work.entry.at)
        made = _make_entry(work, who)
        work.at_stage("truth")
        git.move_head(root, made, work.pending.base, who=who, pass_fds=inherited)
        note_saved((root, made), work.entry.subject)
        work.at_stage("index")
        ids = {change.path: change.new for change in work.pending.changes}
        journal.update_shared_index(root, ids, pass_fds=inherited)
        work.at_stage("done")
        journal.tidy(root)
        journal.remove(root)
    except BaseException as fault:
        return _after(work, fault)
    return made


def _put_pages(work: _Work) -> None:
    for change in work.pending.changes:
        work.at_stage("page")
        if work.changes[change.path] != change.old:
            journal.put_page(work.root, change.path, work.changes[change.path])
    for page, data in work.changes.items():
        if layout.read_file(work.root, page) != data:
            raise CannotWrite(f"{page} does not read back as it was written, the disk may be failing")


def _make_entry(work: _Work, who: Mapping[str, str]) -> str:
    """Keeps the pages, their tree and the entry in the history; nothing points at them yet."""
    root, inherited = work.root, work.inherited
    if work.entry.ready is not None:
        return work.entry.ready
    for data in work.changes.values():
        work.at_stage("blob")
        if data is not None:
            git.store_blob(root, data, pass_fds=inherited)
    work.at_stage("tree")
    index = journal.private_index(root)
    git.read_tree(root, work.pending.base, index=index, pass_fds=inherited)
    ids = {change.path: change.new for change in work.pending.changes}
    git.set_in_index(root, ids, index=index, pass_fds=inherited)
    tree = git.write_tree(root, index=index, pass_fds=inherited)
    work.at_stage("entry")
    message = _message(work.entry)
    parents = (work.pending.base,) if work.pending.base else ()
    return git.write_entry(root, tree, parents, message, who=who, pass_fds=inherited)


def _address(entry: Entry) -> str:
    return f"{entry.by}@book.invalid" if entry.email is None else entry.email


def _message(entry: Entry) -> str:
    trailers = "\n".join(f"{name}: {value}" for name, value in entry.trailers)
    return "\n\n".join(part for part in (entry.subject, entry.body.strip("\n"), trailers) if part) + "\n"


def _after(work: _Work, fault: BaseException) -> str:
    """Brings the book to one side or the other after `fault`; gives the entry's id if it is saved."""
    made: str | None = None
    if isinstance(fault, git.GitFault) and fault.code < 0:
        git.remove_locks(work.root)  # a git of ours was ended from outside; its lock files are ours
    try:
        made = journal.entry_of(work.root, work.pending)
        if made is not None:
            note_saved((work.root, made), work.entry.subject)
        journal.settle(work.root, work.pending, made, pass_fds=work.inherited)
    except (OSError, git.GitFault, lock.OtherProgramBusy):
        if made is None:  # the journal stays, and the next writing command settles it
            raise CannotWrite(reason_of(fault) or UNKNOWN, put_back=False) from fault
    if isinstance(fault, KeyboardInterrupt):
        raise Interrupted(saved=made is not None, what=work.entry.subject) from fault
    if made is not None and isinstance(fault, (OSError, git.GitFault, Refusal)):
        return made  # only the shared index is behind, if even that: the entry itself is safe
    _raise_in_words(work, fault)


def _raise_in_words(work: _Work, fault: BaseException) -> NoReturn:
    if isinstance(fault, git.GitFault):
        if locks := git.pending_locks(work.root):
            raise lock.OtherProgramBusy(tuple(path.relative_to(work.root).as_posix() for path in locks)) from fault
        if git.head(work.root) != work.pending.base:
            raise Changed(None) from fault
    if isinstance(fault, (OSError, git.GitFault)) and (reason := reason_of(fault)):
        raise CannotWrite(reason) from fault
    raise fault
