"""Two copies of one book, and a folder between them, for tests of sharing."""

from __future__ import annotations

import re
from textwrap import dedent

from support import run_ovenleaf

RYE = """\
    formula: caraway-rye
    title: Caraway rye
    makes: 2 loaves of 885 g
    ingredients:
      medium rye flour: 60%
      strong wheat flour: 40%   # Mill Lane
      water: 74%
      caraway seed: 1.5%
      salt: 2%
      instant yeast: 0.5%
    process:
      - mix: 6 min, dough 28 C
      - bulk: 45 min at 28 C
      - bake: 50 min at 250 C falling to 200 C
    """
GIT_WORDS = re.compile(
    r"\b(commit|branch|HEAD|hash|repository|remote|push|pull|merge|fetch|clone|stash|tag|checkout|origin|conflict|blob)\b"
)
FRIDAY, SUNDAY, MONDAY, EVENING = (
    f"2026-11-{time}:00+01:00" for time in ("20T10:00", "22T19:00", "23T08:00", "23T20:10")
)


class Copies:
    """Two kitchens in one folder, noor's and tomas's, and what each command said."""

    def __init__(self, folder):
        self.folder = folder
        self.noor, self.tomas = folder / "noor/ferry-lane", folder / "tomas/ferry-lane"
        self.said = {}

    def run(self, where, line, now):
        return run_ovenleaf(*filter(None, [line]), cwd=where, now=now)

    def type(self, where, line, now, *, code=0, name=""):
        ran = self.run(where, line, now)
        assert ran.code == code, (line, ran.code, ran.out, ran.err)
        if name:
            self.said[name] = (ran.out + ran.err).replace(str(self.folder), "/media")
        return ran


def two_copies(folder) -> Copies:
    """The rye at noor's, shared in a folder, and tomas's copy of it."""
    made = Copies(folder)
    for kitchen in ("noor", "tomas", "stick"):
        (folder / kitchen).mkdir()
    (folder / "caraway-rye.yaml").write_text(dedent(RYE))
    made.type(folder / "noor", 'start ferry-lane --title "Ferry Lane" --baker noor', FRIDAY)
    made.type(made.noor, "enter ../../caraway-rye.yaml", FRIDAY)
    made.type(made.noor, "record caraway-rye --crumb 6 --crust 7", FRIDAY)
    made.type(made.noor, "share --at ../../stick/ferry-lane --preview", FRIDAY, name="preview_first")
    made.type(made.noor, "share --at ../../stick/ferry-lane", FRIDAY, name="first")
    made.type(folder / "tomas", "join ../stick/ferry-lane ferry-lane --baker noor", SUNDAY, code=3, name="taken")
    made.type(folder / "tomas", "join ../stick/ferry-lane ferry-lane --baker tomas", SUNDAY, name="join")
    return made


def pages(root):
    """Every page by its name, without what belongs to a copy alone."""
    return {
        path.relative_to(root).as_posix(): path.read_bytes()
        for path in root.rglob("*")
        if path.is_file() and ".git" not in path.parts
    }
