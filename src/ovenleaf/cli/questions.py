"""Ask at the terminal, one line at a time, so that it can be heard and answered with floury hands.

Enter alone leaves a thing open; `=` means as planned; `back` and `stop` do what they say. What was
told is never lost: a terminal that closes counts as `stop`.
"""

from __future__ import annotations

import contextlib
import signal
import sys
from typing import TYPE_CHECKING

import typer

from ovenleaf.cli import remembered

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from ovenleaf.jobs.ask import Question, Said, TypedLine
    from ovenleaf.jobs.ingredient import Answers, AskedFor

TRIES = 3


@contextlib.contextmanager
def open_line() -> Iterator[None]:
    """While this lasts, a terminal that is closed ends the questions instead of the program."""
    if not hasattr(signal, "SIGHUP"):
        yield
        return
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)  # the next read finds nobody there, and that is enough
    try:
        yield
    finally:
        signal.signal(signal.SIGHUP, before)


def ask(text: str, indent: int = 2) -> str | None:
    """One question and its answer; None where there is nobody left to answer."""
    remembered.leave()  # another answer may be given the next time
    try:
        typer.echo(f"{' ' * indent}{text}: ", nl=False)
        sys.stdout.flush()
        answer = sys.stdin.readline()
    except OSError:
        return None
    return answer.strip() if answer else None


def remark(text: str, indent: int = 4) -> None:
    """A line between two questions, where there is still somebody to read it."""
    with contextlib.suppress(OSError):
        typer.echo(f"{' ' * indent}{text}".rstrip())


def ask_one_of(text: str, words: tuple[str, str]) -> str:
    """One of two words, or "" where neither was said in three tries or nobody is left to answer."""
    for _ in range(TRIES):
        answer = ask(f"{text}: {words[0]} or {words[1]}")
        if answer is None:
            return ""
        if answer.lower() in words:
            return answer.lower()
        remark(f"Say {words[0]} or {words[1]}.")
    return ""


BACK, STOP, AS_PLANNED = "back", "stop", "="


def ask_bake(questions: Sequence[Question]) -> Said:
    """The answers about one bake, put together; what was told before a `stop` is kept."""
    from ovenleaf.jobs.ask import told

    answers: list[Said | None] = []
    while len(answers) < len(questions):
        answer = _answered(questions[len(answers)], told([said for said in answers if said is not None]))
        if answer == STOP:
            break
        if answer == BACK:
            answers = answers[:-1]
        else:
            answers.append(None if isinstance(answer, str) else answer)
    return told([said for said in answers if said is not None])


def _answered(question: Question, so_far: Said) -> Said | str:
    """What one question gave: something told, "" for nothing, or BACK or STOP. Three tries, then it stays open."""
    wording = question.put(so_far)
    for _ in range(TRIES):
        typed = ask(wording.text)
        if typed is None or typed.lower() == STOP:
            return STOP
        if typed.lower() == BACK:
            return BACK
        if not typed:
            return ""
        if typed == AS_PLANNED and not wording.planned:
            remark("Nothing is planned for this, so = says nothing.")
            continue
        taken = question.take(wording.planned if typed == AS_PLANNED else typed, so_far)
        if not taken.problem:
            if taken.echo:
                remark(taken.echo)
            return taken.said
        remark(taken.problem)
    remark("Left unrecorded.")
    return ""


def ask_formula(check: Callable[[str, list[TypedLine]], TypedLine]) -> tuple[list[TypedLine], dict[str, str]]:
    """The ingredient lines of a new formula, and what it makes and aims at."""
    lines: list[TypedLine] = []
    tries = TRIES
    while tries:
        typed = ask(str(len(lines) + 1))
        if typed == "" and not lines:
            remark("Begin with one ingredient and its amount, as in water 340 g; or say stop.")
            tries -= 1
            continue
        if not typed or typed.lower() == STOP:
            break
        if typed.lower() == BACK:
            lines = lines[:-1]
            continue
        line = check(typed, lines)
        if line.problem:
            remark(line.problem)
        else:
            lines.append(line)
    remark("")
    wanted = {"makes": "What does it make", "crust": "The crust you want", "crumb": "The crumb you want"}
    said: dict[str, str] = {}
    for key, text in wanted.items() if lines else ():
        answer = ask(text)
        if answer is None or answer.lower() == STOP:
            break
        said[key] = answer
    return lines, said


def ask_ingredient(following: Callable[[Answers], AskedFor | None], problem: Callable[[Answers], str]) -> Answers:
    """What an ingredient is made of, question by question; a thing left open is not known."""
    answers: Answers = ()
    while (question := following(answers)) is not None:
        typed = _checked(question, answers, problem)
        if typed.lower() == STOP:
            break
        answers = answers[:-1] if typed.lower() == BACK else (*answers, (question.field, typed))
    return answers


def _checked(question: AskedFor, answers: Answers, problem: Callable[[Answers], str]) -> str:
    """One answer that can be; after three that cannot, the thing stays open."""
    for _ in range(TRIES):
        typed = ask(question.text)
        if typed is None:
            return STOP
        trouble = "" if typed.lower() in (BACK, STOP) else problem((*answers, (question.field, typed)))
        if not trouble:
            return typed
        remark(trouble)
    remark("Left open.")
    return ""
