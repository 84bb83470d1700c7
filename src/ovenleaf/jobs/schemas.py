"""The schemas of pages and of answers, for editors and scripts. Needs no book."""

from __future__ import annotations

import difflib

from ovenleaf.errors import Next, Refusal
from ovenleaf.records.assets import answer_kinds, answer_schema_text, schema_text
from ovenleaf.records.upgrade import LATEST


class NoSchema(Refusal):
    """No schema of that name. Facts: `typed`, `near`."""

    def __init__(self, typed: str, known: tuple[str, ...]) -> None:
        near = difflib.get_close_matches(typed, known, n=1, cutoff=0.5)
        mean = f" Did you mean {near[0]}?" if near else ""
        super().__init__(
            f"There is no schema of {typed}.{mean}",
            detail=(f"Pages: {', '.join(LATEST)}.", f"Answers: {', '.join(known[len(LATEST) :])}."),
            next=(Next(f"ovenleaf show --schema {near[0] if near else 'formula'}"),),
        )
        self.typed = typed
        self.near = near[0] if near else ""


def schema_of(typed: str) -> str:
    """The schema of a page kind (`trial`) or of an answer (`ovenleaf.trial/1`, or plain `rank`)."""
    if typed in LATEST:
        return schema_text(typed)
    kind = typed.removeprefix("ovenleaf.").removesuffix("/1")
    kinds = answer_kinds()
    if kind not in kinds:
        raise NoSchema(typed, (*LATEST, *(f"ovenleaf.{one}/1" for one in kinds)))
    return answer_schema_text(kind)
