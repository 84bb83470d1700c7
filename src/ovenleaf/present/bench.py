"""A bake as it happens: what was begun, and what was understood of each line, told back in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.bench_plan import Kind
from ovenleaf.domain.bench_run import planned_time, step_text
from ovenleaf.domain.bench_told import next_step
from ovenleaf.domain.figures import grams
from ovenleaf.domain.numbers import portion
from ovenleaf.domain.schedule import later
from ovenleaf.errors import Next
from ovenleaf.present.bench_words import about, sentences, when
from ovenleaf.present.formula import revision_words
from ovenleaf.present.screen import blocks, clock, date_words, join_words, next_block, rows, wrap
from ovenleaf.present.trial import plan_block
from ovenleaf.present.words import in_degrees
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from datetime import datetime

    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.hearing import Heard
    from ovenleaf.domain.scaling import Bowl
    from ovenleaf.results import BegunBake, Jotted, TakenBack


def begun_screen(result: BegunBake) -> str:
    """A bake was begun: its code, what is to be done now, and what after that."""
    trial, sheet = result.trial, result.sheet
    day = f"{date_words(trial.started)}, {clock(result.at)}"
    head = [
        f"Begun: {sheet.formula.label}, {revision_words(sheet)}, {day}.",
        f"Code for tape, tub and photographs: {trial.code}",
        _batch(result),
        _which(result),
        f"Question: {trial.question}" if trial.question else "",
    ]
    return blocks(
        ahead(result),
        "\n".join(wrap(line) for line in head if line),
        plan_block(trial),
        _now(result),
        next_block(_next(result)),
    )


def _batch(result: BegunBake) -> str:
    if result.shared is not None:
        part = f" This part: {result.trial.batch}." if result.trial.batch else ""
        return f"One dough with {result.shared.code}: all up to dividing is shared, and counts as one dough.{part}"
    if not result.trial.batch:
        return "How big the batch is was not told; the page does not say. Tell it: jot 600 g flour."
    if result.of_page:
        return f"Batch: {result.trial.batch}, as the page has it."
    return f"Batch: {result.trial.batch}."


def _which(result: BegunBake) -> str:
    if result.keeper:
        return f"No revision was named, so the newest was taken. The keeper is {result.keeper}."
    return "" if result.newest else "This is not the newest revision; it was named."


def _now(result: BegunBake) -> str:
    """What is made ahead comes first; without that, the first step of the process."""
    if result.shared is not None:
        return _of_shared(result)
    process = [step for step in result.plan if step.kind is not Kind.AHEAD]
    standing = [step for step in result.plan if step.kind is Kind.AHEAD]
    if standing:
        bowls = {bowl.name: bowl for bowl in result.ahead_bowls}
        now = "\n".join(_standing(step, bowls.get(step.name), result) for step in standing)
        after = f"{process[0].said}, {_about(result.at, standing)}" if process else ""
    else:
        now = wrap(_planned(process[0]), 2, hanging=2)
        after = _planned(process[1]) if len(process) > 1 else ""
    return f"Now\n{now}" + (f"\nAfter that\n{wrap(after, 2, hanging=2)}" if after else "")


def _of_shared(result: BegunBake) -> str:
    """What was done of the dough so far, and what comes next for this part of it."""
    assert result.shared is not None
    done = [(run.step.said, text) for run in result.runs if (text := in_degrees(step_text(run)))]
    weighed = [(f"{item}, weighed", text) for item, text in result.shared.weighed]
    shared = f"Shared with {result.shared.code}\n{rows([*weighed, *done], '<<')}\n" if weighed or done else ""
    coming = next_step(result.runs, result.plan)
    return f"{shared}Next of the process\n{wrap(_planned(coming), 2, hanging=2)}" if coming else shared.rstrip()


def _standing(step: PlanStep, bowl: Bowl | None, result: BegunBake) -> str:
    lines = (
        f": {', '.join(f'{grams(line.grams)} {line.item}' for line in bowl.lines)}" if bowl else _so_much(step, result)
    )
    rest = f"then {in_degrees(step.line.typed)}" if step.line.typed else ""
    told = [wrap(f"{step.said}{lines}", 2, hanging=2), wrap(rest, 2, hanging=2) if rest else ""]
    return "\n".join(filter(None, told))


def _so_much(step: PlanStep, result: BegunBake) -> str:
    """How much of a culture this batch takes, where its size is known."""
    worked = result.sheet.worked
    flour = flour_in_batch(result.trial.batch, worked)
    share = next((share.pct for share in worked.final if share.item == step.said), None)
    return "" if flour is None or share is None else f": {grams(portion(share, flour))}"


def _about(at: datetime, standing: list[PlanStep]) -> str:
    """When what stands ahead is ready, as far as its lines say."""
    minutes = [time.low for step in standing if (time := planned_time(step)) is not None]
    return about(later(at, max(minutes)), at) if minutes else "when they are ready"


def _planned(step: PlanStep) -> str:
    return f"{step.said}: {in_degrees(step.line.typed)}" if step.line.typed else step.said


def _next(result: BegunBake) -> tuple[Next, ...]:
    if result.shared is not None:
        coming = next_step(result.runs, result.plan)
        line = f"{result.trial.code} {coming.said if coming else 'shaped'}"
        return (Next(f"ovenleaf jot {line}", "a line for this part"), Next("ovenleaf jot", "the bench prompt"))
    standing = next((step for step in result.plan if step.kind is Kind.AHEAD), None)
    line = f"{standing.said} mixed 21C" if standing else "mixed, dough 25C"
    return (Next(f"ovenleaf jot {line}", "when it is, as you say it"), Next("ovenleaf jot", "the bench prompt"))


def jotted_screen(result: Jotted, *, prompt: bool = False) -> str:
    """What was understood of a line, each part of it with its time; `prompt` leaves the code out and sets it in."""
    told = [_part(result, heard, prompt) for heard in result.heard]
    back = "Taken up again: it is in hand." if result.resumed else ""
    lines = "\n".join(filter(None, (wrap(back, 2 if prompt else 0), *told)))
    return blocks(ahead(result), lines)


def _part(result: Jotted, heard: Heard, prompt: bool) -> str:
    others = bool(result.others) or result.trial.state.value != "in hand"
    dough = f"{result.trial.code}, {result.label[:1].lower()}{result.label[1:]}" if others else result.trial.code
    time = when(heard.at, heard.told)
    late = f", told at {clock(heard.told)}" if heard.at != heard.told else ""
    head = f"{time}{late}." if prompt else f"{dough}, {time}{late}."
    first, *rest = sentences(heard, result.trial.code, prompt=prompt)
    indent = 2 if prompt else 0
    return "\n".join((wrap(f"{head} {first}", indent), *(wrap(line, indent) for line in rest)))


def prompt_head(code: str, label: str, others: tuple[str, ...]) -> str:
    """How the bench prompt opens."""
    more = f" Begin a line with {join_words(others, 'or')} to speak of another dough." if others else ""
    return wrap(f"{code}, {label[:1].lower()}{label[1:]}. One line at a time; an empty line ends.{more}")


def taken_back_words(result: TakenBack) -> str:
    """A line was taken back."""
    return f"  Taken back: {result.words}."
