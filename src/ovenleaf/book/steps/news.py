"""What is new between two entries of a book, in facts a baker can be told: revisions, bakes, marks, the rest."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import git
from ovenleaf.book.steps.bakes import page_of, read_trials
from ovenleaf.book.steps.same_names import page_at
from ovenleaf.book.steps.sides import Blobs, Tree, kind_of
from ovenleaf.compare.formula_diff import compare
from ovenleaf.compare.headline import headline, phrases
from ovenleaf.compare.news import Contents, NewBake, NewRevision, News
from ovenleaf.domain.dough import work_out
from ovenleaf.domain.faults import FormulaFault
from ovenleaf.domain.revision import revision_name
from ovenleaf.domain.sheet import Sheet, sheet
from ovenleaf.errors import Refusal
from ovenleaf.records.codec.books import read_marks
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.codec.trials import read_trial

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.revision import RevisionName
    from ovenleaf.domain.trial import Trial
    from ovenleaf.records.nodes import Page


_TOGETHER = "what both had changed, brought together"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Look:
    blobs: Blobs
    before: Tree
    after: Tree
    pantry: Pantry


def news(blobs: Blobs, before: Tree, after: Tree, pantry: Pantry, *, without: frozenset[str] = frozenset()) -> News:
    """What `after` has that `before` had not; paths in `without` are told elsewhere."""
    look = _Look(blobs=blobs, before=before, after=after, pantry=pantry)
    changed = [path for path in sorted(after) if before.get(path) != after[path] and path not in without]
    blobs.fetch(after[path] for path in changed if path.endswith(".yaml"))
    kept = [path for path in changed if kind_of(path) == "kept" and path not in before]
    trials = [path for path in changed if kind_of(path) == "trial"]
    return News(
        revisions=tuple(filter(None, (_revision(look, path) for path in kept))),
        bakes=tuple(filter(None, (_bake(look, path) for path in trials if path not in before))),
        more=tuple(dict.fromkeys(told for path in changed for told in _more(look, path))),
        photos=sum(path.startswith("photos/") and path not in before for path in changed),
    )


def contents(blobs: Blobs, tree: Tree) -> Contents:
    """The book counted, as its last entry has it: `tree` is that of the last one."""
    trials = [path for path in tree if kind_of(path) == "trial"]
    revisions = [path for path in tree if kind_of(path) == "kept"]
    days = sorted(path.rsplit("/", 1)[-1][: len("2026-11-12")] for path in trials)
    names = {handle for path in revisions if (name := _name(path)) for handle in name.handles}
    names |= _names(blobs, tree, trials)
    return Contents(
        formulas=len(
            {path.split("/")[1].removesuffix(".yaml") for path in tree if kind_of(path) in ("formula", "kept")}
        ),
        revisions=len(revisions),
        trials=len(trials),
        photos=sum(path.startswith("photos/") for path in tree),
        names=tuple(sorted(names)),
        first_day=days[0] if days else "",
        last_day=days[-1] if days else "",
    )


def _names(blobs: Blobs, tree: Tree, trials: Iterable[str]) -> set[str]:
    """Who baked and who tasted. What lies in the folder as it was saved may be known from before."""
    edited = set(git.changed(blobs.root))
    read = [trial for trial in read_trials(blobs.root)[0] if page_of(trial.name) not in edited]
    saved = (_trial(blobs, tree, path) for path in trials if path in edited)
    told = (*read, *(trial for trial in saved if trial is not None))
    return {name for trial in told for name in (trial.baker, *(marks.taster for marks in trial.scores)) if name}


def _name(path: str) -> RevisionName | None:
    return revision_name(path.rsplit("/", 1)[-1].removesuffix(".yaml"))


def sheet_at(blobs: Blobs, tree: Tree, path: str, pantry: Pantry) -> Sheet | None:
    """A formula page of one side worked out; None where there is none, or it does not come out."""
    page = page_at(blobs, tree, path) if path in tree else None
    if page is None:
        return None
    try:
        formula = read_formula(page, name=path.split("/")[1].removesuffix(".yaml"))
        return sheet(formula, work_out(formula, pantry), pantry, _name(path))
    except (Refusal, FormulaFault):
        return None


def _revision(look: _Look, path: str) -> NewRevision | None:
    now = sheet_at(look.blobs, look.after, path, look.pantry)
    name = _name(path)
    if name is None:
        return None
    if now is None:
        return NewRevision(formula=path.split("/")[1], title=path.split("/")[1], revision=name, words="", why="")
    parents = [f"{path.rsplit('/', 1)[0]}/{parent}.yaml" for parent in now.formula.made_from]
    was = sheet_at(look.blobs, look.after, parents[0], look.pantry) if parents else None
    return NewRevision(
        formula=path.split("/")[1],
        title=now.formula.label,
        revision=name,
        words=_TOGETHER if len(parents) > 1 else _words(was, now, look.pantry) if was else "",
        why="" if len(parents) > 1 else now.formula.why,
    )


def _words(was: Sheet, now: Sheet, pantry: Pantry) -> str:
    """What changed; a question that was settled at what stood there before changes no figure, and is named."""
    diff = compare(was, now, pantry)
    still = {question.item for question in now.formula.open}
    settled = [question.item for question in was.formula.open if question.item not in still]
    if settled and not phrases(diff):
        return f"settled as before: {', '.join(settled)}"
    return headline(diff)


def _trial(blobs: Blobs, tree: Tree, path: str) -> Trial | None:
    page = page_at(blobs, tree, path) if path in tree else None
    return None if page is None else _read_trial(page)


def _read_trial(page: Page) -> Trial | None:
    try:
        return read_trial(page)
    except Refusal:
        return None


def _bake(look: _Look, path: str) -> NewBake | None:
    trial = _trial(look.blobs, look.after, path)
    if trial is None:
        return None
    return NewBake(
        code=trial.code,
        title=trial.formula.replace("-", " "),
        revision=trial.revision,
        by=trial.baker,
        crumb=_mean([marks.crumb for marks in trial.scores]),
        crust=_mean([marks.crust for marks in trial.scores]),
    )


def _mean(given: list[Decimal | None]) -> Decimal | None:
    marks = [mark for mark in given if mark is not None]
    return sum(marks[1:], marks[0]) / len(marks) if marks else None


def _more(look: _Look, path: str) -> Iterator[tuple[str, str]]:
    """What else is new at a path, in words, with who did it."""
    kind = kind_of(path)
    if kind == "trial" and path in look.before:
        yield from _trial_changes(look, path)
    elif kind == "marks":
        yield from _mark_changes(look, path)
    elif kind == "ingredients":
        yield "", "the ingredient list"
    elif kind == "book" and path in look.before:
        yield "", "the book's own page"
    elif not kind and not path.startswith("photos/"):
        yield "", path
    elif kind == "formula" and not any(other.startswith(f"{path[:-5]}/r") for other in look.after):
        yield (
            "",
            f"{path.split('/')[1].removesuffix('.yaml').replace('-', ' ')}, a page that is not saved as a revision yet",
        )


def _trial_changes(look: _Look, path: str) -> Iterator[tuple[str, str]]:
    was, now = _trial(look.blobs, look.before, path), _trial(look.blobs, look.after, path)
    if was is None or now is None:
        yield "", path
        return
    known = {marks.taster: marks for marks in was.scores}
    told = f"trial {now.code}, {now.formula.replace('-', ' ')}"
    for marks in now.scores:
        if known.get(marks.taster) != marks:
            yield marks.taster, f"marks for {told}"
    for made in (one for one in now.corrections if one not in was.corrections):
        yield made.by, f"{told}: {made.field.rpartition('.')[2]} put right, from {made.was or 'nothing'} to {made.now}"
    if was.scores == now.scores and was.corrections == now.corrections:
        yield now.baker, f"more about {told}"


def _mark_changes(look: _Look, path: str) -> Iterator[tuple[str, str]]:
    pages = [page_at(look.blobs, tree, path) if path in tree else None for tree in (look.before, look.after)]
    try:
        was, now = (read_marks(page) if page is not None else None for page in pages)
    except Refusal:
        return
    title = path.split("/")[1].replace("-", " ")
    for mark in now.marks if now else ():
        if was is None or mark not in was.marks:
            yield mark.by, f"{title}, {mark.revision}: marked {mark.mark}"
    for put in now.retired if now else ():
        if was is None or put not in was.retired:
            yield put.by, f"{title}: {'put away' if put.state == 'away' else 'taken out again'}"
