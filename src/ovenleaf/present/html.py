"""The one door to HTML: elements made of words, all of them escaped, and whole pages that ask nobody for anything.

Words that come out of a book are text by others. Whatever is put into an element is escaped unless it is an element
itself, and what a terminal would obey is shown as its code here too.
"""

from __future__ import annotations

import hashlib
import html
from base64 import b64encode
from typing import TYPE_CHECKING

from ovenleaf.present.screen import clean

if TYPE_CHECKING:
    from collections.abc import Iterable

_EMPTY = frozenset(("br", "hr", "img", "input", "link", "meta"))  # these have nothing inside and no end


class Html(str):
    """Text that is HTML already: made by this module, or by the drawing of a picture."""

    __slots__ = ()


def tag(kind: str, /, *inside: str, **attributes: str | bool) -> Html:
    """An element. Plain words inside are escaped; an attribute that is False is left out, one that is True bare.

    >>> print(tag("p", "salt < 2 %", tag("b", "so"), class_="note"))
    <p class="note">salt &lt; 2 %<b>so</b></p>
    """
    told = "".join(_attribute(key, value) for key, value in attributes.items() if value is not False)
    if kind in _EMPTY:
        return Html(f"<{kind}{told}>")
    return Html(f"<{kind}{told}>{''.join(map(text, inside))}</{kind}>")


def _attribute(key: str, value: str | bool) -> str:
    name = key.rstrip("_").replace("_", "-")
    return f" {name}" if value is True else f' {name}="{html.escape(clean(str(value)))}"'


def text(words: str) -> str:
    """Words as HTML; what is HTML already stays as it is."""
    return words if isinstance(words, Html) else html.escape(clean(words))


def joined(parts: Iterable[str], between: str = "\n") -> Html:
    """Parts one behind the other, each on a line of its own unless said otherwise."""
    return Html(between.join(map(text, parts)))


def table(rows: Iterable[tuple[str, ...]], heads: tuple[str, ...] = (), caption: str = "") -> Html:
    """A table whose first column names its rows; the heads say what stands under them."""
    head = tag("tr", *(tag("th", one, scope="col") for one in heads)) if heads else Html("")
    body = [tag("tr", tag("th", first, scope="row"), *(tag("td", one) for one in rest)) for first, *rest in rows]
    return tag("table", tag("caption", caption) if caption else Html(""), head, joined(body))


def document(
    title: str,
    *body: str,
    style: str = "",
    style_file: str = "",
    script_file: str = "",
    pictures: str = "data:",
    data: str = "",
) -> str:
    """A whole page and nothing from outside: its own `style`, or files that lie beside it and are named by address.

    `pictures` says where its pictures may come from; `data` is JSON for machines that read pages, and is never run.
    The content policy names a style in the page by its digest.
    """
    digest = b64encode(hashlib.sha256(style.encode()).digest()).decode("ascii")
    styles = f"style-src 'sha256-{digest}'" if style else "style-src 'self'"
    scripts = "; script-src 'self'" if script_file else ""
    policy = f"default-src 'none'; img-src {pictures}; {styles}{scripts}; base-uri 'none'; form-action 'none'"
    head = (
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=policy),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("title", title),
        *([Html(f"<style>{style}</style>")] if style else []),
        *([tag("link", rel="stylesheet", href=style_file)] if style_file else []),
        *([tag("script", src=script_file, defer=True)] if script_file else []),
        *([Html(f'<script type="application/ld+json">\n{_in_script(data)}\n</script>')] if data else []),
    )
    inside = joined((tag("head", joined(head)), tag("body", joined(body))))
    return f"<!doctype html>\n{tag('html', inside, lang='en')}\n"


def _in_script(data: str) -> str:
    """JSON that cannot end the script it stands in: the signs of HTML are spelled as JSON spells any letter."""
    return data.replace("&", "\\u0026").replace("<", "\\u003c").replace(">", "\\u003e")
