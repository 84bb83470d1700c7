"""What a baker says to a question of a card, and what the page then has. Pure; asks nobody."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.domain.card import Asked, Card, Choice, Sure, Taken
from ovenleaf.domain.ingredients import folded, must_be_known
from ovenleaf.domain.measures import grams as grams_of
from ovenleaf.domain.quantity import AmountFault, Temperature, amount, temperature
from ovenleaf.domain.typing_in import ingredient_line

if TYPE_CHECKING:
    from ovenleaf.domain.ingredients import Pantry


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """An answer: the item and the amount as the page is to have them, how it is known; or why it says nothing."""

    item: str = ""
    amount: str = ""
    how: str = ""
    sure: Sure = Sure.TOLD
    problem: str = ""


BY_WEIGHT = "by weight"  # stands for the amount of a choice that has none yet


def answer(asked: Asked, typed: str, pantry: Pantry) -> Said:
    """What `typed` says to a question: one of its choices, an amount, an item with an amount.

    >>> from ovenleaf.domain.ingredients import Pantry
    >>> table = Choice(said="table salt", amount="6 g", item="table salt")
    >>> answer(Asked(key="salt", was="1 tsp", about="", choices=(table,)), "table", Pantry([])).amount
    '6 g'
    """
    words = " ".join(typed.split())
    if asked.wants == "heat":
        return _heat(asked, words)
    found = _chosen(asked, words)
    if len(found) > 1:
        return Said(problem=f"{words} can be {_listed(tuple(one.said for one in found))}.")
    if found:
        return _choice(asked, found[0], pantry)
    return _amount(asked, words, pantry)


def _chosen(asked: Asked, words: str) -> tuple[Choice, ...]:
    """The choices that the words can mean: said whole, else with every word of them in it."""
    said = folded(words)
    exact = tuple(one for one in asked.choices if folded(one.said) == said)
    if exact or re.search(r"\d", said):
        return exact
    parts = said.split()
    return tuple(one for one in asked.choices if parts and all(part in folded(one.said).split() for part in parts))


def _choice(asked: Asked, choice: Choice, pantry: Pantry) -> Said:
    item = choice.item or _item_in(choice.said, pantry) or asked.key
    if not choice.amount or choice.amount == BY_WEIGHT:
        return Said(problem=f'Say how much as well, as in "{item} 100 g".')
    return Said(item=item, amount=choice.amount, how=choice.how or choice.said, sure=choice.sure)


def _item_in(said: str, pantry: Pantry) -> str:
    """`kosher salt, a light brand` names kosher salt; `a large one` names nothing."""
    name = said.partition(",")[0].strip()
    return name if pantry.get(name).known else ""


def _heat(asked: Asked, words: str) -> Said:
    typed = folded(words.lstrip("°"))
    scale = next((one for one in asked.choices if typed in (folded(one.said), folded(one.said)[0])), None)
    text = scale.amount if scale is not None else words
    try:
        heat: Temperature = temperature(text)
    except AmountFault:
        return Said(problem=f"Say it with its scale, as in {asked.choices[0].amount if asked.choices else '220 C'}.")
    return Said(item=asked.key, amount=str(heat), how="as said")


def _amount(asked: Asked, words: str, pantry: Pantry) -> Said:
    item = asked.key
    try:
        value = amount(words)
    except AmountFault as fault:
        line = ingredient_line(words)
        if line.problem or line.amount is None:
            return Said(problem=_help(asked, fault.kind))
        item, value = line.item, line.amount
    if value.is_share or not value.value:
        return Said(problem=_help(asked, "share"))
    if not pantry.get(item).known and must_be_known(item):
        return Said(problem=_which(asked, item, pantry))
    if grams_of(value, pantry.get(item)) is None:
        return Said(problem=f"What {value} of {item} weighs is not known; say it in g.")
    return Said(item=item, amount=str(value), how="as said")


def _help(asked: Asked, kind: str) -> str:
    if kind == "no unit":
        return "Say it with its unit, as in 10 g."
    if asked.choices:
        return f"Say {_listed(tuple(one.said for one in asked.choices))}; or a weight, as in 10 g."
    return "Say a weight, as in 10 g."


def _which(asked: Asked, item: str, pantry: Pantry) -> str:
    near = tuple(one.item or one.said for one in asked.choices) or pantry.closest(item)
    example = f', as in "{near[0]} 10 g"' if near else ""
    return f"{item} is not in the ingredient list. Say which it is{example}; or add it: ovenleaf ingredient {item}"


def _listed(names: tuple[str, ...]) -> str:
    return f"{', '.join(names[:-1])} or {names[-1]}" if len(names) > 1 else "".join(names)


def answered(card: Card, asked: Asked, said: Said, pantry: Pantry) -> Card:
    """The card with one question settled."""
    lines = tuple(_settled(line, said, pantry) if _asks(line, asked) else line for line in card.lines)
    steps = tuple(
        replace(step, line=", ".join(filter(None, (step.line, said.amount))), asked=None)
        if step.asked is not None and step.asked.key == asked.key
        else step
        for step in card.steps
    )
    return replace(card, lines=lines, steps=steps)


def _asks(line: Taken, asked: Asked) -> bool:
    return line.asked is not None and line.asked.key == asked.key and line.asked.was == asked.was


def _settled(line: Taken, said: Said, pantry: Pantry) -> Taken:
    weight = grams_of(amount(said.amount), pantry.get(said.item))
    keeps = line.asked is not None and line.asked.soft and said.amount == line.amount
    return replace(
        line,
        item=said.item,
        amount=said.amount,
        grams=weight,
        low=weight,
        high=weight,
        how=line.how if keeps else said.how,
        source=line.source if keeps else "",
        sure=said.sure,
        asked=None,
    )
