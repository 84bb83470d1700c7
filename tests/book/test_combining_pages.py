"""Pages as bakers type them, with remarks, odd spacing and quotes, are combined without losing a word."""

from __future__ import annotations

import re
from textwrap import dedent

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, pantry
from ovenleaf.book.steps.combining_pages import combine_formulas, combine_pages
from ovenleaf.domain.dough import work_out
from ovenleaf.records import schema
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.nodes import plain
from ovenleaf.records.places import remarks
from ovenleaf.records.yaml_text import read

# --- pages as bakers type them ------------------------------------------------------------------------------

ITEMS = ("strong wheat flour", "medium rye flour", "white spelt flour", "water", "salt", "instant yeast", "butter")
STEPS = ("mix", "bulk", "fold", "shape", "proof", "bake")
LINES = ("6 min, dough 26 C", "45 min at 28 C, covered", "until doubled", "50 min at 240 C falling to 220 C", "tight")


def style(draw, value: str) -> str:
    """A value quoted in one way or another."""
    quote = draw(st.sampled_from(["", "", "", '"', "'"]))
    return f"{quote}{value}{quote}"


def remark(draw, counter: list[int]) -> str:
    counter[0] += 1
    return draw(st.sampled_from(["", "", "", f"  # note {counter[1]}.{counter[0]}"]))


@st.composite
def contents(draw):
    """What a formula says: amounts by item, and steps."""
    amount = st.decimals(min_value="0.1", max_value=99, places=2).map(lambda value: f"{value}%")
    chosen = draw(st.lists(st.sampled_from(ITEMS), min_size=1, unique=True))
    steps = draw(st.lists(st.sampled_from(STEPS), unique=True, max_size=4))
    return (
        {item: draw(amount) for item in chosen},
        [(step, draw(st.sampled_from(LINES))) for step in steps],
    )


@st.composite
def changed(draw, said):
    """The same with some lines changed, put in or taken out."""
    items, steps = dict(said[0]), list(said[1])
    amount = st.decimals(min_value="0.1", max_value=99, places=2).map(lambda value: f"{value}%")
    for item in draw(st.lists(st.sampled_from(ITEMS), max_size=3, unique=True)):
        items[item] = draw(amount)
    for item in draw(st.lists(st.sampled_from(ITEMS), max_size=1)):
        if len(items) > 1:
            items.pop(item, None)
    for place in draw(st.lists(st.integers(0, 4), max_size=2)):
        name = draw(st.sampled_from(STEPS))
        if name not in dict(steps):
            steps.insert(place, (name, draw(st.sampled_from(LINES))))
    if steps:
        at = draw(st.integers(0, len(steps) - 1))
        steps[at] = (steps[at][0], draw(st.sampled_from(LINES)))
    return items, steps


def typed(draw, said, baker: str, number: int, side: int) -> str:
    """The page of a formula, in somebody's own manner."""
    counter = [0, side]
    gap = draw(st.sampled_from([" ", "  ", "     "]))
    lines = [
        "format: formula/1",
        f"formula: loaf{remark(draw, counter)}",
        f"revision: {number}",
        f"by: {baker}",
        f"saved: 2026-11-{number + side:02}T12:00:00+01:00",
        *draw(st.sampled_from([[], [""], ["# what goes in", ""]])),
        f"ingredients:{remark(draw, counter)}",
    ]
    lines += [f"  {item}:{gap}{style(draw, value)}{remark(draw, counter)}" for item, value in said[0].items()]
    if said[1]:
        lines += ["process:"]
        for step, line in said[1]:
            if note := remark(draw, counter).strip():
                lines.append(f"  {note} above")
            lines.append(f"  - {step}:{gap}{style(draw, line)}{remark(draw, counter)}")
    return "\n".join(lines) + "\n"


@st.composite
def three_pages(draw):
    """An ancestor and two that came of it."""
    said = draw(contents())
    was = typed(draw, said, "noor", 1, 0)
    return tuple(
        read(text, path="loaf.yaml")
        for text in (
            was,
            typed(draw, draw(changed(said)), "noor", 2, 1),
            typed(draw, draw(changed(said)), "tomas", 2, 2),
        )
    )


def combined(before, one, other):
    return combine_formulas(before, one, other, pantry=pantry(), top=2)


# --- laws ------------------------------------------------------------------------------------------------------


@QUICK
@given(three_pages())
def test_a_page_that_one_baker_changed_is_the_outcome_byte_for_byte(three):
    """combine(b, x, b) = combine(b, b, x) = combine(b, x, x) = x."""
    before, one, _ = three

    for sides in ((one, before), (before, one), (one, one)):
        made = combined(before, *sides)
        assert (made.text, made.questions, made.revision) == (one.text, (), None)


@QUICK
@given(three_pages())
def test_it_does_not_matter_whose_page_is_whose(three):
    """combine(b, x, y) = combine(b, y, x), byte for byte."""
    before, one, other = three

    assert combined(before, one, other) == combined(before, other, one)
    assert combined(None, one, other) == combined(None, other, one)


@QUICK
@given(three_pages())
def test_every_remark_and_every_changed_value_is_there(three):
    """In the page itself, or in its open questions."""
    before, one, other = three

    made = read(combined(before, one, other).text, path="loaf.yaml")

    assert notes(one) | notes(other) <= notes(made)
    asked = repr(plain(made.root).get("open", ""))
    for side in (one, other):
        for key, value in plain(side.root)["ingredients"].items():
            if plain(before.root)["ingredients"].get(key) != value:
                assert plain(made.root)["ingredients"].get(key) == value or value in asked
        for step in plain(side.root).get("process", []):
            if step not in plain(before.root).get("process", []):
                assert step in plain(made.root).get("process", []) or all(
                    piece in asked + made.text for value in step.values() for piece in value.split(", ")
                )


@QUICK
@given(three_pages())
def test_what_comes_out_is_a_page_of_the_book(three):
    """It keeps to its schema and says which revision it is: one more than the highest, by both."""
    made = combined(*three)
    page = read(made.text, path="loaf.yaml")

    assert schema.faults("formula", page, kept=True) == ()
    assert made.revision is None or str(made.revision) == "r3.noor.tomas"
    formula = read_formula(page)
    assert made.revision is None or (formula.revision, formula.by) == (3, ("noor", "tomas"))


def notes(page):
    return {page.text[start:end].strip() for start, end in remarks(page)}


# --- cases ------------------------------------------------------------------------------------------------------

RYE = """\
    # yaml-language-server: $schema=../.git/ovenleaf/schemas/formula.v1.json
    format: formula/1
    formula: caraway-rye
    title: Caraway rye
    revision: 1
    by: noor
    saved: 2026-11-04T12:00:00+01:00

    ingredients:               # all the flour is 100%
      medium rye flour:   60%
      strong wheat flour: 40%  # the usual
      water:              74%
      caraway seed:       1.5%
      salt:               2%

    preferments:
      rye-sour:
        takes: 30% of the flour
        medium rye flour: 100%
        water: 100%

    process:
      - mix: 6 min, dough 28 C
      # not too long
      - bulk: 45 min at 28 C, covered
      - bake: 50 min at 250 C
    """


def page(baker: str, number: int, *swaps: tuple[str, str], why: str = ""):
    """The rye as a baker's revision, with these pieces of its text in place of others."""
    text = dedent(RYE)
    if number > 1:
        stamps = (
            f"revision: {number}\nby: {baker}\nsaved: 2026-11-2{number}T1{len(baker)}:00:00+01:00\nmade_from: r1.noor"
        )
        text = re.sub(r"revision: 1\nby: noor\nsaved: .*", f"{stamps}\nwhy: {why}" if why else stamps, text)
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new)
    return read(text, path="formulas/caraway-rye.yaml")


def test_a_combined_page_looks_as_a_baker_would_have_written_it(golden):
    """One side's text with the other's lines in it, in their places, and the question at the end."""
    one = page("noor", 2, ("74%", "76%  # a bit more"), ("45 min", "50 min"), why="crumb a little tight")
    swaps = (
        ("74%", "77%"),
        ("1.5%", "1.2%"),
        ("28 C, covered", "29 C, covered"),
        ("  - bake", "  # tight\n  - shape\n  - bake"),
    )
    other = page("tomas", 2, *swaps, why="dry by day two")

    golden("combined_page", combined(page("noor", 1), one, other).text)


def test_flours_that_do_not_come_to_a_hundred_together_are_a_question():
    """Flour moved by one, and a preferment's own flour by the other: what stands comes out."""
    one = page("noor", 2, ("60%", "65%"), ("40%", "35%"))
    other = page(
        "tomas", 2, ("40%", "35%"), ("  water:              74%", "  white spelt flour: 5%\n  water:              74%")
    )

    made = read(combined(page("noor", 1), one, other).text, path="f.yaml")

    assert list(plain(made.root)["open"]) == ["flours"]
    assert work_out(read_formula(made), pantry())


def test_amounts_that_leave_less_than_no_water_are_a_question():
    """The sour takes more water by one, the whole less by the other: the ancestor's amounts stand, as one question."""
    one = page("noor", 2, ("30% of", "60% of"))
    other = page("tomas", 2, ("74%", "50%"))

    made = read(combined(page("noor", 1), one, other).text, path="f.yaml")

    assert list(plain(made.root)["open"]) == ["formula"]
    assert plain(made.root)["ingredients"] == plain(page("noor", 1).root)["ingredients"]
    assert work_out(read_formula(made), pantry())


def test_remarks_alone_make_no_new_revision():
    """A touch-up on one side and a revision on the other are that revision, with the remark."""
    touched = page("noor", 1, ("# the usual", "# the usual, sieved"))
    other = page("tomas", 2, ("74%", "76%"))

    made = combined(page("noor", 1), touched, other)

    assert made.revision is None
    assert "sieved" in made.text
    assert (read_formula(read(made.text, path="f")).revision, "by: tomas" in made.text) == (2, True)


def test_the_same_change_by_both_is_one_revision():
    """Nothing is left to combine; the page stands on one of the two."""
    made = combined(page("noor", 1), page("noor", 2, ("74%", "76%")), page("tomas", 2, ("74%", "76 %")))

    assert made.revision is None
    assert made.questions == ()


def test_one_formula_entered_by_both_is_asked_about_whole():
    """There is no ancestor, so the amounts of one stand while it is open."""
    made = read(combined(None, page("noor", 1), page("tomas", 2, ("74%", "76%"))).text, path="f.yaml")

    assert "formula" in plain(made.root)["open"]
    assert plain(made.root)["open"]["formula"]["was"] == "not in it"


TRIAL = """\
    format: trial/1
    trial: loaf/2026-11-12-noor
    formula: loaf
    revision: r1.noor
    code: D2
    baker: noor
    state: done
    weighed:
      water: 369 g   # wet
    scores:
      noor:
        crumb: 7
    log:
      - 2026-11-12T07:39:00+01:00 +6 g water
    pin: "4f2c8a0b"
    """


def trial(*swaps: tuple[str, str]):
    text = dedent(TRIAL)
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new)
    return read(text, path="trials/loaf/2026-11-12-noor.yaml")


def correction(now: str, by: str) -> str:
    return (
        f"corrections:\n  - field: weighed.water\n    was: 369 g\n    now: {now}\n    by: {by}\n"
        f"    at: 2026-11-19T18:0{len(by)}:00+01:00\n    why: digits swapped\npin:"
    )


def test_two_tasters_scoring_one_bake_is_no_clash():
    """Both keep their marks, and the log stands in the order of time."""
    one = trial(("pin:", "  - 2026-11-12T09:00:00+01:00 shaped\npin:"))
    other = trial(("log:", "  tomas:\n    crumb: 6\nlog:"), ("pin:", "  - 2026-11-12T08:00:00+01:00 folded\npin:"))
    one_placed = read(one.text.replace("pin:", "pin:"), path=one.path)

    made = combine_pages("trial", trial(), one_placed, other)
    data = plain(read(made.text, path="t").root)

    assert made.questions == ()
    assert data["scores"] == {"noor": {"crumb": 7}, "tomas": {"crumb": 6}}
    assert [line.split(" ", 1)[1] for line in data["log"]] == ["+6 g water", "folded", "shaped"]


def test_two_corrections_of_one_field_are_a_question():
    """Both corrections stand in the trial, the value stays as it was, and the question names the bakers."""
    one = trial(("369 g   # wet", "396 g   # wet"), ("pin:", correction("396 g", "noor")))
    other = trial(("369 g   # wet", "390 g   # wet"), ("pin:", correction("390 g", "tomas")))

    made = combine_pages("trial", trial(), one, other)
    page = read(made.text, path="t.yaml")
    data = plain(page.root)

    assert data["weighed"] == {"water": "369 g"}
    assert [one["by"] for one in data["corrections"]] == ["noor", "tomas"]
    assert data["open"] == {"weighed.water": {"was": "369 g", "noor": "396 g", "tomas": "390 g"}}
    assert schema.faults("trial", page, kept=True) == ()
    assert made == combine_pages("trial", trial(), other, one)


def test_marks_of_both_stand_in_the_order_of_time():
    """Marks are only added."""
    head = "format: marks/1\nformula: loaf\nmarks:\n"
    said = (
        "  - revision: r{0}.noor\n    mark: keeper\n    by: noor\n    at: 2026-11-1{0}T12:00:00+01:00\n    why: good\n"
    )
    was, one, other = (
        read(head + "".join(said.format(n) for n in numbers), path="m.yaml") for numbers in ((1,), (1, 3), (1, 2))
    )

    made = combine_pages("marks", was, one, other)

    assert [mark["revision"] for mark in plain(read(made.text, path="m").root)["marks"]] == [
        "r1.noor",
        "r2.noor",
        "r3.noor",
    ]


def test_pages_that_both_published_stand_beside_one_another():
    """What two bakers published while apart is all known, in the order of time, whoever combines."""
    head = "format: marks/1\nformula: loaf\npublished:\n"

    def entry(file, hour, by):
        at = f"2026-11-20T{hour}:00:00+01:00"
        return f"  - revision: r1.noor\n    as: recipe\n    file: {file}\n    by: {by}\n    at: {at}\n"

    was = head + entry("old.txt", "08", "noor")
    texts = was, was + entry("roll.txt", "11", "noor"), was + entry("page.html", "10", "tomas")
    before, one, other = (read(text, path="m.yaml") for text in texts)
    made = combine_pages("marks", before, one, other)
    again = combine_pages("marks", before, other, one)
    assert [said["file"] for said in plain(read(made.text, path="m").root)["published"]] == [
        "old.txt",
        "page.html",
        "roll.txt",
    ]
    assert again.text == made.text


@pytest.mark.parametrize("kind", ["book", "ingredients"])
def test_lists_by_key_ask_about_a_value_changed_in_two_ways(kind):
    """The ancestor's value stands."""
    texts = {
        "book": "format: book/1\ntitle: Ferry Lane\nweights:\n  crumb: {}\n  crust: 1\n",
        "ingredients": "format: ingredients/1\ningredients:\n  seed mix:\n    kind: seed\n    fat: {}\n",
    }
    was, one, other = (read(texts[kind].format(value), path=f"{kind}.yaml") for value in (1, 2, 3))

    page = read(combine_pages(kind, was, one, other).text, path=f"{kind}.yaml")

    (item,) = plain(page.root)["open"]
    assert plain(page.root)["open"][item] == {"was": 1, "either": 2, "or": 3}
    assert texts[kind].format(1) in page.text
    assert schema.faults(kind, page, kept=True) == ()
