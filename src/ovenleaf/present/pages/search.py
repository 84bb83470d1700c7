"""Every bake in a few lines, to be looked through: by the browser's own search, or by a script that only leaves out."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from ovenleaf.domain.figures import score
from ovenleaf.domain.log import log_line
from ovenleaf.domain.trial import State
from ovenleaf.present.html import joined, tag
from ovenleaf.present.pages.places import SEARCH, formula_page
from ovenleaf.present.screen import date_words, join_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.ranking import Outcome
    from ovenleaf.present.html import Html
    from ovenleaf.present.pages.places import Frame, Links

SCRIPT = """\
"use strict";
const bakes = [...document.querySelectorAll("main li")].map((line) => [line, line.textContent.toLowerCase()]);
const parts = [...document.querySelectorAll("main section")];
const label = document.createElement("label");
const box = document.createElement("input");
const said = document.createElement("p");
box.type = "search";
said.setAttribute("role", "status");
label.append("Show only what has these words ", box);
document.querySelector("h1").after(label, said);

function look() {
  const words = box.value.toLowerCase().split(/\\s+/).filter(Boolean);
  let left = 0;
  for (const [line, text] of bakes) {
    line.hidden = !words.every((word) => text.includes(word));
    left += line.hidden ? 0 : 1;
  }
  for (const part of parts) part.hidden = !part.querySelector("li:not([hidden])");
  said.textContent = words.length ? `${left} of ${bakes.length} bakes` : "";
}

function asked() {
  try {
    box.value = decodeURIComponent(location.hash.slice(1));
  } catch {
    box.value = "";
  }
  look();
}
box.addEventListener("input", look);
addEventListener("hashchange", asked);
asked();
"""

Entry = tuple["Trial", "Outcome"]


def search_html(
    entries: Iterable[Entry], titles: Mapping[str, str], spoken: Mapping[tuple[str, str], str], frame: Frame
) -> bytes:
    """The page: the bakes of each formula, newest first. `titles` are the formulas that have a page, `spoken` the
    revisions as they are said."""
    links = frame.links(SEARCH)
    ordered = sorted(entries, key=lambda one: one[0].formula)
    parts = [
        _formula(name, list(group), titles, spoken, links)
        for name, group in groupby(ordered, key=lambda one: one[0].formula)
    ]
    how = "Every bake of the book, with its marks, faults, notes and log. The search of your browser finds any word."
    return frame.html(SEARCH, "Search", tag("p", how), *parts, script=True)


def _formula(
    name: str,
    entries: list[Entry],
    titles: Mapping[str, str],
    spoken: Mapping[tuple[str, str], str],
    links: Links,
) -> Html:
    title = titles.get(name, name)
    head = tag("a", title, href=links.to(formula_page(name))) if name in titles else title
    newest = sorted(entries, key=lambda one: (one[0].day, one[0].name), reverse=True)
    lines = (_bake(trial, outcome, title, spoken, links) for trial, outcome in newest)
    return tag("section", tag("h2", head), tag("ul", joined(lines), class_="plain"))


def _bake(trial: Trial, outcome: Outcome, title: str, spoken: Mapping[tuple[str, str], str], links: Links) -> Html:
    href = links.to_bake(trial.code)
    revision = spoken.get((trial.formula, trial.revision), trial.revision)
    state = "" if trial.state is State.DONE else trial.state.value
    marks = "not scored" if outcome.score is None else f"score {score(outcome.score)}"
    told = join_words([title, revision]) if not revision else f"{title}, {revision}"
    first = ", ".join(filter(None, (f" {date_words(trial.day)}", told, f"by {trial.baker}", state, marks)))
    words = "; ".join(_words(trial))
    code = tag("a", trial.code, href=href) if href else trial.code
    return tag("li", code, first, tag("span", f" {words}") if words else "")


def _words(trial: Trial) -> Iterator[str]:
    """What was said of a bake, in the order in which it came about."""
    yield from filter(None, (trial.question, trial.left_out and f"left out: {trial.left_out}"))
    yield from (f"{item}: {what}" for item, what in trial.flours)
    for entry in trial.log:
        line = log_line(entry)
        yield entry if line is None else line.words
    for marks in trial.scores:
        yield from filter(None, (join_words(marks.faults), marks.note))
