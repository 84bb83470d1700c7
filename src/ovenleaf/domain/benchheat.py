"""How temperatures are written on a bench line: of the dough, the core, the room, the oven, or of a place.

A figure without a scale is never guessed: it stays words, and a doubt says what to write. Only a core
temperature up to 110 may stand alone, for no loaf is done at 110 °F.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal

from ovenleaf.domain.benchparts import ABOUT, SIGN, Reading, Rule, compiled, of_other_unit, one
from ovenleaf.domain.benchvalues import Field, Heat
from ovenleaf.domain.durations import END, FIGURE, TO, figure
from ovenleaf.domain.numbers import CONTEXT, rounded
from ovenleaf.domain.quantity import Scale, Temperature

_SCALE = rf"(?:celsius|fahrenheit|[cf℃℉]){END}"
_DEGREES = r"(?: ?(?:[°º]|degrees?\b|deg\b\.?))?"
_FIGURE = rf"(?P<figure>{SIGN}?{FIGURE})(?P<degrees>{_DEGREES})(?:\s?(?P<scale>{_SCALE}))?"
_COURSE = r"(?:-+>|→|=>|(?:falling|dropping|down|rising|up|then) to\b)"
_FURTHER = rf" ?(?P<link>{_COURSE}|{TO}) ?{ABOUT}{_FIGURE}"
_BEHIND = r"[.,/:]?\d| ?(%|[^\W\d_]+)"  # a longer figure, or the word that may be another unit
_IS = r"(?: ?(?:[:=@]|(?:at|is|was|of|to|now|temp|temperature)\b))* ?"
_LABEL = (
    r"(?P<label>(?:the )?(?:final )?dough|fdt|core|internal|cent(?:re|er)|crumb"
    r"|(?<!the )(?<!a )(?:room|kitchen)|(?<!the )oven)\b"
)

_NAMES = {
    "room": "room",
    "kitchen": "room",
    "oven": "oven",
    "fdt": "dough temperature",
}  # any other label but the dough is of the core
_HOTTEST_CORE = 110
# Below these a figure without a scale is more likely a number of something: `oven 2`.
_LEAST = {"dough temperature": 10, "room": 10, "oven": 50, "core": 0, "temperature": 10}
# Up to the first a figure without a scale is surely °C, above the second surely °F; between, either.
_SURE = {"oven": (0, 290), "core": (_HOTTEST_CORE, _HOTTEST_CORE), "temperature": (32, 290)}
_SURE_OF_DOUGH = (32, 45)
_ANGLES = r"\b(?:scor|slash|cut|blade|angle|turn|rotat|tilt)"
_ENDS = r" ?(?:$|[,;)](?! ?\d)| (?:until|for|in|with|then)\b)"  # `fold at 20, 40 and 60 min` goes on
_LONGEST_COURSE = 12  # more steps than any oven is given; without a limit a nonsense line takes its time
_OVEN_HOT = 100  # °C: below that, `in the oven` is a place to proof in


@dataclass(frozen=True, slots=True, kw_only=True)
class _Chain:
    """One or more figures with the words between them, before it is known whether they have scales."""

    values: tuple[Decimal, ...]
    scales: tuple[Scale | None, ...]
    links: tuple[str, ...]
    degrees: bool  # a degree sign or word stood behind one of them
    start: int
    end: int

    @property
    def scaled(self) -> bool:
        return any(self.scales)

    @property
    def course(self) -> bool:
        return all(compiled(_COURSE).match(link) for link in self.links)


def _chain(low: str, at: int, end: int) -> _Chain | None:
    """The figures from `at` on; None where there is none, or its unit is not one of temperature.

    Behind a dash, `or`, or a `to` with a word after it, a figure must have its scale: `220 C - 2 trays`
    is no course.
    """
    first = compiled(_FIGURE).match(low, at, end)
    found: list[re.Match[str]] = []
    following = first
    while following and len(found) < _LONGEST_COURSE and (following["scale"] or _may_lack_scale(following, low, end)):
        found.append(following)
        following = compiled(_FURTHER).match(low, following.end(), end)
    return _made_chain(found) if found else None


def _may_lack_scale(found: re.Match[str], low: str, end: int) -> bool:
    link = found.groupdict().get("link") or ""
    behind = compiled(_BEHIND).match(low, found.end(), end)
    if link == "to":
        return not behind
    other = behind and (not behind[1] or of_other_unit(behind[1]))
    return not other and (not link or bool(compiled(_COURSE).match(link)))


def _made_chain(found: list[re.Match[str]]) -> _Chain:
    return _Chain(
        values=tuple(figure(match["figure"].replace("−", "-")) for match in found),
        scales=tuple(_scale(match["scale"]) for match in found),
        links=tuple(match["link"] for match in found[1:]),
        degrees=any(match["degrees"] for match in found),
        start=found[0].start(),
        end=found[-1].end(),
    )


def _scale(word: str | None) -> Scale | None:
    if not word:
        return None
    return Scale.F if word[0] in "f℉" else Scale.C


def _heat(chain: _Chain) -> Heat | None:
    """The Heat of a chain that has a scale; None where it could be read in two ways."""
    degrees = tuple(Temperature(value, _nearest(chain.scales, place)) for place, value in enumerate(chain.values))
    if chain.course:
        return Heat(temperatures=degrees)
    if len(degrees) != 2:
        return None
    if degrees[0].celsius <= degrees[1].celsius:
        return Heat(temperatures=degrees, between=True)
    return Heat(temperatures=degrees[::-1], between=True) if chain.links[0] == "or" else Heat(temperatures=degrees)


def _nearest(scales: tuple[Scale | None, ...], place: int) -> Scale:
    """The scale of one figure: its own, else the next one's behind it, else the last one's before it."""
    return next(scale for scale in (*scales[place:], *reversed(scales[:place])) if scale)


def _labelled(found: re.Match[str], text: str) -> Reading | None:
    at = found.start("heat") if "heat" in found.re.groupindex else found.end()
    chain = _chain(found.string, at, found.endpos)
    if not chain:
        return None
    label = found["label"]
    name = "dough temperature" if label.endswith("dough") else _NAMES.get(label, "core")
    end = max(chain.end, found.end())
    if not chain.scaled:
        return None if label == "crumb" else _bare(name, chain, text[found.start() : end], text, end)
    heat = _heat(chain)
    if name == "oven" and heat:
        return one(name, heat, end=end)
    single = heat.temperatures[0] if heat and len(heat.temperatures) == 1 else None
    return one(name, single, end=end) if single else Reading(end=end)


def _bare(name: str, chain: _Chain, typed: str, text: str, end: int) -> Reading | None:
    if name == "core" and len(chain.values) == 1 and 0 <= chain.values[0] <= _HOTTEST_CORE:
        return one(name, Temperature(chain.values[0], Scale.C), end=end)
    if min(chain.values) < _LEAST[name]:
        return None
    return Reading(doubts=(_doubt(name, chain, typed, text),), end=end)


def _doubt(name: str, chain: _Chain, typed: str, text: str, *, hour: bool = False) -> str:
    if len(chain.values) > 1:
        bare = text[chain.start : chain.end]
        return f"{typed} has no scale; write {bare} C or {bare} F"
    value = chain.values[0]
    surely_c, surely_f = _SURE.get(name, _SURE_OF_DOUGH)
    c, f = Temperature(value, Scale.C), Temperature(value, Scale.F)
    ways = [str(c), str(f)]
    if value <= surely_c:
        ways = [str(c), f"{rounded(CONTEXT.add(CONTEXT.multiply(value, Decimal('1.8')), Decimal(32)), 0)} F"]
    elif value > surely_f:
        ways = [str(f), f"{rounded(f.celsius, 0)} C"]
    if hour and value % 1 == 0 and 0 <= value < 24:
        ways.append(f"the hour as {int(value):02}:00")
    told = f"{', '.join(ways[:-1])} or {ways[-1]}"
    return f"{typed} has no scale; write {told}"


def _of_place(found: re.Match[str], text: str) -> Reading | None:
    chain = _chain(found.string, found.end(), found.endpos)
    if not chain:
        return None
    if not chain.scaled:
        return _bare_place(found, chain, text)
    heat = _heat(chain)
    return one("temperature", heat, end=chain.end) if heat else Reading(end=chain.end)


def _bare_place(found: re.Match[str], chain: _Chain, text: str) -> Reading | None:
    """A doubt where the words around the figure make it a temperature, otherwise no reading at all."""
    if min(chain.values) < _LEAST["temperature"] and not found["at"]:
        return None
    course = bool(chain.links) and chain.course
    at = found["at"] and not chain.links and compiled(_ENDS).match(found.string, chain.end)
    if not (chain.degrees or course or at) or compiled(_ANGLES).search(found.string):
        return None
    doubt = _doubt("temperature", chain, text[found.start() : chain.end], text, hour=bool(at))
    return Reading(doubts=(doubt,), end=chain.end)


def _of_something_else(found: re.Match[str], text: str) -> Reading | None:
    """The temperature of an ingredient is not that of a place: `water 27 C` stays words."""
    chain = _chain(found.string, found.end(), found.endpos)
    return Reading(end=chain.end) if chain and chain.scaled else None


def named_by(field: Field, before: str) -> Field:
    """A place's heat under the name that the words before it give: `in the oven at 220 C`."""
    if field.name != "temperature" or not isinstance(field.value, Heat):
        return field
    first = field.value.temperatures[0]
    if re.search(r"\boven\b", before) and first.celsius >= _OVEN_HOT:
        return replace(field, name="oven")
    if re.search(r"\bdough temp", before) and len(field.value.temperatures) == 1:
        return replace(field, name="dough temperature", value=first)
    return field


HEAT_RULES = (
    Rule(pattern=rf"(?:water|flour|milk|butter|eggs?)\b{_IS}{ABOUT}(?={SIGN}?\d)", make=_of_something_else),
    Rule(pattern=rf"{_LABEL}{_IS}{ABOUT}(?={SIGN}?\d)", make=_labelled),
    Rule(
        pattern=rf"(?:at )?{ABOUT}(?P<heat>{SIGN}?{FIGURE}{_DEGREES}\s?{_SCALE}) "
        r"(?P<label>dough|core|room|kitchen|oven)\b(?: temp(?:erature)?\b)?(?=$| ?[/)&]| (?:and|after)\b)",
        make=_labelled,
    ),
    Rule(pattern=rf"(?:(?P<at>at |@ ?)|temp(?:erature)?\b[:=]? ?)?{ABOUT}(?={SIGN}?\d)", make=_of_place),
)
