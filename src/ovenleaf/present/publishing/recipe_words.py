"""A recipe for readers, part by part, in words: what its text, its HTML and its data are all made from."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Pieces
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import HUNDRED, plain, portion, rounded
from ovenleaf.domain.reader_words import for_readers
from ovenleaf.domain.scaling import FINAL
from ovenleaf.present.screen import count, day_words, join_words, number_word

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.formula import Step
    from ovenleaf.domain.scaling import Bowl, Weight
    from ovenleaf.results.publishing import Recipe


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """What goes into one bowl: item, weight, and cups and spoons, each line; and sentences under it."""

    heading: str
    lines: tuple[tuple[str, str, str], ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ReaderPage:
    """The whole page. `steps` are name and words; `foot` is what stands below: allergens, cautions, what is behind."""

    title: str
    intro: tuple[str, ...]
    tables: tuple[Table, ...]
    beside: tuple[str, ...]
    steps: tuple[tuple[str, str], ...]
    foot: tuple[str, ...]


def reader_page(recipe: Recipe) -> ReaderPage:
    """A recipe in words."""
    return ReaderPage(
        title=recipe.sheet.formula.label,
        intro=tuple(filter(None, (_aims(recipe), yield_words(recipe), _times(recipe)))),
        tables=tuple(_table(bowl, recipe) for bowl in recipe.bowls),
        beside=tuple(_beside(one) for one in recipe.outside),
        steps=steps(recipe),
        foot=(
            *allergen_words(recipe),
            " ".join(cautions(recipe)),
            behind_words(recipe),
            *credit_words(recipe),
            revision_stamp(recipe),
        ),
    )


def _aims(recipe: Recipe) -> str:
    """The bread in the baker's own words: what the formula aims at."""
    said = "; ".join(f"{name} {words}" for name, words in recipe.sheet.formula.aims)
    return f"{said[:1].upper()}{said[1:]}." if said else ""


def yield_words(recipe: Recipe) -> str:
    """`Makes 12 rolls of 85 g of dough, about 74 g each when cool.`"""
    makes = recipe.sheet.formula.makes
    if recipe.pieces is None or recipe.each is None:
        whole = f"{plain(rounded(recipe.dough, 0))} g of dough"
        return f"Makes {makes}, from {whole}." if makes and recipe.size == "page" else f"Makes {whole}."
    said = f"Makes {pieces_words(recipe)} of {plain(rounded(recipe.each, 0))} g of dough"
    if recipe.bake.source == "none":
        return f"{said}."
    baked = rounded(portion(HUNDRED - recipe.bake.pct, recipe.each), 0)
    return f"{said}, about {plain(baked)} g{' each' if recipe.pieces > 1 else ''} when cool."


def pieces_words(recipe: Recipe) -> str:
    """So many of what the formula calls its pieces: `12 rolls`."""
    said = benchline.read(recipe.sheet.formula.makes).get("pieces")
    noun = said.noun if isinstance(said, Pieces) else "pieces"
    return str(Pieces(count=recipe.pieces or 0, noun=noun))


def _times(recipe: Recipe) -> str:
    """How long it takes by what the steps say, and that the work between comes on top."""
    ahead, told = recipe.lengths.ahead, recipe.lengths.steps
    if ahead is None and told is None:
        return ""
    parts = [
        f"{for_readers(str(ahead))} ahead" if ahead else "",
        f"{for_readers(str(told))} on the day" if told else "",
    ]
    return f"Time: {' and '.join(filter(None, parts))}, and the work between."


def _table(bowl: Bowl, recipe: Recipe) -> Table:
    measures = dict(recipe.measures)
    made = {one.name for one in recipe.bowls}
    name = "Dough" if bowl.name == FINAL else bowl.name.replace("-", " ").capitalize()
    notes = [f"Keep {plain(bowl.kept)} g of it for next time."] if bowl.kept else []
    notes += [_culture(item, parts) for item, parts in recipe.cultures if parts and _holds(bowl, item)]
    if bowl.into:
        notes.append(f"All of it goes into the {bowl.into.replace('-', ' ')}.")
    return Table(
        heading=name,
        lines=tuple(_line(line, made, measures.get(f"{bowl.name}:{line.item}", "")) for line in bowl.lines),
        notes=tuple(notes),
    )


def _line(line: Weight, made: set[str], measure: str) -> tuple[str, str, str]:
    if line.item in made:
        grams = rounded(line.grams, 0) if line.grams >= HUNDRED else line.grams
        return f"the {line.item.replace('-', ' ')}", f"{plain(grams)} g", "all of it"
    return (
        ", ".join(filter(None, (line.item, for_readers(line.note)))),
        f"{plain(line.grams)} g",
        measure or "by weight",
    )


def _holds(bowl: Bowl, item: str) -> bool:
    return any(line.item == item for line in bowl.lines)


def _culture(item: str, parts: tuple[tuple[str, Decimal], ...]) -> str:
    """What a culture is fed with, for readers who keep one of their own."""
    fed = join_words([f"{plain(rounded(share, 0))} g {name}" for name, share in parts if name != item])
    return f"{item.capitalize()} is a ripe culture that is fed {fed} at a time, or in that proportion."


def _beside(one: tuple[str, str, str]) -> str:
    item, amount, note = one
    return f"{item}, {', '.join(filter(None, (amount, note)))}"


def steps(recipe: Recipe) -> tuple[tuple[str, str], ...]:
    """What is made ahead, then the steps, each in readers' words."""
    made = [(bowl.name.replace("-", " ").capitalize(), _ahead(bowl)) for bowl in recipe.bowls if bowl.name != FINAL]
    return (*made, *((one.name.capitalize(), _step(one, recipe)) for one in recipe.sheet.formula.process))


def _ahead(bowl: Bowl) -> str:
    return f"mix together{f', then leave {for_readers(bowl.rest)}' if bowl.rest else ''}."


_ONLY_A_WEIGHT = re.compile(r"(?:into |at )?\d[\d.,]* ?(?:g|oz)", re.IGNORECASE)


def _step(step: Step, recipe: Recipe) -> str:
    """A step's own words; dividing names how many."""
    typed = step.line.typed.strip()
    if "divide" in step.name.lower() and recipe.pieces and recipe.each and _ONLY_A_WEIGHT.fullmatch(typed):
        return f"into {_pieces(recipe.pieces)} of {plain(rounded(recipe.each, 0))} g."
    words = for_readers(typed)
    steam = " Steam burns: open the door away from your face." if "steam" in re.sub(r"no steam", "", words) else ""
    return f"{words}{'' if words.endswith(('.', '!', '?')) else '.'}{steam}"


def _pieces(pieces: int) -> str:
    """`12 pieces`, in figures, for a step."""
    return f"{pieces} piece{'' if pieces == 1 else 's'}"


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


def _people(number: int) -> str:
    return count(number, "baker")


def _times_word(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, count(number, "time"))


def credit_words(recipe: Recipe) -> tuple[str, ...]:
    """Who made the formula, and where it is from."""
    who = join_words(recipe.credits.by)
    made = f"Formula by {who}." if who else ""
    named = [re.sub(r"^from ", "", one, flags=re.IGNORECASE) for one in recipe.credits.sources]
    source = f"From {'; that from '.join(named)}." if named else ""
    return tuple(filter(None, (" ".join(filter(None, (made, source))),)))


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


def few(grams: Decimal) -> bool:
    """True for a weight that no kitchen scale shows well."""
    return grams < 1
