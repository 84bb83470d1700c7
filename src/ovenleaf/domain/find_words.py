"""What is looked for among the bakes, read from a few words: `gummy, dough above 26C, since October`.

A small grammar of clauses; a comma or `and` between two means both. Each is a figure with its bounds, a stretch of
days, words in a named place, a state, something that was not recorded, or words anywhere. Nothing is evaluated.
The day it is comes as an argument; what a book has measured is not known here.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Field, Heat, show
from ovenleaf.domain.durations import FIGURE, Duration, figure
from ovenleaf.domain.figures import mark_as_given
from ovenleaf.domain.find_days import days
from ovenleaf.domain.finding import Asked, Baked, Bounds, Figure, FindFault, NotRecorded, Standing, Words
from ovenleaf.domain.numbers import NumberFault
from ovenleaf.domain.quantity import GRAMS_PER, Amount, AmountFault, Unit, amount
from ovenleaf.domain.trial import State

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal

MARKS = ("crumb", "crust", "flavour", "score")
STATES = (*(str(state) for state in State), "left out", "not scored", "told late", "with pictures")
PLACES = ("formula", "revision", "flour", "fault", "note", "question", "oven", "baker", "by", "taster", "trial", "log")
_SAME_STATE = {"interrupted": "cut short", "abandoned": "given up", "late": "told late", "unscored": "not scored"}
_ABOVE = ("above", "over", "more than", "warmer than", "hotter than", "longer than", "heavier than", ">")
_BELOW = ("below", "under", "less than", "cooler than", "colder than", "shorter than", "lighter than", "<")
_LEAST = ("at least", "from", ">=", "≥", "no less than")
_MOST = ("at most", "up to", "<=", "≤", "no more than")
_BETWEEN = ("between",)
_OPS = {
    word: name for name, words in zip("abcde", (_ABOVE, _BELOW, _LEAST, _MOST, _BETWEEN), strict=True) for word in words
}
_OP = "|".join(re.escape(word) for word in sorted(_OPS, key=len, reverse=True))
_FIGURE = re.compile(
    rf"(?P<name>[^\d<>=≤≥]*?[^\W\d_][^\d<>=≤≥]*?)\s*(?:\b(?:is|was|of)\s+)?(?P<op>(?<!\w)(?:{_OP})(?!\w)|[<>]=?|[≤≥])\s*(?P<rest>.+)"
)
_EXACTLY = re.compile(rf"(?P<name>[^\W\d_][^\d]*?)\s*(?:=|\bis\b|\bwas\b|\bof\b)?\s*(?P<rest>-?{FIGURE}.*)")
_TWO = re.compile(r"(?P<low>.+?)\s+(?:and|to)\s+(?P<high>.+)")
_UNIT_BEHIND = re.compile(r"[%°ºA-Za-z].*$")
_MISSING = re.compile(
    r"(?:not recorded|missing|unrecorded):?\s+(?P<ahead>.+)|(?P<behind>.+?)\s+(?:is |was )?(?:not recorded|missing)"
)
_ABSENT = re.compile(r"(?:not|no|without)\s+(?P<words>.+)")
_PLACE = re.compile(rf"(?P<place>{'|'.join(PLACES)})s?:?\s+(?P<words>\S.*)")
_HALF = re.compile(r".+\s(?P<op>above|below|between|at (?:least|most)|\w+ than|[<>]=?|[≤≥])")
_FIGURES = "write it as in dough above 26 C, crumb below 6, bulk above 60 min"
_AND = re.compile(r"\s+and\s+")


def looked_for(text: str, today: date) -> tuple[Asked, ...]:
    """What a line asks for, all of which a bake has to fit. Raises FindFault.

    >>> from datetime import date
    >>> [asked.said for asked in looked_for("gummy, dough above 26C, since October", date(2026, 11, 25))]
    ['the word gummy', 'dough above 26 °C', 'baked since 1 October 2026']
    """
    found = [_asked(" ".join(clause.split()), today) for clause in _clauses(text)]
    if not found:
        raise FindFault(text, "nothing is asked for", "say it as in gummy, dough above 26C, since October")
    return tuple(found)


def _clauses(text: str) -> tuple[str, ...]:
    """The clauses of a line; the `and` of `between 24 and 26 C` parts none."""
    parts: list[str] = []
    for clause in benchline.clauses(text):
        pieces = [piece for piece in _AND.split(clause) if piece.strip()]
        while pieces:
            piece = pieces.pop(0)
            if re.search(r"(?i)\bbetween\b", piece) and pieces:
                piece = f"{piece} and {pieces.pop(0)}"
            parts.append(piece)
    return tuple(parts)


def _asked(clause: str, today: date) -> Asked:
    low = clause.lower()
    if (when := days(low, today)) is not None:
        return Baked(days=when, said=when.said)
    if (state := _SAME_STATE.get(low, low)) in STATES:
        return Standing(state=state)
    if missing := _MISSING.fullmatch(low):
        return NotRecorded(name=missing["ahead"] or missing["behind"])
    for read in (_bounded, _exact, _placed):
        if (found := read(clause)) is not None:
            return found
    if absent := _ABSENT.fullmatch(low):
        return Words(text=absent["words"], absent=True)
    _refuse_half_said(clause, low)
    return Words(text=clause)


def _refuse_half_said(clause: str, low: str) -> None:
    """Raise FindFault for a clause that begins like one of ours and says too little."""
    if re.match(r"(?:since|before|until)\b", low):
        raise FindFault(clause, f"{low.partition(' ')[2] or 'this'} is no day", "write it as in since 1 October")
    if half := _HALF.fullmatch(low):
        raise FindFault(clause, f"{half['op']} how much", _FIGURES)
    if low in PLACES:
        raise FindFault(clause, f"{clause} of what", f"write it as in {low} {_EXAMPLES.get(low, 'tomas')}")


_EXAMPLES = {
    "formula": "market-roll",
    "fault": "too pale",
    "flour": "Mill Lane",
    "revision": "r3",
    "oven": "stall",
    "note": "apples",
}


def _placed(clause: str) -> Words | None:
    found = _PLACE.fullmatch(clause.lower())
    if not found:
        return None
    words = clause[found.start("words") :]
    return Words(text=words, place={"baker": "by"}.get(found["place"], found["place"]))


# --- figures ----------------------------------------------------------------------------------


def _bounded(clause: str) -> Figure | None:
    low = clause.lower()
    found = _FIGURE.fullmatch(low)
    if not found:
        return None
    name, op, rest = found["name"].strip(" ,:"), _OPS[found["op"]], clause[found.start("rest") :]
    if op == "e":
        return _between(clause, name, rest)
    value, kind, said = _value(clause, rest)
    word = {"a": "above", "b": "below", "c": "at least", "d": "at most"}[op]
    bounds = Bounds(
        kind=kind, low=value if op in "ac" else None, high=value if op in "bd" else None, strictly=op in "ab"
    )
    return Figure(name=name, bounds=bounds, said=f"{name} {word} {said}")


def _between(clause: str, name: str, rest: str) -> Figure:
    two = _TWO.fullmatch(rest)
    if not two:
        raise FindFault(clause, "between wants two figures", f"write it as in {name} between 24 and 26 C")
    unit = _UNIT_BEHIND.search(two["high"])
    low_text = two["low"] if _UNIT_BEHIND.search(two["low"]) or not unit else f"{two['low']} {unit[0]}"
    (low, kind, low_said), (high, other, high_said) = _value(clause, low_text), _value(clause, two["high"])
    if kind != other or low > high:
        raise FindFault(clause, f"{low_said} to {high_said} is no span", "write the lower figure first, with one unit")
    return Figure(
        name=name, bounds=Bounds(kind=kind, low=low, high=high), said=f"{name} between {low_said} and {high_said}"
    )


def _exact(clause: str) -> Figure | None:
    """`crumb 7`, `dough 26 C`, `oven 220 to 240 C`: a figure just so, or two; only of a mark, or with a unit."""
    found = _EXACTLY.fullmatch(clause)
    if not found or (
        _PLACE.match(clause.lower())
        and found["name"].lower().split()[0] in ("lot", "note", "fault", "question", "revision")
    ):
        return None
    name = found["name"].strip(" ,:").lower()
    try:
        made = _between(clause, name, found["rest"]) if _TWO.fullmatch(found["rest"]) else _just(clause, name, found)
    except FindFault:
        return None
    return None if made.bounds.kind == "plain" and name not in (*MARKS, "pieces", "ph") else made


def _just(clause: str, name: str, found: re.Match[str]) -> Figure:
    value, kind, said = _value(clause, found["rest"])
    return Figure(name=name, bounds=Bounds(kind=kind, low=value, high=value), said=f"{name} {said}")


def _value(clause: str, text: str) -> tuple[Decimal, str, str]:
    """A figure in the unit it is compared in, what it is of, and how it is said. Raises FindFault."""
    text = text.strip()
    try:
        return figure(text), "plain", mark_as_given(figure(text))
    except NumberFault:
        pass
    line = benchline.read(text)
    heat, time = line.get("temperature"), line.get("time")
    if isinstance(heat, Heat) and len(heat.temperatures) == 1 and not line.words:
        return heat.temperatures[0].celsius, "heat", show(Field(name="temperature", value=heat))
    if isinstance(time, Duration) and time.low == time.high and not line.words:
        return time.low, "time", str(time)
    try:
        read = amount(text)
    except AmountFault as fault:
        raise FindFault(clause, f"{text} is no figure", _how(clause, fault)) from None
    return _measured(clause, read)


def _measured(clause: str, read: Amount) -> tuple[Decimal, str, str]:
    if read.unit is Unit.SHARE:
        return read.value, "share", f"{mark_as_given(read.value)} %"
    if read.unit in GRAMS_PER:
        return read.value * GRAMS_PER[read.unit], "mass", str(read)
    raise FindFault(clause, f"{read} cannot be compared", "write a weight, as in 884 g")


def _how(clause: str, fault: AmountFault) -> str:
    if fault.kind == "unknown unit":
        return "write it with one of C, F, min, h, %, g, kg, oz, lb"
    return _FIGURES
