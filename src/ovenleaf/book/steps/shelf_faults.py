"""What is refused where the formula or the revision that was named is not there, or is not one alone."""

from __future__ import annotations

import difflib
from typing import TYPE_CHECKING

from ovenleaf.domain.revision import as_typed, slug_of
from ovenleaf.errors import Next, Refusal, SayWhich

if TYPE_CHECKING:
    from ovenleaf.domain.revision import RevisionName


class UnknownFormula(Refusal):
    """No formula of that name. Facts: `name`, `near`."""

    def __init__(self, name: str, names: tuple[str, ...]) -> None:
        near = difflib.get_close_matches(slug_of(name), names, n=1, cutoff=0.6)
        said = f" Did you mean {near[0]}?" if near else ""
        super().__init__(
            f"There is no formula {name} in this book.{said}",
            next=(
                Next("ovenleaf list", "the formulas of this book")
                if names
                else Next(f"ovenleaf enter {name}", "put it in, asked line by line"),
            ),
        )
        self.name = name
        self.near = near[0] if near else ""


class UnknownRevision(Refusal):
    """No such revision of a formula. Facts: `formula`, `typed`, `names`."""

    def __init__(self, formula: str, typed: str, names: tuple[RevisionName, ...]) -> None:
        known = ", ".join(as_typed(names, name) for name in names) or "none yet"
        super().__init__(
            f"{formula} has no revision {typed}.",
            detail=(f"Kept revisions: {known}.",),
            next=(Next(f"ovenleaf history {formula}", "all its revisions, and what came of each"),),
        )
        self.formula = formula
        self.typed = typed
        self.names = names


class AllTakenBack(Refusal):
    """Every revision of the formula was taken back. Facts: `formula`, `typed`, the last of them."""

    def __init__(self, formula: str, typed: str) -> None:
        super().__init__(
            f"Every revision of {formula} was taken back, so there is none to work with.",
            next=(
                Next(f"ovenleaf show {formula} {typed}", "what the last of them said"),
                Next(f"ovenleaf enter {formula}.yaml", "put the formula in again, from a page you typed"),
            ),
        )
        self.formula = formula
        self.typed = typed


class NoKeeper(Refusal):
    """No revision of the formula is marked keeper. Fact: `formula`."""

    def __init__(self, formula: str, newest: RevisionName) -> None:
        super().__init__(
            f"No revision of {formula} is marked keeper yet.",
            next=(Next(f'ovenleaf mark {formula} r{newest.number} keeper --why "..."', "mark one"),),
        )
        self.formula = formula


class AmbiguousRevision(SayWhich):
    """Two bakers have a revision of that number. Facts: `formula`, `typed`, `names`."""

    def __init__(self, formula: str, typed: str, names: tuple[RevisionName, ...]) -> None:
        both = " and ".join(map(str, names))
        super().__init__(
            f"{typed} of {formula} can mean more than one: {both}.",
            typed,
            tuple(map(str, names)),
            detail=("Say which, by its full name.",),
            next=tuple(Next(f"ovenleaf show {formula} {name}") for name in names),
        )
        self.formula = formula


class DraftInTheWay(Refusal):
    """The current page was edited by hand and is not saved. Fact: `formula`."""

    def __init__(self, formula: str) -> None:
        super().__init__(
            f"The page of {formula} was edited by hand and is not saved yet.",
            next=(
                Next(f'ovenleaf save {formula} --why "..."', "keep what was edited as a revision first"),
                Next(f"ovenleaf diff {formula} --draft", "see what was edited"),
            ),
        )
        self.formula = formula


class OnlyADraft(Refusal):
    """No revision of the formula was kept yet: its page is a draft. Fact: `formula`."""

    def __init__(self, formula: str) -> None:
        super().__init__(
            f"{formula} is a draft; no revision of it was kept yet.",
            next=(
                Next(f'ovenleaf save {formula} --why "..."', "keep it as revision 1 first"),
                Next(f"ovenleaf show {formula}", "what it says"),
            ),
        )
        self.formula = formula
