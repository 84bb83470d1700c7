"""A fault of a page against its schema, as facts, and the names a baker would call its parts by.

It knows our own schemas and what they say of themselves (`x-item`), and where things stand in a
page. What is said of a fault is in `schema_words`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from ovenleaf.records.nodes import ScalarNode, find

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from ovenleaf.records.nodes import Page, Plain

Schema: TypeAlias = "Mapping[str, Any]"
Steps: TypeAlias = tuple[str | int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One rule of the schema that one value breaks.

    `path` leads to the value, `schema` is the part that describes it, `whole` the schema of the
    page. With `of_name` it is not the value but that name in the block at `path` that is wrong.
    """

    rule: str
    path: Steps
    value: Plain
    schema: Schema
    whole: Schema
    page: Page
    of_name: bool = False


def name_of(fault: Fault) -> str:
    """Name the value: `crumb under noor`, `step 2`, `why in correction 1`."""
    if fault.of_name:
        return f"the name {shortened(str(fault.value))}{under(fault)}"
    if not fault.path:
        return "this page"
    # the number of an item tells its list as well
    above = fault.path[:-2] if isinstance(fault.path[-1], int) else fault.path[:-1]
    return _last(fault.path, fault.whole) + _beneath(above, fault.whole)


def under(fault: Fault) -> str:
    """Say what stands above the block at the fault's path, itself included: ` under noor`, or nothing."""
    return _beneath(fault.path, fault.whole)


def _beneath(path: Steps, whole: Schema) -> str:
    if not path:
        return ""
    return f" in {_last(path, whole)}" if isinstance(path[-1], int) else f" under {path[-1]}"


def _last(path: Steps, whole: Schema) -> str:
    last = path[-1]
    if isinstance(last, str):
        return last
    schema = _schema_at(whole, path[:-1])
    return f"{schema['x-item']} {last + 1}"


def _schema_at(schema: Schema, path: Steps) -> Schema:
    for step in path:
        if isinstance(step, int):
            schema = schema["items"]
        else:
            schema = schema.get("properties", {}).get(step) or schema["additionalProperties"]
    return schema


def what_it_is(fault: Fault) -> str:
    """Say what the value is: `it is the text 'seven'`."""
    value = fault.value
    if isinstance(value, str):
        return f"it is the text '{shortened(value)}'"
    if isinstance(value, bool):
        return f"it is {'true' if value else 'false'}"
    if isinstance(value, dict):
        return "it has lines of its own"
    if isinstance(value, list):
        return "it is a list"
    return f"it is the number {typed(fault)}"


def typed(fault: Fault) -> str:
    """Give the value as it stands in the page."""
    node = find(fault.page.root, fault.path)
    return fault.page.text[node.start : node.end] if isinstance(node, ScalarNode) else str(fault.value)


_LONG: Final = 40


def shortened(text: str) -> str:
    """Give words in one line, cut off where they run long."""
    words = " ".join(text.split())
    return words if len(words) <= _LONG else f"{words[: _LONG - 3].rstrip()}..."


def listed(words: Sequence[str], last: str) -> str:
    """Join words as they are said.

    >>> listed(("crumb", "crust", "flavour"), "or")
    'crumb, crust or flavour'
    """
    if len(words) == 1:
        return words[0]
    return f"{', '.join(words[:-1])} {last} {words[-1]}"
