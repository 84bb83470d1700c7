"""Older pages read as if written today."""

from __future__ import annotations

import pytest

from ovenleaf.errors import ExitCode
from ovenleaf.records.upgrade import LATEST, STEPS, NewerPage, is_newer, upgrade


@pytest.fixture
def third_version(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two made-up steps: the second version names the oven's place, the third says crumb as a word."""

    def to_second(data):
        return {**data, "place": data["oven"]} if "oven" in data else dict(data)

    def to_third(data):
        return {key: value for key, value in data.items() if key != "oven"}

    monkeypatch.setitem(LATEST, "trial", 3)
    monkeypatch.setitem(STEPS, ("trial", 1), to_second)
    monkeypatch.setitem(STEPS, ("trial", 2), to_third)


@pytest.mark.usefixtures("third_version")
def test_a_page_goes_through_each_step_from_its_own_version() -> None:
    """Each step from the page's version to the latest is taken once, in order, and the page given is left alone."""
    old = {"format": "trial/1", "oven": "stall oven"}
    assert upgrade("trial", 1, old) == {"format": "trial/3", "place": "stall oven"}
    assert old == {"format": "trial/1", "oven": "stall oven"}
    assert upgrade("trial", 2, {"format": "trial/2", "oven": "x"}) == {"format": "trial/3"}


@pytest.mark.usefixtures("third_version")
def test_the_latest_and_other_kinds_are_left_as_they_are() -> None:
    """A page of the latest version is not touched, nor is a kind that has no steps."""
    page = {"format": "trial/3", "oven": "x"}
    assert upgrade("trial", 3, page) == page
    assert upgrade("formula", 1, {"oven": "x"}) == {"oven": "x"}


def test_a_newer_page_is_refused_with_its_versions() -> None:
    """A page of a version to come is recognised, and the refusal says which version this program reads."""
    assert is_newer("formula", LATEST["formula"] + 1)
    assert not is_newer("formula", LATEST["formula"])
    with pytest.raises(NewerPage) as caught:
        upgrade("formula", 2, {})
    assert (caught.value.kind, caught.value.version, caught.value.latest) == ("formula", 2, 1)
    assert caught.value.exit_code is ExitCode.REFUSED
    assert caught.value.what == "This page was written by a newer ovenleaf (formula/2; this one reads formula/1)."


def test_no_version_is_without_a_step() -> None:
    """From each version before the latest there is a step, and there is none too many."""
    assert set(STEPS) == {(kind, version) for kind, latest in LATEST.items() for version in range(1, latest)}
