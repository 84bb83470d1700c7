"""New pages, and new lines for old ones, in house style.

Knows how a page is laid out; nothing of what the names on it mean.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from ovenleaf.records.scalars import key_text, scalar_text

if TYPE_CHECKING:
    from ovenleaf.records.nodes import Plain


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
