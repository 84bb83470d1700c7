"""Formulas, trials and ingredient lists from the text of a page, in one expression, as a baker types them."""

from __future__ import annotations

from functools import cache
from textwrap import dedent, indent
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

from ovenleaf.domain import dough
from ovenleaf.domain import sheet as sheets
from ovenleaf.domain.faults import FormulaFault
from ovenleaf.domain.ingredients import Ingredient, Pantry
from ovenleaf.domain.numbers import portion
from ovenleaf.errors import PageRefused
from ovenleaf.records import wording
from ovenleaf.records.assets import ingredients_text
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.codec.ingredients import read_ingredients
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.percent import Share, Worked
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial
    from ovenleaf.findings import Finding

# Laws are tried on the same few examples on every machine, so that a failure is one anywhere.
QUICK = settings(max_examples=60, deadline=None, derandomize=True, database=None)


def formula(text: str, *, name: str = "loaf") -> Formula:
    """The formula that a page with this text says."""
    return read_formula(read(dedent(text), path=f"{name}.yaml"), name=name)


def trial(text: str) -> Trial:
    """The trial that a page with this text says; its names are filled in where it does not say them."""
    typed = dedent(text)
    usual = {"trial": "loaf/2026-11-12-noor", "formula": "loaf", "revision": "r1.noor", "code": "D2"}
    said = "".join(f"{key}: {value}\n" for key, value in usual.items() if f"{key}:" not in _keys(typed))
    return read_trial(read(said + typed, path="trial.yaml"))


def _keys(text: str) -> set[str]:
    return {line.partition(":")[0] + ":" for line in text.splitlines() if line[:1].isalpha()}


def pantry(own: str = "") -> Pantry:
    """The built-in ingredient list, and over it a book's own, given as the lines under `ingredients:`."""
    return Pantry((*_built_in(), *_own(own))) if own else _usual()


@cache
def _built_in() -> tuple[Ingredient, ...]:
    return read_ingredients(read(ingredients_text(), path="the built-in list"))


@cache
def _usual() -> Pantry:
    return Pantry(_built_in())


def _own(text: str) -> tuple[Ingredient, ...]:
    return read_ingredients(read("ingredients:\n" + indent(dedent(text).strip("\n"), "  "), path="ingredients.yaml"))


def worked(text: str, *, own: str = "") -> Worked:
    """The page worked out."""
    return dough.work_out(formula(text), pantry(own))


def sheet(text: str, *, own: str = "") -> Sheet:
    """The page worked out, with its totals."""
    page, known = formula(text), pantry(own)
    return sheets.sheet(page, dough.work_out(page, known), known, None)


def refused(text: str, *, own: str = "") -> FormulaFault:
    """The fault for which the page does not come out; the test fails where it does."""
    with pytest.raises(FormulaFault) as caught:
        worked(text, own=own)
    return caught.value


def told(text: str, *, own: str = "") -> Finding:
    """What a baker is told of a page that does not come out."""
    page = read(dedent(text), path="loaf.yaml")
    return wording.finding(refused(text, own=own), page, pantry(own))


def faults(text: str) -> tuple[Finding, ...]:
    """What is wrong with the lines of a formula page, before any arithmetic; the test fails where nothing is."""
    with pytest.raises(PageRefused) as caught:
        formula(text)
    return caught.value.findings


def shares(rows: tuple[Share, ...]) -> dict[str, object]:
    """Items with their percent of all the flour."""
    return {row.item: row.pct for row in rows}


def grams(rows: tuple[Share, ...], flour: object) -> dict[str, object]:
    """Items with their weight in g, for so many g of flour."""
    return {row.item: portion(row.pct, flour) for row in rows}
