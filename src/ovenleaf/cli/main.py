"""The program's front door: what stands before a command, and one place where everything ends.

Knows no command; `cli.table` lists them and `cli.lazy` loads them.
"""

from __future__ import annotations

import io
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
import typer.main

from ovenleaf import __version__
from ovenleaf.cli import context, handler, table
from ovenleaf.cli.lazy import PLAIN, LazyGroup, load
from ovenleaf.errors import Next, nothing_saved_yet

if TYPE_CHECKING:
    from collections.abc import Sequence

NAME = "ovenleaf"

app = typer.Typer(cls=LazyGroup, invoke_without_command=True, subcommand_metavar="COMMAND ...", **PLAIN)


def _show_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"{NAME} {__version__}")
        raise typer.Exit


@app.callback()
def ovenleaf(
    ctx: typer.Context,
    book: Annotated[
        str | None,
        typer.Option(
            metavar="DIR",
            help="The book to work in. Else OVENLEAF_BOOK names it, else it is the folder you are in, or one above.",
        ),
    ] = None,
    baker: Annotated[
        str,
        typer.Option(
            metavar="NAME", help="Your name in this copy of the book, small letters; wanted once, then remembered."
        ),
    ] = "",
    as_json: Annotated[
        bool, typer.Option("--json", help="What ovenleaf shows alone, in JSON. For a command it stands behind it.")
    ] = False,
    sentences: Annotated[
        bool, typer.Option("--sentences", help="The same in whole sentences, to be read aloud; likewise.")
    ] = False,
    version: Annotated[
        bool, typer.Option("--version", is_eager=True, callback=_show_version, help="Say which ovenleaf this is.")
    ] = False,
) -> None:
    """A formula book and bake notebook for people who develop bread by test baking.

    Alone it shows what is in hand and what is due next. COMMAND --help says how a command is typed.
    """
    context.begin(Path(book) if book else None, baker=baker, typed=ctx.obj or ())
    if sys.stderr.isatty():
        _show_progress()
    given = [option for option, wanted in (("--json", as_json), ("--sentences", sentences)) if wanted]
    if ctx.invoked_subcommand is None:
        bare = load(table.BARE)
        with bare.make_context(NAME, given, parent=ctx) as inner:
            bare.invoke(inner)
    elif given:
        raise _too_early(given[0], ctx.invoked_subcommand)


def _show_progress() -> None:
    """Loaded here: most commands are done before there is any to show, and few stand in a terminal in tests."""
    from ovenleaf.cli.progress import progress
    from ovenleaf.jobs.onlooker import look_on

    look_on(progress)


def _too_early(option: str, command: str) -> handler.Usage:
    """Not taken for the command's own: not every command answers in that way."""
    how = {"--json": "in JSON", "--sentences": "in whole sentences"}[option]
    return handler.Usage(
        f"{option} stands behind the command that is to answer {how}, not before it: {command}.",
        next=(
            Next(f"ovenleaf {command} --help", "how it is typed"),
            Next(f"ovenleaf {option}", f"what is going on, {how}"),
        ),
    )


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command line (without the program's name) and returns its exit code; never raises for a refusal."""
    words = list(sys.argv[1:] if argv is None else argv)
    _write_utf8()
    context.forget()
    nothing_saved_yet()
    return handler.run(lambda: run_words(words), words)


def run_words(words: list[str]) -> None:
    """Run one command line to its end; whatever goes wrong is raised."""
    # Not typer's own `main`: that one turns Ctrl-C into a bare number before we could say what was saved.
    group = typer.main.get_command(app)
    # A copy: reading the words uses them up, and the handler still wants to see --json among them.
    with group.make_context(NAME, list(words), obj=tuple(words)) as ctx:
        group.invoke(ctx)


def _write_utf8() -> None:
    """Whatever the console or the pipe claims: a degree sign must never stop a command."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")
