"""Put an answer on the screen: as text, or as JSON where a script asked for it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from ovenleaf.cli import remembered
from ovenleaf.errors import Refusal

if TYPE_CHECKING:
    from collections.abc import Callable

    from ovenleaf.present.documents.common import Document


# Words that a help text or an older screen of ours has where a reason of one's own belongs.
_PLACES_KEPT = ("why it is so", "text", "t")


def own_words(typed: str) -> str:
    """A reason as it was typed; what only keeps its place in an offered command is refused."""
    said = typed.strip()
    if said and (not said.strip(". …") or said.casefold() in _PLACES_KEPT):
        raise Refusal(
            f"The reason is still to be told: {said} only keeps its place.",
            detail=('Type a few words of your own there, as in "softer crumb".',),
        )
    return said


AsJson = Annotated[bool, typer.Option("--json", help="Answer in JSON, for scripts.")]
Why = Annotated[
    str, typer.Option("--why", metavar="TEXT", callback=own_words, help="The reason, in a few words of your own.")
]
Meant = Annotated[
    str,
    typer.Option(
        "--meant", metavar="TEXT", callback=own_words, help="What looks like a slip is as you mean it, and why."
    ),
]
NewTaster = Annotated[
    bool, typer.Option("--new-taster", help="The taster is new here, though the name looks like another's.")
]
Preview = Annotated[bool, typer.Option("--preview", help="Show what would be written, and write nothing.")]


AsSentences = Annotated[
    bool, typer.Option("--sentences", help="Tables row by row in whole sentences, to be read aloud.")
]


def say_screen(screen: Callable[[], str], *, sentences: bool) -> None:
    """A screen whose tables may be wanted in whole sentences."""
    from ovenleaf.present.screen import spoken

    with spoken(sentences):
        text = screen()
    say(text)


def say(text: str) -> None:
    """A screen of text. What a terminal would obey is gone by now; where one screen forgot it, it goes here."""
    if not all(map(str.isprintable, text.split("\n"))):
        from ovenleaf.present.screen import clean

        text = "\n".join(map(clean, text.split("\n")))
    remembered.note(f"{text}\n")
    typer.echo(text)


def say_document(document: Document) -> None:
    """A document for scripts."""
    from ovenleaf.present.documents.common import text

    say(text(document))
