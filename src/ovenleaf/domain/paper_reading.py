"""A filled-in sheet read back by its form alone.

It never fails and loses no word: whatever does not fit the form is kept as loose text with its line. Knows no
formula but the headings of its bowls.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from ovenleaf.domain.paper import ASKED, FIRST_CAUTION, LAST_CAUTION, NOTE, STEPS, Did, Paper, WentIn, Written

Headings = Mapping[str, str]  # a bowl's name to its heading as printed

_SQUARE = re.compile(r" {0,8}\[(?P<mark>[^\]]{0,3})\] ?(?P<rest>.*)")
_WENT_IN = re.compile(r"(?P<item>.*?)\s{2,}(?P<planned>(?:[\d.,]+ lb\s+)?[\d.,]+ (?:g|oz))\s+went in\b(?P<text>.*)")
_AT = re.compile(r"(?P<words>.*?)(?:\s{2,}|^)at\b(?P<text>.*)")
_FACT = re.compile(r"(?P<name>[a-z]+): (?P<value>.+?)(?=   [a-z]+: |$)")
_FACTS = ("sheet", "batch", "changed", "water")
_CAUTIONS = re.compile(rf"(?:Contains [^_]*?\. )?{re.escape(FIRST_CAUTION)}.*?{re.escape(LAST_CAUTION)}")
_FAR_RIGHT = 20


def printed_facts(page: str) -> dict[str, str]:
    """What the head of a sheet says: formula, revision, printed, batch."""
    return dict(_Reader({}, 0).read(page).facts)


def read_paper(page: str, headings: Headings, before: int = 0) -> Paper:
    """One sheet, read; `before` lines stand ahead of it in its file."""
    return _Reader(headings, before).read(page)


class _Reader:
    """Goes down a sheet line by line; `place` is the block it is in: head, bowl, steps, asked or note."""

    def __init__(self, headings: Headings, before: int) -> None:
        self._headings = {heading.casefold(): name for name, heading in headings.items()}
        self._names = {name.casefold(): name for name in headings}
        self._line = before
        self._place = "head"
        self._bowl = ""
        self._heading_left = ""
        self._facts: list[tuple[str, str]] = []
        self._asked: list[Written] = []
        self._weights: list[WentIn] = []
        self._steps: list[Did] = []
        self._loose: list[tuple[int, str]] = []
        self._open: tuple[str, bool, int] | None = None  # a squared line that goes on: its words, tick and line

    def read(self, page: str) -> Paper:
        for line in _without_cautions(page).split("\n"):
            self._line += 1
            if line.strip():
                self._take(line.expandtabs(4).rstrip())
        self._close()
        return Paper(
            facts=tuple(self._facts),
            asked=tuple(self._asked),
            weights=tuple(self._weights),
            steps=tuple(self._steps),
            loose=tuple(self._loose),
        )

    def _take(self, line: str) -> None:
        indent = len(line) - len(line.lstrip(" "))
        if found := _SQUARE.fullmatch(line):
            self._close()
            self._squared(found["rest"], bool(found["mark"].strip()))
        elif indent >= 6 and self._place in ("bowl", "steps"):
            self._goes_on(line.strip(), alone=indent >= _FAR_RIGHT)
        elif indent >= 4 and self._place in ("bowl", "steps"):
            self._close()  # advice, when to begin, when it is ready
        else:
            self._close()
            self._at_the_edge(line.strip(), indent)

    def _at_the_edge(self, line: str, indent: int) -> None:
        if self._place == "head" and self._head(line, indent):
            return
        if line == STEPS:
            self._place = "steps"
        elif self._is_heading(line):
            self._place = "bowl"
        elif line == NOTE or line.startswith((f"{NOTE} ", f"{NOTE}_", f"{NOTE}:")):
            self._place = "note"
            self._asked.append(Written(name=NOTE, text=_bare(line[len(NOTE) :]), line=self._line))
        elif boxes := _boxes(line):
            self._place = "asked"
            self._asked += [Written(name=name, text=text, line=self._line) for name, text in boxes]
        elif text := _bare(line):
            self._elsewhere(text)

    def _elsewhere(self, text: str) -> None:
        """Words at no place of the form: the note goes on, or they are loose."""
        if self._place == "note" and self._asked[-1].name == NOTE:
            last = self._asked[-1]
            self._asked[-1] = Written(name=NOTE, text=f"{last.text} {text}".strip(), line=last.line)
        else:
            self._loose.append((self._line, text))

    def _head(self, line: str, indent: int) -> bool:
        """True for a line of the head: the formula's label, a fact, a fact that goes on."""
        if indent >= 4 and self._facts and self._facts[-1][0] in ("changed", "water"):
            name, value = self._facts[-1]
            self._facts[-1] = (name, f"{value} {line}")
            return True
        if line.startswith(tuple(f"{name}: " for name in _FACTS)) and not self._asked:
            self._facts += [(found["name"], found["value"].strip()) for found in _FACT.finditer(line)]
            return True
        return not self._facts and ", revision " in f" {line}"  # the formula's label

    def _is_heading(self, line: str) -> bool:
        """True for a bowl's heading, whole or the rest of one that was begun on the line before."""
        low = re.split(r" {3,}begin at ", line)[0].casefold()
        if self._heading_left and self._heading_left.startswith(low):
            self._heading_left = self._heading_left[len(low) :].strip()
            return True
        whole = next((heading for heading in self._headings if heading.startswith(low)), "")
        if not whole and low not in self._names:
            return False
        self._bowl = self._headings[whole] if whole else self._names[low]
        self._heading_left = whole[len(low) :].strip()
        return True

    def _squared(self, rest: str, ticked: bool) -> None:
        self._open = (rest, ticked, self._line)
        self._finish_if_whole()

    def _goes_on(self, line: str, *, alone: bool) -> None:
        """The rest of a squared line; `alone` at the right edge, where a step's blank stands by itself."""
        if self._open is None:
            if not line.startswith("in all"):
                self._loose.append((self._line, _bare(line)))
            return
        words, ticked, _ = self._open
        self._open = (f"{words}{'  ' if alone else ' '}{line}", ticked, self._line)
        self._finish_if_whole()

    def _finish_if_whole(self) -> None:
        assert self._open is not None
        words, ticked, at = self._open
        if self._place == "steps" and (step := _AT.fullmatch(words)):
            said = Did(words=step["words"].strip(), ticked=ticked, text=_bare(step["text"]), line=at)
            self._steps.append(said)
        elif self._place == "bowl" and (weight := _WENT_IN.fullmatch(words)):
            self._weights.append(
                WentIn(
                    bowl=self._bowl,
                    item=weight["item"].strip(),
                    planned=" ".join(weight["planned"].split()),
                    ticked=ticked,
                    text=_bare(weight["text"]),
                    line=at,
                )
            )
        else:
            return
        self._open = None

    def _close(self) -> None:
        """A squared line that ended without its blank: a step that was ticked all the same, or loose words."""
        if self._open is None:
            return
        words, ticked, at = self._open
        self._open = None
        if self._place == "steps" and ":" in words:
            self._steps.append(Did(words=words, ticked=ticked, text="", line=at))
        else:
            self._loose.append((at, f"[{'x' if ticked else ' '}] {_bare(words)}"))


def _without_cautions(page: str) -> str:
    """The page with what is printed at its foot made blank, line for line."""
    flat = page.replace("\n", " ")
    found = list(_CAUTIONS.finditer(flat))
    if not found:
        return page
    start, end = found[-1].span()
    blank = "".join("\n" if letter == "\n" else " " for letter in page[start:end])
    return page[:start] + blank + page[end:]


def _bare(text: str) -> str:
    """What was written over a blank, without the blank.

    >>> _bare(" 7_______"), _bare(": __Mill Lane__"), _bare("________")
    ('7', 'Mill Lane', '')
    """
    return " ".join(text.replace("_", " ").split()).removeprefix(":").strip()


def _boxes(line: str) -> tuple[tuple[str, str], ...]:
    """`NAME BLANK` side by side, where the line begins with a name that is asked for; else ()."""
    names = next((names for names in ASKED if re.match(rf"(?:{'|'.join(names)})(?=[\s_:=]|$)", line)), ())
    places = _places(line, names)
    ends = [*(start for _, start, _ in places[1:]), len(line)]
    return tuple((name, _bare(line[after:end])) for (name, _, after), end in zip(places, ends, strict=False))


def _places(line: str, names: tuple[str, ...]) -> list[tuple[str, int, int]]:
    """Where each name stands, in the order of the form; one that stands well apart before one amid words."""
    found: list[tuple[str, int, int]] = []
    at = 0
    for name in names:
        for before in (r"(?:^|(?<=_)|(?<=\s\s))", r"(?:^|(?<=[\s_,]))"):
            if place := re.compile(rf"{before}{name}(?=[\s_:=]|$)").search(line, at):
                found.append((name, place.start(), place.end()))
                at = place.end()
                break
    return found
