"""Many write at once: in one book, and in copies that share through one place. Everything told is there in the end."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

import ovenleaf
from end_to_end.test_places import daemon
from ovenleaf.book import git
from sharing_support import EVENING, pages, two_copies

pytestmark = [
    pytest.mark.counted,
    pytest.mark.skipif(sys.platform == "win32", reason="git's daemon is a POSIX program"),
]
# Types a command again while somebody else is at it (exit 3), and counts how often: COUNT, then what is typed.
TYPIST = """
import sys
from ovenleaf.cli.main import main
refused = 0
for number in range(int(sys.argv[1])):
    words = [word.replace("NUMBER", str(number)) for word in sys.argv[2:]]
    while (code := main(words)) not in (0, 4):
        assert code == 3 and refused < 1000, code
        refused += 1
print("refused", refused)
"""


def typist(root, count, *words):
    env = {**os.environ, "PYTHONPATH": str(Path(ovenleaf.__file__).parents[1]), "OVENLEAF_NOW": EVENING}
    command = [sys.executable, "-c", TYPIST, str(count), *words]
    return subprocess.Popen(command, cwd=root, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def done(children):
    """How often those at work were refused, all together. Each must have got through."""
    refused = 0
    for child in children:
        out, err = child.communicate()
        assert child.returncode == 0, (out[-2000:], err[-2000:])
        refused += int(out.split()[-1])
    return refused


def test_eight_at_one_book_record_two_hundred_bakes(tmp_path):
    """Each with a page and a code of its own, one entry each, and nothing half done."""
    book = two_copies(tmp_path).noor
    before = len(list((book / "trials").rglob("*.yaml")))
    line = ("record", "caraway-rye", "--crumb", "6", "--note")
    refused = done([typist(book, 25, *line, f"said-{who}-NUMBER") for who in range(8)])
    trials = [page.read_text() for page in (book / "trials").rglob("*.yaml")]
    codes = Counter(re.search(r"^code: (\S+)$", text, re.MULTILINE)[1] for text in trials)
    notes = {f"said-{who}-{number}" for who in range(8) for number in range(25)}
    missing = [note for note in notes if not any(re.search(rf"\b{note}\b", text) for text in trials)]
    print(f"\n8 at once, 25 each: {len(trials) - before} bakes, {refused} told to wait, {len(missing)} lost")
    assert len(trials) - before == 200
    assert missing == []
    assert max(codes.values()) == 1
    assert git.changed(book) == ()


def test_five_copies_share_at_once_for_twenty_rounds(tmp_path):
    """Whoever was slower takes in what was faster and tries again; all end with the same pages, and all of them."""
    made = two_copies(tmp_path)
    (tmp_path / "srv").mkdir()
    subprocess.run(["git", "init", "-q", "--bare", "-b", "main", tmp_path / "srv/book.git"], check=True)
    copies, refused = [made.noor], 0
    with daemon(tmp_path / "srv", "--enable=receive-pack") as address:
        made.type(made.noor, f"share --at {address}", EVENING)
        for baker in ("petra", "lena", "jo", "ben"):
            made.type(tmp_path, f"join {address} {baker} --baker {baker}", EVENING)
            copies.append(tmp_path / baker)
        for number in range(20):
            note = f"said-{number}"
            for which, root in enumerate(copies):
                made.type(root, f"record caraway-rye r1 --crumb 6 --note {note}-{which}", EVENING)
            refused += done([typist(root, 1, "share", "--at", address) for root in copies])
        for root in (*copies, *copies):
            made.type(root, f"share --at {address}", EVENING)
    first, *others = (pages(root) for root in copies)
    everything = b"".join(first.values()).decode()
    notes = [f"said-{number}-{which}" for number in range(20) for which in range(5)]
    missing = [note for note in notes if not re.search(rf"\b{note}\b", everything)]
    print(f"\n5 copies, 20 rounds: {len(notes)} bakes, {refused} shares told to try again, {len(missing)} lost")
    assert all(other == first for other in others)
    assert len({git.head(root) for root in copies}) == 1
    assert missing == []
