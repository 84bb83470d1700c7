"""publish: what goes out, what the screen says of it, what is refused, and what check says later."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
from html.parser import HTMLParser
from pathlib import Path

import pytest

from ovenleaf.cli.kinds import KINDS
from refusals_support import reads_well, refused, snapshot

NOW = "2026-11-25T12:00:00+01:00"
LATER = "2026-11-26T12:00:00+01:00"
RECIPES = {
    "roll": "market-roll",
    "roll-24": "market-roll --pieces 24",
    "rye": "caraway-rye",
    "bun": "honey-milk-bun",
    "olive": "olive-flatbread",
    "split-dough": "seeded-roll",
    "festive": "advent-loaf",
    "first": "market-roll r1",
}


def published(oven, book, line, out, now=NOW):
    """Publishes into a file beside the book; the screen, and what was written."""
    ran = oven(f"publish {line} --out ../{out}", cwd=book, now=now)
    assert ran.code == 0, ran.err
    reads_well(ran.out)
    path = book.parent / out
    return ran.out, path.read_text(encoding="utf-8") if path.is_file() else ""


@pytest.mark.parametrize("name", RECIPES)
def test_a_recipe_reads_well(name, sample_book, oven, golden):
    """The page for home cooks and the screen that tells of it, both golden and read by eye."""
    screen, page = published(oven, sample_book, f"{RECIPES[name]} --as recipe", "out.txt")
    reads_well(page)
    golden(f"publish/{name}", f"{screen}\n---- the page\n\n{page}")


@pytest.fixture(scope="module")
def book(sample_as_built, tmp_path_factory):
    """A sample book for those who only add to it."""
    folder = tmp_path_factory.mktemp("publishing") / "ferry-lane"
    shutil.copytree(sample_as_built, folder)
    return folder


# Which properties schema.org has, and what each may hold: see the source in the file.
VOCABULARY = json.loads((Path(__file__).parents[1] / "data/schema_org.json").read_text(encoding="utf-8"))["types"]
LENGTH = re.compile(r"PT(?=\d)(\d+H)?(\d+M)?")


def out_of_the_vocabulary(node):
    """Each property of a node, and of the nodes in it, that its type does not have or that holds something else."""
    known, found = VOCABULARY[node["@type"]], []
    for name, value in node.items():
        if name in ("@context", "@type"):
            continue
        for one in value if isinstance(value, list) else [value]:
            if isinstance(one, dict):
                fits = one["@type"] in known.get(name, ()) or {"CreativeWork"} & set(known.get(name, ()))
                found += ([] if fits else [name]) + out_of_the_vocabulary(one)
            elif "Duration" in known.get(name, ()):
                found += [] if LENGTH.fullmatch(one) else [name]
            elif "Date" in known.get(name, ()):
                found += [] if re.fullmatch(r"\d{4}-\d\d-\d\d", one) else [name]
            elif not {"Text", "Mass", "Energy"} & set(known.get(name, ())):
                found.append(name)
    return found


FORMULAS = ("market-roll", "caraway-rye", "honey-milk-bun", "olive-flatbread", "seeded-roll", "advent-loaf")


@pytest.mark.parametrize("name", FORMULAS)
def test_data_for_machines_is_of_the_vocabulary(name, book, oven):
    """Every property is one that schema.org has for its type, holding what it may hold."""
    _, text = published(oven, book, f"{name} --as jsonld", f"{name}.json")
    data = json.loads(text)
    assert out_of_the_vocabulary(data) == []
    data["crumb"] = "7"
    data["totalTime"] = "14 h"
    data["author"] = "Noor"
    assert set(out_of_the_vocabulary(data)) == {"crumb", "totalTime", "author"}


class Seen(HTMLParser):
    """What stands in a page: its elements, and the addresses that it names."""

    def __init__(self):
        super().__init__()
        self.tags, self.addresses, self.words = [], [], ""

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.addresses += [value for name, value in attrs if name in ("src", "href", "action", "srcset")]

    def handle_data(self, data):
        self.words += data


def test_a_recipe_in_html_says_the_same_and_asks_nobody(book, oven):
    """Title, weights and steps of the text are in the page; it names no address and runs nothing."""
    _, text = published(oven, book, "honey-milk-bun --as recipe", "bun.txt")
    _, page = published(oven, book, "honey-milk-bun --as recipe", "bun.html")
    seen = Seen()
    seen.feed(page)
    assert seen.addresses == []
    assert seen.tags.count("script") == 1
    assert "default-src &#x27;none&#x27;" in page
    told = " ".join(seen.words.split())
    for line in ("Honey milk bun", "1 cup and 1 tablespoon", "1 tbsp sesame seed, on top", "until doubled."):
        assert line in text
        assert line in told


SHEETS = {
    "sheet": "market-roll --as sheet",
    "sheet-planned": "market-roll --as sheet --pieces 12 --room 20C --flour-temp 19C --preferment-temp 20C "
    "--ready 2026-11-29T07:00",
}


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_for_the_bench_is_written(name, book, oven, golden):
    """The screen is golden; the page has a square and a blank for each weight, and is in black and white alone."""
    screen, page = published(oven, book, SHEETS[name], f"{name}.html")
    golden(f"publish/{name}", screen)
    seen = Seen()
    seen.feed(page)
    assert seen.addresses == []
    assert set(re.findall(r"#[0-9a-f]{3,6}\b|rgb[^;]*", page)) == {"#000", "#fff"}
    assert page.count('class="box"') == 9 + 7  # three weights in the poolish, six in the dough; seven steps
    assert page.count("went in:") == 9
    told = " ".join(seen.words.split())
    assert ("Pour the water at" in told) == ("Ready at 07:00 on 29 Nov." in told) == (name == "sheet-planned")


def test_a_sheet_weighs_what_weigh_weighs(book, oven):
    """Every weight of the weigh-up stands on the sheet as it stands there."""
    _, page = published(oven, book, "advent-loaf --as sheet --pieces 2", "advent.html")
    answer = json.loads(oven("weigh advent-loaf --pieces 2 --json", cwd=book, now=NOW).out)
    for bowl in answer["bowls"]:
        for line in bowl["lines"]:
            assert re.search(rf">{line['grams']:g}(?:\.0)? g<", page), line


LABELS = {
    "label": "market-roll --as label",
    "label-rye": "caraway-rye --as label",
    "label-rich": "advent-loaf --as label",
    "label-given": "honey-milk-bun --as label --bake-loss 11%",
}


@pytest.mark.parametrize("name", LABELS)
def test_figures_for_a_label_read_well(name, book, oven, golden):
    """The page and the screen are golden; that it is a guide, and whose rules hold, stands on both."""
    screen, page = published(oven, book, LABELS[name], f"{name}.txt")
    reads_well(page)
    golden(f"publish/{name}", f"{screen}\n---- the page\n\n{page}")
    assert "check your authority's rules" in screen
    assert "check your authority's rules" in page


def rows_of(text):
    """A table as a spreadsheet reads it: each row by the heads of its columns."""
    assert text.startswith("\ufeff")
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"))))


def test_trials_for_a_spreadsheet(book, oven, golden):
    """One row a trial; planned beside as baked; what was not recorded is blank."""
    screen, text = published(oven, book, "market-roll --as csv", "trials.csv")
    golden("publish/csv", screen)
    rows = {row["code"]: row for row in rows_of(text)}
    assert len(rows) == 13
    water = "water, planned (% of all the flour)", "water, as baked (% of all the flour)"
    assert [rows["A4"][name] for name in water] == ["65", "66"]  # 396 g on 600 g of flour
    assert [rows["A1"][name] for name in water] == ["62", ""]
    assert (rows["A4"]["crumb, tomas"], rows["A4"]["crust, tomas"], rows["A4"]["score"]) == ("7", "7", "7.25")
    assert rows["A4"]["dough temperature, as baked (°C)"] == "25.5"
    assert [code for code, row in rows.items() if row["left out of rankings"]] == ["B3"]
    assert {row["table made on"] for row in rows.values()} == {NOW[:10]}


def test_the_whole_book_for_a_spreadsheet(book, oven):
    """With no formula named, every trial of the book is in the table."""
    _, text = published(oven, book, "--as csv", "all.csv")
    rows = rows_of(text)
    assert len(rows) == len(list((book / "trials").rglob("*.yaml")))
    assert [row["last put right"] for row in rows if row["last put right"]] == ["2026-11-24"]  # the one correction


@pytest.mark.parametrize("bad", ["=1+1", "+1", "-1", "@x", " =x"])
def test_no_cell_is_a_formula(bad, sample_book, oven):
    """Words that a spreadsheet would work out are text in it, in every column that holds words."""
    line = ("record", "market-roll", "--crumb", "7", "--crust", "7", "--question", bad, "--note", bad, "--fault", bad)
    ran = oven(*line, cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err
    _, text = published(oven, sample_book, "--as csv", "all.csv")
    cells = [cell for row in csv.reader(io.StringIO(text.removeprefix("\ufeff"))) for cell in row]
    assert f"'{bad}".strip() in cells or f"'{bad.strip()}" in cells
    assert not [cell for cell in cells if cell.lstrip().startswith(("=", "+", "-", "@", "\t"))]


def test_scenario_24_a_recipe_from_the_keeper(book, oven):
    """From the keeper and its bakes, for home cooks: rounded and re-checked, yield, times with signs, both scales,
    allergens, credits, how often baked and by how many; no other size is called tested."""
    screen, page = published(oven, book, "market-roll --as recipe", "scenario.txt")
    told = " ".join(page.split())
    assert "revision 3, your keeper" in screen
    assert "Nothing moved by more than 0.5 points" in screen
    for words in (
        "Makes 12 rolls of 85 g of dough, about 74 g each when cool.",
        "60 minutes at 26 °C (79 °F), covered, until half as big again",
        "220 °C (425 °F)",
        "Contains, as named in the US: wheat and milk.",
        "As named in the EU: cereals containing gluten (wheat) and milk.",
        "Baked six times by two bakers in this size; other sizes were not tried.",
        "Formula by Noor.",
        "Market roll, revision 3",
    ):
        assert words in told
    _, other = published(oven, book, "market-roll --as recipe --pieces 40", "forty.txt")
    assert "This size was not tried." in " ".join(other.split())


def test_the_rounded_weights_are_the_percentages_that_are_told(book, oven):
    """The page's own grams, added up over its bowls, give the shares that the screen says, to a tenth of a point."""
    screen, page = published(oven, book, "advent-loaf --as recipe", "added.txt")
    sums = {}
    for item, grams in re.findall(r"^  (\w[\w ]*?)(?:, \w+)? {2,}([0-9.]+) g ", page, re.MULTILINE):
        if not item.startswith("the "):
            sums[item] = sums.get(item, 0) + float(grams)
    flour = sums["strong wheat flour"] + sums["whole wheat flour"]
    told = re.findall(r"^  (\w[\w ]*?) {2,}[0-9.]+ % {2,}([0-9.]+) %", screen, re.MULTILINE)
    assert len(told) == 12
    for item, share in told:
        assert 100 * sums[item] / flour == pytest.approx(float(share), abs=0.06), item


def test_words_from_the_book_are_words_in_html(sample_book, oven):
    """Mark-up in a title, a step or a source is shown as it was typed, and cannot end the data either."""
    page = sample_book / "formulas/market-roll.yaml"
    bad = "</script><script>alert(1)</script><img src=x onerror=alert(1)>"
    words = (
        page.read_text().replace("title: Market roll", f'title: "{bad}"').replace("- shape: round", f"- shape: {bad}")
    )
    page.write_text(words, encoding="utf-8")
    assert oven("save --why x", cwd=sample_book, now=NOW).code == 0
    _, made = published(oven, sample_book, "market-roll r5 --as recipe", "roll.html")
    seen = Seen()
    seen.feed(made)
    assert seen.tags.count("script") == 1
    assert "img" not in seen.tags
    assert seen.words.count(bad) >= 2


LEVAIN = """formula: levain-loaf
makes: 1 loaf of 850 g
stages:
  levain:
    whole wheat flour: 50 g
    water: 50 g
    levain: 20 g, ripe
  dough:
    strong wheat flour: 450 g
    water: 300 g
    levain: all
    salt: 10 g
kept_for_next_time:
  levain: 20 g
process:
  - mix: by hand
  - bulk: 4 to 5 h at 75F, until jiggly
  - proof: in the fridge, 12 h at 4C
  - bake: 45 min at 475F in a pot, lid on
"""


def test_a_levain_begun_with_levain(sample_book, oven, golden):
    """A bowl may hold a line of its own name, the starter: it is weighed up, published and explained."""
    assert oven("enter -", cwd=sample_book, now=NOW, typed=LEVAIN).code == 0
    assert oven("weigh levain-loaf --household", cwd=sample_book, now=NOW).code == 0
    screen, page = published(oven, sample_book, "levain-loaf --as recipe", "out.txt")
    golden("publish/levain", f"{screen}\n---- the page\n\n{page}")
    assert "Keep 20 g of it for next time." in page
    _, text = published(oven, sample_book, "levain-loaf --as jsonld", "out.json")
    assert json.loads(text)["recipeIngredient"][2] == "20 g levain, ripe"
    assert out_of_the_vocabulary(json.loads(text)) == []


REFUSED = {
    "no-kind": "publish market-roll --out ../x.txt",
    "other-kind": "publish market-roll --as poster --out ../x.txt",
    "no-out": "publish market-roll r3 --as recipe",
    "other-ending": "publish market-roll --as recipe --out ../x.doc",
    "two-formulas": "publish market-roll caraway-rye --as recipe --out ../x.txt",
    "no-formula": "publish market-rol --as recipe --out ../x.txt",
    "no-revision": "publish market-roll r9 --as recipe --out ../x.txt",
    "two-sizes": "publish market-roll --as recipe --pieces 3 --flour 500g --out ../x.txt",
    "too-small": "publish market-roll --as recipe --flour 18g --out ../x.txt",
    "label-without-loss": "publish olive-flatbread --as label --out ../x.txt",
    "in-vain": "publish market-roll --as recipe --room 20C --out ../x.txt",
    "file-there": "publish market-roll --as recipe --out ../there.txt",
    "in-the-book": "publish market-roll --as recipe --out formulas/x.txt",
    "no-folder": "publish market-roll --as recipe --out ../none/x.txt",
    "folder-filled": "publish --as book --out ..",
    "folder-filled-with-pages": "publish --as book --out ../pages/",
    "folder-in-the-book": "publish --as book --out photos/pages",
    "folder-is-a-file": "publish --as book --out ../there.txt",
    "book-of-one": "publish market-roll --as book --out ../x",
    "book-nowhere": "publish --as book",
    "book-in-vain": "publish --as book --pieces 12 --out ../x",
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_go_out_is_refused(name, sample_book, oven, golden):
    """Exit 3, words with a next step, and not a byte written in the book or beside it."""
    (sample_book.parent / "there.txt").write_text("mine", encoding="utf-8")
    (sample_book.parent / "pages/formulas").mkdir(parents=True)
    (sample_book.parent / "pages/formulas/market-roll.html").write_text("old", encoding="utf-8")
    before = snapshot(sample_book.parent)
    golden(f"publish/refused-{name}", refused(oven, REFUSED[name], sample_book, now=NOW))
    assert snapshot(sample_book.parent) == before


def test_a_page_that_cannot_be_noted_is_not_written(sample_book, oven):
    """Where the book cannot keep the note that a page is out, no page is out."""
    (sample_book / ".git").rename(sample_book.parent / "history-gone")
    ran = oven("--baker noor publish market-roll --as recipe --out ../x.txt", cwd=sample_book, now=NOW)
    assert ran.code == 3, ran.out
    assert not (sample_book.parent / "x.txt").exists()


def old_pages(oven, book, now=LATER):
    """What check says of pages that grew old, one line each."""
    said = " ".join(oven("check", cwd=book, now=now).out.split())
    return [part.split(".", 1)[0] for part in said.split("grew old: ")[1:]]


def test_check_names_a_page_when_the_keeper_changes(sample_book, oven):
    """Silent while the keeper stands; named when another is; silent again when it is published anew, or taken back."""
    published(oven, sample_book, "market-roll --as recipe", "roll.txt")
    assert old_pages(oven, sample_book) == []
    assert oven("mark market-roll r4 keeper --why 'better still'", cwd=sample_book, now=LATER).code == 0
    assert old_pages(oven, sample_book) == ["the keeper is revision 4 since"]
    published(oven, sample_book, "market-roll --as recipe", "roll-4.txt", now="2026-11-27T12:00:00+01:00")
    assert old_pages(oven, sample_book, "2026-11-28T12:00:00+01:00") == []


def test_check_names_a_page_whose_revision_was_dropped(sample_book, oven):
    """A revision that is marked dropped is not the one to tell readers."""
    published(oven, sample_book, "market-roll r2 --as recipe", "roll.txt")
    assert old_pages(oven, sample_book) == []
    assert oven("mark market-roll r2 dropped --why 'too tight'", cwd=sample_book, now=LATER).code == 0
    assert old_pages(oven, sample_book) == ["that revision is dropped since"]


def test_check_names_a_page_whose_allergens_changed(sample_book, oven):
    """When an ingredient of the same name has another allergen in it, the page of before is named."""
    published(oven, sample_book, "market-roll --as recipe", "roll.txt")
    line = "ingredient butter --kind fat --fat 80 --water 16 --allergen milk --allergen soy --source 'the new tub'"
    ran = oven(line, cwd=sample_book, now=LATER)
    assert ran.code == 0, ran.err
    assert old_pages(oven, sample_book) == ["by the ingredient list soy came in since"]


def test_check_names_a_page_whose_bakes_were_put_right(sample_book, oven, golden):
    """Baked fewer times than it says, or with another loss; silent for new bakes and for what no page prints."""
    published(oven, sample_book, "market-roll --as recipe", "roll.txt")
    page = (sample_book / "formulas/market-roll/marks.yaml").read_text()
    assert "leans_on:" in page
    for line in (
        "record market-roll r3 --crumb 8 --crust 8 --batch '600 g flour'",
        "correct D1 scores.noor.crumb=7 --why 'the wrong line'",
    ):
        ran = oven(line, cwd=sample_book, now=LATER)
        assert ran.code == 0, ran.err
    assert old_pages(oven, sample_book) == []
    ran = oven("correct D1 'measured.baked weight=860 g' --why 'digits swapped'", cwd=sample_book, now=LATER)
    assert ran.code == 0, ran.err
    golden("publish/check-loss-moved", oven("check", cwd=sample_book, now=LATER).out)
    assert oven("undo", cwd=sample_book, now=LATER).code == 0
    assert old_pages(oven, sample_book) == []
    assert oven("correct D1 state=withdrawn --why 'another dough'", cwd=sample_book, now=LATER).code == 0
    assert old_pages(oven, sample_book) == ["D1 was put right since"]


def test_a_page_that_was_taken_down_does_not_grow_old(sample_book, oven, golden):
    """Once the baker says that it is out no more, check is silent about it; the file is left alone."""
    published(oven, sample_book, "market-roll --as recipe", "roll.txt")
    assert oven("mark market-roll r4 keeper --why 'better still'", cwd=sample_book, now=LATER).code == 0
    golden("publish/check-old", oven("check", cwd=sample_book, now=LATER).out)
    line = "publish market-roll --as recipe --out ../roll.txt --taken-down"
    ran = oven(line, cwd=sample_book, now="2026-11-27T12:00:00+01:00")
    golden("publish/taken-down", ran.out)
    assert old_pages(oven, sample_book, "2026-11-28T12:00:00+01:00") == []
    assert (sample_book.parent / "roll.txt").is_file()
    again = oven(line, cwd=sample_book, now="2026-11-28T12:00:00+01:00")
    golden("publish/refused-not-out", again.err)
    assert again.code == 3
    undone = oven("undo", cwd=sample_book, now="2026-11-28T12:00:00+01:00")
    assert "The book knows again that ../roll.txt is out" in " ".join(undone.out.split())
    assert old_pages(oven, sample_book, "2026-11-29T12:00:00+01:00") == ["the keeper is revision 4 since"]


def test_undo_takes_the_note_back_and_leaves_the_file(sample_book, oven):
    """The file stays with the baker; check no longer looks after it, and says nothing when the keeper changes."""
    published(oven, sample_book, "market-roll --as recipe", "roll.txt")
    told = oven("undo", cwd=sample_book, now=NOW)
    assert "no longer knows that ../roll.txt was published" in " ".join(told.out.split())
    assert (sample_book.parent / "roll.txt").is_file()
    assert oven("mark market-roll r4 keeper --why 'better still'", cwd=sample_book, now=LATER).code == 0
    assert old_pages(oven, sample_book) == []


def test_hostile_words_stay_words(sample_book, oven):
    """What a terminal would obey comes out as its code, in the page as on the screen."""
    page = sample_book / "formulas/market-roll.yaml"
    page.write_text(page.read_text().replace("title: Market roll", 'title: "Roll \\e[2J"'), encoding="utf-8")
    assert oven("save --why x", cwd=sample_book, now=NOW).code == 0
    screen, text = published(oven, sample_book, "market-roll r5 --as recipe", "roll.txt")
    assert "\x1b" not in screen + text


def test_kinds_are_all_in_the_help(oven, sample_book):
    """What --as can be stands in the help of the command."""
    helped = " ".join(oven("publish --help", cwd=sample_book).out.split())
    assert all(kind in helped for kind in KINDS)
