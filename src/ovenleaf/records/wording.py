"""What does not come out in a formula, in the baker's words and with the line of the page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain import faults
from ovenleaf.domain.figures import grams, pct
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import HUNDRED, ZERO, plain, rounded
from ovenleaf.domain.readings import COUNTED_IN, ON_TOP, two_readings
from ovenleaf.findings import Finding, Severity
from ovenleaf.records.nodes import line_of

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.records.nodes import Page


def finding(fault: faults.FormulaFault, page: Page, pantry: Pantry) -> Finding:
    """The finding that tells of `fault`, with its line."""
    code, message, fix = _words(fault, pantry)
    line = line_of(page, fault.path)
    lines = page.text.splitlines()
    text = lines[line - 1].strip() if line and line <= len(lines) else ""
    return Finding(code=code, severity=Severity.ERROR, path=page.path, line=line, message=message, fix=fix, text=text)


def _words(fault: faults.FormulaFault, pantry: Pantry) -> tuple[str, str, str]:
    match fault:
        case faults.FlourSum():
            return ("flour-sum", *_flour_sum(fault, pantry))
        case faults.NegativeDough():
            return ("negative-dough", *_negative(fault))
        case faults.MixedAmounts():
            message = f"Shares and measures stand in one block: {fault.share} is a share, {fault.measure} is not."
            return "mixed-amounts", message, "Write all of a block in percent, or all of it in weights."
        case faults.NoFlour():
            block = " in ".join(reversed(fault.path[-2:])) if len(fault.path) > 1 else "the formula"
            return "no-flour", f"There is no flour in {_block(fault.path) or block}.", _NO_FLOUR
        case faults.NoWeight():
            message = f"What one {fault.unit} of {fault.item} weighs is not known."
            return "no-weight", message, f"Weigh it and write g, or add {fault.item} to ingredients.yaml."
        case faults.NoSuchPart():
            known = ", ".join(fault.parts) or "none"
            message = f"{fault.item}: all means the whole of another part, and there is none of that name before it."
            return "no-such-part", message, f"Parts of this formula: {known}. Each goes into one other, whole."
        case faults.KeptTooMuch():
            message = f"More {fault.item} is kept for next time than is made."
            return "kept-too-much", message, "Keep less, or make more."
        case faults.NoLines():
            return "no-lines", f"There is nothing in {_block(fault.path)}.", "Write its ingredients, one to a line."
        case faults.BothForms():
            return "both-forms", *_forms(both=fault.both)
    raise AssertionError(f"no words for {fault!r}")


_NO_FLOUR = "Shares are of the flour, so there must be some, such as strong wheat flour: 100%"


def _block(path: tuple[str, ...]) -> str:
    return {1: "the formula", 0: "the formula"}.get(len(path), f"the {path[1]}" if len(path) > 1 else "")


def _forms(*, both: bool) -> tuple[str, str]:
    if both:
        return "This page has ingredients and stages.", "Keep one of the two: the whole formula, or bowl by bowl."
    return "This page has no ingredients.", "Write ingredients: and under it one line for each, such as water: 65%"


def _negative(fault: faults.NegativeDough) -> tuple[str, str]:
    taken = sum((share for _, share in fault.taken), ZERO)
    parts = " and ".join(f"the {part} takes {pct(share)}" for part, share in fault.taken)
    short = taken - fault.whole
    message = (
        f"The final dough would have less than no {fault.item}: {parts}, and the whole formula has"
        f" {pct(fault.whole) if fault.whole else 'none'}. That is {pct(short)} of all the flour too little,"
        f" {grams(short * 10)} to 1000 g of flour."
    )
    return message, f"The whole formula counts what the {fault.taken[-1][0]} takes; give it more {fault.item}."


def _flour_sum(fault: faults.FlourSum, pantry: Pantry) -> tuple[str, str]:
    where = f"In {_block(fault.path)} the" if len(fault.path) > 1 else "The"
    message = f"{where} flours come to {pct(fault.total)}, and together they must be 100 %."
    taken = sum((share for _, share in fault.elsewhere), ZERO)
    if taken and abs(fault.total + taken - HUNDRED) < 1 and fault.brought:
        return message, _beside(fault)
    if fault.cultures and abs(fault.total - fault.cultures - HUNDRED) < 1:
        return message, _two_readings(fault, pantry)
    if len(fault.brought) == 1 and not fault.elsewhere:
        return message, f"If {fault.brought[0][0]} is all the flour, write it as {fault.brought[0][0]}: 100%"
    off = abs(fault.total - HUNDRED)
    more = "missing" if fault.total < HUNDRED else "too much"
    return message, f"{pct(off)} is {more}. Change a flour line, or add the flour that was left out."


def _beside(fault: faults.FlourSum) -> str:
    part, share = fault.elsewhere[0]
    main = max(fault.brought, key=lambda row: row[2])
    whole = HUNDRED - sum((flour for item, _, flour in fault.brought if item != main[0]), ZERO)
    return (
        f"The {part} takes {pct(share)} of the flour. If {pct(main[1])} is what goes in beside the {part},"
        f" write the whole of it here: {main[0]}: {share_text(whole)}"
    )


def share_text(value: Decimal) -> str:
    """A share as it is written on a page, to a hundredth: `90.91%`."""
    return f"{plain(rounded(value, 2))}%"


def _two_readings(fault: faults.FlourSum, pantry: Pantry) -> str:
    culture = next(item for item, _, _ in fault.brought if pantry.get(item).kind is Kind.CULTURE)
    said = [f"The {culture} is part flour. What was meant?"]
    for reading in two_readings(dict(fault.masses), pantry):
        lines = ", ".join(f"{item} {pct(share)}" for item, share in reading.lines)
        how = _HOW[reading.name].format(culture=culture)
        inside = f"{culture} of which flour {pct(reading.culture_flour)}, water {pct(reading.culture_water)}"
        poured = sum((share for item, share in reading.lines if pantry.get(item).kind is Kind.WATER), ZERO)
        said.append(f"{how}: {lines}; {inside}. All water {pct(poured + reading.culture_water)}.")
    return "\n".join(said)


_HOW = {
    ON_TOP: "The {culture} comes on top of that flour",
    COUNTED_IN: "Flour and water already count what is in the {culture}",
}
