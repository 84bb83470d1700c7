"""Why a bake is not recorded as it was told: which revision it was, whether it is there already."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from datetime import date


class WhichWasBaked(Refusal):
    """The page was edited since its last revision: which of the two was baked? Facts: `formula`, `typed`."""

    def __init__(self, formula: str, spoken: str, typed: str, told: str) -> None:
        super().__init__(
            f"Not recorded: the page of {formula} was edited by hand since {spoken}. Which did you bake?",
            next=(
                Next(f"ovenleaf record {formula} {typed}{told}", f"{spoken}, as it was saved"),
                Next(
                    f'ovenleaf save {formula} --why "..." && ovenleaf record {formula}{told}',
                    "what the page says now",
                ),
            ),
        )
        self.formula = formula
        self.typed = typed


class BakedBefore(Refusal):
    """The bread is older than the newest revision. Facts: `formula`; `then` and `newest`, revisions as typed."""

    def __init__(
        self, formula: str, day: date, then: tuple[str, str], newest: tuple[str, str], told: str, *, begun: str = ""
    ) -> None:
        done = "this dough was begun" if begun else "this was baked"
        newest_then = "the newest then" if begun else "the newest on that day"
        super().__init__(
            f"Not recorded: {done} on {day:%A} {day.day} {day:%B %Y}{begun and f' at {begun}'}, and {newest[0]} of"
            f" {formula} was saved after that. Which did you bake?",
            next=(
                Next(f"ovenleaf record {formula} {then[1]}{told}", f"{then[0]}, {newest_then}"),
                Next(f"ovenleaf record {formula} {newest[1]}{told}", f"{newest[0]}, from the page before it was saved"),
            ),
        )
        self.formula = formula
        self.then = then
        self.newest = newest


class NothingTold(Refusal):
    """Nothing at all was told of the bake, and nobody is there to be asked. Fact: `formula`."""

    def __init__(self, formula: str, today: str) -> None:
        super().__init__(
            "Not recorded: nothing was told of this bake.",
            next=(
                Next(f"ovenleaf record {formula} --crumb 7 --crust 8", "with marks of your own"),
                Next(f"ovenleaf record {formula} --baked-on {today}", "to score it later"),
            ),
        )
        self.formula = formula


class InTheBook(Refusal):
    """The sheet was recorded before, or the code on it is another trial's. Facts: `code`; `same` for the former."""

    def __init__(self, code: str, *, same: bool) -> None:
        super().__init__(
            f"Not recorded: this sheet is in the book already, as trial {code}."
            if same
            else f"Not recorded: the sheet is marked {code}, and there is a trial {code} in the book already.",
            next=(
                Next(f"ovenleaf show {code}", "what the book has"),
                *(() if same else (Next(f"ovenleaf score {code}", "to add marks to it"),)),
            ),
        )
        self.code = code
        self.same = same
