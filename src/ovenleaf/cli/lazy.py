"""A list of commands that are loaded only when one of them runs or shows its own help.

Knows the names from `cli.table`; must not import a command's module for anything else. Typer
carries its own copy of click, and the types of the methods it wants overridden have no other
name than `typer._click`; they are imported for the type checker only.
"""

from __future__ import annotations

import importlib
import re
from difflib import get_close_matches
from itertools import islice
from typing import TYPE_CHECKING, Any

import typer
import typer.core
import typer.main

from ovenleaf.cli import table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from typer._click import Command, Context, HelpFormatter

# Plain help text, our own errors and no completion options: also what makes `--help` quick.
PLAIN: dict[str, Any] = {
    "rich_markup_mode": None,
    "pretty_exceptions_enable": False,
    "add_completion": False,
    "context_settings": {"help_option_names": ["--help", "-h"], "terminal_width": 80},
}

# "-5 C" and "-.5" are figures a baker writes, never options.
_FIGURE = re.compile(r"-[.,]?\d")


class BenchCommand(typer.core.TyperCommand):
    """A command whose options may stand anywhere among its words, and whose words may be figures below zero."""

    def parse_args(self, ctx: Context, args: list[str]) -> list[str]:
        """Parses `args` with the options put first, so that no word is taken for one."""
        options, words = self._parted(ctx, args)
        return super().parse_args(ctx, [*options, "--", *words])

    def collect_usage_pieces(self, ctx: Context) -> list[str]:
        """What the usage line is made of; typer's braces around what must be said mean nothing to a baker."""
        return [piece.removeprefix("{").removesuffix("}") for piece in super().collect_usage_pieces(ctx)]

    def _parted(self, ctx: Context, args: list[str]) -> tuple[list[str], list[str]]:
        followed = self._options_with_values(ctx)
        options: list[str] = []
        words: list[str] = []
        rest = iter(args)
        for word in rest:
            if word == "--":
                words.extend(rest)
            elif len(word) < 2 or not word.startswith("-") or _FIGURE.match(word):
                words.append(word)
            else:
                options.append(word)
                options.extend(self._taken(ctx, rest, word, followed.get(word, 0)))
        return options, words

    def _taken(self, ctx: Context, rest: Iterator[str], option: str, count: int) -> list[str]:
        values = list(islice(rest, count))
        if len(values) < count and not ctx.resilient_parsing:
            ctx.fail(f"{option} wants something after it.")
        return values

    def _options_with_values(self, ctx: Context) -> dict[str, int]:
        return {
            name: option.nargs
            for option in self.get_params(ctx)
            if isinstance(option, typer.core.TyperOption) and not option.is_flag and not option.count
            for name in option.opts
        }


class LazyGroup(typer.core.TyperGroup):
    """The commands of `cli.table`, each imported when it is called for."""

    def list_commands(self, ctx: Context) -> list[str]:
        """The names, in the order of the table."""
        return [command.name for command in table.COMMANDS]

    def get_command(self, ctx: Context, cmd_name: str) -> Command | None:
        """The command of that name, its module imported now; None where there is none."""
        entry = next((command for command in table.COMMANDS if command.name == cmd_name), None)
        return None if entry is None else load(entry)

    def resolve_command(self, ctx: Context, args: list[str]) -> tuple[str | None, Command | None, list[str]]:
        """The command that `args` begin with; a word that is none is refused, with the nearest one."""
        name = args[0]
        found = self.get_command(ctx, name)
        if found is None:
            near = get_close_matches(name.lower(), self.list_commands(ctx), n=1)
            ctx.fail(f"There is no command {name}." + (f" Did you mean {near[0]}?" if near else ""))
        return name, found, args[1:]

    def format_commands(self, ctx: Context, formatter: HelpFormatter) -> None:
        """Writes the list under its headings, from the table alone."""
        width = max(len(command.name) for command in table.COMMANDS)
        for group in dict.fromkeys(command.group for command in table.COMMANDS):
            with formatter.section(group):
                formatter.write_dl(
                    [(command.name.ljust(width), command.line) for command in table.COMMANDS if command.group == group]
                )


def load(entry: table.Command) -> Command:
    """Imports the function behind an entry of the table and makes a command of it."""
    module, _, function = entry.target.partition(":")
    app = typer.Typer(**PLAIN)
    app.command(entry.name, cls=BenchCommand)(getattr(importlib.import_module(module), function))
    return typer.main.get_command(app)
