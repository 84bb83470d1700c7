"""The sheet to print: it fits a page, and what is pencilled in can be read back by its form alone."""

from __future__ import annotations

import json
import re

import pytest

NOW = "2026-11-25T12:00:00+01:00"
PAGE = 60  # lines of 80 columns on a sheet of Letter or A4
LONG = """\
format: formula/1
formula: feast-loaf
title: Feast loaf of the long table
makes: 6 loaves of 900 g
ingredients:
  strong wheat flour: 70%
  whole wheat flour: 20%
  medium rye flour: 10%
  water: 55%
  whole milk: 15%
  egg: 6%
  unsalted butter: 6%, soft but not oily, in cubes of the size of a hazelnut
  honey: 4%
  salt: 2%
  instant yeast: 0.5%
  sesame seed: 3%
  linseed: 3%
  sunflower seed: 3%
  home dried cornelian cherries from the hedge behind the mill: 5%
preferments:
  first-build:
    takes: 5% of the flour
    medium rye flour: 90%
    water: 90%
    levain: 20%
    rest: 8 h at 26 C
  levain-build:
    takes: 20% of the flour
    first-build: all
    strong wheat flour: 75%
    water: 75%
    rest: 4 h at 28 C
soakers:
  seed-soaker:
    sesame seed: 3%
    linseed: 3%
    water: 8%
    rest: 12 h, covered
process:
  - mix: 6 min, low, dough 25 C
  - bulk: 90 min at 25 C, folded after 30 and after 60 min, until it is half as big again and holds a dome
  - divide: 900 g
  - shape: long, seam up, into the floured basket
  - final proof: 60 min at 25 C, until a dent springs back slowly
  - bake: 45 min at 240 C falling to 200 C, steam for the first ten minutes and then none, core 97 C
"""


@pytest.fixture(scope="module")
def book(sample_as_built, tmp_path_factory):
    """The sample book and one formula with all there is: nested builds, a soaker, long names and long steps."""
    import shutil

    from support import run_ovenleaf

    folder = tmp_path_factory.mktemp("sheets")
    shutil.copytree(sample_as_built, folder / "ferry-lane")
    (folder / "feast-loaf.yaml").write_text(LONG)
    ran = run_ovenleaf("enter ../feast-loaf.yaml", cwd=folder / "ferry-lane", now="2026-11-24T12:00:00+01:00")
    assert ran.code == 0, ran.err
    return folder / "ferry-lane"


@pytest.fixture
def printed(book, oven, tmp_path):
    """The sheet that a command line writes, and the same weigh-up as a document."""

    def write(line):
        env = {"OVENLEAF_BOOK": str(book)}
        ran = oven(f"{line} --sheet sheet.txt --json", cwd=tmp_path, now=NOW, env=env)
        assert ran.code == 0, ran.err
        text = (tmp_path / "sheet.txt").read_text()
        (tmp_path / "sheet.txt").unlink()
        return text, json.loads(ran.out)

    return write


def read_back(text):
    """A sheet by its form as present/sheet describes it: facts, bowls with (item, planned, went in), steps, answers."""
    found = {"facts": {}, "bowls": {}, "steps": [], "answers": {}}
    heading, name, block = "", "", ""
    for line in text.splitlines():
        if line and line[0] not in " " and "___" not in line:
            block = "steps" if line == "Steps, and when" else "bowl"
            heading = re.split(", then |   begin at ", line)[0]
            for fact in re.finditer(r"([a-z]+): (.+?)(?=   [a-z]+: |$)", line):
                found["facts"].setdefault(fact[1], []).append(fact[2])
        elif block == "bowl" and line.startswith(("  [", "      ")) and "   in all" not in line[:12] and line.strip():
            name = line[6:] if line.startswith("  [") else f"{name} {line[6:].strip()}" if name else line[6:]
            if done := re.fullmatch(r"(.+?)\s{2,}((?:[0-9.]+ lb\s+)?[0-9.]+ (?:g|oz))   went in(.*)", name):
                found["bowls"].setdefault(heading, []).append((done[1].strip(), done[2], done[3].strip("_ ")))
                name = ""
            elif line.strip().startswith("in all"):
                name = ""
        elif block == "steps" and line.startswith(("  [", "      ")):
            words, _, when = re.fullmatch(r"(.*?)(\s{2,}at ?(?=\S*$)|$)(.*)", line[6:]).groups()
            name = words if line.startswith("  [") else f"{name} {words}"
            if re.search(r"\s{2,}at ?\S*$", line):
                begun, step = re.match(r"(?:(\d\d:\d\d) )?([^:]+): ", name).groups()
                found["steps"].append((begun, step, when.strip("_ ")))
        elif "___" in line or block == "answers":
            for answer in re.finditer(r"([a-z ]+?) (_*[^_\s]*_+)(?=   |$)", line):
                found["answers"][answer[1].strip()] = answer[2].strip("_")
    return found


WAYS = [
    "weigh market-roll",
    "weigh market-roll --ready 2026-11-29T07:00 --room 21C",
    "weigh market-roll --ounces",
    'weigh market-roll --swap "fresh yeast" --pieces 37 --each 83g --bench-loss 2%',
    "weigh market-roll --water-temp --room 65F --flour-temp 65F",
    "weigh caraway-rye --begin 2026-11-28T18:00",
    "weigh honey-milk-bun",
    "weigh olive-flatbread",
    "weigh seeded-roll --dough 5kg",
    "weigh feast-loaf",
    "weigh feast-loaf --ready 2026-11-29T07:00 --room 21C",
]


@pytest.mark.parametrize("line", WAYS)
def test_it_fits_one_page(line, printed):
    """No line over 80 columns, no more than a page, and nothing cut off: every item is there by its whole name."""
    text, document = printed(line)
    lines = text.splitlines()
    assert len(lines) <= PAGE
    assert all(len(one) <= 80 for one in lines), [one for one in lines if len(one) > 80]
    words = " ".join(text.split())
    assert all(item["item"] in words for bowl in document["bowls"] for item in bowl["lines"])


@pytest.mark.parametrize("line", WAYS)
def test_it_can_be_read_back(line, printed):
    """By its form alone: the formula and revision, each bowl with each planned weight, each step, each blank."""
    text, document = printed(line)
    found = read_back(text)
    assert found["facts"]["sheet"] == ["1"]
    assert found["facts"]["formula"] == [document["formula"]]
    assert found["facts"]["revision"] == [document["revision"]]
    for bowl in document["bowls"]:
        read = found["bowls"][bowl["name"].capitalize()]
        assert [name.split(", ")[0] for name, _, _ in read] == [one["item"] for one in bowl["lines"]]
        if "ounces" not in line:
            assert [float(planned.split()[0]) for _, planned, _ in read] == [one["grams"] for one in bowl["lines"]]
        assert all(went == "" for _, _, went in read)
    assert len(found["steps"]) == text.count("at ________")
    assert {"bake date", "room", "dough temperature", "baked weight", "crumb", "crust", "taster", "note"} <= set(
        found["answers"]
    )
    assert all(answer == "" for answer in found["answers"].values())


def test_what_is_pencilled_in_is_found(printed):
    """Over the blanks: a weight that went in, a time, a mark."""
    text, _ = printed("weigh market-roll --ready 2026-11-29T07:00")
    filled = text.replace("235 g   went in ________", "235 g   went in 236_____", 1).replace("[ ]", "[x]", 3)
    filled = re.sub(r"(low +at )_{8}", r"\g<1>04:45___", filled)
    filled = filled.replace("crumb ________", "crumb 7_______").replace("room ________", "room 19C_____")
    found = read_back(filled)
    assert found["bowls"]["Poolish"][0] == ("strong wheat flour", "235 g", "236")
    assert found["steps"][0] == ("04:40", "first mix", "04:45")
    assert (found["answers"]["crumb"], found["answers"]["room"], found["answers"]["crust"]) == ("7", "19C", "")


def test_several_formulas_are_several_pages(printed):
    """A form feed begins the next one."""
    text, _ = printed("weigh market-roll caraway-rye")
    pages = text.split("\f")
    assert [read_back(page)["facts"]["formula"] for page in pages] == [["market-roll"], ["caraway-rye"]]


def test_the_batch_on_it_is_one_that_a_trial_takes(printed):
    """Read back, it gives the flour of the batch again."""
    from builders import sheet
    from ovenleaf.domain.batch import flour_in_batch

    straight = sheet("ingredients:\n  strong wheat flour: 100%\n  water: 68%\n").worked
    for line in ("weigh market-roll --pieces 12 --each 80g", "weigh market-roll --dough 1500g"):
        text, _ = printed(line)
        batch = read_back(text)["facts"]["batch"][0]
        assert flour_in_batch(batch, straight) is not None, batch
