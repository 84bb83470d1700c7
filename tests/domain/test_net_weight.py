"""What a prepacked piece may weigh less than it says."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ovenleaf.domain.net_weight import tolerance


@pytest.mark.parametrize(
    ("nominal", "error", "few", "none"),
    [
        # Council Directive 76/211/EEC, Annex I, 2.4; the same figures stand in New Zealand's Weights and Measures
        # Regulations, schedule 7A, table 2.
        ("60", "4.5", "55.5", "51"),
        ("250", "9", "241", "232"),
        ("400", "12", "388", "376"),
        ("800", "15", "785", "770"),
        # The edges of the table, by hand; percentages round up.
        ("50", "4.5", "45.5", "41"),
        ("100", "4.5", "95.5", "91"),
        ("101", "4.6", "96.4", "91.8"),
        ("200", "9", "191", "182"),
        ("500", "15", "485", "470"),
        ("1001", "16", "985", "969"),
        ("10000", "150", "9850", "9700"),
    ],
)
def test_how_much_less_a_pack_may_weigh(nominal, error, few, none):
    """The tolerable error, once and twice, off the weight that is marked."""
    found = tolerance(Decimal(nominal))
    assert (found.error, found.few_under, found.none_under) == (Decimal(error), Decimal(few), Decimal(none))


@pytest.mark.parametrize("nominal", ["4.9", "0", "10001"])
def test_the_rule_has_its_bounds(nominal):
    """From 5 g to 10 kg."""
    assert tolerance(Decimal(nominal)) is None
