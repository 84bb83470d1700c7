"""What the screen says of a recipe that went out: what is behind it, what rounding did, what to look at."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.durations import Duration
from ovenleaf.domain.figures import pct, points
from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.errors import Next
from ovenleaf.present.findings import findings_block
from ovenleaf.present.formula import revision_words
from ovenleaf.present.publishing.label_text import GUIDE
from ovenleaf.present.publishing.recipe_words import few, pieces_words
from ovenleaf.present.screen import blocks, count, date_words, join_words, next_block, rows, wrap
from ovenleaf.present.weighing import for_what
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.domain.behind import Behind
    from ovenleaf.domain.formula import Step
    from ovenleaf.results import Listing, Weighed
    from ovenleaf.results.publishing import Label, PutOut, Recipe, TakenDown, TrialTable

_CHOSEN = {"keeper": ", your keeper", "newest": ", the newest; no revision is marked keeper", "named": ""}


def recipe_screen(recipe: Recipe, out: PutOut) -> str:
    """A recipe was published."""
    formula = recipe.sheet.formula
    looks = "\n".join(wrap(one, 2, hanging=2) for one in _looks(recipe))
    head = f"Published: {formula.label}, {revision_words(recipe.sheet)}{_CHOSEN[recipe.chosen]},"
    return blocks(
        ahead(out),
        "\n".join((wrap(f"{head} for {size_words(recipe)}, in {out.shown}."), wrap(behind_words(recipe)))),
        _moved(recipe),
        f"For you to look at\n{looks}",
        wrap(_allergens(recipe)),
        _old() if out.noted else "",
        next_block(_next(recipe)),
    )


def sheet_screen(result: Weighed, out: PutOut) -> str:
    """A sheet for the bench was written."""
    first = result.ups[0]
    told = [
        f"{up.sheet.formula.label}, {revision_words(up.sheet)}, for {for_what(up, result.unit)}" for up in result.ups
    ]
    missing = (
        "" if first.water else "How warm the water is to be stands as a blank: tell --room and --flour-temp for it."
    )
    clockless = "" if first.slots else "No clock times: tell --ready or --begin for them."
    name = first.sheet.formula.name
    return blocks(
        ahead(out),
        wrap(f"Published: a sheet for the bench, {join_words(told)}, in {out.shown}."),
        wrap("One page of A4 or Letter for each formula, black on white. Open it in a browser and print it."),
        "\n".join(wrap(one) for one in (missing, clockless) if one),
        next_block((Next(f"ovenleaf begin {name}", "when you begin: its code goes on the sheet"),)),
    )


def label_screen(label: Label, out: PutOut) -> str:
    """The figures for a label were written."""
    formula = label.sheet.formula
    head = f"Published: {formula.label}, {revision_words(label.sheet)}{_CHOSEN[label.chosen]}: figures for a label"
    return blocks(
        ahead(out),
        "\n".join((wrap(f"{head}, in {out.shown}."), GUIDE)),
        wrap(f"Bake loss {pct(label.loss.pct)}. Allergens: {join_words(label.allergens.eu) or 'none by the list'}."),
        _old() if out.noted else "",
        next_block((Next(f"ovenleaf show {formula.name} --more", "the figures behind it"),)),
    )


_MANY = 8  # formulas that are named one by one


def trials_screen(table: TrialTable, out: PutOut) -> str:
    """A table of trials was written."""
    formulas = sorted({row.trial.formula.replace("-", " ") for row in table.rows})
    of = join_words(formulas) if len(formulas) <= _MANY else count(len(formulas), "formula")
    said = f"Published: {count(len(table.rows), 'trial')} of {of}, in {out.shown}."
    return blocks(
        ahead(out),
        wrap(said),
        wrap(
            "One row a trial, for a spreadsheet: figures with a point, their unit at the top of the column, planned"
            " left of as baked. A blank is not recorded. Trials that were cut short, given up or withdrawn are in it"
            " too, and say so."
        ),
        findings_block(table.findings),
        next_block((Next("ovenleaf list --gaps", "what the pages lack"),)),
    )


def book_screen(listing: Listing, out: PutOut) -> str:
    """The whole book was published as pages."""
    holds = join_words([count(len(listing.formulas), "formula"), count(listing.trial_count, "trial")])
    return blocks(
        ahead(out),
        wrap(f"Published: {listing.book.title}, {holds}, in {count(out.files, 'file')}, in the folder {out.shown}."),
        wrap(
            f"Open {out.shown.rstrip('/')}/index.html in any browser; it asks no network for anything, so the folder"
            " can go on a phone or a tablet as it is."
        ),
        wrap(
            "All that is saved is in it, every name, note and picture; whoever has the folder can read it all. What is"
            " edited and not saved is left out."
        ),
        findings_block(listing.findings),
        next_block((Next("ovenleaf publish --as csv --out ../trials.csv", "the trials for a spreadsheet"),)),
    )


def taken_down_screen(result: TakenDown) -> str:
    """The book knows that a page is not out any more."""
    said = f"Taken down: {result.file}, the {result.kind} of {result.formula.replace('-', ' ')}, is out no more."
    left = "check no longer looks after it. The file itself, if it is still there, is left alone."
    return blocks(ahead(result), f"{wrap(said)}\n{wrap(left)}", next_block((Next("ovenleaf check"),)))


def size_words(recipe: Recipe) -> str:
    """What it is for: `12 rolls of 85 g`, or so much flour."""
    if recipe.pieces is None or recipe.each is None:
        return f"{plain(rounded(recipe.flour, 0))} g of flour"
    return f"{pieces_words(recipe)} of {plain(rounded(recipe.each, 0))} g"


def behind_words(recipe: Recipe) -> str:
    """The bakes behind it, in a sentence for the baker."""
    behind = recipe.behind
    if not behind.doughs:
        return "Behind it: no bake yet. The page says so."
    by = f" by {count(behind.bakers, 'baker')}" if behind.bakers else ""
    days = date_words(behind.first).split(" ", 1)[-1]
    if behind.last != behind.first:
        days = f"{days} to {date_words(behind.last).split(' ', 1)[-1]}"
    size = "" if behind.of_size == behind.doughs else f", {_of_size(behind)}"
    this = " of this size" if behind.of_size == behind.doughs else ""
    return f"Behind it: {count(behind.doughs, 'bake')}{this}{by}{size}, {days}."


def _of_size(behind: Behind) -> str:
    if behind.no_size == behind.doughs:
        return "of what size is not recorded"
    return f"{count(behind.of_size, 'bake') if behind.of_size else 'none'} of this size"


def _moved(recipe: Recipe) -> str:
    table = rows(
        [(one.item, pct(one.formula), pct(one.page), points(one.formula, one.page)) for one in recipe.moved],
        "<>><",
        heading=("", "formula", "page", ""),
    )
    most = f"Nothing moved by more than {plain(recipe.tolerance)} points, nor salt and yeast by more than a tenth."
    return f"Rounded for home kitchens, then worked back, in shares of all the flour\n{table}\n{wrap(most)}"


def _looks(recipe: Recipe) -> Iterator[str]:
    """What only the baker can judge before readers see it."""
    for bowl in recipe.bowls:
        for line in bowl.lines:
            if few(line.grams):
                told = dict(recipe.measures).get(f"{bowl.name}:{line.item}", "")
                beside = f" The page says {told} beside it." if told else ""
                yield f"The {bowl.name} needs {plain(line.grams)} g of {line.item}, less than most scales show.{beside}"
    unsigned = [step.name for step in recipe.sheet.formula.process if _timed(step.line.get("time")) and _no_sign(step)]
    if unsigned:
        yield f"No sign to look for stands beside the time of {join_words(unsigned)}; readers' kitchens differ."
    bakes = [step.line.typed for step in recipe.sheet.formula.process if "bake" in step.name.lower()]
    if bakes and not any("fan" in words.lower() for words in bakes):
        yield "The baking does not say whether a fan is on; with one most ovens bake as if some 20 °C hotter."
    if not recipe.sheet.formula.process:
        yield "The formula has no steps, so the page says how much and not how."
    if recipe.newer_draft:
        yield "The page of the formula was edited since; what is not saved is not published."
    yield "The words of the steps are yours: read the page once as a stranger would."


def _timed(value: object) -> bool:
    return isinstance(value, Duration)


def _no_sign(step: Step) -> bool:
    waits = ("bulk", "proof", "rise", "ferment", "bake")
    return any(word in step.name.lower() for word in waits) and step.line.get("until") is None


def _allergens(recipe: Recipe) -> str:
    found = join_words(recipe.allergens.eu) or join_words(recipe.allergens.us)
    return f"Allergens: {found or 'none by the ingredient list'}."


def _old() -> str:
    return wrap("If the keeper changes, or an allergen comes in, check will tell you that this page is old.")


def _next(recipe: Recipe) -> tuple[Next, ...]:
    name = recipe.sheet.formula.name
    return (
        Next(f"ovenleaf publish {name} --as sheet --out ../{name}-sheet.html", "for your own bench"),
        Next("ovenleaf check", "now and then, for pages that grew old"),
    )
