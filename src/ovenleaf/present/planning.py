"""What to bake next as text: each bake with its reason, and the number it would make better."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import as_edit, score
from ovenleaf.errors import Next
from ovenleaf.evidence.next import Kind, leader
from ovenleaf.present.findings import findings_block
from ovenleaf.present.screen import blocks, count, join_words, next_block, rows, wrap
from ovenleaf.present.trial import plan_block
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.next import Suggestion
    from ovenleaf.evidence.standing import Standings
    from ovenleaf.results import BakePlanned, NextBakes


def next_screen(result: NextBakes) -> str:
    """At most three bakes, the one that tells most first."""
    found = result.suggestions
    head = f"{result.title}: {count(len(found), 'bake')} that would tell something, the one that tells most first."
    nothing = f"{result.title}: nothing presses. {_settled(result)}"
    return blocks(
        "\n".join(filter(None, (wrap(head if found else nothing), wrap(_basis(result))))),
        *(_block(result, place, one) for place, one in enumerate(found, start=1)),
        _planned(result.planned),
        findings_block(result.findings),
        next_block(_next(result)),
    )


def _settled(result: NextBakes) -> str:
    if result.planned:
        return "What could be suggested is planned already."
    return "Try something new, or bake the best of it for pleasure."


def _basis(result: NextBakes) -> str:
    standings = result.standings
    if standings is None or not standings.rows:
        return "No bake of it is scored yet."
    repeats = standings.scatter.repeats
    behind = f"known from {count(repeats, 'repeat')}" if repeats else "which is assumed, for there is no repeat yet"
    return (
        f"Doughs of one and the same revision scatter by about {score(standings.reckoned)} either side of their mean"
        f" here, {behind}."
    )


def _block(result: NextBakes, place: int, one: Suggestion) -> str:
    lines = [("why", _why(result, one)), ("would tell", _gain(result, one))]
    if one.plan:
        lines.append(("changes", ", ".join(f"{name} {text}" for name, text in one.plan)))
    if alike := result.alike[place - 1]:
        lines.append(("all else", f"as in {alike}, as far as you can"))
    return f"{place}. {_headline(result, one)}\n{rows(lines, '<<')}"


def _spoken(result: NextBakes, revision: str) -> str:
    return dict(result.spoken).get(revision, revision)


def _headline(result: NextBakes, one: Suggestion) -> str:
    name = _spoken(result, one.revision)
    name = f"{name[:1].upper()}{name[1:]}"
    if one.plan:
        return f"{name} with {join_words([f'{item} {text}' for item, text in one.plan])}"
    return f"{name}, once more" if one.doughs else name


def _why(result: NextBakes, one: Suggestion) -> str:
    other = _spoken(result, one.beside)
    match one.kind:
        case Kind.FIRST:
            return f"it was not baked yet, and {other} was" if one.beside else "nothing is scored yet"
        case Kind.REPEAT:
            return _why_repeat(result, one)
        case Kind.CONTROL:
            baked = f"rests on {count(one.doughs, 'dough')}" if one.doughs else "was not baked and scored yet"
            return f"it is the control for {other}, and {baked}"
        case Kind.RIVAL:
            return f"it comes next after {other}, and rests on {count(one.doughs, 'dough')}"
        case Kind.SEPARATE:
            return f"{_things(one)} changed at once, so none of them can be given the difference"
        case Kind.STEP:
            assert one.last is not None
            assert one.rise is not None
            step = f"{one.last.name} from {one.last.before} to {one.last.after}"
            return f"the score rose by {score(one.rise)} with {step}, and nothing beyond was baked"


def _things(one: Suggestion) -> str:
    return join_words([_which(name) for name in one.things])


def _which(name: str) -> str:
    """`wheat flour, which` is a condition of a bake: which flour it was."""
    return f"the lot of {name.removesuffix(', which')}" if name.endswith(", which") else name


def _why_repeat(result: NextBakes, one: Suggestion) -> str:
    if not one.beside:
        return f"it is the only one that is scored, on {count(one.doughs, 'dough')}"
    standings = result.standings
    assert standings is not None
    lead = leader(standings)
    tied = "leads" if lead.row.revision == one.revision else "stands high"
    return f"it {tied}, and rests on {count(one.doughs, 'dough')}"


def _gain(result: NextBakes, one: Suggestion) -> str:
    other = _spoken(result, one.beside)
    match one.kind:
        case Kind.SEPARATE:
            alone = one.plan[0][0]
            return f"whether {alone} alone does it: {count(len(one.things), 'thing')} differ now, one would"
        case Kind.STEP:
            return f"whether it still rises; {_scatter_words(result.standings)}"
        case Kind.FIRST:
            return f"how it stands beside {other}" if one.beside else "what there is to build on"
    if one.now is None or one.then is None:
        return f"whether {other} is above it at all: nothing is known of it now"
    what = f"how far it is from {other}" if one.beside else "its mean"
    return f"{what}: known to {score(one.now)} either way now, to {score(one.then)} then (9 times in 10)"


def _scatter_words(standings: Standings | None) -> str:
    assert standings is not None
    return f"two doughs that are alike lie {_twice(standings.reckoned)} apart by chance often enough"


def _twice(scatter: Decimal) -> str:
    return score(scatter * 2)


def _planned(planned: tuple[Trial, ...]) -> str:
    lines = [(trial.code, trial.question or "no question said") for trial in planned]
    return "Planned already\n" + rows(lines, "<<") if lines else ""


def _next(result: NextBakes) -> tuple[Next, ...]:
    found = result.suggestions
    if not found:
        planned = tuple(Next(f"ovenleaf begin {trial.code}", "begin what is planned") for trial in result.planned[:1])
        return (*planned, Next(f"ovenleaf rank {result.name} --by revision", "how they stand"))
    return (
        Next(f"ovenleaf next {result.name} --keep 1", "keep it as a planned trial, to begin later"),
        *(Next(f"ovenleaf begin {trial.code}", "begin what is planned") for trial in result.planned[:1]),
    )


def planned_screen(result: BakePlanned) -> str:
    """A suggestion was kept as a planned trial."""
    trial = result.trial
    revision = result.spoken
    return blocks(
        ahead(result),
        wrap(f"Planned: trial {trial.code}, {result.title}, {revision}. Question: {trial.question}"),
        plan_block(trial),
        next_block((*_tweak(result), Next(f"ovenleaf begin {trial.code}", "when you bake it"), *_sheet(result))),
    )


def _tweak(result: BakePlanned) -> tuple[Next, ...]:
    """What changes the formula is a revision of its own: the bakes of two formulas are not of one."""
    if not result.tweaks:
        return ()
    edits = " ".join(f'"{edit}"' if " " in edit else edit for edit in map(as_edit, result.tweaks))
    command = f'ovenleaf tweak {result.trial.formula} {edits} --from {result.typed} --why "..."'
    return (Next(command, "makes it a revision, which the trial then takes"),)


def _sheet(result: BakePlanned) -> tuple[Next, ...]:
    if result.tweaks:
        return ()
    return (Next(f"ovenleaf weigh {result.trial.formula} {result.typed} --sheet bake.txt", "a sheet to print"),)
