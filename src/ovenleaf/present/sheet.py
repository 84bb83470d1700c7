"""A weigh-up to print on one page and fill in with a pencil, in a form that can be read back.

The form, line by line; it is fixed, and a change of it is a new number behind `sheet`:

- Blanks are eight underscores or more. What a baker writes stands on or over them.
- `sheet: 1   formula: NAME   revision: FULL NAME   printed: DATE` and `batch: BATCH   dough: WEIGHT   flour: WEIGHT`:
  names with a colon, each value up to three spaces or the end. BATCH is what a trial's `batch` takes.
- `changed: WORDS` for each thing this bake has other than the formula; `water: WORDS` where it was worked out.
- A bowl is a heading at the left edge, `NAME` or `NAME, then REST`, and behind three spaces or on a line set in by
  four, `begin at CLOCK on DAY` where that was planned; then a line for each weight:
  `  [ ] ITEM, NOTE   PLANNED   went in BLANK`. A name too long for its column goes on in lines set in by six, and
  the weights stand on the last. `in all` closes the bowl. Lines set in by four are advice and hold no blank.
- `Steps, and when`, then for each `  [ ] CLOCK STEP: LINE   at BLANK`; CLOCK only where a time was planned. A long
  one goes on set in by six, and its `at` stands on the last line, two spaces or more behind what is before it,
  which no `at` in a step's own words does.
- Everything else that is asked stands as `NAME BLANK`, several to a line, NAME as a trial calls it.
- Empty lines mean nothing; a sheet that would not fit a page has none.
- A ticked square is `[x]`, whatever mark is in it. A form feed begins the next formula.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.domain.paper import ASKED, NOTE, STEPS, heading
from ovenleaf.domain.trial import CHANGED
from ovenleaf.present.formula import cautions, revision_words
from ovenleaf.present.screen import WIDTH, clean, clock, date_words, short_date, width_of, wrap
from ovenleaf.present.timetable import ends
from ovenleaf.present.watering import head as water_words
from ovenleaf.present.weighing import changes, dilution_words, pieces_words
from ovenleaf.present.weights import cells, cells_weighed, weight

if TYPE_CHECKING:
    from datetime import datetime

    from ovenleaf.domain.formula import Step
    from ovenleaf.domain.scaling import Bowl, Weight
    from ovenleaf.domain.schedule import Slot
    from ovenleaf.results import Weighed, WeighUp

BLANK = "_" * 8
PAGE = 60  # lines, of Letter as of A4
_NAME = 36  # columns for what is weighed


def printed_sheet(result: Weighed) -> str:
    """The sheet of each formula; a new page for each after the first."""
    return "\f".join(_page(up, result.unit, result.now) for up in result.ups)


def _page(up: WeighUp, unit: str, now: datetime) -> str:
    lines = [
        *wrap(f"{up.sheet.formula.label}, {revision_words(up.sheet)}").splitlines(),
        *_facts(up, unit, now),
        "",
        *(_blanks(names) for names in ASKED[:2]),
        "",
        *(line for bowl in up.bowls for line in _bowl(bowl, up, unit)),
        *_steps(up),
        *(_blanks(names) for names in ASKED[2:]),
        f"{NOTE} {'_' * (WIDTH - len(NOTE) - 1)}",
        "",
        *cautions(up.sheet).splitlines(),
    ]
    fitting = lines if len(lines) <= PAGE else [line for line in lines if line]
    return "\n".join(clean(line).rstrip() for line in fitting) + "\n"


def _facts(up: WeighUp, unit: str, now: datetime) -> list[str]:
    """Which page this is of, for how much, and what is other than on it."""
    formula, made = up.sheet.formula, up.batch
    dough, flour = (weight(rounded(grams, 0), unit) for grams in (made.dough, made.flour))
    if made.pieces and up.wanted.each and not up.wanted.baked:
        batch = f"{pieces_words(up, made.pieces)} of {plain(up.wanted.each)} g"
    else:
        batch = f"{plain(rounded(made.dough, 0))} g dough"
    water = [f"water: {water_words(up.water)}"] if up.water else []
    told = [
        f"sheet: 1   formula: {formula.name}   revision: {up.sheet.revision}   printed: {now.date().isoformat()}",
        f"batch: {batch}   dough: {dough}   flour: {flour}",
    ]
    changed = [f"{CHANGED}: {one}" for one in changes(up)]
    return [*told, *(line for one in (*changed, *water) for line in wrap(one, hanging=4).splitlines())]


def _blanks(names: tuple[str, ...]) -> str:
    """`NAME BLANK` side by side."""
    return "   ".join(f"{name} {BLANK}" for name in names)


def _bowl(bowl: Bowl, up: WeighUp, unit: str) -> list[str]:
    told = _heading(bowl, next((slot for slot in up.slots if slot.name == bowl.name), None))
    for line in bowl.lines:
        told += _line(line, up, unit)
    told.append(f"      {'in all':<{_NAME}} {_weight(cells(bowl.total, unit))}")
    advice = [dilution_words(one, unit) for one in up.dilutions if one.bowl == bowl.name]
    if bowl.kept:
        advice.append(f"keep {weight(bowl.kept, unit)} of it for next time")
    return [*told, *(line for one in advice for line in wrap(one, 4).splitlines()), ""]


def _heading(bowl: Bowl, slot: Slot | None) -> list[str]:
    """What the bowl is, and when it is begun."""
    lines = wrap(heading(bowl.name, bowl.rest)).splitlines()
    if slot is None:
        return lines
    begin = f"begin at {clock(slot.begins)} on {short_date(slot.begins.isoformat())}"
    longer = f"{lines[-1]}   {begin}"
    return [*lines[:-1], longer] if width_of(longer) <= WIDTH else [*lines, f"    {begin}"]


def _line(line: Weight, up: WeighUp, unit: str) -> list[str]:
    """A weight with its square and its blank."""
    *before, last = _narrow(f"{line.item}{', ' + line.note if line.note else ''}")
    padded = last + " " * (_NAME - width_of(last))
    told = [*before, f"{padded} {_weight(cells_weighed(line.grams, up.scale, unit))}   went in {BLANK}"]
    return [f"  {'[ ] ' if not n else '    '}{one}" for n, one in enumerate(told)]


def _narrow(name: str) -> list[str]:
    """A name in lines that leave room for its weight."""
    lines = [""]
    for word in clean(name).split(" "):
        for piece in [word[at : at + _NAME] for at in range(0, len(word), _NAME)]:
            longer = f"{lines[-1]} {piece}".strip()
            if width_of(longer) <= _NAME:
                lines[-1] = longer
            else:
                lines.append(piece)
    return lines


def _weight(shown: tuple[str, ...]) -> str:
    *pounds, last = shown
    return f"{pounds[0]:>6} {last:>9}" if pounds else f"{last:>14}"


def _steps(up: WeighUp) -> list[str]:
    if not up.sheet.formula.process:
        return []
    slots = list(up.slots)
    told = []
    for step in up.sheet.formula.process:
        slot = next((slot for slot in slots if slot.name == step.name), None)
        if slot:
            slots.remove(slot)  # two steps may have one name, and then stand in this order
        told += _step(step, slot)
    ready = ends(up.slots) if up.slots else None
    last = [f"    ready at {clock(ready)} on {date_words(ready.isoformat())}"] if ready else []
    return [STEPS, *told, *last, ""]


def _step(step: Step, slot: Slot | None) -> list[str]:
    """A step with its square, and a blank for when; a long one goes on under itself."""
    planned = f"{clock(slot.begins)} " if slot else ""
    head = wrap(f"[ ] {planned}{step.name}: {step.line.typed}", 2, hanging=4).splitlines()
    at = f"at {BLANK}"
    room = WIDTH - width_of(head[-1]) - len(at)
    if room < 2:
        return [*head, f"{at:>{WIDTH}}"]
    return [*head[:-1], f"{head[-1]}{' ' * room}{at}"]
