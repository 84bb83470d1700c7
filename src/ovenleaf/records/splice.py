"""Changes to a page's text, one place at a time, leaving every other character as the baker typed it.

Works on the places that the reader marked. Each change is read again and compared with what was
meant before it is given out. Knows nothing of files, nor of what the names on a page mean.
"""

from __future__ import annotations

import re
from itertools import dropwhile
from typing import TYPE_CHECKING, Final

from ovenleaf.records.meant import Edit, SpliceFault, carry_out, data_after, with_entry, without
from ovenleaf.records.nodes import ListNode, MapNode, ScalarNode, entry_of, find
from ovenleaf.records.places import (
    BLOCK_HEAD,
    column_of,
    end_of_line,
    inside_brackets,
    next_sign,
    places_in,
    remarks,
    spans,
    start_of_line,
)
from ovenleaf.records.scalars import double_quoted, key_text, needs_escapes, scalar_text
from ovenleaf.records.yaml_out import flow_text, list_lines, map_lines

if TYPE_CHECKING:
    from ovenleaf.records.nodes import Entry, Node, Page, Path, Plain, Scalar

LAST: Final = "last"
_SET_IN: Final = 2
_TAIL: Final = re.compile(r"(?: *(?:#[^\n]*)?\n)*")


def set_value(page: Page, path: Path, new: Scalar) -> str:
    """Give the text with another value at `path`. Quotes stay quotes; a remark keeps its column if it can.

    SpliceFault if there is no single value at `path`.
    """
    node = find(page.root, path)
    if not isinstance(node, ScalarNode):
        raise SpliceFault(f"no single value at {path!r}")
    if type(node.value) is type(new) and str(node.value) == str(new):
        return page.text
    words = _words(node, new, flow=inside_brackets(page, path))
    if node.start == node.end:
        words = f" {words}"
    return carry_out(page, _with_remark(page, node, words), data_after(page, path, lambda _: new))


def _words(node: ScalarNode, new: Scalar, *, flow: bool) -> str:
    if isinstance(new, str) and node.style == "'" and not needs_escapes(new):
        return "'" + new.replace("'", "''") + "'"
    if isinstance(new, str) and node.style in ("'", '"'):
        return double_quoted(new)
    return scalar_text(new, context="flow" if flow else "block")


def _with_remark(page: Page, node: ScalarNode, words: str) -> Edit:
    """Replace a value, and widen or narrow the space before the remark behind it."""
    text, end = page.text, node.end
    line_end = end_of_line(text, end)
    if node.style in ("|", ">"):
        head = BLOCK_HEAD.match(text, node.start, end)
        kept = f"  {head['remark']}" if head and head["remark"] else ""
        return Edit(node.start, end, words + kept)
    behind = next((start for start, _ in remarks(page) if end <= start < line_end), None)
    if behind is None:
        return Edit(node.start, end, words)
    between = text[end:behind]
    signs = between.rstrip(" ")
    # where it stood, unless the new value is in the way: then one space, or as glued as it was
    least = min(1, len(between) - len(signs))
    was = behind - start_of_line(text, behind)
    now = node.start - start_of_line(text, node.start) + len(words) + len(signs)
    return Edit(node.start, behind, words + signs + " " * max(least, was - now))


# --- a new line -----------------------------------------------------------------------------------


def insert(page: Page, path: Path, key: str, value: Plain, *, after: str | None = LAST) -> str:
    """Give the text with a new name and value among those at `path`.

    It comes after the name `after`, first if that is None, and at the end if it is "last".
    A name left without a value counts as one with nothing under it yet. SpliceFault if `path`
    holds no names, `key` is there already or `after` is not.
    """
    node = _holder(page, path)
    entries = node.entries if isinstance(node, MapNode) else ()
    keys = [entry.key for entry in entries]
    if isinstance(node, ListNode) or key in keys:
        raise SpliceFault(f"{key!r} cannot be put in at {path!r}")
    if after not in (None, LAST, *keys):
        raise SpliceFault(f"no {after!r} at {path!r}")
    place = 0 if after is None else keys.index(after) + 1 if after in keys else len(keys)
    meant = data_after(page, path, lambda old: with_entry(old, place, key, value))
    if isinstance(node, ScalarNode):
        return carry_out(page, _first_below(page, path, node, map_lines({key: value})), meant)
    if node.flow:
        words = f"{key_text(key, flow=True)}: {flow_text(value, inside=True)}"
        return carry_out(page, _into_brackets(page.text, node, place, words), meant)
    lines = map_lines({key: value})
    column = column_of(page.text, entries[0].key_start)
    if place == 0:
        start = entries[0].key_start
        words = _joined(lines, column).lstrip(" ") + "\n" + " " * column
        return carry_out(page, Edit(start, start, words), meant)
    return carry_out(page, _below(page, entries[place - 1].node.end, column, lines), meant)


def append(page: Page, path: Path, value: Plain) -> str:
    """Give the text with a new value at the end of the list at `path`.

    A name left without a value counts as an empty list. SpliceFault if `path` holds no list.
    """
    node = _holder(page, path)
    if isinstance(node, MapNode):
        raise SpliceFault(f"no list at {path!r}")
    meant = data_after(page, path, lambda old: [*(old if isinstance(old, list) else ()), value])
    lines = list_lines([value])
    if isinstance(node, ScalarNode):
        return carry_out(page, _first_below(page, path, node, lines), meant)
    if node.flow:
        words = flow_text(value, inside=True)
        return carry_out(page, _into_brackets(page.text, node, len(node.items), words), meant)
    return carry_out(page, _below(page, node.end, column_of(page.text, node.start), lines), meant)


def _holder(page: Page, path: Path) -> Node:
    """Find what new lines go into: names, a list, or an empty place."""
    node = find(page.root, path)
    if node is None or (isinstance(node, ScalarNode) and (node.start != node.end or node.style)):
        raise SpliceFault(f"nothing can be put in at {path!r}")
    return node


def _into_brackets(text: str, node: MapNode | ListNode, place: int, words: str) -> Edit:
    spans = places_in(text, node)
    if not spans:
        return Edit(node.start + 1, node.start + 1, words)
    if place == 0:
        return Edit(spans[0][0], spans[0][0], f"{words}, ")
    end = spans[place - 1][1]
    # inside brackets a colon with nothing behind it needs a space to be one
    return Edit(end, end, f" , {words}" if text[end - 1] == ":" else f", {words}")


def _below(page: Page, end: int, column: int, lines: list[str]) -> Edit:
    """Put lines under the line in which a value ends, and under remarks set in deeper than they are."""
    text = page.text
    at = end_of_line(text, end)
    deeper = re.compile(rf"(?:\n[ \t]*)*\n {{{column + 1},}}#[^\n]*")
    while (found := deeper.match(text, at)) is not None:
        at = found.end()
    return Edit(at, at, "\n" + _joined(lines, column))


def _first_below(page: Page, path: Path, node: ScalarNode, lines: list[str]) -> Edit:
    """Put the first lines under a name (or a dash) that has nothing under it yet."""
    if inside_brackets(page, path):
        raise SpliceFault(f"nothing can be put in at {path!r}")
    above = find(page.root, path[:-1])
    entry = entry_of(above, str(path[-1])) if isinstance(above, MapNode) else None
    column = column_of(page.text, entry.key_start if entry else node.start - 1)
    at = end_of_line(page.text, node.end)
    return Edit(at, at, "\n" + _joined(lines, column + _SET_IN))


def _joined(lines: list[str], column: int) -> str:
    return "\n".join(" " * column + line for line in lines)


# --- a line less ------------------------------------------------------------------------------------


def remove(page: Page, path: Path) -> str:
    """Give the text without the name or the list's value at `path`, and without the remark behind it.

    Remarks on lines of their own around it stay. SpliceFault if it is not there, or is the only
    one: what should stand in its place is for the caller to say.
    """
    above = find(page.root, path[:-1]) if path else None
    if above is None or isinstance(above, ScalarNode) or find(page.root, path) is None:
        raise SpliceFault(f"nothing to take out at {path!r}")
    step = path[-1]
    index = step if isinstance(step, int) else [entry.key for entry in _entries(above)].index(step)
    places = places_in(page.text, above)
    if len(places) == 1:
        raise SpliceFault(f"{path!r} is the only one there")
    edit = _cut_from_brackets(page, places, index) if above.flow else _cut_lines(page, places, index)
    return carry_out(page, edit, data_after(page, path[:-1], lambda old: without(old, step)))


def _entries(node: Node) -> tuple[Entry, ...]:
    return node.entries if isinstance(node, MapNode) else ()


def _cut_lines(page: Page, places: list[tuple[int, int]], index: int) -> Edit:
    text = page.text
    start, end = places[index]
    line_start, line_end = start_of_line(text, start), end_of_line(text, end)
    if not text[line_start:start].strip(" "):
        return _with_tail(page, Edit(line_start, line_end + 1, ""), start - line_start)
    # the first one, on the line of a dash: the next moves up to it, unless remarks stand between
    next_start = places[index + 1][0]
    if line_end + 1 == start_of_line(text, next_start):
        return Edit(start, next_start, "")
    return Edit(start, line_end, "")


def _with_tail(page: Page, cut: Edit, column: int) -> Edit:
    """Keep a block text above the cut from swallowing the remarks and blank lines below it."""
    above = [page.text[start:end] for start, end in spans(page.root) if end <= cut.start]
    if not above or not above[-1].startswith(("|", ">")):
        return cut
    tail = _TAIL.match(page.text, cut.end)
    lines = tail[0].splitlines(keepends=True) if tail else []
    if "+" in above[-1].partition("\n")[0].partition("#")[0]:
        lines = list(dropwhile(lambda line: not line.strip(), lines))  # behind a remark they are no more of the text
    kept = [" " * min(column, len(line) - len(line.lstrip(" "))) + line.lstrip(" ") for line in lines]
    return Edit(cut.start, cut.end + len(tail[0] if tail else ""), "".join(kept))


def _cut_from_brackets(page: Page, places: list[tuple[int, int]], index: int) -> Edit:
    """Take out a value and one comma: the one behind it, for the last the one before it."""
    text = page.text
    start, end = places[index]
    last = index == len(places) - 1
    cut_from, cut_to = (places[index - 1][1], end) if last else (start, places[index + 1][0])
    if not any(cut_from <= at < cut_to for at, _ in remarks(page)):
        is_bare = text[cut_from - 1] == ":" and text[cut_to] in ",]}"
        return Edit(cut_from, cut_to, " " if is_bare else "")
    comma = next_sign(text, cut_from if last else end)
    if last:
        return Edit(cut_from, cut_to, text[cut_from:comma] + text[comma + 1 : start])
    return Edit(start, comma + 1, text[end:comma])
