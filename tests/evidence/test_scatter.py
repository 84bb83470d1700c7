"""Pooled scatter against certified results: NIST Statistical Reference Datasets (StRD), and published data.

Univariate sets and one-way analyses of variance are certified to fifteen digits; sums here are in Decimals
of 28 digits, so all certified digits are asked for.
"""

from __future__ import annotations

import csv
import re
from decimal import Decimal
from pathlib import Path

import pytest
import scipy

from baked import EQUAL, TEN, baked, marks
from ovenleaf.evidence.ranking import rank
from ovenleaf.evidence.scatter import ENOUGH, pooled_within, scatter, scatter_for
from ovenleaf.evidence.units import doughs, mean

DATA = Path(__file__).parents[1] / "data"
NIST_ANOVA = Path(scipy.__file__).parent / "stats/tests/data/nist_anova"


def column(name, what):
    """One column of a table in tests/data."""
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()[1:]
    return [row[what] for row in csv.DictReader(lines)]


# NIST StRD Mavro, all 50 values as seen in public test suites.
# fmt: off
MAVRO = [
    "2.00180", "2.00170", "2.00180", "2.00190", "2.00180", "2.00170", "2.00150", "2.00140", "2.00150", "2.00150",
    "2.00170", "2.00180", "2.00180", "2.00190", "2.00190", "2.00210", "2.00200", "2.00160", "2.00140", "2.00130",
    "2.00130", "2.00150", "2.00150", "2.00160", "2.00150", "2.00140", "2.00130", "2.00140", "2.00150", "2.00140",
    "2.00150", "2.00160", "2.00150", "2.00160", "2.00190", "2.00200", "2.00200", "2.00210", "2.00220", "2.00230",
    "2.00240", "2.00250", "2.00270", "2.00260", "2.00260", "2.00260", "2.00270", "2.00260", "2.00250", "2.00240",
]
# fmt: on


def pairs(first, low, high):
    """The StRD NumAcc sets 2 to 4: one value, then 500 pairs about it."""
    return [first, *(low, high) * 500]


# name: values, certified mean, certified standard deviation (NIST StRD, univariate summary statistics)
UNIVARIATE = {
    # R's morley holds the same measurements, less 299000 and in km/s
    "Michelso": ([Decimal(v) / 1000 + 299 for v in column("morley.csv", "speed")], "299.8524", "0.0790105478190518"),
    "Mavro": (MAVRO, "2.001856", "0.000429123454003053"),
    "NumAcc1": (["10000001", "10000003", "10000002"], "10000002", "1"),
    "NumAcc2": (pairs("1.2", "1.1", "1.3"), "1.2", "0.1"),
    "NumAcc3": (pairs("1000000.2", "1000000.1", "1000000.3"), "1000000.2", "0.1"),
    "NumAcc4": (pairs("10000000.2", "10000000.1", "10000000.3"), "10000000.2", "0.1"),
}


def same_digits(value, certified):
    """True where a value has all the digits that were certified."""
    return value.quantize(Decimal(certified)) == Decimal(certified)


@pytest.mark.parametrize("name", UNIVARIATE)
def test_means_and_deviations_have_all_certified_digits(name):
    """One revision of many doughs: its mean and its scatter are the certified ones."""
    values, certified_mean, certified_deviation = UNIVARIATE[name]
    values = [Decimal(value) for value in values]
    found = pooled_within([values])

    assert mean(values) == Decimal(certified_mean)
    assert found.repeats == len(values) - 1
    assert same_digits(found.deviation, certified_deviation)


# name: repeats, certified residual standard deviation (NIST StRD, analysis of variance; data as in scipy's tests)
ONE_WAY = {
    "SiRstv": (20, "0.104076068334656"),
    "SmLs01": (180, "0.1"),
    "SmLs04": (1800, "0.1"),
    "SmLs07": (180, "0.1"),
}


def nist_groups(name):
    """The groups of a StRD file, and the residual deviation certified in its head."""
    text = (NIST_ANOVA / f"{name}.dat").read_text(encoding="ascii")
    certified = re.search(r"Certified Residual +Standard Deviation *(\S+)", re.sub(r"\s+", " ", text))
    first = int(re.search(r"Data *\(lines (\d+) to", text)[1])
    groups = {}
    for line in text.splitlines()[first - 1 :]:
        if line.strip():
            level, value = line.split()
            groups.setdefault(level, []).append(Decimal(value))
    return tuple(groups.values()), certified


@pytest.mark.parametrize("name", ["SiRstv", "SmLs01", "SmLs04", "SmLs07"])
def test_pooled_scatter_is_the_residual_of_a_one_way_analysis(name):
    """Certified to fifteen digits; SmLs07 differs in its thirteenth digit only."""
    if not NIST_ANOVA.is_dir():
        pytest.skip("this scipy comes without its test data")
    groups, _ = nist_groups(name)
    found = pooled_within(groups)

    assert found.repeats == sum(len(group) - 1 for group in groups)
    assert same_digits(found.deviation, ONE_WAY[name][1])


def test_the_cakes_of_1938():
    """Breaking angles, Cook 1938: means by recipe and by temperature as trade tables give them, from lme4's cake."""
    recipes, angles = column("cake.csv", "recipe"), [Decimal(v) for v in column("cake.csv", "angle")]
    temperatures = column("cake.csv", "temperature")

    def means(by):
        return {
            key: f"{mean([a for b, a in zip(by, angles, strict=True) if b == key]):.4f}" for key in dict.fromkeys(by)
        }

    assert means(recipes) == {"A": "33.1222", "B": "31.6444", "C": "31.6000"}
    assert list(means(temperatures).values()) == ["27.9778", "29.9556", "31.4222", "32.1778", "35.8444", "35.3556"]
    deviations = [
        pooled_within([[a for r, a in zip(recipes, angles, strict=True) if r == key]]).deviation for key in "ABC"
    ]
    assert [f"{value:.4f}" for value in deviations] == ["7.4906", "8.3965", "8.7021"]


def test_without_repeats_there_is_no_scatter():
    """One dough each says nothing, and so does none at all."""
    one_each = doughs(rank([baked("A1", marks(6, 6)), baked("A2", marks(8, 8), revision="r2.noor")], EQUAL, TEN).rows)

    assert [(s.repeats, s.deviation) for s in (scatter(one_each, "score"), scatter((), "score"))] == [(0, None)] * 2


def test_a_formula_with_repeats_enough_is_judged_by_its_own():
    """Nine doughs of a roll are eight repeats; with fewer, the rye's count as well."""
    rolls = [baked(f"A{n}", marks(6 + n % 2, 6)) for n in range(1, ENOUGH + 2)]
    ryes = [baked(f"B{n}", marks(2 * n, 6), formula="caraway-rye") for n in range(1, 5)]
    whole = doughs(rank([*rolls, *ryes], EQUAL, TEN).rows)

    assert (scatter_for("market-roll", whole, "score").repeats, scatter_for("market-roll", whole, "score").formula) == (
        ENOUGH,
        "market-roll",
    )
    assert scatter_for("caraway-rye", whole, "score").repeats == ENOUGH + 3
    fewer = [dough for dough in whole if "A1" not in dough.codes]
    assert (scatter_for("market-roll", fewer, "score").repeats, scatter_for("market-roll", fewer, "score").formula) == (
        10,
        "",
    )


def test_a_blank_crumb_is_left_out_of_the_scatter_of_crumb():
    """Where crust alone has weight, a dough without a crumb still counts for crust."""
    crust = (("crumb", Decimal(0)), ("crust", Decimal(1)))
    found = doughs(
        rank([baked("A1", marks(None, 6)), baked("A2", marks(8, 8)), baked("A3", marks(6, 8))], crust, TEN).rows
    )

    assert (scatter(found, "crumb").repeats, scatter(found, "crust").repeats) == (1, 2)
