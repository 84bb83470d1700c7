"""A change to a page's text, made, read again and compared with what was meant.

Knows what data a page should hold after a change; not where on the page the change goes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from ovenleaf.records.nodes import plain
from ovenleaf.records.page_fault import PageFault
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Callable

    from ovenleaf.records.nodes import Page, Path, Plain


class SpliceFault(RuntimeError):
    """A change came out other than meant, or was asked of a place that is not there: our own fault."""


class Edit(NamedTuple):
    """Put `words` in the place of `text[start:end]`."""

    start: int
    end: int
    words: str


def carry_out(page: Page, edit: Edit, meant: Plain) -> str:
    """Give the text with the edit made, read again and compared. SpliceFault if it holds other than `meant`."""
    text = page.text[: edit.start] + edit.words + page.text[edit.end :]
    try:
        now = plain(read(text, path=page.path).root)
    except PageFault as fault:
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


def data_after(page: Page, path: Path, change: Callable[[Plain], Plain]) -> Plain:
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

    return changed(plain(page.root), path)


def with_entry(old: Plain, place: int, key: str, value: Plain) -> Plain:
    """Give names with one more at a place, from 0; what is no names counts as none."""
    pairs = list(old.items()) if isinstance(old, dict) else []
    return dict([*pairs[:place], (key, value), *pairs[place:]])


def without(old: Plain, step: str | int) -> Plain:
    """Give names or values without one of them."""
    if isinstance(old, dict):
        return {key: value for key, value in old.items() if key != step}
    return [value for at, value in enumerate(old) if at != step] if isinstance(old, list) else old
