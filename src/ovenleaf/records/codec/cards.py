"""A household recipe on two pages: the draft of a formula, and beside it the card, word for word."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.card import page_grams
from ovenleaf.domain.card_reading import OUTSIDE
from ovenleaf.domain.card_told import CardLine, CardTold
from ovenleaf.errors import Refusal
from ovenleaf.records.codec.reading import Reading
from ovenleaf.records.nodes import plain
from ovenleaf.records.reshape import reshaped
from ovenleaf.records.scalars import UNSEEN, double_quoted, key_text
from ovenleaf.records.yaml_out import dump
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from ovenleaf.domain.card import Asked, Card, Taken
    from ovenleaf.records.nodes import Page, Plain

FORMAT = "card/1"


def draft_text(card: Card, name: str, title: str) -> str:
    """The page of a draft: amounts in grams, the card's words as remarks beside them, and what is open."""
    page: dict[str, Plain] = {"format": "formula/1", "formula": name, "title": title}
    if card.makes:
        page["makes"] = card.makes
    if card.source:
        page["source"] = card.source
    bowls = dict.fromkeys(line.part for line in card.lines if _inside(line))
    if len(bowls) > 1:
        page["stages"] = {bowl: _lines(card, bowl) for bowl in bowls}
    else:
        page["ingredients"] = _lines(card, *bowls)
    outside: dict[str, Plain] = {line.item: _outside(line) for line in card.lines if not _inside(line)}
    if outside:
        page["outside"] = outside
    if kept := {bowl: amount for bowl, amount in card.kept if bowl in bowls and len(bowls) > 1}:
        page["kept_for_next_time"] = dict(kept)
    if card.steps:
        page["process"] = [{step.name: step.line} if step.line else step.name for step in card.steps]
    if questions := [one for one in card.questions if not one.soft]:
        page["open"] = {one.key: _question(one) for one in questions}
    return _with_remarks(dump(page), card)


def _inside(line: Taken) -> bool:
    return not line.purpose and line.part != OUTSIDE


def _lines(card: Card, bowl: str) -> dict[str, Plain]:
    return {line.item: _amount(line) for line in card.lines if _inside(line) and line.part == bowl}


def _amount(line: Taken) -> str:
    amount = line.amount or "as needed"
    was = line.asked.was if line.asked is not None and not line.amount else ""
    return ", ".join(filter(None, (amount, was, line.note)))


def _outside(line: Taken) -> str:
    purpose = f"for {line.purpose}" if line.purpose else ""
    return ", ".join(filter(None, (line.amount or "as needed", purpose, line.note)))


def _question(asked: Asked) -> dict[str, Plain]:
    choices: dict[str, Plain] = {one.said: one.amount or "by weight" for one in asked.choices}
    return {"was": asked.was, **choices}


def _with_remarks(text: str, card: Card) -> str:
    """The card's own words and where the grams are from, behind each line that they are of."""
    block, bowl, lines = "", "", []
    for line in text.splitlines():
        if not line.startswith(" "):
            block = line.partition(":")[0]
        elif block == "stages" and not line.startswith("    "):
            bowl = line.strip().removesuffix(":")
        lines.append(f"{line}{_remark(line, block, bowl, card)}")
    return "\n".join(lines) + "\n"


def _remark(line: str, block: str, bowl: str, card: Card) -> str:
    if block not in ("ingredients", "stages", "outside"):
        return ""
    for taken in card.lines:
        here = _inside(taken) != (block == "outside") and (block != "stages" or taken.part == bowl)
        if here and line.strip().startswith(f"{key_text(taken.item)}: "):
            said = "; ".join(filter(None, (taken.words, taken.how if taken.amount else "", taken.source)))
            return "" if UNSEEN.search(said) else f"   # {' '.join(said.split())}"
    return ""


def card_text(card: Card, name: str, *, file: str, by: str, at: str) -> str:
    """The page of the card: where it is from, what each line was taken as, and the original word for word."""
    page: dict[str, Plain] = {
        "format": FORMAT,
        "formula": name,
        "adopted": at,
        "by": by,
        "file": file,
        "found_in": card.found_in,
        "source": card.source,
        "measures": card.measures.value if card.measures_said else f"{card.measures.value}, not said",
        "lines": [_line(line) for line in card.lines],
    }
    if card.notes:
        page["notes"] = list(card.notes)
    text = dump({key: value for key, value in page.items() if value not in ("", [])})
    return f"{text}text: {_word_for_word(card.text)}\n"


def _line(line: Taken) -> dict[str, Plain]:
    facts = {
        "card": line.words,
        "bowl": line.part,
        "item": line.item,
        "taken": line.amount,
        "least": "" if line.low is None or line.low == line.high else page_grams(line.low),
        "most": "" if line.high is None or line.low == line.high else page_grams(line.high),
        "how": line.how,
        "source": line.source,
        "sure": "" if line.purpose else line.sure.value,
    }
    return {key: value for key, value in facts.items() if value}


def _word_for_word(text: str) -> str:
    """As a block that reads as it was typed; in quotes where signs that do not show stand in it."""
    if UNSEEN.search(text) or "\t" in text or not text.strip():
        return double_quoted(text)
    ends = "|2-" if not text.endswith("\n") else "|2" if not text.endswith("\n\n") else "|2+"
    body = text if text.endswith("\n") else f"{text}\n"
    block = (
        ends
        + "\n"
        + "".join(f"  {line}\n" if line.strip() else f"{'  ' + line if line else ''}\n" for line in body.splitlines())
    )
    block = block.removesuffix("\n")
    try:
        kept = plain(read(f"text: {block}\n", path="card").root)
    except Refusal:  # the reader does not take it so
        return double_quoted(text)
    return block if kept == {"text": text} else double_quoted(text)


def read_card_page(page: Page) -> CardTold:
    """The card on a page. Raises PageRefused with every fault that is found."""
    reading = Reading(page)
    told = CardTold(
        formula=reading.text("formula"),
        adopted=reading.text("adopted"),
        by=reading.text("by"),
        file=reading.text("file"),
        found_in=reading.text("found_in"),
        source=reading.text("source"),
        measures=reading.text("measures"),
        notes=reading.texts("notes"),
        text=reading.text("text"),
        lines=tuple(
            CardLine(
                card=reading.text(*where, "card"),
                bowl=reading.text(*where, "bowl"),
                item=reading.text(*where, "item"),
                taken=reading.text(*where, "taken"),
                least=reading.text(*where, "least"),
                most=reading.text(*where, "most"),
                how=reading.text(*where, "how"),
                source=reading.text(*where, "source"),
                sure=reading.text(*where, "sure"),
                answered=reading.text(*where, "answered"),
            )
            for where, _ in reading.items("lines")
        ),
    )
    reading.finish(f"{page.path} cannot be read as a card.")
    return told


def with_answer(page: Page, bowl: str, key: str, *, item: str, amount: str, answered: str, sure: str) -> Page:
    """The card's page with what one of its lines was settled as, by whom and when."""
    data = plain(page.root)
    assert isinstance(data, dict)
    lines = data.get("lines")
    for line in lines if isinstance(lines, list) else []:
        if isinstance(line, dict) and line.get("item") == key and (line.get("bowl") or "") == bowl:
            line["item"], line["taken"], line["sure"], line["answered"] = item, amount, sure, answered
            for gone in ("least", "most"):
                line.pop(gone, None)
    return reshaped(page, data)
