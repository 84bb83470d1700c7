"""Rank trials, or revisions, by the crumb and crust scores that were entered."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.opening import open_to_read
from ovenleaf.book.steps.shelf import formula_names, spoken_of
from ovenleaf.book.steps.shelf_faults import UnknownFormula
from ovenleaf.domain.numbers import NumberFault, number
from ovenleaf.domain.revision import slug_of
from ovenleaf.domain.trial import ATTRIBUTES, ScoreScale
from ovenleaf.errors import Next, Refusal
from ovenleaf.evidence.ranking import by_revision, rank
from ovenleaf.evidence.standing import Standings, all_standings, repeats_enough
from ovenleaf.evidence.units import by_person, on_scale
from ovenleaf.results import RankedTrials

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal
    from pathlib import Path

    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.ranking import RankedRevision
    from ovenleaf.findings import Finding


class NoTrials(Refusal):
    """Nothing was baked yet. Fact: `formulas`."""

    def __init__(self, formulas: tuple[str, ...], names: tuple[str, ...]) -> None:
        of = f" of {' or '.join(formulas)}" if formulas else ""
        super().__init__(
            f"There is no trial{of} yet, so there is nothing to rank.",
            next=(
                Next(f"ovenleaf record {(formulas or names)[0]}", "when it is baked")
                if names
                else Next("ovenleaf enter stall-loaf", "put in a formula, asked line by line"),
            ),
        )
        self.formulas = formulas


class BadWeights(Refusal):
    """Weights that cannot be used. Fact: `typed`."""

    def __init__(self, typed: str, why: str) -> None:
        super().__init__(
            f"The weights {typed} cannot be used: {why}",
            detail=("Give crumb, crust or flavour a number each, as in crumb=2,crust=1.",),
        )
        self.typed = typed


class BadOrder(Refusal):
    """Something that cannot be put in order. Fact: `typed`."""

    def __init__(self, typed: str, formulas: Sequence[str]) -> None:
        super().__init__(
            f"There is no ranking by {typed}.",
            next=(
                Next(" ".join(("ovenleaf rank", *formulas, "--by trial"))),
                Next(" ".join(("ovenleaf rank", *formulas, "--by revision"))),
            ),
        )
        self.typed = typed


def _weights(typed: str) -> tuple[tuple[str, Decimal], ...]:
    """`crumb=2,crust=1`, or `crumb 2, crust 1`. Raises BadWeights."""
    found = []
    for one in filter(None, map(str.strip, typed.split(","))):
        name, sign, figure = one.partition("=" if "=" in one else " ")
        if not sign or name.strip() not in ATTRIBUTES:
            raise BadWeights(typed, f"{one} is not crumb, crust or flavour with a number.")
        try:
            weight = number(figure)
        except NumberFault:
            raise BadWeights(typed, f"{figure} is not a number.") from None
        if weight < 0:
            raise BadWeights(typed, f"{figure} is below zero.")
        found.append((name.strip(), weight))
    if found and not any(weight for _, weight in found):
        raise BadWeights(typed, "one of them must be above zero.")
    return tuple(found)


class BadScale(Refusal):
    """Something that is not a scale. Fact: `typed`."""

    def __init__(self, typed: str, formulas: Sequence[str]) -> None:
        super().__init__(
            f"{typed} is not a scale of marks.",
            detail=("A scale is its lowest and its highest mark, as in 0 to 10.",),
            next=(Next(" ".join(("ovenleaf rank", *formulas, '--scale "0 to 10"'))),),
        )
        self.typed = typed


def ranked(
    given: Path | None,
    start: Path,
    formulas: Sequence[str],
    *,
    by: str = "trial",
    weights: str = "",
    top: int | None = None,
    scale: str = "",
    convert: bool = False,
) -> RankedTrials:
    """Rank the trials of some formulas, or of all; `by` is `trial` or `revision`.

    Bakes scored on another scale than `scale` (the book's, if none is given) are left out, or with
    `convert` their marks are moved to it in proportion.
    """
    if by not in ("trial", "revision"):
        raise BadOrder(by, formulas)
    book = open_to_read(given, start)
    names = formula_names(book.root)
    wanted = tuple(_known_name(typed, names) for typed in formulas)
    used = _weights(weights) or book.page.weights
    on = _scale(scale, formulas) if scale else book.page.scale

    def comparable(trials: Sequence[Trial]) -> tuple[Trial, ...]:
        persons = by_person(trials, dict(book.page.persons))
        told = (replace(trial, scale=trial.scale or book.page.scale) for trial in persons)
        return tuple(on_scale(trial, on) if convert else trial for trial in told)

    read, findings = _trials(book.root, wanted)
    if not read and not findings:
        raise NoTrials(wanted, names)
    trials = comparable(read)
    ranking = rank(trials, used, on)
    revisions: tuple[RankedRevision, ...] | None = None
    standings: tuple[Standings, ...] = ()
    if by == "revision":
        alone = not wanted or repeats_enough(trials, used, on)
        whole = trials if alone else comparable(_trials(book.root, ())[0])
        revisions, standings = by_revision(ranking), all_standings(trials, whole, used, on)
    return RankedTrials(
        formulas=wanted,
        ranking=ranking,
        revisions=revisions,
        standings=standings,
        book=book.page,
        scale=on,
        converted=convert,
        weights=used,
        top=top,
        findings=(*book.findings, *findings),
        spoken=spoken_of(book.root, trials),
    )


def _scale(typed: str, formulas: Sequence[str]) -> ScoreScale:
    """`1 to 5`. Raises BadScale."""
    low, _, high = typed.partition(" to ")
    try:
        scale = ScoreScale(low=number(low), high=number(high))
    except NumberFault:
        raise BadScale(typed, formulas) from None
    if scale.low >= scale.high:
        raise BadScale(typed, formulas)
    return scale


def _known_name(typed: str, names: tuple[str, ...]) -> str:
    if slug_of(typed) not in names:
        raise UnknownFormula(typed, names)
    return slug_of(typed)


def _trials(root: Path, wanted: tuple[str, ...]) -> tuple[tuple[Trial, ...], tuple[Finding, ...]]:
    read = [read_trials(root, name) for name in wanted] if wanted else [read_trials(root)]
    return tuple(trial for trials, _ in read for trial in trials), tuple(f for _, found in read for f in found)
