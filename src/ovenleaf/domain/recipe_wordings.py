"""What a recipe's line says besides an amount and an item, as patterns: purposes, choices, how exact, what is cut."""

from __future__ import annotations

import re

ALLOW = re.compile(r"^(?:to every|to each|for every|take|allow|about|approximately|approx\.?|around|ca\.?|nearly|"
                    r"almost|roughly|up to|at least|some|circa)\s+(?=\S)", re.IGNORECASE)  # fmt: skip
NOT_EXACT = re.compile(r"^(?:nearly|almost|up to|at least|some)\s", re.IGNORECASE)
OPTIONAL = re.compile(r"[,(]?\s*\b(?:optional|if desired|if liked|if you like|when liked)\b\s*\)?", re.IGNORECASE)
MORE = re.compile(
    r"[,;(]?\s*(?:\b(?:plus|and|with)\s+)?(?:\b(?:one|two|another|a)\s+)?"
    r"\b(?:more|extra|a little more|some more|a bit more|additional)\b"
    r"(?:\s+[a-z]+)?\s+(?:for|to|as|if)\b\s*(?P<purpose>[^)]*)\)?\s*$"
    r"|[,;(]?\s*\bplus\b\s+(?:more|extra|some)\s*\)?\s*$"
    r"|[,;(]?\s*\b(?:plus|and)\s+(?:some|a little)\s+(?:for|to)\b\s*(?P<some>[^)]*)\)?\s*$",
    re.IGNORECASE,
)
PURPOSE = re.compile(
    r"[,;(]?\s*\b(?:for|to)\s+(?P<purpose>(?:the\s+)?(?:dust\w*|greas\w*|oil\w*|brush\w*|sprinkl\w*|tins?|pans?|bowl|board|"
    r"work ?(?:surface|top)|bench|shap\w*|roll\w*|top\w*|glaz\w*|wash|knead\w*|finish\w*|serv\w*|decorat\w*|fry\w*|"
    r"tast\w*|coat\w*|butter\w*|flour\w*)\b[^)]*)\)?\s*$",
    re.IGNORECASE,
)
TASTE = re.compile(
    r"[,(]?\s*\b(?:to taste|as needed|as required|as much as|q\.?s\.?|enough|sufficient)\b.*$", re.IGNORECASE
)
IN_LIQUID = re.compile(
    r"^(?P<first>.*?),?\s*\(?\b(?:dissolved|mixed|soaked|softened|stirred|moistened|blended)\s+(?:in|with|into)\s+"
    r"(?P<second>.+?)\)?$",
    re.IGNORECASE,
)
# Figures that are no amounts: heats, lengths, times, hydrations, what something is cut into, and types of flour.
HARMLESS = re.compile(
    r"\d+(?:[.,]\d+)?\s*(?:to|-)?\s*\d*\s*(?:°|º|degrees?)\s*[CF]?\b|\b\d{2,3}\s*(?:C|F|celsius|fahrenheit)\b"
    r"|\d+(?:\s*/\s*\d+)?\s*-?\s*(?:inch\w*|in\.|\"|cm|mm)|\d+\s*(?:-|to)?\s*\d*\s*(?:min\w*|hours?|h|seconds?|days?)\b"
    r"|\b(?:in|into)\s+\d+\b|\d+\s*%(?:\s*(?:hydration|fat|protein|milk ?fat))?|\b(?:type|tipo|no\.?|number|t)\s*\d+"
    r"|\b(?:405|550|630|812|997|1050|1150|00|T55|T65|T80|W700|R960)\b",
    re.IGNORECASE,
)
# What an amount of its own is for, and never becomes dough: `1 egg, for the wash`, `1 tbsp sesame seed, on top`.
ASIDE = re.compile(
    r"[,\s]*\b(?P<use>(?:for|to)\s+(?:the\s+|a\s+)?(?:egg\s?wash|wash|glaz\w*|brush\w*|top(?:ping|s|ped)?\b|sprinkl\w*|"
    r"dust\w*|greas\w*|oil(?:ing)?\b|tins?|pans?|coat\w*|decorat\w*|finish\w*|garnish\w*|fry\w*|serv\w*|strew\w*|"
    r"scatter\w*)\b.*|on (?:the )?top\b.*|over the top\b.*)$",
    re.IGNORECASE,
)

# An amount that only an eye can tell: `butter the size of an egg`.
SIZE = re.compile(
    r"^(?:an?\s+(?:piece|lump|knob|bit)\s+of\s+)?(?P<item>.+?),?\s+"
    r"(?P<size>(?:about\s+)?(?:the size of|as (?:large|big) as)\s+.+)$",
    re.IGNORECASE,
)

# What was done to it, said behind its name: `raisins stoned and cut in pieces`.
_DONE = (
    r"(?:stoned|seeded|pitted|cut|chopped|sliced|quartered|halved|steamed|sifted|beaten|washed|peeled|pared|grated|"
    r"crushed|mashed|melted|softened|scalded|cooled|toasted|blanched|dried|picked|cleaned|strained|minced|shredded)"
)
_HOW_DONE = r"(?:(?:well|very|finely|coarsely|thinly|roughly|lightly|slightly|freshly)\s+)?"
DONE_BEHIND = re.compile(
    rf"(?P<item>\S.*?)\s+(?P<note>{_HOW_DONE}{_DONE}(?:(?:\s+(?:and|or)|,)\s+{_HOW_DONE}{_DONE})*"
    r"(?:\s+(?:in|into)\s+(?:(?:small|thin|fine|large|even)\s+)?(?:pieces|quarters|halves|slices|dice|strips|bits))?)",
    re.IGNORECASE,
)

# A line that says itself that it is no dough: `Optional topping: 2 tablespoons melted butter`.
OUTSIDE_LABEL = re.compile(
    r"^(?:optional\s+)?(?P<use>(?:for\s+the\s+|to\s+)?(?:top(?:ping)?s?|glaze|egg ?wash|wash|filling|frosting|icing|"
    r"garnish|dusting|finish|serve|brush)s?)\s*:\s*(?P<rest>.+)$",
    re.IGNORECASE,
)

# `the yolks of 2 eggs`, `whites of three eggs`, `4 yolks of eggs`, `Yolk one egg`
_COUNT = r"\d+|an?|one|two|three|four|five|six|seven|eight|nine|ten|twelve"
_YOLKS = re.compile(
    rf"^(?:the\s+)?(?:(?P<first>{_COUNT})\s+)?(?P<part>yolk|white)s?\s+(?:of\s+)?(?:the\s+)?"
    rf"(?:(?P<count>{_COUNT})\s+)?eggs?(?![a-z])",
    re.IGNORECASE,
)


def eggs_counted(text: str) -> str:
    """A line with yolks and whites named as such: `the yolks of 2 eggs` is `2 egg yolks`."""
    return _YOLKS.sub(_yolks, text)


def _yolks(found: re.Match[str]) -> str:
    count = found["count"] or found["first"]
    return f"{count or ''} egg {found['part'].lower()}{'' if count in ('1', 'one', 'an') else 's'}".strip()
