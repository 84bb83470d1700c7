"""Changes to a page's text, one place at a time, leaving every other character as the baker typed it.

Works on the places that `yaml_text` found. Each change is read again and compared with what was
meant before it is given out. Knows nothing of files, nor of what the names on a page mean.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final, NamedTuple

from ovenleaf.records import yaml_text as yt

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from ovenleaf.records.yaml_text import Entry, ListNode, MapNode, Node, Page, Path, Plain, Scalar

LAST: Final = "last"
_SET_IN: Final = 2
_REMARK: Final = re.compile(r"#[^\n]*")
_TAIL: Final = re.compile(r"(?: *(?:#[^\n]*)?\n)*")
_BLOCK_HEAD: Final = re.compile(r"[^\n#]*?(?P<remark>#[^\n]*)?(?=\n|\Z)")


class SpliceFault(RuntimeError):
    """A change came out other than meant, or was asked of a place that is not there: our own fault."""


class _Edit(NamedTuple):
    """Put `words` in the place of `text[start:end]`."""

    start: int
    end: int
    words: str


def remarks(page: Page) -> Iterator[tuple[int, int]]:
    """Yield where each remark of the page stands, from its # to the end of its line."""
    at = 0
    for start, end in (*yt.spans(page.root), (len(page.text), len(page.text))):
        yield from (found.span() for found in _REMARK.finditer(page.text, at, start))
        if page.text.startswith(("|", ">"), start):
            found = _BLOCK_HEAD.match(page.text, start, end)
            if found and found["remark"]:
                yield found.span("remark")
        at = end


# --- a value ------------------------------------------------------------------------------------


def set_value(page: Page, path: Path, new: Scalar) -> str:
    """Give the text with another value at `path`. Quotes stay quotes; a remark keeps its column if it can.

    SpliceFault if there is no single value at `path`.
    """
    node = yt.find(page.root, path)
    if not isinstance(node, yt.ScalarNode):
        raise SpliceFault(f"no single value at {path!r}")
    if type(node.value) is type(new) and str(node.value) == str(new):
        return page.text
    words = _words(node, new, flow=_inside_brackets(page, path))
    if node.start == node.end:
        words = f" {words}"
    return _done(page, _with_remark(page, node, words), _meant(page, path, lambda _: new))


def _words(node: yt.ScalarNode, new: Scalar, *, flow: bool) -> str:
    if isinstance(new, str) and node.style == "'" and not yt.needs_escapes(new):
        return "'" + new.replace("'", "''") + "'"
    if isinstance(new, str) and node.style in ("'", '"'):
        return yt.double_quoted(new)
    return yt.scalar_text(new, context="flow" if flow else "block")


def _with_remark(page: Page, node: yt.ScalarNode, words: str) -> _Edit:
    """Replace a value, and widen or narrow the space before the remark behind it."""
    text, end = page.text, node.end
    line_end = _line_end(text, end)
    if node.style in ("|", ">"):
        head = _BLOCK_HEAD.match(text, node.start, end)
        kept = f"  {head['remark']}" if head and head["remark"] else ""
        return _Edit(node.start, end, words + kept)
    behind = next((start for start, _ in remarks(page) if end <= start < line_end), None)
    if behind is None:
        return _Edit(node.start, end, words)
    between = text[end:behind]
    signs = between.rstrip(" ")
    # where it stood, unless the new value is in the way: then one space, or as glued as it was
    least = min(1, len(between) - len(signs))
    was = behind - _line_start(text, behind)
    now = node.start - _line_start(text, node.start) + len(words) + len(signs)
    return _Edit(node.start, behind, words + signs + " " * max(least, was - now))


# --- a new line -----------------------------------------------------------------------------------


def insert(page: Page, path: Path, key: str, value: Plain, *, after: str | None = LAST) -> str:
    """Give the text with a new name and value among those at `path`.

    It comes after the name `after`, first if that is None, and at the end if it is "last".
    A name left without a value counts as one with nothing under it yet. SpliceFault if `path`
    holds no names, `key` is there already or `after` is not.
    """
    node = _holder(page, path)
    entries = node.entries if isinstance(node, yt.MapNode) else ()
    keys = [entry.key for entry in entries]
    if isinstance(node, yt.ListNode) or key in keys:
        raise SpliceFault(f"{key!r} cannot be put in at {path!r}")
    if after not in (None, LAST, *keys):
        raise SpliceFault(f"no {after!r} at {path!r}")
    place = 0 if after is None else keys.index(after) + 1 if after in keys else len(keys)
    meant = _meant(page, path, lambda old: _with_entry(old, place, key, value))
    if isinstance(node, yt.ScalarNode):
        return _done(page, _first_below(page, path, node, yt.map_lines({key: value})), meant)
    if node.flow:
        words = f"{yt.key_text(key, flow=True)}: {yt.flow_text(value, inside=True)}"
        return _done(page, _into_brackets(page.text, node, place, words), meant)
    lines = yt.map_lines({key: value})
    column = _column(page.text, entries[0].key_start)
    if place == 0:
        start = entries[0].key_start
        words = _joined(lines, column).lstrip(" ") + "\n" + " " * column
        return _done(page, _Edit(start, start, words), meant)
    return _done(page, _below(page, entries[place - 1].node.end, column, lines), meant)


def append(page: Page, path: Path, value: Plain) -> str:
    """Give the text with a new value at the end of the list at `path`.

    A name left without a value counts as an empty list. SpliceFault if `path` holds no list.
    """
    node = _holder(page, path)
    if isinstance(node, yt.MapNode):
        raise SpliceFault(f"no list at {path!r}")
    meant = _meant(page, path, lambda old: [*(old if isinstance(old, list) else ()), value])
    lines = yt.list_lines([value])
    if isinstance(node, yt.ScalarNode):
        return _done(page, _first_below(page, path, node, lines), meant)
    if node.flow:
        words = yt.flow_text(value, inside=True)
        return _done(page, _into_brackets(page.text, node, len(node.items), words), meant)
    return _done(page, _below(page, node.end, _column(page.text, node.start), lines), meant)


def _holder(page: Page, path: Path) -> Node:
    """Find what new lines go into: names, a list, or an empty place."""
    node = yt.find(page.root, path)
    if node is None or (isinstance(node, yt.ScalarNode) and (node.start != node.end or node.style)):
        raise SpliceFault(f"nothing can be put in at {path!r}")
    return node


def _into_brackets(text: str, node: MapNode | ListNode, place: int, words: str) -> _Edit:
    spans = _places(text, node)
    if not spans:
        return _Edit(node.start + 1, node.start + 1, words)
    if place == 0:
        return _Edit(spans[0][0], spans[0][0], f"{words}, ")
    end = spans[place - 1][1]
    # inside brackets a colon with nothing behind it needs a space to be one
    return _Edit(end, end, f" , {words}" if text[end - 1] == ":" else f", {words}")


def _below(page: Page, end: int, column: int, lines: list[str]) -> _Edit:
    """Put lines under the line in which a value ends, and under remarks set in deeper than they are."""
    text = page.text
    at = _line_end(text, end)
    deeper = re.compile(rf"(?:\n[ \t]*)*\n {{{column + 1},}}#[^\n]*")
    while (found := deeper.match(text, at)) is not None:
        at = found.end()
    return _Edit(at, at, "\n" + _joined(lines, column))


def _first_below(page: Page, path: Path, node: yt.ScalarNode, lines: list[str]) -> _Edit:
    """Put the first lines under a name (or a dash) that has nothing under it yet."""
    if _inside_brackets(page, path):
        raise SpliceFault(f"nothing can be put in at {path!r}")
    above = yt.find(page.root, path[:-1])
    entry = yt.entry_of(above, str(path[-1])) if isinstance(above, yt.MapNode) else None
    column = _column(page.text, entry.key_start if entry else node.start - 1)
    at = _line_end(page.text, node.end)
    return _Edit(at, at, "\n" + _joined(lines, column + _SET_IN))


def _joined(lines: list[str], column: int) -> str:
    return "\n".join(" " * column + line for line in lines)


# --- a line less ------------------------------------------------------------------------------------


def remove(page: Page, path: Path) -> str:
    """Give the text without the name or the list's value at `path`, and without the remark behind it.

    Remarks on lines of their own around it stay. SpliceFault if it is not there, or is the only
    one: what should stand in its place is for the caller to say.
    """
    above = yt.find(page.root, path[:-1]) if path else None
    if above is None or isinstance(above, yt.ScalarNode) or yt.find(page.root, path) is None:
        raise SpliceFault(f"nothing to take out at {path!r}")
    step = path[-1]
    index = step if isinstance(step, int) else [entry.key for entry in _entries(above)].index(step)
    places = _places(page.text, above)
    if len(places) == 1:
        raise SpliceFault(f"{path!r} is the only one there")
    edit = _cut_from_brackets(page, places, index) if above.flow else _cut_lines(page, places, index)
    return _done(page, edit, _meant(page, path[:-1], lambda old: _without(old, step)))


def _entries(node: Node) -> tuple[Entry, ...]:
    return node.entries if isinstance(node, yt.MapNode) else ()


def _places(text: str, node: MapNode | ListNode) -> list[tuple[int, int]]:
    """Give the span of each line or value, from its name or dash to the end of its value."""
    if isinstance(node, yt.MapNode):
        return [(entry.key_start, entry.node.end) for entry in node.entries]
    if node.flow:
        return [(item.start, item.end) for item in node.items]
    before = [node.start, *(item.end for item in node.items)]
    return [(yt.next_sign(text, at), item.end) for at, item in zip(before, node.items, strict=False)]


def _cut_lines(page: Page, places: list[tuple[int, int]], index: int) -> _Edit:
    text = page.text
    start, end = places[index]
    line_start, line_end = _line_start(text, start), _line_end(text, end)
    if not text[line_start:start].strip(" "):
        return _with_tail(page, _Edit(line_start, line_end + 1, ""), start - line_start)
    # the first one, on the line of a dash: the next moves up to it, unless remarks stand between
    next_start = places[index + 1][0]
    if line_end + 1 == _line_start(text, next_start):
        return _Edit(start, next_start, "")
    return _Edit(start, line_end, "")


def _with_tail(page: Page, cut: _Edit, column: int) -> _Edit:
    """Keep a block text above the cut from swallowing the remarks and blank lines below it."""
    above = [page.text[start:end] for start, end in yt.spans(page.root) if end <= cut.start]
    if not above or not above[-1].startswith(("|", ">")):
        return cut
    tail = _TAIL.match(page.text, cut.end)
    lines = tail[0].splitlines(keepends=True) if tail else []
    if "+" in above[-1].partition("\n")[0].partition("#")[0]:
        lines = [line for line in lines if line.strip()]
    kept = [" " * min(column, len(line) - len(line.lstrip(" "))) + line.lstrip(" ") for line in lines]
    return _Edit(cut.start, cut.end + len(tail[0] if tail else ""), "".join(kept))


def _cut_from_brackets(page: Page, places: list[tuple[int, int]], index: int) -> _Edit:
    """Take out a value and one comma: the one behind it, for the last the one before it."""
    text = page.text
    start, end = places[index]
    last = index == len(places) - 1
    cut_from, cut_to = (places[index - 1][1], end) if last else (start, places[index + 1][0])
    if not any(cut_from <= at < cut_to for at, _ in remarks(page)):
        is_bare = text[cut_from - 1] == ":" and text[cut_to] in ",]}"
        return _Edit(cut_from, cut_to, " " if is_bare else "")
    comma = yt.next_sign(text, cut_from if last else end)
    if last:
        return _Edit(cut_from, cut_to, text[cut_from:comma] + text[comma + 1 : start])
    return _Edit(start, comma + 1, text[end:comma])


# --- what all of them share ---------------------------------------------------------------------------


def _done(page: Page, edit: _Edit, meant: Plain) -> str:
    """Make the change, read it again and compare."""
    text = page.text[: edit.start] + edit.words + page.text[edit.end :]
    try:
        now = yt.plain(yt.read(text, path=page.path).root)
    except yt.PageFault as fault:
        raise SpliceFault(f"{page.path} could not be read any more: {fault.sentence}") from fault
    if not _same(now, meant):
        raise SpliceFault(f"{page.path} came out other than meant")
    return text


def _same(one: Plain, other: Plain) -> bool:
    """Equal in order and kind: true is not 1."""
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    return isinstance(one, bool) == isinstance(other, bool) and one == other


def _meant(page: Page, path: Path, change: Callable[[Plain], Plain]) -> Plain:
    """Give the page's data as it should be: what stands at `path` changed, all else as it is."""

    def changed(data: Plain, steps: Path) -> Plain:
        if not steps:
            return change(data)
        step, rest = steps[0], steps[1:]
        if isinstance(data, dict):
            return {key: changed(value, rest) if key == step else value for key, value in data.items()}
        if isinstance(data, list):
            return [changed(value, rest) if at == step else value for at, value in enumerate(data)]
        return data

    return changed(yt.plain(page.root), path)


def _with_entry(old: Plain, place: int, key: str, value: Plain) -> Plain:
    pairs = list(old.items()) if isinstance(old, dict) else []
    return dict([*pairs[:place], (key, value), *pairs[place:]])


def _without(old: Plain, step: str | int) -> Plain:
    if isinstance(old, dict):
        return {key: value for key, value in old.items() if key != step}
    return [value for at, value in enumerate(old) if at != step] if isinstance(old, list) else old


def _inside_brackets(page: Page, path: Path) -> bool:
    above = (yt.find(page.root, path[:depth]) for depth in range(len(path)))
    return any(not isinstance(node, yt.ScalarNode) and node is not None and node.flow for node in above)


def _line_start(text: str, at: int) -> int:
    return text.rfind("\n", 0, at) + 1


def _line_end(text: str, at: int) -> int:
    return text.index("\n", at)  # a page's text ends in a line end


def _column(text: str, at: int) -> int:
    return at - _line_start(text, at)
