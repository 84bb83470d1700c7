"""Blind tastings: codes by lot, orders in balance, a key that a glance does not give away."""

from __future__ import annotations

import random
from collections import Counter
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.domain.tasting import (
    Design,
    Tasting,
    draw_codes,
    odd_one,
    seal,
    serving_orders,
    triads,
    turned,
    unseal,
)
from ovenleaf.domain.trial import Marks


def by_lot(seed):
    lots = random.Random(seed)
    return lambda count: tuple(lots.sample(range(count), count))


@pytest.mark.parametrize("breads", [2, 3, 4, 5, 6, 7, 8])
def test_orders_are_in_balance(breads):
    """With a whole square of tasters each bread comes as often at each place, and as often after each other one."""
    rows = breads if breads % 2 == 0 else 2 * breads
    orders = serving_orders(breads, rows, by_lot(breads))

    for place in range(breads):
        assert len(set(Counter(order[place] for order in orders).values())) == 1
    after = Counter(pair for order in orders for pair in pairwise(order))
    assert len(after) == breads * (breads - 1)
    assert len(set(after.values())) == 1


@QUICK
@given(st.integers(2, 8), st.integers(1, 20), st.integers(0, 99))
def test_every_taster_gets_every_bread_once(breads, tasters, seed):
    """Whatever the lot and however few tasters."""
    orders = serving_orders(breads, tasters, by_lot(seed))

    assert len(orders) == tasters
    assert all(sorted(order) == list(range(breads)) for order in orders)


def test_codes_have_three_digits_and_none_is_used_twice():
    """Drawn by lot, without those that are under way; too few left are too few."""
    used = frozenset(str(code) for code in range(100, 995))
    codes = draw_codes(5, used, by_lot(1))

    assert sorted(codes) == ["995", "996", "997", "998", "999"]
    assert len(draw_codes(6, used, by_lot(1))) == 5


def test_triads_use_all_six_orders_as_often():
    """AAB, ABA, BAA and their mirror images (ISO 4120)."""
    assert sorted(Counter(triads(12, by_lot(3))).items()) == [
        (t, 2) for t in ("AAB", "ABA", "ABB", "BAA", "BAB", "BBA")
    ]


@QUICK
@given(st.dictionaries(st.from_regex(r"[1-9][0-9]{2}", fullmatch=True), st.from_regex(r"[A-Z][1-9]", fullmatch=True)))
def test_a_sealed_key_opens_again_and_shows_neither_code_nor_bread(key):
    """Turned letters and figures, twice, are what they were."""
    sealed = seal(tuple(key.items()))

    assert dict(unseal(sealed)) == key
    assert not any(f"{code} {bread}" in sealed for code, bread in key.items())
    assert turned(turned(sealed)) == sealed


def test_what_is_still_to_come():
    """By taster and code; a triangle is told when one code is named; nothing is awaited from who is absent."""
    orders = (("noor", ("417", "282")), ("tomas", ("282", "417")))
    told = (("noor", "417", Marks(taster="noor", crumb=Decimal(7))),)
    tasting = Tasting(name="x", design=Design.MARKS, orders=orders, marks=told, absent=(("tomas", "ill"),))

    assert tasting.still_to_come == (("noor", ("282",)),)
    assert tasting.blanks((("crumb", Decimal(1)), ("crust", Decimal(1)))) == (("noor", "417", ("crust",)),)
    three = Tasting(name="x", design=Design.TRIANGLE, orders=(("noor", ("417", "282", "905")),), odd=(("noor", "282"),))
    assert three.still_to_come == ()


def test_the_odd_one():
    """The one of three that is another bread."""
    assert odd_one(("417", "282", "905"), (("417", "A1"), ("282", "B2"), ("905", "A1"))) == "282"
