"""What a command loads: the wait before a baker sees anything is mostly imports."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from support import NOON

SOURCE = Path(__file__).resolve().parent.parent / "src"

# Measured in milliseconds each: git (with two children of its own) and jsonschema 100, rich 60, pydantic 60.
HEAVY = {"git", "jsonschema", "rich", "pydantic"}

_SCRIPT = """
import sys
from ovenleaf.cli.main import main
code = main(sys.argv[2:])
with open(sys.argv[1], "w", encoding="utf-8") as file:
    import json
    json.dump([code, sorted(sys.modules)], file)
"""


def loaded_by(folder: Path, *words: str) -> tuple[int, set[str]]:
    """Exit code, and the modules loaded at the end of `ovenleaf WORDS` run in `folder` as a process of its own."""
    said = folder.parent / "modules.json"
    subprocess.run(
        [sys.executable, "-c", _SCRIPT, str(said), *words],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(SOURCE), "OVENLEAF_NOW": NOON},
        input=b"",
        capture_output=True,
        check=True,
    )
    code, names = json.loads(said.read_text(encoding="utf-8"))
    return code, set(names)


def heavy(names: set[str], more: set[str] = frozenset()) -> set[str]:
    """Which of the heavy libraries are among `names`."""
    return {name.partition(".")[0] for name in names} & (HEAVY | more)


def test_the_list_of_commands_loads_none_of_them(tmp_path):
    """`--help` shows every command without importing one, or any library but typer."""
    folder = tmp_path / "here"
    folder.mkdir()
    code, names = loaded_by(folder, "--help")
    assert code == 0
    assert "typer" in names
    assert heavy(names, {"ruamel", "_ruamel_yaml", "sqlite3"}) == set()
    outer = {name for name in names if name.startswith(("ovenleaf.jobs", "ovenleaf.cli.commands", "ovenleaf.book"))}
    assert outer == set()


def test_a_mistyped_command_loads_none(tmp_path):
    """A word that is no command is told of without importing one."""
    folder = tmp_path / "here"
    folder.mkdir()
    code, names = loaded_by(folder, "rnak")
    assert code == 2
    assert heavy(names, {"ruamel", "_ruamel_yaml", "sqlite3"}) == set()
    assert not any(name.startswith("ovenleaf.cli.commands") for name in names)


def test_the_check_sees_a_heavy_library(tmp_path):
    """A library that is loaded is found: the tests here can fail."""
    assert heavy({"typer", "git.repo.base", "rich.console"}) == {"git", "rich"}


@pytest.mark.parametrize("command", ["list", "rank"])
def test_a_reading_command_loads_nothing_heavy(tmp_path, command):
    """On a book with a formula and a bake, reading needs neither git's library nor schemas nor rich."""
    folder = tmp_path / "stall"
    assert loaded_by(tmp_path, "start", "stall", "--title", "Stall", "--baker", "noor")[0] == 0
    (tmp_path / "stall-loaf.yaml").write_text(
        "formula: stall-loaf\ntitle: Stall loaf\nmakes: 1 loaf\n\n"
        "ingredients:\n  strong wheat flour: 500 g\n  water: 340 g\n  salt: 10 g\n  instant yeast: 3 g\n",
        encoding="utf-8",
    )
    assert loaded_by(folder, "enter", str(tmp_path / "stall-loaf.yaml"))[0] == 0
    assert loaded_by(folder, "record", "stall-loaf", "--crumb", "6", "--crust", "8")[0] == 0
    code, names = loaded_by(folder, command)
    assert code == 0
    assert f"ovenleaf.cli.commands.{command}" in names
    assert heavy(names) == set()


def test_every_result_is_on_the_shelf_that_the_types_name():
    """What a type checker is told and what is loaded are one and the same."""
    from ovenleaf import results

    for shelf, names in results._SHELVES.items():
        for name in names:
            assert getattr(results, name).__module__ == f"ovenleaf.results.{shelf}"
    told = Path(results.__file__).read_text(encoding="utf-8").count("    from ovenleaf.results.")
    assert told == sum(len(names) for names in results._SHELVES.values())
