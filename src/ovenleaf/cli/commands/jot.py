"""ovenleaf jot WORDS..."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from ovenleaf.cli.answer import Preview, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current, later_now
from ovenleaf.cli.zone import in_this_zone

if TYPE_CHECKING:
    from ovenleaf.jobs.jot import Jotted

UNDO = "undo"


def command(
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="WORDS...", help="As you say it: mixed, dough 25.5C; none opens the bench prompt."),
    ] = None,
    trial: Annotated[str, typer.Option(metavar="TRIAL", help="Its code, if not the newest in hand.")] = "",
    preview: Preview = False,
) -> None:
    """Note a line at the bench, with its time; what is understood becomes fields beside it.

    Example: ovenleaf jot +20 g water, felt tight

    Times: 20 min ago; 07:40; yesterday 22:00. Without words it opens the bench prompt,
    where the shell takes nothing.
    """
    from ovenleaf.present.bench import jotted_screen

    text = " ".join(words or ())
    if not text.strip() and current().interactive:
        _prompt(trial)
        return
    say(jotted_screen(_keep(text, trial, preview=preview)))


def _keep(text: str, trial: str, *, preview: bool = False, whole: bool = False) -> Jotted:
    from ovenleaf.jobs.jot import is_cut_off, jot

    context = current()
    if context.interactive and not whole and is_cut_off(text):
        text, whole = _whole(text), True
    return signed(
        lambda baker: jot(
            context.book,
            context.cwd,
            text,
            trial=trial,
            baker=baker,
            at=in_this_zone(later_now()),
            whole=whole,
            preview=preview,
        )
    )


def _whole(text: str) -> str:
    """The line with what the shell may have taken: asked for; Enter alone says that it is whole."""
    from ovenleaf.cli.questions import ask, remark

    remark("The line ends in a dash. Did the shell take the rest, as it does after > and |?", 0)
    rest = ask("The rest, or Enter if that was all", 0)
    return f"{text} {rest}" if rest else text


def _prompt(trial: str) -> None:
    """One line at a time, each written as soon as it is said; an empty line ends. The shell eats nothing here."""
    from ovenleaf.cli.questions import ask, open_line
    from ovenleaf.jobs.jot import at_the_bench
    from ovenleaf.present.bench import prompt_head

    context = current()
    code, label, others = signed(lambda baker: at_the_bench(context.book, context.cwd, trial, baker=baker))
    say(prompt_head(code, label, others))
    say("")
    said: list[Jotted] = []
    with open_line():
        while line := ask(code, 0):
            code = _said(line, code, said)


def _said(line: str, code: str, said: list[Jotted]) -> str:
    """One line at the prompt; the code of the dough that is spoken of from now on."""
    from ovenleaf.cli.questions import remark
    from ovenleaf.errors import Refusal
    from ovenleaf.jobs.jot import addressed_at
    from ovenleaf.present.bench import jotted_screen
    from ovenleaf.present.refusals import text

    context = current()
    try:
        if line.lower() == UNDO:
            _undone(said)
            return code
        named, words = addressed_at(context.book, context.cwd, line)
        if named and not words:
            return named
        jotted = _keep(words, named or code, whole=True)
    except Refusal as refusal:
        for told in text(refusal).splitlines():
            remark(told, 2)
        return code
    said.append(jotted)
    remark(jotted_screen(jotted, prompt=True), 0)
    return jotted.trial.code


def _undone(said: list[Jotted]) -> None:
    from ovenleaf.cli.questions import remark
    from ovenleaf.jobs.jot import take_back
    from ovenleaf.present.bench import taken_back_words

    if not said:
        remark("Nothing was said at this prompt yet that could be taken back.", 2)
        return
    context = current()
    last = said[-1]
    taken = signed(lambda baker: take_back(context.book, context.cwd, last, baker=baker, at=in_this_zone(later_now())))
    said.pop()
    remark(taken_back_words(taken), 0)
