"""Add an ingredient to the book's own list, which goes before the built-in one."""

from __future__ import annotations

import shlex
from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.opening import (
    INGREDIENTS_PAGE,
    built_in,
    open_book,
    open_pantry,
    settle_baker,
    working_page,
)
from ovenleaf.book.steps.pages import schema_line
from ovenleaf.book.steps.shelf import formula_names, shelf_of
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.domain.formula import all_lines
from ovenleaf.domain.ingredients import WEIGHED_BY, Kind, Pantry, folded
from ovenleaf.domain.new_ingredient import (
    Answers,
    AskedFor,
    TellingFault,
    ToldIngredient,
    following,
    only_weights,
    problem_of,
    told_ingredient,
    told_of,
    weighed_anew,
)
from ovenleaf.domain.numbers import plain
from ovenleaf.errors import Next, PageRefused, Place, Refusal
from ovenleaf.records import schema
from ovenleaf.records.codec.ingredients import read_ingredients, with_ingredient, with_weights
from ovenleaf.records.nodes import line_of
from ovenleaf.records.yaml_text import read
from ovenleaf.results import AddedIngredient

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.book.steps.shelf import Shelf
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.ingredients import Ingredient
    from ovenleaf.records.nodes import Page

__all__ = ["Answers", "AskedFor", "ToldIngredient", "add_ingredient", "following", "new_name", "problem_of", "told_of"]

NOT_ADDED = "Not added"
LONGEST = 60


class CannotAdd(Refusal):
    """What is told of the ingredient cannot be. Facts: `name`, `field`, `problem`."""

    def __init__(self, name: str, field: str, problem: str) -> None:
        super().__init__(
            f"{NOT_ADDED}. {problem[:1].upper()}{problem[1:]}",
            next=(Next("ovenleaf ingredient --help", "what can be told of it, and how"),),
        )
        self.name = name
        self.field = field
        self.problem = problem


class ListedAlready(Refusal):
    """The book's own list has it. Facts: `name`, `listed`, the name it is listed under."""

    def __init__(self, name: str, listed: str, line: int) -> None:
        other = "" if listed == name else f", as another name of {listed}"
        super().__init__(
            f"{NOT_ADDED}: {name} is in this book's own list already{other}.",
            where=Place(INGREDIENTS_PAGE, line),
            detail=("To change it, edit that page and keep it.",),
            next=(
                Next(f"ovenleaf show {shlex.quote(listed)}", "what it says"),
                Next('ovenleaf save --why "..."', "when the page is edited"),
            ),
        )
        self.name = name
        self.listed = listed


class FlourStays(Refusal):
    """How much of a name is flour never changes. Facts: `name`, `formulas`, those that use it."""

    def __init__(self, name: str, was: str, would: str, formulas: tuple[str, ...]) -> None:
        used = f" {', '.join(formulas)} {'uses' if len(formulas) == 1 else 'use'} it." if formulas else ""
        super().__init__(
            f"{NOT_ADDED}: of 100 g {name}, {was} g have counted as flour so far, and now {would} g would.{used}",
            detail=(
                "How much of an ingredient is flour belongs to its name and never changes, or saved formulas would"
                " come out otherwise than they did. Give it a name of its own.",
            ),
            next=(Next(f"ovenleaf show {shlex.quote(name)}"),) if not formulas else (Next("ovenleaf list"),),
        )
        self.name = name
        self.formulas = formulas


def new_name(given: Path | None, start: Path, typed: str, baker: str) -> str:
    """The name for an ingredient that this book's own list does not have, as it will stand there.

    Raises CannotAdd, ListedAlready, and NoBaker before anything is asked.
    """
    book = open_book(given, start)
    settle_baker(book.root, baker)
    name = _name(typed)
    _own(book.root, name)
    return name


def add_ingredient(
    given: Path | None,
    start: Path,
    typed: str,
    told: ToldIngredient,
    *,
    why: str,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> AddedIngredient:
    """Put an ingredient into the book's own list. Raises CannotAdd, ListedAlready, FlourStays, PageRefused."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    name = _name(typed)
    if only_weights(told) and (known := open_pantry(book.root).get(name)).known:
        return _weighed(book.root, known, told, Stamp(by=who, at=at, verb="ingredient", preview=preview), why)
    page, own = _own(book.root, name)
    before = Pantry((*built_in(), *own))
    one = _with_allergens(_told(name, told), told, before.get(name))
    after = Pantry((*built_in(), *own, one))
    _check_names(one, before)
    _check_parts(one, before)
    _check_kind(before.get(name), one)
    _check_flour(book.root, before.get(name), after.get(name))
    head = "" if page else schema_line("ingredients", INGREDIENTS_PAGE)
    text = head + with_ingredient(page, one)
    _check_page(text)
    stamp = Stamp(by=who, at=at, verb="ingredient", preview=preview)
    expect = {INGREDIENTS_PAGE: layout.read_file(book.root, INGREDIENTS_PAGE)}
    ahead = put(book.root, {INGREDIENTS_PAGE: text}, stamp, f"ingredients: {name} ({who})", why, expect=expect)
    instead = before.get(name)
    return AddedIngredient(
        ingredient=after.get(name),
        instead=instead if instead.known else None,
        allergens_told=bool(told.allergens or one.made_of),
        ahead=ahead,
    )


def _weighed(root: Path, was: Ingredient, told: ToldIngredient, stamp: Stamp, why: str) -> AddedIngredient:
    """What measures of a known ingredient weigh in this kitchen, kept with all else that is known of it."""
    source = told.source or f"{WEIGHED_BY} {stamp.by}, {stamp.saved[:10]}"
    try:
        one = weighed_anew(was, told, source)
    except TellingFault as fault:
        raise CannotAdd(was.name, fault.field, fault.problem) from None
    data = layout.read_file(root, INGREDIENTS_PAGE)
    page = None if data is None else working_page(root, INGREDIENTS_PAGE)
    listed = () if page is None else read_ingredients(page)
    mine = next((own.name for own in listed if folded(own.name) == folded(one.name)), "")
    if page is not None and mine:
        text = with_weights(page, mine, one, [measure for measure, _ in told.weights])
    else:
        text = ("" if page else schema_line("ingredients", INGREDIENTS_PAGE)) + with_ingredient(page, one)
    _check_page(text)
    subject = f"ingredients: what {one.name} weighs ({stamp.by})"
    ahead = put(root, {INGREDIENTS_PAGE: text}, stamp, subject, why, expect={INGREDIENTS_PAGE: data})
    return AddedIngredient(ingredient=one, weighed=tuple(measure for measure, _ in told.weights), ahead=ahead)


def _name(typed: str) -> str:
    name = " ".join(typed.split())
    if not name or len(name) > LONGEST or not name.isprintable() or not name[0].isalnum() or set(name) & set("=:,;#"):
        raise CannotAdd(name, "name", "A name is a few words, such as rye malt, without = : , ; or #.")
    return name


def _own(root: Path, name: str) -> tuple[Page | None, tuple[Ingredient, ...]]:
    """The book's own list, or None, with what is in it; ListedAlready if the name is."""
    if layout.read_file(root, INGREDIENTS_PAGE) is None:
        return None, ()
    page = working_page(root, INGREDIENTS_PAGE)
    own = read_ingredients(page)
    for one in own:
        if folded(name) in map(folded, (one.name, *one.also)):
            raise ListedAlready(name, one.name, line_of(page, ("ingredients", one.name)))
    return page, own


def _told(name: str, told: ToldIngredient) -> Ingredient:
    try:
        return told_ingredient(name, told)
    except TellingFault as fault:
        raise CannotAdd(name, fault.field, fault.problem) from None


def _with_allergens(one: Ingredient, told: ToldIngredient, was: Ingredient) -> Ingredient:
    """What the list warns of so far stays, unless it is told otherwise: nobody should lose it by a new figure."""
    return one if told.allergens or one.made_of else replace(one, allergens=was.allergens)


def _check_names(one: Ingredient, before: Pantry) -> None:
    """Another name must not be taken away from something else."""
    same = before.get(one.name)
    for other in one.also:
        there = before.get(other)
        if there.known and there.name != same.name:
            raise CannotAdd(one.name, "also", f"{other} is a name of {there.name} already.")


def _check_parts(one: Ingredient, before: Pantry) -> None:
    """What a culture is fed with is in a list, and some of it is flour."""
    for item, _ in one.made_of:
        if not before.get(item).known:
            raise CannotAdd(one.name, "made of", f"{item} is in no list, so what is in {one.name} is not known.")
    if one.made_of and not any(before.get(item).flour for item, _ in one.made_of):
        raise CannotAdd(one.name, "made of", f"No flour is in {one.name}, so it would feed nothing.")


# What a formula is worked out by, so that a name must not pass from one to another.
_STANDING = frozenset({Kind.FLOUR, Kind.WATER, Kind.SALT, Kind.YEAST, Kind.CULTURE})


def _check_kind(was: Ingredient, would: Ingredient) -> None:
    if was.known and was.kind is not would.kind and {was.kind, would.kind} & _STANDING:
        problem = f"{would.name} has been of the kind {was.kind} so far. Give this a name of its own."
        raise CannotAdd(would.name, "kind", problem)


def _check_flour(root: Path, was: Ingredient, would: Ingredient) -> None:
    if was.flour == would.flour:
        return
    using = () if was.known else tuple(_using(root, would.name))
    if was.known or using:
        raise FlourStays(would.name, _whole_g(was), _whole_g(would), using)


def _whole_g(one: Ingredient) -> str:
    return plain(one.flour.quantize(1))


def _using(root: Path, name: str) -> Iterator[str]:
    """The formulas in which the name stands, in a saved revision or on the page."""
    for formula in formula_names(root):
        items = (line.item for one in _readable(shelf_of(root, formula)) for _, line in all_lines(one))
        if folded(name) in map(folded, items):
            yield formula


def _readable(shelf: Shelf) -> Iterator[Formula]:
    """What can be read of a formula; `check` tells of the rest."""
    for read_one in (*(kept.formula for kept in shelf.kept), *([] if shelf.data is None else [shelf.formula])):
        try:
            yield read_one()
        except Refusal:
            continue


def _check_page(text: str) -> None:
    """The whole list as it would be kept."""
    page = read(text, path=INGREDIENTS_PAGE)
    if findings := schema.faults("ingredients", page):
        raise PageRefused(NOT_ADDED, findings)
    read_ingredients(page)
