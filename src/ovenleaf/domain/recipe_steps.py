"""The sentences of a method as steps of a process: named by what is done, with the words kept as the card has them."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.domain.benchline import read as read_line
from ovenleaf.domain.card import Asked, CardStep, Choice, Sure

if TYPE_CHECKING:
    from collections.abc import Sequence

_NAMES = (
    ("preheat", r"preheat\w*|heat the oven|heat oven"),
    ("bake", r"bake\w*|baking|oven"),
    ("divide", r"divid\w+|portion\w*|cut into"),
    ("shape", r"shap\w+|form\w*|mould\w*|mold\w*|roll\w*|press\w*|plait\w*|braid\w*"),
    ("rise", r"rise|rising|risen|prov\w+|proof\w*|ferment\w*|double\w*|light|stand|rest\b|overnight"),
    ("fold", r"fold\w*|stretch\w*"),
    ("knead", r"knead\w*"),
    (
        "mix",
        r"mix\w*|stir\w*|combin\w+|beat\w*|whisk\w*|dissolv\w+|add\w*|sift\w*|rub\w*|cream\w*|blend\w*|pour\w*|make a",
    ),
    ("cool", r"cool\w*"),
    ("top", r"brush\w*|glaz\w*|sprinkl\w+|slash\w*|scor\w+|dust\w*|dot\b"),
)
_FINDERS = tuple((name, re.compile(rf"\b(?:{words})", re.IGNORECASE)) for name, words in _NAMES)
# The same heat on the other scale: `220 °C (425 °F)`.
_OTHER_SCALE = re.compile(r"(?P<heat>\d\s*°?\s*[CF])\s*\(\d+(?: ?(?:to|-|–) ?\d+)?\s*°?\s*[CF]\)")
_NO_SCALE = re.compile(r"(?P<typed>.*?(?P<figure>\d+)\S*) has no scale; write .*")


def steps_of(sentences: Sequence[str], names: Sequence[str] = ()) -> tuple[CardStep, ...]:
    """A step for each sentence. The first rise is the bulk, one behind the shaping the final proof.

    `names` are those that the recipe itself gives its steps, "" where it gives none; or there are none at all.
    """
    steps: list[CardStep] = []
    for sentence, given in zip(sentences, names or [""] * len(sentences), strict=True):
        if given:
            steps.append(_step(given, sentence))
            continue
        name = _name(sentence)
        if name == "rise":
            name = "final proof" if any(step.name in ("shape", "divide") for step in steps) else "bulk"
        steps.append(_step(name, sentence))
    return tuple(steps)


def _name(sentence: str) -> str:
    found = [
        (hit.start(), place, name) for place, (name, finder) in enumerate(_FINDERS) if (hit := finder.search(sentence))
    ]
    return min(found)[2] if found else "then"


def _step(name: str, sentence: str) -> CardStep:
    words = " ".join(sentence.split()).strip(" .")
    line = re.sub(rf"^(?:{re.escape(name)}|oven)\b[\s:,]*", "", words, flags=re.IGNORECASE)
    line = in_one_scale(line)
    line = line[:1].lower() + line[1:] if line[1:2].islower() else line
    step = CardStep(name=name, line=line, words=words)
    doubts = read_line(line).doubts or read_line(words).doubts
    if not doubts:
        return step
    bare = _NO_SCALE.fullmatch(doubts[0])
    without = _without(line, bare) if bare is not None else ""
    if bare is None or read_line(without).doubts:
        return replace(step, line="as on the card")
    return replace(step, line=without, asked=_which_scale(name, bare["figure"]))


def in_one_scale(words: str) -> str:
    """The words without heats that are only told again on the other scale.

    >>> in_one_scale("18 minutes at 220 °C (425 °F), steam")
    '18 minutes at 220 °C, steam'
    """
    return _OTHER_SCALE.sub(r"\g<heat>", words)


def _without(line: str, bare: re.Match[str]) -> str:
    """The line without the heat that has no scale; the question says it."""
    typed = next((one for one in (bare["typed"], bare["figure"]) if one in line), bare["figure"])
    left = re.sub(r"^[\s,;]+|[\s,;]+$", "", line.replace(typed, "", 1))
    return " ".join(re.sub(r"\b(?:at|to|of)\s*$", "", left).split())


def _which_scale(name: str, figure: str) -> Asked:
    """An oven's heat without °C or °F; kitchen ovens end near 300 °C, so more than that is most likely °F."""
    hot = int(figure) > 300
    about = f"°F or °C; {figure} °C would be hotter than kitchen ovens go" if hot else "°F or °C"
    choices = tuple(
        Choice(said=scale, amount=f"{figure} {scale[0]}", how="as said", sure=Sure.CARD)
        for scale in ("Fahrenheit", "Celsius")
    )
    return Asked(key=name, was=figure, about=about, choices=choices, wants="heat")
