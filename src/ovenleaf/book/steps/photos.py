"""Pictures in a book: where a trial's lie, how one is taken in, and what is wrong with those that are there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.handing_in import CannotRead
from ovenleaf.domain.figures import file_size
from ovenleaf.errors import Refusal
from ovenleaf.findings import Finding, Severity
from ovenleaf.records.nodes import line_of
from ovenleaf.records.pictures.cleaning import ENDINGS, cleaned
from ovenleaf.records.pictures.parts import Picture, PictureFault

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable
    from pathlib import Path

    from ovenleaf.domain.trial import Trial
    from ovenleaf.records.nodes import Page

FOLDER = "photos"
LIMIT = 12_000_000  # bytes; a telephone's picture is a third of it
_FORMATS = "JPEG, PNG and WebP pictures can be cleaned."


class CannotKeep(Refusal):
    """A file that cannot be kept as a picture. Facts: `shown`, its name as typed; `kind`, as in PictureFault."""

    def __init__(self, shown: str, kind: str, what: str, *detail: str) -> None:
        super().__init__(f"Not kept: {shown} {what}.", detail=detail)
        self.shown = shown
        self.kind = kind


def picture_bytes(path: Path, shown: str) -> bytes:
    """The bytes of a picture's file. Raises CannotRead, and CannotKeep for one that is too large."""
    if path.is_dir():
        raise CannotRead(shown, "it is a folder", "Name the pictures in it.")
    try:
        if path.stat().st_size > LIMIT:
            raise CannotKeep(
                shown,
                "too large",
                f"is larger than {file_size(LIMIT)}, the most that a picture in a book may be",
                "Make it smaller first; 2000 pixels on its long side show every pore.",
            )
        return path.read_bytes()
    except FileNotFoundError:
        raise CannotRead(
            shown, "there is no such file", "See how it is spelled, and in which folder it lies."
        ) from None
    except OSError as fault:
        raise CannotRead(shown, str(fault.strerror or "the disk does not give it").lower()) from None


def taken_in(data: bytes, shown: str) -> Picture:
    """The picture alone, without place, camera and text. Raises CannotKeep."""
    try:
        return cleaned(data)
    except PictureFault as fault:
        what, *detail = {
            "not a picture": ("is no picture", _FORMATS),
            "cannot be cleaned": (
                f"is a picture in the format {fault.what}, which cannot be cleaned of place and camera here",
                "Save it as a JPEG and give that.",
                _FORMATS,
            ),
            "broken": ("is a picture that breaks off or makes no sense", "Copy it from the camera again."),
            "too wide": (f"is {fault.what}, and no side may be over 20 000", "Make it smaller first."),
        }[fault.kind]
        raise CannotKeep(shown, fault.kind, what, *detail) from None


def free_file(root: Path, trial: Trial, who: str, picture: Picture, taken: Collection[str]) -> str:
    """Where the next picture of a trial lies: `photos/market-roll/d2-noor-1.jpg`.

    Code and baker make it one of a kind in all copies of the book.
    """
    number = 1
    while True:
        stem = f"{FOLDER}/{trial.formula}/{trial.code.lower()}-{who}-{number}"
        files = {f"{stem}.{ending}" for ending in ENDINGS.values()}
        if not files & {*trial.photos, *taken} and all(layout.read_file(root, file) is None for file in files):
            return f"{stem}.{ENDINGS[picture.format]}"
        number += 1


def check_photos(root: Path, page: Page, trial: Trial) -> Iterable[Finding]:
    """The pictures that a trial names: each is there, is one, and tells no place and no camera."""
    for place, file in enumerate(trial.photos):
        line = line_of(page, ("photos", place))
        try:
            data = layout.read_file(root, file) if file.startswith(f"{FOLDER}/") else None
            if data is None:
                yield _finding("photo-missing", page.path, line, f"The picture {file} is not there.", _PUT_BACK)
            elif cleaned(data).data != data:
                told = f"The picture {file} may still tell where or with what it was taken."
                yield _finding("photo-not-clean", page.path, line, told, f"ovenleaf photo {trial.code} {file}")
        except (PictureFault, layout.NotAPage):
            yield _finding("photo-unreadable", page.path, line, f"{file} is no picture that can be read.", _PUT_BACK)


_PUT_BACK = "Put the file back where it was."


def stray_photos(root: Path, named: Collection[str]) -> Iterable[Finding]:
    """Files among the pictures that no trial names: they may hold anything, a place too."""
    folder = root / FOLDER
    for path in sorted(folder.rglob("*")) if folder.is_dir() and not folder.is_symlink() else ():
        file = path.relative_to(root).as_posix()
        if not path.is_dir() and file not in named and not path.name.startswith("."):
            told = f"{file} is among the pictures, and no trial names it."
            yield _finding("stray-photo", file, None, told, f"ovenleaf photo TRIAL {file}")


def _finding(code: str, path: str, line: int | None, message: str, fix: str) -> Finding:
    return Finding(code=code, severity=Severity.WARNING, path=path, line=line, message=message, fix=fix)
