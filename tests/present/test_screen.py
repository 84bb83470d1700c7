"""How text is laid out: sentences, rows, the closing block, dates and counts, and text that would drive a terminal."""

from __future__ import annotations

import doctest
import unicodedata
from contextvars import copy_context

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovenleaf.errors import Next, PageRefused, Place, Refusal
from ovenleaf.findings import Finding, Severity
from ovenleaf.present import refusals, screen, today

SENTENCE = st.lists(st.text(st.characters(exclude_categories=["Cs", "Z", "C"]), min_size=1, max_size=12)).map(" ".join)


def test_the_examples_in_the_module_hold():
    """What the docstrings show is what the functions do."""
    ran = doctest.testmod(screen)
    assert ran.attempted > 5
    assert ran.failed == 0


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("plain bread, 65 %", "plain bread, 65 %"),
        ("pain de siègle, 26 °C", "pain de siègle, 26 °C"),
        ("two\nlines\r\nand\ta tab\u2028x", "two lines and a tab x"),
        ("\x1b]0;title\x07", r"\x1b]0;title\x07"),
        ("\x9b2J", r"\x9b2J"),
        ("\u202egnissim\u202c", r"\u202egnissim\u202c"),
        ("\u2067x\u2069\ufeff\u200b", r"\u2067x\u2069\ufeff\u200b"),
        ("\U000e0041", r"\U000e0041"),
        ("\udc80", r"\udc80"),
        ("👩\u200d🍳", "👩\u200d🍳"),
    ],
)
def test_clean_makes_text_harmless_and_keeps_letters(text, shown):
    """Controls, overrides and invisible characters are shown as codes; letters, marks and emoji stay."""
    assert screen.clean(text) == shown


@given(st.text())
def test_clean_leaves_nothing_that_a_terminal_obeys(text):
    """Whatever comes in, no control, override, surrogate or line end goes out."""
    for letter in screen.clean(text):
        assert letter in "\u200c\u200d" or unicodedata.category(letter) not in ("Cc", "Cf", "Cs", "Zl", "Zp")


@given(SENTENCE, st.integers(0, 8))
def test_wrap_keeps_every_word_and_the_width(sentence, indent):
    """Lines hold the same words in the same order; only a word too long for any line goes past 80."""
    lines = screen.wrap(sentence, indent).split("\n")
    assert " ".join(lines).split() == sentence.split()
    for line in lines:
        assert screen.width_of(line) <= 80 or len(line.split()) == 1


def test_wrap_does_not_part_a_figure_from_its_unit():
    """A figure goes to the next line with its unit."""
    assert screen.wrap("x" * 74 + " 66.0 % of it") == "x" * 74 + "\n66.0 % of it"
    assert screen.wrap("x" * 77 + " 5 gulls") == "x" * 77 + " 5\ngulls"


def test_wrap_hangs_the_further_lines():
    """Further lines may stand further in."""
    assert screen.wrap(f"a {'b' * 76} c", 2, hanging=2) == f"  a {'b' * 76}\n    c"


def test_a_line_as_typed_keeps_its_leading_spaces():
    """A line shown as it stands is not set differently, and wraps under itself when it must."""
    assert screen.as_typed("    water:  65%") == "    water:  65%"
    assert screen.as_typed(f"  {'a' * 70} {'b' * 20}") == f"  {'a' * 70}\n  {'b' * 20}"


def test_rows_stand_as_the_screens_want_them():
    """Name first, figures with their units ending at one column, words last, set in by two."""
    assert (
        screen.rows(
            [
                ("water", "65.0 %", "68.0 %", "up 3.0 points"),
                ("all else", "", "", "same"),
            ],
            "<>><",
            heading=("", "revision 2", "revision 3", ""),
        )
        == """\
               revision 2     revision 3
  water            65.0 %         68.0 %     up 3.0 points
  all else                                   same"""
    )


def test_rows_align_wide_and_combining_letters():
    """Columns stand under one another whatever the letters."""
    lines = screen.rows([("面粉", "1 g"), ("e\u0301pi", "10 g"), ("rye", "100 g")], "<>").split("\n")
    assert {screen.width_of(line) for line in lines} == {2 + 4 + 5 + 5}


def test_rows_wrap_their_closing_words():
    """Words too long for the line go on under themselves."""
    text = screen.rows([("note", "7", "a crust that sings " * 6), ("flavour", "6", "dull")], "<><")
    lines = text.split("\n")
    assert all(len(line) <= 80 for line in lines)
    assert lines[1].index("a") >= lines[0].index("a crust")
    assert lines[-1].index("dull") == lines[0].index("a crust")
    assert " ".join(text.replace("note", "").split()).startswith("7 a crust that sings a crust")


def test_rows_close_up_before_they_run_over():
    """Where columns are many the gaps shrink, to two at least."""
    text = screen.rows([("x" * 20, "1" * 18, "2" * 18, "3" * 16)], "<>>>")
    assert len(text) == 80
    assert "x  1" in text


def test_rows_of_nothing_are_nothing():
    """No rows, no text."""
    assert screen.rows([], "<>") == ""


def test_rows_keep_a_book_from_breaking_the_table():
    """A line end or an escape in a cell stays inside its row."""
    text = screen.rows([("a\nb", "\x1b[2J", "1 g")], "<<>")
    assert "\n" not in text
    assert "\x1b" not in text


def test_the_next_block_keeps_commands_whole():
    """Words stand beside short commands and under long ones; a command is never broken."""
    long = "ovenleaf tweak market-roll water=68% " + "--why " + "'softer still, " + "and " * 12 + "so'"
    text = screen.next_block(
        [
            Next("cd ferry-lane"),
            Next("ovenleaf enter stall-loaf", "put in a formula, asked line by line"),
            Next(long, "the same once more"),
        ]
    )
    assert text.split("\n") == [
        "Next",
        "  cd ferry-lane",
        "  ovenleaf enter stall-loaf       put in a formula, asked line by line",
        f"  {long}",
        "      the same once more",
    ]
    assert screen.next_block([]) == ""


def test_the_next_block_moves_its_words_for_a_longer_command():
    """All words begin at one column, three from the longest command."""
    lines = screen.next_block([Next("a", "first"), Next("b" * 40, "second")]).split("\n")
    assert lines[1].index("first") == lines[2].index("second") == 2 + 40 + 3


def test_blocks_have_one_blank_line_between_them():
    """Empty blocks leave no gap."""
    assert screen.blocks("a", "", "b") == "a\n\nb"


@pytest.mark.parametrize("text", ["yesterday", "2026-13-01", "2026-02-30", "20261104", "2026-11-041", ""])
def test_what_is_no_date_is_shown_as_it_stands(text):
    """Dates in a book are text; a bad one is not hidden and breaks nothing."""
    assert screen.date_words(text) == text
    assert screen.short_date(text) == text


def test_every_day_and_month_has_its_name():
    """A week and a year of dates in words."""
    assert [screen.date_words(f"2026-11-{day:02}").split()[0] for day in range(2, 9)] == [
        "Monday",
        "Tuesday",
        "Wednesday",
        "Thursday",
        "Friday",
        "Saturday",
        "Sunday",
    ]
    assert " ".join(copy_context().run(_read_in, 2026, f"2026-{month:02}-01") for month in range(1, 13)) == (
        "1 Jan 1 Feb 1 Mar 1 Apr 1 May 1 Jun 1 Jul 1 Aug 1 Sep 1 Oct 1 Nov 1 Dec"
    )


def _read_in(year, day):
    today.reading_in(year)
    return screen.short_date(day)


def test_a_day_of_another_year_is_told_with_its_year():
    """Of this one without, and of any while nobody has said which year it is."""
    said = [copy_context().run(_read_in, year, "2026-01-04") for year in (2025, 2026, 2027, None)]
    assert said == ["4 Jan 2026", "4 Jan", "4 Jan 2026", "4 Jan"]


@pytest.mark.parametrize(
    ("words", "said"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_words_are_joined_as_in_a_sentence(words, said):
    """Commas, and a word before the last."""
    assert screen.join_words(words) == said


@pytest.mark.parametrize(
    ("number", "noun", "said"),
    [
        (0, "dough", "no doughs"),
        (1, "dough", "one dough"),
        (9, "bake", "nine bakes"),
        (10, "bake", "10 bakes"),
        (2, "entry", "two entries"),
        (2, "tray", "two trays"),
        (2, "batch", "two batches"),
    ],
)
def test_counts_are_words_up_to_nine(number, noun, said):
    """A count reads well aloud."""
    assert screen.count(number, noun) == said


def test_a_refusal_with_nothing_more_is_its_sentence():
    """No empty blocks."""
    assert refusals.text(Refusal("There is no formula rol.")) == "There is no formula rol."


def test_a_refusal_cannot_drive_the_terminal():
    """Text from a page is harmless wherever it stands in a refusal."""
    bad = "\x1b[2J\u202e"
    finding = Finding(code="c", severity=Severity.ERROR, path=bad, line=1, message=bad, fix=bad, text=bad)
    for refusal in (
        Refusal(bad, where=Place(bad, 3, bad), detail=(bad,), next=(Next(bad, bad),)),
        PageRefused(bad, [finding]),
    ):
        said = refusals.text(refusal)
        assert "\x1b" not in said
        assert "\u202e" not in said
        assert said.count(r"\x1b[2J\u202e") >= 5


def test_a_place_without_a_line_names_the_page_alone():
    """Line and text are left out where they are not known."""
    assert refusals.text(Refusal("No.", where=Place("book.yaml"))) == "No.\n\n  book.yaml"
