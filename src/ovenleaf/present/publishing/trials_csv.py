"""Trials as comma-separated values for a spreadsheet: one row a trial, a unit in the head of each column of figures.

The day of the table and of each trial's last correction tell an older table from a newer one.
What was planned stands left of what was done; a blank is not recorded, and never zero. A cell of words that a
spreadsheet would take for a formula gets an apostrophe in front, which makes it text there.
"""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from ovenleaf.compare.figures import Source
from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.present.screen import clean

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.results.publishing import TrialRow, TrialTable

_RISKY = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")
_PER = {"%": "% of all the flour", "°C": "°C", "min": "min", "g": "g", "": "number"}
_OF_DOUGH = ("bake loss", "bench loss")


def trials_csv(table: TrialTable) -> str:
    """The whole file: a mark in front by which spreadsheets know its letters, and line ends as they want them."""
    told = [(_told(row, table.made), _marks(row), _figures(row)) for row in table.rows]
    # What any of the trials has, in the order it is met: what it is, its marks, its figures.
    columns = list(dict.fromkeys(name for part in range(3) for row in told for name in row[part]))
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    for one, marks, figures in told:
        cells = {**one, **marks, **figures}
        writer.writerow([cells.get(name, "") for name in columns])
    return f"\ufeff{out.getvalue()}"


def as_text(words: str) -> str:
    """Words that stay words in a spreadsheet.

    >>> as_text("=1+1"), as_text("tight")
    ("'=1+1", 'tight')
    """
    told = clean(words)
    return f"'{told}" if told.lstrip().startswith(_RISKY) else told


def _told(row: TrialRow, made: str) -> dict[str, str]:
    trial = row.trial
    said = {
        "code": trial.code,
        "trial": trial.name,
        "formula": trial.formula,
        "revision": trial.revision,
        "state": str(trial.state),
        "baked on": trial.bake_date,
        "baker": trial.baker,
        "batch": trial.batch,
        "question": trial.question,
        "left out of rankings": trial.left_out,
        "shares the dough of": trial.shares_dough_with,
        "last put right": max((one.at for one in trial.corrections), default="")[: len("2026-11-18")],
        "table made on": made,
    }
    flour = {"flour (g)": _number(row.flour)}
    return {name: as_text(words) for name, words in said.items()} | flour


def _marks(row: TrialRow) -> dict[str, str]:
    """Means over the tasters, then each taster's own; faults and words of them all."""
    trial, outcome = row.trial, row.outcome
    means = {name: _number(getattr(outcome, name)) for name in ("score", "crumb", "crust", "flavour")}
    own = {
        as_text(f"{name}, {marks.taster}"): _number(getattr(marks, name))
        for marks in trial.scores
        for name in ("crumb", "crust", "flavour")
        if getattr(marks, name) is not None
    }
    faults = "; ".join(fault for marks in trial.scores for fault in marks.faults)
    notes = "; ".join(f"{marks.taster}: {marks.note}" for marks in trial.scores if marks.note)
    scale = {"scale": str(trial.scale) if trial.scale else ""}
    return scale | means | own | {"faults": as_text(faults), "notes": as_text(notes)}


def _figures(row: TrialRow) -> dict[str, str]:
    """Items as planned and as weighed or confirmed, totals and measurements as they were."""
    items = dict(row.planned)
    cells = {}
    for name, figure in row.figures:
        per = "% of the dough" if name in _OF_DOUGH else _PER.get(figure.unit, figure.unit)
        was = "" if figure.source is Source.PLANNED else _number(figure.value)
        if name in items:
            cells[as_text(f"{name}, planned ({per})")] = _number(items[name])
        cells[as_text(f"{name}, as baked ({per})")] = was
    return cells


def _number(value: Decimal | None) -> str:
    """A figure with a point, to a hundredth at most; "" for what is not known."""
    return "" if value is None else plain(rounded(value, 2))
