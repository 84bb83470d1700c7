"""What a recipe's words for an ingredient mean in the list: `sifted bread flour` is strong wheat flour, sifted.

Words of preparation fall away only where the rest is known. What is not known stays as it was written.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Kind, folded, must_be_known

if TYPE_CHECKING:
    from ovenleaf.domain.ingredients import Ingredient, Pantry

# Said of what goes in, and of no weight for what it is. `fresh`, `dry`, `sour`, `coarse` and `whole` are not here:
# they can name another ingredient.
_SAID_WORDS = """
spooned scooped dipped
sifted softened soft melted chopped lukewarm luke-warm warm hot cold boiling tepid large medium-sized medium-size
small good best fine new scalded beaten well-beaten organic grated pitted stoned seeded crushed toasted mashed
shredded sliced diced crumbled halved quartered whipped packed firmly lightly unsifted unbleached bleached
stone-ground stoneground filtered ripe active bubbly unseasoned finely coarsely roughly freshly very nice sweet
old-fashioned room-temperature cool cooled slightly thinly about more extra clean picked washed cleaned well-washed
stemmed well dried-out household ordinary standard iced ice-cold blanched skinned strained clear pasteurised
pasteurized free-range runny mild strong-tasting heaped level ground the your some each
"""
_SAID = frozenset(_SAID_WORDS.split())
# The same ingredient in other words; common practice, no source.
_SYNONYMS = {
    "ap flour": "all-purpose flour",
    "a.p. flour": "all-purpose flour",
    "all purpose white flour": "all-purpose flour",
    "white all purpose flour": "all-purpose flour",
    "white bread flour": "bread flour",
    "strong bread flour": "bread flour",
    "strong white bread making flour": "bread flour",
    "high gluten flour": "bread flour",
    "wheaten flour": "wheat flour",
    "entire wheat flour": "whole wheat flour",
    "graham flour": "whole wheat flour",
    "wholemeal bread flour": "whole wheat flour",
    "strong wholemeal flour": "whole wheat flour",
    "strong wholemeal bread flour": "whole wheat flour",
    "whole meal flour": "whole wheat flour",
    "wholemeal": "whole wheat flour",
    "whole meal": "whole wheat flour",
    "yolks of eggs": "egg yolk",
    "whites of eggs": "egg white",
    "granulated corn meal": "cornmeal",
    "corn meal": "cornmeal",
    "yellow corn meal": "cornmeal",
    "yellow cornmeal": "cornmeal",
    "indian meal": "cornmeal",
    "maize flour": "maize flour",
    "h2o": "water",
    "whole fat milk": "whole milk",
    "full cream milk": "whole milk",
    "fresh milk": "milk",
    "rapid rise yeast": "instant yeast",
    "quick rise yeast": "instant yeast",
    "bread machine yeast": "instant yeast",
    "easy blend yeast": "instant yeast",
    "easy bake yeast": "instant yeast",
    "fast action dried yeast": "instant yeast",
    "fast acting yeast": "instant yeast",
    "quick yeast": "instant yeast",
    "instant dried yeast": "instant yeast",
    "dry active yeast": "active dry yeast",
    "active dry baking yeast": "active dry yeast",
    "german yeast": "fresh yeast",
    "fresh german yeast": "fresh yeast",
    "fresh baker's yeast": "fresh yeast",
    "fresh bakers yeast": "fresh yeast",
    "compressed fresh yeast": "fresh yeast",
    "evoo": "olive oil",
    "cane sugar": "sugar",
    "loaf sugar": "sugar",
    "castor sugar": "sugar",
    "powdered loaf sugar": "sugar",
    "moist sugar": "brown sugar",
    "unsalted soft butter": "unsalted butter",
    "hen's egg": "egg",
    "table olive": "green olives",
    "kosher salt flakes": "kosher salt",
    "diamond kosher salt": "kosher salt",
    "maldon salt": "flaky sea salt",
    "flaky salt": "flaky sea salt",
    "oatmeal porridge oats": "rolled oats",
    "rolled oat": "rolled oats",
    "seedless raisins": "raisins",
    "stoned raisins": "raisins",
    "sultana raisins": "raisins",
    "flaxseeds": "linseed",
    "powdered milk": "milk powder",
    "dry milk powder": "milk powder",
    "wholewheat flour": "whole wheat flour",
    "wholewheat bread flour": "whole wheat flour",
    "whole wheat bread flour": "whole wheat flour",
}
_HOW = re.compile(
    r"\b(?P<how>unsifted|sifted|spooned|packed|unpacked|chopped|ground|shredded|grated|diced|crumbled|mashed|sliced|"
    r"slivered|whipped)\b",
    re.IGNORECASE,
)
YEAST_WORDS = re.compile(r"\byeasts?\b", re.IGNORECASE)
_OTHER_YEAST = re.compile(r"\b(?:nutritional|brewer'?s|ale|beer|wine|home|liquid|potato|hop)\b", re.IGNORECASE)


# What is milled or mixed of flour, and so would be missing from it where it is taken for something else.
_FLOURY = re.compile(r"meal\b|\bdough\b|\bcrumbs?\b|\bsemolina\b|\bbatter\b|\bgrits\b|\bmush\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """An ingredient as a recipe means it.

    `name` is what the page will call it; `how` is how it was before it was measured (`sifted`), or "". `near` names
    what it may be where it is not known and would matter. `unclear` says what is not told: `yeast`, `salt`,
    `starter`, `kind`, or "".
    """

    name: str
    ingredient: Ingredient
    how: str = ""
    near: tuple[str, ...] = ()
    unclear: str = ""


def meant(words: str, pantry: Pantry) -> Meant:
    """The ingredient that a recipe's words mean."""
    name = _known(words, pantry)
    found = _HOW.search(words)
    how = found["how"].lower() if found else ""
    if folded(name) == "cream":
        return Meant(name=name, ingredient=pantry.get("any cream"), how=how, near=CREAMS, unclear="kind")
    if not name:
        return _unknown(" ".join(words.split()), pantry, how)
    ingredient = pantry.get(name)
    unclear = ""
    if ingredient.kind is Kind.SALT and folded(name) == "salt":
        unclear = "salt"
    elif ingredient.kind is Kind.CULTURE and folded(name) in _ANY_STARTER:
        unclear = "starter"
    return Meant(name=name, ingredient=ingredient, how=how, unclear=unclear)


CREAMS = ("whipping cream", "single cream", "sour cream")
_ANY_STARTER = frozenset({"starter", "sourdough starter", "levain", "rye starter", "rye sourdough starter"})


def _known(words: str, pantry: Pantry) -> str:
    """The words, without those of preparation, as far as the list knows them; "" where it does not."""
    for said in _forms(words):
        said = _SYNONYMS.get(folded(said), said)
        for form in dict.fromkeys((said, said.removesuffix("s"), f"{said}s", re.sub(r"ies$", "y", said))):
            if form and pantry.get(form).known:
                return " ".join(form.split())
    return ""


def _forms(words: str) -> list[str]:
    """The words as they are, and without words of preparation: first those in front, then all."""
    plain = re.sub(r"[.,;:*]", "", words).strip()
    tokens = plain.split()
    forms = [plain]
    while len(tokens) > 1 and tokens[0] in _SAID:
        tokens = tokens[1:]
        forms.append(" ".join(tokens))
    bare = [token for token in tokens if token not in _SAID and not token.endswith("ly")]
    return [*forms, " ".join(bare)]


def _unknown(words: str, pantry: Pantry, how: str) -> Meant:
    """What the list does not know: dry yeast of whichever kind, a near spelling, or something new."""
    bare = " ".join(token for token in words.split() if token not in _SAID) or words
    ingredient = pantry.get(bare)
    if YEAST_WORDS.search(bare):
        unclear = "kind" if _OTHER_YEAST.search(bare) else "yeast"
        return Meant(name=bare, ingredient=ingredient, how=how, unclear=unclear)
    near = pantry.nearest(bare)
    if near is not None or must_be_known(bare) or _FLOURY.search(bare):
        close = (near, *pantry.closest(bare)) if near else pantry.closest(bare)
        return Meant(name=bare, ingredient=ingredient, how=how, near=tuple(dict.fromkeys(close))[:3], unclear="kind")
    return Meant(name=words, ingredient=pantry.get(words), how=how)
