"""One code on two trials, given in two copies of a book: both stay, and one gets another code.

Which one is told by what the pages say, never by whose they are; the trials of one dough follow, and a trial
that gets another code says so in its corrections.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.same_names import data_of, keep, page_at
from ovenleaf.book.steps.sides import Blobs, Tree, code_of, kind_of
from ovenleaf.compare.news import Renamed
from ovenleaf.domain.revision import codes_after, place_of
from ovenleaf.domain.trial import Correction
from ovenleaf.records.codec import trial_edits

if TYPE_CHECKING:
    from collections.abc import Iterator


def part_codes(blobs: Blobs, base: Tree, one: Tree, other: Tree, at: str) -> Iterator[Renamed]:
    """A code that both gave meanwhile: the later trial gets the next one that is free. Changes the sides.

    A trial to which both gave another code, each in a sharing of its own, has the higher of the two: no code is
    freed by it, and nobody is asked about a name that no baker chose.
    """
    touched = [_touched_trials(base, side) for side in (one, other)]
    if not all(touched):
        return
    blobs.fetch(side[path] for side in (base, one, other) for path in {*touched[0], *touched[1]} if path in side)
    for path, was, now in _new_codes(blobs, base, one, other, sorted({*touched[0], *touched[1]})):
        one_made = _recode(blobs, one, touched[0], path, (was, now), at)
        other_made = _recode(blobs, other, touched[1], path, (was, now), at)
        if one_made or other_made:
            yield Renamed(kind="code", path=path, was=was, now=now)


def _new_codes(blobs: Blobs, base: Tree, one: Tree, other: Tree, trials: list[str]) -> Iterator[tuple[str, str, str]]:
    """The trials that get another code: path, the code, and the other."""
    holders: dict[str, list[str]] = {}
    for path in trials:
        before, *given = (code_of(blobs, side.get(path)) for side in (base, one, other))
        *lower, code = sorted({*given} - {before, ""}, key=lambda code: (place_of(code) or 0, code)) or [before]
        holders.setdefault(code, []).append(path)
        yield from ((path, was, code) for was in lower)
    again = [(path, code) for code, (_, *later) in sorted(holders.items()) for path in later if code]
    free = codes_after(_all_codes(blobs, one, other) if again else ())
    yield from ((path, code, now) for (path, code), now in zip(again, free, strict=False))


def _touched_trials(base: Tree, side: Tree) -> list[str]:
    return sorted(path for path in side if side[path] != base.get(path) and kind_of(path) == "trial")


def _recode(blobs: Blobs, side: Tree, touched: list[str], path: str, codes: tuple[str, str], at: str) -> bool:
    """Let a side's trial have the other code, and those that share its dough follow."""
    if path not in touched or not _with_code(blobs, side, path, "code", codes, at):
        return False
    for sharing in touched:
        if sharing != path:
            _with_code(blobs, side, sharing, "shares_dough_with", codes, at)
    return True


def _all_codes(blobs: Blobs, one: Tree, other: Tree) -> set[str]:
    trials = [side[path] for side in (one, other) for path in side if kind_of(path) == "trial"]
    blobs.fetch(trials)
    return {code for trial in trials if (code := code_of(blobs, trial))}


def _with_code(blobs: Blobs, side: Tree, path: str, field: str, codes: tuple[str, str], at: str) -> bool:
    was, now = codes
    if field.encode() not in blobs.get(side[path]):  # most bakes have a dough of their own
        return False
    page = page_at(blobs, side, path)
    data = data_of(page)
    if page is None or data.get(field) != was:
        return False
    why = f"two bakes had the code {was}, made in two copies of the book"
    made = Correction(field=field, was=was, now=now, by=str(data.get("baker", "")), at=at, why=why)
    keep(blobs, side, path, trial_edits.with_correction(trial_edits.with_field(page, (field,), now), made))
    return True
