"""What can go wrong when git is asked: a call that failed, and a history that is damaged.

Knows git's words for damage, so that a baker hears it in words and is told what to do. Must not run git.
"""

from __future__ import annotations

import re

from ovenleaf.errors import Next, Refusal


class GitFault(RuntimeError):
    """A call of git that failed: `command`, exit `code` (below zero: ended by a signal), `stderr`."""

    def __init__(self, command: tuple[str, ...], code: int, stderr: str) -> None:
        super().__init__(f"git {' '.join(command)} ended with {code}: {stderr.strip()}")
        self.command = command
        self.code = code
        self.stderr = stderr


class HistoryDamaged(GitFault, Refusal):
    """Files of the history are missing or spoiled, as after a power cut. Facts: those of GitFault."""

    def __init__(self, command: tuple[str, ...], code: int, stderr: str) -> None:
        GitFault.__init__(self, command, code, stderr)
        Refusal.__init__(
            self,
            "This book's history is damaged: files in its folder .git are missing or spoiled.",
            detail=(
                "The pages themselves lie beside it and can be read. Nothing was changed.",
                "Make a copy of the whole folder first, if you can.",
            ),
            next=(
                Next("ovenleaf check --repair", "mend what can be mended, and say what cannot"),
                Next("ovenleaf join --help", "or take a sound copy, if the book is shared"),
            ),
        )


class TooMuch(GitFault, Refusal):
    """An answer without an end: a history can be made to list more than any disk holds. Facts: those of GitFault."""

    def __init__(self, command: tuple[str, ...]) -> None:
        GitFault.__init__(self, command, 0, "")
        Refusal.__init__(
            self,
            "This history lists more files than a book can hold.",
            detail=("Nothing was changed. Ask whoever shares the book with you what was put into it.",),
        )


# git says it in many ways, in English since it is run so.
_DAMAGE = re.compile(
    r"""
    object\ file\ .*\ is\ empty | is\ corrupt | garbage\ at\ end\ of | index\ file\ (?:corrupt|smaller)
    | bad\ (?:object|tree\ object|signature|index|ref|config)\b | (?:missing|invalid)\ (?:blob|tree|object)\b
    | unable\ to\ (?:read|parse|map|unpack|resolve\ reference|find|open\ loose|open\ object) | unknown\ index\ entry
    | could\ not\ (?:read|parse|open) | cannot\ (?:read|be\ accessed|be\ mapped|open) | error\ building\ trees
    | (?:[Nn]ot|does\ not\ point\ to)\ a\ (?:git\ repository|valid\ object|tree\ object|commit\ object)
    | inflate: | packfile | wrong\ (?:index|pack) | does\ not\ match\ index | reference\ broken | broken\ ref
    | unexpected\ line\ in | appears\ to\ be\ broken | [Ff]ailed\ to\ (?:read|traverse|unpack) | Is\ a\ directory
    | unknown\ revision | is\ not\ a\ valid
    """,
    re.VERBOSE,
)

# And of what is no damage, though something could not be read or opened for it.
_NO_DAMAGE = re.compile(r"Permission denied|No space left|diskspace|quota|Read-only file|Too many open|ut of memory")


def fault_of(command: tuple[str, ...], code: int, stderr: str) -> GitFault:
    """The fault that a failed call is: HistoryDamaged where git's words are of that."""
    damaged = code > 0 and _DAMAGE.search(stderr) and not _NO_DAMAGE.search(stderr)
    return (HistoryDamaged if damaged else GitFault)(command, code, stderr)
