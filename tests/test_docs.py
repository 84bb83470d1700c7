"""README and help are kept true: what README shows is run, and every command has help, an example and a row."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from ovenleaf.cli import table
from support import run_ovenleaf

README = Path(__file__).parents[1] / "README.md"
CONSOLE = re.compile(r"```console\n(.*?)```", re.DOTALL)
FILE = re.compile(r"the file `([^`]+)`:\n\n```(?:yaml|text)\n(.*?)```", re.DOTALL)
CLOCK = "2026-11-18T19:00:00+01:00"


def played(text, folder):
    """README's text with each console block as the program answers today, run in order in one folder."""
    for name, page in FILE.findall(text):
        (folder / name).write_text(page, encoding="utf-8")
    at = folder

    def block(found):
        nonlocal at
        answers = []
        for line in (line for line in found[1].splitlines() if line.startswith("$ ")):
            words = shlex.split(line[2:])
            answers.append(line)
            if words[0] == "cd":
                at = at / words[1]
                continue
            ran = run_ovenleaf(*words[1:], cwd=at, now=CLOCK)
            assert ran.code == 0, (line, ran.err)
            answers.append(ran.out.rstrip("\n") + "\n")
        return "```console\n" + "\n".join(answers).rstrip("\n") + "\n```"

    return CONSOLE.sub(block, text)


def test_what_the_readme_shows_is_what_the_program_says(tmp_path, request):
    """Every command of README is run in order; --update-golden writes what it says today."""
    text = README.read_text(encoding="utf-8")
    today = played(text, tmp_path)
    if request.config.getoption("--update-golden"):
        README.write_text(today, encoding="utf-8", newline="\n")
    assert README.read_text(encoding="utf-8") == today


@pytest.mark.parametrize("command", table.COMMANDS, ids=lambda command: command.name)
def test_every_command_has_help_an_example_and_a_row(command, tmp_path):
    """Its own help holds an example that names it, README has a row for it, and some end-to-end test types it."""
    helped = run_ovenleaf(command.name, "--help", cwd=tmp_path)
    assert helped.code == 0
    shown = "diff" if command.name == "compare" else command.name
    assert f"ovenleaf {shown}" in " ".join(helped.out.split())
    readme = README.read_text(encoding="utf-8")
    assert f"`ovenleaf {command.name}" in readme or f"`{command.name}`" in readme
    tests = Path(__file__).parent
    typed = (
        path.read_text(encoding="utf-8")
        for folder in ("end_to_end", "refusals", "asking")
        for path in (tests / folder).glob("*.py")
    )
    assert any(re.search(rf'["\' ]{command.name}[ "\']', text) for text in typed)


EXAMPLE = re.compile(r"^ *(?!Usage)[A-Z][\w ]*: (ovenleaf .*?)(?:\n *\n|\Z)", re.DOTALL | re.MULTILINE)


@pytest.mark.parametrize("command", table.COMMANDS, ids=lambda command: command.name)
def test_every_example_in_help_is_understood(command, sample_book):
    """Typed in the sample book, each example of each command's help is no wrong usage and no fault of ours."""
    helped = run_ovenleaf(command.name, "--help", cwd=sample_book)
    examples = [" ".join(found.split()) for found in EXAMPLE.findall(helped.out)]
    assert examples
    for example in examples:
        ran = run_ovenleaf(*shlex.split(example)[1:], cwd=sample_book, now=CLOCK)
        assert ran.code in (0, 1, 3), (example, ran.err)


def test_the_readme_s_two_commands_are_each_one_line():
    """One installs and shows, one tests; the clean run executes them word for word."""
    blocks = re.findall(r"```sh\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
    assert len(blocks) == 2
    assert all(block.count("\n") == 1 for block in blocks)
