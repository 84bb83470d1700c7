"""A bake as it happens, as a baker types it: begun, jotted, finished; two days, a power cut, five doughs at once."""

from __future__ import annotations

import shlex

import pytest

from refusals_support import reads_well
from support import run_ovenleaf

ROLL = """
formula: market-roll
title: Market roll
makes: 24 rolls of 85 g
ingredients:
  strong wheat flour: 100%
  water: 65%
  salt: 2%
  butter: 3%, soft
  instant yeast: 0.62%
preferments:
  poolish:
    takes: 20% of the flour
    strong wheat flour: 100%
    water: 100%
    instant yeast: 0.1%
    rest: 12 h at 21 C
process:
  - first mix: 3 min, low
  - second mix: 9 min, medium, dough 25 C
  - bulk: 60 min at 26 C, covered, until half as big again
  - divide: 85 g
  - shape: round, seam underneath
  - final proof: 50 min at 28 C, covered, until a dent springs back slowly
  - bake: 18 min at 220 C, steam, no fan, until golden and crackling
"""
COUNTRY = """
formula: country-loaf
title: Country loaf
makes: 2 loaves of 900 g
ingredients:
  strong wheat flour: 90%
  medium rye flour: 10%
  water: 74%
  salt: 2%
preferments:
  levain:
    takes: 15% of the flour
    strong wheat flour: 100%
    water: 100%
    rest: 10 h at 24 C
process:
  - mix: 6 min, dough 25 C
  - bulk: 4 h at 25 C
  - shape: tight
  - cold proof: 16 h at 4 C
  - bake: 45 min at 250 C falling to 210 C
"""


class Kitchen:
    """A book, and a baker who types at given times."""

    def __init__(self, folder):
        self.folder = folder
        self.screen = ""
        assert run_ovenleaf("start stall --baker noor", cwd=folder, now="2026-11-04T12:00:00+01:00").code == 0
        self.book = folder / "stall"

    def enter(self, page):
        """Puts a formula in."""
        ran = run_ovenleaf("enter -", cwd=self.book, now="2026-11-04T12:00:00+01:00", typed=page)
        assert ran.code == 0, ran.err

    def at(self, time, line, code=0):
        """Types a line at a time; gives what the screen says, or what was refused."""
        ran = run_ovenleaf(*shlex.split(line), cwd=self.book, now=time)
        assert ran.code == code, (line, ran.out, ran.err)
        said = ran.out or ran.err
        self.screen += f"$ ovenleaf {line}\n{said}\n"
        return said

    def page(self, day, formula):
        """The trial's page as it lies in the book."""
        return (self.book / f"trials/{formula}/{day}-noor.yaml").read_text(encoding="utf-8")


@pytest.fixture
def kitchen(tmp_path):
    """A kitchen with the market roll in its book."""
    made = Kitchen(tmp_path)
    made.enter(ROLL)
    return made


def test_a_running_bake(kitchen, golden):
    """From the poolish in the evening to the cold rolls next noon; each line is told back as it was understood."""
    for time, line in (
        ("2026-11-11T19:30:00+01:00", "begin market-roll --flour 600g"),
        ("2026-11-11T19:36:00+01:00", "jot poolish mixed 21C, flour lot B-114"),
        ("2026-11-12T07:28:00+01:00", ""),
        ("2026-11-12T07:39:00+01:00", "jot +6 g water, felt tight"),
        ("2026-11-12T07:44:00+01:00", "jot mixed, dough 25,5C"),
        ("2026-11-12T08:42:00+01:00", "jot bulk end"),
        ("2026-11-12T08:55:00+01:00", "jot shaped"),
        ("2026-11-12T09:44:00+01:00", "jot in the oven at 220C, 2 min ago"),
        ("2026-11-12T09:50:00+01:00", "list"),
        ("2026-11-12T10:00:00+01:00", "jot core 79C"),
        ("2026-11-12T10:01:00+01:00", "jot core 97C, out"),
        ("2026-11-12T10:02:00+01:00", ""),
        ("2026-11-12T12:05:00+01:00", "jot 12 rolls 884 g cold"),
        ("2026-11-12T12:20:00+01:00", "finish --crumb 7 --crust 8"),
        ("2026-11-12T12:21:00+01:00", "show A1"),
    ):
        kitchen.at(time, line)
    reads_well(kitchen.screen)
    golden("notebook/running-bake", kitchen.screen)
    page = kitchen.page("2026-11-11", "market-roll")
    assert "bake_date: 2026-11-12\n" in page
    assert "  water: 396 g\n" in page
    assert "  - bulk: 58 min\n  - final proof: 47 min\n  - bake: 19 min at 220 C, core 97 C\n" in page
    assert "  - 2026-11-12T09:42:00+01:00 (told 2026-11-12T09:44:00+01:00) in the oven at 220C, 2 min ago\n" in page
    kitchen.at("2026-11-12T12:30:00+01:00", "check")
