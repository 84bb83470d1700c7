"""The card that a formula was adopted from, as text: what each line was taken as, how well that is known, its words."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from ovenleaf.domain.card import page_grams
from ovenleaf.errors import Next
from ovenleaf.present.screen import (
    blocks,
    clean,
    count,
    date_words,
    join_words,
    next_block,
    number_word,
    rows,
    short_date,
    wrap,
)

if TYPE_CHECKING:
    from ovenleaf.compare.card_known import KnownLine
    from ovenleaf.results import CardView


def card_screen(view: CardView) -> str:
    """The lines with what is known of each, then the card word for word."""
    card = view.card
    source = f" {card.source}" if card.source else ""
    head = (
        f"{view.title}: the card that {card.by} adopted on {date_words(card.adopted)}{',' if source else ''}{source}."
    )
    return blocks(
        wrap(head),
        _table(view.lines),
        wrap(_how_sure(view.lines)),
        "Notes\n" + "\n".join(wrap(note, 2, hanging=2) for note in card.notes) if card.notes else "",
        "Word for word\n" + "\n".join(wrap(clean(line), 2, hanging=2) for line in card.text.splitlines()),
        next_block(_next(view)),
    )


def _table(lines: tuple[KnownLine, ...]) -> str:
    table = [(one.line.card, one.line.taken or "open", _known_by(one)) for one in lines if one.line.sure]
    return rows(table, "<><", heading=("on the card", "taken as", "how we know"))


def _known_by(one: KnownLine) -> str:
    if one.weighed is not None:
        return f"weighed, {page_grams(one.weighed)}, {one.trial}, {short_date(one.on)}"
    words = {"guessed": "guessed", "from a table": "from a table", "open": "asked"}.get(one.line.sure, one.line.sure)
    spread = f", {one.line.least} to {one.line.most}" if one.line.least and one.line.most else ""
    return f"{words}{spread}"


_CALLED = (
    ("weighed", "weighed"),
    ("as on the card", "by weight on the card"),
    ("as told", "as it was told"),
    ("from a table", "from a table"),
    ("guessed", "guessed"),
    ("open", "open"),
)


def _how_sure(lines: tuple[KnownLine, ...]) -> str:
    """`Of six lines two are weighed, three from a table and one guessed.`"""
    found = Counter(one.sure for one in lines if one.line.sure)
    told = [f"{number_word(found[sure])} {words}" for sure, words in _CALLED if found[sure]]
    said = f"Of {count(sum(found.values()), 'line')}: {join_words(told)}."
    rest = " The first bake that weighs a line takes the place of its guess." if found["guessed"] else ""
    return said + rest


def _next(view: CardView) -> tuple[Next, ...]:
    edits = [(one.edit, page_grams(one.weighed)) for one in view.lines if one.edit and one.weighed is not None]
    if edits:
        told = " ".join(f'"{item}={weight}"' for item, weight in edits)
        codes = join_words(list(dict.fromkeys(one.trial for one in view.lines if one.edit)))
        return (
            Next(f'ovenleaf tweak {view.name} {told} --why "as weighed in {codes}"', "the formula by those weights"),
        )
    guess = next((one.line for one in view.lines if one.sure in ("guessed", "from a table")), None)
    if guess is None or not view.saved:
        return (Next(f"ovenleaf show {view.name}", "the formula as it stands"),)
    weighed = f'--weighed "{guess.item}={guess.taken}"'
    return (Next(f"ovenleaf record {view.name} {weighed}", "or what it weighs, when you bake it"),)
