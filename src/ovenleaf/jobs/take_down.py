"""Note that a page that was published is not out any more: nobody needs to be told when it grows old."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.marking import marks_of
from ovenleaf.book.steps.opening import find_root, settle_baker
from ovenleaf.book.steps.publishing import note_taken_down
from ovenleaf.book.steps.shelf import take
from ovenleaf.book.steps.signing import Stamp
from ovenleaf.errors import Next, Refusal
from ovenleaf.results.publishing import TakenDown

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path


class NotOut(Refusal):
    """No page of that kind and name is out. Facts: `formula`, `file`, `out`."""

    def __init__(self, formula: str, kind: str, file: str, out: tuple[tuple[str, str], ...]) -> None:
        known = tuple(f"  {name}, as {of}" for of, name in out)
        super().__init__(
            f"The book knows of no {kind} of {formula} in {file} that is out.",
            detail=("These are:", *known) if known else ("None of its pages is.",),
            next=(Next("ovenleaf check", "which pages grew old"),),
        )
        self.formula = formula
        self.file = file
        self.out = out


def take_down(
    given: Path | None, start: Path, formula: str, kind: str, file: str, *, baker: str, at: datetime, preview: bool
) -> TakenDown:
    """Note it; the file itself is left alone. Raises NotOut."""
    root = find_root(given, start)
    who = settle_baker(root, baker)
    shelf = take(root, formula)
    out = marks_of(root, shelf.name).out
    page = next((one for one in out if (one.kind, one.file) == (kind, file)), None)
    if page is None:
        raise NotOut(shelf.name, kind, file, tuple((one.kind, one.file) for one in out))
    stamp = Stamp(by=who, at=at, verb="publish", preview=preview)
    ahead = note_taken_down(root, shelf.name, page, stamp)
    return TakenDown(ahead=ahead, formula=shelf.name, kind=kind, file=file)
