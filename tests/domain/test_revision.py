"""Names of formulas, revisions and trials: what is one, what it may mean, what comes next."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.domain.revision import (
    RESERVED,
    RevisionName,
    code_at,
    is_slug,
    matching,
    next_code,
    next_number,
    place_of,
    revision_name,
    slug_of,
)

NOOR, TOMAS = RevisionName(2, ("noor",)), RevisionName(2, ("tomas",))


@pytest.mark.parametrize("name", ["market-roll", "ab", "roll-2", "a" * 41])
def test_a_name_is_small_letters_figures_and_hyphens(name):
    """As it stands in a folder."""
    assert is_slug(name)


@pytest.mark.parametrize(
    "name",
    ["", "a", "a" * 42, "Roll", "2-rolls", "-roll", "roll-", "market roll", "../up", "a.b", "a/b", "r\u00f6lli", "a\n"],
)
def test_what_is_no_name(name):
    """Nothing that leads out of a folder, or that another file system would read otherwise."""
    assert not is_slug(name)


@pytest.mark.parametrize("name", sorted(RESERVED))
def test_words_that_mean_something_to_a_machine_are_no_names(name):
    """Devices of Windows and words of YAML."""
    assert not is_slug(name)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Market Roll!", "market-roll"),
        ("  Roggen--Brot  ", "roggen-brot"),
        ("x" * 60, "x" * 41),
        ("a" * 40 + " b", "a" * 40),
        ("!!", ""),
    ],
)
def test_the_name_nearest_to_what_was_typed(typed, name):
    """Or nothing, where no letter is left."""
    assert slug_of(typed) == name


@pytest.mark.parametrize("typed", ["r2.noor", "r10.noor-shop", "r3.noor.tomas"])
def test_a_full_name_reads_back_as_itself(typed):
    """Number and handle; both handles where two were combined."""
    assert str(revision_name(typed)) == typed


@pytest.mark.parametrize(
    "typed", ["r2", "2.noor", "r0.noor", "r02.noor", "r2.Noor", "r2.", "r2.noor.", "x", "r9999999.noor"]
)
def test_what_is_no_full_name(typed):
    """None, so that a short form is never taken for a full one."""
    assert revision_name(typed) is None


@pytest.mark.parametrize("typed", ["2", "r2", "R2", "revision 2", " r2 "])
def test_a_number_may_mean_two_bakers_revisions(typed):
    """Both are given, and the command asks which."""
    assert matching(typed, (NOOR, TOMAS, RevisionName(3, ("noor",)))) == (NOOR, TOMAS)


def test_a_full_name_means_one():
    """With its handle there is no doubt."""
    assert matching("r2.tomas", (NOOR, TOMAS)) == (TOMAS,)


@pytest.mark.parametrize("typed", ["", "r", "-1", "2.5", "latest", "r2.anna", "r7"])
def test_what_is_not_there_means_nothing(typed):
    """No guess is made."""
    assert matching(typed, (NOOR, TOMAS)) == ()


def test_numbers_are_never_used_again():
    """One more than the highest, whoever saved it and whatever is missing in between."""
    assert next_number(()) == 1
    assert next_number((NOOR, TOMAS)) == 3
    assert next_number((NOOR, RevisionName(7, ("tomas",)))) == 8


def test_revisions_sort_by_number_and_not_by_letters():
    """r10 comes after r9."""
    names = [RevisionName(10, ("noor",)), RevisionName(9, ("tomas",)), RevisionName(9, ("noor",))]

    assert [str(name) for name in sorted(names)] == ["r9.noor", "r9.tomas", "r10.noor"]


@QUICK
@given(st.integers(0, 10**6))
def test_every_place_has_one_code(place):
    """`place_of` is the inverse of `code_at`."""
    assert place_of(code_at(place)) == place


def test_codes_never_repeat_and_avoid_letters_that_look_like_figures():
    """No I and no O on tape with floury fingers."""
    codes = [code_at(place) for place in range(5000)]

    assert len(set(codes)) == 5000
    assert not {"I", "O"} & {code[0] for code in codes}
    assert all(len(code) == 2 for code in codes[:216])


@pytest.mark.parametrize("typed", ["", "A", "A0", "A01", "I3", "O1", "a1", "AA1", "1A", "A123456"])
def test_what_is_no_code(typed):
    """Letter and figures, nothing else."""
    assert place_of(typed) is None


def test_the_next_code_follows_the_highest_ever_given():
    """A gap is not filled, since its code may stand on a photograph."""
    assert next_code(frozenset()) == "A1"
    assert next_code(frozenset({"A1", "A7", "not a code"})) == "A8"
    assert next_code(frozenset({"A9"})) == "B1"
    assert next_code(frozenset({"Z9"})) == "A10"
