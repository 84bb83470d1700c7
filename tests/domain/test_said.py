"""A bake in spoken order, and what is told in several ways put together."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ovenleaf.domain.book import USUAL_SCALE
from ovenleaf.domain.said import Said, in_words, together
from ovenleaf.domain.trial import Marks, mark_out_of

STEPS = ("first mix", "bulk", "final proof", "bake")


def told(words, flours=("strong wheat flour",)):
    return in_words(words, taster="noor", steps=STEPS, flours=flours)


def test_a_bake_in_one_breath():
    """Marks, what was measured, steps as done, and the rest as the taster's note."""
    said = told("crumb 5, crust 7, dough 24C, bulk 55 min, tight")

    assert said.marks == (Marks(taster="noor", crumb=Decimal(5), crust=Decimal(7), note="tight"),)
    assert said.measured == (("dough temperature", "24 C"),)
    assert said.steps == (("bulk", "55 min"),)
    assert said.log == ()


def test_a_decimal_comma_parts_no_clause():
    """6,5 is one mark."""
    assert told("crumb 6,5, crust 7").marks[0].crumb == Decimal("6.5")


def test_what_is_said_behind_a_mark_is_a_fault():
    """`crust 6 too pale`, as in the questions of `record`."""
    (marks,) = told("crust 6 too pale").marks

    assert (marks.crust, marks.faults) == (6, ("too pale",))


def test_without_marks_words_stand_in_the_log():
    """There is nobody's taste to note them under."""
    said = told("felt tight, dough 24C")

    assert said.log == ("felt tight",)
    assert said.marks == ()


def test_the_longest_name_of_a_step_is_meant():
    """`final proof` is no `final`."""
    said = in_words("final proof 50 min, proof 2 h", taster="noor", steps=("proof", "final proof"), flours=())

    assert said.steps == (("final proof", "50 min"), ("proof", "2 h"))


@pytest.mark.parametrize(
    ("words", "field", "value"),
    [
        ("12 rolls", "measured", (("pieces", "12"),)),
        ("884 g cold", "measured", (("baked weight", "884 g"),)),
        ("dough weight 1020 g", "measured", (("dough weight", "1020 g"),)),
        ("lot B-114", "flours", (("strong wheat flour", "lot B-114"),)),
        ("+6 g water", "log", ("+6 g water",)),
        ("room 21 C", "kitchen", (("room", "21 C"),)),
    ],
)
def test_each_thing_goes_where_a_trial_keeps_it(words, field, value):
    """One clause, one place."""
    assert getattr(told(words), field) == value


def test_a_lot_of_one_of_two_flours_is_not_guessed():
    """It is kept as words."""
    said = told("lot B-114", flours=("wheat flour", "rye flour"))

    assert said.flours == ()
    assert said.log == ("lot B-114",)


def test_a_temperature_without_its_scale_is_a_doubt():
    """It is asked about."""
    assert told("dough 25.5").doubts


def test_the_later_word_goes_before_the_earlier():
    """What is told twice is as told last; marks, faults and notes gain."""
    first = Said(
        batch="600 g flour",
        measured=(("pieces", "12"), ("cooled", "2 h")),
        marks=(Marks(taster="noor", crumb=Decimal(5), faults=("pale",), note="tight"),),
        log=("one",),
    )
    second = Said(
        measured=(("pieces", "11"),),
        marks=(Marks(taster="noor", crust=Decimal(0), faults=("pale", "flat"), note="dry"), Marks(taster="tomas")),
        log=("two",),
    )
    both = together(first, second)

    assert both.batch == "600 g flour"
    assert both.measured == (("pieces", "11"), ("cooled", "2 h"))
    assert both.log == ("one", "two")
    noor, tomas = both.marks
    assert (noor.crumb, noor.crust, noor.faults, noor.note) == (5, 0, ("pale", "flat"), "tight; dry")
    assert tomas == Marks(taster="tomas")


def test_a_mark_says_what_it_is_out_of():
    """8/10 is a mark of 8 out of 10, one out of 5 is on another scale, and 6 1/2 is six and a half."""
    marks = in_words("crumb 8/10, crust 4 of 5", taster="noor", steps=(), flours=()).marks[0]
    assert (marks.crumb, marks.crust, marks.out_of) == (8, 4, (10, 5))
    assert USUAL_SCALE.another(marks.out_of) == 5
    assert mark_out_of("8/10") == mark_out_of("8 out of 10") == (8, (10,))
    assert mark_out_of("6 1/2") == (Decimal("6.5"), ())
