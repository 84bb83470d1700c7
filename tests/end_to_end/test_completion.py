"""What the shell is offered when a baker presses Tab."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from ovenleaf.cli import table
from ovenleaf.cli.completing import BEHIND, FIXED, SCRIPTS, TAKES, complete
from ovenleaf.jobs.completing import KINDS

SOURCE = Path(__file__).resolve().parents[2] / "src"


@pytest.fixture
def offered(sample_as_built, monkeypatch):
    """The words offered for the last word of a line typed in the sample book."""
    monkeypatch.chdir(sample_as_built)

    def offer(line: str) -> tuple[str, ...]:
        words = line.split(" ")
        return complete(words, len(words) - 1)

    return offer


def test_every_command_says_what_it_takes():
    """No command is forgotten, and no kind of word is unknown."""
    assert set(TAKES) == {command.name for command in table.COMMANDS}
    kinds = {kind for kinds in TAKES.values() for kind in kinds} | set(BEHIND.values())
    assert kinds <= {*KINDS, *FIXED, "file", "none"}


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("ovenleaf hi", ("history",)),
        ("ovenleaf --baker noor hi", ("history",)),
        ("ovenleaf history mar", ("market-roll",)),
        ("ovenleaf history market-roll ", ()),
        ("ovenleaf diff market-roll ", ("r1", "r2", "r3", "r4", "keeper")),
        ("ovenleaf diff market-roll r1 r", ("r1", "r2", "r3", "r4")),
        ("ovenleaf diff Market-Roll k", ("keeper",)),
        ("ovenleaf mark market-roll r3 ", ("keeper", "superseded", "dropped")),
        ("ovenleaf tweak market-roll w", ("water=",)),
        ("ovenleaf tweak market-roll poolish", ("poolish=", "poolish:strong-wheat-flour=", *(
            "poolish:water=", "poolish:instant-yeast="))),
        ("ovenleaf tweak market-roll water=68% i", ("instant-yeast=",)),
        ("ovenleaf show whole-milk-", ("whole-milk-powder",)),
        ("ovenleaf weigh market-roll --swap fresh-y", ("fresh-yeast",)),
        ("ovenleaf completion z", ("zsh",)),
        ("ovenleaf rank --to", ("--top",)),
        ("ovenleaf --vers", ("--version",)),
        ("ovenleaf enter mark", ()),
        ("ovenleaf nothing-such ", ()),
        ("ovenleaf history no-such-formula", ()),
        ("ovenleaf diff no-such-formula r", ()),
        ("ovenleaf tweak no-such-formula w", ()),
    ],
)  # fmt: skip
def test_what_is_offered(offered, line, words):
    """Names of what stands at that place, as they can be typed."""
    assert offered(line) == words


def test_codes_of_the_newest_trials_come_first(offered, sample_as_built):
    """A code just given is offered before an old one, and `last` with them."""
    codes = offered("ovenleaf score ")
    assert codes[-1] == "last"
    newest = max((page.name, page) for page in (sample_as_built / "trials").rglob("*.yaml"))[1]
    assert f"code: {codes[0]}\n" in newest.read_text(encoding="utf-8")


def test_every_formula_and_ingredient_can_be_shown(offered, oven, sample_as_built):
    """What is offered for `show` is taken by it as it stands."""
    for name in offered("ovenleaf show se"):
        assert oven("show", name, cwd=sample_as_built).code == 0, name


def test_a_book_is_named_before_the_command(sample_as_built, tmp_path, monkeypatch):
    """`--book` is followed, from any folder."""
    monkeypatch.chdir(tmp_path)
    assert complete(["ovenleaf", "--book", str(sample_as_built), "history", "mar"], 4) == ("market-roll",)
    assert complete(["ovenleaf", "history", "mar"], 2) == ()


def test_a_book_that_cannot_be_read_offers_nothing_and_says_nothing(sample_book, monkeypatch):
    """Pressing Tab is not the moment for a complaint."""
    monkeypatch.chdir(sample_book)
    (sample_book / "formulas" / "market-roll.yaml").write_text("water: [", encoding="utf-8")
    assert complete(["ovenleaf", "tweak", "market-roll", ""], 3) == ()


def test_typer_is_not_loaded_for_it(sample_as_built):
    """Codes, formulas and revisions are answered without typer, ruamel, git's library or schemas."""
    script = (
        "import sys; sys.argv[1:] = ['completion', '--at', '3', '--', 'ovenleaf', 'diff', 'market-roll', ''];"
        "from ovenleaf.cli.front import answer; answer(sys.argv[1:]);"
        "print(*sorted({name.partition('.')[0] for name in sys.modules} & {'typer', 'ruamel', 'git', 'jsonschema'}))"
    )
    ran = subprocess.run(
        [sys.executable, "-c", script], cwd=sample_as_built, env={**os.environ, "PYTHONPATH": str(SOURCE)},
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert ran.stdout.splitlines() == ["r1", "r2", "r3", "r4", "keeper", ""]


def test_an_unknown_shell_is_told_the_known_ones(oven, tmp_path, golden):
    """Wrong usage, with the commands that work."""
    ran = oven("completion tcsh", cwd=tmp_path)
    assert ran.code == 2
    golden("bad/commands/completion-shell", ran.err)


@pytest.mark.skipif(shutil.which("bash") is None, reason="needs bash")
def test_bash_completes(oven, sample_as_built, tmp_path):
    """What `completion bash` prints makes a real bash offer the words, and no space after an amount's sign."""
    program = tmp_path / "bin" / "ovenleaf"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nPYTHONPATH="{SOURCE}" exec "{sys.executable}" -m ovenleaf "$@"\n')
    program.chmod(0o755)
    script = oven("completion bash", cwd=tmp_path).out
    ask = 'COMP_WORDS=(ovenleaf diff market-roll "r"); COMP_CWORD=3; _ovenleaf; printf "%s\\n" "${COMPREPLY[@]}"'
    ran = subprocess.run(
        ["bash", "-c", f"{script}\n{ask}"], cwd=sample_as_built,
        env={**os.environ, "PATH": f"{program.parent}{os.pathsep}{os.environ['PATH']}"},
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert ran.stdout.split() == ["r1", "r2", "r3", "r4"]


@pytest.mark.parametrize("shell", ["zsh", "fish"])
def test_other_shells_take_what_is_printed(oven, tmp_path, shell):
    """Each shell reads its own function without a complaint."""
    if shutil.which(shell) is None:
        pytest.skip(f"needs {shell}")
    (tmp_path / "function").write_text(oven(f"completion {shell}", cwd=tmp_path).out)
    ran = subprocess.run([shell, "-n", str(tmp_path / "function")], capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert set(SCRIPTS) == set(FIXED["shell"])
