"""A revision: its sheet, and each of its bakes with marks, log and pictures."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.present.formula import revision_words, sheet_screen
from ovenleaf.present.html import joined, tag
from ovenleaf.present.pages.laid import laid, marked
from ovenleaf.present.pages.places import formula_page, revision_page
from ovenleaf.present.screen import count, short_date
from ovenleaf.present.trial import trial_screen

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.present.html import Html
    from ovenleaf.present.pages.places import Frame, Links
    from ovenleaf.results import ShownTrial


def revision_html(sheet: Sheet, bakes: Sequence[ShownTrial], pictures: Collection[str], frame: Frame) -> bytes:
    """The page. `bakes` are those of this revision, oldest first; `pictures` the files that are there to be shown."""
    formula = sheet.formula
    page = revision_page(formula.name, str(sheet.revision))
    links = frame.links(page)
    back = tag("a", f"All revisions of {formula.label}", href=links.to(formula_page(formula.name)))
    return frame.html(
        page,
        f"{formula.label}, {revision_words(sheet)}",
        tag("p", back),
        laid(marked(lambda: sheet_screen(sheet)), links),
        tag("h2", f"Bakes of this revision, {count(len(bakes), 'trial')}") if bakes else tag("p", "Not yet baked."),
        *(_bake(one, pictures, links) for one in bakes),
    )


def _bake(bake: ShownTrial, pictures: Collection[str], links: Links) -> Html:
    trial = bake.view.trial
    shown = [file for file in trial.photos if file in pictures]
    lost = tuple(file for file in trial.photos if file not in pictures)
    told = replace(bake, view=replace(bake.view, trial=replace(trial, photos=lost)))
    day = f", {short_date(trial.bake_date)}" if trial.bake_date else ""
    return tag(
        "section",
        tag("h3", f"{trial.code}{day}"),
        laid(marked(lambda: trial_screen(told)), links, level=4),
        joined(_picture(file, f"Picture {at} of {trial.code}", links) for at, file in enumerate(shown, start=1)),
        id=trial.code,
        class_="bake",
    )


def _picture(file: str, words: str, links: Links) -> Html:
    picture = tag("img", src=links.to(file), alt=words, loading="lazy")
    return tag("figure", tag("a", picture, href=links.to(file)), tag("figcaption", words))
