"""undo after each command that writes: pages to the letter, trials and marks by what they say, and a book in order."""

from __future__ import annotations

import pytest

from end_to_end.test_preview import COMMANDS, NOW
from end_to_end.test_preview import book as book
from end_to_end.test_undo import facts

pytestmark = pytest.mark.counted

LATER = "2026-11-25T13:00:00+01:00"
WITHOUT = {"undo", "start"}


@pytest.mark.parametrize("name", [name for name, (line, _) in COMMANDS.items() if line.split(" ")[0] not in WITHOUT])
def test_what_a_command_wrote_is_taken_back(name, book, oven):
    """Every writing command of the preview's list, so that a new one is tried here too."""
    line, typed = COMMANDS[name]
    if typed is None:
        typed = (book / "formulas/market-roll.yaml").read_text().replace("water: 71%", "water: 73%")
    drafts = name.startswith("save")
    before = facts(book, oven, NOW)
    assert oven(line, cwd=book, now=NOW, typed=typed).code == 0
    assert facts(book, oven, NOW) != before or drafts or name in ("jot-named", "correct-adding")
    undone = oven("undo", cwd=book, now=LATER)
    assert undone.code == 0, undone.err
    after = facts(book, oven, LATER)
    assert after[1:] == before[1:]
    if not drafts:  # what was typed by hand before a save is in the kept revision; the page is as it was saved before
        assert after[0] == before[0]
    assert "changed-trial" not in oven("check --json", cwd=book, now=LATER).out
