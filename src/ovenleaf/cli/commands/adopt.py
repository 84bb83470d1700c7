"""ovenleaf adopt FILE"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from ovenleaf.cli.answer import Preview, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current

if TYPE_CHECKING:
    from ovenleaf.jobs.adopt import ToAdopt


def command(
    recipe: Annotated[
        str, typer.Argument(metavar="FILE", help="A text, schema.org Recipe data, a saved page; - for standard input.")
    ],
    name: Annotated[
        str, typer.Option(metavar="NAME", help="What the formula is to be called; else by its title.")
    ] = "",
    cups: Annotated[str, typer.Option(metavar="WHOSE", help="us, metric or imperial: whose cups and pints.")] = "",
    says: Annotated[
        list[str] | None, typer.Option("--say", metavar="ITEM=ANSWER", help='What the card leaves open: "salt=table".')
    ] = None,
    preview: Preview = False,
) -> None:
    """Take in a household recipe: cups, spoons and packets into a draft in grams, every weight shown.

    Example: ovenleaf adopt petra.txt --name olive-flatbread
    """
    from ovenleaf.jobs.adopt import Handed, adopt, read_recipe, recipe_bytes
    from ovenleaf.present.adopting import adopted_screen

    context = current()
    data = context.read_page() if recipe == "-" else recipe_bytes(context.cwd / recipe, recipe)
    handed = Handed(data=data, shown=recipe)
    to_adopt = signed(lambda baker: read_recipe(context.book, context.cwd, handed, name=name, baker=baker, cups=cups))
    if context.interactive and not says:
        to_adopt = _asked(to_adopt)
    result = signed(lambda baker: adopt(to_adopt, tuple(says or ()), baker=baker, at=context.now, preview=preview))
    say(adopted_screen(result))


def _asked(to_adopt: ToAdopt) -> ToAdopt:
    """What the card does not say, asked one by one; a thing left open stays open in the draft."""
    from ovenleaf.cli.questions import STOP, ask, open_line, remark
    from ovenleaf.jobs.adopt import with_answer
    from ovenleaf.present.adopting import question_words, read_words, taken_words

    questions = to_adopt.card.questions
    say(read_words(to_adopt.title, to_adopt.card))
    with open_line():
        for question in questions:
            for _ in range(_TRIES):
                typed = ask(question_words(question))
                if typed is None or typed.lower() == STOP:
                    remark("")
                    return to_adopt
                if not typed:
                    break
                to_adopt, said = with_answer(to_adopt, question, typed)
                if not said.problem:
                    remark(taken_words(said))
                    break
                remark(said.problem)
    if questions:
        remark("")
    return to_adopt


_TRIES = 3
