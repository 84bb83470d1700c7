"""A recipe handed in as bytes, taken apart: plain text, schema.org Recipe data (JSON-LD), a saved page that holds it.

Vocabulary: https://schema.org/Recipe (recipeIngredient, recipeInstructions, recipeYield; `ingredients` is an older
name of the first).
"""

from __future__ import annotations

import html
import json
import re
from dataclasses import replace
from decimal import Decimal
from html.parser import HTMLParser
from typing import TYPE_CHECKING, Any

from ovenleaf.domain.recipe_columns import is_in_columns, named_step, pieces_made, read_columns
from ovenleaf.domain.recipe_parts import RecipeFault, RecipeParts
from ovenleaf.domain.recipe_pieces import sentences
from ovenleaf.domain.recipe_text import read_text
from ovenleaf.records.recipe_bytes import recipe_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

MOST_THINGS = 20_000  # pieces of data in one file; a page of a web log holds some hundreds
# Signs that do not show, and that a terminal or an editor would obey: no letter of any word.
_UNSEEN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff]")
_HTML = re.compile(r"<(?:!doctype|html|head|body|script|div|p)\b", re.IGNORECASE)


def recipe_parts(data: bytes, knows: Callable[[str], bool]) -> RecipeParts:
    """A recipe taken apart, in whichever of the forms it was handed in. Raises RecipeFault."""
    typed = recipe_text(data)
    text = _UNSEEN.sub("", typed)
    if not text.strip():
        raise RecipeFault("empty")
    parts = _parts(text, knows)
    return parts if parts.found_in.startswith("recipe data") else replace(parts, text=typed)


def _parts(text: str, knows: Callable[[str], bool]) -> RecipeParts:
    """Taken apart by what it is: data, a page, columns, or a text as people type it."""
    try:
        if text.lstrip()[:1] in ("{", "["):
            return _of_data(_recipes_in(text), text, "recipe data")
        if _HTML.search(text[:20_000]):
            return _of_page(text)
        return read_columns(text) if is_in_columns(text) else read_text(text, knows)
    except RecursionError:  # lists in lists in lists, as no recipe has them
        raise RecipeFault("not data") from None


class _Scripts(HTMLParser):
    """Collects what stands in scripts of type application/ld+json."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[str] = []
        self._inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        kind = (dict(attrs).get("type") or "").split(";")[0].strip().lower()
        self._inside = tag == "script" and kind == "application/ld+json"
        if self._inside:
            self.found.append("")

    def handle_endtag(self, tag: str) -> None:
        if tag == "script":
            self._inside = False

    def handle_data(self, data: str) -> None:
        if self._inside:
            self.found[-1] += data


def _of_page(text: str) -> RecipeParts:
    scripts = _Scripts()
    scripts.feed(text)
    found: list[tuple[dict[str, Any], str]] = []
    broken = False
    for script in scripts.found:
        try:
            found += [(one, script) for one in _recipes_in(script)]
        except RecipeFault as fault:
            broken = broken or fault.kind == "not data"
    if not found:
        raise RecipeFault("page without data", ("broken",) if broken else ())
    return _of_data([one for one, _ in found], found[0][1].strip(), "recipe data in a page")


def _recipes_in(text: str) -> list[dict[str, Any]]:
    """Every node that is a Recipe, however deep it stands. Raises RecipeFault."""
    try:
        data = json.loads(text, parse_float=Decimal, parse_constant=str)
    except (ValueError, RecursionError):
        raise RecipeFault("not data") from None
    found, waiting, seen = [], [data], 0
    while waiting:
        one = waiting.pop()
        seen += 1
        if seen > MOST_THINGS:
            raise RecipeFault("not data")
        if isinstance(one, dict):
            if _is_recipe(one):
                found.append(one)
            waiting.extend(reversed(one.values()))
        elif isinstance(one, list):
            waiting.extend(reversed(one))
    return found


def _is_recipe(node: dict[str, Any]) -> bool:
    kinds = node.get("@type")
    names = kinds if isinstance(kinds, list) else [kinds]
    return any(
        isinstance(name, str) and re.fullmatch(r"(?:https?://schema\.org/|schema:)?Recipe", name) for name in names
    )


def _of_data(found: list[dict[str, Any]], text: str, found_in: str) -> RecipeParts:
    recipes = {json.dumps(one, sort_keys=True, default=str): one for one in found}
    if not recipes:
        raise RecipeFault("no recipe")
    if len(recipes) > 1:
        raise RecipeFault("two recipes", tuple(_words(one.get("name")) for one in recipes.values())[:2])
    recipe = next(iter(recipes.values()))
    lines = tuple(_under_headings(_texts(recipe.get("recipeIngredient", recipe.get("ingredients")))))
    if not lines:
        raise RecipeFault("no ingredients")
    steps = list(_instructions(recipe.get("recipeInstructions")))
    return RecipeParts(
        title=_words(recipe.get("name")),
        lines=lines,
        steps=tuple(words for _, words in steps),
        step_names=tuple(name for name, _ in steps),
        text=text,
        makes=_yield(recipe.get("recipeYield")),
        source=_source(recipe),
        found_in=found_in,
    )


_HEADING = re.compile(
    r"(?:for\s+)?(?:the\s+)?(?P<part>[^:\d]{2,40}?)\s*:|for\s+the\s+(?P<bare>[a-z ]{2,30})", re.IGNORECASE
)


def _under_headings(texts: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Lines with the heading that they stand under: `For the sponge:` among them is one."""
    part = ""
    for text in texts:
        if (heading := _HEADING.fullmatch(text)) is not None:
            part = (heading["part"] or heading["bare"]).strip().lower()
        else:
            yield part, text


def _texts(value: object) -> Iterator[str]:
    """The lines of a list, however its lists are nested; one text may hold several lines."""
    waiting = [value]
    while waiting:
        one = waiting.pop(0)
        if isinstance(one, list):
            waiting[:0] = one
        elif isinstance(one, dict):
            waiting.insert(0, one.get("text") or one.get("name"))
        elif isinstance(one, str | int | Decimal) and not isinstance(one, bool):
            yield from (line for part in _broken(str(one)).splitlines() if (line := _plain(part)))


def _broken(text: str) -> str:
    return re.sub(r"<\s*(?:br|/p|/li|/div)\b[^>]*>", "\n", text, flags=re.IGNORECASE)


def _plain(text: str) -> str:
    """Without mark-up, and with its signs spelled out."""
    return " ".join(_UNSEEN.sub("", html.unescape(re.sub(r"<[^<>]{0,2000}>", " ", html.unescape(text)))).split())


def _words(value: object) -> str:
    return next(_texts(value), "")


def _instructions(value: object) -> Iterator[tuple[str, str]]:
    """Steps, sections of steps, or one text: name and words of each, the name "" where it has none."""
    if isinstance(value, list):
        for one in value:
            yield from _instructions(one)
    elif isinstance(value, dict):
        below = value.get("itemListElement") or value.get("steps")
        if below:
            yield from _instructions(below)
        else:
            name, words = named_step(_words(value.get("name")), " ".join(_texts(value)))
            yield from [(name, words)] if name else _unnamed(value)
    else:
        yield from _unnamed(value)


def _unnamed(value: object) -> Iterator[tuple[str, str]]:
    yield from (("", sentence) for sentence in sentences(list(_texts(value))))


def _yield(value: object) -> str:
    """`12 rolls`; of several that which says most."""
    said = list(_texts(value))
    most = max(said, key=len, default="")
    return pieces_made(re.sub(r"^(?:makes|yields?)\s*:?\s*", "", most, flags=re.IGNORECASE))


def _source(recipe: dict[str, Any]) -> str:
    """Who it is by and where it is from, each thing once: what stands inside another is left out."""
    told = (" ".join(one.split()).rstrip(" .") for one in _credits(recipe))
    said = [re.sub(r"^From ", "from ", one) for one in told]
    alike = {one.lower(): one for one in reversed(said)}
    return ", ".join(one for low, one in reversed(alike.items()) if not any(low in o and low != o for o in alike))


def _credits(recipe: dict[str, Any]) -> Iterator[str]:
    """Who it is by, where it was published, its address."""
    for key in ("author", "creator", "publisher", "isBasedOn", "creditText", "isPartOf", "url", "mainEntityOfPage"):
        value = recipe.get(key)
        if isinstance(value, dict):
            value = value.get("name") or value.get("@id") or value.get("url")
        if isinstance(value, list):
            value = [one.get("name") if isinstance(one, dict) else one for one in value]
        yield from (f"by {words}" if key in ("author", "creator") else words for words in _texts(value))
