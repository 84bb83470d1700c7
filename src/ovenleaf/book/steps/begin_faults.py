"""Why a bake is not begun."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from ovenleaf.domain.trial import State


class WhichToBake(Refusal):
    """The page was edited since its last revision: which of the two is baked? Facts: `formula`, `typed`."""

    def __init__(self, formula: str, spoken: str, typed: str, told: str) -> None:
        super().__init__(
            f"Not begun: the page of {formula} was edited by hand since {spoken}. Which do you bake?",
            next=(
                Next(f"ovenleaf begin {formula} {typed}{told}", f"{spoken}, as it was saved"),
                Next(f'ovenleaf save {formula} --why "..."', "keep what the page says now, then begin"),
            ),
        )
        self.formula = formula
        self.typed = typed


class BegunAlready(Refusal):
    """The same formula was begun minutes ago. Facts: `formula`, `code`, `minutes`."""

    def __init__(self, formula: str, code: str, minutes: int, told: str) -> None:
        ago = f"{minutes} min ago" if minutes else "just now"
        super().__init__(
            f"Not begun: {formula} was begun {ago}, as {code}, and is in hand.",
            next=(
                Next(f"ovenleaf jot --trial {code}", "lines for that one"),
                Next(f"ovenleaf begin {formula}{told} --another", "a second dough, meant so"),
            ),
        )
        self.formula = formula
        self.code = code
        self.minutes = minutes


class OtherDough(Refusal):
    """A dough of another formula or revision cannot be shared. Facts: `code`, `of`, `wanted`."""

    def __init__(self, code: str, of: str, wanted: str) -> None:
        super().__init__(
            f"Not begun: {code} is a dough of {of}, so {wanted} cannot share it.",
            next=(Next(f"ovenleaf begin {of.split()[0]} --shares-dough-with {code}", "a part of that dough"),),
        )
        self.code = code
        self.of = of
        self.wanted = wanted


class NotMixed(Refusal):
    """A trial that has no dough to share. Facts: `code`, `state`."""

    def __init__(self, code: str, state: State) -> None:
        super().__init__(f"Not begun: {code} is {state.value}, so it has no dough to share.")
        self.code = code
        self.state = state
