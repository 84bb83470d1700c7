"""A bake in clock times, day by day."""

from __future__ import annotations

from datetime import UTC
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.durations import Duration
from ovenleaf.domain.numbers import rounded
from ovenleaf.domain.schedule import later
from ovenleaf.present.screen import clock, date_words, join_words, rows, wrap

if TYPE_CHECKING:
    from datetime import datetime

    from ovenleaf.domain.schedule import Slot
    from ovenleaf.results import WeighUp

READY = "ready"


def timetable_block(up: WeighUp, now: datetime) -> str:
    """The steps under their days, when it is ready, and what to mind; "" where no time was given."""
    if not up.slots:
        return ""
    lines = [(slot.begins, slot.name, _words(slot)) for slot in up.slots]
    lines.append((ends(up.slots), READY, ""))
    widest = max(len(name) for _, name, _ in lines)
    days: dict[str, list[tuple[str, ...]]] = {}
    for at, name, words in lines:
        days.setdefault(date_words(at.isoformat()), []).append((clock(at), name.ljust(widest), words))
    tables = [f"  {day}\n{rows(told, '<<<', indent=4)}" for day, told in days.items()]
    return "\n".join(("Schedule", *tables, *(wrap(said, 2) for said in _notes(up, now))))


def ends(slots: tuple[Slot, ...]) -> datetime:
    """When the last of it is done."""
    return max((slot.ends for slot in slots), key=lambda at: at.astimezone(UTC))


def span(slot: Slot) -> str:
    """How long a step takes, in words: `87 to 97 min`."""
    low, high = rounded(slot.low, 0), rounded(slot.high, 0)
    if high >= 120 and low != high:
        low, high = rounded(slot.low / 5, 0) * 5, rounded(slot.high / 5, 0) * 5
    return str(Duration(low=low, high=high))


def _words(slot: Slot) -> str:
    return ", ".join(filter(None, (span(slot), f"until {slot.sign}" if slot.sign else "", slot.adjusted)))


def _notes(up: WeighUp, now: datetime) -> list[str]:
    """What is not in the sum, what is late, and whether the clocks change."""
    first, last = up.slots[0].begins, ends(up.slots)
    said = ["The signs decide, not the clock; the longer time of each is planned for."]
    untimed = [s.name for s in up.sheet.formula.process if s.line.get("time") is None]
    if untimed:
        verb = "has" if len(untimed) == 1 else "have"
        said.append(f"{join_words(untimed).capitalize()} {verb} no time on the page and {_come(untimed)} on top.")
    late = now.astimezone(UTC) - first.astimezone(UTC)
    if late.total_seconds() > 0:
        soonest = later(last, Decimal(int(late.total_seconds())) / 60)
        at = f"{clock(soonest)} on {date_words(soonest.isoformat())}"
        said.append(f"That first step is past. What is begun only now is ready at {at}.")
    if first.utcoffset() != last.utcoffset():
        said.append("The clocks change in between, and that is counted.")
    return said


def _come(names: list[str]) -> str:
    return "comes" if len(names) == 1 else "come"
