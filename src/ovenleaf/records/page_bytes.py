"""A page's bytes: as the book keeps them, as text, and the name they give the page.

Knows encodings and line ends; nothing of what stands on a page.
"""

from __future__ import annotations

import hashlib
from typing import Final

from ovenleaf.records.page_fault import PageFault

MAX_BYTES: Final = 1_000_000
_BOM: Final = b"\xef\xbb\xbf"


def page_id(data: bytes) -> str:
    """Name a page by its content: equals `git hash-object --no-filters` of the normalised bytes."""
    kept = _even_out(data)
    return hashlib.sha1(b"blob %d\0" % len(kept) + kept, usedforsecurity=False).hexdigest()


def decode(data: bytes, path: str) -> str:
    """Give a page's text: UTF-8, no byte order mark, LF, a line end last.

    PageFault `size` over a million bytes, `bytes` where it is not UTF-8.
    """
    if len(data) > MAX_BYTES:
        raise too_long(path)
    try:
        return _even_out(data).decode("utf-8")
    except UnicodeDecodeError as fault:
        raise PageFault(
            "bytes",
            "This page is not saved as UTF-8, so some of its letters cannot be read.",
            path=path,
            line=_even_out(data).count(b"\n", 0, fault.start) + 1,
            detail=("Open it in your editor and save it with the encoding UTF-8.",),
        ) from None


def _even_out(data: bytes) -> bytes:
    while data.startswith(_BOM):
        data = data[len(_BOM) :]
    data = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return data if not data or data.endswith(b"\n") else data + b"\n"


def too_long(path: str) -> PageFault:
    """Make the refusal of a page over `MAX_BYTES`."""
    return PageFault(
        "size",
        "This page is longer than a page of a book can be (1 MB).",
        path=path,
        line=1,
        detail=("Put long notes and pictures into files of their own.",),
    )
