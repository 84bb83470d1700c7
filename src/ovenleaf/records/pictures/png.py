"""A PNG without its notes, chunk by chunk; the picture itself is not touched.

Kept: what the picture and its colours need. Text, times, camera's notes and chunks nobody knows go, and so does
whatever stands behind the end. Chunks: W3C, Portable Network Graphics (PNG) Specification, third edition.
"""

from __future__ import annotations

import struct
import zlib
from typing import TYPE_CHECKING

from ovenleaf.records.pictures.parts import UPRIGHT, Picture, PictureFault, read_notes, turned_notes

if TYPE_CHECKING:
    from collections.abc import Iterator

START = b"\x89PNG\r\n\x1a\n"
_CRITICAL = frozenset({b"IHDR", b"PLTE", b"IDAT", b"IEND"})
_COLOURS = frozenset(
    {b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT", b"bKGD", b"cICP", b"mDCV", b"cLLI", b"hIST"}
)
_SHOWING = frozenset({b"pHYs", b"acTL", b"fcTL", b"fdAT"})
_KEPT = _CRITICAL | _COLOURS | _SHOWING
_TEXTS = frozenset({b"tEXt", b"zTXt", b"iTXt"})

Chunk = tuple[bytes, bytes]


def cleaned(data: bytes) -> Picture:
    """The picture alone. Raises PictureFault for a file that breaks off, fails its sums or holds what nobody knows."""
    chunks = list(_chunks(data))
    names = [name for name, _ in chunks]
    if names[:1] != [b"IHDR"] or b"IDAT" not in names or len(chunks[0][1]) != 13:
        raise PictureFault("broken")
    width, height = struct.unpack_from(">II", chunks[0][1])
    notes = [read_notes(body) for name, body in chunks if name == b"eXIf"]
    kept = [chunk for chunk in chunks if chunk[0] in _KEPT]
    turned = next((one.turned for one in notes if one.turned != UPRIGHT), UPRIGHT)
    if turned != UPRIGHT:
        kept.insert(1, (b"eXIf", turned_notes(turned)))
    gone = [name for name in names if name not in _KEPT]
    texts = [body for name, body in chunks if name in _TEXTS]
    return Picture(
        format="PNG",
        width=width,
        height=height,
        data=START + b"".join(_written(chunk) for chunk in kept),
        taken_out=(
            *(["the place"] if any(one.place for one in notes) else []),
            *(["camera details"] if set(gone) - _TEXTS else []),
            *(["text"] if texts else []),
        ),
    )


def _chunks(data: bytes) -> Iterator[Chunk]:
    at = len(START)
    while at + 12 <= len(data):
        [length] = struct.unpack_from(">I", data, at)
        name, end = data[at + 4 : at + 8], at + 8 + length
        if end + 4 > len(data) or struct.unpack_from(">I", data, end)[0] != zlib.crc32(data[at + 4 : end]):
            break
        if name not in _KEPT and not name[0] & 0x20:  # a capital first: the picture cannot be shown without it
            raise PictureFault("cannot be cleaned", "PNG of a kind unknown here")
        yield name, data[at + 8 : end]
        if name == b"IEND":
            return
        at = end + 4
    raise PictureFault("broken")


def _written(chunk: Chunk) -> bytes:
    name, body = chunk
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
