"""Amounts and ingredient lines on a page, and the words for what is wrong with one."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

from ovenleaf.domain.benchparts import in_two_ways
from ovenleaf.domain.formula import ALL, AS_NEEDED, Line
from ovenleaf.domain.quantity import AmountFault, amount, split_note
from ovenleaf.records.nodes import ScalarNode

if TYPE_CHECKING:
    from ovenleaf.records.codec.reading import Reading, Where

UNITS = "%, g, kg, oz, lb, ml, l, tsp, tbsp, cup or pc"


def lines(reading: Reading, *where: str | int, leave: frozenset[str] = frozenset()) -> tuple[Line, ...]:
    """The ingredient lines of a block, without the keys in `leave`."""
    keys = [key for key in reading.keys(*where) if key not in leave]
    read = [_line(reading, (*where, key), key, leave) for key in keys]
    return tuple(line for line in read if line is not None)


def _line(reading: Reading, where: Where, item: str, leave: frozenset[str]) -> Line | None:
    node = reading.node(where)
    if not isinstance(node, ScalarNode):
        reading.fault(where, "shape", f"{item} should have its amount on the same line, as in {item}: 2%")
        return None
    head, note = split_note(reading.words(node))
    if head.lower() in (ALL, AS_NEEDED):
        return Line(item=item, word=head.lower(), note=note)
    if not head:
        reading.fault(where, "no-amount", f"{item} has no amount.", f"Write one, as in {item}: 2%, or {AS_NEEDED}.")
        return None
    try:
        read = amount(head)
    except AmountFault as fault:
        if near := get_close_matches(item, leave, n=1, cutoff=0.75):
            reading.fault(where, "unknown-field", f"{item} is not known here.", f"Did you mean {near[0]}?")
        else:
            reading.fault(where, "amount", *amount_words(item, fault, note))
        return None
    if doubt := in_two_ways(head):
        what, _, fix = doubt.partition("; ")
        reading.fault(where, "two-ways", f"{item}: {what}.", f"{fix[:1].upper()}{fix[1:]}.")
        return None
    return _sensible(reading, where, Line(item=item, amount=read, note=note))


def _sensible(reading: Reading, where: Where, line: Line) -> Line | None:
    if line.amount is not None and not line.amount.value:
        reading.fault(
            where,
            "zero",
            f"{line.item} is 0. A line on a page is something that goes in.",
            f"Take the line out, or write how much {line.item} there is.",
        )
        return None
    return line


def amount_words(item: str, fault: AmountFault, note: str = "") -> tuple[str, str]:
    """What is wrong with an amount, and how to mend it, in the baker's words."""
    typed = fault.text
    if note[:1].isdigit() and fault.kind in ("no unit", "not a number"):
        joined = f"{typed},{note}"
        return (
            f"{item}: {typed}, {note} reads as {typed} with a note, because of the space behind the comma.",
            f"Write it without the space: {item}: {joined}",
        )
    return {
        "no unit": (f"{item}: {typed} has no unit.", f"Say {typed}% or {typed} g, for instance."),
        "unknown unit": (f"{item}: {fault.unit} is not a unit this book knows.", f"Use one of {UNITS}."),
        "negative": (f"{item}: {typed} is less than nothing.", "Amounts start at zero; check the sign."),
        "not finite": (f"{item}: {typed} is not an amount.", f"Write a number and a unit: {UNITS}."),
        "too large": (
            f"{item}: {typed} is larger than any dough.",
            "Write a plain number, without e." if "e" in typed.lower() else "Count the figures again.",
        ),
        "divided by zero": (f"{item}: {typed} has a zero under the line.", "Write a fraction such as 1/2."),
    }.get(
        fault.kind,
        (
            f"{item}: {typed} is not an amount.",
            f"Write a number and a unit ({UNITS}), then a comma and a note if you like.",
        ),
    )
