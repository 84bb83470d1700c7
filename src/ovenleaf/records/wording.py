"""What does not come out in a formula, in the baker's words and with the line of the page."""

from __future__ import annotations

from decimal import ROUND_CEILING, Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain import faults
from ovenleaf.domain.figures import grams, pct
from ovenleaf.domain.formula import part_meant
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import HUNDRED, ZERO, plain, rounded
from ovenleaf.domain.quantity import Unit
from ovenleaf.domain.readings import COUNTED_IN, ON_TOP, two_readings
from ovenleaf.findings import Finding, Severity
from ovenleaf.records.nodes import line_of

if TYPE_CHECKING:
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.records.nodes import Page


def finding(fault: faults.FormulaFault, page: Page, pantry: Pantry) -> Finding:
    """The finding that tells of `fault`, with its line."""
    code, message, fix = _words(fault, pantry)
    line = line_of(page, _place(fault, pantry))
    lines = page.text.splitlines()
    text = lines[line - 1].strip() if line and line <= len(lines) else ""
    return Finding(code=code, severity=Severity.ERROR, path=page.path, line=line, message=message, fix=fix, text=text)


def _place(fault: faults.FormulaFault, pantry: Pantry) -> tuple[str, ...]:
    """The line to look at first: of flours that do not come to 100 %, the culture that was not counted, or the main."""
    if not isinstance(fault, faults.FlourSum) or not fault.brought:
        return fault.path
    cultures = _cultures(fault, pantry)
    main = max(fault.brought, key=lambda row: row[2])[0]
    return (*fault.path, cultures[0] if cultures and fault.total > HUNDRED else main)


def _words(fault: faults.FormulaFault, pantry: Pantry) -> tuple[str, str, str]:
    match fault:
        case faults.FlourSum():
            return ("flour-sum", *_flour_sum(fault, pantry))
        case faults.NegativeDough():
            return ("negative-dough", *_negative(fault))
        case faults.MixedAmounts():
            return "mixed-amounts", *_mixed(fault)
        case faults.NoFlour():
            return "no-flour", f"There is no flour in {_block(fault.path)}.", _NO_FLOUR
        case faults.NoWeight():
            return "no-weight", *_no_weight(fault)
        case faults.NoSuchPart():
            return "no-such-part", *_no_such_part(fault)
        case faults.PartListed():
            return "part-listed", *_part_listed(fault)
        case faults.TakesOther():
            said = f"The {fault.path[1]} says that it takes {pct(fault.takes)} of the flour"
            message = f"{said}, but the flour in it is {pct(fault.flour)}."
            return "takes-other", message, "Put one of the two right, or leave takes: out; the weights say it already."
        case faults.KeptTooMuch():
            message = f"No {fault.item} would reach the dough: as much as is made, or more, is kept for next time."
            return "kept-too-much", message, "Keep less, or make more."
        case faults.NoLines():
            message = f"In {_block(fault.path)} no ingredient has an amount."
            return "no-lines", message, "Write its ingredients, one to a line, each with its amount, as in water: 65%"
        case faults.BothForms():
            return "both-forms", *_forms(both=fault.both)
    raise AssertionError(f"no words for {fault!r}")


_NO_FLOUR = "All percentages are of the flour, so there must be some, such as strong wheat flour: 100%"


def _block(path: tuple[str, ...]) -> str:
    return f"the {path[1]}" if len(path) > 1 and path[0] != "ingredients" else "the formula"


def _mixed(fault: faults.MixedAmounts) -> tuple[str, str]:
    if fault.share == "ingredients":
        part = fault.path[1]
        message = f"The {part} is in weights, and the ingredients are in percent."
        return message, f"Write in the {part} what it takes: 20% of the flour, say, and its lines in percent of that."
    other = "elsewhere it" if fault.share == fault.measure else fault.measure
    message = f"Percent and weights do not mix: {fault.share} is in percent, {other} is not."
    return message, "Write all of them in percent, or all of them in weights."


_UNITS = {
    Unit.PIECE: ("piece", "piece"),
    Unit.CUP: ("cup", "cup"),
    Unit.TBSP: ("tablespoon", "tablespoon"),
    Unit.TSP: ("teaspoon", "teaspoon"),
    Unit.ML: ("ml", "density"),
    Unit.L: ("litre", "density"),
}


def _no_weight(fault: faults.NoWeight) -> tuple[str, str]:
    unit, key = _UNITS[fault.unit]
    weight = "g to the ml" if key == "density" else "g"
    message = f"What one {unit} of {fault.item} weighs is not known."
    return message, f"Weigh it and write it in g, or give it a line {key}:, in {weight}, in ingredients.yaml."


def _no_such_part(fault: faults.NoSuchPart) -> tuple[str, str]:
    item, known = fault.item, " and ".join(fault.parts)
    if fault.path[0] == "kept_for_next_time":
        message = f"{item} is kept for next time, and no bowl before the dough is called that."
        return message, f"Bowls before the dough: {known or 'none'}."
    if part_meant(item, fault.parts):
        message = f"{item}: all cannot be had here; it stands further down, or has gone into another part already."
        return message, "A part goes whole into one other, and that stands below it."
    message = f"{item}: all means the whole of another part, and no part is called {item}."
    return message, f"Parts of this formula: {known}." if known else f"Write how much goes in, as in {item}: 2%"


def _part_listed(fault: faults.PartListed) -> tuple[str, str]:
    if fault.path[0] == "ingredients":
        message = f"{fault.item} is a part of this formula, so it is no line among the ingredients."
        return message, f"They are the whole formula: count what is in the {fault.item} there, and take this line out."
    message = f"{fault.item} is mixed as a part of its own above, and would be counted twice."
    return message, f"It goes in whole: write {fault.item}: all"


def _forms(*, both: bool) -> tuple[str, str]:
    if both:
        fix = "Keep one of the two, ingredients for the whole formula or stages for bowl by bowl."
        return "This page has both ingredients: and stages:.", fix
    return "This page has no ingredients.", "Write ingredients: and under it one line for each, such as water: 65%"


def _negative(fault: faults.NegativeDough) -> tuple[str, str]:
    taken = sum((share for _, share in fault.taken), ZERO)
    parts = " and ".join(f"the {part} takes {pct(share)}" for part, share in fault.taken)
    short = taken - fault.whole
    message = (
        f"The final dough would have less than no {fault.item}: {parts}, and the whole formula has"
        f" {pct(fault.whole) if fault.whole else 'none'}. So {pct(short)} is missing, which is"
        f" {grams(short * 10)} of {fault.item} to 1000 g of flour."
    )
    last = fault.taken[-1][0]
    more = (
        f"give it more {fault.item}" if fault.whole else f"write {fault.item}: {_enough(taken)}% among its ingredients"
    )
    return message, f"The whole formula counts what the {last} takes: {more}, or give the {last} less."


def _enough(share: Decimal) -> str:
    return plain(share.quantize(Decimal("0.01"), ROUND_CEILING))


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
    flours = {item for item, _, _ in fault.brought} | {item for item, _ in fault.flours_elsewhere}
    if len(flours) == 1:
        return (
            message,
            f"{flours.pop()} is the only flour, so it stands at 100%; another one takes its part of it.",
        )
    off = pct(abs(fault.total - HUNDRED))
    if fault.total < HUNDRED:
        return message, f"{off} is missing. Add the flour that was left out, or give a flour line more."
    return message, f"{off} is too much. Take it off a flour line."


def _beside(fault: faults.FlourSum) -> str:
    """The flour of the preferments was left out: each flour line as it should be, all of them 100 %."""
    listed = {item: share for item, share, _ in fault.brought}
    elsewhere = dict(fault.flours_elsewhere)
    whole = {item: listed.get(item, ZERO) + elsewhere.get(item, ZERO) for item in {**listed, **elsewhere}}
    takes = " and ".join(f"the {part} takes {pct(share)}" for part, share in fault.elsewhere)
    beside = "it" if len(fault.elsewhere) == 1 else "them"
    lines = [f"{item}: {share_text(share)}" for item, share in whole.items()]
    said = f"{takes[0].upper()}{takes[1:]} of the flour. If {pct(fault.total)} is what goes in beside {beside},"
    return "\n  ".join([f"{said} write the whole of it here:", *lines])


def share_text(value: Decimal) -> str:
    """A share as it is written on a page, to a hundredth: `90.91%`."""
    return f"{plain(rounded(value, 2))}%"


def _two_readings(fault: faults.FlourSum, pantry: Pantry) -> str:
    cultures = _cultures(fault, pantry)
    culture = " and ".join(cultures)
    said = [f"The {culture} {'is' if len(cultures) == 1 else 'are'} part flour. What was meant?"]
    for reading in two_readings(dict(fault.masses), pantry):
        lines = ", ".join(f"{item} {pct(share)}" for item, share in reading.lines)
        how = _HOW[reading.name].format(culture=culture, comes="comes" if len(cultures) == 1 else "come")
        inside = f"in the {culture} are {pct(reading.culture_flour)} flour and {pct(reading.culture_water)} water"
        poured = sum((share for item, share in reading.lines if pantry.get(item).kind is Kind.WATER), ZERO)
        said.append(f"{how}: {lines}; {inside}. Water in all {pct(poured + reading.culture_water)}.")
    return "\n".join(said)


def _cultures(fault: faults.FlourSum, pantry: Pantry) -> list[str]:
    return [item for item, _, _ in fault.brought if pantry.get(item).kind is Kind.CULTURE]


_HOW = {
    ON_TOP: "The {culture} {comes} on top of that flour",
    COUNTED_IN: "Flour and water count what is in the {culture} already",
}
