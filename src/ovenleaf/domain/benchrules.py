"""How each thing on a bench line is written: one table of patterns, each with what it makes of a match.

The patterns see one clause in lower case with single spaces, and match where a word begins. What a
rule cannot read without guessing stays words. Knows nothing of clauses and of what stands around a match.
"""

from __future__ import annotations

import re

from ovenleaf.domain.benchheat import HEAT_RULES
from ovenleaf.domain.benchparts import (
    ABOUT,
    FIGURE_ONLY,
    KEPT,
    MASS,
    NEXT_WORD,
    SIGN,
    Reading,
    Rule,
    bare,
    compiled,
    mass,
    one,
    unclear,
    unclear_doubt,
)
from ovenleaf.domain.benchvalues import SINGULAR, Added, Field, Pieces
from ovenleaf.domain.durations import FIGURE, LENGTH, TO, figure, length
from ovenleaf.domain.numbers import number
from ovenleaf.domain.quantity import UNIT, UNIT_WORDS, Amount, Unit

# Words that turn a figure into a moment, a bound or a comparison: not what this step took.
_MOMENT = "at|after|every|each|first|last|next|within|another|in|before|past"
_BOUND = (
    "instead of|rather than|not|no more than|planned|over|under|above|below|more than|less than"
    "|at least|at most|up to|nearly|almost|max"
)
_COMPARED = "longer|shorter|more|less|later|late|earlier|early|left|old|to go|apart|before|after"
_TIMES = r"(?:[x×*+]|times\b|and\b)"
_ANY = rf"{SIGN}?{FIGURE}(?: ?{TO} ?{FIGURE})? ?(?:[°º] ?)?(?:%|[^\W\d_]+)?"
_PERCENT = r"(?:%|percent\b|per cent\b)"


def _keep(found: re.Match[str], text: str) -> Reading:
    return KEPT


def _until(found: re.Match[str], text: str) -> Reading:
    return one("until", text[found.start("sign") : found.end("sign")].strip())


def _time(found: re.Match[str], text: str) -> Reading:
    time = length(found)
    behind = (found["behind"] or "").strip()
    if time is None or found["kept"] or (behind and behind != "ago"):
        return KEPT
    return one("ago" if behind else "time", time)


def _clock(found: re.Match[str], text: str) -> Reading:
    hour, half = int(found["hour"]), found["half"]
    if half:
        if not 1 <= hour <= 12:
            return KEPT
        hour = hour % 12 + (12 if half == "p" else 0)
    return one("clock", f"{hour:02}:{int(found['minute']):02}") if hour < 24 else KEPT


def _ph(found: re.Match[str], text: str) -> Reading:
    value = number(found["figure"])
    return one("ph", value) if value <= 14 and bare(found) else KEPT


def _score(found: re.Match[str], text: str) -> Reading | None:
    if not bare(found):
        return None  # `crumb 98 C`
    fields = [Field(name=found["name"], value=figure(found["figure"]))]
    if found["of"]:
        fields.append(Field(name="out of", value=number(found["of"])))
    return Reading(fields=tuple(fields))


# `bulk end 60%` tells of the rise; a percentage beside any other word is not taken for one.
_RISING = frozenset(["bulk", "proof", "final", "end", "ended", "done", "over", "finished", "stop", "stopped", "at"])


def _rise(found: re.Match[str], text: str) -> Reading:
    rise = Field(name="rise", value=Amount(figure(found["figure"]), Unit.SHARE))
    if found["before"] or found["behind"]:
        return Reading(fields=(rise,))
    return Reading(fields=(rise,), beside=_RISING, alone=False)


_NOT_OF_ITEM = (
    "at|in|for|after|before|during|to|because|and|then|since|until|so|as|by|on|into|with|when|now|too|felt|it|was|still"
    "|held|kept|went|back"
)
_ITEM = rf"(?P<item>[^\W\d_][\w'’-]*(?: (?!(?:{_NOT_OF_ITEM})\b)[^\W\d_][\w'’-]*){{0,3}})"
_SO_MUCH = rf"(?P<amount>{FIGURE})\s?(?P<unit>{UNIT}) (?:(?P<more>more|extra|less|fewer) )?(?:of )?{_ITEM}"
_FURTHER = rf" and {_SO_MUCH}"
_BACK = "(?:held|holding|kept|keeping)"


_THEN_BACK = rf" (?:was |were |is )?{_BACK} back\b"


def _held_back(found: re.Match[str], text: str) -> Reading:
    """`40 g water held back`, `water 40 g kept back`: the same as `held back 40 g water`."""
    unit = UNIT_WORDS[found["unit"]]
    if unclear(found["amount"], unit):
        return unclear_doubt(found["amount"], unit)
    value = Added(amount=Amount(figure(found["amount"]), unit), item=found["item"], less=True)
    return one("added", value)


def _added(found: re.Match[str], text: str) -> Reading | None:
    """`+6 g water and 2 g salt`; only the first needs the sign or the word."""
    sign = found["sign"] or ""
    less = sign in ("-", "−", "minus ") or sign.endswith("back ") or found["more"] in ("less", "fewer")
    if not found["sign"] and not found["more"]:
        return None
    fields: list[Field] = []
    following: re.Match[str] | None = found
    end = found.end()
    while following:
        unit = UNIT_WORDS[following["unit"]]
        if unclear(following["amount"], unit):
            return unclear_doubt(following["amount"], unit)
        value = Added(amount=Amount(figure(following["amount"]), unit), item=following["item"], less=less)
        fields.append(Field(name="added", value=value))
        end = following.end()
        following = compiled(_FURTHER).match(found.string, end, found.endpos)
    return Reading(fields=tuple(fields), end=end)


_NOUNS = {name: name for name in SINGULAR} | {singular: plural for plural, singular in SINGULAR.items()}
_NOUNS |= {"pc": "pieces", "pcs": "pieces"}
_NOUN = rf"(?: (?P<noun>{'|'.join(_NOUNS)})\b)"
_OF_EACH = rf"(?P<of> ?(?:of|at|x|×|@)\b| ?[x×@])? ?{ABOUT}{MASS}(?P<each> ?(?:each|apiece|a piece|per piece)\b)?"


def _pieces(found: re.Match[str], text: str) -> Reading | None:
    """`12 rolls`, `12 rolls of 85 g`, `12 x 85 g`, `2 of 885 g`."""
    count, noun = int(number(found["count"])), found["noun"]
    weighed = compiled(_OF_EACH).match(found.string, found.end(), found.endpos)
    if not weighed or not (weighed["of"] or (noun and weighed["each"])):
        return one("pieces", Pieces(count=count, noun=_NOUNS[noun])) if noun else None
    value = mass(weighed)
    if value is None:
        return _no_mass(weighed)
    pieces = Pieces(count=count, noun=_NOUNS[noun or "pieces"], each=True)
    fields = Field(name="pieces", value=pieces), Field(name="weight", value=value)
    return Reading(fields=fields, end=weighed.end())


def _no_mass(found: re.Match[str]) -> Reading:
    unit = UNIT_WORDS[found["mass_unit"]]
    told = unclear_doubt(found["mass"], unit) if unclear(found["mass"], unit) else KEPT
    return Reading(doubts=told.doubts, end=found.end())


# A weight beside any other word may be that of an ingredient (`water 396 g`), and stays words.
_SMALL = ("at", "to", "about", "of", "and", "in", "all", "each", "apiece", "a", "an", "the", "per", "is", "was", "for")
_WEIGHED = ("weight", "weigh", "weighs", "weighed", "weighing", "scale", "scaled", "divide", "divided", "total", "out")
_STATE = ("cold", "cool", "cooled", "hot", "warm", "raw", "baked")
_WEIGHING = frozenset((*_SMALL, *_WEIGHED, *_STATE, "dough", "one", *SINGULAR.values(), "pieces"))


def _weight(found: re.Match[str], text: str) -> Reading:
    value = mass(found)
    if value is None:
        return _no_mass(found)
    return Reading(fields=(Field(name="weight", value=value),), beside=_WEIGHING)


def _folds(found: re.Match[str], text: str) -> Reading:
    return one("folds", number(found["figure"]))


def _lot(found: re.Match[str], text: str) -> Reading | None:
    if re.search(r"\ba $", found.string[: found.start()]):
        return None  # `a lot`
    return one("lot", text[found.start("lot") : found.end("lot")].rstrip(".)"))


_NTH = {"1st": "first", "2nd": "second", "3rd": "third"}


def _speed(found: re.Match[str], text: str) -> Reading:
    if found["figure"]:
        return one("speed", f"speed {found['figure']}") if bare(found) else KEPT
    return one("speed", found["word"] or f"{_NTH.get(found['nth'], found['nth'])} speed")


# The first rule that makes something of a place wins; so a longer way of writing stands before a shorter.
RULES = (
    Rule(pattern=r"until (?P<sign>\S.*)", make=_until),
    Rule(
        pattern=rf"{ABOUT}(?P<amount>{FIGURE})\s?(?P<unit>{UNIT}) (?:of )?(?:the )?{_ITEM}{_THEN_BACK}", make=_held_back
    ),
    Rule(pattern=rf"{_ITEM}:? (?P<amount>{FIGURE})\s?(?P<unit>{UNIT}){_THEN_BACK}", make=_held_back),
    Rule(
        pattern=rf"(?P<sign>\+ ?|[-−]|plus |minus |(?:added|adding|add) (?:another )?|{_BACK} back )?{ABOUT}{_SO_MUCH}",
        make=_added,
    ),
    Rule(
        pattern=rf"(?:(?P<kept>(?:{_MOMENT}|{_BOUND}) |{FIGURE} ?{_TIMES} ?)|(?:for|time|took)\b[:=]? ?)?"
        rf"{ABOUT}{LENGTH}(?P<behind> ago\b| (?:{_COMPARED})\b| ?[x×*+] ?\d\S*)?",
        make=_time,
    ),
    Rule(pattern=rf"(?:{_BOUND}) {ABOUT}{_ANY}", make=_keep),
    Rule(pattern=rf"(?P<count>\d+)(?:{_NOUN}|(?= ?(?:of\b|[x×])))", make=_pieces),
    Rule(pattern=rf"{FIGURE} ?{_TIMES} ?{_ANY}", make=_keep),
    Rule(
        pattern=r"(?:at |@ ?)?(?P<hour>\d{1,2}):(?P<minute>[0-5]\d)(?: ?(?P<half>[ap])\.?m\b\.?)?(?![\w:]|[.,]\d| h\b)",
        make=_clock,
    ),
    *HEAT_RULES,
    Rule(pattern=rf"ph(?: ?(?:[:=]|of\b|is\b|was\b))? ?{ABOUT}(?P<figure>{FIGURE_ONLY}){NEXT_WORD}", make=_ph),
    Rule(pattern=rf"(?P<figure>{FIGURE_ONLY}) ?(?P<next>)ph\b(?! ?\d)", make=_ph),
    Rule(
        pattern=r"(?P<name>crumb|crust)(?: ?(?:[:=]|is\b|was\b|scored?\b))? ?"
        rf"(?P<figure>\d+ ?½|\d+ 1/2|{FIGURE_ONLY})(?: ?(?:/|of\b|out of\b) ?(?P<of>{FIGURE_ONLY}))?{NEXT_WORD}",
        make=_score,
    ),
    Rule(
        pattern=rf"(?P<before>(?:rise|risen|rose)\b(?: ?(?:[:=]|by\b|of\b|is\b|was\b))? ?)?"
        rf"{ABOUT}(?P<figure>{FIGURE}) ?{_PERCENT}(?P<behind> (?:rise|risen)\b)?",
        make=_rise,
    ),
    Rule(pattern=r"(?P<figure>\d+) folds?\b", make=_folds),
    Rule(pattern=r"lot\b ?(?:no\.?|nr\.?|number|[#:])? ?(?P<lot>[^\s;]*\d[^\s;]*)", make=_lot),
    Rule(
        pattern=rf"(?:(?:on|at|in) )?(?:speed ?(?P<figure>\d{{1,2}}){NEXT_WORD}"
        r"|(?P<nth>first|second|third|1st|2nd|3rd) speed\b|(?P<word>low|medium|high) speed\b)",
        make=_speed,
    ),
    Rule(pattern=rf"{ABOUT}{MASS}", make=_weight),
    Rule(pattern=rf"{SIGN}?{FIGURE}(?: ?{TO} ?{FIGURE})*\S*", make=_keep),
)
