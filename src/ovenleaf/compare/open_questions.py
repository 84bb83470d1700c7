"""What two bakers changed in two ways, as it stands on a page: the item, what it was, who proposes what."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.compare.policies import ORDER, WHOLE
from ovenleaf.compare.three_ways import GONE, Gone, Side, Tree

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ovenleaf.compare.three_ways import Decision, Path, Value
    from ovenleaf.domain.formula import OpenQuestion

PARTS = ("preferments", "soakers", "stages")
NOT_IN_IT, LEFT_OUT = "not in it", "left out"


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """Who proposes, and the revisions that the three pages are; "" where a page is none."""

    one: str
    other: str
    before_revision: str = ""
    one_revision: str = ""
    other_revision: str = ""


def answer_typed(item: str, value: str) -> str:
    """How an answer is typed: `water=noor`, in quotes where it has a space."""
    both = f"{item}={value}"
    return f'"{both}"' if " " in both else both


def proposals_said(question: OpenQuestion) -> str:
    """`noor 76%, tomas 77%`."""
    return ", ".join(f"{by} {text}" for by, text in question.proposals)


def names_of(one: tuple[str, ...], other: tuple[str, ...], **revisions: str) -> Names:
    """The bakers behind two pages, by their handles; their revisions where both are by the same ones.

    >>> names_of(("noor",), ("tomas",)).one, names_of(("noor",), ("noor",)).one
    ('noor', 'either')
    """
    left, right = ".".join(one), ".".join(other)
    if not left or not right or left == right:
        left, right = revisions.get("one_revision", ""), revisions.get("other_revision", "")
    if not left or not right or left == right:
        left, right = "either", "or"
    return Names(one=left, other=right, **revisions)


def open_block(questions: Iterable[Decision], names: Names) -> dict[str, Tree]:
    """The block `open:` for these questions: under each item what it was, and the two proposals."""
    block: dict[str, Tree] = {}
    for question in questions:
        item = item_of(question.path)
        if item in block:
            item = ".".join(question.path)
        proposals: dict[str, Tree] = {"was": _words(question.before, names.before_revision, NOT_IN_IT)}
        for name, side, revision in sorted(
            (
                (names.one, question.one, names.one_revision),
                (names.other, question.other, names.other_revision),
            ),
            key=lambda row: row[0],
        ):
            proposals[name] = _words(side, revision, LEFT_OUT)
        block[item] = proposals
    return block


def item_of(path: Path) -> str:
    """What a question is called on the page, and where it is settled: `water`, `poolish:water`, `bulk.time`.

    >>> item_of(("ingredients", "water")), item_of(("preferments", "poolish", "water")), item_of(("process", "bulk"))
    ('water', 'poolish:water', 'bulk')
    """
    if path == (WHOLE,) or path[-1] == ORDER:
        return path[-1]
    if path[0] == "ingredients":
        return path[-1]
    if path[0] in PARTS:
        return ":".join(path[1:])
    return ".".join(path[1:] if path[0] == "process" else path)


def _words(side: Side, revision: str, nothing: str) -> Value:
    """A proposal as one value. What is more than one names the revision it can be taken from."""
    if side is GONE or isinstance(side, Gone):
        return nothing
    if isinstance(side, dict | list):
        said = _flat(side)
        return f"{revision}, {said}" if revision else said
    if side is None:
        return "nothing"
    return ("yes" if side else "no") if isinstance(side, bool) else side


def _flat(tree: Tree) -> str:
    if isinstance(tree, dict):
        return ", ".join(f"{key} {_flat(value)}" for key, value in tree.items())
    if isinstance(tree, list):
        return ", ".join(map(_flat, tree))
    return str(tree)
