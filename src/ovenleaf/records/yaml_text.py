"""Pages as text: bytes to text, text to a tree that knows where each piece stands, values to text.

The only module that touches ruamel. It knows YAML and how bakers write; it knows nothing of
formulas, trials or schemas. Nothing here changes a page: that is `splice`.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, Any, Final, Literal, NoReturn, TypeAlias

from ovenleaf.errors import Place, Refusal

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

MAX_BYTES: Final = 1_000_000
MAX_DEPTH: Final = 50

Scalar: TypeAlias = Decimal | int | str | bool | None
Plain: TypeAlias = "dict[str, Plain] | list[Plain] | Scalar"
Path: TypeAlias = Sequence[str | int]


# --- the tree ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class ScalarNode:
    """One value. `text[start:end]` is it as typed, quotes included; `line` counts from 1.

    `style` is `''` for plain, else the quote or the block mark that opens it. A value left
    empty has `start == end`, just behind its colon or dash.
    """

    value: Scalar
    start: int
    end: int
    line: int
    style: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A name and what stands under it; the span is that of the name as typed."""

    key: str
    key_start: int
    key_end: int
    key_line: int
    node: Node


@dataclass(frozen=True, slots=True, kw_only=True)
class MapNode:
    """Names with values. `flow` is the `{a: 1}` form; in the other, `end` is the last value's."""

    entries: tuple[Entry, ...]
    start: int
    end: int
    line: int
    flow: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ListNode:
    """Values in order. `flow` is the `[a, b]` form; in the other, `start` is at the first dash."""

    items: tuple[Node, ...]
    start: int
    end: int
    line: int
    flow: bool


Node: TypeAlias = ScalarNode | MapNode | ListNode


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A page that was read: its text (which ends in a line end), its tree, its name for messages."""

    text: str
    root: MapNode
    path: str


class PageFault(Refusal):
    """A page cannot be read. Facts: `kind` (for tests and scripts), `path`, `line` from 1, `sentence`."""

    def __init__(
        self, kind: str, sentence: str, *, path: str, line: int, text: str = "", detail: Sequence[str] = ()
    ) -> None:
        super().__init__(sentence, where=Place(path, line, text), detail=detail)
        self.kind = kind
        self.sentence = sentence
        self.path = path
        self.line = line


# --- bytes ------------------------------------------------------------------------------------

_BOM: Final = b"\xef\xbb\xbf"


def page_id(data: bytes) -> str:
    """Name a page by its content: equals `git hash-object --no-filters` of the normalised bytes."""
    kept = _even_out(data)
    return hashlib.sha1(b"blob %d\0" % len(kept) + kept, usedforsecurity=False).hexdigest()


def normalise(data: bytes, path: str) -> bytes:
    """Give the bytes as the book keeps them. Refuses (PageFault) what `decode` refuses."""
    decode(data, path)
    return _even_out(data)


def decode(data: bytes, path: str) -> str:
    """Give a page's text: UTF-8, no byte order mark, LF, a line end last.

    PageFault `size` over a million bytes, `bytes` where it is not UTF-8.
    """
    if len(data) > MAX_BYTES:
        raise _too_long(path)
    try:
        return _even_out(data).decode("utf-8")
    except UnicodeDecodeError as fault:
        raise PageFault(
            "bytes",
            "This page is not saved as UTF-8, so some of its letters cannot be read.",
            path=path,
            line=_even_out(data).count(b"\n", 0, fault.start) + 1,
            detail=("Open it in your editor and save it with the encoding UTF-8.",),
        ) from None


def _even_out(data: bytes) -> bytes:
    while data.startswith(_BOM):
        data = data[len(_BOM) :]
    data = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return data if not data or data.endswith(b"\n") else data + b"\n"


def _too_long(path: str) -> PageFault:
    return PageFault(
        "size",
        "This page is longer than a page of a book can be (1 MB).",
        path=path,
        line=1,
        detail=("Put long notes and pictures into files of their own.",),
    )


# --- what a plain value means: the one table ----------------------------------------------------

# A plain value is text unless it stands here. So `no`, `12:30`, `0o7`, `010`, `1_000`, `.5`, `+5`,
# `~`, `.nan` and `2026-11-18` read as typed, whatever another reader would make of them.
_WORDS: Final[Mapping[str, bool | None]] = {"": None, "null": None, "true": True, "false": False}
_NUMBER: Final = re.compile(r"-?(?P<whole>0|[1-9][0-9]*)(?P<part>\.[0-9]+)?(?:[eE](?P<power>[+-]?[0-9]+))?")
_MAX_DIGITS: Final = 30
_MAX_POWER: Final = 99


def resolve(text: str) -> Scalar:
    """Say what an unquoted value means: JSON's numbers and words, else the text itself.

    Whole numbers become int, others Decimal with their digits kept (`1.10`). A number of more
    than 30 digits, or with a power beyond 99 either way, stays text.
    """
    if text in _WORDS:
        return _WORDS[text]
    number = _NUMBER.fullmatch(text)
    if number is None:
        return text
    whole, part, power = number["whole"], number["part"], number["power"]
    # the length is looked at first, so that no long row of digits is ever worked out
    if len(whole) + len(part or ".") - 1 > _MAX_DIGITS:
        return text
    if power is not None and (len(power) > 5 or abs(int(power)) > _MAX_POWER):
        return text
    return int(text) if part is None and power is None else Decimal(text)


# --- reading ------------------------------------------------------------------------------------


def read(text: str, *, path: str) -> Page:
    """Read a page. `path` is its name in messages. PageFault says what cannot be read, and where."""
    if not text.endswith("\n"):
        text += "\n"
    try:
        return _read(text, path)
    except PageFault as fault:
        raise _with_line_put_right(fault, text) from None


def _read(text: str, path: str) -> Page:
    _look_over(text, path)
    return Page(text=text, root=_Builder(text, path).page(), path=path)


# What neither a keyboard nor the book's own writer puts raw into a page. Among them are the other
# line ends that YAML knows (U+0085, U+2028, U+2029), on which editors and readers disagree.
_UNSEEN: Final = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]")
_TWO_VERSIONS: Final = re.compile(r"^(?:<<<<<<< |=======$|>>>>>>> )", re.MULTILINE)
_TAB_SET_IN: Final = re.compile(r"^ *\t", re.MULTILINE)
_DIRECTIVE: Final = re.compile(r"^%", re.MULTILINE)
_PAGE_MARK: Final = re.compile(r"^(?:---|\.\.\.)(?=[ \n])", re.MULTILINE)
_CONTENT: Final = re.compile(r"^ *[^#\s]", re.MULTILINE)


def _look_over(text: str, path: str) -> None:
    """Refuse what shows before the text is taken apart."""
    if (found := _UNSEEN.search(text)) is not None:
        sign = f"U+{ord(found[0]):04X}"
        _refuse(
            "control",
            "A character that cannot be seen stands in this line.",
            (text, path, found.start()),
            f"Its number is {sign}. Type the line again without it.",
        )
    if len(text) > MAX_BYTES or len(text.encode()) > MAX_BYTES:
        raise _too_long(path)
    _look_for_two_versions(text, path)
    if (found := _TAB_SET_IN.search(text)) is not None:
        _refuse("tab", "This line is set in with a tab.", (text, path, found.start()), "Use spaces instead.")
    if (found := _DIRECTIVE.search(text)) is not None:
        _refuse(
            "directive",
            "A line of a page cannot begin with a percent sign.",
            (text, path, found.start()),
            "Take the line out, or put # before it to make it a remark.",
        )
    _look_for_second_page(text, path)


def _look_for_two_versions(text: str, path: str) -> None:
    found = _TWO_VERSIONS.search(text)
    if found is None:
        return
    first, last = _line_at(text, found.start()), 0
    closing = re.compile(r"^>>>>>>> ", re.MULTILINE).search(text, found.start())
    if closing is not None:
        last = _line_at(text, closing.start())
    if last > first:
        _refuse(
            "two versions",
            f"Two versions of this page stand in it, one after the other, lines {first} to {last}.",
            (text, path, found.start()),
            "Keep the lines you want, and take out the others and the lines of <, = and >.",
        )
    _refuse(
        "two versions",
        "This line is left over from two versions of this page standing one after the other.",
        (text, path, found.start()),
        "Take the line out, and see that the lines about it stand as you want them.",
    )


def _look_for_second_page(text: str, path: str) -> None:
    """Allow one opening `---` and one closing `...`; everything else would be a second page."""
    closed = False
    for mark in _PAGE_MARK.finditer(text):
        opens = text.startswith("---", mark.start())
        if closed or (opens and _CONTENT.search(text, 0, mark.start())):
            break
        if not opens and _CONTENT.search(text, mark.end()):
            break
        closed = True if not opens else closed
        if opens and re.compile(r"--- *(?:#.*)?\n").match(text, mark.start()) is None:
            break
    else:
        return
    _refuse(
        "documents",
        "This line would end the page and begin another in the same file.",
        (text, path, mark.start()),
        "Take the line out, or put what follows into a file of its own.",
    )


def _line_at(text: str, offset: int) -> int:
    return text.count("\n", 0, offset) + 1


def _line_text(text: str, line: int) -> str:
    lines = text.split("\n", line)
    return lines[line - 1] if line <= len(lines) else ""


def _refuse(kind: str, sentence: str, at: tuple[str, str, int], *detail: str) -> NoReturn:
    """Raise a PageFault at `at`: the text, the page's name, the offset."""
    text, path, offset = at
    line = _line_at(text, offset)
    raise PageFault(kind, sentence, path=path, line=line, text=_line_text(text, line), detail=detail)


@cache
def _parser() -> Callable[[str], Iterator[Any]]:
    """Find the parser, once: the compiled one, with which a page is read some ten times as fast, or the other.

    Loaded here, so that commands that read no page do not wait for it.
    """
    try:
        from _ruamel_yaml import CParser
    except ImportError:
        return pure_events

    def events(text: str) -> Iterator[Any]:
        return iter(CParser(text).get_event, None)

    return events


def pure_events(text: str) -> Iterator[Any]:
    """Yield the events of ruamel's own parser, which needs no compiled part."""
    from ruamel.yaml import YAML

    yield from YAML(typ="safe", pure=True).parse(text)


_SURROGATE: Final = re.compile("[\ud800-\udfff]")
_BLOCK_HEAD: Final = re.compile(r"[|>](?:[+-]?[1-9]?|[1-9][+-]) *(?: #[^\n]*)?\n")
_SPACES_ONLY: Final = re.compile(r" +\n")
_COLON: Final = re.compile(r" *:")
_SKIP: Final = re.compile(r"(?:[ \t\n]+|#[^\n]*)*")


class _Builder:
    """Makes the tree from the parser's events.

    The two parsers differ in a few corners: one accepts what the other refuses (a tab between
    words, `[b:2]`, `[why?]`, a remark glued to a block mark, half of a character pair). The rule:
    text that either parser refuses is refused, so that a page never depends on which one is there.
    The checks below stand for the parser that is not asked.
    """

    __slots__ = ("events", "path", "text")

    def __init__(self, text: str, path: str) -> None:
        self.text = text
        self.path = path
        self.events = _parser()(text)

    def page(self) -> MapNode:
        from ruamel.yaml.error import YAMLError

        try:
            return self._root()
        except YAMLError as fault:
            raise self._does_not_parse(fault) from None
        except (ValueError, OverflowError):
            # ruamel's own parser: an escape beyond the last character there is
            raise self._does_not_parse(None) from None

    def _root(self) -> MapNode:
        next(self.events)  # the stream begins
        event = next(self.events)
        if type(event).__name__ == "StreamEndEvent":
            self._refuse("empty", "There is nothing on this page.", 0, "Write its first line, or remove it.")
        root = self._node(next(self.events), 0, False)
        for _ in self.events:  # to the end, so that a fault further down is met
            pass
        if not isinstance(root, MapNode):
            self._refuse(
                "root",
                "A page is made of names, each with a colon and what belongs to it.",
                root.start,
                "Begin with a line such as this one:",
                "  title: Market roll",
            )
        if "\t" in self.text:
            self._check_tabs(root)
        return root

    def _node(self, event: Any, depth: int, flow: bool) -> Node:
        kind = type(event).__name__
        if kind == "AliasEvent" or event.anchor is not None:
            self._refuse_sign("anchor", "*" if kind == "AliasEvent" else "&", event)
        if event.tag is not None:
            self._refuse_sign("tag", "!", event)
        if kind == "ScalarEvent":
            return self._scalar(event, flow)
        if depth >= MAX_DEPTH:
            self._refuse(
                "depth",
                f"This page is set in more than {MAX_DEPTH} levels deep.",
                event.start_mark.index,
                "Write it with fewer levels.",
            )
        if kind == "MappingStartEvent":
            return self._map(event, depth + 1)
        return self._list(event, depth + 1)

    def _refuse_sign(self, kind: str, sign: str, event: Any) -> NoReturn:
        self._refuse(
            kind,
            f"A value cannot begin with {sign} unless it is in quotes.",
            event.start_mark.index,
            "Put quotes around it, or write out what it stands for.",
        )

    def _scalar(self, event: Any, flow: bool) -> ScalarNode:
        style = event.style or ""
        start, end = event.start_mark.index, event.end_mark.index
        value: Scalar = event.value
        if not style:
            if flow:
                self._check_in_brackets(event)
            value = resolve(event.value)
        elif style in "|>":
            end = self._block_end(start, end)
        elif style == '"':
            self._check_characters(event)
        return ScalarNode(value=value, start=start, end=end, line=event.start_mark.line + 1, style=style)

    def _check_characters(self, event: Any) -> None:
        if _SURROGATE.search(event.value):
            self._refuse("syntax", _UNREADABLE, event.start_mark.index, _HALF_CHARACTER)

    def _check_in_brackets(self, event: Any) -> None:
        if not event.style and (":" in event.value or "?" in event.value):
            self._refuse_in_brackets(event.start_mark.index)

    def _refuse_in_brackets(self, start: int) -> NoReturn:
        self._refuse("syntax", _BRACKETS, start, _BRACKETS_SO)

    def _block_end(self, start: int, end: int) -> int:
        """End of the last line that belongs to a block text, without its line end."""
        head = _BLOCK_HEAD.match(self.text, start)
        if head is None:
            self._refuse("syntax", _UNREADABLE, start, "Put a space before #.")
        if self.text.startswith(" ", head.end()) and _SPACES_ONLY.match(self.text, head.end()):
            self._refuse("syntax", _UNREADABLE, start, "The line under it holds only spaces. Take that out.")
        if "+" in head[0].partition("#")[0]:  # the blank lines after it are part of it
            return max(end - 1, head.end() - 1)
        content = len(self.text[start:end].rstrip(" \t\n"))
        line_end = self.text.find("\n", start + content, end)
        return line_end if line_end >= 0 else end

    def _list(self, event: Any, depth: int) -> ListNode:
        start, line, flow = event.start_mark.index, event.start_mark.line + 1, bool(event.flow_style)
        items: list[Node] = []
        end = counted = start
        line_now = line  # of the place `counted`
        while type(event := next(self.events)).__name__ != "SequenceEndEvent":
            if flow and type(event).__name__ == "MappingStartEvent" and self.text[event.start_mark.index] != "{":
                self._refuse_in_brackets(event.start_mark.index)
            item = self._node(event, depth, flow)
            if _is_empty(item) and not flow:
                dash = next_sign(self.text, end)
                line_now, counted = line_now + self.text.count("\n", counted, dash), dash
                item = _empty_at(dash + 1, line_now)
            items.append(item)
            end = item.end
        if flow:
            end = event.end_mark.index
        return ListNode(items=tuple(items), start=start, end=end, line=line, flow=flow)

    def _map(self, event: Any, depth: int) -> MapNode:
        start, line, flow = event.start_mark.index, event.start_mark.line + 1, bool(event.flow_style)
        entries: list[Entry] = []
        lines: dict[str, int] = {}
        end = start + 1 if flow else start
        while type(event := next(self.events)).__name__ != "MappingEndEvent":
            key, value_at = self._key(event, end, flow)
            key_line = event.start_mark.line + 1
            if key in lines:
                self._refuse(
                    "duplicate",
                    f"{key} stands twice, in line {lines[key]} and in line {key_line}.",
                    event.start_mark.index,
                    "Keep one of the two, or give one another name.",
                )
            lines[key] = key_line
            node = self._node(next(self.events), depth, flow)
            if _is_empty(node):
                node = _empty_at(value_at, key_line)
            entries.append(
                Entry(
                    key=key,
                    key_start=event.start_mark.index,
                    key_end=event.end_mark.index,
                    key_line=key_line,
                    node=node,
                )
            )
            end = node.end
        if flow:
            end = event.end_mark.index
        return MapNode(entries=tuple(entries), start=start, end=end, line=line, flow=flow)

    def _key(self, event: Any, before: int, flow: bool) -> tuple[str, int]:
        """Give a name, always as text, and where its value may begin: behind the colon."""
        start, end = event.start_mark.index, event.end_mark.index
        kind = type(event).__name__
        if kind == "AliasEvent" or event.anchor is not None:
            self._refuse_sign("anchor", "*" if kind == "AliasEvent" else "&", event)
        if kind == "ScalarEvent":
            if event.tag is not None:
                self._refuse_sign("tag", "!", event)
            if flow:
                self._check_in_brackets(event)
            key, style = str(event.value), event.style or ""
            if key == "<<" and not style:
                self._refuse("merge", "A line cannot begin with <<.", start, "Write the lines out in full.")
            if style == '"':
                self._check_characters(event)
            colon = _COLON.match(self.text, end)
            # a `?` before a name is YAML's other way of writing one; a `|` or `>` needs it
            if colon and end > start and "?" not in _REMARK.sub("", self.text[before:start]):
                return key, colon.end()
        self._refuse(
            "key",
            "Here should stand a name, a colon, a space and then the value.",
            start,
            "A name is words only, in one line.",
        )

    def _check_tabs(self, root: MapNode) -> None:
        """Allow tabs inside quotes, block text and remarks, where both parsers take them."""
        at = 0
        for start, end in (*spans(root), (len(self.text), len(self.text))):
            for found in _REMARK_OR_TAB.finditer(self.text, at, start):
                if found[0] == "\t":
                    self._refuse_tab(found.start())
            if self.text[start:end].startswith(QUOTES) or (at := self.text.find("\t", start, end)) < 0:
                at = end
            else:
                self._refuse_tab(at)

    def _refuse_tab(self, at: int) -> NoReturn:
        self._refuse("tab", "A tab stands in this line.", at, "Put spaces in its place.")

    def _does_not_parse(self, fault: Any) -> PageFault:
        """Say where the parser stopped: at its problem, or where the piece began that never ends."""
        mark = getattr(fault, "problem_mark", None)
        context = getattr(fault, "context_mark", None)
        at = mark.index if mark is not None else 0
        if context is not None and (at >= len(self.text.rstrip()) or "quoted" in (fault.context or "")):
            mark, at = context, context.index
        line = min(_line_at(self.text, at), self.text.count("\n"))
        if "\t" in (words := _line_text(self.text, line)):
            return PageFault(
                "tab",
                "A tab stands in this line.",
                path=self.path,
                line=line,
                text=words,
                detail=("Put spaces in its place.",),
            )
        sentence, detail = (_BRACKETS, (_BRACKETS_SO,)) if _SIGN_INSIDE.search(words) else (_UNREADABLE, _LOOK_AT)
        return PageFault("syntax", sentence, path=self.path, line=line, text=words, detail=detail)

    def _refuse(self, kind: str, sentence: str, at: int, *detail: str) -> NoReturn:
        _refuse(kind, sentence, (self.text, self.path, at), *detail)


_UNREADABLE: Final = "This line cannot be read as it stands."
_BRACKETS: Final = "Inside brackets, words with a colon or a question mark need quotes."
_BRACKETS_SO: Final = 'Write them so: ["so?"], or give each a line of its own.'
_SIGN_INSIDE: Final = re.compile(r"""[\[{][^\[\]{}"'#]*(?:\?|:[^ ])""")
_HALF_CHARACTER: Final = "One of the characters written with a backslash in it does not exist."
_LOOK_AT: Final = (
    "See that each name is followed by a colon and a space, that quotes and brackets are closed,",
    "and that the line is set in as far as the lines it belongs with.",
)
_REMARK_OR_TAB: Final = re.compile(r"#[^\n]*|\t")
_REMARK: Final = re.compile(r"#[^\n]*")
QUOTES: Final = ("'", '"', "|", ">")  # how a value begins that is not plain; no plain value does


def _empty_at(at: int, line: int) -> ScalarNode:
    return ScalarNode(value=None, start=at, end=at, line=line, style="")


def _is_empty(node: Node) -> bool:
    return isinstance(node, ScalarNode) and not node.style and node.start == node.end


def next_sign(text: str, at: int) -> int:
    """Skip spaces, line ends and remarks."""
    found = _SKIP.match(text, at)
    return found.end() if found else at


def spans(node: Node) -> Iterator[tuple[int, int]]:
    """Yield where each name and value stands, in order. Between them are only signs, space and remarks."""
    if isinstance(node, ScalarNode):
        yield node.start, node.end
    elif isinstance(node, ListNode):
        for item in node.items:
            yield from spans(item)
    else:
        for entry in node.entries:
            yield entry.key_start, entry.key_end
            yield from spans(entry.node)


# --- a line put right ---------------------------------------------------------------------------

_MENDABLE: Final = frozenset({"syntax", "anchor", "tag", "key"})
_SIGNS: Final = frozenset({"anchor", "tag"})
_LINES_BACK: Final = 20
_MAX_TRIED: Final = 20_000  # each line tried is one more reading of the whole page
_MAX_LINE: Final = 500
_WANTS_QUOTES: Final = re.compile(
    r"(?P<head> *(?:- +)*)(?P<name>[^\s:#\"'][^:#\"']*: +)?(?P<value>\S.*?)(?P<remark> +#.*)?"
)
# a list, block text or quotes were meant, and more quotes would only hide the slip
_NOT_WORDS: Final = re.compile(r"""[\[{](?:[^\]}]*|.*[\]}])|[|>][-+0-9]* *(?:#.*)?|"[^"]*"|'[^']*'""")
_WANTS_SPACE: Final = re.compile(r"(?P<name> *(?:- +)*[^\s:#\"'-][^:#\"']*:)(?P<value>[^\s:].*)")


def _with_line_put_right(fault: PageFault, text: str) -> PageFault:
    """Add the line as it should be to a fault, if quotes or a space mend it. Found by trying.

    A quote that is never closed shows only further down, so lines above are tried as well.
    """
    if fault.kind not in _MENDABLE or len(text) > _MAX_TRIED:
        return fault
    lines = text.split("\n")
    for number in range(fault.line, max(0, fault.line - _LINES_BACK), -1):
        typed = lines[number - 1]
        for sentence, better in _better_lines(typed):
            tried = "\n".join([*lines[: number - 1], better, *lines[number:]])
            if _first_fault_line(tried, fault.path) > fault.line:
                return PageFault(
                    fault.kind,
                    fault.sentence if fault.kind in _SIGNS else sentence,
                    path=fault.path,
                    line=number,
                    text=typed,
                    detail=("Write it so:", f"  {better}"),
                )
    return fault


def _better_lines(line: str) -> Iterator[tuple[str, str]]:
    if len(line) > _MAX_LINE:
        return
    found = _WANTS_QUOTES.fullmatch(line)
    if found and (found["name"] or "-" in found["head"]) and not _NOT_WORDS.fullmatch(found["value"]):
        head, value, rest = found["head"] + (found["name"] or ""), found["value"], found["remark"] or ""
        yield "The words in this line need quotes.", f"{head}{_in_quotes(value)}{rest}"
    found = _WANTS_SPACE.fullmatch(line)
    if found:
        yield "A space is missing behind the colon.", f"{found['name']} {found['value']}"


def _in_quotes(words: str) -> str:
    """Quote as a baker would: the other kind of quotes where the words hold the first."""
    if ('"' in words or "\\" in words) and "'" not in words:
        return f"'{words}'"
    return double_quoted(words)


def _first_fault_line(text: str, path: str) -> float:
    try:
        _read(text, path)
    except PageFault as fault:
        return fault.line
    return float("inf")


# --- looking into a page ------------------------------------------------------------------------


def plain(node: Node) -> Plain:
    """Give a node as dicts, lists and scalars; whole numbers are int, other numbers Decimal."""
    if isinstance(node, ScalarNode):
        return node.value
    if isinstance(node, ListNode):
        return [plain(item) for item in node.items]
    return {entry.key: plain(entry.node) for entry in node.entries}


def entry_of(node: MapNode, key: str) -> Entry | None:
    """Give the line of a name, or None."""
    return next((entry for entry in node.entries if entry.key == key), None)


def find(node: Node, path: Path) -> Node | None:
    """Give the node at a path of names and places (from 0), or None."""
    for step in path:
        if isinstance(node, MapNode) and isinstance(step, str):
            entry = entry_of(node, step)
            if entry is None:
                return None
            node = entry.node
        elif isinstance(node, ListNode) and isinstance(step, int) and 0 <= step < len(node.items):
            node = node.items[step]
        else:
            return None
    return node


def line_of(page: Page, path: Path) -> int:
    """Give the line a path stands in, from 1; that of the nearest part there is, if it is not there."""
    node: Node = page.root
    line = node.line
    for step in path:
        entry = entry_of(node, step) if isinstance(node, MapNode) and isinstance(step, str) else None
        below = entry.node if entry else find(node, (step,))
        if below is None:
            break
        node, line = below, entry.key_line if entry else below.line
    return line


# --- writing --------------------------------------------------------------------------------------

# Stricter than YAML, so that no reader stumbles and no pair of parsers differs: a text that begins
# with a sign, holds ": " or " #", or has space at an end goes into quotes.
_NOT_PLAIN: Final = re.compile(r"""^[\s!&*?:|>'"%@`#{}\[\],<=]|^-(?:\s|$|--)|^\.\.\.|:(?:\s|$)|\s\#|\s$|[\n\t]""")
_NOT_PLAIN_IN_BRACKETS: Final = re.compile(r"^-|[,\[\]{}:?#]")
_ESCAPED: Final = re.compile(r'["\\\n\t]|' + _UNSEEN.pattern)
_ESCAPES: Final = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r", "\0": "\\0"}


def scalar_text(value: Scalar, *, context: Literal["block", "flow"] = "block") -> str:
    """Write a value so that it reads as the same: plain where that can be, else in double quotes.

    Always one line. The context `flow` is the inside of brackets. ValueError for a number that would not
    read as a number (too long, too large, not finite) and for half of a character pair.
    """
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _text(value, flow=context == "flow", is_plain=resolve(value) == value)
    typed = str(value)
    if isinstance(resolve(typed), str) or resolve(typed) != value:
        raise ValueError(f"{typed} would not be read as a number")
    return typed


def key_text(key: str, *, flow: bool = False) -> str:
    """Write a name; names are always text, so `2026` needs no quotes."""
    return _text(key, flow=flow, is_plain=key != "")


def _text(words: str, *, flow: bool, is_plain: bool) -> str:
    signs = _NOT_PLAIN.search(words) or _UNSEEN.search(words)
    if not is_plain or signs or (flow and _NOT_PLAIN_IN_BRACKETS.search(words)):
        return double_quoted(words)
    return words


def needs_escapes(words: str) -> bool:
    """Say whether words hold what cannot stand in single quotes in one line."""
    return "\n" in words or _UNSEEN.search(words) is not None


def double_quoted(words: str) -> str:
    """Put words in double quotes, in one line. ValueError for half of a character pair."""
    if _SURROGATE.search(words):
        raise ValueError("half of a character pair cannot be written")
    return '"' + _ESCAPED.sub(lambda found: _ESCAPES.get(found[0]) or f"\\u{ord(found[0]):04x}", words) + '"'


def dump(data: Mapping[str, Plain]) -> str:
    """Write a new page in house style: set in by two, lists by two under their name, one fact a line."""
    return "".join(f"{line}\n" for line in map_lines(data)) if data else "{}\n"


def map_lines(data: Mapping[str, Plain]) -> list[str]:
    """Give the lines of names with values, not set in."""
    lines: list[str] = []
    for key, value in data.items():
        name = key_text(key)
        if isinstance(value, Mapping | list) and value:
            below = map_lines(value) if isinstance(value, Mapping) else list_lines(value)
            lines += [f"{name}:", *(f"  {line}" for line in below)]
        else:
            lines.append(f"{name}: {flow_text(value)}")
    return lines


def list_lines(values: Sequence[Plain]) -> list[str]:
    """Give the lines of values, each behind a dash, not set in."""
    lines: list[str] = []
    for value in values:
        if isinstance(value, Mapping | list) and value:
            first, *rest = map_lines(value) if isinstance(value, Mapping) else list_lines(value)
            lines += [f"- {first}", *(f"  {line}" for line in rest)]
        else:
            lines.append(f"- {flow_text(value)}")
    return lines


def flow_text(value: Plain, *, inside: bool = False) -> str:
    """Write a value in one line, collections in brackets; `inside` if it stands in brackets itself."""
    if isinstance(value, Mapping):
        pairs = (f"{key_text(key, flow=True)}: {flow_text(item, inside=True)}" for key, item in value.items())
        return "{" + ", ".join(pairs) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(flow_text(item, inside=True) for item in value) + "]"
    return scalar_text(value, context="flow" if inside else "block")
