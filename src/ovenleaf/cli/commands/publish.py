"""ovenleaf publish FORMULA [R]"""

from __future__ import annotations

import shlex
from typing import Annotated

import typer

from ovenleaf.cli.answer import Preview, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current
from ovenleaf.cli.kinds import KINDS, Kind, wrong_ending
from ovenleaf.errors import Next, Refusal


class WhichKind(Refusal):
    """No such kind of page, or none was named. Facts: `typed`, `kinds`."""

    def __init__(self, typed: str, words: str) -> None:
        kinds = ", ".join(KINDS)
        what = f"{typed} is nothing that can be published." if typed else "As what is it to be published?"
        super().__init__(
            f"{what} There is: {kinds}.",
            next=(Next(f"ovenleaf publish {words} --as recipe --out ../recipe.txt", "for home cooks"),),
        )
        self.typed = typed
        self.kinds = tuple(KINDS)


class NotTaken(Refusal):
    """Options that the kind has no use for. Facts: `kind`, `options`."""

    def __init__(self, kind: Kind, options: tuple[str, ...]) -> None:
        super().__init__(
            f"A page of kind {kind.name} has no use for {' and '.join(options)}, so nothing was published.",
            detail=("Leave it out, or publish as something else.",),
        )
        self.kind = kind.name
        self.options = options


class WhereTo(Refusal):
    """No file or folder is named to publish into, or one whose name ends in something else. Facts: `kind`, `out`."""

    def __init__(self, kind: Kind, out: str, command: str) -> None:
        what = "Into which folder?" if kind.folder else "Into which file?"
        if out:
            what = f"A {kind.name} is not written into a file that ends like {out}; it may end in"
            what += f" {' or '.join(kind.endings)}."
        super().__init__(
            what, next=(Next(command),), detail=("The name is yours; outside of the book's folder is best.",)
        )
        self.kind = kind.name
        self.out = out


def command(
    words: Annotated[
        list[str] | None, typer.Argument(metavar="FORMULA [R]", help="The formula; the keeper unless R is named.")
    ] = None,
    kind: Annotated[str, typer.Option("--as", metavar="KIND", help=f"{', '.join(KINDS)}.")] = "",
    out: Annotated[str, typer.Option("--out", metavar="PATH", help="The new file or folder.")] = "",
    pieces: Annotated[str, typer.Option(metavar="N", help="For so many pieces; else as it was baked most often.")] = "",
    each: Annotated[str, typer.Option(metavar="WEIGHT", help="One piece of dough, as 85g.")] = "",
    dough: Annotated[str, typer.Option(metavar="WEIGHT", help="All the dough.")] = "",
    flour: Annotated[str, typer.Option(metavar="WEIGHT", help="All the flour.")] = "",
    tolerance: Annotated[
        str, typer.Option(metavar="POINTS", help="How far round weights may move the formula; else 0.5.")
    ] = "",
    bench_loss: Annotated[str, typer.Option(metavar="PERCENT", help="What stays on bowl and bench.")] = "",
    bake_loss: Annotated[str, typer.Option(metavar="PERCENT", help="What the oven takes; else as measured.")] = "",
    scale: Annotated[str, typer.Option(metavar="STEP", help='1g, or "1 g, 0.1 g below 100 g".')] = "",
    room: Annotated[str, typer.Option(metavar="20C", help="The room, for how warm the water should be.")] = "",
    flour_temp: Annotated[str, typer.Option(metavar="19C", help="The flour.")] = "",
    preferment_temp: Annotated[str, typer.Option(metavar="20C", help="The preferment.")] = "",
    tap: Annotated[str, typer.Option(metavar="22C", help="The tap water, for how much ice.")] = "",
    ready: Annotated[str, typer.Option(metavar="TIME", help="When it should be ready: 2026-11-29T07:00.")] = "",
    begin: Annotated[str, typer.Option(metavar="TIME", help="When you begin.")] = "",
    taken_down: Annotated[
        bool, typer.Option("--taken-down", help="The page in PATH is out no more, and check need not look after it.")
    ] = False,
    preview: Preview = False,
) -> None:
    """Bring a formula out for others, from the revision that is your keeper.

    Example: ovenleaf publish market-roll --as recipe --out ../market-roll.txt
    """
    from ovenleaf.jobs.publish import Asked, check_free_place, put_out

    context = current()
    chosen = _chosen(kind, words or [], out)
    sizes = {"pieces": pieces, "each": each, "dough": dough, "flour": flour}
    options = {
        "tolerance": tolerance,
        "bench-loss": bench_loss,
        "bake-loss": bake_loss,
        "scale": scale,
        "room": room,
        "flour-temp": flour_temp,
        "preferment-temp": preferment_temp,
        "tap": tap,
        "ready": ready,
        "begin": begin,
    }
    _check_taken(chosen, {**sizes, **options})
    if taken_down:
        _take_down((words or [""])[0], chosen.name, out, preview=preview)
        return
    asked = Asked(
        words=tuple(words or ()),
        out=out,
        **sizes,
        options=tuple((name, told) for name, told in options.items() if told),
    )
    check_free_place(context.book, context.cwd, out, folder=chosen.folder)
    made = chosen.make(asked)
    done = signed(
        lambda baker: put_out(
            context.book,
            context.cwd,
            asked,
            made.files,
            made.note,
            folder=chosen.folder,
            baker=baker,
            at=context.now,
            preview=preview,
        )
    )
    say(made.screen(done))


def _take_down(formula: str, kind: str, out: str, *, preview: bool) -> None:
    """Note that a page is out no more."""
    from ovenleaf.jobs.take_down import take_down
    from ovenleaf.present.publishing.screen import taken_down_screen

    context = current()
    done = signed(
        lambda baker: take_down(
            context.book, context.cwd, formula, kind, out, baker=baker, at=context.now, preview=preview
        )
    )
    say(taken_down_screen(done))


def _check_taken(kind: Kind, told: dict[str, str]) -> None:
    """What this kind has no use for was told in vain, and that is said before it goes out. Raises NotTaken."""
    idle = tuple(f"--{name}" for name, words in told.items() if words and name not in kind.takes)
    if idle:
        raise NotTaken(kind, idle)


def _chosen(typed: str, words: list[str], out: str) -> Kind:
    """The kind that is named. Raises WhichKind, WhereTo."""
    formula = shlex.join(words) or "market-roll"
    kind = KINDS.get(typed.lower())
    if kind is None:
        raise WhichKind(typed, formula)
    if not words and not kind.of_book:
        raise typer.BadParameter("name the formula that is to be published")
    if not out or wrong_ending(kind, out):
        ending = kind.endings[0] if kind.endings else "-pages"
        of = [] if kind.folder else words
        name = of[0] if of else "book"
        raise WhereTo(
            kind, out, shlex.join(["ovenleaf", "publish", *of, "--as", kind.name, "--out", f"../{name}{ending}"])
        )
    return kind
