"""Why a write did not come to be, in the baker's words: the book had changed, or the disk does not take it."""

from __future__ import annotations

import errno

from ovenleaf.book.git_child import GitFault
from ovenleaf.errors import Place, Refusal

UNKNOWN = "the book's history did not take it"
FULL = "the disk is full"
_NOT_TAKEN = "the disk did not take it, it may be full"
READ_ONLY = "the book's folder may not be written in"
_AGAIN = "Run the command again; if it ends the same way, look to the disk."
_MENDING = {
    FULL: "Make room on it, and run the command again.",
    _NOT_TAKEN: "See whether there is room on it, and run the command again.",
    READ_ONLY: "See that you may write in it, or work in a copy of it, and run the command again.",
}
_BY_NUMBER = {
    errno.ENOSPC: FULL,
    errno.EDQUOT: FULL,
    errno.EROFS: READ_ONLY,
    errno.EACCES: READ_ONLY,
    errno.EPERM: READ_ONLY,
}
# git tells of the same faults only in words, in English since it is run so.
_BY_WORDS = {
    "No space left on device": FULL,
    "Out of diskspace": FULL,
    "Disk quota exceeded": FULL,
    "Read-only file system": READ_ONLY,
    "Permission denied": READ_ONLY,
    "insufficient permission": READ_ONLY,
    "write error": _NOT_TAKEN,
    "couldn't write": _NOT_TAKEN,
    "unable to write": _NOT_TAKEN,
}


class Changed(Refusal):
    """The book is no longer what the command had read. Fact: `page`, or None for the history itself."""

    def __init__(self, page: str | None) -> None:
        what = "The book" if page is None else page
        super().__init__(
            f"{what} was changed by someone else while this command ran, so nothing was written.",
            where=None if page is None else Place(page),
            detail=("Run the command again: it will start from what is there now.",),
        )
        self.page = page


class CannotWrite(Refusal):
    """The disk does not take it. Facts: `reason`; `put_back`, False where that is left to the next command."""

    def __init__(self, reason: str, *, put_back: bool = True) -> None:
        after = (
            "The book is as it was before."
            if put_back
            else "Its pages could not be put back yet: the next command that writes does it, and says so."
        )
        super().__init__(f"This could not be saved: {reason}.", detail=(after, mending(reason)))
        self.reason = reason
        self.put_back = put_back


def reason_of(fault: BaseException) -> str | None:
    """Why the disk did not take it, in the baker's words; None for a fault that is not the disk's."""
    if isinstance(fault, CannotWrite):
        return fault.reason
    if isinstance(fault, OSError):
        return _BY_NUMBER.get(fault.errno or 0, f"the disk answered: {fault.strerror or fault}")
    return reason_in(fault.stderr) if isinstance(fault, GitFault) else None


def reason_in(said: str) -> str | None:
    """The same, out of what git said."""
    return next((reason for words, reason in _BY_WORDS.items() if words in said), None)


def mending(reason: str) -> str:
    """What is to be done about it."""
    return _MENDING.get(reason, _AGAIN)
