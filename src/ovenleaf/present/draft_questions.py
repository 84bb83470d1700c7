"""What a draft leaves open, with the command that answers each question; and what was settled."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.errors import Next
from ovenleaf.present.screen import blocks, next_block, rows, wrap
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.results import DraftSettled, Settled


def open_block(questions: Sequence[tuple[str, str, tuple[tuple[str, str], ...]]]) -> str:
    """Each question with the answers there are."""
    if not questions:
        return ""
    lines = ["Still open, and the draft cannot be kept until it is settled"]
    for key, about, choices in questions:
        lines.append(wrap(f"{key}, {about}", 2))
        if choices:
            lines.append(rows([(said, amount) for said, amount in choices], "<>", indent=4))
    return "\n".join(lines)


def settle_commands(name: str, questions: Sequence[tuple[str, tuple[str, ...]]]) -> tuple[Next, ...]:
    """The command that answers each, with the first of its answers."""
    found = []
    for key, choices in questions:
        edit = f"{key}={choices[0] if choices else '10g'}"
        command = f"ovenleaf settle {name} " + (f'"{edit}"' if " " in edit else edit)
        found.append(Next(command, "" if choices else "whatever it weighs"))
    return tuple(found)


def keep_commands(name: str) -> tuple[Next, ...]:
    """What comes when nothing is open."""
    return (
        Next(f'ovenleaf save {name} --why "as the card has it"', "keep it as revision 1"),
        Next(f"ovenleaf weigh {name}", "then bake it once, weighing it all"),
    )


def any_settled_screen(result: Settled | DraftSettled) -> str:
    """Questions that were settled, of a draft or between bakers."""
    from ovenleaf.present.sharing import settled_screen
    from ovenleaf.results import DraftSettled

    return draft_settled_screen(result) if isinstance(result, DraftSettled) else settled_screen(result)


def draft_settled_screen(result: DraftSettled) -> str:
    """Questions of a draft that were answered."""
    head = f"Settled in the draft of {result.title.lower()}."
    left = [(one.item, one.was, tuple((said, text) for said, text in one.proposals)) for one in result.left]
    commands = settle_commands(
        result.name, [(one.item, tuple(said for said, _ in one.proposals)) for one in result.left]
    )
    done = "" if result.left else wrap("Nothing is open any more.")
    return blocks(
        ahead(result),
        wrap(head),
        rows(list(result.rows), "<<<"),
        open_block(left) or done,
        next_block(commands or keep_commands(result.name)),
    )
