"""Every taster's marks of one bake as text, and what they come to. Blank is not scored, never zero."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import mark, mark_as_given
from ovenleaf.domain.late_marks import told_late
from ovenleaf.evidence.ranking import outcome
from ovenleaf.present.screen import count, join_words, rows, short_date, wrap

if TYPE_CHECKING:
    from datetime import datetime
    from decimal import Decimal

    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.trial import Marks, Trial


def marks_block(trial: Trial, book: BookPage) -> str:
    """Every taster's marks, and what they come to. Blank is not scored, never zero."""
    if not trial.scores:
        return "Not scored yet."
    scale = trial.scale or book.scale
    lines = []
    late = told_late(trial)
    for name in ("crumb", "crust", "flavour"):
        for marks in trial.scores:
            if (value := getattr(marks, name)) is not None:
                lines.append((name, f"{mark_as_given(value)} of {scale.high}", _taster(marks, name, late)))
    result = outcome(trial.scores, book.weights)
    if result.score is not None:
        lines.append(("score", mark(result.score), weights_words(book.weights)))
    notes = [("note", "", f"{marks.note} ({marks.taster})") for marks in trial.scores if marks.note]
    faults = [("fault", "", f"{join_words(marks.faults)} ({marks.taster})") for marks in trial.scores if marks.faults]
    table = rows([*lines, *faults, *notes], "<<<")
    missing = [name for name, weight in book.weights if weight and _nobody(trial, name)]
    blank = wrap(f"Nobody scored the {join_words(missing)} yet, so there is no score.", 2) if missing else ""
    return "\n".join(filter(None, (table, blank, _how_many(trial, book))))


def _how_many(trial: Trial, book: BookPage) -> str:
    """How many tasters are behind each mean, where not everyone marked everything; "" else."""
    used = [name for name, weight in book.weights if weight]
    counts = {name: sum(getattr(marks, name) is not None for marks in trial.scores) for name in used}
    if not all(counts.values()) or len(set(counts.values())) < 2:
        return ""
    told = [f"{name} by {count(number, 'taster')}" for name, number in counts.items()]
    return wrap(f"Not everyone marked everything: {join_words(told)}.", 2)


def _nobody(trial: Trial, name: str) -> bool:
    return all(getattr(marks, name) is None for marks in trial.scores)


def _taster(marks: Marks, name: str, late: dict[tuple[str, str], datetime]) -> str:
    added = late.get((marks.taster, name))
    hours = f"{mark_as_given(marks.hours_after)} h after baking" if marks.hours_after is not None else ""
    blind = "" if marks.blind is None else "did not know which" if marks.blind else "knew which"
    return ", ".join(
        filter(None, (marks.taster, hours, blind, f"added {short_date(added.isoformat())}" if added else ""))
    )


def weights_words(weights: tuple[tuple[str, Decimal], ...]) -> str:
    """How the score is put together."""
    used = [(name, weight) for name, weight in weights if weight]
    if len(used) == 1:
        return f"{used[0][0]} alone"
    if len({weight for _, weight in used}) == 1:
        return f"{join_words([name for name, _ in used])} in equal shares"
    return join_words([f"{mark_as_given(w)} {'part' if w == 1 else 'parts'} {name}" for name, w in used])
