"""ovenleaf record FORMULA [R] WORDS..."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from ovenleaf.cli.answer import NewTaster, Preview, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current
from ovenleaf.cli.handler import Usage
from ovenleaf.errors import Next

if TYPE_CHECKING:
    from ovenleaf.jobs.record import BakedBefore, Recorded, Told


def command(
    formula: Annotated[
        str, typer.Argument(metavar="[FORMULA]", help="The formula that was baked; with --from, the file says it.")
    ] = "",
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[R] WORDS...",
            help="The revision, if not the newest; then the bake in words: crumb 5, crust 7, dough 24C, tight.",
        ),
    ] = None,
    crumb: Annotated[str, typer.Option(metavar="MARK")] = "",
    crust: Annotated[str, typer.Option(metavar="MARK")] = "",
    flavour: Annotated[str, typer.Option(metavar="MARK")] = "",
    taster: Annotated[str, typer.Option(metavar="NAME", help="Who gave the marks, if not you.")] = "",
    new_taster: NewTaster = False,
    note: Annotated[str, typer.Option(metavar="TEXT")] = "",
    fault: Annotated[list[str] | None, typer.Option(metavar="TEXT", help='Such as "too pale".')] = None,
    hours_after: Annotated[str, typer.Option(metavar="H", help="Hours from baking to tasting.")] = "",
    baked_on: Annotated[str, typer.Option(metavar="DAY", help="As 2026-11-18; today if left out.")] = "",
    begun: Annotated[str, typer.Option(metavar="TIME", help="When the dough was begun, as 07:30.")] = "",
    baked_by: Annotated[str, typer.Option(metavar="NAME", help="Who baked, if not you.")] = "",
    batch: Annotated[str, typer.Option(metavar="HOW-MUCH", help="600 g flour, 1020 g dough, 12 rolls of 85 g.")] = "",
    weighed: Annotated[list[str] | None, typer.Option(metavar="ITEM=AMOUNT", help="water=396g")] = None,
    as_planned: Annotated[str, typer.Option(metavar="WHAT", help='Such as "all the rest".')] = "",
    flour: Annotated[list[str] | None, typer.Option(metavar="FLOUR=WHICH", help="Mill, brand, lot.")] = None,
    dough_temp: Annotated[str, typer.Option(metavar="24C", help="At the end of mixing.")] = "",
    step: Annotated[list[str] | None, typer.Option(metavar="LINE", help='"bulk: 58 min at 26 C"')] = None,
    measured: Annotated[list[str] | None, typer.Option(metavar="FIELD=VALUE", help='"baked weight=884 g"')] = None,
    kitchen: Annotated[list[str] | None, typer.Option(metavar="FIELD=VALUE", help="room=21C")] = None,
    question: Annotated[str, typer.Option(metavar="TEXT", help="What this bake was to answer.")] = "",
    left_out: Annotated[str, typer.Option(metavar="REASON", help="Keep it out of rankings.")] = "",
    page: Annotated[
        str, typer.Option("--from", metavar="FILE", help="A typed-up page or a filled-in sheet; - for standard input.")
    ] = "",
    preview: Preview = False,
) -> None:
    """Log a bake: how it was done and how it came out.

    Example: ovenleaf record market-roll --crumb 5 --crust 7 --dough-temp 24C --note tight

    Spoken: ovenleaf record market-roll crumb 5, crust 7, dough 24C, tight

    Afterwards: ovenleaf record --from roll.txt
    """
    from ovenleaf.jobs.record import (
        BakedBefore,
        MarkOptions,
        Options,
        Told,
        named_on,
        page_bytes,
        record,
        revision_and_words,
    )
    from ovenleaf.present.trial import recorded_screen

    if not formula and not page:
        raise Usage("FORMULA is missing: which was baked?", next=(Next("ovenleaf list", "the formulas of this book"),))
    context = current()
    revision, spoken = revision_and_words(words or [])
    marks = MarkOptions(
        crumb=crumb,
        crust=crust,
        flavour=flavour,
        faults=tuple(fault or ()),
        hours_after=hours_after,
        note=note,
    )
    options = Options(
        marks=marks,
        baked_on=baked_on,
        begun=begun,
        baked_by=baked_by,
        batch=batch,
        question=question,
        weighed=tuple(weighed or ()),
        as_planned=as_planned,
        flours=tuple(flour or ()),
        kitchen=tuple(kitchen or ()),
        measured=tuple(measured or ()),
        dough_temp=dough_temp,
        steps=tuple(step or ()),
        left_out=left_out,
    )
    data = None if not page else context.read_page() if page == "-" else page_bytes(context.cwd / Path(page), page)
    told = Told(options=options, words=spoken, page=data, source=page, typed=_behind(context.typed, formula))
    if context.interactive:
        formula, revision = named_on(told, formula, revision)
    if context.interactive and formula:
        revision = revision if preview else _which(formula, revision)
        if told.nothing:
            told = _asked(formula, revision, taster, new_taster=new_taster)

    def keep(revision: str) -> Recorded:
        return signed(
            lambda baker: record(
                context.book,
                context.cwd,
                formula,
                revision,
                told,
                taster=taster,
                new_taster=new_taster,
                baker=baker,
                at=context.now,
                preview=preview,
            )
        )

    try:
        result = keep(revision)
    except BakedBefore as refusal:
        if not context.interactive:
            raise
        result = keep(_which_then(refusal, told))
    say(recorded_screen(result))


def _which(formula: str, revision: str) -> str:
    """The revision that was baked: asked, where the page was edited since it was saved and none is named."""
    from ovenleaf.cli.questions import ask, ask_one_of
    from ovenleaf.jobs.record import edited_since
    from ovenleaf.jobs.save import save

    context = current()
    edited = None if revision else edited_since(context.book, context.cwd, formula)
    if edited is None:
        return revision
    spoken, typed = edited
    say(f"The page of {formula} was edited by hand since {spoken}.")
    answer = ask_one_of(f"Which did you bake, {spoken} as it was saved, or the page as it is now", ("saved", "page"))
    if answer == "saved":
        return typed
    if answer == "page":
        why = ask("It becomes a revision of its own. Why was it changed") or ""
        signed(lambda baker: save(context.book, context.cwd, formula=formula, why=why, baker=baker, at=context.now))
    return ""


def _which_then(refusal: BakedBefore, told: Told) -> str:
    """The revision that was baked before the newest was saved: asked. Answers already told are never lost."""
    from ovenleaf.cli.questions import ask_one_of, open_line, remark

    (then, then_typed), (newest, newest_typed) = refusal.then, refusal.newest
    remark(f"{newest[:1].upper()}{newest[1:]} was saved after that day; {then} was the newest then.", 2)
    with open_line():
        answer = ask_one_of("Which did you bake", (then_typed, newest_typed))
    if not answer and told.answers is None:
        raise refusal
    return answer or newest_typed  # the one that the questions were about


def _asked(formula: str, revision: str, taster: str, *, new_taster: bool) -> Told:
    """The bake in answers to questions, in the order of the bench."""
    from ovenleaf.cli.questions import ask_bake, open_line, remark
    from ovenleaf.jobs.ask import bench_questions
    from ovenleaf.jobs.record import Told

    context = current()
    asked = signed(
        lambda baker: bench_questions(
            context.book,
            context.cwd,
            formula,
            revision,
            taster=taster,
            new_taster=new_taster,
            baker=baker,
            today=context.now.date(),
        )
    )
    say(
        f"{asked.label}, {asked.spoken}. This trial is called {asked.code}.\n"
        "Enter alone leaves a thing unrecorded; = means as planned. You can also say\n"
        "back, or stop: whatever you have told so far is kept.\n"
    )
    with open_line():
        answers = ask_bake(asked.questions)
    remark("")
    return Told(answers=answers)


def _behind(typed: tuple[str, ...], formula: str) -> str:
    """All that was typed behind the formula's name, to be repeated in a refusal."""
    if not formula:
        return f" {shlex.join(typed[typed.index('record') + 1 :])}"
    if formula not in typed:
        return ""
    rest = typed[typed.index(formula) + 1 :]
    return f" {shlex.join(rest)}" if rest else ""
