"""The way past typer: a question that was answered before, of a book that has not changed since, is answered at once.

Only commands and options that are named here go this way. None of them writes, and none looks at the time of day.
"""

from __future__ import annotations

import os
import sys
import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ovenleaf.jobs.answers import Asked

# Each with the options it may have, and how many words each of these takes behind it.
QUESTIONS = {
    "rank": {"--by": 1, "--weights": 1, "--top": 1, "--scale": 1, "--convert": 0},
    "diff": {"--trials": 2, "--draft": 0},
    "compare": {"--trials": 2, "--draft": 0},
    "history": {"--against": 1, "--chart": 0, "--of": 1},
    "next": {},
    "find": {},
    "show": {"--more": 0, "--bake-loss": 1, "--card": 0},
    "check": {},
    "list": {"--gaps": 0},
}
ALWAYS = {"--json": 0, "--sentences": 0}
# What of the environment an answer may hang on.
SURROUNDINGS = ("OVENLEAF_NOW", "TZ")

# What the running command has said so far; None once its answer must not be kept.
_said: list[str] | None = None


def say_again(words: list[str]) -> tuple[int | None, Asked | None]:
    """Answer, if the answer is known: the command's exit code; else the question under which it can be kept."""
    question = _question(words)
    if question is None:
        return None, None
    from ovenleaf.jobs.answers import answered

    answer = answered(question)
    if answer is None:
        return None, question
    return _say(answer.text, answer.code), None


def _question(words: list[str]) -> Asked | None:
    """What is asked, if it is a question and the book's folder is in a state that can be told."""
    named, rest = (words[1], words[2:]) if words[:1] == ["--book"] and len(words) > 1 else (None, words)
    if not _may_be_kept(rest):
        return None
    try:
        here = os.getcwd()
    except OSError:  # taken away underfoot; the plain way has the words for it
        return None
    root = _root(named, here)
    if root is None:
        return None
    from ovenleaf.jobs.answers import asked

    around = (os.environ.get(name, "") for name in SURROUNDINGS)
    day = time.strftime("%Y-%m-%d %z")
    return asked(root, (*words, here, day, *around), now=time.time_ns())


def _may_be_kept(words: list[str]) -> bool:
    if not words or words[0] not in QUESTIONS:
        return False
    options = QUESTIONS[words[0]] | ALWAYS
    skip = 0
    for word in words[1:]:
        if skip:
            skip -= 1
        elif word.startswith("-"):
            name, given, _ = word.partition("=")
            if name not in options:
                return False
            skip = 0 if given else options[name]
    return True


def _root(named: str | None, here: str) -> str | None:
    """The book's folder, found as `cli.context` finds it."""
    named = named or os.environ.get("OVENLEAF_BOOK") or None
    folder = os.path.realpath(os.path.join(here, named) if named else here)
    while not os.path.isfile(os.path.join(folder, "book.yaml")):
        above = os.path.dirname(folder)
        if named or above == folder:
            return None
        folder = above
    return folder


def _say(text: str, code: int) -> int:
    if sys.stdout is None:  # nobody is there to read it
        return code
    try:
        sys.stdout.buffer.write(text.encode())
        sys.stdout.flush()
    except OSError:  # the reader has left
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return code


def listen() -> None:
    """From now on what is said is noted down."""
    global _said
    _said = []


def note(text: str) -> None:
    """Notes what a command says."""
    if _said is not None:
        _said.append(text)


def leave() -> None:
    """What the running command says must not be kept: it goes on changing while nothing is written."""
    global _said
    _said = None


def keep(question: Asked, code: int) -> None:
    """Keeps what the command has said, for the next time."""
    if _said:
        from ovenleaf.jobs import answers

        answers.keep(question, answers.Answer(int(code), "".join(_said)), now=time.time_ns())
