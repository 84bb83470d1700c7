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

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["Amount", "Heard", "hear"]


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
_ALLOW = re.compile(r"^(?:to every|to each|for every|take|allow|about|approximately|approx\.?|around|ca\.?|nearly|"
                    r"almost|roughly|up to|at least|some|circa)\s+(?=\S)", re.IGNORECASE)  # fmt: skip
_NOT_EXACT = re.compile(r"^(?:nearly|almost|up to|at least|some)\s", re.IGNORECASE)
_OPTIONAL = re.compile(r"[,(]?\s*\b(?:optional|if desired|if liked|if you like|when liked)\b\s*\)?", re.IGNORECASE)
_MORE = re.compile(
    r"[,;(]?\s*(?:\b(?:plus|and|with)\s+)?\b(?:more|extra|a little more|some more|a bit more|additional)\b"
    r"(?:\s+[a-z]+)?\s+(?:for|to|as|if)\b\s*(?P<purpose>[^)]*)\)?\s*$"
    r"|[,;(]?\s*\bplus\b\s+(?:more|extra|some)\s*\)?\s*$"
    r"|[,;(]?\s*\b(?:plus|and)\s+(?:some|a little)\s+(?:for|to)\b\s*(?P<some>[^)]*)\)?\s*$",
    re.IGNORECASE,
)
_PURPOSE = re.compile(
    r"[,;(]?\s*\b(?:for|to)\s+(?P<purpose>(?:the\s+)?(?:dust\w*|greas\w*|oil\w*|brush\w*|sprinkl\w*|tins?|pans?|bowl|board|"
    r"work ?(?:surface|top)|bench|shap\w*|roll\w*|top\w*|glaz\w*|wash|knead\w*|finish\w*|serv\w*|decorat\w*|fry\w*|"
    r"tast\w*|coat\w*|butter\w*|flour\w*)\b[^)]*)\)?\s*$",
    re.IGNORECASE,
)
_TASTE = re.compile(
    r"[,(]?\s*\b(?:to taste|as needed|as required|as much as|q\.?s\.?|enough|sufficient)\b.*$", re.IGNORECASE
)
_IN_LIQUID = re.compile(
    r"^(?P<first>.*?),?\s*\(?\b(?:dissolved|mixed|soaked|softened|stirred|moistened|blended)\s+(?:in|with|into)\s+"
    r"(?P<second>.+?)\)?$",
    re.IGNORECASE,
)
_ALTERNATIVE = re.compile(r"(?<![a-z])(?:or|and|&|\+|plus|less|minus|with)(?![a-z])", re.IGNORECASE)
# Figures that are no amounts: heats, lengths, times, hydrations, what something is cut into, and types of flour.
_HARMLESS = re.compile(
    r"\d+(?:[.,]\d+)?\s*(?:to|-)?\s*\d*\s*(?:°|º|degrees?)\s*[CF]?\b|\b\d{2,3}\s*(?:C|F|celsius|fahrenheit)\b"
    r"|\d+(?:\s*/\s*\d+)?\s*-?\s*(?:inch\w*|in\.|\"|cm|mm)|\d+\s*(?:-|to)?\s*\d*\s*(?:min\w*|hours?|h|seconds?|days?)\b"
    r"|\b(?:in|into)\s+\d+\b|\d+\s*%(?:\s*(?:hydration|fat|protein|milk ?fat))?|\b(?:type|tipo|no\.?|number|t)\s*\d+"
    r"|\b(?:405|550|630|812|997|1050|1150|00|T55|T65|T80|W700|R960)\b",
    re.IGNORECASE,
)


# `the yolks of 2 eggs`, `whites of three eggs`, `4 yolks of eggs`
_YOLKS = re.compile(
    r"^(?:the\s+)?(?:(?P<first>[a-z]+|\d+)\s+)?(?P<part>yolk|white)s?\s+of\s+(?:the\s+)?(?:(?P<count>[a-z]+|\d+)\s+)?eggs?(?![a-z])",
    re.IGNORECASE,
)


def hear(line: str) -> tuple[Heard, ...]:
    """What one line says: one ingredient, or two where one is dissolved in the other; () for an empty line.

    >>> [(one.item, str(one.amounts[0].high), one.amounts[0].name) for one in hear("1 1/2 cups lukewarm water")]
    [('lukewarm water', '1.5', 'cup')]
    """
    text = BULLET.sub("", evened_line(line)).strip(" .;")
    if not text:
        return ()
    inside = _IN_LIQUID.match(text)
    if inside is not None and number_at(inside["second"]) is not None and inside["first"].strip():
        return (*_heard(inside["first"].strip(" ,")), *_heard(inside["second"].strip()))
    return _heard(text)


def _heard(text: str) -> tuple[Heard, ...]:
    text, optional = _OPTIONAL.sub("", text), bool(_OPTIONAL.search(text))
    text = _YOLKS.sub(_yolks, text)
    text, more = _cut_more(text)
    vague = ("about how much",) if _NOT_EXACT.match(text) else ()
    text = _ALLOW.sub("", text)
    found = _amount_first(text) or _amount_last(text) or _no_amount(text)
    found = _set_aside(found)
    found = replace(found, optional=optional, doubts=(*found.doubts, *vague, *_left_over(found)))
    if more is None:
        return (found,)
    return found, Heard(item=found.item, purpose=more or "what more is needed", note="more")


# What an amount of its own is for, and never becomes dough: `1 egg, for the wash`, `1 tbsp sesame seed, on top`.
_ASIDE = re.compile(
    r"[,\s]*\b(?P<use>(?:for|to)\s+(?:the\s+|a\s+)?(?:egg\s?wash|wash|glaz\w*|brush\w*|top(?:ping|s|ped)?\b|sprinkl\w*|"
    r"dust\w*|greas\w*|oil(?:ing)?\b|tins?|pans?|coat\w*|decorat\w*|finish\w*|garnish\w*|fry\w*|serv\w*|strew\w*|"
    r"scatter\w*)\b.*|on (?:the )?top\b.*|over the top\b.*)$",
    re.IGNORECASE,
)


def _set_aside(found: Heard) -> Heard:
    """What an amount is for, where that is not the dough, as a note."""
    if found.purpose:
        return found
    item, note = _ASIDE.search(found.item), _ASIDE.search(found.note)
    if item is not None and item.start():
        use = ", ".join(filter(None, (item["use"], found.note)))
        return replace(found, item=found.item[: item.start()].strip(" ,"), note=use, aside=True)
    return replace(found, aside=True) if note is not None and found.amounts else found


def _yolks(found: re.Match[str]) -> str:
    count = found["count"] or found["first"]
    return f"{count or ''} egg {found['part'].lower()}{'' if count in ('1', 'one', 'an') else 's'}".strip()


def _cut_more(text: str) -> tuple[str, str | None]:
    """The line without `plus more for dusting`, and what the more is for; None where there is no more."""
    found = _MORE.search(text)
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
    purpose = _PURPOSE.search(text)
    if purpose is not None and "tast" not in purpose["purpose"].lower():
        item, note, _, doubts = _parted(_TASTE.sub("", text[: purpose.start()]).strip(" ,"))
        return Heard(item=item, purpose=purpose["purpose"].strip(), note=note, doubts=doubts)
    taste = _TASTE.search(text)
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
        if same is not None and not inner[same.end :].strip(" .,") and not _HARMLESS.fullmatch(inner):
            others.extend((*same.amounts, *same.others))
            doubts.extend(same.doubts)
        elif inner:
            notes.append(inner)
        return " "

    bare = " ".join(_PAREN.sub(bracket, rest).split())
    head, parted, tail = _split_note(bare)
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
    item = _HARMLESS.sub(" ", found.item)
    if re.search(r"\d", item):
        yield f"the figures in {found.item}"
    if re.search(r"\bor\b|\band\b|&|/|\beither\b|\bwith\b|\beach\b|\bequal\b|\+", found.item):
        yield f"{found.item}: which of them, and how much of each"
    if not found.item:
        yield "what it is"
    if _two_alphabets(found.item):
        yield f"{found.item} mixes letters of two alphabets"
    if (
        has_amount(_HARMLESS.sub(" ", found.note))
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
