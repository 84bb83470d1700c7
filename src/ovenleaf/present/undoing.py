"""What `undo` says: what was taken back, what that means for each thing, and how to have it again."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.domain.taken_back import Kind
from ovenleaf.errors import Next
from ovenleaf.present.correcting import field_words
from ovenleaf.present.screen import blocks, date_words, day_words, next_block, wrap
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from ovenleaf.domain.taken_back import TakenBack
    from ovenleaf.results import Undone


def undone_screen(result: Undone) -> str:
    """The last entry was taken back."""
    head = (
        f"Taken back: {_in_words(result)}. It was written on {date_words(result.entered)} at {result.entered[11:16]}."
    )
    spoken = dict(result.spoken)
    told = [_words(thing, spoken) for thing in result.told]
    return blocks(
        ahead(result),
        wrap(head),
        "\n".join(wrap(line) for line in told),
        next_block((*_again(result), Next("ovenleaf undo --preview", "what the next undo would take back"))),
    )


def _in_words(result: Undone) -> str:
    """The entry's one line, with its days and the names of values as a baker says them."""
    said = _A_DAY.sub(lambda found: day_words(found[0]), result.what)
    for field in sorted((field for thing in result.told for field in thing.what), key=len, reverse=True):
        said = said.replace(field, field_words(field)) if "." in field or "_" in field else said
    return said


_A_DAY = re.compile(r"\b[0-9]{4}-[0-9]{2}-[0-9]{2}\b")


def _words(thing: TakenBack, spoken: Mapping[tuple[str, str], str]) -> str:
    name = thing.name.replace("-", " ").capitalize()
    match thing.kind:
        case Kind.PAGE:
            return f"The page of {name.lower()} is as it was before, to the letter."
        case Kind.NO_PAGE:
            return f"{name} has no page in use any more."
        case Kind.REVISION:
            said = _spoken(thing, thing.what[0], spoken)
            return f"{said} stays readable and is marked taken back; its number is not used again."
        case Kind.MARK:
            mark, revision = thing.what
            return f"{_spoken(thing, revision, spoken)} of {name.lower()} is no longer marked {mark}."
        case Kind.ANSWER:
            return f"Whether {thing.what[0]} in {name.lower()} is as you mean it is asked again."
        case Kind.AWAY:
            return f"{name} is put away again."
        case Kind.BACK:
            return f"{name} is in use again."
        case Kind.PUBLISHED:
            return f"The book no longer knows that {thing.what[0]} was published. The file itself stays where it is."
        case Kind.OUT:
            return f"The book knows again that {thing.what[0]} is out, and check looks after it."
        case Kind.WITHDRAWN:
            return f"Trial {thing.name} is withdrawn: its page and its code stay, and no ranking counts it."
        case Kind.VALUES:
            values = "; ".join((*map(field_words, thing.what), *(f'the line "{line}"' for line in thing.lines)))
            return f"In trial {thing.name} this is taken back, and its page says so: {values}."
        case Kind.NO_FILE:
            return f"{thing.name} was new and is not there any more."
        case Kind.FILE:
            return f"{thing.name} is as it was before, to the letter."


def _spoken(thing: TakenBack, revision: str, spoken: Mapping[tuple[str, str], str]) -> str:
    return spoken.get((thing.name, revision), revision).capitalize()


def _again(result: Undone) -> Iterator[Next]:
    """How to have again what was taken back, for what cannot simply be typed once more."""
    for thing in result.told:
        if thing.kind is Kind.REVISION:
            page = f"formulas/{thing.name}/{thing.what[0]}.yaml"
            yield Next(f'ovenleaf enter {page} --why "after all"', "to have it again, as the next revision")
        if thing.kind is Kind.WITHDRAWN:
            state = f"state={thing.what[0]}"
            word = f'"{state}"' if " " in state else state
            yield Next(f'ovenleaf correct {thing.name} {word} --why "after all"', "to have it again")
