"""How text is laid out on a screen of 80 columns: sentences, rows, the closing block, dates and counts in words.

Pure; no locale, no terminal, no colour. Whatever comes out of a book passes `clean` on its way,
since a shared book is text by others and a terminal obeys what is written to it.
"""

from __future__ import annotations

import re
import unicodedata
from datetime import date
from typing import TYPE_CHECKING

from ovenleaf.present.manner import Manner, laid_out, manner, marked_row
from ovenleaf.present.today import goes_without_saying

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from contextlib import AbstractContextManager
    from datetime import datetime

    from ovenleaf.errors import Next

WIDTH = 80
SET_IN = 2  # how far rows stand in from their heading

_GAP = 5  # between columns, where there is room
_LEAST_GAP = 2
_WORDS_AT = 32  # where the words beside a command begin, counted from the command
_BESIDE = 3  # and how far from it they stand at least

# Control, format, surrogate, and the two line-ending characters of Unicode.
_HARMFUL = frozenset(("Cc", "Cf", "Cs", "Zl", "Zp"))
# Format characters that scripts and emoji are spelled with, and that move nothing about.
_SPELLING = frozenset("\N{ZERO WIDTH JOINER}\N{ZERO WIDTH NON-JOINER}")

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_ANY_MONTH = "January|February|March|April|May|June|July|August|September|October|November|December"
_MONTHS = _ANY_MONTH.split("|")

# A figure is not parted from its unit at the end of a line, nor a revision from its number, nor a day from its month
# and year; \N{NO-BREAK SPACE} holds them until then.
_TOGETHER = re.compile(
    r"\d (?:%|°C|°F|kg|g|ml|l|oz|lb|min|h|points?)(?!\w)"
    r"|\brevision \d"
    rf"|\b\d{{1,2}} (?:{_ANY_MONTH})(?: \d{{4}})?(?!\w)"
)
_HOLD = "\N{NO-BREAK SPACE}"
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def clean(text: str) -> str:
    r"""One line of harmless text: what a terminal would obey is shown as its code, line ends become spaces.

    >>> print(clean("crust\x1b[2J 7\nof 10"))
    crust\x1b[2J 7 of 10
    >>> print(clean("loaf \u202e7 g"))
    loaf \u202e7 g
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(_harmless(letter) for letter in text.replace("\r\n", "\n"))


def _harmless(letter: str) -> str:
    if letter in "\n\r\t\N{LINE SEPARATOR}\N{PARAGRAPH SEPARATOR}":
        return " "
    if letter in _SPELLING or unicodedata.category(letter) not in _HARMFUL:
        return letter
    return letter.encode("unicode_escape", "surrogatepass").decode("ascii")


def width_of(text: str) -> int:
    """How many columns a terminal gives to `text`: two for wide letters, none for marks that combine."""
    if text.isascii():
        return len(text)
    return sum(_width(letter) for letter in text)


def _width(letter: str) -> int:
    if letter in _SPELLING or unicodedata.category(letter) in ("Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in "WF" else 1


def wrap(sentence: str, indent: int = 0, *, hanging: int = 0) -> str:
    """`sentence` in lines of up to 80 columns, set in by `indent`, all but the first by `hanging` more.

    A word longer than a line (a path, an address) is left whole.
    """
    if manner() is Manner.MARKED:  # whatever shows the page breaks its lines
        return " " * indent + _held(" ".join(clean(sentence).split()))
    lines: list[str] = []
    line = " " * indent
    started = False
    for word in _held(clean(sentence)).split(" "):
        if not word:
            continue
        if started and width_of(line) + 1 + width_of(word) > WIDTH:
            lines.append(line)
            line, started = " " * (indent + hanging), False
        line = f"{line} {word}" if started else f"{line}{word}"
        started = True
    return "\n".join([*lines, line]).replace(_HOLD, " ").rstrip()


def _held(text: str) -> str:
    return _TOGETHER.sub(lambda held: held[0].replace(" ", _HOLD), text)


def as_typed(line: str, indent: int = 0) -> str:
    """A line shown as it stands, its own leading spaces kept; one too long for the screen is wrapped under itself."""
    bare = line.lstrip(" ")
    return wrap(bare, indent + len(line) - len(bare)) if width_of(line) + indent > WIDTH else _set_in(line, indent)


def _set_in(line: str, indent: int) -> str:
    return f"{' ' * indent}{clean(line)}".rstrip()


def spoken(wanted: bool) -> AbstractContextManager[None]:
    """While this lasts, tables are told row by row in whole sentences, for an ear or a narrow screen."""
    return laid_out(Manner.SENTENCES if wanted else Manner.COLUMNS)


def is_spoken() -> bool:
    """True while a picture made of letters would say nothing: to an ear, or on a page whose letters have no columns."""
    return manner() is not Manner.COLUMNS


def rows(
    lines: Sequence[tuple[str, ...]],
    spec: str,
    *,
    heading: tuple[str, ...] | None = None,
    indent: int = SET_IN,
    as_named: bool = False,
) -> str:
    """A table: one line a row, set in, columns under one another.

    `spec` has one letter a column: `<` for names and words, `>` for figures, which end at the same
    column with their unit. Every row has as many cells as `spec` has letters. Words stand last, and
    wrap under themselves where the line is full. `as_named` says that rows begin with a name that may
    be typed, and so stays in small letters where a row is told as a sentence.

    >>> print(rows([("water", "340 g", "68.0 %"), ("salt", "10 g", "2.0 %")], "<>>"))
      water     340 g     68.0 %
      salt       10 g      2.0 %
    """
    table = [tuple(clean(cell) for cell in line) for line in ((heading, *lines) if heading else lines)]
    if not table:
        return ""
    told = table if heading else [tuple("" for _ in spec), *table]
    if manner() is Manner.SENTENCES:
        return _sentences(told, indent, as_named=as_named)
    assert all(len(line) == len(spec) for line in table), "a cell for each column"
    if manner() is Manner.MARKED:
        held = [tuple(map(_held, line)) for line in table]
        return "\n".join(marked_row(line, spec, heads=bool(heading) and not at) for at, line in enumerate(held))
    widths = [max(width_of(line[column]) for line in table) for column in range(len(spec))]
    starts = _starts(widths, spec, indent)
    if len(spec) > 2 and starts[-1] + min(widths[-1], _LEAST_WORDS) > WIDTH:
        return _sentences(told, indent, as_named=as_named)
    return "\n".join(_row(line, spec, widths, starts) for line in table)


# A table that leaves less than this for the words that close its rows is told in sentences instead.
_LEAST_WORDS = 14


def _sentences(table: Sequence[tuple[str, ...]], indent: int, *, as_named: bool) -> str:
    """Each row spoken whole: its name, then each figure with what it is a figure of."""
    heads, *lines = table
    said = []
    for name, *cells in lines:
        rest = [_with_head(head, cell) for head, cell in zip(heads[1:], cells, strict=True) if cell]
        first = f"{heads[0]} {name}".strip()
        between = "; " if any(heads[1:]) else ", "
        first = first if as_named else f"{first[:1].upper()}{first[1:]}"
        said.append(f"{first}{': ' if rest else ''}{between.join(rest)}")
    said = [sentence if sentence.endswith((".", "?", "!")) else f"{sentence}." for sentence in said]
    return "\n".join(wrap(sentence, indent, hanging=2) for sentence in said)


def _with_head(head: str, cell: str) -> str:
    """A figure with what it is a figure of; a heading with a figure of its own is kept apart by a comma."""
    if head in cell:
        return cell
    return f"{head}{',' if re.search(r'[0-9]', head) else ''} {cell}".strip()


def _starts(widths: Sequence[int], spec: str, indent: int) -> list[int]:
    """The column at which each cell begins: well apart, closer where the line would be too long."""
    # Words that close the row can wrap; the rest should not make the line longer than the screen.
    last = min(widths[-1], WIDTH // 3) if spec.endswith("<") and len(spec) > 1 else widths[-1]
    room = WIDTH - indent - sum(widths[:-1]) - last
    gap = min(_GAP, max(_LEAST_GAP, room // max(1, len(spec) - 1)))
    starts = [indent]
    for width in widths[:-1]:
        starts.append(starts[-1] + width + (gap if width else 0))
    return starts


def _row(line: tuple[str, ...], spec: str, widths: Sequence[int], starts: Sequence[int]) -> str:
    text = ""
    for column, cell in enumerate(line):
        padding = widths[column] - width_of(cell) if spec[column] == ">" else 0
        text += " " * (starts[column] + padding - width_of(text)) + cell
    if width_of(text) <= WIDTH or spec[-1] != "<" or len(spec) == 1:
        return text.rstrip()
    words = wrap(line[-1], starts[-1])
    return text[: len(text) - len(line[-1])].ljust(starts[-1]) + words[starts[-1] :]


def next_block(nexts: Iterable[Next], heading: str = "Next") -> str:
    """What can be typed next, as it stands, with a few words beside each command; "" where there is nothing."""
    commands = [(clean(one.command), clean(one.words)) for one in nexts]
    if not commands or manner() is Manner.MARKED:  # nothing can be typed on a page
        return ""
    at = max([_WORDS_AT, *(width_of(command) + _BESIDE for command, words in commands if _fits(command, words))])
    lines = [heading]
    for command, words in commands:
        # A command is never broken: it is there to be copied.
        if width_of(command) + _BESIDE <= at and SET_IN + at + width_of(words) <= WIDTH:
            lines.append(f"{' ' * SET_IN}{command}{' ' * (at - width_of(command))}{words}".rstrip())
        else:
            lines.append(f"{' ' * SET_IN}{command}")
            lines.extend([wrap(words, 3 * SET_IN)] if words else [])
    return "\n".join(lines)


def _fits(command: str, words: str) -> bool:
    return bool(words) and SET_IN + width_of(command) + _BESIDE + width_of(words) <= WIDTH


def blocks(*parts: str) -> str:
    """A screen of its blocks, one blank line between them; blocks without text are left out."""
    return "\n\n".join(part for part in parts if part)


def date_words(text: str) -> str:
    """The day of an ISO date or time in words; what is no date is shown as it stands.

    >>> date_words("2026-11-04"), date_words("2026-11-12T07:39:00+01:00")
    ('Wednesday 4 November 2026', 'Thursday 12 November 2026')
    """
    day = _day(text)
    return clean(text) if day is None else f"{_DAYS[day.weekday()]} {_month_day_year(day)}"


def day_words(text: str) -> str:
    """The same without the day of the week, for a day that is said to be today.

    >>> day_words("2026-11-04")
    '4 November 2026'
    """
    day = _day(text)
    return clean(text) if day is None else _month_day_year(day)


def _month_day_year(day: date) -> str:
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def short_date(text: str) -> str:
    """The day of an ISO date or time in short, of another year than this one with its year; no date stays as it is.

    >>> short_date("2026-11-04")
    '4 Nov'
    """
    day = _day(text)
    if day is None:
        return clean(text)
    year = "" if goes_without_saying(day.year) else f" {day.year}"
    return f"{day.day} {_MONTHS[day.month - 1][:3]}{year}"


def clock(at: datetime) -> str:
    """A clock time as a kitchen clock shows it: `07:44`."""
    return f"{at.hour:02}:{at.minute:02}"


def _day(text: str) -> date | None:
    if not re.match(r"[0-9]{4}-[0-9]{2}-[0-9]{2}(?![0-9])", text):
        return None
    try:
        return date.fromisoformat(text[:10])
    except ValueError:
        return None


def join_words(words: Sequence[str], last: str = "and") -> str:
    """Words as they are listed in a sentence.

    >>> join_words(["crumb", "crust", "flavour"]), join_words(["noor"])
    ('crumb, crust and flavour', 'noor')
    """
    return f"{', '.join(words[:-1])} {last} {words[-1]}" if len(words) > 1 else "".join(words)


def some_words(words: Sequence[str], most: int = 12) -> str:
    """Words as they are listed in a sentence, the first of them where there are many.

    >>> some_words(["A1", "A2", "A3"], 2), some_words(["A1", "A2"])
    ('A1, A2 and one more', 'A1 and A2')
    """
    left = len(words) - most
    return join_words(words) if left <= 0 else f"{', '.join(words[:most])} and {number_word(left)} more"


def count(number: int, noun: str, plural: str = "") -> str:
    """A count with its noun, up to nine in words.

    >>> count(1, "dough"), count(3, "loaf", "loaves"), count(12, "bake"), count(0, "trial")
    ('one dough', 'three loaves', '12 bakes', 'no trials')
    """
    return f"{number_word(number)} {noun if number == 1 else plural or _plural(noun)}"


def number_word(number: int) -> str:
    """A number in words up to nine, in figures beyond.

    >>> number_word(4), number_word(12)
    ('four', '12')
    """
    return _NUMBERS[number] if 0 <= number < len(_NUMBERS) else str(number)


def _plural(noun: str) -> str:
    if re.search(r"[^aeiou]y$", noun):
        return f"{noun[:-1]}ies"
    return f"{noun}es" if re.search(r"(?:s|x|z|ch|sh)$", noun) else f"{noun}s"
