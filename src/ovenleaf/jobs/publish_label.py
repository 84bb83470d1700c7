"""The figures for a label: what 100 g of the bread hold, its ingredients by weight, and what a piece weighs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps import weighing as told
from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.opening import open_pantry, open_to_read
from ovenleaf.book.steps.publishing import chosen, formula_and_revision
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import take
from ovenleaf.domain.allergens import allergens
from ovenleaf.domain.label import listed
from ovenleaf.domain.numbers import HUNDRED, portion
from ovenleaf.domain.nutrition import nutrition
from ovenleaf.errors import Next, Refusal
from ovenleaf.results.publishing import Label

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from pathlib import Path


class LossWanted(Refusal):
    """A label tells of the bread, and nothing says what the oven takes. Fact: `formula`."""

    def __init__(self, formula: str, out: str) -> None:
        super().__init__(
            "Not published: a label tells of the bread, and how much the oven takes is not known.",
            detail=(
                f"{formula} says no bake loss, and no bake of it has measured one. Weigh the dough that goes in and"
                " the bread that is cold, and record both; or say the loss.",
            ),
            next=(Next(f"ovenleaf publish {formula} --as label --bake-loss 13% --out {out}"),),
        )
        self.formula = formula


def label(given: Path | None, start: Path, words: Sequence[str], *, bake_loss: str, out: str, now: datetime) -> Label:
    """Work the figures of one revision out. Raises LossWanted, and the refusals of its steps."""
    book = open_to_read(given, start)
    name, revision = formula_and_revision(tuple(words))
    shelf = take(book.root, name)
    kept, why = chosen(shelf, revision)
    pantry = open_pantry(book.root)
    sheet = kept_sheet(shelf, kept, pantry)
    trials = [trial for trial in read_trials(book.root, shelf.name)[0] if trial.counts]
    loss = told.loss("bake", bake_loss, sheet.formula, trials)
    if loss.source == "none":
        raise LossWanted(shelf.name, out)
    each = told.wanted_by_page(sheet).each
    return Label(
        sheet=sheet,
        book=book.page.title,
        made=now.date().isoformat(),
        chosen=why,
        loss=loss,
        nutrition=nutrition(sheet.worked, loss.pct, pantry),
        listed=listed(sheet.formula, sheet.worked, loss.pct, pantry),
        allergens=allergens(sheet.allergens),
        piece=None if each is None else portion(HUNDRED - loss.pct, each),
    )
