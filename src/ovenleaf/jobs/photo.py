"""Put pictures with a trial: copies in the book, without the place, the camera and whatever else is no picture."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.bakes import find_trial, page_of
from ovenleaf.book.steps.hand_edits import refuse_edited
from ovenleaf.book.steps.opening import open_book, settle_baker, working_page
from ovenleaf.book.steps.photos import free_file, picture_bytes, taken_in
from ovenleaf.book.steps.shelf import shelf_of, spoken_of
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.trial_edits import with_lines
from ovenleaf.results import Photographed
from ovenleaf.results.bakes import KeptPhoto

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.trial import Trial

MOST = 24  # pictures at once; one entry holds them all


class AllKnown(Refusal):
    """Every picture is with the trial already. Fact: `code`."""

    def __init__(self, code: str, known: tuple[tuple[str, str], ...]) -> None:
        super().__init__(
            f"Not kept: trial {code} has {'this picture' if len(known) == 1 else 'these pictures'} already.",
            detail=tuple(f"  {shown} is {file}" for shown, file in known),
            next=(Next(f"ovenleaf show {code}"),),
        )
        self.code = code


class TooMany(Refusal):
    """More pictures than are kept at once. Facts: `code`, `count`."""

    def __init__(self, code: str, count: int) -> None:
        super().__init__(
            f"Not kept: {count} pictures at once, and {MOST} is the most.",
            detail=("Choose those that show something, or give them in parts.",),
        )
        self.code = code
        self.count = count


def photo(
    given: Path | None,
    start: Path,
    typed: str,
    files: Sequence[str],
    *,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> Photographed:
    """Keep pictures with the trial that is meant; all of them, or none where one cannot be kept.

    Raises CannotRead, CannotKeep, AllKnown, TooMany, and the refusals of its steps.
    """
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    trial = find_trial(book.root, typed)
    if len(files) > MOST:
        raise TooMany(trial.code, len(files))
    page = page_of(trial.name)
    refuse_edited(book.root, page, "Not kept")
    pages, kept, known = _taken_in(book.root, start, trial, files, who)
    if not kept:
        raise AllKnown(trial.code, known)
    before = layout.read_page(book.root, page)
    new = [one.page for one in kept if one.page not in trial.photos]
    edited = with_lines(working_page(book.root, page), ("photos",), new)
    ahead = put(
        book.root,
        {**pages, **({page: edited.text} if new else {})},
        Stamp(by=who, at=at, verb="photo", preview=preview),
        f"{trial.formula} {trial.code} ({who}): {len(kept)} {'picture' if len(kept) == 1 else 'pictures'}",
        expect={page: before, **{file: layout.read_file(book.root, file) for file in pages if file in trial.photos}},
    )
    spoken = dict(spoken_of(book.root, (trial,)))
    return Photographed(
        trial=trial,
        label=_label(book.root, trial),
        spoken=spoken.get((trial.formula, trial.revision), trial.revision),
        photos=kept,
        known=known,
        ahead=ahead,
    )


def _taken_in(
    root: Path, start: Path, trial: Trial, files: Sequence[str], who: str
) -> tuple[dict[str, bytes], tuple[KeptPhoto, ...], tuple[tuple[str, str], ...]]:
    """The new files of the book with their bytes, what to tell of them, and which pictures were known."""
    here = {data: file for file in trial.photos if (data := layout.read_file(root, file)) is not None}
    pages: dict[str, bytes] = {}
    kept: list[KeptPhoto] = []
    known: list[tuple[str, str]] = []
    for shown in files:
        picture = taken_in(picture_bytes(start / shown, shown), shown)
        if picture.data in here:
            known.append((shown, here[picture.data]))
            continue
        # A picture of its own that somebody put there with all its notes is cleaned where it lies.
        own = next((file for file in trial.photos if (root / file).resolve() == (start / shown).resolve()), "")
        file = own or free_file(root, trial, who, picture, pages)
        here[picture.data] = file
        pages[file] = picture.data
        kept.append(
            KeptPhoto(
                shown=shown,
                page=file,
                format=picture.format,
                size=len(picture.data),
                width=picture.width,
                height=picture.height,
                taken_out=picture.taken_out,
            )
        )
    return pages, tuple(kept), tuple(known)


def _label(root: Path, trial: Trial) -> str:
    try:
        return shelf_of(root, trial.formula).formula().label
    except Refusal:
        return trial.formula.replace("-", " ").capitalize()
