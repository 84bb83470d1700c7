"""Set a blind tasting up. Which bread is under which code is on no screen until all is in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import find_trial
from ovenleaf.book.steps.new_files import check_free, write_new
from ovenleaf.book.steps.opening import OpenBook, open_book, settle_baker
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.book.steps.tasting import settle_taster
from ovenleaf.book.steps.tastings import breads_of, codes_in_use, free_name, page_of, said_of
from ovenleaf.domain.tasting import MOST_BREADS, Design, Tasting, draw_codes, seal, serving_orders, triads
from ovenleaf.domain.trial import State
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.tastings import tasting_text
from ovenleaf.results import TastingSetUp, TastingShown

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.tasting import Permute
    from ovenleaf.domain.trial import Trial

__all__ = ["TastingSetUp", "check_free", "set_up", "write_new"]


class CannotTaste(Refusal):
    """A tasting that cannot be set up so. Fact: `about`, what stands against it."""

    def __init__(self, about: str, what: str, *detail: str, next: tuple[Next, ...] = ()) -> None:
        super().__init__(f"Not set up: {what}", detail=detail, next=next)
        self.about = about


def set_up(
    given: Path | None,
    start: Path,
    trials: Sequence[str],
    tasters: str,
    *,
    triangle: bool = False,
    question: str = "",
    new_taster: bool = False,
    permute: Permute,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> TastingSetUp:
    """A new tasting of some bakes for some tasters (their names with commas between), orders and codes by lot."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    baked = [_baked(book, typed) for typed in trials]
    design = Design.TRIANGLE if triangle else Design.MARKS
    _check_breads(baked, design)
    names = _tasters(book, tasters, who, new=new_taster)
    if not names:
        command = " ".join(("ovenleaf taste", *(trial.code for trial in baked)))
        raise CannotTaste("tasters", "who tastes?", next=(Next(f"{command} --tasters {who},petra", "their names"),))
    key, orders = _drawn([trial.code for trial in baked], names, design, codes_in_use(book.root), permute)
    stamp = Stamp(by=who, at=at, verb="taste", preview=preview)
    tasting = Tasting(
        name=free_name(book.root, at.date().isoformat(), who),
        design=design,
        by=who,
        set_up=stamp.saved,
        question=question,
        breads=tuple(dict.fromkeys(trial.code for trial in baked)),
        orders=orders,
        sealed=seal(key),
    )
    page = page_of(tasting.name)
    subject = f"tasting {tasting.name}: {', '.join(tasting.breads)} for {len(names)} ({who})"
    ahead = put(book.root, {page: tasting_text(tasting)}, stamp, subject, question, expect={page: None})
    aims, allergens = said_of(book.root, tasting.breads)
    return TastingSetUp(
        shown=TastingShown(tasting=tasting, book=book.page, breads=breads_of(book.root, tasting)),
        key=key,
        aims=aims,
        allergens=allergens,
        marked_before=_marked_before(baked, names),
        ahead=ahead,
    )


def _baked(book: OpenBook, typed: str) -> Trial:
    trial = find_trial(book.root, typed)
    if trial.state in (State.PLANNED, State.IN_HAND, State.WITHDRAWN):
        raise CannotTaste("state", f"trial {trial.code} is {trial.state.value}, so there is no bread of it to taste.")
    if trial.scale not in (None, book.page.scale):
        raise CannotTaste("scale", f"trial {trial.code} was scored on another scale, {trial.scale}.")
    return trial


def _check_breads(baked: Sequence[Trial], design: Design) -> None:
    different = {trial.code for trial in baked}
    if design is Design.TRIANGLE and (len(baked) != 2 or len(different) != 2):
        raise CannotTaste("breads", "a triangle is of two different breads.", "As in: ovenleaf taste A1 A2 --triangle")
    if len(different) < 2:
        raise CannotTaste("breads", "a tasting wants two breads or more.", "Name their trials, as in A1 A2.")
    if len(baked) > MOST_BREADS:
        raise CannotTaste("breads", f"more than {MOST_BREADS} breads tire any taster.", "Make two tastings of it.")


def _tasters(book: OpenBook, typed: str, who: str, *, new: bool) -> tuple[str, ...]:
    named = [name.strip() for name in typed.split(",") if name.strip()]
    return tuple(dict.fromkeys(settle_taster(book.root, book.page, name, who, new=new) for name in named))


def _drawn(
    breads: list[str], tasters: Sequence[str], design: Design, used: frozenset[str], permute: Permute
) -> tuple[tuple[tuple[str, str], ...], tuple[tuple[str, tuple[str, ...]], ...]]:
    """Codes and orders: of a triangle three plates for each taster, else one code for each bread."""
    wanted = 3 * len(tasters) if design is Design.TRIANGLE else len(breads)
    codes = draw_codes(wanted, used, permute)
    if len(codes) < wanted:
        raise CannotTaste("codes", "too few three-digit codes are left.", "Open a tasting that is under way first.")
    if design is Design.MARKS:
        rows = serving_orders(len(breads), len(tasters), permute)
        orders = ((t, tuple(codes[place] for place in row)) for t, row in zip(tasters, rows, strict=True))
        return tuple(sorted(zip(codes, breads, strict=True))), tuple(orders)
    plates = [codes[first : first + 3] for first in range(0, wanted, 3)]
    dealt = triads(len(tasters), permute)
    key = [
        (code, breads["AB".index(letter)])
        for three, letters in zip(plates, dealt, strict=True)
        for code, letter in zip(three, letters, strict=True)
    ]
    return tuple(sorted(key)), tuple(zip(tasters, plates, strict=True))


def _marked_before(baked: Sequence[Trial], tasters: Sequence[str]) -> tuple[tuple[str, str], ...]:
    scored = {(marks.taster, trial.code) for trial in baked for marks in trial.scores if marks.is_marked}
    return tuple(sorted(pair for pair in scored if pair[0] in tasters))
