"""One ingredient line of a household recipe, read: how much, of what, in what shape; and what is doubtful of it.

It never guesses: what it does not understand wholly is a doubt, and a doubt becomes a question. Knows words and
figures; nothing of what an ingredient weighs.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.domain.recipe_measures import Amount, amount_at, evened_line, has_amount
from ovenleaf.domain.recipe_numbers import number_at
from ovenleaf.domain.recipe_wordings import (
    ALLOW,
    ASIDE,
    DONE_BEHIND,
    HARMLESS,
    IN_LIQUID,
    MORE,
    NOT_EXACT,
    OPTIONAL,
    OUTSIDE_LABEL,
    PURPOSE,
    SIZE,
    TASTE,
    eggs_counted,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["TWO_ALPHABETS", "Amount", "Heard", "hear"]

TWO_ALPHABETS = "mixes letters of two alphabets"


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """A line as it was understood.

    `amounts` are added up (one pound two ounces is two of them); `others` are the same said in another measure.
    `item` is in small letters; `note` holds what is said besides; `purpose` what a line without a fixed amount is
    for (`the tin`); `aside` says that it stands outside the dough (`1 egg, for the wash`). `doubts` are clauses; a
    line with any is asked about.
    """

    item: str
    amounts: tuple[Amount, ...] = ()
    others: tuple[Amount, ...] = ()
    note: str = ""
    purpose: str = ""
    aside: bool = False
    optional: bool = False
    doubts: tuple[str, ...] = ()


BULLET = re.compile(r"^\s*(?:[*•·▪◦‣☐□○]|-(?=\s)|\d+[.)]\s+(?=\d))\s*")


def hear(line: str) -> tuple[Heard, ...]:
    """What one line says: one ingredient, or two where one is dissolved in the other; () for an empty line.

    >>> [(one.item, str(one.amounts[0].high), one.amounts[0].name) for one in hear("1 1/2 cups lukewarm water")]
    [('lukewarm water', '1.5', 'cup')]
    """
    text = BULLET.sub("", evened_line(line)).strip(" .;")
    if not text:
        return ()
    label = OUTSIDE_LABEL.match(text)
    if label is not None and label["rest"].strip():
        use = label["use"].strip().lower()
        return tuple(
            replace(one, aside=True, note=", ".join(filter(None, (use, one.note)))) for one in hear(label["rest"])
        )
    inside = IN_LIQUID.match(text)
    if inside is not None and number_at(inside["second"]) is not None and inside["first"].strip():
        return (*_heard(inside["first"].strip(" ,")), *_heard(inside["second"].strip()))
    return _heard(text)


def _heard(text: str) -> tuple[Heard, ...]:
    text, optional = OPTIONAL.sub("", text), bool(OPTIONAL.search(text))
    text = eggs_counted(text)
    text, more = _cut_more(text)
    vague = ("about how much",) if NOT_EXACT.match(text) else ()
    text = ALLOW.sub("", text)
    found = (None if SIZE.match(text) else _amount_first(text)) or _amount_last(text) or _no_amount(text)
    found = _set_aside(found)
    found = replace(found, optional=optional, doubts=(*found.doubts, *vague, *_left_over(found)))
    if more is None:
        return (found,)
    return found, Heard(item=found.item, purpose=more or "what more is needed", note="more")


def _set_aside(found: Heard) -> Heard:
    """What an amount is for, where that is not the dough, as a note."""
    if found.purpose:
        return found
    item, note = ASIDE.search(found.item), ASIDE.search(found.note)
    if item is not None and item.start():
        use = ", ".join(filter(None, (item["use"], found.note)))
        return replace(found, item=found.item[: item.start()].strip(" ,"), note=use, aside=True)
    return replace(found, aside=True) if note is not None and found.amounts else found


def _cut_more(text: str) -> tuple[str, str | None]:
    """The line without `plus more for dusting`, and what the more is for; None where there is no more."""
    found = MORE.search(text)
    if found is None or not has_amount(text[: found.start()]):
        return text, None
    return text[: found.start()].rstrip(" ,;("), (found["purpose"] or found["some"] or "").strip()


_IN_PACKETS = re.compile(
    r"^(?:packets?|packages?|envelopes?|sachets?|pkgs?\.?|tins?|cans?|jars?)\s+(?:of\s+)?", re.IGNORECASE
)


def _amount_first(text: str) -> Heard | None:
    """`500 g flour`, `1 lb 2 oz flour`, `2 cups (250 g) flour, sifted`."""
    found = amount_at(text)
    if found is None:
        return None
    rest = re.sub(r"^(?:of(?:\s+(?:the|a|an))?(?![a-z])|[,:-])\s*", "", text[found.end :].strip(), flags=re.IGNORECASE)
    if found.amounts[-1].unit is not None and found.amounts[-1].unit.grams is not None:
        rest = _IN_PACKETS.sub("", rest)
    item, note, others, doubts = _parted(rest)
    if not item:
        return None
    return Heard(
        item=item,
        amounts=found.amounts,
        others=(*found.others, *others),
        note=note,
        doubts=(*found.doubts, *doubts),
    )


_LAST = re.compile(r"(?:[\s,:=(-]|\.{2,})+(?=\S)")


def _amount_last(text: str) -> Heard | None:
    """`flour 500 g`, `Flour, 2 lbs.`, `butter: 50 g, soft`, `eggs, 3`."""
    for gap in _LAST.finditer(text):
        found = amount_at(text, gap.end())
        head = text[: gap.start()].strip(" ,:=(-")
        if found is None or not head or text[gap.end()].isalpha():
            continue
        rest = text[found.end :].strip()
        if rest and rest[0] not in ",;()-":
            return None
        item, note, others, doubts = _parted(head)
        behind = rest.strip(" ,;()-")
        return Heard(
            item=item,
            amounts=found.amounts,
            others=(*found.others, *others),
            note=", ".join(filter(None, (note, behind))),
            doubts=(*found.doubts, *doubts),
        )
    return None


def _no_amount(text: str) -> Heard:
    """`salt`, `flour for dusting`, `butter to grease the tin`, `salt to taste`."""
    if (size := SIZE.match(text)) is not None:
        return Heard(item=size["item"].strip().lower(), note=size["size"], doubts=(f"how much is {size['size']}",))
    purpose = PURPOSE.search(text)
    if purpose is not None and "tast" not in purpose["purpose"].lower():
        item, note, _, doubts = _parted(TASTE.sub("", text[: purpose.start()]).strip(" ,"))
        return Heard(item=item, purpose=purpose["purpose"].strip(), note=note, doubts=doubts)
    taste = TASTE.search(text)
    item, note, _, doubts = _parted(text[: taste.start()] if taste is not None else text)
    said = "to taste" if taste is not None else ""
    return Heard(item=item, note=", ".join(filter(None, (note, said))), doubts=(*doubts, "how much"))


_PAREN = re.compile(r"\s*[(\[]([^()\[\]]*)[)\]]?\s*")


def _parted(rest: str) -> tuple[str, str, tuple[Amount, ...], tuple[str, ...]]:
    """The item, the note, other measures in brackets, doubts."""
    others: list[Amount] = []
    notes: list[str] = []
    doubts: list[str] = []

    def bracket(found: re.Match[str]) -> str:
        inner = re.sub(r"^(?:about|or|approx\.?|approximately|=|ca\.?)\s*", "", found[1].strip(), flags=re.IGNORECASE)
        same = amount_at(inner)
        if same is not None and not inner[same.end :].strip(" .,") and not HARMLESS.fullmatch(inner):
            others.extend((*same.amounts, *same.others))
            doubts.extend(same.doubts)
        elif inner:
            notes.append(inner)
        return " "

    bare = " ".join(_PAREN.sub(bracket, rest).split())
    done = DONE_BEHIND.fullmatch(bare)
    head, parted, tail = _split_note(bare) if done is None else (done["item"], " ", done["note"])
    if parted:
        notes.insert(0, tail)
    return (
        head.strip(" .,:;-").lower(),
        ", ".join(note.strip(" .,") for note in notes if note.strip(" .,")),
        (*others,),
        (*doubts,),
    )


def _split_note(text: str) -> tuple[str, str, str]:
    """Parted at the first comma or semicolon, or at a dash that stands alone."""
    found = re.search(r"[,;]\s+|\s-+\s", text)
    return (text, "", "") if found is None else (text[: found.start()], found[0], text[found.end() :])


def _left_over(found: Heard) -> Iterator[str]:
    """What stands in the item or its note and was not understood."""
    item = HARMLESS.sub(" ", found.item)
    if re.search(r"\d", item):
        yield f"the figures in {found.item}"
    if re.search(r"\bor\b|\band\b|&|/|\beither\b|\bwith\b|\beach\b|\bequal\b|\+", found.item):
        yield f"{found.item}: which of them, and how much of each"
    if not found.item:
        yield "what it is"
    if _two_alphabets(found.item):
        yield f"{found.item} {TWO_ALPHABETS}"
    if (
        has_amount(HARMLESS.sub(" ", found.note))
        or _OTHER_CHOICE.search(found.note)
        or re.match(r"(?:or|and|plus|less|minus)\b", found.note, re.IGNORECASE)
    ):
        yield f"what is said beside it: {found.note}"


# `milk, water, or a mixture`, but not `sliced or chopped`.
_OTHER_CHOICE = re.compile(r"\bor\b(?!\s+(?:\w+ed|more|so|less|until)\b)", re.IGNORECASE)


def _two_alphabets(text: str) -> bool:
    """True where a word holds letters of two alphabets, which an eye cannot tell apart."""
    import unicodedata

    for word in re.findall(r"[^\W\d_]+", text):
        if len({unicodedata.name(letter, "?").split()[0] for letter in word}) > 1:
            return True
    return False
