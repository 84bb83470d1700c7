"""What was published is adopted again: its weights come back to the gram, and so do its shares."""

from __future__ import annotations

import itertools
import json
import re
import shutil
from decimal import Decimal

import pytest

from ovenleaf.records.nodes import plain
from ovenleaf.records.yaml_text import read

NOW = "2026-11-25T12:00:00+01:00"
FORMULAS = ("market-roll", "caraway-rye", "honey-milk-bun", "olive-flatbread", "seeded-roll", "advent-loaf")
NUMBER = itertools.count(1)
OTHERS = pytest.mark.counted


@pytest.fixture(scope="module")
def books(sample_as_built, tmp_path_factory):
    """A sample book to publish from."""
    folder = tmp_path_factory.mktemp("there-and-back") / "ferry-lane"
    shutil.copytree(sample_as_built, folder)
    return folder


def back(oven, books, formula, kind, ending):
    """Publishes a formula and adopts what came out; its draft as data, what was published, what the screen said."""
    name = f"{formula}-{next(NUMBER)}"
    out = f"{name}.{ending}"
    published = oven(f"publish {formula} --as {kind} --out ../{out}", cwd=books, now=NOW)
    assert published.code == 0, published.err
    adopted = oven(f"adopt ../{out} --name {name}", cwd=books, now=NOW)
    assert adopted.code == 0, adopted.err
    assert "Still open" not in adopted.out
    draft = plain(read((books / f"formulas/{name}.yaml").read_text(encoding="utf-8"), path=name).root)
    return name, draft, (books.parent / out).read_text(encoding="utf-8"), published.out


def bowls_of(draft):
    """Grams by bowl and item; what is a whole bowl is left out."""
    stages = draft.get("stages") or {"dough": draft["ingredients"]}
    return {
        bowl: {item: Decimal(said.split(" g")[0]) for item, said in lines.items() if said != "all"}
        for bowl, lines in stages.items()
    }


def in_all(bowls):
    """Grams by item, over all the bowls."""
    sums = {}
    for lines in bowls.values():
        for item, grams in lines.items():
            sums[item] = sums.get(item, 0) + grams
    return sums


def told(page):
    """Grams by bowl and item, as the page's columns say them."""
    bowls, bowl = {}, ""
    for line in page.splitlines():
        row = re.match(r"  (\S.*?) {2,}([\d.]+) g(?: {2}|$)", line)
        if row and not row[1].startswith("the "):
            bowls[bowl][row[1].split(",")[0]] = Decimal(row[2])
        elif re.match(r"[A-Z][a-z ]+( {2,}weight.*)?$", line):
            bowl = line.split("  ")[0].lower().replace(" ", "-")
            bowls[bowl] = {}
    return {name: lines for name, lines in bowls.items() if lines}


@pytest.mark.parametrize(
    "formula", [name if name == "advent-loaf" else pytest.param(name, marks=OTHERS) for name in FORMULAS]
)
def test_a_published_recipe_gives_its_weights_back(formula, books, oven):
    """Each weight of each bowl of the text comes back, the bowls flow as before, and the shares are those told."""
    name, draft, page, screen = back(oven, books, formula, "recipe", "txt")
    assert bowls_of(draft) == told(page)
    assert oven("save", name, "--why", "there and back", cwd=books, now=NOW).code == 0
    shown = json.loads(oven(f"show {name} --json", cwd=books, now=NOW).out)
    shares = {row["item"]: row["pct"] for row in shown["ingredients"]}
    said = re.findall(r"^  (\S.*?)(?:, \w+)? {2,}[\d.]+ % {2,}([\d.]+) %", screen, re.MULTILINE)
    assert len(said) == len(shares)
    for item, share in said:
        assert shares[item] == pytest.approx(float(share), abs=0.06), item


@pytest.mark.counted
@pytest.mark.parametrize("formula", FORMULAS)
@pytest.mark.parametrize(("kind", "ending"), [("jsonld", "json"), ("recipe", "html")])
def test_published_data_gives_its_weights_back(formula, kind, ending, books, oven):
    """What the data for machines lists comes back, alone or inside the page; what is beside the dough stays there."""
    name, draft, _, _ = back(oven, books, formula, kind, ending)
    _, text, _, _ = back(oven, books, formula, "recipe", "txt")
    assert in_all(bowls_of(draft)) == in_all(bowls_of(text))
    assert draft.get("outside") == text.get("outside")
    assert oven("save", name, "--why", "there and back", cwd=books, now=NOW).code == 0


@pytest.mark.counted
def test_what_stands_beside_the_dough_comes_back(books, oven):
    """A wash, a topping and the oil of the tin keep their own measure and their use, and are no dough."""
    outside = {name: back(oven, books, name, "jsonld", "json")[1].get("outside") for name in FORMULAS}
    assert outside["honey-milk-bun"] == {"egg": "as needed, for the wash", "sesame seed": "1 tbsp, on top"}
    assert outside["advent-loaf"] == {"egg": "1 pc, for the wash"}
    assert outside["olive-flatbread"] == {"olive oil": "2 tbsp, for the tin"}
