"""Arrows point one way, each library has one door, and only the outermost layer touches the world.

Reads the source with `ast`, imports inside functions and for the type checker included. The rules
are proved on made-up sources below, so that a rule that cannot fail would show.
"""

from __future__ import annotations

import ast
import sys
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parent.parent / "src"

# What each layer may import besides itself. `ovenleaf` alone is the version number.
MAY_IMPORT = {
    "ovenleaf": (),
    "__main__": ("cli",),
    "findings": (),
    "errors": ("findings",),
    "domain": (),
    "compare": ("domain",),
    "evidence": ("domain",),
    "results": ("domain", "compare", "evidence", "errors", "findings"),
    "records": ("domain", "errors", "findings"),
    "book": ("ovenleaf", "records", "compare", "domain", "errors", "findings"),
    "jobs": ("ovenleaf", "book", "records", "results", "compare", "evidence", "domain", "errors", "findings"),
    "present": ("domain", "compare", "evidence", "results", "errors", "findings"),
    "cli": ("ovenleaf", "jobs", "present", "errors"),
}

# Each library's one door: a module, or a package and all in it.
DOORS = {
    "ruamel": "ovenleaf.records.yaml_text",
    "_ruamel_yaml": "ovenleaf.records.yaml_text",
    "jsonschema": "ovenleaf.records.schema",
    "git": "ovenleaf.book.remotes",
    "sqlite3": "ovenleaf.book.index",
    "typer": "ovenleaf.cli",
    "click": "nowhere: typer carries its own",
}

# Names that reach the world: the clock, the environment, chance.
WORLD_MODULES = {"random", "secrets", "uuid"}
WORLD_CALLS = {
    "datetime.now",
    "datetime.utcnow",
    "datetime.today",
    "date.today",
    "time.time",
    "time.time_ns",
    "time.localtime",
    "time.gmtime",
    "os.environ",
    "os.environb",
    "os.getenv",
    "os.urandom",
    "Path.home",
    "Path.cwd",
    "os.getcwd",
}
# (module, name): why it may.
WORLD_ALLOWED = {
    ("ovenleaf.book.git_child", "os.environ"): "builds the clean environment of the git child, in one function",
}

PRINTING = {"print", "typer.echo", "typer.secho", "sys.stdout", "sys.stderr", "input", "breakpoint"}

# Arguments of others' functions that must be floats though no amount is: how alike two spellings are, for difflib.
FLOAT_ARGUMENTS = {"cutoff"}

# Where a module may be imported by a name that is worked out.
IMPORTS_BY_NAME = {"ovenleaf.cli.lazy", "ovenleaf.results"}


def layer_of(module: str) -> str:
    """`ovenleaf.domain.formula` belongs to `domain`; `ovenleaf` to itself."""
    return module.split(".")[1] if "." in module else module


def imports(tree: ast.AST, module: str, known: set[str]) -> list[tuple[int, str]]:
    """Line and full name of everything imported, wherever it stands, also by `import_module("...")`."""
    found: list[tuple[int, str]] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found += [(node.lineno, alias.name) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = _base(node, module, known)
            for alias in node.names:
                full = f"{base}.{alias.name}"
                found.append((node.lineno, full if full in known else base))
        elif isinstance(node, ast.Call) and _dotted(node.func).split(".")[-1] in ("import_module", "__import__"):
            name = node.args[0] if node.args else None
            literal = isinstance(name, ast.Constant) and isinstance(name.value, str)
            found.append((node.lineno, name.value if literal else "?"))
    return found


def _base(node: ast.ImportFrom, module: str, known: set[str]) -> str:
    if not node.level:
        return node.module or ""
    package = module.split(".") if any(name.startswith(f"{module}.") for name in known) else module.split(".")[:-1]
    parts = package[: len(package) - node.level + 1]
    return ".".join([*parts, *([node.module] if node.module else [])])


def _dotted(node: ast.AST) -> str:
    if isinstance(node, ast.Name):
        return node.id
    return f"{_dotted(node.value)}.{node.attr}" if isinstance(node, ast.Attribute) else "?"


def faults(module: str, source: str, known: set[str]) -> list[str]:
    """Every rule that `source`, standing as `module` among the modules `known`, breaks."""
    tree = ast.parse(source)
    found = [fault for line, name in imports(tree, module, known) for fault in _import_faults(module, line, name)]
    layer = layer_of(module)
    if layer not in ("cli", "__main__"):
        found += _uses(tree, module, PRINTING, "prints or asks")
        found += _uses(tree, module, WORLD_CALLS, "looks at the world")
        found += [
            f"{module}:{line} looks at the world: {name}"
            for line, name in imports(tree, module, known)
            if name.split(".")[0] in WORLD_MODULES
        ]
    if layer == "domain":
        found += [f"{module}:{line} has a float" for line in _floats(tree)]
    return found


def _floats(tree: ast.AST) -> list[int]:
    allowed = {node.value for node in ast.walk(tree) if isinstance(node, ast.keyword) and node.arg in FLOAT_ARGUMENTS}
    return [
        node.lineno
        for node in ast.walk(tree)
        if (isinstance(node, ast.Name) and node.id == "float")
        or (isinstance(node, ast.Constant) and isinstance(node.value, float) and node not in allowed)
    ]


def _import_faults(module: str, line: int, name: str) -> list[str]:
    where = f"{module}:{line}"
    top = name.split(".")[0]
    if name == "?":
        return [] if module in IMPORTS_BY_NAME else [f"{where} imports by a name that is worked out"]
    if top == "ovenleaf":
        return _layer_faults(module, where, name)
    if top in DOORS:
        through = module == DOORS[top] or module.startswith(f"{DOORS[top]}.")
        return [] if through else [f"{where} imports {top}, whose door is {DOORS[top]}"]
    return [] if top in sys.stdlib_module_names else [f"{where} imports {top}, which is none of our libraries"]


def _layer_faults(module: str, where: str, name: str) -> list[str]:
    own, other = layer_of(module), layer_of(name)
    if own == "jobs" and other == "jobs" and name != module:
        return [f"{where} is a job that imports another job, {name}"]
    if other == own or other in MAY_IMPORT[own]:
        return []
    return [f"{where} is {own} and imports {name}"]


def _uses(tree: ast.AST, module: str, names: set[str], words: str) -> list[str]:
    """Where a name of `names` is used: `a.b` wherever it stands, a bare one only as a call (it may be a parameter)."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute):
            used = [".".join(_dotted(node).split(".")[-2:])]
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            used = [node.func.id]
        elif isinstance(node, ast.ImportFrom):
            used = [f"{node.module}.{alias.name}" for alias in node.names]
        else:
            continue
        found += [
            f"{module}:{node.lineno} {words}: {name}"
            for name in used
            if name in names and (module, name) not in WORLD_ALLOWED
        ]
    return found


def modules() -> dict[str, Path]:
    """Every module of ours by its full name."""
    paths = sorted((SOURCE / "ovenleaf").rglob("*.py"))
    return {".".join(path.relative_to(SOURCE).with_suffix("").parts).removesuffix(".__init__"): path for path in paths}


MODULES = modules()


@pytest.mark.parametrize("module", MODULES)
def test_a_module_keeps_to_its_layer(module):
    """Imports only what its layer may, libraries through their door, and touches the world only where allowed."""
    assert faults(module, MODULES[module].read_text(encoding="utf-8"), set(MODULES)) == []


def test_every_layer_is_in_the_table():
    """A new package or module at the top needs its row before it can be used."""
    assert {layer_of(module) for module in MODULES} <= set(MAY_IMPORT)


def test_the_table_points_one_way():
    """No layer can reach itself through others."""

    def reach(layer, seen=()):
        assert layer not in seen, (*seen, layer)
        for other in MAY_IMPORT[layer]:
            reach(other, (*seen, layer))

    for layer in MAY_IMPORT:
        reach(layer)


def test_every_exception_is_still_needed():
    """An exception from the rules names a module that still makes use of it."""
    for module, name in WORLD_ALLOWED:
        assert name in MODULES[module].read_text(encoding="utf-8")


MADE_UP = {"ovenleaf", "ovenleaf.domain", "ovenleaf.domain.a", "ovenleaf.records", "ovenleaf.book", "ovenleaf.jobs"}
MADE_UP |= {"ovenleaf.jobs.a", "ovenleaf.jobs.b", "ovenleaf.errors", "ovenleaf.results", "ovenleaf.present.a"}


@pytest.mark.parametrize(
    ("module", "source", "said"),
    [
        ("ovenleaf.domain.a", "import ovenleaf.records", "is domain and imports ovenleaf.records"),
        ("ovenleaf.domain.a", "from ovenleaf import records", "is domain and imports ovenleaf.records"),
        ("ovenleaf.domain.a", "from ovenleaf import errors", "is domain and imports ovenleaf.errors"),
        ("ovenleaf.domain.a", "from ..records import x", "is domain and imports ovenleaf.records"),
        ("ovenleaf.domain.a", "from .. import records", "is domain and imports ovenleaf.records"),
        ("ovenleaf.domain", "from .. import records", "is domain and imports ovenleaf.records"),
        ("ovenleaf.compare.a", "def f():\n    from ovenleaf.book import git", "is compare and imports ovenleaf.book"),
        (
            "ovenleaf.evidence.a",
            "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from ovenleaf.records import x",
            "is evidence and imports ovenleaf.records",
        ),
        ("ovenleaf.records.a", "from ovenleaf import book", "is records and imports ovenleaf.book"),
        ("ovenleaf.book.a", "import ovenleaf.jobs.a", "is book and imports ovenleaf.jobs.a"),
        ("ovenleaf.jobs.a", "from ovenleaf.jobs import b", "is a job that imports another job, ovenleaf.jobs.b"),
        ("ovenleaf.jobs.a", "from ovenleaf.jobs.b import x", "is a job that imports another job, ovenleaf.jobs.b"),
        ("ovenleaf.jobs.a", "from ovenleaf.present import a", "is jobs and imports ovenleaf.present.a"),
        ("ovenleaf.present.a", "from ovenleaf.jobs.a import f", "is present and imports ovenleaf.jobs.a"),
        ("ovenleaf.cli.a", "from ovenleaf import book", "is cli and imports ovenleaf.book"),
        ("ovenleaf.cli.a", "import importlib\nimportlib.import_module('ovenleaf.book')", "imports ovenleaf.book"),
        ("ovenleaf.cli.a", "from importlib import import_module as i, import_module\nimport_module(x)", "worked out"),
        ("ovenleaf.errors", "import ovenleaf.domain.a", "is errors and imports ovenleaf.domain.a"),
        ("ovenleaf.records.codec", "import ruamel.yaml", "imports ruamel, whose door is ovenleaf.records.yaml_text"),
        ("ovenleaf.records.codec", "def f():\n    import _ruamel_yaml", "imports _ruamel_yaml, whose door is"),
        ("ovenleaf.records.a", "from jsonschema import x", "imports jsonschema, whose door is"),
        ("ovenleaf.book.git", "import git", "imports git, whose door is ovenleaf.book.remotes"),
        ("ovenleaf.book.store", "import sqlite3", "imports sqlite3, whose door is"),
        ("ovenleaf.present.a", "import typer", "imports typer, whose door is ovenleaf.cli"),
        ("ovenleaf.cli.main", "import click", "imports click, whose door is nowhere"),
        ("ovenleaf.cli.main", "import rich.table", "imports rich, which is none of our libraries"),
        ("ovenleaf.domain.a", "print('x')", "prints or asks: print"),
        ("ovenleaf.present.a", "import sys\nsys.stdout.write('x')", "prints or asks: sys.stdout"),
        ("ovenleaf.jobs.a", "from sys import stderr", "prints or asks: sys.stderr"),
        ("ovenleaf.jobs.a", "answer = input()", "prints or asks: input"),
        ("ovenleaf.jobs.a", "import datetime\ndatetime.datetime.now()", "looks at the world: datetime.now"),
        ("ovenleaf.jobs.a", "from datetime import date\ndate.today()", "looks at the world: date.today"),
        ("ovenleaf.book.a", "import time\ntime.time()", "looks at the world: time.time"),
        ("ovenleaf.book.a", "from time import time", "looks at the world: time.time"),
        ("ovenleaf.book.store", "import os\nos.environ['HOME']", "looks at the world: os.environ"),
        ("ovenleaf.book.store", "from os import environ", "looks at the world: os.environ"),
        ("ovenleaf.evidence.a", "import random", "looks at the world: random"),
        ("ovenleaf.jobs.a", "from uuid import uuid4", "looks at the world: uuid"),
        ("ovenleaf.jobs.a", "from pathlib import Path\nPath.cwd()", "looks at the world: Path.cwd"),
        ("ovenleaf.domain.a", "x = float('1')", "has a float"),
        ("ovenleaf.domain.a", "def f(x: float) -> None: ...", "has a float"),
        ("ovenleaf.domain.a", "half = 0.5", "has a float"),
    ],
)
def test_each_rule_can_fail(module, source, said):
    """A made-up source that breaks one rule is caught, and for that reason alone."""
    found = faults(module, source, MADE_UP | {module})
    assert len(found) == 1, found
    assert said in found[0]


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("ovenleaf.domain.a", "from decimal import Decimal\nfrom ovenleaf.domain import a\nfrom . import b"),
        ("ovenleaf.book.git_child", "import os\nos.environ['PATH']"),
        ("ovenleaf.book.remotes", "def f():\n    import git"),
        ("ovenleaf.records.yaml_text", "import ruamel.yaml, _ruamel_yaml"),
        ("ovenleaf.evidence.a", "half = 0.5"),
        ("ovenleaf.book.git", "def run(root, input=None):\n    return input"),
        ("ovenleaf.book.lock", "import time\ntime.monotonic(); time.sleep(1)"),
        ("ovenleaf.cli.main", "import typer, os\nfrom ovenleaf import __version__\nprint(os.environ, __version__)"),
        ("ovenleaf.cli.lazy", "import importlib\nimportlib.import_module(name)"),
        ("ovenleaf.jobs.a", "from ovenleaf import results, book, __version__\nfrom ovenleaf.domain.a import x"),
        ("ovenleaf.domain.a", "get_close_matches(name, names, cutoff=0.8)"),
        ("ovenleaf.domain.a", "text = 'print(float(os.environ))'  # import random"),
    ],
)
def test_what_is_allowed_passes(module, source):
    """A made-up source that keeps the rules is left in peace."""
    assert faults(module, source, MADE_UP | {module}) == []
