"""Made-up books of any size, the same each time: formulas with many revisions, and years of bakes.

Pages are written as the program writes them; the history is handed to git in one stream, since the program itself
would need an hour for it.
"""

from __future__ import annotations

import hashlib
import random
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

FORMULAS = 50
REVISIONS = 20
BAKERS = ("noor", "tomas")
FIRST_DAY = datetime(2001, 1, 6, 18, tzinfo=UTC)
LATER = int(datetime(2026, 1, 6, 18, tzinfo=UTC).timestamp())  # when bakes are put down that come on top
SEED = 20260902
NAMES = [f"formula-{number:02d}" for number in range(1, FORMULAS + 1)]

REVISION = """\
format: formula/1
formula: {name}
title: {title}
revision: {number}
by: noor
saved: {saved}
{made_from}why: {why}
makes: 24 rolls of 85 g
aims:
  crust: thin and crackling
  crumb: soft and even, never gummy

ingredients:                      # the whole formula; all the flour is 100%
  strong wheat flour: 100%
  water: {water}%
  salt: {salt}%
  butter: 3%, soft
  instant yeast: 0.62%

preferments:
  poolish:
    takes: 20% of the flour
    strong wheat flour: 100%      # in shares of its own flour
    water: 100%
    instant yeast: 0.1%
    rest: 12 h at 21 C, covered

process:
  - first mix: 3 min, low
  - second mix: 9 min, medium, dough 25 C
  - bulk: {bulk} min at 26 C, covered, until half as big again
  - divide: 85 g
  - shape: round, seam underneath
  - final proof: 50 min at 28 C, covered, until a dent springs back slowly
  - bake: 18 min at 220 C, steam, no fan, until golden and crackling
"""

TRIAL = """\
format: trial/1
trial: {name}
formula: {formula}
revision: r{revision}.noor
code: {code}
baker: {baker}
state: done
bake_date: {day}
batch: {batch} g flour
weighed:
  water: {water} g
as_planned: all the rest
flours:
  strong wheat flour: Mill Lane, lot B-{lot}
kitchen:
  room: {room} C
steps:
  - second mix: 9 min, dough {dough} C
  - bulk: {bulk} min at 26 C
  - final proof: 50 min at 28 C
  - bake: 18 min at 220 C, core 97 C
measured:
  pieces: 12
  dough weight: 1020 g
  baked weight: {baked} g
scale: 0 to 10
scores:
  noor:
    crumb: {crumb}
    crust: {crust}
{second}pin: "{pin}"
"""

SECOND = """\
  tomas:
    crumb: {crumb}
    crust: {crust}
    hours_after: 3
    note: wants more colour
"""

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def code_at(place: int) -> str:
    """The code of the trial at a place, counted from 0, as the program gives them."""
    low = 1
    while place >= 9 * low * len(LETTERS):
        place -= 9 * low * len(LETTERS)
        low *= 10
    return f"{LETTERS[place // (9 * low)]}{low + place % (9 * low)}"


def page_id(text: str) -> str:
    """The id that git and the pins give a page."""
    data = text.encode()
    return hashlib.sha1(b"blob %d\0" % len(data) + data, usedforsecurity=False).hexdigest()


def revisions(name: str, chance: random.Random) -> list[str]:
    """The kept pages of one formula, oldest first."""
    pages = []
    water = 60
    for number in range(1, REVISIONS + 1):
        water = max(55, min(80, water + chance.choice((-2, -1, 1, 2, 3))))
        pages.append(
            REVISION.format(
                name=name,
                title=name.replace("-", " ").capitalize(),
                number=number,
                saved=(FIRST_DAY + timedelta(days=number)).isoformat(),
                made_from="" if number == 1 else f"made_from: r{number - 1}.noor\n",
                why="first try" if number == 1 else "a softer crumb",
                water=water,
                salt=chance.choice(("1.8", "2", "2.1")),
                bulk=chance.choice((50, 60, 75)),
            )
        )
    return pages


def trial(place: int, formula: str, kept: list[str], chance: random.Random, baker: str) -> tuple[str, str, str]:
    """Where the trial at `place` lies, its page as recorded, and with the second taster's marks."""
    day = (FIRST_DAY + timedelta(days=30 + place // 2)).date().isoformat()
    revision = chance.randint(1, REVISIONS)
    told = {
        "name": f"{formula}/{day}-{baker}",
        "formula": formula,
        "revision": revision,
        "code": code_at(place),
        "baker": baker,
        "day": day,
        "batch": 600,
        "water": chance.randint(350, 450),
        "lot": chance.randint(100, 999),
        "room": chance.randint(18, 27),
        "dough": chance.choice(("24", "24.5", "25", "25.5", "26")),
        "bulk": chance.randint(45, 80),
        "baked": chance.randint(870, 905),
        "crumb": chance.randint(3, 9),
        "crust": chance.randint(3, 9),
        "pin": page_id(kept[revision - 1]),
    }
    second = SECOND.format(crumb=chance.randint(3, 9), crust=chance.randint(3, 9))
    return f"trials/{told['name']}.yaml", TRIAL.format(second="", **told), TRIAL.format(second=second, **told)


def build(folder: Path, trials: int, program: str) -> Path:
    """A book of so many trials in `folder`, begun by the program itself; an entry for each thing that was kept."""
    if (folder / "book.yaml").exists():
        return folder
    subprocess.run([program, "start", str(folder), "--title", "Made up", "--baker", "noor"], check=True)
    git = ["git", "-C", str(folder)]
    subprocess.run([*git, "fast-import", "--quiet"], input=b"".join(_stream(folder, trials)), check=True)
    subprocess.run([*git, "reset", "--quiet", "--hard"], check=True)
    subprocess.run([*git, "commit-graph", "write", "--reachable", "--changed-paths", "--no-progress"], check=True)
    return folder


def add_bakes(folder: Path, places: range, baker: str) -> None:
    """Puts one baker's bakes at these places into a book that `build` made, an entry for each."""
    chance = random.Random(f"{baker} {places}")
    kept = _kept(random.Random(SEED))
    branch = _branch(folder)
    entries = [
        _entry(branch, clock, said, "record", {path: recorded}, onto="" if at else branch)
        for at, (clock, said, path, recorded, _) in enumerate(_bakes(places, kept, LATER, chance, baker))
    ]
    git = ["git", "-C", str(folder)]
    subprocess.run([*git, "fast-import", "--quiet"], input=b"".join(entries), check=True)
    subprocess.run([*git, "reset", "--quiet", "--hard"], check=True)


def _branch(folder: Path) -> str:
    words = ["git", "-C", str(folder), "symbolic-ref", "HEAD"]
    return subprocess.run(words, capture_output=True, text=True, check=True).stdout.strip()


def _kept(chance: random.Random) -> dict[str, list[str]]:
    return {name: revisions(name, chance) for name in NAMES}


def _bakes(
    places: range, kept: dict[str, list[str]], clock: int, chance: random.Random, baker: str = ""
) -> Iterator[tuple[int, str, str, str, str]]:
    """When each is put down, of what it is, where it lies, its page, and with the second taster's marks."""
    for place in places:
        clock += 60
        name = NAMES[chance.randrange(FORMULAS)]
        yield clock, f"{name} {code_at(place)}", *trial(place, name, kept[name], chance, baker or BAKERS[place % 2])


def _stream(folder: Path, trials: int) -> Iterator[bytes]:
    chance = random.Random(SEED)
    kept = _kept(chance)
    branch = _branch(folder)
    clock = int(FIRST_DAY.timestamp())
    first = True
    for name in NAMES:
        for number, page in enumerate(kept[name], start=1):
            clock += 60
            said = f"{name} r{number} (noor): water"
            files = {f"formulas/{name}.yaml": page, f"formulas/{name}/r{number}.noor.yaml": page}
            yield _entry(branch, clock, said, "tweak", files, onto=branch if first else "")
            first = False
    for place, (when, said, path, recorded, scored) in enumerate(_bakes(range(trials), kept, clock, chance)):
        yield _entry(branch, when, f"{said}: baked", "record", {path: recorded})
        if place % 10:  # nine in ten are tasted by the second taster as well
            yield _entry(branch, when + 30, f"{said}: tasted", "score", {path: scored})


def _entry(branch: str, clock: int, said: str, verb: str, files: dict[str, str], onto: str = "") -> bytes:
    subject = f"{said}\n\nOvenleaf-Verb: {verb}\nOvenleaf-Version: 0\n".encode()
    parts = [
        f"commit {branch}\ncommitter noor <noor@book.invalid> {clock} +0000\ndata {len(subject)}\n".encode(),
        subject,
        b"\n",
        f"from {onto}^0\n".encode() if onto else b"",
    ]
    for path, text in files.items():
        data = text.encode()
        parts.append(f"M 100644 inline {path}\ndata {len(data)}\n".encode() + data + b"\n")
    return b"".join(parts)


def ours() -> str:
    """The installed program beside this Python."""
    return str(Path(sys.executable).with_name("ovenleaf"))
