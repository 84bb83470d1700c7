"""What was read from a page, as plain facts and back again: what the index keeps so that a page is read once.

A value is itself if JSON has it; all else is a list that begins with the name of its kind. Only the kinds that are
listed here are ever made, whatever the index holds.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import fields, is_dataclass
from decimal import Decimal
from enum import Enum
from functools import cache
from typing import TYPE_CHECKING, Any, cast

from ovenleaf.domain import benchline
from ovenleaf.domain.benchline import BenchLine
from ovenleaf.domain.formula import Step
from ovenleaf.domain.trial import Correction, Marks, ScoreScale, State, Trial
from ovenleaf.findings import Finding, Severity

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

_VALUES: tuple[type, ...] = (Trial, Step, Marks, Correction, ScoreScale, Finding)
_WORDS: tuple[type[Enum], ...] = (State, Severity)
_THEMSELVES: frozenset[type] = frozenset((str, int, bool, type(None)))  # JSON has them
_TUPLE = "tuple"
_NUMBER = "number"
_LINE = "line"


def shape() -> str:
    """Names the shape of what is read: facts of another shape are not to be used."""
    shapes = [(one.__name__, [field.name for field in fields(one)]) for one in _VALUES]
    return hashlib.sha256(repr(shapes).encode()).hexdigest()[:16]


def to_text(value: object) -> str:
    """A value as one line of JSON."""
    return json.dumps(_plain(value), ensure_ascii=False, separators=(",", ":"))


def from_text(text: str) -> Any:
    """The value again. Raises ValueError for what `to_text` never wrote."""
    try:
        return _made(json.loads(text))
    except (TypeError, KeyError, IndexError, AttributeError, ArithmeticError) as fault:
        raise ValueError("not facts of ours") from fault


def _plain(value: object) -> object:
    kind: type = type(value)
    if kind in _THEMSELVES:
        return value
    if isinstance(value, tuple):
        return [_TUPLE, *map(_plain, value)]
    if isinstance(value, BenchLine):
        return [_LINE, value.typed]  # it is read again: a line's fields follow from its words
    if isinstance(value, Decimal):
        return [_NUMBER, str(value)]
    if isinstance(value, Enum):
        return [kind.__name__, value.value]
    assert is_dataclass(value), value
    return [kind.__name__, {name: _plain(said) for name, said in _said(value)}]


def _said(value: object) -> Iterator[tuple[str, object]]:
    """The fields that are not as they would be if nothing was said."""
    for name, default in _defaults(cast("Any", type(value))):
        said = getattr(value, name)
        if said is not default and said != default:
            yield name, said


@cache
def _defaults(kind: Any) -> tuple[tuple[str, object], ...]:
    return tuple((field.name, field.default) for field in fields(kind))


def _made(plain: Any) -> Any:
    return _MAKERS[plain[0]](plain) if type(plain) is list else plain


def _value(kind: Any) -> Callable[[Any], Any]:
    return lambda plain: kind(**{name: _made(value) for name, value in plain[1].items()})


def _word(kind: Any) -> Callable[[Any], Any]:
    return lambda plain: kind(plain[1])


_MAKERS: dict[str, Callable[[Any], Any]] = {
    _TUPLE: lambda plain: tuple([_made(one) for one in plain[1:]]),
    _NUMBER: lambda plain: Decimal(plain[1]),
    _LINE: lambda plain: benchline.read(plain[1]),
    **{kind.__name__: _value(kind) for kind in _VALUES},
    **{kind.__name__: _word(kind) for kind in _WORDS},
}
