"""What stands below a recipe for readers: allergens, cautions, the bakes behind it, who it is from, its revision."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.present.screen import count, day_words, join_words, number_word

if TYPE_CHECKING:
    from ovenleaf.results.publishing import Recipe


def foot(recipe: Recipe) -> tuple[str, ...]:
    """All of it, a paragraph each."""
    return (
        *allergen_words(recipe),
        " ".join(cautions(recipe)),
        " ".join(filter(None, (behind_words(recipe), _fan(recipe)))),
        *credit_words(recipe),
        revision_stamp(recipe),
    )


def allergen_words(recipe: Recipe) -> tuple[str, ...]:
    """By each of the two laws; and what is in no list."""
    found, new = recipe.allergens, recipe.sheet.new_items
    said = []
    if found.us or found.eu or found.others:
        us = join_words([*found.us, *found.others]) or "none of the nine of US law"
        eu = join_words([*found.eu, *found.others]) or "none of the fourteen of EU law"
        said.append(f"Contains, as named in the US: {us}. As named in the EU: {eu}.")
    if new:
        said.append(f"What allergens are in {join_words(new)} is not known: read the label.")
    return (*said, "By the ingredient list of this book; the labels of what you buy have the last word.")


_POT = re.compile(r"\b(?:pot|casserole|dutch oven|cast iron|stone|tin|pan|tray)\b", re.IGNORECASE)
_LYE = re.compile(r"\blye\b", re.IGNORECASE)


def cautions(recipe: Recipe) -> tuple[str, ...]:
    """What can hurt, of what this formula uses."""
    formula = recipe.sheet.formula
    items = [share.item for share in recipe.sheet.worked.whole] + [line.item for line in formula.outside]
    words = " ".join((*items, *(step.line.typed for step in formula.process)))
    egg = any(kind is Kind.EGG for _, kind in recipe.sheet.kinds) or any("egg" in item for item in items)
    raw = "Raw flour and raw egg are not for tasting" if egg else "Raw flour is not for tasting"
    said = [f"{raw}; wash your hands after {'them' if egg else 'it'}.", "Oven and steam burn."]
    if _POT.search(words):
        said.append("So do hot pots, tins and stones, long after they come out.")
    if "honey" in words.lower():
        said.append("Honey is not for infants under one year.")
    if _LYE.search(words):
        said.append("Lye burns skin and eyes: gloves, goggles, and lye into water, never the other way.")
    said.append("Who sells bread follows the rules of the place.")
    return tuple(said)


def behind_words(recipe: Recipe) -> str:
    """How often it was baked, by how many, in which size; what was not baked is not called tested."""
    behind = recipe.behind
    if not behind.doughs:
        return "Not baked yet as it stands here."
    by = f" by {_people(behind.bakers)}" if behind.bakers else ""
    if behind.of_size == behind.doughs:
        return f"Baked {_times_word(behind.doughs)}{by} in this size; other sizes were not tried."
    baked = f"Baked {_times_word(behind.doughs)}{by}"
    if behind.of_size:
        return f"{baked}, {number_word(behind.of_size)} of these in this size."
    if behind.no_size == behind.doughs:
        return f"{baked}; in which size is not recorded."
    sizes = join_words([f"{plain(rounded(size, 0))} g" for size in behind.sizes])
    return f"{baked}, with {sizes} of flour. This size was not tried."


_NO_FAN = re.compile(r"\bno fan\b|\bwithout (?:a )?fan\b", re.IGNORECASE)


def _fan(recipe: Recipe) -> str:
    """What was not tried is said."""
    bakes = any(_NO_FAN.search(step.line.typed) for step in recipe.sheet.formula.process)
    return "An oven with a fan was not tried." if bakes else ""


def _people(number: int) -> str:
    return count(number, "baker")


def _times_word(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, count(number, "time"))


def credit_words(recipe: Recipe) -> tuple[str, ...]:
    """Who made the formula, and where it is from; nothing where neither is known."""
    who = join_words(recipe.credits.by)
    made = f"Formula by {who}." if who else ""
    said = " ".join(filter(None, (made, source_words(recipe))))
    return (said,) if said else ()


def source_words(recipe: Recipe) -> str:
    """Where the formula is from, and where that is from, or ""."""
    named = [bare_source(one) for one in recipe.credits.sources]
    return f"From {'; that from '.join(named)}." if named else ""


def bare_source(source: str) -> str:
    """A source without the word that a sentence puts before it."""
    return re.sub(r"^from ", "", source, flags=re.IGNORECASE)


def revision_stamp(recipe: Recipe) -> str:
    """Which page of which book this is, and when it was made."""
    saved = recipe.sheet.formula.saved
    on = f", {day_words(saved)}" if saved else ""
    revision = recipe.sheet.revision
    number = f", revision {revision.number}" if revision else ""
    by = f" by {join_words(revision.handles)}" if revision and recipe.sheet.shared_number else ""
    return (
        f"{recipe.book}. {recipe.sheet.formula.label}{number}{by}{on}. This page was made on {day_words(recipe.made)}."
    )
