"""What the shell is told when a baker presses Tab. Typer is not loaded for it, unless an option is being typed."""

from __future__ import annotations

import sys
from pathlib import Path

from ovenleaf.cli import table
from ovenleaf.cli.context import find_book
from ovenleaf.cli.kinds import KINDS
from ovenleaf.errors import Refusal

# What stands at each place behind a command; the last kind stands for all places after it.
TAKES: dict[str, tuple[str, ...]] = {
    "enter": ("file",),
    "adopt": ("file",),
    "tweak": ("formula", "line"),
    "save": ("formula",),
    "weigh": ("formula", "revision"),
    "mark": ("formula", "revision", "mark", "none"),
    "copy": ("formula", "none", "revision", "none"),
    "retire": ("formula", "none"),
    "record": ("formula", "revision", "none"),
    "begin": ("formula", "revision", "none"),
    "jot": ("none",),
    "finish": ("trial", "none"),
    "score": ("trial", "none"),
    "correct": ("trial", "none"),
    "taste": ("trial",),
    "undo": ("none",),
    "photo": ("trial", "file"),
    "find": ("none",),
    "diff": ("formula", "revision"),
    "compare": ("formula", "revision"),
    "rank": ("formula",),
    "history": ("formula", "none"),
    "next": ("formula", "none"),
    "start": ("file",),
    "list": ("none",),
    "ingredient": ("ingredient",),
    "show": ("name", "revision"),
    "share": ("none",),
    "join": ("file",),
    "settle": ("formula", "answer"),
    "publish": ("formula", "revision", "none"),
    "check": ("formula", "none"),
    "completion": ("shell", "none"),
}

# What stands behind an option, where it is not just words.
BEHIND = {
    "--trials": "trial",
    "--trial": "trial",
    "--shares-dough-with": "trial",
    "--swap": "ingredient",
    "--book": "file",
    "--calendar": "file",
    "--at": "file",
    "--out": "file",
    "--as": "kind",
}

# Kinds whose words are always the same.
FIXED = {
    "mark": ("keeper", "superseded", "dropped"),
    "shell": ("bash", "zsh", "fish", "powershell"),
    "kind": tuple(KINDS),
}


def complete(words: list[str], at: int) -> tuple[str, ...]:
    """The words that may stand at place `at` of a command line, its program's name being at place 0."""
    typed = words[at] if at < len(words) else ""
    before = _without_book(words[1:at])
    book = find_book(_named_book(words[1:at]), Path.cwd())
    if words[at - 1 : at] and (kind := BEHIND.get(words[at - 1])):
        return _beginning(typed, _of_kind(kind, book, before))
    if typed.startswith("-"):
        return _beginning(typed, _options(before[0] if before else ""))
    if not before:
        return _beginning(typed, tuple(command.name for command in table.COMMANDS))
    said = [word for word in before[1:] if not word.startswith("-")]
    kinds = TAKES.get(before[0], ("none",))
    return _beginning(typed, _of_kind(kinds[min(len(said), len(kinds) - 1)], book, before))


def _without_book(words: list[str]) -> list[str]:
    """The words from the command on."""
    rest = list(words)
    while rest and rest[0].startswith("-"):
        del rest[: 2 if rest[0] in ("--book", "--baker") else 1]
    return rest


def _named_book(words: list[str]) -> Path | None:
    place = words.index("--book") + 1 if "--book" in words else len(words)
    return Path(words[place]).expanduser() if place < len(words) else None


def _of_kind(kind: str, book: Path | None, words: list[str]) -> tuple[str, ...]:
    if kind in FIXED:
        return FIXED[kind]
    if kind in ("file", "none") or book is None:
        return ()  # for files the shell itself knows better
    from ovenleaf.jobs.completing import known

    try:
        return known(book, kind, words[1] if len(words) > 1 else "")
    except (Refusal, OSError):
        return ()  # the command itself will say what is wrong


def _options(command: str) -> tuple[str, ...]:
    """The options of a command, or those that stand before one."""
    import typer.main

    from ovenleaf.cli.lazy import load
    from ovenleaf.cli.main import app

    entry = next((one for one in table.COMMANDS if one.name == command), None)
    loaded = load(entry) if entry is not None else typer.main.get_command(app)
    return (*(name for param in loaded.params for name in param.opts if name.startswith("--")), "--help")


def _beginning(typed: str, found: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(word for word in found if word.startswith(typed)))


def answer(words: list[str]) -> None:
    """Say what may stand at a place, one to a line: `--at PLACE -- WORDS...`, as the shells' own functions call it."""
    place = int(words[1]) if len(words) > 1 and words[1].isdecimal() else 0
    found = complete(words[3:], place) if place else ()
    sys.stdout.buffer.write("".join(f"{word}\n" for word in found).encode())
    sys.stdout.flush()


SCRIPTS = {
    "bash": """\
_ovenleaf() {
    local IFS=$'\\n'
    COMPREPLY=($(ovenleaf completion --at "$COMP_CWORD" -- "${COMP_WORDS[@]}" 2>/dev/null))
    if [[ ${#COMPREPLY[@]} -eq 1 && ${COMPREPLY[0]} == *= ]]; then compopt -o nospace; fi
}
complete -o default -F _ovenleaf ovenleaf
""",
    "zsh": """\
_ovenleaf() {
    local -a found
    found=("${(@f)$(ovenleaf completion --at $((CURRENT - 1)) -- "${words[@]}" 2>/dev/null)}")
    if [[ -n "${found[1]}" ]]; then compadd -S ' ' -- ${found:#*=}; compadd -S '' -- ${(M)found:#*=}
    else _files; fi
}
compdef _ovenleaf ovenleaf
""",
    "fish": """\
function __ovenleaf
    set -l words (commandline -opc)
    ovenleaf completion --at (count $words) -- $words (commandline -ct) 2>/dev/null
end
complete -c ovenleaf -a '(__ovenleaf)'
""",
    "powershell": """\
Register-ArgumentCompleter -Native -CommandName ovenleaf -ScriptBlock {
    param($typed, $line, $cursor)
    $words = @($line.CommandElements | ForEach-Object { $_.ToString() })
    $at = $words.Count
    if ($typed) { $at = $at - 1 }
    ovenleaf completion --at $at -- @words 2>$null |
        ForEach-Object { [System.Management.Automation.CompletionResult]::new($_) }
}
""",
}
