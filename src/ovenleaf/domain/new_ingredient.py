"""What a baker tells of an ingredient that no list holds yet: questions, answers from text, and what they make.

Knows no list: whether a name is taken is for the caller to say.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import MEASURES, MOST, Ingredient, Kind, parts_words
from ovenleaf.domain.numbers import HUNDRED, NUMBER, ZERO, NumberFault, number, plain

if TYPE_CHECKING:
    from decimal import Decimal

SHARES = ("flour", "water", "fat", "protein", "sugars", "milk sugar", "salt")

# US nine (FALCPA 2004, FASTER Act 2021), EU fourteen (Regulation (EU) 1169/2011 Annex II), and what they are named by.
GRAINS = ("wheat", "rye", "barley", "oats", "spelt")
NUTS = ("almond", "hazelnut", "walnut", "cashew", "pecan", "brazil nut", "pistachio", "macadamia")
ALLERGENS = (
    "gluten", *GRAINS, "milk", "egg", "sesame", "tree nuts", *NUTS, "peanuts", "soy", "fish", "crustaceans",
    "molluscs", "celery", "mustard", "lupin", "sulphites",
)  # fmt: skip
_OTHER_WORDS = {
    "eggs": "egg", "nuts": "tree nuts", "tree nut": "tree nuts", "nut": "tree nuts", "peanut": "peanuts",
    "soya": "soy", "soybeans": "soy", "almonds": "almond", "hazelnuts": "hazelnut", "walnuts": "walnut",
    "cashews": "cashew", "pecans": "pecan", "pistachios": "pistachio", "oat": "oats", "lactose": "milk",
    "sulfites": "sulphites", "sulphur dioxide": "sulphites", "sesame seed": "sesame", "shellfish": "crustaceans",
}  # fmt: skip
NONE = "none"


class TellingFault(ValueError):
    """What is told of an ingredient cannot be. Facts: `field`, and `problem`, a sentence."""

    def __init__(self, field: str, problem: str) -> None:
        super().__init__(f"{field}: {problem}")
        self.field = field
        self.problem = problem


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldIngredient:
    """All that is told, as typed. `shares` and `weights` are pairs of a name and a figure; `reaches` is yes or no."""

    kind: str = ""
    shares: tuple[tuple[str, str], ...] = ()
    weights: tuple[tuple[str, str], ...] = ()
    density: str = ""
    instant: str = ""
    made_of: tuple[str, ...] = ()
    reaches: str = ""
    allergens: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    source: str = ""
    note: str = ""


def told_ingredient(name: str, told: ToldIngredient) -> Ingredient:
    """The ingredient that is told of. Raises TellingFault with the first thing that cannot be.

    What is a flour counts whole as flour unless it is told otherwise; nothing else counts as flour unless told.
    """
    kind = _kind(told.kind)
    shares = {key: _share(key, typed) for key, typed in told.shares if typed}
    weights = {key: _weight(key, typed) for key, typed in told.weights if typed}
    one = Ingredient(
        name=name,
        kind=kind,
        flour=shares.get("flour", HUNDRED if kind is Kind.FLOUR else ZERO),
        water=shares.get("water"),
        fat=shares.get("fat"),
        protein=shares.get("protein"),
        sugars=shares.get("sugars"),
        milk_sugar=shares.get("milk sugar", ZERO),
        salt=shares.get("salt"),
        cup=weights.get("cup"),
        tablespoon=weights.get("tablespoon"),
        teaspoon=weights.get("teaspoon"),
        packet=weights.get("packet"),
        piece=weights.get("piece"),
        density=_weight("density", told.density) if told.density else None,
        instant=_weight("instant", told.instant) if told.instant else None,
        made_of=_made_of(told.made_of),
        reaches_dough=_reaches(told.reaches),
        allergens=_allergens(told.allergens),
        also=tuple(" ".join(other.split()) for other in told.also),
        source=told.source,
        note=told.note,
    )
    _check_whole(one)
    return one


def only_weights(told: ToldIngredient) -> bool:
    """True where nothing is told but what a cup, a spoon or a piece weighs."""
    return bool(told.weights) and told == ToldIngredient(weights=told.weights, source=told.source, note=told.note)


def weighed_anew(one: Ingredient, told: ToldIngredient, source: str) -> Ingredient:
    """An ingredient with its measures as a baker weighed them, instead of those of tables. Raises TellingFault."""
    weights = {key: _weight(key, typed) for key, typed in told.weights}
    others = tuple(other for other in one.weighed_otherwise if other.measure not in weights)
    # A cup that she filled and weighed is filled her way; what a table says of filling no longer holds.
    note = told.note or ("" if "cup" in weights and "cup" in one.note else one.note)
    sources = {**dict(one.sources), **dict.fromkeys(weights, source)}
    made = {"flour": ZERO, "water": None} if one.made_of else {}
    return replace(one, **weights, **made, weighed_otherwise=others, sources=tuple(sources.items()), note=note)  # type: ignore[arg-type]  # measures, by name


def _check_whole(one: Ingredient) -> None:
    if one.contents > MOST:
        whole = f"{one.name} would hold {plain(one.contents)} g in 100 g: {parts_words(one)}."
        raise TellingFault("parts", whole)
    if one.milk_sugar > (one.sugars or ZERO):
        raise TellingFault("milk sugar", "Milk sugar is one of the sugars, so it cannot be more than they are.")
    if one.kind is Kind.FLOUR and not one.flour:
        raise TellingFault("flour", "A flour counts as flour, at least in part.")
    if (one.kind is Kind.CULTURE) != bool(one.made_of):
        needs = "A culture wants what it is fed with" if not one.made_of else "Only a culture is fed"
        raise TellingFault("made of", f"{needs}, as in wheat flour 100, water 80.")
    if one.made_of and any(value for value in (one.flour, one.water, one.fat, one.sugars, one.salt)):
        raise TellingFault("made of", "What a culture holds is worked out from what it is fed with; leave it out.")
    if (one.kind is Kind.YEAST) != (one.instant is not None):
        needs = "A yeast wants its strength" if one.instant is None else "Only a yeast has the strength of one"
        raise TellingFault("instant", f"{needs}: how many g of instant yeast do the work of 1 g, such as 0.33.")


def _kind(typed: str) -> Kind:
    word = typed.strip().lower()
    if word not in list(Kind):
        said = f"{typed} is not a kind of ingredient. " if word else ""
        raise TellingFault("kind", f"{said}Say one of {', '.join(list(Kind)[:-1])} or {list(Kind)[-1]}.")
    return Kind(word)


def _figure(field: str, typed: str) -> Decimal:
    try:
        return number(re.sub(r"\s*(?:g|%)$", "", typed.strip()))
    except NumberFault:
        raise TellingFault(field, f"{typed} is not a number of g.") from None


def _share(field: str, typed: str) -> Decimal:
    value = _figure(field, typed)
    if field not in SHARES:
        raise TellingFault(field, f"{field} is none of {', '.join(SHARES)}.")
    if not 0 <= value <= HUNDRED:
        raise TellingFault(field, f"{plain(value)} g of {field} in 100 g cannot be; say 0 to 100.")
    return value


def _weight(field: str, typed: str) -> Decimal:
    value = _figure(field, typed)
    if field not in (*MEASURES, "density", "instant"):
        raise TellingFault(field, f"{field} is none of {', '.join(MEASURES)}.")
    if value <= 0:
        raise TellingFault(field, f"{plain(value)} cannot be; it should be more than nothing.")
    return value


_FED = re.compile(rf"(?P<item>.*\D)\s*[\s=:]\s*(?P<share>{NUMBER})\s*%?")


def _made_of(typed: tuple[str, ...]) -> tuple[tuple[str, Decimal], ...]:
    parts: dict[str, Decimal] = {}
    for one in typed:
        found = _FED.fullmatch(one.strip())
        share = _figure("made of", found["share"]) if found else ZERO
        if found is None or not share:
            raise TellingFault("made of", f"{one} cannot be read. Say it like wheat flour 100, water 80.")
        parts[found["item"].strip(" =:")] = share
    return tuple(parts.items())


def _reaches(typed: str) -> bool:
    word = typed.strip().lower()
    if word not in ("", "yes", "y", "no", "n"):
        raise TellingFault("reaches", "Say yes or no.")
    return word not in ("no", "n")


def _allergens(typed: tuple[str, ...]) -> tuple[str, ...]:
    """The allergens by the words of the list; grains bring gluten with them, and nuts are tree nuts."""
    words = [" ".join(one.lower().split()) for one in typed]
    named = [_OTHER_WORDS.get(word, word) for word in words if word not in ("", NONE)]
    for word in named:
        near = difflib.get_close_matches(word, ALLERGENS, n=1, cutoff=0.75)
        if word not in ALLERGENS and near:
            raise TellingFault("allergens", f"{word} is not known as an allergen. Did you mean {near[0]}?")
    grain = ["gluten"] if any(word in GRAINS for word in named) else []
    nut = ["tree nuts"] if any(word in NUTS for word in named) else []
    return tuple(dict.fromkeys([*nut, *named, *grain]))


# --- asked one by one ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedFor:
    """One question: the field it is about, and its text."""

    field: str
    text: str


Answers = tuple[tuple[str, str], ...]

_INCLUSIONS = (Kind.SEED, Kind.NUT, Kind.FRUIT, Kind.SPICE, Kind.CHEESE, Kind.OTHER)
_FIELDS = {
    Kind.CULTURE: ("made of", "source"),
    Kind.YEAST: ("instant", "water", "source"),
    Kind.WATER: ("source",),
    Kind.SALT: ("source",),
}
_TEXTS = {
    "flour": "How much of 100 g counts as flour, in g; none if left open",
    "water": "Water in 100 g, in g",
    "fat": "Fat in 100 g, in g",
    "sugars": "Sugars in 100 g, in g",
    "salt": "Salt in 100 g, in g",
    "reaches": "Does what is inside reach the dough, yes or no; yes if left open",
    "instant": "How many g of instant yeast do the work of 1 g",
    "made of": "Fed with what, in shares of its flour, as in wheat flour 100, water 80",
    "allergens": "Allergens, with commas between them, or none",
    "source": "Where the figures are from, such as the label",
}


def following(answers: Answers) -> AskedFor | None:
    """The question after these answers; None where all is asked, or where the kind was left open."""
    if not answers:
        return AskedFor(field="kind", text=f"What is it: {', '.join(list(Kind)[:-1])} or {list(Kind)[-1]}")
    if not answers[0][1]:
        return None
    kind = _kind(answers[0][1])
    inside = ("reaches",) if kind in _INCLUSIONS else ()
    fields = _FIELDS.get(kind, ("flour", "water", "fat", "sugars", "salt", *inside, "allergens", "source"))
    asked = [field for field, _ in answers]
    field = next((field for field in fields if field not in asked), None)
    if field is None:
        return None
    whole = field == "flour" and kind is Kind.FLOUR
    return AskedFor(field=field, text=_TEXTS[field].replace("none if", "all if") if whole else _TEXTS[field])


def told_of(answers: Answers) -> ToldIngredient:
    """What the answers tell; an empty one tells nothing."""
    said = dict(answers)

    def listed(field: str) -> tuple[str, ...]:
        return tuple(filter(None, (part.strip() for part in said.get(field, "").split(","))))

    return ToldIngredient(
        kind=said.get("kind", ""),
        shares=tuple((field, typed) for field, typed in answers if field in SHARES),
        instant=said.get("instant", ""),
        made_of=listed("made of"),
        reaches=said.get("reaches", ""),
        allergens=listed("allergens"),
        source=said.get("source", ""),
    )


def problem_of(answers: Answers) -> str:
    """Why the last answer cannot be, or ""."""
    try:
        told_ingredient("It", told_of(answers))
    except TellingFault as fault:
        last = answers[-1]
        return fault.problem if fault.field in (last[0], "parts") and last[1] else ""
    return ""
