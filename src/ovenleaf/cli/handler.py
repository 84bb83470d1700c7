"""The one place that turns what went wrong into words on stderr and an exit code."""

from __future__ import annotations

import errno
import os
import re
import shlex
import sys
from typing import TYPE_CHECKING

import typer

# Typer carries its own copy of click and shows its usage errors under no other name in every
# release we allow (typer.TyperException came with 0.28 only).
from typer._click.exceptions import BadOptionUsage, BadParameter, ClickException, MissingParameter, NoSuchOption

from ovenleaf.cli import context, remembered
from ovenleaf.cli.secrets import hidden
from ovenleaf.errors import ExitCode, Interrupted, Next, Refusal, SayWhich, saved_so_far

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from typer._click import Context, Parameter

# What typer says of a value, in words for the bench. Compiled when wanted: every command passes by here.
_PLAINER = (
    (r"is not a valid (float|float range)\b", "is not a number"),
    (r"is not a valid (integer range|int range|integer|int)\b", "is not a whole number"),
    (r"is not in the range x>=(\S+?)\.?$", r"is too small; it begins at \1."),
)
_TOO_MANY = r"Got unexpected extra arguments?(?:\(s\))? \((.*)\)$"


class Usage(Refusal):
    """The command was typed in a way it does not take."""

    exit_code = ExitCode.USAGE


def run(command: Callable[[], None], argv: Sequence[str]) -> int:
    """Runs `command` to its end and returns the exit code; `argv` is what was typed."""
    try:
        return _run_to_its_end(command)
    except Refusal as refusal:
        return _refused(refusal, argv)
    except ClickException as error:
        return _refused(usage(error), argv)
    except (KeyboardInterrupt, EOFError, typer.Abort) as stop:
        return _stopped(stop)
    except Exception as error:  # the one place for it: our own fault must end in words, not in a traceback
        if isinstance(error, OSError) and _reader_has_left(error):
            return ExitCode.DONE
        return _our_fault(error, argv)


def _run_to_its_end(command: Callable[[], None]) -> int:
    code: int = ExitCode.DONE
    try:
        command()
    except typer.Exit as end:
        code = end.exit_code
    # Here and not at the interpreter's end, where a reader who has left could only be complained of.
    if sys.stdout is not None:
        sys.stdout.flush()
    return code


def usage(error: ClickException) -> Usage:
    """A usage error of typer's, in the baker's words and with what to type for help."""
    ctx: Context | None = getattr(error, "ctx", None)
    command = "ovenleaf" if ctx is None else ctx.command_path
    return Usage(_usage_words(error, command), next=(Next(f"{command} --help", "how it is typed"),))


def _usage_words(error: ClickException, command: str) -> str:
    match error:
        case NoSuchOption(option_name="--book"):
            return "--book stands before the command: ovenleaf --book DIR COMMAND."
        case NoSuchOption():
            near = f" Did you mean {error.possibilities[0]}?" if error.possibilities else ""
            return f"{command} has no option {error.option_name}.{near}"
        case BadOptionUsage() if "requires" in error.message:
            return f"{error.option_name} wants something after it."
        case BadOptionUsage():
            return f"{error.option_name} takes nothing after it."
        case MissingParameter() if error.param is not None:
            return f"{_named(error.param)} is missing."
        case BadParameter() if error.param is not None:
            return f"{_named(error.param)}: {_plainer(error.message)}"
    too_many = re.match(_TOO_MANY, error.message)
    return f"This is more than {command} takes: {too_many[1]}" if too_many else _sentence(error.message)


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}" + ("" if words.endswith((".", "?")) else ".")


def _named(param: Parameter) -> str:
    return param.opts[0] if param.param_type_name == "option" else param.human_readable_name.upper()


def _plainer(message: str) -> str:
    for pattern, words in _PLAINER:
        message = re.sub(pattern, words, message)
    return message


def _refused(refusal: Refusal, argv: Sequence[str]) -> int:
    from ovenleaf.present import refusals  # here only, as below: no command that goes well should wait for it

    if isinstance(refusal, SayWhich):
        refusal.next = _with_each(refusal, argv)
    if "--json" in argv:
        import json

        _say(json.dumps(refusals.as_json(refusal), indent=2))
    else:
        _say(refusals.text(refusal))
    return refusal.exit_code


def _with_each(refusal: SayWhich, argv: Sequence[str]) -> tuple[Next, ...]:
    """The command line with each thing that its one unclear word can mean; as the refusal has it if there is none."""
    if list(argv).count(refusal.typed) != 1:
        return refusal.next
    given = [[name if word == refusal.typed else word for word in argv] for name in refusal.names]
    return tuple(Next(f"ovenleaf {shlex.join(words)}") for words in given)


def _stopped(stop: BaseException) -> int:
    from ovenleaf.present.screen import wrap

    saved, unsaved = saved_so_far(), ""
    if isinstance(stop, Interrupted) and not stop.saved:
        unsaved = stop.what
    elif isinstance(stop, Interrupted) and stop.what not in saved:
        saved = (stop.what or "all of it",)
    if saved:
        rest = f" Not saved: {unsaved}." if unsaved else ""
        _say(wrap(f"Stopped, but this was saved already: {'; '.join(saved)}.{rest}"))
    else:
        _say(wrap(f"Stopped{f', and not saved: {unsaved}' if unsaved else ''}. Nothing was changed."))
    return ExitCode.INTERRUPTED


def _our_fault(error: Exception, argv: Sequence[str]) -> int:
    from ovenleaf.cli import reports

    report = reports.keep(error, argv, context.known_book())
    what = "Something went wrong in ovenleaf itself; what your book holds is safe."
    if report is None:
        _say(f"{what} No report of it could be kept: {type(error).__name__}.")
    else:
        _say(f"{what} A report is kept in {report}; `ovenleaf check --report` shows it.")
    return ExitCode.OURS


def _say(text: str) -> None:
    """Says it on stderr; where nobody can read that, the exit code has to do. It is said anew each time."""
    remembered.leave()
    if sys.stderr is not None:
        try:
            print(hidden(text.rstrip("\n")), file=sys.stderr, flush=True)
        except OSError:
            return


def _reader_has_left(error: OSError) -> bool:
    """Whether `error` comes of our own output, which `head`, a pager or the window has closed (EINVAL on Windows)."""
    if error.errno not in (errno.EPIPE, errno.EINVAL, errno.EIO) or not _output_is_closed():
        return False
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # for what the interpreter flushes at its end
    return True


def _output_is_closed() -> bool:
    import select

    try:
        output = sys.stdout.fileno()
    except OSError:  # not a real stream, so nobody can close it
        return False
    if not hasattr(select, "poll"):
        return True  # Windows cannot be asked; no other pipe of ours lets this error through
    poll = select.poll()
    poll.register(output, 0)
    return bool(poll.poll(0))  # with no event asked for, it answers only to errors and hang-ups
