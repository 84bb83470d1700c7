"""Chances, gaps and the calls made of them, in words. A chance never stands without the doughs behind it."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.figures import mark
from ovenleaf.domain.numbers import rounded
from ovenleaf.evidence.gaps import MOST_MORE
from ovenleaf.evidence.verdicts import LEANS, Call
from ovenleaf.present.screen import count, join_words, number_word

if TYPE_CHECKING:
    from ovenleaf.evidence.gaps import Gap
    from ovenleaf.evidence.scatter import Scatter
    from ovenleaf.evidence.standing import Blindness
    from ovenleaf.evidence.tasters import Leaning

_ENDS = ((0.025, "under 1 in 40"), (0.05, "under 1 in 20"))
_TOPS = ((0.975, "over 39 in 40"), (0.95, "over 19 in 20"))
_TELLING = Decimal("0.25")  # a leaning smaller than that is not worth a sentence


def chance_words(chance: float | Decimal) -> str:
    """A chance as bakers say it, to one in ten; what is too little to lean never sounds like what is enough.

    >>> chance_words(0.67), chance_words(0.01), chance_words(0.98), chance_words(0.05)
    ('about 7 in 10', 'under 1 in 40', 'over 39 in 40', 'about 1 in 10')
    >>> chance_words(0.79), chance_words(0.80)
    ('nearly 8 in 10', 'about 8 in 10')
    """
    value = float(chance)
    for limit, words in _ENDS:
        if value < limit:
            return words
    for limit, words in _TOPS:
        if value >= limit:
            return words
    tenths = max(1, min(9, int(value * 10 + 0.5)))
    return f"{'nearly' if value < LEANS <= tenths / 10 else 'about'} {tenths} in 10"


def range_words(low: Decimal, high: Decimal) -> str:
    """A range of marks.

    >>> range_words(Decimal("7.064"), Decimal("8.118"))
    '7.1 to 8.1'
    """
    return f"{mark(rounded(low, 1))} to {mark(rounded(high, 1))}"


def gap_words(gap: Gap) -> str:
    """From where to where a true gap may lie, the way round in words rather than by a sign."""
    low, high = rounded(gap.low, 1), rounded(gap.high, 1)
    if not low and not high:
        return NO_MORE
    if low < 0:
        return f"anything from {mark(-low)} the other way to {or_nothing(high)}"
    return f"anything from {or_nothing(low)} to {mark(high)}"


NO_MORE = "less than 0.1 either way"


def or_nothing(value: Decimal) -> str:
    """A difference of marks, `nothing` for none."""
    return mark(value) if value else "nothing"


def call_sentence(gap: Gap, above: str, below: str) -> str:
    """Which of two is ahead, how surely, and on how few doughs that rests, in one sentence."""
    chance, rests = chance_words(gap.verdict.chance), _rests(gap, above, below)
    match gap.verdict.call:
        case Call.BETTER:
            both = " and ".join(count(number, "dough") for number in gap.doughs)
            return f"{_begin(above)} is better than {below}, {chance}, on {both}."
        case Call.LEANS:
            return f"{_begin(above)} leans ahead of {below}, {chance}{rests}, which is not proof yet."
        case Call.CANNOT_TELL:
            return f"Cannot tell {above} from {below} yet: {above} is ahead with {chance}{rests}."


def _rests(gap: Gap, above: str, below: str) -> str:
    """Who rests on one dough."""
    if gap.doughs == (1, 1):
        return ", on one dough each"
    if 1 in gap.doughs:
        return f", but {above if gap.doughs[0] == 1 else below} rests on one dough"
    return f", on {count(gap.doughs[0], 'dough')} and {number_word(gap.doughs[1])}"


def _begin(name: str) -> str:
    """A name at the head of a sentence."""
    return f"{name[:1].upper()}{name[1:]}"


def apart_words(gap: Gap, above: str, below: str, how: str = "") -> str:
    """How far two means are apart, and how far that may be in truth; `how` tells of means that are not as marked."""
    apart = mark(abs(rounded(gap.apart, 2)))
    said = f"are {apart} apart" if rounded(gap.apart, 2) else "come out the same"
    means = f"{how}, the means" if how else "The means"
    return f"{means} of {above} and {below} {said}; the true gap may be {gap_words(gap)}."


def more_words(gap: Gap) -> str:
    """How many more doughs would show a gap as large as this one looks."""
    if gap.more is None or not rounded(gap.apart, 2):
        return ""
    if gap.more > MOST_MORE:
        return f"A gap so small would take over {MOST_MORE} more doughs of each to show."
    return f"If the gap is what it looks, {count(gap.more, 'more dough')} of each should show it."


def scatter_sentence(scatter: Scatter, reckoned: Decimal, noun: str = "Doughs") -> str:
    """How far doughs of one revision come out apart, and how that is known."""
    about = mark(rounded(reckoned, 1))
    if not scatter.repeats:
        return (
            f"No revision was baked twice and scored, so how far doughs of one revision scatter in this book is not"
            f" known; {about} either side of their mean is assumed until then."
        )
    where = f" of {scatter.formula.replace('-', ' ')}" if scatter.formula else " in this book"
    return (
        f"{noun} of one revision scatter by about {about} either side of their mean, by"
        f" {count(scatter.repeats, 'repeat')}{where}."
    )


def blind_sentence(blind: Blindness) -> str:
    """Whether the tasters knew which was which."""
    total = blind.blind + blind.knew + blind.unsaid
    if blind.unsaid == total:
        return "Whether the tasters knew which was which is not recorded."
    if blind.blind == total:
        return "The tasters did not know which was which."
    if blind.knew == total:
        return "The tasters knew which was which."
    parts = [
        f"{number_word(number)} {words}"
        for number, words in ((blind.blind, "blind"), (blind.knew, "knowing which"), (blind.unsaid, "not recorded"))
        if number
    ]
    return f"Of {count(total, 'set')} of marks, {join_words(parts)}."


def leaning_sentence(leanings: tuple[Leaning, ...], least: int) -> str:
    """The widest gap between two tasters who both tasted enough doughs, or ""."""
    found = []
    for attribute in dict.fromkeys(leaning.attribute for leaning in leanings):
        several = sorted(
            (le for le in leanings if le.attribute == attribute and le.doughs >= least), key=lambda le: le.above
        )
        if len(several) > 1:
            found.append((several[-1].above - several[0].above, attribute, several[-1].taster, several[0].taster))
    if not found or max(found)[0] < _TELLING:
        return ""
    apart, attribute, upper, lower = max(found)
    return f"{upper.capitalize()} marks {attribute} about {mark(rounded(apart, 1))} higher than {lower}."
