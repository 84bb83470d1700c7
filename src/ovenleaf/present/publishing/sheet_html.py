"""A weigh-up to print on one page, A4 or Letter, black on white: large figures, squares to tick, blanks to fill in."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.domain.paper import heading
from ovenleaf.present.formula import cautions, revision_words
from ovenleaf.present.html import Html, document, joined, tag
from ovenleaf.present.screen import clock, day_words, short_date
from ovenleaf.present.timetable import ends
from ovenleaf.present.watering import head as water_words
from ovenleaf.present.weighing import changes, dilution_words, for_what
from ovenleaf.present.weights import as_weighed, weight
from ovenleaf.present.words import in_degrees

if TYPE_CHECKING:
    from datetime import datetime

    from ovenleaf.domain.formula import Step
    from ovenleaf.domain.scaling import Bowl, Weight
    from ovenleaf.domain.schedule import Slot
    from ovenleaf.results import Weighed, WeighUp

# In the margins that are left a page of A4 holds some 770 points, one of Letter some 720.
_ROOM = Decimal(740)
_LARGEST, _SMALLEST = Decimal("13.5"), Decimal("6.5")
_BLANKS = (
    ("Baked on", "Baker", "Code", "Oven"),
    ("Room", "Flour", "Water", "Preferment"),
)
_AFTER = (
    ("Dough temperature", "Pieces", "Dough weight"),
    ("Baked weight", "Cooled", "Core"),
    ("Crumb", "Crust", "Taster", "Hours after"),
)
_LETTERS = 800  # of one point that stand beside each other in the column of steps

_STYLE = """
@page {{ margin: 10mm; }}
* {{ box-sizing: border-box; }}
body {{ margin: 0 auto; padding: .5rem; max-width: 190mm; color: #000; background: #fff;
  font: {size}pt/1.3 Arial, Helvetica, sans-serif; }}
h1 {{ font-size: 1.35em; margin: 0; }}
h2 {{ font-size: 1em; margin: .45em 0 0; border-bottom: 1.5pt solid #000; }}
p {{ margin: .15em 0; }}
table {{ border-collapse: collapse; width: 100%; }}
td, th {{ text-align: left; font-weight: normal; padding: .12em .4em .12em 0; border-bottom: .5pt solid #000;
  vertical-align: bottom; }}
.box {{ display: inline-block; width: .95em; height: .95em; border: 1.2pt solid #000; vertical-align: -.12em; }}
.tick {{ width: 1.5em; }}
.weight {{ width: 7em; text-align: right; font-size: 1.25em; font-weight: bold; white-space: nowrap; }}
.in {{ width: 13em; }} .at {{ width: 8em; }} .time {{ width: 3.6em; font-weight: bold; }}
.small, .in, .at {{ font-size: .78em; }}
.blanks {{ display: flex; flex-wrap: wrap; gap: .1em 1em; margin: .35em 0; }}
.blanks span {{ flex: 1 1 8em; border-bottom: .5pt solid #000; min-height: 1.5em; padding-top: .4em;
  font-size: .85em; }}
@media print {{ body {{ padding: 0; }} section {{ break-after: page; }} section:last-child {{ break-after: auto; }}
  tr, h2 {{ break-inside: avoid; }} }}
""".strip()


def sheet_html(result: Weighed) -> str:
    """One page for each formula that is weighed up."""
    size = min(_size(up) for up in result.ups)
    title = ", ".join(up.sheet.formula.label for up in result.ups)
    pages = [_page(up, result.unit, result.now) for up in result.ups]
    return document(title, joined(pages), style=_STYLE.format(size=plain(size)))


def _size(up: WeighUp) -> Decimal:
    """The largest letters, in points, at which this formula stays on one page."""
    size = _LARGEST
    while size > _SMALLEST and _height(up, size) > _ROOM:
        size -= Decimal("0.5")
    return size


def _height(up: WeighUp, size: Decimal) -> Decimal:
    """How high the page is about, in points: its weights, its lines of words, and what every sheet has."""
    weights = sum(len(bowl.lines) + 2 for bowl in up.bowls)
    names = [line.item + line.note for bowl in up.bowls for line in bowl.lines]
    steps = [step.name + step.line.typed for step in up.sheet.formula.process]
    told = [one for one in (*changes(up), *(dilution_words(one, "g") for one in up.dilutions)) if one]
    wide = int(_LETTERS / size)  # letters to a line
    more = sum(len(words) // wide for words in names) + sum(1 + len(words) // wide for words in (*steps, *told))
    return size * (weights * Decimal("2.0") + more * Decimal("1.6") + 24)


def _page(up: WeighUp, unit: str, now: datetime) -> Html:
    formula = up.sheet.formula
    parts = (
        tag("h1", f"{formula.label}, {revision_words(up.sheet)}"),
        tag("p", f"{for_what(up, unit)}; dough {weight(rounded(up.batch.dough, 0), unit)}. {_stamp(up, now)}"),
        *(tag("p", one) for one in changes(up)),
        *(_blanks(names) for names in _BLANKS),
        tag("p", tag("b", water_words(up.water) if up.water else "Water at: ________ °C, for the dough as planned.")),
        *(_bowl(bowl, up, unit) for bowl in up.bowls),
        *([tag("h2", "Steps"), _steps(up)] if formula.process else []),
        *(_blanks(names) for names in _AFTER),
        _blanks(("Notes",)),
        tag("p", cautions(up.sheet).replace("\n", " "), class_="small"),
    )
    return tag("section", joined(parts))


def _stamp(up: WeighUp, now: datetime) -> str:
    saved = up.sheet.formula.saved
    of = f"This revision is of {day_words(saved)}; printed" if saved else "Printed"
    return f"{of} {day_words(now.date().isoformat())}."


def _blanks(names: tuple[str, ...]) -> Html:
    return tag("div", *(tag("span", f"{name}:") for name in names), class_="blanks")


def _bowl(bowl: Bowl, up: WeighUp, unit: str) -> Html:
    slot = next((slot for slot in up.slots if slot.name == bowl.name), None)
    begins = f", begin at {clock(slot.begins)} on {short_date(slot.begins.isoformat())}" if slot else ""
    rows = [_row(line, up, unit) for line in bowl.lines]
    total = tag(
        "tr", tag("td", ""), tag("td", "in all"), tag("td", weight(bowl.total, unit), class_="weight"), tag("td")
    )
    notes = [dilution_words(one, unit) for one in up.dilutions if one.bowl == bowl.name]
    notes += [f"Keep {weight(bowl.kept, unit)} of it for next time."] if bowl.kept else []
    return joined(
        (
            tag("h2", f"{in_degrees(heading(bowl.name, bowl.rest))}{begins}"),
            tag("table", joined((*rows, total))),
            *(tag("p", one, class_="small") for one in notes),
        )
    )


def _row(line: Weight, up: WeighUp, unit: str) -> Html:
    name = ", ".join(filter(None, (line.item, in_degrees(line.note))))
    return tag(
        "tr",
        tag("td", tag("span", class_="box"), class_="tick"),
        tag("td", name),
        tag("td", as_weighed(line.grams, up.scale, unit), class_="weight"),
        tag("td", "went in:", class_="in"),
    )


def _steps(up: WeighUp) -> Html:
    slots = list(up.slots)
    rows = []
    for step in up.sheet.formula.process:
        slot = next((slot for slot in slots if slot.name == step.name), None)
        if slot:
            slots.remove(slot)  # two steps may have one name, and then stand in this order
        rows.append(_step(step, slot))
    if up.slots:
        done = ends(up.slots)
        ready = f"Ready at {clock(done)} on {short_date(done.isoformat())}."
        rows.append(tag("tr", tag("td", ""), tag("td", ""), tag("td", tag("b", ready)), tag("td", "")))
    return tag("table", joined(rows))


def _step(step: Step, slot: Slot | None) -> Html:
    return tag(
        "tr",
        tag("td", tag("span", class_="box"), class_="tick"),
        tag("td", clock(slot.begins) if slot else "", class_="time"),
        tag("td", tag("b", step.name), f": {in_degrees(step.line.typed)}"),
        tag("td", "at:", class_="at"),
    )
