"""A formula page to a Formula."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.formula import Formula, Part, Step
from ovenleaf.domain.quantity import AmountFault, Unit, amount
from ovenleaf.records.codec.amounts import lines
from ovenleaf.records.codec.questions import read_open
from ovenleaf.records.codec.reading import Reading, Where
from ovenleaf.records.nodes import MapNode, ScalarNode

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.records.nodes import Node, Page

_PART_KEYS = frozenset({"takes", "rest"})
_OF_THE_FLOUR = re.compile(r"\s*of (?:all )?(?:the )?flour$")


def read_formula(page: Page, *, name: str = "") -> Formula:
    """The formula on a page. `name` stands in where the page does not say its own.

    Raises PageRefused with every fault that is found.
    """
    reading = Reading(page)
    revision = reading.number("revision")
    formula = Formula(
        name=reading.text("formula") or name,
        title=reading.text("title"),
        revision=None if revision is None else int(revision),
        by=reading.texts("by"),
        saved=reading.text("saved"),
        made_from=reading.texts("made_from"),
        why=reading.text("why"),
        makes=reading.text("makes"),
        aims=reading.pairs("aims"),
        ingredients=lines(reading, "ingredients"),
        preferments=_parts(reading, "preferments"),
        soakers=_parts(reading, "soakers"),
        stages=_parts(reading, "stages"),
        kept_for_next_time=lines(reading, "kept_for_next_time"),
        outside=lines(reading, "outside"),
        process=read_steps(reading, "process"),
        open=read_open(reading),
        score_after=reading.text("score_after"),
        losses=reading.pairs("losses"),
        source=reading.text("source"),
    )
    reading.finish(f"{page.path} cannot be read as a formula.")
    return formula


def formula_name_on(page: Page) -> str:
    """What a page says after `formula:`, or "" where it does not say."""
    return Reading(page).text("formula")


def _parts(reading: Reading, block: str) -> tuple[Part, ...]:
    return tuple(
        Part(
            name=name,
            takes=_takes(reading, (block, name, "takes")),
            lines=lines(reading, block, name, leave=_PART_KEYS),
            rest=reading.text(block, name, "rest"),
        )
        for name in reading.keys(block)
    )


def _takes(reading: Reading, where: Where) -> Decimal | None:
    """`20% of the flour`: the words behind the share are for the reader."""
    typed = reading.text(*where)
    if not typed:
        return None
    share = _OF_THE_FLOUR.sub("", typed)
    try:
        taken = amount(share, bare=Unit.SHARE)
    except AmountFault:
        reading.fault(where, "takes", f"takes: {typed} is not a share of the flour.", "Write takes: 20% of the flour")
        return None
    if not taken.is_share or not 0 < taken.value <= 100:
        reading.fault(where, "takes", f"takes: {typed} should be a share of the flour, above 0 and up to 100 %.")
        return None
    return taken.value


def read_steps(reading: Reading, *where: str | int) -> tuple[Step, ...]:
    """A list of steps: `- bulk: 60 min at 26 C`, its fields written out, or just its name."""
    steps = [_step(reading, place, node) for place, node in reading.items(*where)]
    return tuple(step for step in steps if step is not None)


def _step(reading: Reading, where: Where, node: Node) -> Step | None:
    if isinstance(node, ScalarNode):
        return Step(name=reading.words(node), line=benchline.read(""))
    if not isinstance(node, MapNode) or len(node.entries) != 1:
        reading.fault(where, "step", "A step is one line after a dash, as in - bulk: 60 min at 26 C")
        return None
    entry = node.entries[0]
    if isinstance(entry.node, ScalarNode):
        typed = reading.words(entry.node)
    else:
        fields = reading.pairs(*where, entry.key)
        _refuse_bare_figures(reading, (*where, entry.key), fields)
        typed = written_out(fields)
    line = benchline.read(typed)
    for doubt in line.doubts:
        reading.fault((*where, entry.key), "step", f"{entry.key}: {doubt}.")
    return Step(name=entry.key, line=line)


def _refuse_bare_figures(reading: Reading, where: Where, fields: tuple[tuple[str, str], ...]) -> None:
    """A figure alone would be words to the bench line, and words are nothing to work with."""
    for field, text in fields:
        if field in _WANTS and re.fullmatch(r"\d+(?:[.,]\d+)?", text):
            wants, fix = _WANTS[field]
            reading.fault((*where, field), "step", f"{where[-1]}: {field} {text} has no {wants}.", fix.format(text))


_WANTS = {
    "time": ("unit", "Write {0} min or {0} h."),
    "temperature": ("scale", "Write {0} C or {0} F."),
}
_SAID_FIRST = {"dough temperature": "dough", "core temperature": "core", "core": "core", "until": "until", "ph": "pH"}


def written_out(fields: tuple[tuple[str, str], ...]) -> str:
    """Fields written out, as the one line that says the same."""
    said = [f"{_SAID_FIRST[field]} {text}" if field in _SAID_FIRST else text for field, text in fields]
    return ", ".join(said)
