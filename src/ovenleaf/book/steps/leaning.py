"""What a page that went out says of bakes, worked out again from what was known of them when it was published."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.weighing import loss
from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.behind import baked, behind, leaning
from ovenleaf.domain.bench_log import FINISHED
from ovenleaf.domain.log import log_lines

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from ovenleaf.book.steps.shelf import Kept, Shelf
    from ovenleaf.domain.book import Published
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.trial import Trial

    Bakes = Callable[[str], tuple[tuple[Trial, ...], Mapping[str, str]]]


def moved(bakes: Bakes, shelf: Shelf, kept: Kept, page: Published, pantry: Pantry) -> tuple[str, bool]:
    """What it says of bakes and what the book says now, in words, "" where these agree; and whether that was put right.

    `bakes` gives a formula's trials, and the mixing of each by its code. Those that came after the page are no
    matter: it says when it was made. Raises what `kept_sheet` raises.
    """
    trials, mixing = bakes(shelf.name)
    known = tuple(trial for trial in trials if _known_then(trial, page.at))
    sheet = kept_sheet(shelf, kept, pantry)
    flour = flour_in_batch(f"{page.flour} flour", sheet.worked) if page.flour else None
    found = None if flour is None else behind(baked(known, page.revision), mixing, sheet.worked, flour)
    now = leaning(found, loss("bake", "", sheet.formula, [trial for trial in known if trial.counts]))
    if not page.leans_on or now == page.leans_on:
        return "", False
    was = [one for one in page.leans_on if one not in now]
    told = [one for one in now if one not in page.leans_on]
    righted = {trial.code: trial for trial in known if any(_after(one.at, page.at) for one in trial.corrections)}
    of = f"{_and(righted)} {'was' if len(righted) == 1 else 'were'} put right" if righted else "more was told"
    book = f"the book says now: {'; '.join(told)}" if told else "the book knows no such figure now"
    return f"{of} since. The page goes by {'; '.join(was)}; {book}.", bool(righted)


def _and(words: Iterable[str]) -> str:
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def _known_then(trial: Trial, at: str) -> bool:
    """True for a bake that was in the book, and over, when the page went out."""
    if any(line.words == FINISHED and line.at > datetime.fromisoformat(at) for line in log_lines(trial.log)):
        return False
    entered = trial.entered or trial.started
    return not _after(entered, at) if entered else trial.day <= at[: len("2026-11-18")]


def _after(one: str, other: str) -> bool:
    return datetime.fromisoformat(one) > datetime.fromisoformat(other)
