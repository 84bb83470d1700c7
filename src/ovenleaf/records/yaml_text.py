"""A page's text taken apart by a parser, and made into a tree that knows where each piece stands.

The only module that touches ruamel. It knows what the parsers tell of a text; it knows nothing of
formulas, trials or schemas. Nothing here changes a page: that is `splice`.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, Any, Final, NoReturn

from ovenleaf.records import plain_lines
from ovenleaf.records.corners import (
    block_end,
    check_characters,
    check_in_brackets,
    check_tabs,
    refuse_in_brackets,
    unreadable,
)
from ovenleaf.records.first_look import look_over
from ovenleaf.records.mending import with_line_put_right
from ovenleaf.records.nodes import Entry, ListNode, MapNode, Page, ScalarNode
from ovenleaf.records.page_fault import PageFault, refuse
from ovenleaf.records.places import REMARK, next_sign
from ovenleaf.records.scalars import resolve

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from ovenleaf.records.nodes import Node, Scalar
    from ovenleaf.records.page_fault import Spot

MAX_DEPTH: Final = 50
_COLON: Final = re.compile(r" *:")


def read(text: str, *, path: str) -> Page:
    """Read a page. `path` is its name in messages. PageFault says what cannot be read, and where."""
    if not text.endswith("\n"):
        text += "\n"
    try:
        return _read(text, path)
    except PageFault as fault:
        raise with_line_put_right(fault, text, _first_fault_line) from None


def _read(text: str, path: str) -> Page:
    look_over(text, path)
    return Page(text=text, root=plain_lines.tree(text) or _Builder(text, path).page(), path=path)


def _first_fault_line(text: str, path: str) -> float:
    try:
        _read(text, path)
    except PageFault as fault:
        return fault.line
    return float("inf")


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


class _Builder:
    """Makes the tree from the parser's events.

    The two parsers differ in a few corners: one accepts what the other refuses (a tab between
    words, `[b:2]`, `[why?]`, a remark glued to a block mark, half of a character pair). The checks
    of `corners` stand for the parser that is not asked.
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
            raise unreadable(self._spot(_stopped_at(fault, self.text))) from None
        except (ValueError, OverflowError):
            # ruamel's own parser: an escape beyond the last character there is
            raise unreadable(self._spot(0)) from None

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
            check_tabs(self.text, self.path, root)
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
                check_in_brackets(event.value, self._spot(start))
            value = resolve(event.value)
        elif style in "|>":
            end = block_end(self._spot(start), end)
        elif style == '"':
            check_characters(event.value, self._spot(start))
        return ScalarNode(value=value, start=start, end=end, line=event.start_mark.line + 1, style=style)

    def _list(self, event: Any, depth: int) -> ListNode:
        start, line, flow = event.start_mark.index, event.start_mark.line + 1, bool(event.flow_style)
        items: list[Node] = []
        end = counted = start
        line_now = line  # of the place `counted`
        while type(event := next(self.events)).__name__ != "SequenceEndEvent":
            if flow and type(event).__name__ == "MappingStartEvent" and self.text[event.start_mark.index] != "{":
                refuse_in_brackets(self._spot(event.start_mark.index))
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
            key, style = str(event.value), event.style or ""
            if flow and not style:
                check_in_brackets(key, self._spot(start))
            if key == "<<" and not style:
                self._refuse("merge", "A line cannot begin with <<.", start, "Write the lines out in full.")
            if style == '"':
                check_characters(key, self._spot(start))
            colon = _COLON.match(self.text, end)
            # a `?` before a name is YAML's other way of writing one; a `|` or `>` needs it
            if colon and end > start and "?" not in REMARK.sub("", self.text[before:start]):
                return key, colon.end()
        self._refuse(
            "key",
            "Here should stand a name, a colon, a space and then the value.",
            start,
            "A name is words only, in one line.",
        )

    def _refuse(self, kind: str, sentence: str, at: int, *detail: str) -> NoReturn:
        refuse(kind, sentence, self._spot(at), *detail)

    def _spot(self, at: int) -> Spot:
        return self.text, self.path, at


def _stopped_at(fault: Any, text: str) -> int:
    """Give the offset of the parser's problem, or of the beginning of the piece that never ends."""
    mark, context = getattr(fault, "problem_mark", None), getattr(fault, "context_mark", None)
    at: int = mark.index if mark is not None else 0
    never_ends = any(piece in (fault.context or "") for piece in ("quoted", "flow"))
    if context is not None and (at >= len(text.rstrip()) or never_ends):
        at = context.index
    return at


def _empty_at(at: int, line: int) -> ScalarNode:
    return ScalarNode(value=None, start=at, end=at, line=line, style="")


def _is_empty(node: Node) -> bool:
    return isinstance(node, ScalarNode) and not node.style and node.start == node.end
