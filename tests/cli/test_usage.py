"""What a command's own help says of how it is typed, and whether what screens offer to type next can be typed."""

from __future__ import annotations

import re
import shlex

import pytest

from ovenleaf.cli import table
from support import GOLDEN

USAGE = re.compile(r"Usage: ovenleaf (\S+) \[OPTIONS\](.*)")
# What somebody must put in, since no example could stand for it: a name, or the marks of a blind tasting.
OWN = {"YOUR-NAME", "N"}


@pytest.mark.parametrize("command", [command.name for command in table.COMMANDS])
def test_the_usage_line_names_what_is_to_be_typed_in_capitals(command, oven):
    """`ovenleaf mark [OPTIONS] FORMULA R MARK`: no braces, no small letters."""
    usage = " ".join(oven(f"{command} --help").out.split("\n\n")[0].split())
    named, words = USAGE.fullmatch(usage).groups()
    assert named == command
    assert not re.search(r"[a-z{}]", words), words


def offered(path):
    """The commands of the block that closes a screen."""
    _, found, block = path.read_text(encoding="utf-8").partition("\nNext")
    lines = block.splitlines()[1:] if found else []
    return [re.split(r" {3,}", line.strip())[0] for line in lines if re.match(r"  \S", line)]


def test_what_a_screen_offers_next_can_be_typed_as_it_stands():
    """On every golden screen: a command there is, and no word that only stands for another."""
    names = {command.name for command in table.COMMANDS}
    tried = 0
    for path in sorted(GOLDEN.rglob("*.txt")):
        for line in offered(path):
            words = shlex.split(line)
            if words[0] != "ovenleaf":
                continue
            tried += 1
            rest = [word for word in words[1:] if word not in ("--book", "--baker", *OWN, "ferry-lane", "noor")]
            assert not rest or rest[0] in names or rest[0] in ("--json", "--sentences"), (path.name, line)
            bare = re.sub(r"'[^']*'|\"[^\"]*\"", "", line)
            placeholders = set(re.findall(r"(?<![\w.])[A-Z]+(?:-[A-Z]+)*(?![\w.-])", bare)) - OWN
            assert not placeholders, (path.name, line)
            assert "--crumb N" not in line or rest[0] == "taste", (path.name, line)
    assert tried > 200
