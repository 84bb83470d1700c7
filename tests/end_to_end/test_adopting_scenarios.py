"""Stories of people who start from a card: what they type, what they are told, and what the book keeps of it."""

from __future__ import annotations

import json

import pytest

from refusals_support import reads_well

NOW = "2026-11-25T12:00:00+01:00"
NOTES = "1 lb flour, 340 g water, 2 tsp salt, oven 475\n"
CARD = """Brioche of my grandmother
from grandmother Odile

6 cups flour
a packet of yeast
a handful of sugar
a pinch of salt
2 cups warm milk
3 eggs, and one more for the top
butter the size of an egg

Knead well, let it rise till double, bake in a hot oven till brown.
"""


@pytest.fixture
def book(oven, tmp_path):
    """A book with one baker and no formula."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    return tmp_path / "stall"


@pytest.fixture
def run(book, oven):
    """One command in it, which must go well and read well; what stood on the screen."""

    def go(*words, **world):
        ran = oven(*words, cwd=book, now=NOW, **world)
        assert ran.code == 0, ran.err
        if "--json" not in " ".join(words):
            reads_well(ran.out)
        return ran.out

    return go


def test_scenario_20_metric_and_us_mixed(run, book, golden):
    """The words are kept; 475 without a scale and the kind of salt are asked; each weight says where it is from."""
    golden("adopting/mixed", run("adopt - --name vic-loaf", typed=NOTES))
    card = json.loads(run("show vic-loaf --card --json"))
    assert card["text"] == NOTES
    known = {line["item"]: (line["taken"], line["how"], line["known_by"]) for line in card["lines"]}
    assert known["flour"] == ("453.6 g", "by weight, 453.59 g a lb", "as on the card")
    assert known["water"] == ("340 g", "as on the card", "as on the card")
    assert known["salt"][::2] == (None, "open")
    run("settle", "vic-loaf", "bake=F", "salt=table salt")
    run("save vic-loaf --why 'as noted'")
    shown = json.loads(run("show vic-loaf --json"))
    assert {row["item"]: round(row["pct"], 2) for row in shown["ingredients"]} == {
        "flour": 100, "water": 74.96, "table salt": 2.65,
    }  # fmt: skip
    assert [step["text"] for step in shown["process"]] == ["475 F"]


@pytest.mark.counted
def test_scenario_23_grandmothers_card(run, book, golden):
    """Kept word for word; three things asked; each guess is marked; the first weighed bake takes their place."""
    golden("adopting/grandmother", run("adopt - --name brioche", typed=CARD))
    asked = run("settle", "brioche", "yeast=active dry", "sugar=a small one", "butter=60g")
    assert "Nothing is open any more." in asked
    run("save brioche --why 'as she wrote it'")
    golden("adopting/card-before", run("show brioche --card"))
    weighed = ("--weighed", "flour=720g", "--weighed", "sugar=65g", "--weighed", "salt=0.4g")
    recorded = run("record", "brioche", "--crumb", "7", "--crust", "6", *weighed)
    assert "ovenleaf show brioche --card" in recorded
    after = run("show brioche --card")
    golden("adopting/card-weighed", after)
    lines = json.loads(run("show brioche --card --json"))["lines"]
    found = {line["item"]: (line["known_by"], line["weighed_g"], line["trial"]) for line in lines if line["known_by"]}
    assert found["flour"] == ("weighed", 720, "A1")
    assert found["sugar"] == ("weighed", 65, "A1")
    assert found["active dry yeast"] == ("from a table", None, None)
    assert found["milk"] == ("from a table", None, None)
    run("tweak", "brioche", "flour=720 g", "sugar=65 g", "salt=0.4 g", "--why", "as weighed in A1")
    assert "ovenleaf tweak" not in run("show brioche --card")
    run("publish brioche --as recipe --out ../brioche.txt")
    assert "From grandmother Odile." in (book.parent / "brioche.txt").read_text(encoding="utf-8")


def test_another_size_is_brought_back_to_that_of_the_card(run):
    """Weighed for twice the batch, a line is told at the size of the card; what is no whole bake is left out."""
    run("adopt - --name vic-loaf", typed="500 g flour\n1 1/2 cups water\n10 g salt\n")
    run("save vic-loaf --why x")
    run("record", "vic-loaf", "--batch", "1000 g flour", "--weighed", "water=700g")
    lines = json.loads(run("show vic-loaf --card --json"))["lines"]
    assert [(line["item"], line["weighed_g"]) for line in lines] == [("flour", None), ("water", 350), ("salt", None)]


def test_a_formula_without_a_card_says_so(book, oven, sample_book, golden):
    """Refused, with what to look at instead."""
    ran = oven("show market-roll --card", cwd=sample_book, now=NOW)
    assert ran.code == 3
    golden("adopting/no-card", ran.err)


def test_an_edited_card_is_kept(run, book):
    """What is written on the card by hand is kept with the formula, or with all else, and nothing stays unsaved."""
    run("adopt - --name vic-loaf", typed="500 g flour\n300 g water\n10 g salt\n")
    run("save vic-loaf --why x")
    page = book / "formulas/vic-loaf/card.yaml"
    for line in ("save vic-loaf", "save"):
        page.write_text(page.read_text(encoding="utf-8") + "# found in her drawer\n", encoding="utf-8")
        assert "formulas/vic-loaf/card.yaml" in run(line)
        assert "Nothing is unsaved" in run()


def test_the_book_remembers_what_ones_own_cup_holds(run, book, golden):
    """Weighed once, a cup goes before the tables, with all else that is known of the flour; and again, in its place."""
    golden("adopting/own-cup", run("ingredient bread flour --weighs cup=130"))
    adopted = run("adopt - --name loaf --preview", typed="3 cups bread flour\n300 g water\n9 g salt\n")
    assert "390 g" in adopted
    assert "weighed, cup 130 g" in adopted
    assert "Spooned" not in adopted
    before = (book / "ingredients.yaml").read_text(encoding="utf-8")
    run("ingredient strong white flour --weighs cup=128 --weighs tablespoon=8.5")
    after = (book / "ingredients.yaml").read_text(encoding="utf-8")
    assert after.startswith(before.replace("cup: 130", "cup: 128").rstrip("\n"))
    assert after.count("strong wheat flour:") == 1
    assert json.loads(run("show bread flour --json"))["allergens"] == ["wheat", "gluten"]
    assert "weighed, cup 128 g" in run(
        "adopt - --name loaf --cups metric --preview", typed="3 cups bread flour\n9 g salt\n"
    )


@pytest.mark.parametrize(("cups", "table"), [("us", "6 g"), ("metric", "6.1 g"), ("imperial", "6.1 g")])
def test_spoons_are_those_of_the_country(cups, table, run):
    """A metric teaspoon holds 5 ml and a US one 4.93, for salt and yeast too."""
    said = run(f"adopt - --name loaf --cups {cups} --preview", typed="500 g flour\n1 tsp salt\n")
    row = next(line for line in said.splitlines() if line.strip().startswith("table salt "))
    assert row.split("  ")[-1].strip() == table


def test_what_a_card_leaves_open_is_said_as_such(run, golden):
    """The first thing to see, and the sheet of the draft, speak of the card and not of two bakers."""
    run("adopt - --name vic-loaf", typed=NOTES)
    golden("adopting/now-open", run())
    shown = run("show vic-loaf")
    assert "Left open by its card" in shown
    assert "between the bakers" not in shown


DATA = {
    "@graph": [
        {"@type": "WebSite", "name": "Crumbs"},
        {
            "@type": ["Recipe"],
            "name": "Grandma&#39;s rolls",
            "author": {"@type": "Person", "name": "Jane"},
            "recipeYield": ["24", "24 rolls"],
            "recipeIngredient": [
                "For the sponge:",
                "1 cup (240 ml) warm whole milk (about 110&deg;F)",
                "&frac12; cup (60g) bread flour",
                "2 &frac14; teaspoons (1 packet) instant yeast",
                "For the dough:",
                "4\u20134&frac12; cups (500\u2013563g) bread flour",
                "All of the sponge",
                "10 g salt",
                "Optional topping: 2 Tablespoons melted butter mixed with 1 Tablespoon honey",
            ],
            "recipeInstructions": [
                {
                    "@type": "HowToSection",
                    "name": "Dough",
                    "itemListElement": [{"@type": "HowToStep", "text": "Whisk milk &amp; yeast. Leave 5 minutes."}],
                },
                {"@type": "HowToStep", "name": "Final proof", "text": "Until doubled."},
                {"@type": "HowToStep", "text": "Bake for 20&ndash;25 minutes at 350&deg;F (177&deg;C)."},
            ],
        },
    ]
}


def test_a_saved_page_with_bowls_and_signs_of_the_web(run, book, golden):
    """Headings part the bowls, what is for the top stands outside, and signs of the web are read."""
    page = f'<html><script type="application/ld+json">{json.dumps(DATA)}</script></html>'
    golden("adopting/page", run("adopt - --name rolls", typed=page))
    golden("adopting/page-draft", (book / "formulas/rolls.yaml").read_text(encoding="utf-8"))
    run("save rolls --why 'as Jane has it'")
