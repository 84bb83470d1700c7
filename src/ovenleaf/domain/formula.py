"""A formula as it stands on its page: frozen values, and when two pages mean the same."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from decimal import Decimal

    from ovenleaf.domain.benchline import BenchLine
    from ovenleaf.domain.quantity import Amount

ALL = "all"
AS_NEEDED = "as needed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One ingredient line. `amount` is None where the page says `all` or `as needed` (in `word`)."""

    item: str
    amount: Amount | None = None
    word: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A preferment, a soaker or a bowl: lines of its own, mixed before the final dough.

    `takes` is its flour in percent of all the flour; with it the lines are shares of the
    part's own flour, without it they are shares of all the flour or measures.
    """

    name: str
    takes: Decimal | None = None
    lines: tuple[Line, ...] = ()
    rest: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of the process with what its line says, understood field by field."""

    name: str
    line: BenchLine


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenQuestion:
    """A value two bakers changed in two ways: what it was, and who proposes what."""

    item: str
    was: str
    proposals: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """The whole formula: what stands on one page. Dates stay text; `by` holds handles."""

    name: str
    title: str = ""
    revision: int | None = None
    by: tuple[str, ...] = ()
    saved: str = ""
    made_from: tuple[str, ...] = ()
    why: str = ""
    makes: str = ""
    aims: tuple[tuple[str, str], ...] = ()
    ingredients: tuple[Line, ...] = ()
    preferments: tuple[Part, ...] = ()
    soakers: tuple[Part, ...] = ()
    stages: tuple[Part, ...] = ()
    kept_for_next_time: tuple[Line, ...] = ()
    outside: tuple[Line, ...] = ()
    process: tuple[Step, ...] = ()
    open: tuple[OpenQuestion, ...] = ()
    score_after: str = ""
    losses: tuple[tuple[str, str], ...] = ()
    source: str = ""

    @property
    def label(self) -> str:
        """What a baker calls it: the title, or the name with spaces."""
        return self.title or self.name.replace("-", " ").capitalize()


def part_meant(item: str, names: Iterable[str]) -> str:
    """The one of `names` that an ingredient line means, or "": `rye sour` means the bowl `rye-sour`.

    >>> part_meant("rye sour", ("poolish", "rye-sour")), part_meant("rye flour", ("rye-sour",))
    ('rye-sour', '')
    """
    wanted = item.lower().replace("-", " ")
    return next((name for name in names if name.lower().replace("-", " ") == wanted), "")


def same_content(one: Formula, other: Formula) -> bool:
    """True if the pages differ in comments, order, quoting or their stamps at most: a touch-up.

    The order of steps and of bowls carries meaning; the order of ingredient lines does not.
    """
    return _content(one) == _content(other)


def _content(formula: Formula) -> Formula:
    def sort(lines: tuple[Line, ...]) -> tuple[Line, ...]:
        return tuple(sorted(lines, key=lambda line: line.item))

    def parts(given: tuple[Part, ...]) -> tuple[Part, ...]:
        return tuple(replace(part, lines=sort(part.lines)) for part in given)

    return replace(
        formula,
        revision=None,
        by=(),
        saved="",
        made_from=(),
        why="",
        aims=tuple(sorted(formula.aims)),
        losses=tuple(sorted(formula.losses)),
        ingredients=sort(formula.ingredients),
        outside=sort(formula.outside),
        kept_for_next_time=sort(formula.kept_for_next_time),
        preferments=tuple(sorted(parts(formula.preferments), key=lambda part: part.name)),
        soakers=tuple(sorted(parts(formula.soakers), key=lambda part: part.name)),
        stages=parts(formula.stages),
    )


def all_lines(formula: Formula) -> Iterator[tuple[tuple[str, ...], Line]]:
    """Every ingredient line with its place in the page, `all` of another part left out."""
    blocks = (
        (("ingredients",), formula.ingredients),
        (("outside",), formula.outside),
        *((("preferments", part.name), part.lines) for part in formula.preferments),
        *((("soakers", part.name), part.lines) for part in formula.soakers),
        *((("stages", part.name), part.lines) for part in formula.stages),
    )
    for where, lines in blocks:
        for line in lines:
            if line.word != ALL:
                yield (*where, line.item), line
