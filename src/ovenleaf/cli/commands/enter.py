"""ovenleaf enter FILE"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from ovenleaf.cli.answer import Meant, Preview, Why, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current
from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from collections.abc import Callable

    from ovenleaf.jobs.enter import Typed


_UNASKED = "A new formula is asked for line by line, but only at a terminal, and this is none."


def command(
    page: Annotated[
        str,
        typer.Argument(
            metavar="FILE", help="A page that you typed, - for standard input, or a new name to be asked line by line."
        ),
    ],
    why: Why = "",
    levain: Annotated[
        str,
        typer.Option(
            metavar="HOW", help="on-top or counted-in: whether flour that comes to 100 % counts what is in the levain."
        ),
    ] = "",
    new: Annotated[
        list[str] | None, typer.Option(metavar="ITEM", help="An ingredient that is meant as spelled.")
    ] = None,
    meant: Meant = "",
    preview: Preview = False,
) -> None:
    """Put in a formula, from a page or asked line by line.

    Example: ovenleaf enter market-roll.yaml

    Asked: ovenleaf enter stall-loaf
    """
    from ovenleaf.jobs.enter import STANDARD_INPUT, Typed, enter, page_bytes
    from ovenleaf.present.writing import entered_screen

    context = current()

    def take_in(typed: Typed) -> None:
        result = signed(
            lambda baker: enter(
                context.book,
                context.cwd,
                typed,
                why=why,
                baker=baker,
                at=context.now,
                preview=preview,
                meant=meant,
                reading=levain,
                new=tuple(new or ()),
            )
        )
        say(entered_screen(result))

    name = _is_name(context.cwd / Path(page), page)
    if context.interactive and name:
        _ask_and_take_in(page, take_in)
    elif page == "-":
        take_in(Typed(data=context.read_page(), source=STANDARD_INPUT))
    else:
        unasked = f"{_UNASKED} Or type it as a page and enter that, as in ovenleaf enter {page}.yaml." if name else ""
        take_in(Typed(data=page_bytes(context.cwd / Path(page), page, missing=unasked), source=page))


def _ask_and_take_in(page: str, take_in: Callable[[Typed], None]) -> None:
    """Take in what is told line by line; where it cannot be entered, it is kept as a page, and nothing told is lost."""
    from ovenleaf.jobs.enter import Typed

    typed = _asked(page)
    try:
        return take_in(typed)
    except Refusal:
        name = _laid_down(page, typed.data)
        if not name:
            raise
    try:
        take_in(Typed(data=typed.data, source=name))
    except Refusal as refusal:
        words = "what you told is in that page; put it right first"
        refusal.next = (*refusal.next, Next(f"ovenleaf enter {name}", words))
        raise


def _laid_down(name: str, data: bytes) -> str:
    """Put a page beside the baker, under a name that is free; gives the name, or "" where the disk takes none."""
    for free in (f"{name}.yaml", *(f"{name}-{number}.yaml" for number in range(2, 100))):
        try:
            with (current().cwd / free).open("xb") as file:
                file.write(data)
        except FileExistsError:
            continue
        except OSError:
            return ""
        return free
    return ""


def _is_name(path: Path, page: str) -> bool:
    """A word that is no file and looks like none is the name of a formula to be asked for."""
    return page != "-" and not path.exists() and not path.suffix and "/" not in page


def _asked(page: str) -> Typed:
    """Ask for a new formula line by line; what comes of it is a page like any other."""
    from ovenleaf.cli.questions import ask_formula, open_line, remark
    from ovenleaf.jobs.ask import check_line, formula_page, new_name
    from ovenleaf.jobs.enter import Typed

    context = current()
    name = signed(lambda baker: new_name(context.book, context.cwd, page, baker))
    title = page[:1].upper() + page[1:].replace("-", " ")
    say(
        f"{title}, a new formula. One ingredient to a line, with its amount, in\n"
        "weights or in percent as your notes have it. An empty line ends the list.\n"
    )
    with open_line():
        lines, said = ask_formula(lambda typed, before: check_line(context.book, context.cwd, typed, before))
    if not lines:
        raise Refusal("Not entered: no ingredient was told.", next=(Next(f"ovenleaf enter {page}", "to begin again"),))
    remark("")
    aims = {key: said.get(key, "") for key in ("crust", "crumb")}
    text = formula_page(name, title, lines, said.get("makes", ""), aims)
    return Typed(data=text.encode(), source=f"{name}, as told")
