"""The schemas of pages and of answers, for editors and scripts. Needs no book."""

from __future__ import annotations

import difflib

from ovenleaf.errors import Next, Refusal
from ovenleaf.records.assets import answer_kinds, answer_schema_text, schema_text
from ovenleaf.records.upgrade import LATEST

_ANSWER = "ovenleaf."


class NoSchema(Refusal):
    """No schema of that name. Facts: `typed`, `near`."""

    def __init__(self, typed: str, near: str) -> None:
        super().__init__(
            f"There is no schema of {typed}.{f' Did you mean {near}?' if near else ''}",
            detail=(
                f"Pages: {', '.join(LATEST)}.",
                "Answers:",
                *(f"  {_ANSWER}{kind}/1" for kind in answer_kinds()),
            ),
            next=(Next(f"ovenleaf show --schema {near or 'formula'}"),),
        )
        self.typed = typed
        self.near = near


def schema_of(typed: str) -> str:
    """The schema, as JSON text, of a page (`trial`, `trial/1`) or of an answer (`ovenleaf.trial/1`, or plain `rank`).

    A plain name that is both means the page. Raises NoSchema.
    """
    name = typed.strip().lower()
    if name.removesuffix("/1") in LATEST:
        return schema_text(name.removesuffix("/1"), 1 if name.endswith("/1") else None)
    kind = name.removeprefix(_ANSWER).removesuffix("/1")
    if kind not in answer_kinds():
        raise NoSchema(typed, _nearest(name))
    return answer_schema_text(kind)


def _nearest(name: str) -> str:
    """The schema that was probably meant, in the form it was typed in; "" where none is near.

    >>> _nearest("rnak"), _nearest("ovenleaf.trail/1"), _nearest("ovenleaf.zz/1")
    ('rank', 'ovenleaf.trial/1', '')
    """
    answer = name.startswith(_ANSWER)
    known = answer_kinds() if answer else (*LATEST, *answer_kinds())
    near = difflib.get_close_matches(name.removeprefix(_ANSWER).partition("/")[0], known, n=1, cutoff=0.6)
    if not near:
        return ""
    return f"{_ANSWER}{near[0]}/1" if answer else near[0]
