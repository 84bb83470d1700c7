"""A household recipe taken in: what stood on the card, what each line was taken as, how far off, what is open."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.card import page_grams
from ovenleaf.domain.card_reading import ALL, OUTSIDE
from ovenleaf.domain.figures import grams, pct
from ovenleaf.domain.numbers import ZERO, plain, rounded, share_of
from ovenleaf.domain.recipe_steps import in_one_scale
from ovenleaf.domain.recipe_units import Measures
from ovenleaf.errors import Next
from ovenleaf.present.draft_questions import keep_commands, open_block, settle_commands
from ovenleaf.present.screen import blocks, count, join_words, next_block, rows, wrap
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.domain.card import Asked, Card, Taken
    from ovenleaf.domain.card_answers import Said
    from ovenleaf.results import Adopted

_WHOSE = {
    Measures.US: "US cups of 237 ml",
    Measures.METRIC: "metric cups of 250 ml",
    Measures.IMPERIAL: "imperial cups of 284 ml",
}


def read_words(title: str, card: Card) -> str:
    """What was read, before anything is asked."""
    source = _source(card)
    first = wrap(f"Read: {title}{source}.")
    second = wrap("The card is kept word for word beside the formula.")
    if not card.questions:
        return f"{first}\n{second}\n"
    asked = count(len(card.questions), "thing")
    how = "Enter alone leaves a thing open; you can also say a weight, as in 10 g, or stop."
    return f"{first}\n{second}\n\n{asked.capitalize()} the card does not say\n{wrap(how)}\n"


def question_words(asked: Asked) -> str:
    """One question, with what the card says of it."""
    was = f", {asked.was}" if asked.was != asked.key else ""
    said = asked.about if asked.soft or not asked.choices else _offered(asked)
    name = asked.key[:1].upper() + asked.key[1:]
    line = f"{name}{was}: {said}"
    if len(line) <= _ROOM or not asked.choices:
        return line
    table = rows([(one.said, one.amount) for one in asked.choices], "<>", indent=4)
    return f"{wrap(f'{name}{was}: {asked.about}', hanging=2)}\n{table}\n  Which of them"


_ROOM = 58  # a question on one line leaves room for its answer


def _offered(asked: Asked) -> str:
    return join_words([one.said for one in asked.choices], "or")


def taken_words(said: Said) -> str:
    """How an answer was understood."""
    return f"Taken as {said.item} {said.amount}."


def adopted_screen(result: Adopted) -> str:
    """A recipe was taken in as a draft."""
    card = result.card
    return blocks(
        ahead(result),
        _head(result),
        _table(result),
        _far_off(result),
        _kept(card),
        _steps(card),
        open_block([_open(one) for one in card.questions if not one.soft]),
        _slips(result),
        next_block(_next(result)),
    )


def _source(card: Card) -> str:
    """`, from Petra`: whose it is, set into a sentence."""
    first, _, rest = card.source.partition(" ")
    words = (
        f"{first.lower()} {rest}"
        if first.lower() in ("from", "by", "adapted", "source", "recipe", "after")
        else card.source
    )
    return f", {words}" if card.source else ""


def _head(result: Adopted) -> str:
    card = result.card
    source = _source(card)
    first = f"Adopted: a draft of {result.title}{source}. The card is kept word for word beside it."
    basis = f"Shares are of all the flour, {grams(result.flour)}." if result.flour else ""
    whose = f"Cups are {_WHOSE[card.measures]}{'' if card.measures_said else ' (--cups says otherwise)'}."
    cups = whose if any(" cup" in f" {line.words} " for line in card.lines) else ""
    return f"{wrap(first)}\n{wrap(' '.join(filter(None, (basis, cups))))}".strip()


def _table(result: Adopted) -> str:
    """What stood on the card, what it was taken as, how that is known; bowl by bowl where there are several."""
    shares = {(bowl, item): share for bowl, item, share in result.shares}
    lines = [line for line in result.card.lines if not line.purpose and line.part != OUTSIDE]
    table: list[tuple[str, ...]] = []
    for bowl in dict.fromkeys(line.part for line in lines):
        if bowl:
            table.append((f"{bowl}:", "", "", ""))
        table += [_row(line, shares) for line in lines if line.part == bowl]
    total = sum((line.grams for line in lines if line.grams is not None), ZERO)
    if result.flour:
        told = "so far" if any(line.grams is None and line.amount != ALL for line in lines) else ""
        table.append(("together", grams(total), pct(share_of(total, result.flour)), told))
    return rows(table, "<>><", heading=("on the card", "taken as", "", "how we know"))


def _row(line: Taken, shares: dict[tuple[str, str], Decimal]) -> tuple[str, ...]:
    said = line.short if len(line.short) <= _LONG else f"{line.short[: _LONG - 3].rstrip()}..."
    if line.amount == ALL:
        return said, "all of it", "", ""
    if line.grams is None:
        return said, "open", "", _in_short(line)
    share = shares.get((line.part, line.item))
    return said, grams(line.grams), "" if share is None else pct(share), _in_short(line)


_LONG = 34


def _in_short(line: Taken) -> str:
    if line.asked is not None and line.grams is None:
        return "asked below"
    called = "" if line.item in line.words.lower() else f"{line.item}; "
    return f"{called}{', '.join(line.how.split(', ')[:2])}"


def _far_off(result: Adopted) -> str:
    """Where a weight could be another, by how much; flour by the cup first, since all shares hang on it."""
    said = [wrap(one, 2) for line in result.card.lines for one in _flour_words(line, result)]
    told = {line.item for line in result.card.lines if line.asked is not None and line.asked.soft}
    spread = [
        (line.item, f"{page_grams(line.low)} to {page_grams(line.high)}")
        for line in result.card.lines
        if line.low is not None and line.high is not None and line.item not in told and _apart(line.low, line.high)
    ]
    said += [rows(spread, "<<")] if spread else []
    if result.stays:
        they = "it" if len(result.stays) == 1 else "them"
        said.append(
            wrap(f"Water inside {join_words(result.stays)} is not counted, since the dough does not get {they}.", 2)
        )
    if result.unlisted:
        verb = "is" if len(result.unlisted) == 1 else "are"
        said.append(wrap(f"{join_words(result.unlisted)} {verb} in no ingredient list: neither flour nor water.", 2))
    return "How far off it could be\n" + "\n".join(said) if said else ""


def _apart(low: Decimal, high: Decimal) -> bool:
    return (high - low) * 50 > high


def _flour_words(line: Taken, result: Adopted) -> Iterator[str]:
    """`Spooned, the flour would be 369 g and the water 80.0 % of it; sifted, 351 g and 84.1 %.`"""
    if line.asked is None or not line.asked.soft or line.grams is None:
        return
    water = sum((one.grams or ZERO for one in result.card.lines if one.item in result.liquids), ZERO)
    found: list[str] = []
    for choice in line.asked.choices:
        grams = Decimal(choice.amount.removesuffix(" g"))
        if choice.amount == line.amount:
            continue
        share = pct(share_of(water, result.flour - line.grams + grams)) if water else ""
        said = (
            f"{choice.said}, the {line.item} would be {choice.amount}"
            if not found
            else f"{choice.said}, {choice.amount}"
        )
        beside = f" and the water {share} of all the flour" if share and not found else f" and {share}" if share else ""
        found.append(f"{said}{beside}")
    if found:
        words = "; ".join(found)
        yield f"{words[:1].upper()}{words[1:]}."
        yield "Weigh your own cup of it once, and the book remembers what it weighs."


def _kept(card: Card) -> str:
    """What is on the card and is no dough: greasing, dusting, toppings; heats in the other scale; notes."""
    said = [_outside_words(line) for line in card.lines if line.purpose or line.part == OUTSIDE]
    # What the card tells in both scales itself needs no telling.
    said += [one for step in card.steps if in_one_scale(step.words) == step.words for one in _other_scale(step.words)]
    said += [*card.notes, *([f"makes {card.makes}"] if card.makes else [])]
    return "Kept as notes\n" + "\n".join(wrap(one, 2) for one in dict.fromkeys(said)) if said else ""


def _outside_words(line: Taken) -> str:
    if line.purpose:
        return f"{line.item} for {line.purpose}"
    return ", ".join(filter(None, (line.item, line.amount or line.words, "outside the dough")))


def _other_scale(words: str) -> Iterator[str]:
    """`425 F is 218 °C`."""
    from ovenleaf.domain.benchline import read

    for field in read(words).fields:
        for heat in getattr(field.value, "temperatures", ()):
            if heat.scale == "F":
                yield f"{plain(heat.value)} °F is {plain(rounded(heat.celsius, 0))} °C"


def _slips(result: Adopted) -> str:
    """What looks like a slip of the card or of the reading."""
    told = [wrap(slip.message, 2, hanging=2) for slip in result.slips]
    return "\n".join(("Worth a second look, on the card and here", *told)) if told else ""


def _steps(card: Card) -> str:
    if not card.steps:
        return wrap("The card says nothing of how it is made; add the steps to the page when you like.")
    names = [step.name for step in card.steps]
    said = f"{count(len(names), 'step')}, from {names[0]} to {names[-1]}" if len(names) > 1 else f"One step, {names[0]}"
    return wrap(f"{said[:1].upper()}{said[1:]}, in the card's own words.")


def _open(asked: Asked) -> tuple[str, str, tuple[tuple[str, str], ...]]:
    return asked.key, f"{asked.was}: {asked.about}", tuple((one.said, one.amount) for one in asked.choices)


def _next(result: Adopted) -> tuple[Next, ...]:
    asked = [(one.key, tuple(choice.said for choice in one.choices)) for one in result.card.questions if not one.soft]
    cups = [one.key for one in result.card.questions if one.soft]
    own = tuple(Next(f"ovenleaf ingredient {one} --weighs cup=130", "if that is what yours holds") for one in cups[:1])
    return (*(settle_commands(result.name, asked) if asked else keep_commands(result.name)), *own)
