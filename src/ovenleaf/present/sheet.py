"""A weigh-up to print on one page: a square to tick and a blank for what went in, at each line.

Its form is fixed, so that a sheet filled in can be read back: `[ ]` and `____` stand where a baker
writes, and every line begins with what it asks for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.present.formula import cautions, revision_words
from ovenleaf.present.screen import WIDTH, clean, clock, date_words
from ovenleaf.present.weighing import in_unit, weight

if TYPE_CHECKING:
    from datetime import datetime

    from ovenleaf.domain.scaling import Bowl
    from ovenleaf.results import Weighed, WeighUp

BLANK = "________"


def printed_sheet(result: Weighed, now: datetime) -> str:
    """The sheet of each formula; a new page for each after the first."""
    return "\f".join(_page(up, result.unit, now) for up in result.ups)


def _page(up: WeighUp, unit: str, now: datetime) -> str:
    formula = up.sheet.formula
    lines = [
        f"{formula.label}, {revision_words(up.sheet)}",
        f"formula: {formula.name}   revision: {up.sheet.revision}   printed: {date_words(now.isoformat())}",
        f"dough {weight(up.batch.dough.quantize(1))}, flour {weight(up.batch.flour.quantize(1))}"
        + (f", {up.batch.pieces} pieces" if up.batch.pieces else ""),
        "",
        f"Baked on {BLANK}   by {BLANK}   trial {BLANK}   room {BLANK}",
        "",
        *(line for bowl in up.bowls for line in _bowl(bowl, unit)),
        "Steps, and when",
        *(_step(step.name, step.line.typed) for step in formula.process),
        "",
        *_schedule(up),
        f"Pieces {BLANK}   Dough weight {BLANK}   Baked weight {BLANK}   Cooled {BLANK}",
        f"Crumb {BLANK}   Crust {BLANK}   Taster {BLANK}   Hours after {BLANK}",
        f"Note {'_' * 70}",
        "",
        *cautions(up.sheet).splitlines(),
    ]
    return "\n".join(clean(line).rstrip() for line in lines) + "\n"


def _bowl(bowl: Bowl, unit: str) -> list[str]:
    rest = f", then {bowl.rest}" if bowl.rest else ""
    told = [f"{bowl.name.capitalize()}{rest}"]
    for line in bowl.lines:
        name = f"{line.item}{', ' + line.note if line.note else ''}"
        told.append(f"  [ ] {name:<34.34} {in_unit(line.grams, unit):>14}   went in {BLANK}")
    told += [f"      {'in all':<34} {in_unit(bowl.total, unit):>14}", ""]
    return told


def _step(name: str, line: str) -> str:
    head = f"  [ ] {name}: {line}"
    room = WIDTH - len(head) - len(BLANK) - 3
    return f"{head}{' ' * max(1, room)}at {BLANK}"


def _schedule(up: WeighUp) -> list[str]:
    if not up.slots:
        return []
    return [*(f"  {clock(slot.begins)}  {slot.name}" for slot in up.slots), f"  {clock(up.slots[-1].ends)}  ready", ""]
