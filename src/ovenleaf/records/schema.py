"""Pages checked against their schema: every fault at once, by line, in the baker's words.

The only module that touches jsonschema, which takes long to load and so is loaded at the first
check. Dates and cross references are checked elsewhere.
"""

from __future__ import annotations

import hashlib
import json
import re
from functools import cache
from typing import TYPE_CHECKING, Any, cast

from ovenleaf.findings import Finding, Severity
from ovenleaf.records.assets import schema_text
from ovenleaf.records.nodes import line_of, plain
from ovenleaf.records.schema_fault import Fault, Schema
from ovenleaf.records.schema_words import missing, tell
from ovenleaf.records.upgrade import LATEST, NewerPage, is_newer, kind_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jsonschema import Draft202012Validator, ValidationError

    from ovenleaf.records.nodes import Page, Plain
    from ovenleaf.records.schema_words import Told


def faults(kind: str, page: Page, *, kept: bool = False) -> tuple[Finding, ...]:
    """Say all that is wrong with the page as one of `kind`, in the order of its lines.

    With `kept` it must also carry what ovenleaf writes when it keeps a page. A page by a newer
    ovenleaf gets one note and is not looked into; nor is one that says it is of another kind.
    """
    named = kind_of(page)
    if named is not None and named[0] in LATEST:
        if named[0] != kind:
            return (_other_kind(kind, named[0], page),)
        if is_newer(*named):
            return (_newer(*named, page),)
    version = named[1] if named is not None and named[0] == kind else LATEST[kind]
    told = dict.fromkeys(_told(kind, version, page, kept=kept))
    return tuple(sorted((_finding(one, page) for one in told), key=lambda one: one.line or 0))


def digest(kind: str) -> str:
    """Names what a kind's schema says, for those who remember what was found by it."""
    return hashlib.sha256(schema_text(kind, LATEST[kind]).encode()).hexdigest()[:16]


def _told(kind: str, version: int, page: Page, *, kept: bool) -> Iterator[Told]:
    whole, data = inlined(kind, version), plain(page.root)
    for error in _validator(kind, version).iter_errors(data):
        yield from tell(_fault(error, whole, page))
    if kept and isinstance(data, dict):
        top = Fault(rule="required", path=(), value=data, schema=whole, whole=whole, page=page)
        yield from (missing(top, name) for name in whole["x-stamps"] if name not in data)


def _fault(error: ValidationError, whole: Schema, page: Page) -> Fault:
    # a name's own fault has the path of the block it stands in
    named = [*error.absolute_schema_path][-2:-1] == ["propertyNames"]
    return Fault(
        rule=str(error.validator),
        path=tuple(error.absolute_path),
        value=cast("Plain", error.instance),
        schema=error.schema if isinstance(error.schema, dict) else {},
        whole=whole,
        page=page,
        of_name=named,
    )


def _finding(told: Told, page: Page) -> Finding:
    line = line_of(page, told.path)
    return Finding(
        code=told.code,
        severity=Severity.ERROR,
        path=page.path,
        line=line,
        message=told.message,
        fix=told.fix,
        text=page.text.split("\n")[line - 1].strip(),
    )


def _newer(kind: str, version: int, page: Page) -> Finding:
    refusal = NewerPage(kind, version)
    return Finding(
        code="newer-page",
        severity=Severity.NOTE,
        path=page.path,
        line=line_of(page, ("format",)),
        message=refusal.what,
        fix=" ".join(refusal.detail),
    )


def _other_kind(kind: str, named: str, page: Page) -> Finding:
    here, says = (inlined(one, LATEST[one])["x-thing"] for one in (kind, named))
    return Finding(
        code="wrong-kind",
        severity=Severity.ERROR,
        path=page.path,
        line=line_of(page, ("format",)),
        message=f"This page says that it is {says}, and here should stand {here}.",
        fix=f"Move it to where it belongs, or put its first line right: format: {kind}/{LATEST[kind]}",
    )


@cache
def _validator(kind: str, version: int) -> Draft202012Validator:
    from jsonschema import Draft202012Validator

    return Draft202012Validator(inlined(kind, version))


@cache
def inlined(kind: str, version: int) -> dict[str, Any]:
    """Give a schema with each `$ref` replaced by what it names: nearly twice as fast to check a trial by.

    What stands beside a `$ref` describes and goes before what the named part says.
    """
    schema = json.loads(schema_text(kind, version))
    whole = _inline({key: value for key, value in schema.items() if key != "$defs"}, schema.get("$defs", {}))
    return dict(whole)


def _inline(part: Any, defs: Schema) -> Any:
    if isinstance(part, list):
        return [_inline(one, defs) for one in part]
    if not isinstance(part, dict):
        return part
    if "$ref" in part:
        named = defs[part["$ref"].removeprefix("#/$defs/")]
        part = {**named, **{key: value for key, value in part.items() if key != "$ref"}}
    return {key: _end(value) if key == "pattern" else _inline(value, defs) for key, value in part.items()}


def _end(pattern: str) -> str:
    """Make the closing `$` mean what JSON Schema means by it; Python's would let a last line end pass."""
    return re.sub(r"\$\Z", r"\\Z", pattern)
