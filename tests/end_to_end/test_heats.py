"""Heats that no bakery has: asked about where they are planned, refused where they are said to have been."""

from __future__ import annotations

import pytest

from refusals_support import reads_well, snapshot

NOW = "2026-11-25T12:00:00+01:00"
PAGE = """\
formula: hot-loaf
title: Hot loaf
makes: 2 loaves of 850 g
ingredients:
  strong wheat flour: 100%
  water: 68%
  salt: 2%
  instant yeast: 0.5%
process:
  - mix: 8 min, low, water at 105 C, dough 77 C
  - bulk: 90 min at 26 C
  - final proof: 60 min at 95 C
  - bake: 40 min at 900 C
"""


@pytest.fixture
def stall(oven, tmp_path):
    """A book with one right formula, and the page above beside it."""
    assert oven("start stall --baker noor", now=NOW).code == 0
    (tmp_path / "hot.yaml").write_text(PAGE)
    right = PAGE.replace("hot-loaf", "loaf").replace("Hot loaf", "Loaf").replace(", water at 105 C, dough 77 C", "")
    (tmp_path / "right.yaml").write_text(right.replace("95 C", "28 C").replace("900 C", "240 C"))
    assert oven("enter ../right.yaml", cwd=tmp_path / "stall", now=NOW).code == 0
    return tmp_path / "stall"


def test_they_are_asked_about_at_save_and_by_check_until_they_are_meant(stall, oven, golden):
    """Nothing is refused; `check` goes on asking, and an answer ends it."""
    entered = oven("enter ../hot.yaml", cwd=stall, now=NOW)
    assert entered.code == 0
    reads_well(entered.out)
    golden("heats/enter", entered.out)
    checked = oven("check", cwd=stall, now=NOW)
    assert checked.code == 1
    golden("heats/check", checked.out)
    for keeps_a_place in ("...", "why it is so"):
        ran = oven(f'check hot-loaf --meant "{keeps_a_place}"', cwd=stall, now=NOW)
        assert ran.code == 3
        assert "only keeps its place" in ran.err
    assert oven('check hot-loaf --meant "a test of the program"', cwd=stall, now=NOW).code == 0
    assert oven("check", cwd=stall, now=NOW).code == 0


def test_a_tweak_asks_too(stall, oven):
    """The oven's heat typed from an American recipe."""
    said = oven('tweak loaf bake.temperature=425C --why "a darker crust"', cwd=stall, now=NOW)
    assert said.code == 0, said.err
    assert "Was it 425 °F, which is 218 °C?" in " ".join(said.out.split())


TOLD = {
    "dough": "record loaf --dough-temp 250C --crumb 7",
    "dough-in-words": "record loaf crumb 7, dough 77C",
    "room": "record loaf --kitchen room=70C --crumb 7",
    "core": "record loaf --step 'bake: 40 min at 240 C, core 205 C' --crumb 7",
    "oven": "record loaf --step 'bake: 40 min at 900 C' --crumb 7",
}


@pytest.mark.parametrize("name", TOLD)
def test_a_heat_that_cannot_have_been_is_not_recorded(name, stall, oven, golden):
    """Exit 3, the likely slip named, nothing written."""
    before = snapshot(stall)
    ran = oven(TOLD[name], cwd=stall, now=NOW)
    assert (ran.code, ran.out) == (3, "")
    reads_well(ran.err)
    golden(f"heats/refused-{name}", ran.err)
    assert snapshot(stall) == before
