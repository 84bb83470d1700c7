"""What went into the bowl, told at the bench: `+20 g water`, `water 396 g`, `held back 40 g water`."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.bench_echo import AsWords, Echo, Kept, Note, Stands, Weighed
from ovenleaf.domain.benchvalues import Added
from ovenleaf.domain.figures import grams as in_words
from ovenleaf.domain.figures import shown_grams
from ovenleaf.domain.log import standing_lines
from ovenleaf.domain.measures import grams
from ovenleaf.domain.numbers import ZERO, portion, share_of
from ovenleaf.domain.quantity import AmountFault, Unit, amount, split_note

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial

_BEHIND = re.compile(
    r"(?P<item>[^\W\d][^\d]*?):?\s+(?P<amount>[\d.,/½¼¾ ]+\s?(?:g|kg|oz|lb|ml|l|grams?))", re.IGNORECASE
)
_BEFORE = re.compile(
    r"(?P<amount>[\d.,/½¼¾ ]+\s?(?:g|kg|oz|lb|ml|l|grams?))(?: of)?\s+(?P<item>[^\W\d].*)", re.IGNORECASE
)


_NONE = re.compile(
    r"(?:no|without|forgot|left out)(?: any)?(?: the)? (?P<without>[^\W\d][^\d]*)"
    r"|(?P<item>[^\W\d][^\d]*?)(?:: ?| | was | is )(?:none|forgotten|left out|omitted)",
    re.IGNORECASE,
)


def item_meant(said: str, sheet: Sheet) -> str:
    """The item of the formula that is meant: its name, or the one name with all the words said; "" for none.

    `yeast` is the instant yeast of a formula that has no other.
    """
    low = said.lower().removeprefix("the ").strip()
    items = [share.item for share in sheet.worked.whole]
    if low in items:
        return low
    words = set(low.split())
    near = [item for item in items if words <= set(item.lower().split())]
    return near[0] if len(near) == 1 else ""


def planned_grams(item: str, trial: Trial, sheet: Sheet) -> Decimal | None:
    """What the formula has for this batch, in g; None where the batch is not known."""
    flour = flour_in_batch(trial.batch, sheet.worked)
    share = next((share.pct for share in sheet.worked.whole if share.item == item), None)
    return None if flour is None or share is None else portion(share, flour)


def weighed_so_far(item: str, trial: Trial, pantry: Pantry) -> Decimal | None:
    """What the page says was weighed, in g, or None."""
    text = dict(trial.weighed).get(item)
    return None if text is None else _in_grams(text, item, pantry)


def _in_grams(text: str, item: str, pantry: Pantry) -> Decimal | None:
    try:
        return grams(amount(split_note(text)[0], bare=Unit.G), pantry.get(item))
    except AmountFault:
        return None


_OF_IT = re.compile(
    r"(?:and )?(?P<amount>[\d.,/½¼¾]+\s?(?:g|kg|oz|lb|ml|l|grams?))(?: of (?:it|that|this|what was held back))?"
    r" (?:went|gone|put|poured|mixed|worked|given)(?: back)? in",
    re.IGNORECASE,
)


def back_in(words: str, trial: Trial) -> Added | None:
    """`25 g of it went in`: of what was held back last; None where nothing was, or words say something else."""
    found = _OF_IT.fullmatch(words.strip(" ."))
    held = _held_back(trial) if found else ""
    if found is None or not held:
        return None
    try:
        return Added(amount=amount(found["amount"], bare=Unit.G), item=held, less=False)
    except AmountFault:
        return None


def _held_back(trial: Trial) -> str:
    """The item that was held back last, by the log; "" where none was."""
    for line in reversed(standing_lines(trial.log)):
        for field in reversed(benchline.read(line.words).fields):
            if isinstance(field.value, Added) and field.value.less:
                return field.value.item
    return ""


def added(change: Added, typed: str, trial: Trial, sheet: Sheet, pantry: Pantry) -> tuple[Echo, str]:
    """More or less of one item than was planned or last weighed, and the text for the page ("" for none)."""
    item = item_meant(change.item, sheet)
    if not item:
        return Note(text=typed, hint=f"This formula has no {change.item}."), ""
    by = grams(change.amount, pantry.get(item))
    so_far = weighed_so_far(item, trial, pantry)
    base = planned_grams(item, trial, sheet) if so_far is None else so_far
    if by is None or base is None:
        return Note(text=typed, hint="How big the batch is was not told; say it as in 600 g flour."), ""
    now = base - by if change.less else base + by
    if now < 0:
        return AsWords(text=typed, why=f"only {in_words(base)} of {item} went in"), ""
    return _weighed(item, now, base, trial, sheet), in_words(now)


def told_weight(words: str, trial: Trial, sheet: Sheet, pantry: Pantry) -> tuple[Echo, str, str] | None:
    """`water 396 g` or `396 g water`: the echo, the item and the text for the page; None where that is not it."""
    found = _BEHIND.fullmatch(words) or _BEFORE.fullmatch(words)
    item = item_meant(found["item"], sheet) if found else ""
    if found is None or not item:
        return None
    weight = _in_grams(found["amount"], item, pantry)
    return None if weight is None else _told(item, weight, trial, sheet, pantry)


def none_went_in(words: str, trial: Trial, sheet: Sheet, pantry: Pantry) -> tuple[Echo, str, str] | None:
    """`salt forgotten`, `no salt`, `butter: none`: of that item nothing went in; None where that is not said."""
    found = _NONE.fullmatch(words.strip(" ."))
    item = item_meant(found["without"] or found["item"], sheet) if found else ""
    return _told(item, ZERO, trial, sheet, pantry) if item else None


def _told(item: str, weight: Decimal, trial: Trial, sheet: Sheet, pantry: Pantry) -> tuple[Echo, str, str]:
    text = in_words(weight)
    so_far = dict(trial.weighed).get(item)
    if so_far is not None:
        if weighed_so_far(item, trial, pantry) == weight:
            return Kept(name=item, text=text), "", ""
        return Stands(name=item, said=text, stands=so_far), "", ""
    return _weighed(item, weight, planned_grams(item, trial, sheet), trial, sheet), item, text


def _weighed(item: str, now: Decimal, instead: Decimal | None, trial: Trial, sheet: Sheet) -> Weighed:
    flour = flour_in_batch(trial.batch, sheet.worked)
    planned = next(share.pct for share in sheet.worked.whole if share.item == item)
    return Weighed(
        item=item,
        grams=shown_grams(now),
        instead=None if instead is None else shown_grams(instead),
        pct=None if flour is None else share_of(now, flour),
        planned_pct=None if flour is None else planned,
    )
