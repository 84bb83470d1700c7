"""A fault of a page against its schema, in the baker's words.

It knows our own schemas and what they say of themselves (`x-should`, `x-example`, `x-thing`); it
does not know the library that finds the faults, and none of that one's words come out.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from ovenleaf.domain.revision import SLUG, is_slug, slug_of
from ovenleaf.records.schema_fault import listed, name_of, shortened, typed, under, what_it_is

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from ovenleaf.records.schema_fault import Fault, Schema, Steps


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A fault in words; `path` leads to the line it is told of."""

    code: str
    path: Steps
    message: str
    fix: str


def tell(fault: Fault) -> Iterator[Told]:
    """Give the sentences of a fault: one for each name that is too many or missing, else one."""
    yield from _RULES[fault.rule](fault)


# --- what is said -------------------------------------------------------------------------------


def _wrong_type(fault: Fault) -> Iterator[Told]:
    if fault.value is None:
        yield _empty(fault, f"Nothing stands behind {name_of(fault)}.")
    else:
        yield _should(fault, "wrong-type", _wrong_type_fix(fault))


def _wrong_form(fault: Fault) -> Iterator[Told]:
    better = slug_of(str(fault.value))
    is_name = fault.schema["pattern"] == _SLUG and is_slug(better)
    fix = f"{better} would do." if is_name else _write_it_so(fault)
    yield _should(fault, "wrong-name" if fault.of_name else "wrong-form", fix)


_SLUG: Final = rf"^{SLUG.pattern}\Z"


def _not_one_of(fault: Fault) -> Iterator[Told]:
    if fault.value is None:
        yield _empty(fault, f"Nothing stands behind {name_of(fault)}.")
        return
    allowed = fault.schema["enum"]
    near = _nearest(str(fault.value), allowed, cutoff=0.6)  # they are few, and all are named anyway
    yield Told(
        code="not-one-of",
        path=fault.path,
        message=f"{name_of(fault)} should be one of {listed(allowed, 'or')}; {what_it_is(fault)}.",
        fix=f"Did you mean {near}?" if near else f"Write one of them, such as {allowed[0]}.",
    )


def _out_of_range(fault: Fault) -> Iterator[Told]:
    schema = fault.schema
    if "minimum" in schema and "maximum" in schema:
        allowed = f"from {schema['minimum']} to {schema['maximum']}"
    elif "minimum" in schema:
        allowed = f"{schema['minimum']} or more"
    else:
        allowed = f"more than {schema['exclusiveMinimum']}"
    yield Told(
        code="out-of-range",
        path=fault.path,
        message=f"{name_of(fault)} should {schema['x-should']}, {allowed}; {what_it_is(fault)}.",
        fix=_write_it_so(fault),
    )


def _unknown_fields(fault: Fault) -> Iterator[Told]:
    known = tuple(fault.schema["properties"])
    for field in fault.value if isinstance(fault.value, dict) else ():
        if field not in known:
            yield Told(
                code="unknown-field",
                path=(*fault.path, field),
                message=f"{shortened(field)}{under(fault)} is not a field of {fault.schema['x-thing']}.",
                fix=_field_meant(fault, field, known),
            )


def _missing_fields(fault: Fault) -> Iterator[Told]:
    for name in fault.schema["required"]:
        if isinstance(fault.value, dict) and name not in fault.value:
            yield missing(fault, name)


def missing(fault: Fault, name: str) -> Told:
    """Tell of a field that the block at the fault's path does not have."""
    example = _example(fault.schema["properties"][name])
    return Told(
        code="missing-field",
        path=fault.path,
        message=f"{name_of(fault)} has no {name}.",
        fix=f"Add a line such as {name}: {example}" if example else "ovenleaf writes it when it keeps the page.",
    )


def _too_many(fault: Fault) -> Iterator[Told]:
    names = list(fault.value) if isinstance(fault.value, dict) else []
    yield Told(
        code="two-in-one",
        path=(*fault.path, names[1]),
        message=f"{name_of(fault)} has {len(names)} names where one should be: {listed(names, 'and')}.",
        fix="Give each step a dash of its own, or set what belongs to a step in under its name.",
    )


def _too_few(fault: Fault) -> Iterator[Told]:
    yield _empty(fault, f"{name_of(fault)} is empty.")


def _should(fault: Fault, code: str, fix: str) -> Told:
    example = _example(fault.schema)
    like = f", like {example}" if example and not example.endswith(":") else ""
    message = f"{name_of(fault)} should {fault.schema['x-should']}{like}"
    if fault.of_name:
        return Told(code=code, path=(*fault.path, str(fault.value)), message=f"{message}.", fix=fix)
    return Told(code=code, path=fault.path, message=f"{message}; {what_it_is(fault)}.", fix=fix)


def _empty(fault: Fault, message: str) -> Told:
    so = _write_it_so(fault)
    return Told(code="empty", path=fault.path, message=message, fix=f"Take the line out, or {so[0].lower()}{so[1:]}")


_RULES: Final[Mapping[str, Callable[[Fault], Iterator[Told]]]] = {
    "type": _wrong_type,
    "pattern": _wrong_form,
    "enum": _not_one_of,
    "minimum": _out_of_range,
    "maximum": _out_of_range,
    "exclusiveMinimum": _out_of_range,
    "additionalProperties": _unknown_fields,
    "required": _missing_fields,
    "maxProperties": _too_many,
    "minProperties": _too_few,
    "minItems": _too_few,
}
TOLD_RULES: Final = frozenset(_RULES)


# --- how to mend it -----------------------------------------------------------------------------

_FIGURE: Final = re.compile(r"(?P<figure>-?[0-9]+(?:[.,][0-9]+)?) *(?:%|g|h|points?|of [0-9]+)?")
_TRUTHS: Final = {"yes": "true", "y": "true", "on": "true", "no": "false", "n": "false", "off": "false"}


def _wrong_type_fix(fault: Fault) -> str:
    schema, value = fault.schema, fault.value
    types = schema["type"] if isinstance(schema["type"], list) else [schema["type"]]
    if isinstance(value, str) and (fix := _text_fix(value, types)):
        return fix
    if isinstance(value, list) and "object" in types:
        return "Take the dashes away and set the lines in under the name."
    if isinstance(value, dict) and "array" in types:
        return "Put a dash and a space before each line."
    if isinstance(value, bool | int | Decimal) and "string" in types and "pattern" not in schema:
        return f'Put it in quotes if it is meant as text: "{typed(fault)}"'
    return _write_it_so(fault)


def _text_fix(value: str, types: list[str]) -> str:
    """Find the value a text was meant to be; empty if it does not show."""
    if types == ["number"] and (found := _FIGURE.fullmatch(value.strip())):
        return f"Write the number alone, with a point and without quotes: {found['figure'].replace(',', '.')}"
    if types == ["boolean"] and (truth := _TRUTHS.get(value.lower())):
        return f"Write it as {truth}"
    if types == ["array"]:
        return f"Set it in under its name, behind a dash: - {shortened(value)}"
    return ""


def _write_it_so(fault: Fault) -> str:
    example, last = _example(fault.schema), fault.path[-1] if fault.path else None
    if not example:
        return f"Let it {fault.schema['x-should']}"
    is_block = "object" in fault.schema.get("type", ()) and "string" not in fault.schema["type"]
    if is_block or example.startswith("- "):
        return f"Set lines in under it, such as {example}"
    if fault.of_name or not isinstance(last, str):
        return f"Write it like {example}"
    return f"Write it like {last}: {example}"


def _example(schema: Schema) -> str:
    """Give a good value as it is typed; empty for the one field that only ovenleaf can write."""
    return str(schema.get("x-example") or next(iter(schema.get("enum", ())), ""))


def _field_meant(fault: Fault, name: str, known: tuple[str, ...]) -> str:
    """Find the field that was meant: the same but for case, one that belongs elsewhere, or the nearest."""
    same = next((field for field in known if _plainly(field) == _plainly(name)), None)
    if same is None:
        things = (thing for thing, fields in things_of(fault.whole) if name in fields)
        if (elsewhere := next(things, None)) is not None:
            return f"It is a field of {elsewhere}; see that it is set in under the right name."
    if (near := same or _nearest(name, known)) is not None:
        return f"Did you mean {near}?"
    if len(known) > _FEW:
        return "Take the line out, or put # before it to make it a remark."
    return f"Its fields are {listed(known, 'and')}."


_FEW: Final = 12


def things_of(schema: Schema) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield each thing a schema describes, with its fields: ("a step", ("time", ...))."""
    if "x-thing" in schema and "properties" in schema:
        yield schema["x-thing"], tuple(schema["properties"])
    for below in parts_of(schema):
        yield from things_of(below)


def parts_of(schema: Schema) -> Iterator[Schema]:
    """Yield the schemas directly inside one."""
    yield from schema.get("properties", {}).values()
    yield from (schema[key] for key in ("additionalProperties", "items", "propertyNames") if schema.get(key))


def _plainly(name: str) -> str:
    return re.sub(r"[\s_-]+", " ", name).strip().casefold()


def _nearest(name: str, known: Sequence[str], *, cutoff: float = 0.8) -> str | None:
    by_plain = {_plainly(field): field for field in known}
    near = difflib.get_close_matches(_plainly(name), by_plain, n=1, cutoff=cutoff)
    return by_plain[near[0]] if near else None
