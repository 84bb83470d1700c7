"""Two kitchens and a stick, built once; each hostile book is a copy with something in it."""

from __future__ import annotations

import shutil

import pytest

from hostile_support import kitchens_in, moved


@pytest.fixture(scope="session")
def kitchens_as_built(tmp_path_factory):
    """For reading only."""
    folder = tmp_path_factory.mktemp("kitchens")
    kitchens_in(folder)
    return folder


@pytest.fixture
def kitchens(kitchens_as_built, tmp_path):
    """Kitchens of the test's own."""
    shutil.copytree(kitchens_as_built, tmp_path / "k", symlinks=True)
    return moved(tmp_path / "k", kitchens_as_built)
