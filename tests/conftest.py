"""Guards the suite against the machine it runs on, and gives tests their tools."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
import time
from functools import partial
from typing import TYPE_CHECKING

import pytest

from support import built_once, check_golden, run_ovenleaf

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path


def pytest_addoption(parser: pytest.Parser) -> None:
    """`--update-golden` writes the golden files instead of comparing with them."""
    parser.addoption("--update-sample", action="store_true", help="rewrite sample-book from its diary")
    parser.addoption("--update-golden", action="store_true", help="rewrite tests/golden from what the program says now")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The sample book is begun by the first test; modules that need it come last, so that no worker waits for it."""
    needing = {item.path for item in items if "sample_as_built" in getattr(item, "fixturenames", ())}
    first = next((item for item in items if item.path in needing and "sample_book" in item.path.name), None)
    items.sort(key=lambda item: (item is not first, item.path in needing))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """What the counted tests counted is printed, also where several workers ran them."""
    passed = (report for report in terminalreporter.stats.get("passed", ()) if "counted" in report.keywords)
    for report in sorted((report for report in passed if report.capstdout.strip()), key=lambda one: one.nodeid):
        terminalreporter.section(report.nodeid)
        terminalreporter.write_line(report.capstdout.strip("\n"))


@pytest.fixture(scope="session", autouse=True)
def _own_world(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """An empty home and temporary folder, no settings of git's or ours from outside, and one time zone."""
    home = tmp_path_factory.mktemp("home")
    with pytest.MonkeyPatch.context() as patch:
        for name in list(os.environ):
            if name.startswith(("GIT_", "OVENLEAF_", "XDG_")):
                patch.delenv(name)
        for name in ("HOME", "USERPROFILE", "APPDATA", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME"):
            patch.setenv(name, str(home))
        patch.setenv("GIT_CONFIG_GLOBAL", str(home / "no-gitconfig"))
        patch.setenv("GIT_CONFIG_NOSYSTEM", "1")
        for name in ("TMPDIR", "TEMP", "TMP"):
            patch.setenv(name, str(home))
        patch.setattr(tempfile, "tempdir", str(home))
        patch.setenv("TZ", "CET-1")
        _read_time_zone()
        yield
    _read_time_zone()


@pytest.fixture
def oven(tmp_path: Path) -> Callable[..., object]:
    """`oven("list --json", now=..., cwd=...)` runs ovenleaf in this process; gives code, out and err."""
    return partial(run_ovenleaf_in, tmp_path)


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """`golden(NAME, TEXT)` compares TEXT with tests/golden/NAME.txt."""
    return partial(check_golden, update=request.config.getoption("--update-golden"))


def run_ovenleaf_in(folder: Path, *words: str, cwd: Path | None = None, **world: object) -> object:
    """Runs it in `cwd`, or else in the test's own folder."""
    return run_ovenleaf(*words, cwd=cwd or folder, **world)


def _read_time_zone() -> None:
    if hasattr(time, "tzset"):
        time.tzset()


@pytest.fixture(scope="session")
def sample_as_built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample book as its diary makes it, built once for all workers; for reading only."""
    base = tmp_path_factory.getbasetemp()
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    return built_once(shared / "sample", _build_sample) / "ferry-lane"


def _build_sample(folder: Path) -> None:
    """What git holds is packed, as git does by itself sooner or later: a copy is then a tenth of the files."""
    ran = run_ovenleaf("start ferry-lane --sample", cwd=folder)
    assert ran.code == 0, ran.err
    subprocess.run(["git", "-C", folder / "ferry-lane", "repack", "-a", "-d", "-q"], check=True)


@pytest.fixture
def sample_book(sample_as_built: Path, tmp_path: Path) -> Path:
    """A sample book of the test's own."""
    shutil.copytree(sample_as_built, tmp_path / "ferry-lane")
    return tmp_path / "ferry-lane"
