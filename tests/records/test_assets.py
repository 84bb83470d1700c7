"""The files that come with the program, installed or in a checkout."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from ovenleaf.records import assets
from ovenleaf.records.upgrade import LATEST

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize("kind", LATEST)
def test_each_kind_has_its_schema_file(kind: str) -> None:
    """The schema of each kind is found, the latest unless another is named."""
    path = assets.schema_path(kind)
    assert path.is_file()
    assert path == assets.schema_path(kind, LATEST[kind])
    assert json.loads(assets.schema_text(kind))["$id"] == path.name


def test_an_unknown_kind_has_none() -> None:
    """A kind there is not is a KeyError, whatever it is made of."""
    with pytest.raises(KeyError):
        assets.schema_path("../formula")


def test_the_ingredient_list_is_found() -> None:
    """The built-in ingredient list is text that begins with its format."""
    assert assets.ingredients_text().startswith("format: ingredients/1\n")


def test_an_installed_copy_goes_before_the_checkout(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Files inside the installed package are taken where there are any, and those beside the source otherwise."""
    monkeypatch.setattr(assets, "_PACKAGE", tmp_path)
    beside = assets.sample_book_folder()
    (tmp_path / "assets" / "sample-book").mkdir(parents=True)
    (tmp_path / "assets" / "schemas").mkdir()
    (tmp_path / "assets" / "schemas" / "trial.v1.json").write_text("{}", encoding="utf-8")
    assert assets.sample_book_folder() == tmp_path / "assets" / "sample-book" != beside
    assert assets.schema_text("trial") == "{}"
