"""ovenleaf ingredient NAME"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from ovenleaf.cli.answer import Preview, Why, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current

if TYPE_CHECKING:
    from ovenleaf.jobs.ingredient import ToldIngredient

_GRAMS = "G"


def command(
    name: Annotated[list[str], typer.Argument(metavar="NAME", help="What it is called, such as rye malt.")],
    kind: Annotated[str, typer.Option(metavar="KIND", help="flour, malt, seed, ...; asked for if left out.")] = "",
    flour: Annotated[str, typer.Option(metavar=_GRAMS, help="How much of 100 g counts as flour.")] = "",
    water: Annotated[str, typer.Option(metavar=_GRAMS, help="In 100 g, as are the rest.")] = "",
    fat: Annotated[str, typer.Option(metavar=_GRAMS)] = "",
    sugars: Annotated[str, typer.Option(metavar=_GRAMS)] = "",
    milk_sugar: Annotated[str, typer.Option(metavar=_GRAMS, help="How much of the sugars is milk sugar.")] = "",
    salt: Annotated[str, typer.Option(metavar=_GRAMS)] = "",
    protein: Annotated[str, typer.Option(metavar=_GRAMS)] = "",
    weighs: Annotated[
        list[str] | None, typer.Option(metavar="MEASURE=G", help="cup=120, or tablespoon, teaspoon, packet, piece.")
    ] = None,
    density: Annotated[str, typer.Option(metavar=_GRAMS, help="Of a millilitre.")] = "",
    instant: Annotated[str, typer.Option(metavar=_GRAMS, help="Instant yeast that does the work of 1 g.")] = "",
    made_of: Annotated[
        list[str] | None, typer.Option(metavar="ITEM=SHARE", help="What a culture is fed with: water=80.")
    ] = None,
    stays_inside: Annotated[
        bool, typer.Option("--stays-inside", help="What is inside does not reach the dough, as in olives.")
    ] = False,
    allergen: Annotated[list[str] | None, typer.Option(metavar="WORD", help="Such as wheat, or none.")] = None,
    also: Annotated[list[str] | None, typer.Option(metavar="NAME", help="Another name for it.")] = None,
    source: Annotated[str, typer.Option(metavar="TEXT", help="Where the figures are from.")] = "",
    note: Annotated[str, typer.Option(metavar="TEXT")] = "",
    why: Why = "",
    preview: Preview = False,
) -> None:
    """Add an ingredient to the book's own list, which goes before the built-in one.

    Asked: ovenleaf ingredient rye malt

    Example: ovenleaf ingredient rye malt --kind malt --water 6 --sugars 60 --allergen rye --source "the bag"
    """
    from ovenleaf.jobs.ingredient import ToldIngredient, add_ingredient
    from ovenleaf.present.ingredient import added_screen

    context = current()
    called = " ".join(name)
    told = ToldIngredient(
        kind=kind,
        shares=tuple(
            (field, typed)
            for field, typed in (
                ("flour", flour),
                ("water", water),
                ("fat", fat),
                ("protein", protein),
                ("sugars", sugars),
                ("milk sugar", milk_sugar),
                ("salt", salt),
            )
            if typed
        ),
        weights=tuple(_pair(one) for one in weighs or ()),
        density=density,
        instant=instant,
        made_of=tuple(made_of or ()),
        reaches="no" if stays_inside else "",
        allergens=tuple(allergen or ()),
        also=tuple(also or ()),
        source=source,
        note=note,
    )
    if context.interactive and told == ToldIngredient():
        told = _asked(called)
    result = signed(
        lambda baker: add_ingredient(
            context.book, context.cwd, called, told, why=why, baker=baker, at=context.now, preview=preview
        )
    )
    say(added_screen(result))


def _pair(typed: str) -> tuple[str, str]:
    measure, _, grams = typed.partition("=")
    return measure.strip().lower(), grams.strip() or "nothing"


def _asked(typed: str) -> ToldIngredient:
    """What it is made of, in answers to questions."""
    from ovenleaf.cli.questions import ask_ingredient, open_line, remark
    from ovenleaf.jobs.ingredient import following, new_name, problem_of, told_of

    context = current()
    name = signed(lambda baker: new_name(context.book, context.cwd, typed, baker))
    say(
        f"{name[:1].upper()}{name[1:]}, for this book's own list. Figures are g in 100 g, as on a label.\n"
        "Enter alone leaves a thing not known. You can also say back, or stop: what you\n"
        "have told so far is kept.\n"
    )
    with open_line():
        answers = ask_ingredient(following, problem_of)
    remark("")
    return told_of(answers)
