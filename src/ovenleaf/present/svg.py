"""A picture as an SVG file that stands alone: black on white, shapes instead of colours, words for who cannot see it.

SVG 1.1 (W3C). `title` and `desc` are the text alternative (WCAG 2.2, 1.1.1 Non-text Content); no script, no
style sheet, no font or picture from elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape, quoteattr

from ovenleaf.domain.numbers import rounded
from ovenleaf.present.scales import share_of_way
from ovenleaf.present.screen import clean

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from decimal import Decimal

WIDE, HIGH = 720, 480
LEFT, RIGHT, TOP, BOTTOM = 80, 690, 60, 400
_SIZE = 14
_LETTER = 8  # about how wide one letter is at that size
_RADIUS = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One dough in the picture; `kind` chooses its shape."""

    x: Decimal
    y: Decimal
    name: str
    kind: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Plot:
    """All that is drawn. `across` and `up` are the figures along the sides, lowest first, each with its words;
    `line` its two ends, or None; `kinds` what each shape means, () where there is one shape only."""

    title: str
    description: str
    across_name: str
    up_name: str
    across: tuple[tuple[Decimal, str], ...]
    up: tuple[tuple[Decimal, str], ...]
    spots: tuple[Spot, ...]
    kinds: tuple[str, ...] = ()
    line: tuple[tuple[Decimal, Decimal], tuple[Decimal, Decimal]] | None = None


def svg(plot: Plot) -> str:
    """The whole file."""
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {HIGH}" width="{WIDE}" height="{HIGH}" '
        f'role="img" aria-labelledby="title desc" font-family="sans-serif" font-size="{_SIZE}">',
        f'<title id="title">{_text(plot.title)}</title>',
        f'<desc id="desc">{_text(plot.description)}</desc>',
        f'<rect width="{WIDE}" height="{HIGH}" fill="white"/>',
        _words(LEFT, 30, plot.title, size=18),
        *_sides(plot),
        *_line(plot),
        *_spots(plot),
        *_legend(plot),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _text(text: str) -> str:
    return escape(clean(text))


def _words(x: int, y: int, text: str, *, anchor: str = "start", size: int = _SIZE, more: str = "") -> str:
    anchored = f" text-anchor={quoteattr(anchor)}" if anchor != "start" else ""
    sized = f' font-size="{size}"' if size != _SIZE else ""
    return f'<text x="{x}" y="{y}"{anchored}{sized}{more}>{_text(text)}</text>'


def _sides(plot: Plot) -> Iterator[str]:
    yield f'<path d="M{LEFT} {TOP} V{BOTTOM} H{RIGHT}" fill="none" stroke="black"/>'
    for value, figure in plot.across:
        x = _x(plot, value)
        yield f'<path d="M{x} {BOTTOM} v6" stroke="black"/>'
        yield _words(x, BOTTOM + 24, figure, anchor="middle")
    for value, figure in plot.up:
        y = _y(plot, value)
        yield f'<path d="M{LEFT - 6} {y} h6" stroke="black"/>'
        yield _words(LEFT - 12, y + 5, figure, anchor="end")
    yield _words((LEFT + RIGHT) // 2, BOTTOM + 48, plot.across_name, anchor="middle")
    middle = (TOP + BOTTOM) // 2
    yield _words(24, middle, plot.up_name, anchor="middle", more=f' transform="rotate(-90 24 {middle})"')


def _x(plot: Plot, value: Decimal) -> int:
    return _between(LEFT, RIGHT - 20, share_of_way(value, tuple(one for one, _ in plot.across)))


def _y(plot: Plot, value: Decimal) -> int:
    return _between(BOTTOM, TOP, share_of_way(value, tuple(one for one, _ in plot.up)))


def _between(low: int, high: int, share: Decimal) -> int:
    return low + int(rounded((high - low) * share, 0))


def _line(plot: Plot) -> Iterator[str]:
    if plot.line is not None:
        (x1, y1), (x2, y2) = ((_x(plot, x), _y(plot, y)) for x, y in plot.line)
        yield f'<path d="M{x1} {y1} L{x2} {y2}" stroke="black" stroke-dasharray="6 4"/>'


def _spots(plot: Plot) -> Iterator[str]:
    there: dict[tuple[int, int], list[Spot]] = {}
    for spot in plot.spots:
        there.setdefault((_x(plot, spot.x), _y(plot, spot.y)), []).append(spot)
    taken: list[tuple[int, int, int]] = []
    for (x, y), spots in there.items():
        names = ", ".join(spot.name for spot in spots)
        yield _shape(x, y, spots[0].kind)
        wide = _LETTER * len(names)
        beside = [(at, y + down) for down in (5, -9, 19) for at in (x + 10, x - 10 - wide)]
        left, base = next(((at, low) for at, low in beside if _is_free(at, low, wide, taken)), beside[0])
        taken.append((left, base, wide))
        yield _words(left, base, names)


def _is_free(x: int, y: int, wide: int, taken: Sequence[tuple[int, int, int]]) -> bool:
    return all(abs(y - other_y) >= _SIZE or x + wide <= left or left + long <= x for left, other_y, long in taken)


def _shape(x: int, y: int, kind: int) -> str:
    """A circle, a square, a triangle, a diamond, each filled and then hollow."""
    r = _RADIUS
    drawn = (
        f'<circle cx="{x}" cy="{y}" r="{r}"',
        f'<path d="M{x - r} {y - r} h{2 * r} v{2 * r} h{-2 * r} z"',
        f'<path d="M{x - r} {y + r} h{2 * r} l{-r} {-2 * r} z"',
        f'<path d="M{x} {y - r - 1} l{r + 1} {r + 1} l{-r - 1} {r + 1} l{-r - 1} {-r - 1} z"',
    )[kind % 4]
    return f'{drawn} fill="{"white" if kind // 4 % 2 else "black"}" stroke="black"/>'


def _legend(plot: Plot) -> Iterator[str]:
    x = LEFT
    for kind, name in enumerate(plot.kinds):
        if x + _LETTER * len(name) + 20 > WIDE:
            return  # the names beside the spots tell the same
        yield _shape(x, HIGH - 14, kind)
        yield _words(x + 12, HIGH - 9, name)
        x += _LETTER * len(name) + 32
