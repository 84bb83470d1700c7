"""A recipe for readers, part by part, in words: what its text, its HTML and its data are all made from."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Pieces
from ovenleaf.domain.numbers import HUNDRED, plain, portion, rounded
from ovenleaf.domain.reader_words import for_readers
from ovenleaf.domain.scaling import FINAL
from ovenleaf.present.publishing.recipe_foot import foot
from ovenleaf.present.screen import join_words

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
        beside=tuple(beside_words(one) for one in recipe.outside),
        steps=steps(recipe),
        foot=foot(recipe),
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
    since = "on the day" if told and told.high <= _A_DAY else "from the first step on"
    parts = [
        f"{for_readers(str(ahead))} ahead" if ahead else "",
        f"{for_readers(str(told))} {since}" if told else "",
    ]
    return f"Time: {' and '.join(filter(None, parts))}, and the work between."


_A_DAY = 12 * 60  # minutes; what takes longer goes on overnight


def _table(bowl: Bowl, recipe: Recipe) -> Table:
    measures = dict(recipe.measures)
    made = {one.name for one in recipe.bowls} - {bowl.name}
    name = "Dough" if bowl.name == FINAL else bowl.name.replace("-", " ").capitalize()
    items = [line.item for line in bowl.lines]
    notes = [f"Keep {plain(bowl.kept)} g of it for next time."] if bowl.kept else []
    notes += [_culture(item, fed) for item, fed in recipe.cultures if fed and item in {*items} - made]
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


def _culture(item: str, parts: tuple[tuple[str, Decimal], ...]) -> str:
    """What a culture is fed with, for readers who keep one of their own."""
    fed = join_words([f"{plain(rounded(share, 0))} g {name}" for name, share in parts if name != item])
    return f"{item.capitalize()} is a ripe culture that is fed {fed} at a time, or in that proportion."


def beside_words(one: tuple[str, str, str]) -> str:
    """What is used beside the dough: `1 tbsp sesame seed, on top`; what has no amount is named first."""
    item, amount, note = one
    amount = amount.removesuffix(" pc")
    first = f"{amount} {item}" if amount[:1].isdigit() else f"{item}, {amount}"
    return ", ".join(filter(None, (first, note)))


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


def few(grams: Decimal) -> bool:
    """True for a weight that no kitchen scale shows well."""
    return grams < 1
