"""The text of a recipe that was handed in as bytes, in whichever encoding it says it was saved."""

from __future__ import annotations

import re

from ovenleaf.domain.recipe_parts import RecipeFault

_CHARSET = re.compile(rb"""<meta[^>]{0,200}?charset=["']?\s*(?P<name>[a-zA-Z0-9_-]{1,40})""", re.IGNORECASE)
_KNOWN_SETS = ("iso-8859-1", "iso-8859-15", "latin1", "windows-1252", "cp1252")


def recipe_text(data: bytes) -> str:
    """The text as it was saved: UTF-8, UTF-16 that says so, or what a saved page says of itself."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _decoded(data, "utf-16")
    if b"\0" in data:
        raise RecipeFault("not text")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        said = _CHARSET.search(data[:4000])
        name = said["name"].decode().lower() if said else ""
        if name not in _KNOWN_SETS:
            raise RecipeFault("letters") from None
        text = _decoded(data, name)
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _decoded(data: bytes, name: str) -> str:
    try:
        return data.decode(name).replace("\r\n", "\n").replace("\r", "\n")
    except UnicodeDecodeError:
        raise RecipeFault("letters") from None
