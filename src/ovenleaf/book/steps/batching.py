"""How big a bake is, as it was told when it was begun, or as the formula's page has it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.benchvalues import Pieces
from ovenleaf.domain.figures import grams
from ovenleaf.domain.quantity import GRAMS_PER, Amount, AmountFault, Unit, amount
from ovenleaf.errors import Refusal

if TYPE_CHECKING:
    from ovenleaf.domain.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchOptions:
    """How much, as typed; "" is not told."""

    flour: str = ""
    dough: str = ""
    pieces: str = ""
    each: str = ""


class CannotBegin(Refusal):
    """The size of a bake that cannot be. Fact: `about`."""

    def __init__(self, about: str, what: str, *detail: str) -> None:
        super().__init__(f"Not begun: {what}", detail=detail)
        self.about = about


def batch_told(options: BatchOptions, sheet: Sheet) -> tuple[str, bool]:
    """The batch in words, and whether it is the page's own; "" where neither says how much. Raises CannotBegin."""
    given = [name for name in ("flour", "dough") if getattr(options, name)]
    if options.pieces or options.each:
        given.append("pieces")
    if len(given) > 1:
        raise CannotBegin("batch", f"{' and '.join(given)} cannot both say how much.", "Give one of them.")
    if not given:
        return _of_page(sheet), True
    if given[0] == "pieces":
        return _pieces(options, sheet), False
    name = given[0]
    return f"{_weight(name, getattr(options, name))} {name}", False


def _of_page(sheet: Sheet) -> str:
    """What the page makes, or the flour of a page in weights; "" for one in shares that does not say."""
    if flour_in_batch(sheet.formula.makes, sheet.worked) is not None:
        return sheet.formula.makes
    return f"{grams(sheet.worked.flour_g)} flour" if sheet.worked.flour_g else ""


def _weight(about: str, typed: str) -> Amount:
    try:
        read = amount(typed, bare=Unit.G)
    except AmountFault:
        read = None
    if read is None or read.unit not in GRAMS_PER or read.value <= 0:
        raise CannotBegin(about, f"{about} {typed} is not a weight.", "As in 600g, 2.5 kg or 3 lb.")
    return read


def _pieces(options: BatchOptions, sheet: Sheet) -> str:
    usual = benchline.read(sheet.formula.makes)
    said, weight = usual.get("pieces"), usual.get("weight")
    noun = said.noun if isinstance(said, Pieces) else "pieces"
    count = options.pieces.strip()
    if not count.isdigit() or not int(count):
        what = f"{count} pieces cannot be made." if count else "how many pieces was not told."
        raise CannotBegin("pieces", what, "Give a whole number, one at least, as in --pieces 12.")
    each = _weight("each", options.each) if options.each else weight
    if not isinstance(each, Amount):
        raise CannotBegin("each", "what one piece weighs was not told.", "As in --each 85g.")
    return f"{Pieces(count=int(count), noun=noun)} of {each}"
