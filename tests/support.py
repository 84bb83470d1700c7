"""What tests share: ovenleaf run in this process, golden files, and a few made-up commands."""

from __future__ import annotations

import contextlib
import io
import os
import shlex
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from ovenleaf.cli import context, table
from ovenleaf.cli.main import main
from ovenleaf.errors import Interrupted, Next, PageRefused, Place, Refusal
from ovenleaf.findings import Finding, Severity

if TYPE_CHECKING:
    from collections.abc import Callable

# The day on which the story of the tests begins, unless a test says otherwise.
NOON = "2026-11-04T12:00:00+01:00"

GOLDEN = Path(__file__).parent / "golden"


@dataclass(frozen=True)
class Ran:
    """What one command line came to."""

    code: int
    out: str
    err: str


class _Stream(io.TextIOWrapper):
    """A stream of a console that cannot show much, until the program says otherwise."""

    def __init__(self, content: bytes = b"", *, encoding: str, terminal: bool) -> None:
        super().__init__(io.BytesIO(content), encoding=encoding, newline="")
        self._terminal = terminal

    def isatty(self) -> bool:
        return self._terminal

    def written(self) -> str:
        self.flush()
        return self.buffer.getvalue().decode("utf-8").replace("\r\n", "\n")


def run_ovenleaf(
    *words: str,
    cwd: Path,
    now: str | None = NOON,
    typed: str = "",
    terminal: bool = False,
    env: dict[str, str] | None = None,
    through: Callable[[list[str]], int] = main,
) -> Ran:
    """Runs `main` here, in `cwd`, at the time `now`; `typed` is what comes in on stdin.

    A single word with spaces is a whole command line, split as a shell would. `through` is another way than `main`.
    """
    argv = shlex.split(words[0]) if len(words) == 1 and " " in words[0] else list(words)
    streams = [
        _Stream(typed.encode(), encoding="utf-8", terminal=terminal),
        _Stream(encoding="ascii", terminal=terminal),
        _Stream(encoding="ascii", terminal=terminal),
    ]
    world = {**({} if now is None else {"OVENLEAF_NOW": now}), **(env or {})}
    before = (sys.stdin, sys.stdout, sys.stderr, dict(os.environ))
    sys.stdin, sys.stdout, sys.stderr = streams
    os.environ.update(world)
    try:
        with contextlib.chdir(cwd):
            code = through(argv)
    finally:
        sys.stdin, sys.stdout, sys.stderr = before[:3]
        os.environ.clear()
        os.environ.update(before[3])
    return Ran(code=code, out=streams[1].written(), err=streams[2].written())


def built_once(folder: Path, build: Callable[[Path], None], *, patience: float = 120) -> Path:
    """`folder` as `build` fills it, by whichever worker comes first; the others wait until it is whole."""
    try:
        folder.mkdir()
    except FileExistsError:
        until = time.monotonic() + patience
        while not (folder / "whole").exists():
            assert time.monotonic() < until, f"{folder} was begun by another worker and never finished"
            time.sleep(0.05)
        return folder
    build(folder)
    (folder / "whole").touch()
    return folder


def check_golden(name: str, text: str, *, update: bool) -> None:
    """Compares `text` with tests/golden/NAME.txt, or writes it there."""
    path = GOLDEN / f"{name}.txt"
    text = text.rstrip("\n") + "\n"
    if update:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    assert path.exists(), f"there is no {path.name} yet; pytest --update-golden writes it"
    assert text == path.read_text(encoding="utf-8")


# --- made-up commands, for tests of what stands around a command ---


def say(
    words: Annotated[list[str] | None, typer.Argument()] = None,
    crumb: Annotated[float | None, typer.Option()] = None,
    note: Annotated[str, typer.Option("--note")] = "",
    step: Annotated[list[str] | None, typer.Option("--step")] = None,
    json: Annotated[bool, typer.Option("--json")] = False,
) -> None:
    """Says what it was told."""
    typer.echo(f"{words or []} crumb={crumb} note={note!r} step={step or []} json={json}")


def bake(formula: Annotated[str, typer.Argument()], pieces: Annotated[int, typer.Option()] = 1) -> None:
    """Wants a formula."""
    typer.echo(f"{formula} {pieces}")


def world() -> None:
    """Shows the world as a command sees it."""
    seen = context.current()
    typer.echo(f"{seen.book} | {seen.cwd} | {seen.now.isoformat()} | {seen.interactive} | {dict(seen.environ)}")


def degree() -> None:
    """Prints what many consoles cannot."""
    typer.echo("25.5 °C")


def refuse(json: Annotated[bool, typer.Option("--json")] = False) -> None:
    """Refuses, with facts."""
    raise Refusal(
        "Not entered: the flours come to 80.0 %, and together they must be 100 %.",
        where=Place("market-roll.yaml", 9, "  strong wheat flour: 80%"),
        detail=(
            "The poolish takes 20.0 % of the flour. If 80 % is what goes in beside the poolish, "
            "write the whole of it here:",
            "  strong wheat flour: 100%",
        ),
        next=(Next("ovenleaf enter market-roll.yaml", "when it is put right"),),
    )


def refuse_page(json: Annotated[bool, typer.Option("--json")] = False) -> None:
    """Refuses a page with two faults."""
    raise PageRefused(
        "Not entered: two things in market-roll.yaml want putting right.",
        [
            Finding(
                code="wrong-type",
                severity=Severity.ERROR,
                path="market-roll.yaml",
                line=14,
                message="crumb should be a number, like 7; it is the text 'seven'.",
                fix="Write a number from 0 to 10.",
                text="    crumb: seven",
            ),
            Finding(
                code="unknown-field", severity=Severity.ERROR, path="market-roll.yaml", message="a field is not known."
            ),
        ],
    )


def boom() -> None:
    """Breaks."""
    raise ZeroDivisionError("no flour")


def leave() -> None:
    """Ends with findings."""
    raise typer.Exit(1)


def stop() -> None:
    """Is stopped by Ctrl-C."""
    raise KeyboardInterrupt


def stop_saved() -> None:
    """Is stopped by Ctrl-C when all was saved."""
    raise Interrupted(saved=True, what="market roll r3")


def stop_unsaved() -> None:
    """Is stopped by Ctrl-C before anything was saved."""
    raise Interrupted(saved=False, what="market roll r3")


def ask() -> None:
    """Asks a question."""
    typer.echo(f"answer: {input()}")


def ask_and_leave() -> None:
    """Waits for a word, says little and ends with findings."""
    input()
    print("one finding")
    raise typer.Exit(1)


def much() -> None:
    """Says more than a pipe holds."""
    for number in range(100_000):
        typer.echo(f"row {number}")


def break_pipe() -> None:
    """Meets a broken pipe that is not our own output."""
    raise BrokenPipeError(32, "Broken pipe")


MADE_UP = tuple(
    table.Command(function.__name__.replace("_", "-"), f"support:{function.__name__}", "made up", "Made up")
    for function in (
        say,
        bake,
        world,
        degree,
        refuse,
        refuse_page,
        boom,
        leave,
        stop,
        stop_saved,
        stop_unsaved,
        ask,
        ask_and_leave,
        much,
        break_pipe,
    )
)
