"""What looks like a slip: how many injected slips are asked about, and how many right formulas are disturbed.

The formulas are of our own making, typical of each kind of bread (common practice, no source). The thresholds
were set while looking at the first ten; what is reported, here and in DEVELOPERS.md, is the others.
"""

from __future__ import annotations

import re

import pytest

from builders import sheet
from ovenleaf.domain.slips import slips

SET_ON = {
    "Market roll": "strong wheat flour 100, water 62, salt 2, butter 3, instant yeast 0.62 | 60 | 50",
    "Baguette": "strong wheat flour 100, water 68, salt 2, instant yeast 0.5 | 120 | 60",
    "Ciabatta": "strong wheat flour 100, water 78, salt 2.1, olive oil 3, instant yeast 0.4 | 150 | 45",
    "Brioche": "strong wheat flour 100, egg 50, whole milk 10, butter 50, sugar 10, salt 2, fresh yeast 3 | 90 | 90",
    "Caraway rye": "medium rye flour 60, strong wheat flour 20, rye sour 40, water 54, salt 2, "
    "caraway seed 1.5 | 45 | 60",
    "Pan loaf": "strong wheat flour 100, water 60, butter 4, sugar 4, salt 1.9, instant yeast 1.1 | 75 | 60",
    "Bagel": "strong wheat flour 100, water 54, sugar 2, salt 2, instant yeast 0.7 | 60 | 40",
    "Country levain": "strong wheat flour 80, whole wheat flour 10, levain 20, water 66, salt 2 | 240 | 120",
    "Seed loaf": "strong wheat flour 100, water 88, sunflower seed 30, linseed 25, salt 2.8, "
    "instant yeast 0.6 | 90 | 60",
    "Honey milk bun": "strong wheat flour 100, whole milk 52, egg 10, butter 10, honey 8, salt 1.8, "
    "fresh yeast 2.4 | 75 | 55",
}
REPORTED = {
    "Dinner roll": "strong wheat flour 100, whole milk 45, water 15, butter 8, sugar 6, salt 1.8, "
    "instant yeast 1 | 75 | 50",
    "Breakfast roll": "strong wheat flour 100, water 58, salt 2, lard 2, fresh yeast 2.5 | 40 | 45",
    "French baguette": "strong wheat flour 100, water 70, salt 1.8, fresh yeast 1 | 150 | 60",
    "Focaccia": "strong wheat flour 100, water 75, salt 2.2, olive oil 6, instant yeast 0.6 | 150 | 40",
    "Stollen": "strong wheat flour 100, whole milk 28, butter 40, sugar 12, egg 8, raisins 60, salt 1.4, "
    "fresh yeast 6 | 60 | 40",
    "Challah": "strong wheat flour 100, water 32, egg 22, olive oil 8, sugar 9, salt 1.8, instant yeast 1 | 90 | 60",
    "Hearth loaf": "strong wheat flour 85, medium rye flour 15, water 68, salt 2, instant yeast 0.5 | 120 | 60",
    "Wholemeal tin loaf": "whole wheat flour 100, water 76, honey 2, salt 1.9, instant yeast 1 | 75 | 50",
    "Sandwich bread": "strong wheat flour 100, whole milk 30, water 32, butter 5, sugar 3, salt 2, "
    "instant yeast 1 | 75 | 60",
    "Pizza": "strong wheat flour 100, water 62, salt 2.4, olive oil 2, instant yeast 0.3 | 240 | 90",
    "Pretzel": "strong wheat flour 100, water 51, butter 3, salt 2, fresh yeast 2 | 45 | 30",
    "Rye mixed loaf": "medium rye flour 35, strong wheat flour 45, rye sour 40, water 48, salt 2, "
    "fresh yeast 0.8 | 40 | 60",
    "Sourdough boule": "strong wheat flour 90, levain 20, water 64, salt 2 | 240 | 150",
    "Tuscan loaf": "strong wheat flour 100, water 64, instant yeast 0.6 | 120 | 60",
    "Olive flatbread": "strong wheat flour 100, water 72, olive oil 8, olives 30, salt 2, "
    "active dry yeast 1.2 | 120 | 30",
    "Potato loaf": "strong wheat flour 100, water 48, boiled potato 40, salt 2.2, fresh yeast 2 | 75 | 60",
    "Cinnamon bun": "strong wheat flour 100, whole milk 50, egg 8, butter 12, sugar 12, salt 1.5, "
    "instant yeast 1.4 | 75 | 50",
    "Country bread": "strong wheat flour 90, whole wheat flour 10, water 78, salt 2.1, instant yeast 0.2 | 300 | 75",
    "Plait": "strong wheat flour 100, whole milk 55, butter 12, egg 4, sugar 2, salt 1.8, fresh yeast 4 | 70 | 45",
    "Seeded rye loaf": "medium rye flour 50, strong wheat flour 50, water 90, sunflower seed 25, linseed 20, salt 2.6,"
    " fresh yeast 2 | 60 | 60",
}


def lines_of(text):
    """The lines and the two times of a formula above."""
    lines, bulk, proof = text.split(" | ")
    return dict(line.strip().rsplit(" ", 1) for line in lines.split(",")), bulk, proof


def page(title, lines, bulk, proof):
    """The formula as a page."""
    listed = "\n".join(f"  {item}: {amount}%" for item, amount in lines.items())
    steps = f"  - mix: 8 min, dough 25 C\n  - bulk: {bulk} min at 26 C\n  - final proof: {proof} min at 28 C\n"
    steps += "  - bake: 30 min at 230 C falling to 210 C\n"
    return f"formula: loaf\ntitle: {title}\ningredients:\n{listed}\nprocess:\n{steps}"


def disturbed(title, lines, bulk, proof):
    """Whether anything is asked about the formula as a first page."""
    return asked(page(title, lines, bulk, proof))


def asked(text):
    """Whether anything is asked about the page; one that does not come out is refused, so seen."""
    try:
        return bool(slips(sheet(text)))
    except ValueError:
        return True


def caught_as_change(title, lines, changed, bulk, proof):
    """Whether anything is asked when the slip is made in a tweak whose reason does not mention it."""
    try:
        after, before = sheet(page(title, changed, bulk, proof)), sheet(page(title, lines, bulk, proof))
        return bool(slips(after, before, "to see what happens"))
    except ValueError:
        return True


def scaled(pattern, factor):
    """The slip that multiplies what matches."""

    def inject(lines):
        found = [item for item in lines if re.search(pattern, item)]
        if not found:
            return None
        return {item: f"{float(a) * factor:.4g}" if item in found else a for item, a in lines.items()}

    return inject


def water_by(points):
    """The slip that adds to the water."""

    def inject(lines):
        if "water" not in lines:
            return None
        return lines | {"water": f"{float(lines['water']) + points:g}"}

    return inject


def digits_swapped(lines):
    """27 for 72, where that is another number."""
    water = lines.get("water", "")
    return lines | {"water": water[::-1]} if re.fullmatch(r"\d\d", water) and water != water[::-1] else None


def flour_lost(lines):
    """A flour line left out, where there are two."""
    flours = [item for item in lines if "flour" in item]
    return {item: a for item, a in lines.items() if item != flours[-1]} if len(flours) > 1 else None


def levain_left_out(lines):
    """Flour and water of the levain not counted: the other flours come to 100 without it."""
    levain = next((item for item in lines if item in ("levain", "rye sour")), None)
    if levain is None:
        return None
    main = next(item for item in lines if "flour" in item)
    return lines | {main: f"{float(lines[main]) + float(lines[levain]) / 2:g}"}


INJECTED = {
    "salt x10": scaled("^salt$", 10),
    "salt /10": scaled("^salt$", 0.1),
    "salt x3": scaled("^salt$", 3),
    "salt /3": scaled("^salt$", 1 / 3),
    "salt doubled": scaled("^salt$", 2),
    "salt x1.7": scaled("^salt$", 1.7),
    "a flour line lost": flour_lost,
    "water in grams": scaled("^water$", 10),
    "yeast x10": scaled("yeast", 10),
    "yeast x3": scaled("yeast", 3),
    "water digits swapped": digits_swapped,
    "water 10 points more": water_by(10),
    "levain's flour left out": levain_left_out,
}
HEATS = {
    "dough in °F as °C": ("dough 25 C", "dough 77 C"),
    "proof in °F as °C": ("at 28 C", "at 82 C"),
    "oven in °F as °C": ("at 230 C falling", "at 446 C falling"),
    "oven in °C as °F": ("at 230 C falling", "at 230 F falling"),
    "a nought too many on the dough": ("dough 25 C", "dough 250 C"),
    "a figure lost from the oven": ("at 230 C falling", "at 23 C falling"),
}
# What a first page must catch at the least, of the reported formulas, in percent; measured, then fixed here.
AT_LEAST = {
    "salt x10": 100,
    "salt /10": 100,
    "salt x3": 100,
    "salt /3": 100,
    "salt doubled": 94,
    "salt x1.7": 89,
} | dict.fromkeys(HEATS, 89)


def measured(formulas):
    """For each slip how many formulas it fits, how often it is asked about on a first page, and in a tweak."""
    rows = {}
    for name, inject in INJECTED.items():
        tried = first = change = 0
        for title, text in formulas.items():
            lines, bulk, proof = lines_of(text)
            changed = inject(lines)
            if changed is None:
                continue
            tried += 1
            first += disturbed(title, changed, bulk, proof)
            change += caught_as_change(title, lines, changed, bulk, proof)
        rows[name] = (tried, first, change)
    for name, (right, slip) in HEATS.items():
        pages = [page(title, *lines_of(text)) for title, text in formulas.items()]
        caught = sum(asked(one.replace(right, slip)) and not asked(one) for one in pages)
        rows[name] = (sum(not asked(one) for one in pages), caught, None)
    return rows


def test_right_formulas_are_rarely_disturbed():
    """Of twenty right formulas one or none is asked about: the Tuscan loaf, which has no salt."""
    asked = [title for title, text in REPORTED.items() if disturbed(title, *lines_of(text))]
    assert asked == ["Tuscan loaf"]
    assert [title for title, text in SET_ON.items() if disturbed(title, *lines_of(text))] == []


def test_injected_slips_are_asked_about(capsys):
    """Every kind of slip is caught at least as often as written down, on a first page and in a tweak."""
    rows = measured(REPORTED)
    with capsys.disabled():
        print()
        for name, (tried, first, change) in rows.items():
            as_change = "" if change is None else f"   as a change {change:>2} of {tried}"
            print(f"  {name:<31} first page {first:>2} of {tried:<2}{as_change}")
    for name, (tried, first, change) in rows.items():
        assert 100 * first >= AT_LEAST.get(name, 0) * tried, name
        assert change is None or change >= first, name


@pytest.mark.parametrize(
    ("title", "water", "asked"),
    [("Bagel", 70, True), ("Ciabatta", 78, False), ("Roll", 78, True), ("Ciabatta", 60, True)],
)
def test_water_is_held_against_what_the_bread_is_called(title, water, asked):
    """A bagel at 70 % is asked about, a ciabatta at 78 % is not."""
    text = page(title, {"strong wheat flour": "100", "water": str(water), "salt": "2", "instant yeast": "0.6"}, 60, 50)
    assert any(slip.about == "water" for slip in slips(sheet(text))) is asked


def test_a_dough_full_of_seeds_is_salted_on_the_dough():
    """Salt looks high on the flour where much of the dough is no flour; it is judged on the dough as well."""
    lines = {"strong wheat flour": "100", "water": "85", "sunflower seed": "60", "salt": "2.9", "instant yeast": "0.5"}
    assert not any(slip.about == "salt" for slip in slips(sheet(page("Seed loaf", lines, 90, 60))))


def test_a_change_that_the_reason_names_is_not_asked_about():
    """Five points of water are a tweak where the baker says so."""
    lines = {"strong wheat flour": "100", "water": "64", "salt": "2", "instant yeast": "0.6"}
    before, after = (sheet(page("Hearth loaf", lines | {"water": w}, 90, 60)) for w in ("64", "69"))
    assert [slip.about for slip in slips(after, before, "for the stall")] == ["water change"]
    assert slips(after, before, "more water for an open crumb") == ()


def test_pieces_times_weight_must_be_there():
    """A page in weights that makes twice what its dough gives is asked about."""
    text = "makes: 24 rolls of 85 g\ningredients:\n  strong wheat flour: 600 g\n  water: 400 g\n  salt: 12 g\n"
    assert [slip.about for slip in slips(sheet(text)) if slip.about == "makes"] == ["makes"]


def asked_of(step):
    """What is asked about the heats of one step, beside right figures."""
    lines = {"strong wheat flour": "100", "water": "65", "salt": "2", "instant yeast": "0.6"}
    text = f"{page('Hearth loaf', lines, 90, 60)}  - {step}\n"
    return [slip.message for slip in slips(sheet(text)) if slip.about.startswith("heat of")]


@pytest.mark.parametrize(
    ("step", "said"),
    [
        ("mix: dough 77 C", "dough of the mix would be at 77 °C; 8 to 38 °C is usual. Was it 77 °F, which is 25 °C?"),
        ("mix: 9 min, dough 250 C", "dough of the mix would be at 250 °C; 8 to 38 °C is usual. Was it 25 °C?"),
        ("mix: 9 min, dough 25 F", "dough of the mix would be at 25 °F; 46 to 100 °F is usual. Was it 25 °C?"),
        (
            "mix: water at 105 C",
            "water of the mix would be at 105 °C; 0 to 100 °C is usual. Was it 105 °F, which is 41 °C?",
        ),
        ("mix: 5 min, water -5 C", "water of the mix would be at -5 °C; 0 to 100 °C is usual."),
        ("final proof: 95 C", "final proof would be at 95 °C; 0 to 45 °C is usual. Was it 95 °F, which is 35 °C?"),
        ("bake: 425 C", "oven of the bake would be at 425 °C; 120 to 350 °C is usual. Was it 425 °F, which is 218 °C?"),
        ("bake: 220 F", "oven of the bake would be at 220 °F; 248 to 662 °F is usual. Was it 220 °C?"),
        ("bake: 900 C", "oven of the bake would be at 900 °C; 120 to 350 °C is usual."),
        (
            "bake: core 205 C",
            "core of the bake would be at 205 °C; 75 to 102 °C is usual. Was it 205 °F, which is 96 °C?",
        ),
    ],
)
def test_a_heat_that_no_bakery_has_is_asked_about(step, said):
    """With what is usual on the scale that was typed, and the slip that would make it so."""
    assert asked_of(step) == [f"The {said}"]


@pytest.mark.parametrize(
    "step",
    [
        "retard: 16 h at 4 C",
        "bulk: 3 h at 40 C",
        "bake: 90 s at 450 C, in the wood oven",
        "bake: 40 min at 250 C falling to 190 C, core 97",
        "boil: 30 s at 100 C",
        "toast the seeds: 10 min at 160 C",
        "scald: 2 h at 65 C",
        "mix: 5 min, water at 4 C, dough 75 F",
        "cool: 2 h at 20 C",
    ],
)
def test_an_unusual_heat_that_bakers_use_is_not_asked_about(step):
    """Cold retarding, scalds, wood ovens, a bagel's kettle (common practice, no source)."""
    assert asked_of(step) == []


def test_the_rest_of_a_preferment_is_looked_at_too():
    """A poolish at 70 °C is asked about; a soaker may be scalded."""
    lines = "ingredients:\n  strong wheat flour: 100%\n  water: 70%\n  salt: 2%\n  instant yeast: 0.5%\n  oats: 5%\n"
    poolish = "preferments:\n  poolish:\n    takes: 20% of the flour\n    strong wheat flour: 100%\n    water: 100%\n"
    poolish += "    instant yeast: 0.1%\n    rest: 12 h at 70 C\n"
    soaker = "soakers:\n  soaker:\n    oats: 5%\n    water: 5%\n    rest: 1 h at 90 C\n"
    found = [slip for slip in slips(sheet(lines + poolish + soaker)) if "heat" in slip.about]
    assert [slip.about for slip in found] == ["heat of the poolish"]
    assert "Was it 70 °F, which is 21 °C?" in found[0].message
