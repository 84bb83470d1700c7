"""weigh at the bench: screens, refusals, the printed sheet, the calendar."""

from __future__ import annotations

import json
import re

import pytest

from refusals_support import reads_well, snapshot

NOW = "2026-11-25T12:00:00+01:00"
SCREENS = {
    "pieces": "weigh market-roll r1 --pieces 24 --each 85g --bench-loss 2%",
    "baked": "weigh market-roll --pieces 24 --each 74g --baked",
    "enriched": "weigh honey-milk-bun r2 --pieces 24",
    "water": "weigh market-roll --water-temp --room 19C --flour-temp 18C --preferment-temp 20C",
    "water-ice": "weigh market-roll --water-temp --room 30C --flour-temp 28C --tap 24C",
    "swap": 'weigh market-roll --swap "fresh yeast"',
    "swap-flour": 'weigh market-roll --swap "strong wheat flour=plain wheat flour"',
    "swap-poolish": "weigh market-roll --swap poolish=60%",
    "household": "weigh honey-milk-bun r2 --household",
    "ounces": "weigh market-roll --ounces",
    "schedule": "weigh market-roll --ready 2026-11-29T07:00 --room 21C",
    "several": "weigh market-roll seeded-roll caraway-rye --pieces 24,12,2",
    "water-fahrenheit": "weigh market-roll --water-temp --room 65F --flour-temp 65F --target 75F --warming 2.7F",
    "water-below-freezing": "weigh market-roll --room 38C --flour-temp 34C --target 24C",
    "water-ice-alone": "weigh market-roll --room 38C --flour-temp 34C --target 24C --tap 20C",
    "water-too-hot": "weigh market-roll --room 5C --flour-temp 1C",
    "water-of-milk": "weigh honey-milk-bun r2 --room 30C --flour-temp 28C",
    "scale-coarse": 'weigh market-roll --flour 300g --scale "1 g"',
    "yeast-and-cold-kitchen": 'weigh market-roll --swap "fresh yeast" --begin 2026-11-26T08:00 --room 17C',
    "late": "weigh market-roll --ready 2026-11-25T15:00",
    "culture-ahead": "weigh caraway-rye --ready 2026-11-29T07:00 --room 21C",
    "baked-in-a-hot-room": "weigh market-roll --pieces 24 --each 85g --baked --bench-loss 2% "
    "--water-temp --room 29C --flour-temp 28C --tap 18C",
    "festive": "weigh advent-loaf --ready 2026-11-29T12:00",
    "water-learned": "weigh advent-loaf --water-temp --room 19C --flour-temp 18C",
    "more": "show market-roll r3 --more",
    "more-volume": "show advent-loaf --more",
    "more-given": "show honey-milk-bun r2 --more --bake-loss 11%",
    "more-unmeasured": "show olive-flatbread --more",
}
REFUSED = {
    "no-pieces": "weigh market-roll --pieces 0",
    "negative-pieces": "weigh market-roll --pieces=-3",
    "loss-100": "weigh market-roll --bench-loss 100%",
    "loss-words": "weigh market-roll --bake-loss some",
    "no-scale": "weigh market-roll --water-temp --room 40 --flour-temp 18C",
    "wrong-scale": "weigh market-roll --water-temp --room 70C --flour-temp 18C",
    "below-freezing": "weigh market-roll --water-temp --room 20C --flour-temp=-80C",
    "boiling": "weigh market-roll --water-temp --room 5C --flour-temp=-20C --target 45C",
    "room-wanting": "weigh market-roll --water-temp",
    "coarse-scale": "weigh market-roll --dough 50g --scale 10g",
    "swap-no-yeast": "weigh market-roll --swap butter",
    "swap-no-flour": 'weigh market-roll --swap "rice flour=spelt flour"',
    "two-at-once": "weigh market-roll --pieces 24 --flour 500g",
    "calendar-no-time": "weigh market-roll --calendar bake.ics",
    "time-unclear": "weigh market-roll --ready tomorrow",
    "unknown-formula": "weigh market-rol",
    "no-bake-loss": "weigh olive-flatbread --baked",
    "loss-over-100": "weigh market-roll --bench-loss 120%",
    "no-scale-warming": "weigh market-roll --water-temp --room 20C --flour-temp 18C --warming 8",
    "much-warming": "weigh market-roll --room 20C --flour-temp 18C --warming 40C",
    "no-scale-target": "weigh market-roll --room 20C --flour-temp 18C --target 77",
    "wrong-scale-target": "weigh market-roll --room 20C --flour-temp 18C --target 77C",
    "all-ice": "weigh market-roll --room 50C --flour-temp 50C --target 10C",
    "tap-of-ice": "weigh market-roll --room 20C --flour-temp 18C --tap=-5C",
    "tap-boiling": "weigh market-roll --room 20C --flour-temp 18C --tap 105C",
    "no-preferment": "weigh olive-flatbread --room 20C --flour-temp 18C --preferment-temp 20C",
    "swap-unlike": "weigh market-roll --swap butter=lard",
    "swap-yeast-for-none": 'weigh market-roll --swap "instant yeast=butter"',
    "swap-same": 'weigh market-roll --swap "instant yeast"',
    "three-at-once": "weigh market-roll --pieces 24 --dough 2kg --flour 500g",
    "baked-beside-factor": "weigh market-roll --factor 2 --baked",
    "each-beside-flour": "weigh market-roll --flour 500g --each 85g",
    "ready-and-begin": "weigh market-roll --ready 2026-11-29T07:00 --begin 2026-11-28T07:00",
    "ready-past": "weigh market-roll --ready 2026-11-24T07:00",
    "ready-day-alone": "weigh market-roll --ready 2026-11-29",
    "too-many-values": "weigh market-roll --pieces 24,12",
    "one-file-for-two": "weigh market-roll --begin 2026-11-29T07:00 --calendar a.txt --sheet a.txt",
    "fine-scale-coarser": 'weigh market-roll --scale "1 g, 5 g below 100 g"',
    "no-weight": "weigh market-roll --each heavy --pieces 3",
    "nothing-of-dough": "weigh market-roll --dough 0g",
    "factor-nothing": "weigh market-roll --factor 0",
    "more-loss": "show market-roll --more --bake-loss 100%",
}


@pytest.mark.parametrize("name", SCREENS)
def test_a_weigh_up_reads_well(name, sample_book, oven, golden):
    """Each screen is golden, and nothing in the book changes by looking."""
    before = snapshot(sample_book)
    ran = oven(SCREENS[name], cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err
    reads_well(ran.out)
    golden(f"weigh/{name}", ran.out)
    assert snapshot(sample_book) == before


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_weighed_is_refused(name, sample_book, oven, golden):
    """Exit 3, a golden word, nothing written."""
    ran = oven(REFUSED[name], cwd=sample_book, now=NOW)
    assert (ran.code, ran.out) == (3, "")
    reads_well(ran.err)
    golden(f"weigh/refused-{name}", ran.err)


def test_printed_lines_add_up_as_printed(sample_book, oven):
    """In every bowl the last line is the sum of those above it."""
    out = oven("weigh market-roll --pieces 37 --each 83g", cwd=sample_book, now=NOW).out
    for bowl in out.split("\n\n"):
        grams = [float(found) for found in re.findall(r"([0-9.]+) g$", bowl, re.MULTILINE)]
        if len(grams) > 3:
            assert sum(grams[:-1]) == pytest.approx(grams[-1])


def test_json_has_the_keys_that_scripts_rely_on(sample_book, oven):
    """Flour, dough, pieces, bowls, water and ice."""
    line = "weigh market-roll --water-temp --room 30C --flour-temp 28C --tap 24C --json"
    document = json.loads(oven(line, cwd=sample_book, now=NOW).out)
    wanted = {"flour_g", "dough_g", "pieces", "each_g", "bowls", "water_temperature_c", "ice_g"}
    assert wanted <= set(document)
    assert document["water_temperature_c"] == 5  # 3 x 25 - 30 - 28 - 3 x 4
    assert document["ice_g"] > 0


def test_losses_come_from_the_formula_s_own_bakes(sample_book, oven):
    """Where no bake loss is given, those that were measured are used, and it is said so."""
    out = " ".join(oven("weigh market-roll --pieces 24 --each 74g --baked", cwd=sample_book, now=NOW).out.split())
    assert "as three bakes of this formula measured" in out


def written(oven, book, line):
    """A weigh-up that writes files beside the book."""
    return oven(line, cwd=book.parent, now=NOW, env={"OVENLEAF_BOOK": str(book)})


def test_a_sheet_is_written(sample_book, oven, golden):
    """Golden; tests/present holds what it must be."""
    line = "weigh market-roll --ready 2026-11-29T07:00 --sheet roll.txt --calendar roll.ics"
    ran = written(oven, sample_book, line)
    assert "Written: roll.txt.\nWritten: roll.ics." in ran.out
    golden("weigh/sheet", (sample_book.parent / "roll.txt").read_text())


@pytest.mark.parametrize(
    "line",
    [
        "weigh market-roll --ready 2026-11-29T07:00 --sheet new.txt --calendar there.ics",
        "weigh market-roll --ready 2026-11-29T07:00 --sheet there.ics --calendar new.txt",
    ],
)
def test_a_file_that_is_there_is_not_written_over(line, sample_book, oven):
    """And neither is the other one written then."""
    (sample_book.parent / "there.ics").write_text("mine")
    ran = written(oven, sample_book, line)
    assert (ran.code, ran.out) == (3, "")
    assert ran.err.startswith("There is a file there.ics already, and it is not written over.")
    assert (sample_book.parent / "there.ics").read_text() == "mine"
    assert not (sample_book.parent / "new.txt").exists()


def test_a_file_that_cannot_be_written(sample_book, oven):
    """Said in words, not as a fault of ours."""
    ran = written(oven, sample_book, "weigh market-roll --sheet nowhere/roll.txt")
    assert (ran.code, ran.err) == (3, "nowhere/roll.txt cannot be written: no such file or directory.\n")


def test_the_calendar_holds_events_with_alarms(sample_book, oven):
    """RFC 5545: CRLF, lines of 75 octets at most, an event and an alarm for each step, in universal time."""
    line = "weigh market-roll --ready 2026-11-29T07:00 --calendar roll.ics"
    assert oven(line, cwd=sample_book.parent, now=NOW, env={"OVENLEAF_BOOK": str(sample_book)}).code == 0
    data = (sample_book.parent / "roll.ics").read_bytes()
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert b"\n" not in data.replace(b"\r\n", b"")
    text = data.decode()
    assert text.count("BEGIN:VEVENT") == text.count("BEGIN:VALARM") == 7
    assert "DTEND:20261129T060000Z" in text


def test_a_combined_revision_with_open_questions_cannot_be_weighed(sample_book, oven):
    """Exit 4: it waits for the bakers."""
    page = (sample_book / "formulas/market-roll/r4.noor.yaml").read_text()
    opened = (
        page.replace("revision: 4", "revision: 5") + "open:\n  water:\n    was: 68%\n    noor: 71%\n    tomas: 70%\n"
    )
    (sample_book / "formulas/market-roll/r5.noor.yaml").write_text(opened)
    ran = oven("weigh market-roll r5", cwd=sample_book, now=NOW)
    assert ran.code == 4
    assert "open questions" in ran.err


def test_an_edited_page_is_said_to_be_one(sample_book, oven):
    """What is weighed up is what was saved, and it is said that the page is another by now."""
    path = sample_book / "formulas/market-roll.yaml"
    path.write_text(path.read_text().replace("water: 71%", "water: 72%"))
    out = oven("weigh market-roll", cwd=sample_book, now=NOW).out
    assert "The page of market-roll has changes that are not saved; they are not weighed up" in out
    assert 'ovenleaf save market-roll --why "..."' in out


def test_all_that_several_doughs_contain_is_said(sample_book, oven):
    """The allergens of the last as well as of the first."""
    out = " ".join(oven("weigh caraway-rye honey-milk-bun", cwd=sample_book, now=NOW).out.split())
    assert "Contains rye, gluten, wheat, milk, egg and sesame" in out
    assert "Raw flour and egg are not for tasting" in out


def test_a_decimal_comma_is_no_second_value(sample_book, oven):
    """1,5 kg for one formula; 85g,800g for two."""
    one = json.loads(oven("weigh market-roll --flour 1,5kg --json", cwd=sample_book, now=NOW).out)
    assert one["flour_g"] == 1500
    two = "weigh market-roll caraway-rye --pieces 24,2 --each 85g,900g --json"
    assert [f["each_g"] for f in json.loads(oven(two, cwd=sample_book, now=NOW).out)["formulas"]] == [85, 900]


@pytest.mark.parametrize(("factor", "pieces", "dough"), [("2", 48, 4080), ("1.5x", 36, 3060), ("0.99", None, 2019.6)])
def test_so_many_times_the_page(factor, pieces, dough, sample_book, oven):
    """Of what the page makes: whole pieces where it comes out so."""
    found = json.loads(oven(f"weigh market-roll --factor {factor} --json", cwd=sample_book, now=NOW).out)
    assert (found["pieces"], found["dough_g"]) == (pieces, dough)


def test_celsius_and_fahrenheit_say_the_same(sample_book, oven):
    """One kitchen, read on two thermometers."""
    lines = [
        "--room 20C --flour-temp 15C --target 25C --warming 5C",
        "--room 68F --flour-temp 59F --target 77F --warming 9F",
    ]
    waters = [
        json.loads(oven(f"weigh market-roll {line} --json", cwd=sample_book, now=NOW).out)["water_temperature_c"]
        for line in lines
    ]
    assert waters == [25, 25]


@pytest.mark.parametrize(
    ("formula", "typed", "asked", "answer"),
    [
        ("market-roll", "19C\n18C\n", "  Room:   Flour: ", "Less room 19 and flour 18, leaves 38."),
        ("honey-milk-bun", "19C\n18C\n", "  Room:   Flour: ", "Less room 19 and flour 18, leaves 41."),
        ("wet-roll", "19C\n18C\n20C\n", "  Room:   Flour:   Poolish: ", "Less room 19, flour 18 and poolish 20"),
    ],
)
def test_temperatures_are_asked_for_at_a_terminal(formula, typed, asked, answer, sample_book, oven):
    """As the bench has it: the room, the flour, the preferment where it counts, then the answer."""
    line = 'copy market-roll wet-roll --why "more of it ahead"', 'tweak wet-roll poolish=40% --why "more poolish"'
    for before in line if formula == "wet-roll" else ():
        assert oven(before, cwd=sample_book, now=NOW).code == 0
    ran = oven(f"weigh {formula} --water-temp", cwd=sample_book, now=NOW, terminal=True, typed=typed)
    assert ran.code == 0, ran.err
    assert ran.out.startswith(asked)
    assert "Pour the" in ran.out
    assert answer in " ".join(ran.out.split())


WARM_WATER = [  # the flour's warmth, by which the water is 59 degrees less that; what is said of the leaven
    ("olive-flatbread", "13", ""),
    ("olive-flatbread", "12.5", "harms active dry yeast, which stands about 46 °C"),
    ("honey-milk-bun", "19", ""),
    ("honey-milk-bun", "18.5", "harms fresh yeast, which stands about 40 °C"),
    ("market-roll", "9", ""),
    ("market-roll", "8.5", "harms instant yeast, which stands about 50 °C"),
    ("market-roll", "4.5", "harms instant yeast"),
    ("market-roll", "4", "kills instant yeast"),
    ("caraway-rye", "4", ""),
    ("caraway-rye", "3.5", "kills rye sour, which stands about 55 °C"),
]


def test_water_that_a_leaven_does_not_stand(sample_book, oven):
    """Active dry 46 °C, death from 55 to 60 (Gardiner and Wilson, The Inquisitive Cook, 1998; 60: Gisslen, Professional
    Cooking, 2014); fresh 40, instant in flour 50, cultures at death alone: common practice, no source.
    """
    for formula, flour, told in WARM_WATER:
        line = f"weigh {formula} --water-temp --target 25C --warming 1C --room 13C --flour-temp {flour}C"
        said = " ".join(oven(line, cwd=sample_book, now=NOW).out.split())
        assert "Pour the" in said
        assert told in said
        assert ("Water this warm" in said) is bool(told), (formula, flour)


def test_nothing_is_asked_for_a_formula_that_is_not_there(sample_book, oven):
    """It is refused first."""
    ran = oven("weigh market-rol --water-temp", cwd=sample_book, now=NOW, terminal=True, typed="19C\n18C\n")
    assert (ran.code, ran.out) == (3, "")


def test_the_mixer_s_warming_is_learned_from_its_own_bakes(sample_book, oven):
    """From the bakes of any formula with the mixer that this one was last baked with, and it is said so."""
    for formula, dough, mixer in (
        ("market-roll", 26, "planetary"),
        ("seeded-roll", 28, "planetary"),
        ("caraway-rye", 40, "arm"),
    ):
        kitchen = " ".join(f'--kitchen "{one}"' for one in ("room=22C", "flour=20C", "water=18C", f"mixer={mixer}"))
        ran = oven(
            f"record {formula} --baked-on 2026-11-24 --dough-temp {dough}C --crumb 7 --crust 7 --taster noor {kitchen}",
            cwd=sample_book,
            now=NOW,
        )
        assert ran.code == 0, ran.err
    out = " ".join(oven("weigh market-roll --room 22C --flour-temp 20C", cwd=sample_book, now=NOW).out.split())
    # dough 26 and 28, of 22, 20 and 18: rises of 6 and 8 °C, so 7; 3 x 25 - 42 - 21 = 12
    assert "Pour the water at 12 °C" in out
    assert "The 7 °C were learned from two bakes with the planetary." in out


KEPT = """\
format: formula/1
formula: house-loaf
makes: 2 loaves of 860 g
stages:
  levain:
    strong wheat flour: 200 g
    water: 200 g
    starter: 50 g
    rest: 5 h at 26 C
  dough:
    levain: all
    strong wheat flour: 800 g
    water: 500 g
    table salt: 20 g
kept_for_next_time:
  levain: 50 g
"""


def test_what_is_kept_for_next_time(sample_book, oven, golden):
    """It is made, it is told to keep it, and the dough gets the rest."""
    (sample_book.parent / "house-loaf.yaml").write_text(KEPT)
    assert oven("enter ../house-loaf.yaml", cwd=sample_book, now=NOW).code == 0
    golden("weigh/kept", oven("weigh house-loaf --household", cwd=sample_book, now=NOW).out)
    document = json.loads(oven("weigh house-loaf --json", cwd=sample_book, now=NOW).out)
    levain, dough = document["bowls"]
    assert levain["kept_g"] == 50
    assert sum(line["grams"] for line in levain["lines"]) == 450
    assert next(line["grams"] for line in dough["lines"] if line["item"] == "levain") == 400


def test_steps_without_times_cannot_be_laid_out(sample_book, oven):
    """It is said, with what to look at next."""
    (sample_book.parent / "house-loaf.yaml").write_text(KEPT.replace("    rest: 5 h at 26 C\n", ""))
    assert oven("enter ../house-loaf.yaml", cwd=sample_book, now=NOW).code == 0
    ran = oven("weigh house-loaf --ready 2026-11-29T07:00", cwd=sample_book, now=NOW)
    assert ran.code == 3
    assert "The steps of house-loaf say no times" in ran.err


def test_a_loss_goes_with_more(sample_book, oven):
    """Alone it is told as wrong usage, with what to type."""
    ran = oven("show market-roll --bake-loss 12%", cwd=sample_book, now=NOW)
    assert (ran.code, ran.out) == (2, "")
    assert "ovenleaf show market-roll --more --bake-loss 12%" in ran.err


def test_the_numbers_for_the_sceptic_are_a_document_too(sample_book, oven):
    """With the figures of the screen: 1.10 g of salt in 100 g of bread, at a loss of 11 %."""
    document = json.loads(oven("show honey-milk-bun r2 --more --bake-loss 11% --json", cwd=sample_book, now=NOW).out)
    assert document["dough_yield_g"] is None
    assert [round(one["salt_g"], 2) for one in document["bread"]] == [1.10]
    assert (document["loss_from"], document["volumes"]) == ("given", [])


SPOONED = """\
formula: spoon-loaf
ingredients:
  strong wheat flour: 500 g
  water: 340 g
  salt: 2 tsp
  instant yeast: 3 g
outside:
  salt: 1 tsp, on top
"""


def test_a_spoon_of_salt_on_a_page_saved_before_is_a_thing_to_look_at(sample_book, oven):
    """`check` says how to mend it, and no more: the page goes on being used."""
    (sample_book.parent / "old-loaf.yaml").write_text(
        SPOONED.replace("spoon", "old").replace("  salt: 2", "  table salt: 2")
    )
    assert oven("enter ../old-loaf.yaml", cwd=sample_book, now=NOW).code == 0
    for kept in ("old-loaf.yaml", "old-loaf/r1.noor.yaml"):
        path = sample_book / "formulas" / kept
        path.write_text(path.read_text().replace("table salt", "salt"))
    found = json.loads(oven("check --json", cwd=sample_book, now=NOW).out)["findings"]
    salts = [(one["severity"], one["fix"]) for one in found if one["code"] == "which-salt"]
    assert [severity for severity, _ in salts] == ["warning"]
    assert salts[0][1].endswith('Then: ovenleaf save old-loaf --why "which salt it is"')
    assert oven("weigh old-loaf", cwd=sample_book, now=NOW).code == 0


def test_a_spoon_of_salt_of_no_kind_is_refused(sample_book, oven, golden):
    """At enter and line by line; table salt by the spoon is taken, and nothing was written before."""
    (sample_book.parent / "spoon-loaf.yaml").write_text(SPOONED)
    before = snapshot(sample_book)
    ran = oven("enter ../spoon-loaf.yaml", cwd=sample_book, now=NOW)
    assert (ran.code, ran.out) == (3, "")
    golden("weigh/refused-which-salt", ran.err)
    assert snapshot(sample_book) == before
    typed = "strong wheat flour 500 g\nsalt 2 tsp\ntable salt 2 tsp\nwater 340 g\n\n\n\n\n"
    asked = oven("enter pan-loaf", cwd=sample_book, now=NOW, terminal=True, typed=typed)
    assert "so which salt is it? As in table salt 2 tsp, or salt 10 g." in " ".join(asked.out.split())
    assert "table salt, 2 tsp" in asked.out
    (sample_book.parent / "spoon-loaf.yaml").write_text(SPOONED.replace("  salt: 2 tsp", "  table salt: 2 tsp"))
    assert oven("enter ../spoon-loaf.yaml", cwd=sample_book, now=NOW).code == 0
