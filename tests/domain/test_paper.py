"""A filled-in sheet read back by its form alone: every box, every slip of the pencil, and nothing lost."""

from __future__ import annotations

from datetime import date
from textwrap import dedent

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, sheet
from ovenleaf.domain.paper import is_paper, pages
from ovenleaf.domain.paper_reading import printed_facts, read_paper
from ovenleaf.domain.paper_said import headings, heard_from

TODAY = date(2026, 11, 25)
ROLL = sheet(
    """
    formula: loaf
    ingredients:
      strong wheat flour: 100%
      water: 65%
      salt: 2%
      butter: 3%, soft
      instant yeast: 0.6%
    preferments:
      poolish:
        takes: 20% of the flour
        strong wheat flour: 100%
        water: 100%
        instant yeast: 0.1%
        rest: 12 h at 21 C, covered
    process:
      - first mix: 3 min, low
      - second mix: 9 min, medium, dough 25 C
      - bulk: 60 min at 26 C, until half as big again
      - divide: 85 g
      - final proof: 50 min at 28 C
      - bake: 18 min at 220 C
    """
)
BLANK = "_" * 8
SHEET = dedent(
    f"""\
    Loaf, revision 1
    sheet: 1   formula: loaf   revision: r1.noor   printed: 2026-11-24
    batch: 12 rolls of 85 g   dough: 1020 g   flour: 600 g

    bake date {BLANK}   baker {BLANK}   trial {BLANK}   oven {BLANK}
    room {BLANK}   flour {BLANK}   water {BLANK}   preferment {BLANK}

    Poolish, then 12 h at 21 C, covered   begin at 19:30 on 23 Nov
      [ ] strong wheat flour                            120 g   went in {BLANK}
      [ ] water                                         120 g   went in {BLANK}
      [ ] instant yeast                                0.12 g   went in {BLANK}
          in all                                     240.12 g
        0.12 g of instant yeast is too little for your scale.

    Final dough
      [ ] strong wheat flour                            480 g   went in {BLANK}
      [ ] water                                         270 g   went in {BLANK}
      [ ] poolish                                       240 g   went in {BLANK}
      [ ] salt                                           12 g   went in {BLANK}
      [ ] butter, soft                                   18 g   went in {BLANK}
      [ ] instant yeast                                 3.5 g   went in {BLANK}
          in all                                     1023.5 g

    Steps, and when
      [ ] 07:30 first mix: 3 min, low                                    at {BLANK}
      [ ] 07:33 second mix: 9 min, medium, dough 25 C                    at {BLANK}
      [ ] 07:42 bulk: 60 min at 26 C, until half as big again            at {BLANK}
      [ ] divide: 85 g                                                   at {BLANK}
      [ ] final proof: 50 min at 28 C                                    at {BLANK}
      [ ] bake: 18 min at 220 C
                                                                         at {BLANK}
        ready at 10:00 on Tuesday 24 November 2026

    dough temperature {BLANK}   pieces {BLANK}   dough weight {BLANK}
    baked weight {BLANK}   cooled {BLANK}   core {BLANK}
    crumb {BLANK}   crust {BLANK}   taster {BLANK}   hours after {BLANK}
    note {"_" * 75}

    Contains wheat and gluten, by the ingredient list. Read the labels of what you
    use. Raw flour is not for tasting. Oven, tins and steam burn. Who sells
    bread follows the rules of the place.
    """
)


def filled(*fillings):
    """The sheet with (words before a blank, what is written over it)."""
    text = SHEET
    for before, written in fillings:
        assert f"{before} {BLANK}" in text, before
        text = text.replace(f"{before} {BLANK}", f"{before} {written}", 1)
    return text


def told(text, taster="noor"):
    """What the sheet tells."""
    [(before, page)] = pages(text)
    return heard_from(read_paper(page, headings(ROLL), before), ROLL, TODAY, taster)


def test_an_empty_sheet_tells_how_big_the_batch_was_and_no_more():
    """No blank becomes a zero, an "as planned" or a note."""
    heard = told(SHEET)

    assert heard.said.batch == "12 rolls of 85 g"
    assert (heard.said.weighed, heard.said.measured, heard.said.steps, heard.said.marks) == ((), (), (), ())
    assert (heard.said.as_planned, heard.said.log, heard.unread, heard.kept, heard.doubts) == ("", (), (), (), ())


BOXES = [
    ("bake date", "yesterday", "bake_date", "2026-11-24"),
    ("bake date", "18 Nov__", "bake_date", "2026-11-18"),
    ("bake date", "2026-11-01", "bake_date", "2026-11-01"),
    ("baker", "Tomas__", "baker", "tomas"),
    ("oven", "stall oven", "kitchen", (("oven", "stall oven"),)),
    ("oven", "220 C", "steps", (("bake", "220 C"),)),
    ("oven", "430F", "steps", (("bake", "430 F"),)),
    ("room", "21C", "kitchen", (("room", "21 C"),)),
    ("room", "70 °F", "kitchen", (("room", "70 F"),)),
    ("flour", "20,5 C", "kitchen", (("flour", "20.5 C"),)),
    ("flour", "Mill Lane, lot B-114", "flours", (("strong wheat flour", "Mill Lane, lot B-114"),)),
    ("water", "___12C___", "kitchen", (("water", "12 C"),)),
    ("preferment", "20C", "kitchen", (("preferment", "20 C"),)),
    ("dough temperature", "25,5C", "measured", (("dough temperature", "25.5 C"),)),
    ("core", "97 C", "measured", (("core temperature", "97 C"),)),
    ("pieces", "12", "measured", (("pieces", "12"),)),
    ("pieces", "12 rolls", "measured", (("pieces", "12"),)),
    ("dough weight", "1015", "measured", (("dough weight", "1015 g"),)),
    ("baked weight", "0,88 kg", "measured", (("baked weight", "0.88 kg"),)),
    ("cooled", "2h", "measured", (("cooled", "2 h"),)),
    ("cooled", "90 min", "measured", (("cooled", "1 h 30 min"),)),
    ("note", "sour smelled of apples, good?", "log", ("sour smelled of apples, good?",)),
]


@pytest.mark.parametrize(("box", "written", "field", "value"), BOXES)
def test_each_box_is_understood(box, written, field, value):
    """A bare weight on a sheet in g is in g; a heat belongs to the bake; a flour may be named in its box."""
    text = filled((box, written)) if box != "note" else SHEET.replace("note ____", f"note {written} __", 1)
    heard = told(text)

    assert getattr(heard.said, field) == value
    assert (heard.kept, heard.unread, heard.doubts) == ((), (), ())


def test_marks_are_under_the_name_on_the_sheet():
    """Faults stand behind a mark, the note goes with the marks, hours are hours."""
    text = filled(("crumb", "7"), ("crust", "6 too pale"), ("taster", "tomas"), ("hours after", "3h"))
    [marks] = told(text.replace("note ____", "note wants more colour", 1)).said.marks

    assert (marks.taster, marks.crumb, marks.crust, marks.faults) == ("tomas", 7, 6, ("too pale",))
    assert (marks.hours_after, marks.note) == (3, "wants more colour")


@pytest.mark.parametrize("mark", ["?", "??", "unreadable", "illegible", "can't be read"])
def test_what_cannot_be_read_is_not_recorded(mark):
    """Never zero, never as planned; it is named."""
    text = filled(("core", mark), ("salt                                           12 g   went in", mark))
    heard = told(text)

    assert (heard.said.measured, heard.said.weighed) == ((), ())
    assert heard.unread == ("core temperature", "salt in the final dough")


def test_half_a_figure_is_kept_word_for_word():
    """`1?2` is no weight, and is not lost."""
    heard = told(filled(("salt                                           12 g   went in", "1?2")))

    assert heard.unread == ("salt in the final dough",)
    assert heard.kept == ((19, "salt in the final dough: 1?2"),)


def test_weights_stand_under_their_bowls_where_there_are_two():
    """An item that goes into one bowl alone stands under its own name."""
    heard = told(
        SHEET.replace(f"120 g   went in {BLANK}", "120 g   went in 121", 2)
        .replace(f"270 g   went in {BLANK}", "270 g   went in 276 g, felt tight")
        .replace(f" 12 g   went in {BLANK}", " 12 g   went in 12.2")
    )

    assert heard.said.weighed == (
        ("poolish:strong wheat flour", "121 g"),
        ("poolish:water", "121 g"),
        ("final dough:water", "276 g, felt tight"),
        ("salt", "12.2 g"),
    )


def test_a_tick_says_that_the_planned_weight_went_in():
    """All ticked: all of it; some weighed: all the rest; some neither: only those that are ticked."""
    ticked = SHEET.replace("[ ]", "[x]", 9)
    assert told(ticked).said.as_planned == "all of it"
    assert told(ticked.replace(f"270 g   went in {BLANK}", "270 g   went in 276")).said.as_planned == "all the rest"

    some = SHEET.replace("[ ] salt", "[/] salt").replace("[ ] butter", "[X] butter")
    assert told(some).said.as_planned == "salt in the final dough and butter in the final dough"
    assert told(ticked.replace(f"270 g   went in {BLANK}", "270 g   went in ?")).said.as_planned.startswith("strong")


STEP = "until half as big again            at"


def test_times_of_steps_are_kept_and_lengths_worked_out_between_two():
    """Only for a step whose plan has a length, only where the next one's time is there; it says up to what."""
    text = filled(("low                                    at", "07:31"), ("dough 25 C                    at", "7.35"))
    text = text.replace(f"{STEP} {BLANK}", f"{STEP} 07:44").replace(
        f"85 g{' ' * 51}at {BLANK}", f"85 g{' ' * 51}at 08:42"
    )
    heard = told(text)

    assert heard.said.steps == (
        ("first mix", "at 07:31, 4 min to the second mix"),
        ("second mix", "at 7:35, 9 min to the bulk"),
        ("bulk", "at 07:44, 58 min to the divide"),
        ("divide", "at 08:42"),
    )


def test_a_step_s_blank_may_hold_all_that_a_bench_line_may():
    """A length that is told is not worked out again."""
    heard = told(filled((STEP, "07:44, 55 min, 25,5C")).replace(f"85 g{' ' * 51}at {BLANK}", f"85 g{' ' * 51}at 08:42"))

    assert heard.said.steps[0] == ("bulk", "at 07:44, 55 min, 25,5C")


def test_a_step_after_midnight_belongs_to_the_same_dough():
    """23:50 to 00:48 are 58 minutes."""
    text = filled((STEP, "23:50")).replace(f"85 g{' ' * 51}at {BLANK}", f"85 g{' ' * 51}at 00:48")

    assert told(text).said.steps[0] == ("bulk", "at 23:50, 58 min to the divide")


def test_a_step_before_the_one_ahead_of_it_is_asked_about():
    """An end before its start is no length."""
    text = filled((STEP, "09:44")).replace(f"85 g{' ' * 51}at {BLANK}", f"85 g{' ' * 51}at 08:42")
    [doubt] = told(text).doubts

    assert (doubt.about, doubt.line) == ("divide", 28)
    assert doubt.what == "the divide was begun at 08:42, before the bulk at 09:44"


def test_a_ticked_step_was_done_and_that_is_all_it_says():
    """No time is made up for it."""
    text = SHEET.replace("[ ] divide", "[x] divide").replace("[ ] bake", "[x] bake")

    assert told(text).said.steps == (("divide", "done"), ("bake", "done"))


DOUBTS = [
    ("room", "21", 6, "21 has no scale", "write 21 C or 21 F"),
    ("dough temperature", "25,5", 34, "25,5 has no scale", "write 25,5 C or 25,5 F"),
    ("cooled", "2", 35, "2 has no unit", "write 2 h or 2 min"),
    ("bake date", "24/11", 5, "24/11 is not a day", "write it as 2026-11-25"),
]


@pytest.mark.parametrize(("box", "written", "line", "what", "how"), DOUBTS)
def test_what_can_be_read_in_two_ways_is_asked_about(box, written, line, what, how):
    """With its line, and how to write it."""
    [doubt] = told(filled((box, written))).doubts

    assert (doubt.line, doubt.about, doubt.what, doubt.how) == (line, box, what, how)


def test_a_bare_figure_on_a_sheet_in_ounces_is_asked_about():
    """The scale may have shown either."""
    text = SHEET.replace(f"480 g   went in {BLANK}", "16.93 oz   went in 17")
    [doubt] = told(text).doubts

    assert (doubt.about, doubt.what) == ("strong wheat flour in the final dough", "17 has no unit")


def test_what_fits_nowhere_is_kept_with_its_line():
    """Words between the lines, an item that the formula has not, a line whose blank was cut off."""
    text = (
        SHEET.replace("Final dough\n", "Final dough\nmixer squeaked\n")
        .replace(
            "[ ] butter, soft                                   18 g   went in",
            "[ ] lard                  18 g   went in",
        )
        .replace("lard                  18 g   went in ________", "lard                  18 g   went in 18")
        .replace(f"salt                                           12 g   went in {BLANK}", "salt twel")
    )
    heard = told(text)

    assert heard.kept == (
        (16, "mixer squeaked"),
        (20, "[ ] salt twel"),
        (21, "lard in the final dough: 18 went in"),
    )


def test_boxes_may_be_typed_one_to_a_line():
    """As somebody does who types a sheet up from paper."""
    text = SHEET.replace(
        f"crumb {BLANK}   crust {BLANK}   taster {BLANK}   hours after {BLANK}", "crumb: 7\ncrust: 6\ntaster: tomas"
    )
    [marks] = told(text).said.marks

    assert (marks.crumb, marks.crust, marks.taster) == (7, 6, "tomas")


def test_what_this_bake_has_other_than_the_formula_is_its_plan():
    """A swap and the water that was worked out are kept as the sheet says them, over two lines too."""
    text = SHEET.replace(
        "\n\nbake date", "\nchanged: 1.88 % fresh yeast for instant;\n    1.26 % less water\n\nbake date", 1
    )

    assert told(text).said.plan == (("changed", "1.88 % fresh yeast for instant; 1.26 % less water"),)


def test_a_sheet_squeezed_onto_one_page_reads_the_same():
    """Without its empty lines."""
    text = filled(("crumb", "7"), ("room", "21C"))
    squeezed = "".join(line for line in text.splitlines(keepends=True) if line.strip())

    assert told(squeezed).said == told(text).said
    assert told(squeezed).kept == ()


def test_its_head_names_it():
    """Formula, revision and the day it was printed; another text is no sheet."""
    assert printed_facts(SHEET)["formula"] == "loaf"
    assert printed_facts(SHEET)["revision"] == "r1.noor"
    assert printed_facts(SHEET)["printed"] == "2026-11-24"
    assert not is_paper("formula: loaf\nsteps:\n  - bulk: 60 min\n")


PIECES = st.sampled_from(
    [*SHEET.splitlines(), "", "[x]", "  [x] salt", "at", "note", "      at 7", "sheet: 1   formula: a", "crumb crust"]
)


@QUICK
@given(st.lists(st.one_of(PIECES, st.text(max_size=30)), max_size=30))
def test_no_sheet_breaks_it(lines):
    """Whatever was typed over it, it is read; only its fields differ."""
    text = "sheet: 1   formula: loaf   revision: r1.noor\n" + "\n".join(line.replace("\f", "") for line in lines)
    for before, page in pages(text):
        heard_from(read_paper(page, headings(ROLL), before), ROLL, TODAY, "noor")


@QUICK
@given(
    st.sampled_from(SHEET.splitlines()), st.text("abcdefghij kl", min_size=3, max_size=20).map(str.strip).filter(bool)
)
def test_words_between_the_lines_are_never_lost(after, words):
    """At the left edge, wherever they stand, they are in a note, a box or among what is kept."""
    text = SHEET.replace(after + "\n", f"{after}\n+{words}\n", 1)
    heard = told(text)
    everything = repr((heard.said, heard.kept, heard.unread, heard.doubts))
    assert f"+{' '.join(words.split())}" in everything
