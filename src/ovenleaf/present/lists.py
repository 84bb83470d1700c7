"""What is in the book, what is going on in it, and all revisions of one formula, as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.compare.open_questions import proposals_said
from ovenleaf.domain.figures import mark, score
from ovenleaf.errors import Next
from ovenleaf.present.findings import findings_block
from ovenleaf.present.in_hand import in_hand_block, next_in_hand, planned_block
from ovenleaf.present.screen import blocks, count, date_words, join_words, next_block, rows, short_date, wrap

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.ranking import Outcome
    from ovenleaf.results import History, HistoryRow, ListedFormula, Listing, Now

BLANK = "not scored"
BEGIN = Next("ovenleaf enter stall-loaf", "put in a formula, asked line by line")


def list_screen(result: Listing) -> str:
    """The formulas and the last trials."""
    formulas = count(len(result.formulas), "formula")
    head = wrap(f"{result.book.title}: {formulas}, {count(result.trial_count, 'trial')}.")
    if not result.formulas:
        return blocks(head, next_block((BEGIN,)))
    in_use = [formula for formula in result.formulas if not formula.taken_back]
    return blocks(
        head,
        in_hand_block(result.in_hand, result.now),
        planned_block(result.planned),
        _formulas("Formulas", [formula for formula in result.formulas if not formula.away]),
        _formulas("Put away", [formula for formula in result.formulas if formula.away]),
        trials_block(result),
        findings_block(result.findings),
        next_block(
            (
                *(Next(f"ovenleaf show {one.name}", "a formula's sheet") for one in in_use[:1]),
                *([Next("ovenleaf rank", "all bakes by their scores")] if result.trials else []),
            )
        ),
    )


def trials_block(result: Listing) -> str:
    """The last trials, newest first, or ""."""
    if not result.trials:
        return ""
    names = dict(result.spoken)
    last = [
        _trial_row(trial, names.get((trial.formula, trial.revision), trial.revision), outcome)
        for trial, outcome in reversed(result.trials)
    ]
    head = "The last trials, newest first" if len(last) < result.trial_count else "Trials, newest first"
    return f"{head}\n{rows(last, '<<<>')}"


def _formulas(heading: str, formulas: list[ListedFormula]) -> str:
    return f"{heading}\n{rows(list(map(formula_row, formulas)), '<<<<', as_named=True)}" if formulas else ""


def formula_row(formula: ListedFormula) -> tuple[str, str, str, str]:
    """A formula in a row: its name, its state, its trials, what is to be known beside."""
    if formula.broken:
        state = "its page is by a newer ovenleaf" if formula.newer else "its page cannot be read"
    elif formula.taken_back:
        state = "taken back"
    elif formula.revision is None:
        state = "a draft, not saved yet"
    else:
        state = formula.spoken
    edited = "edited, not saved" if formula.draft and formula.revision is not None else ""
    asked = f"{join_words(formula.open)} open" if formula.open else ""
    keeper = f"keeper {formula.keeper.split('.')[0]}" if formula.keeper else ""
    return formula.name, state, count(formula.trials, "trial"), ", ".join(filter(None, (keeper, edited, asked)))


def _trial_row(trial: Trial, revision: str, outcome: Outcome) -> tuple[str, str, str, str]:
    what = f"{trial.formula}, {revision}"
    result = BLANK if outcome.score is None else f"score {score(outcome.score)}"
    state = "" if trial.state.value == "done" else f", {trial.state.value}"
    if not trial.counts:
        result = "left out"
    return trial.code, short_date(trial.day), f"{what}{state}", result


def now_screen(result: Now) -> str:
    """What is in hand, what came last, what is not saved."""
    head = wrap(f"{result.book.title}. {date_words(result.now)}, {result.now[11:16]}.")
    held = wrap(f"{count(result.formulas, 'formula').capitalize()}, {count(result.trials, 'trial')}.")
    last = result.last
    return blocks(
        f"{head}\n{held}",
        in_hand_block(result.in_hand, result.now) or "Nothing is in hand.",
        planned_block(result.planned),
        wrap(f"Last baked: trial {last.code}, {last.formula.replace('-', ' ')}, {date_words(last.bake_date)}.")
        if last
        else "",
        _unsaved(result),
        wrap(f"An entry was cut off: {result.cut_off}. The next command that writes puts it in order.")
        if result.cut_off
        else "",
        _with_others(result),
        findings_block(result.findings),
        next_block(_next(result)),
    )


def _unsaved(result: Now) -> str:
    if not result.unsaved and not result.drafts:
        return "Nothing is unsaved."
    kept = {f"formulas/{name}.yaml" for name in result.begun} - set(result.unsaved)
    edited = dict.fromkeys((*result.unsaved, *(f"formulas/{name}.yaml" for name in result.drafts)))
    pages = [page for page in edited if page not in kept]
    begun = [name for name in result.begun if f"formulas/{name}.yaml" in kept]
    return "\n\n".join(
        filter(None, (_under("Edited by hand and not saved", pages), _under("Drafts, not revision 1 yet", begun)))
    )


def _under(heading: str, names: Sequence[str]) -> str:
    return "\n".join((heading, *(f"  {name}" for name in names))) if names else ""


_CARD, _BAKERS = ", which its card does not say", " is open between the bakers."


def _with_others(result: Now) -> str:
    """What two bakers have to settle, and what waits to be shared."""
    asked = [wrap(f"{name}: {item}{_CARD if name in result.begun else _BAKERS}", 2) for name, item in result.open]
    told = ["\n".join(("To settle", *asked))] if asked else []
    if result.not_shared:
        waits = count(result.not_shared, "entry", "entries")
        told.append(f"{waits[:1].upper()}{waits[1:]} not shared yet.")
    return "\n\n".join(told)


def _next(result: Now) -> tuple[Next, ...]:
    if result.in_hand:
        return next_in_hand(result.in_hand)
    asked = next((name for name, _ in result.open if name in result.begun), "")
    if asked and not result.unsaved and set(result.drafts) <= set(result.begun):
        return (Next(f"ovenleaf settle {asked}", "what can be said, and how"),)
    if result.drafts or result.unsaved:
        return (Next('ovenleaf save --why "..."', "keep what was edited"),)
    if not result.formulas:
        return (BEGIN,)
    if result.open:
        return (Next(f"ovenleaf settle {result.open[0][0]}", "what is proposed, and how to settle it"),)
    return (
        *([Next("ovenleaf share", "send what waits, and take in what is new")] if result.not_shared else []),
        Next("ovenleaf list", "what is in the book"),
        Next(f"ovenleaf begin {result.planned[0].code}", "what is planned")
        if result.planned
        else Next(f"ovenleaf record {result.likely}", "when it is baked"),
    )


def outside_screen() -> str:
    """What `ovenleaf` says in a folder that is no book."""
    return blocks(
        "This folder is not a book yet. A book keeps your formulas, every bake made\nfrom them, and what came of each.",
        next_block(
            (
                Next("ovenleaf start ferry-lane --baker noor", "begin a book; noor is your name in it"),
                Next("ovenleaf start look --sample", "a filled book, to look around in"),
                Next("ovenleaf join ../shared my-copy", "your copy of a shared book"),
            )
        ),
    )


def history_screen(result: History) -> str:
    """All revisions, oldest first: what each changed, why, and what came of it."""
    bakes = sum(row.trials for row in result.rows)
    head = wrap(f"{result.title}: {count(len(result.rows), 'revision')}, {count(bakes, 'trial')}.")
    note = wrap("The page was edited by hand since the last one and is not saved yet.") if result.draft else ""
    last = result.rows[-1] if result.rows else None
    names = {str(row.revision): row.spoken for row in result.rows}
    return blocks(
        "\n".join(filter(None, (head, note))),
        *(revision_block(row, names) for row in result.rows),
        findings_block(result.findings),
        next_block(
            (
                Next(f"ovenleaf diff {result.name}", "the last two side by side"),
                Next(f"ovenleaf rank {result.name} --by revision", "by how they came out"),
            )
            if len(result.rows) > 1
            else (Next(f"ovenleaf record {result.name}", "when it is baked again" if bakes else "when it is baked"),)
        )
        if last
        else "",
    )


def revision_block(row: HistoryRow, names: dict[str, str]) -> str:
    """One revision: what it changed, why, and what came of it; `names` are all of them as they are said."""
    base = f", made from {join_words([names.get(name, name) for name in row.made_from])}" if row.made_from else ""
    marked = f", {row.mark}" if row.mark else ""
    spoken = f"{row.spoken[:1].upper()}{row.spoken[1:]}{marked}"
    by = "" if " by " in row.spoken else f", by {join_words(row.by)}"
    head = f"{spoken}, {short_date(row.saved)}{by}{base}"
    lines = [("changed", "; ".join(row.differing))] if row.differing else []
    if row.open:
        said = [f"{question.item}: {proposals_said(question)}" for question in row.open]
        lines.append(("open", "; ".join(said)))
    if row.why:
        lines.append(("why", row.why))
    lines.append(("baked", _came_out(row)))
    return f"{wrap(head)}\n{rows(lines, '<<')}"


def _came_out(row: HistoryRow) -> str:
    if not row.trials:
        return "not yet"
    if not row.doughs:
        return f"{count(row.trials, 'trial')}, none scored in full"
    outcome = row.outcome
    marks = [f"{name} {_mark(value)}" for name, value in (("crumb", outcome.crumb), ("crust", outcome.crust))]
    total = f"score {score(outcome.score)}" if outcome.score is not None else BLANK
    more = row.trials - row.doughs
    unscored = f"; {count(more, 'more trial')} not counted" if more > 0 else ""
    return f"{count(row.doughs, 'dough')}: {', '.join((*marks, total))}{unscored}"


def _mark(value: Decimal | None) -> str:
    return BLANK if value is None else mark(value)
