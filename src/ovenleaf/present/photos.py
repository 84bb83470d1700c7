"""Pictures that were put with a trial, as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import file_size
from ovenleaf.errors import Next
from ovenleaf.present.screen import blocks, count, date_words, join_words, next_block, rows, wrap
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from ovenleaf.results import Photographed
    from ovenleaf.results.bakes import KeptPhoto


def photo_screen(result: Photographed) -> str:
    """What was kept, where it lies, and what was taken out of it."""
    trial = result.trial
    first = (
        f"Kept: {count(len(result.photos), 'picture')} with trial {trial.code}, {result.label}, {result.spoken},"
        f" {date_words(trial.bake_date or trial.started)}."
    )
    return blocks(
        ahead(result),
        "\n".join((wrap(first), wrap(_taken_out(result.photos)))),
        rows([(one.page, f"{one.width} by {one.height} pixels, {file_size(one.size)}") for one in result.photos], "<<"),
        "\n".join(wrap(f"{shown} was there already, as {file}.") for shown, file in result.known),
        next_block((Next(f"ovenleaf show {trial.code}", "the trial with its pictures"),)),
    )


def _taken_out(photos: tuple[KeptPhoto, ...]) -> str:
    found = list(dict.fromkeys(what for one in photos for what in one.taken_out))
    whose = "it" if len(photos) == 1 else "them"
    picture = "The picture itself is untouched." if len(photos) == 1 else "The pictures themselves are untouched."
    if not found:
        return f"There was nothing to take out of {whose}: no place, no camera, no text. {picture}"
    return f"Taken out of {whose}: {join_words(found)}. {picture}"
