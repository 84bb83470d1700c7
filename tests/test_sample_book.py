"""The sample book: its diary, played through the program itself, gives the pages that lie beside it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

SAMPLE = Path(__file__).parents[1] / "sample-book"


def pages(folder: Path) -> dict[str, bytes]:
    """All pages of a book, by name; the diary and the history are not pages."""
    found = (path for path in folder.rglob("*.yaml") if ".git" not in path.relative_to(folder).parts)
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in found if p.name != "diary.yaml"}


@pytest.fixture
def built(oven: Callable, tmp_path: Path) -> Path:
    """The book that the diary makes today."""
    assert oven("start ferry-lane --sample", cwd=tmp_path).code == 0
    return tmp_path / "ferry-lane"


def test_diary_rebuilds_the_sample_book(built: Path, request: pytest.FixtureRequest) -> None:
    """The diary gives the pages of the sample book again, byte for byte."""
    made = pages(built)
    if request.config.getoption("--update-sample"):
        for name in pages(SAMPLE):
            (SAMPLE / name).unlink()
        for name, data in made.items():
            (SAMPLE / name).parent.mkdir(parents=True, exist_ok=True)
            (SAMPLE / name).write_bytes(data)
    assert pages(SAMPLE) == made


def test_sample_book_is_in_order(built: Path, oven: Callable) -> None:
    """`check` finds nothing in the sample book."""
    result = oven("check", cwd=built)
    assert result.code == 0
    assert "nothing found" in result.out


def test_sample_book_holds_what_the_readme_promises(built: Path, oven: Callable) -> None:
    """Two formulas, five revisions, ten trials, two tasters."""
    result = oven("check", cwd=built)
    assert "two formulas, five revisions and 10 trials" in " ".join(result.out.split())
    assert "Two tasters, noor and tomas" in oven("rank", cwd=built).out
