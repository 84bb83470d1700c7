"""What `publish --as` can make: one row a kind. Each kind loads what it needs when it is asked for."""

from __future__ import annotations

import shlex
from dataclasses import dataclass
from pathlib import PurePath
from typing import TYPE_CHECKING

from ovenleaf.cli.context import current
from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from ovenleaf.jobs.publish import Asked, File, Note, PutOut, Recipe


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """What a kind made: its files, the note the book keeps of it (None for what nobody outside reads), and what the
    screen says once they are written."""

    files: Iterable[File]
    screen: Callable[[PutOut], str]
    note: Note | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of page: the word behind --as, the endings its file may have (the first is the usual one; none for a
    folder), and what makes it. `takes` are the options that mean something to it; `of_book` is true where no formula
    need be named."""

    name: str
    make: Callable[[Asked], Made]
    endings: tuple[str, ...] = ()
    takes: tuple[str, ...] = ()
    of_book: bool = False

    @property
    def folder(self) -> bool:
        """True where a whole folder is written."""
        return not self.endings


def _recipe(asked: Asked) -> Made:
    from ovenleaf.present.publishing.recipe_html import recipe_html
    from ovenleaf.present.publishing.recipe_text import recipe_text

    in_html = PurePath(asked.out).suffix.lower() in HTML
    return _of_recipe(asked, "recipe", recipe_html if in_html else recipe_text)


def _jsonld(asked: Asked) -> Made:
    from ovenleaf.present.publishing.jsonld import recipe_jsonld

    return _of_recipe(asked, "jsonld", lambda found: f"{recipe_jsonld(found)}\n")


def _of_recipe(asked: Asked, kind: str, page: Callable[[Recipe], str]) -> Made:
    """A recipe in one form or another."""
    from ovenleaf.jobs.publish import File, Note, leaning, recipe
    from ovenleaf.present.publishing.screen import recipe_screen

    context = current()
    found = recipe(context.book, context.cwd, asked, context.now)
    return Made(
        files=(File("", page(found).encode()),),
        screen=lambda out: recipe_screen(found, out),
        note=Note.of(found.sheet, kind, leaning(found.behind, found.bake), found.flour),
    )


def _sheet(asked: Asked) -> Made:
    from ovenleaf.cli.zone import in_this_zone
    from ovenleaf.jobs.publish import File
    from ovenleaf.jobs.weigh import WeighOptions, formulas_and_revision, weigh
    from ovenleaf.present.publishing.screen import sheet_screen
    from ovenleaf.present.publishing.sheet_html import sheet_html

    context = current()
    names, revision = formulas_and_revision(asked.words)
    options = WeighOptions(
        pieces=asked.pieces,
        each=asked.each,
        dough=asked.dough,
        flour=asked.flour,
        bench_loss=asked.option("bench-loss"),
        scale=asked.option("scale"),
        room=asked.option("room"),
        flour_temp=asked.option("flour-temp"),
        preferment_temp=asked.option("preferment-temp"),
        tap=asked.option("tap"),
        ready=asked.option("ready"),
        begin=asked.option("begin"),
    )
    found = weigh(context.book, context.cwd, names, revision, options, in_this_zone(context.now))
    return Made(files=(File("", sheet_html(found).encode()),), screen=lambda out: sheet_screen(found, out))


def _csv(asked: Asked) -> Made:
    from ovenleaf.jobs.publish import File
    from ovenleaf.jobs.publish_trials import trial_table
    from ovenleaf.present.publishing.screen import trials_screen
    from ovenleaf.present.publishing.trials_csv import trials_csv

    context = current()
    found = trial_table(context.book, context.cwd, asked.words, context.now)
    return Made(files=(File("", trials_csv(found).encode()),), screen=lambda out: trials_screen(found, out))


def _label(asked: Asked) -> Made:
    from ovenleaf.jobs.publish import File, Note, leaning
    from ovenleaf.jobs.publish_label import label
    from ovenleaf.present.publishing.label_text import label_text
    from ovenleaf.present.publishing.screen import label_screen

    context = current()
    found = label(
        context.book, context.cwd, asked.words, bake_loss=asked.option("bake-loss"), out=asked.out, now=context.now
    )
    return Made(
        files=(File("", label_text(found).encode()),),
        screen=lambda out: label_screen(found, out),
        note=Note.of(found.sheet, "label", leaning(None, found.loss)),
    )


def _book(asked: Asked) -> Made:
    from ovenleaf.cli.browsing import book_files
    from ovenleaf.jobs.listing import listing
    from ovenleaf.present.publishing.screen import book_screen

    if asked.words:
        raise Refusal(
            "As a book all formulas go out together, each with a way to the others.",
            next=(Next(f"ovenleaf publish --as book --out {shlex.quote(asked.out)}"),),
        )
    context = current()
    found = listing(context.book, context.cwd, context.now)
    return Made(files=book_files(found), screen=lambda out: book_screen(found, out))


HTML = (".html", ".htm")
SIZES = ("pieces", "each", "dough", "flour")
_AT_THE_BENCH = ("bench-loss", "scale", "room", "flour-temp", "preferment-temp", "tap", "ready", "begin")
_KINDS = (
    Kind(name="recipe", make=_recipe, endings=(".txt", *HTML), takes=(*SIZES, "tolerance")),
    Kind(name="jsonld", make=_jsonld, endings=(".json", ".jsonld"), takes=(*SIZES, "tolerance")),
    Kind(name="sheet", make=_sheet, endings=HTML, takes=(*SIZES, *_AT_THE_BENCH)),
    Kind(name="label", make=_label, endings=(".txt",), takes=("bake-loss",)),
    Kind(name="book", make=_book, of_book=True),
    Kind(name="csv", make=_csv, endings=(".csv",), of_book=True),
)
KINDS = {kind.name: kind for kind in _KINDS}


def wrong_ending(kind: Kind, out: str) -> bool:
    """True where a file's name ends in what this kind does not make."""
    return bool(kind.endings) and PurePath(out).suffix.lower() not in kind.endings
