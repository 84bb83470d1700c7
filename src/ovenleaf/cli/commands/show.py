"""ovenleaf show NAME [R]"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, say, say_document, say_screen
from ovenleaf.cli.context import current
from ovenleaf.cli.handler import Usage
from ovenleaf.errors import Next


def command(
    name: Annotated[
        str, typer.Argument(metavar="[NAME]", help="A formula, a trial's code (or last), or an ingredient.")
    ] = "",
    revision: Annotated[list[str] | None, typer.Argument(metavar="[R]", help="A revision, if not the newest.")] = None,
    schema: Annotated[
        str,
        typer.Option("--schema", metavar="KIND", help="The schema of a page (trial) or an answer (ovenleaf.rank/1)."),
    ] = "",
    more: Annotated[
        bool, typer.Option("--more", help="Numbers for the sceptic: yields, salt, solids, flour types.")
    ] = False,
    bake_loss: Annotated[str, typer.Option(metavar="PERCENT", help="With --more: what the oven takes.")] = "",
    card: Annotated[
        bool, typer.Option("--card", help="The recipe it was adopted from, and how well each weight is known.")
    ] = False,
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Show a formula's sheet, a trial or an ingredient.

    Example: ovenleaf show market-roll r1
    """
    from ovenleaf.jobs.show import show
    from ovenleaf.present.showing import document, screen

    if schema:
        from ovenleaf.jobs.schemas import schema_of

        text = schema_of(schema).rstrip()
        if name:
            raise Usage("--schema takes no NAME beside it.", next=(Next(f"ovenleaf show --schema {schema}"),))
        say(text)
        return
    if not name:
        raise Usage(
            "NAME is missing: a formula, a trial or an ingredient.",
            next=(Next("ovenleaf list", "the formulas and trials of this book"), Next("ovenleaf show butter")),
        )
    context = current()
    if card:
        _card(name, as_json=as_json, sentences=sentences)
        return
    if more or bake_loss:
        _more(name, " ".join(revision or ()), bake_loss, more=more, as_json=as_json, sentences=sentences)
        return
    result = show(context.book, context.cwd, name, " ".join(revision or ()))
    if as_json:
        say_document(document(result))
    else:
        say_screen(lambda: screen(result), sentences=sentences)


def _card(name: str, *, as_json: bool, sentences: bool) -> None:
    """Show the card that a formula was adopted from."""
    from ovenleaf.jobs.show_card import show_card
    from ovenleaf.present.card import card_screen
    from ovenleaf.present.documents import formulas

    context = current()
    result = show_card(context.book, context.cwd, name)
    if as_json:
        say_document(formulas.card(result))
    else:
        say_screen(lambda: card_screen(result), sentences=sentences)


def _more(name: str, revision: str, bake_loss: str, *, more: bool, as_json: bool, sentences: bool) -> None:
    """Show the numbers for the sceptic."""
    from ovenleaf.jobs.show import show_more
    from ovenleaf.present.documents import formulas
    from ovenleaf.present.more import more_screen

    if not more:
        raise Usage(
            "--bake-loss goes with --more.", next=(Next(f"ovenleaf show {name} --more --bake-loss {bake_loss}"),)
        )
    context = current()
    result = show_more(context.book, context.cwd, name, revision, bake_loss)
    if as_json:
        say_document(formulas.more(result))
    else:
        say_screen(lambda: more_screen(result), sentences=sentences)
