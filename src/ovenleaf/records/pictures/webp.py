"""A WebP without its notes, chunk by chunk; the picture itself is not touched.

Kept: the picture, its see-through part, its frames and its colour profile. Container: RFC 9649 (2024), section 2;
heads of VP8 and VP8L frames: RFC 6386, section 9.1, and RFC 9649, section 3.4.
"""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING

from ovenleaf.records.pictures.parts import UPRIGHT, Picture, PictureFault, read_notes, turned_notes

if TYPE_CHECKING:
    from collections.abc import Iterator

START = b"RIFF"
KIND = b"WEBP"
_PICTURE = (b"VP8 ", b"VP8L")
_IN_FRAME = frozenset({*_PICTURE, b"ALPH"})
_KEPT = _IN_FRAME | {b"VP8X", b"ICCP", b"ANIM", b"ANMF"}
_HAS_NOTES, _HAS_XMP = 0x08, 0x04
_FRAME_HEAD = 16

Chunk = tuple[bytes, bytes]


def cleaned(data: bytes) -> Picture:
    """The picture alone. Raises PictureFault for a file that breaks off or makes no sense."""
    [size] = struct.unpack_from("<I", data, 4)
    if size < 4 or size + 8 > len(data):
        raise PictureFault("broken")
    chunks = list(_chunks(data[12 : size + 8]))
    notes = [read_notes(body.removeprefix(b"Exif\0\0")) for name, body in chunks if name == b"EXIF"]
    turned = next((one.turned for one in notes if one.turned != UPRIGHT), UPRIGHT)
    extended = any(name == b"VP8X" for name, _ in chunks)
    width, height = _sides(chunks)
    kept = [_kept(chunk, turned) for chunk in chunks if chunk[0] in _KEPT]
    if turned != UPRIGHT and extended:
        kept.append((b"EXIF", turned_notes(turned)))
    body = KIND + b"".join(_written(chunk) for chunk in kept)
    gone = {name for name, _ in chunks} - _KEPT
    return Picture(
        format="WebP",
        width=width,
        height=height,
        data=START + struct.pack("<I", len(body)) + body,
        taken_out=(
            *(["the place"] if any(one.place for one in notes) else []),
            *(["camera details"] if gone else []),
        ),
    )


def _chunks(data: bytes) -> Iterator[Chunk]:
    at = 0
    while at + 8 <= len(data):
        name, length = data[at : at + 4], struct.unpack_from("<I", data, at + 4)[0]
        if at + 8 + length > len(data):
            raise PictureFault("broken")
        yield name, data[at + 8 : at + 8 + length]
        at += 8 + length + length % 2


def _written(chunk: Chunk) -> bytes:
    name, body = chunk
    return name + struct.pack("<I", len(body)) + body + bytes(len(body) % 2)


def _kept(chunk: Chunk, turned: int) -> Chunk:
    """A chunk as it is kept: the head says which notes follow, and a frame may hold notes of its own."""
    name, body = chunk
    if name == b"VP8X":
        flags = body[0] & ~(_HAS_NOTES | _HAS_XMP) | (_HAS_NOTES if turned != UPRIGHT else 0)
        return name, bytes((flags,)) + body[1:]
    if name == b"ANMF":
        inner = (one for one in _chunks(body[_FRAME_HEAD:]) if one[0] in _IN_FRAME)
        return name, body[:_FRAME_HEAD] + b"".join(_written(one) for one in inner)
    return chunk


def _sides(chunks: list[Chunk]) -> tuple[int, int]:
    """Width and height, from the head or else from the picture itself."""
    bodies = dict(reversed(chunks))
    if not set(bodies) & {*_PICTURE, b"ANMF"}:
        raise PictureFault("broken")
    if len(head := bodies.get(b"VP8X", b"")) >= 10:
        return 1 + int.from_bytes(head[4:7], "little"), 1 + int.from_bytes(head[7:10], "little")
    if len(lossy := bodies.get(b"VP8 ", b"")) >= 10 and lossy[3:6] == b"\x9d\x01\x2a":
        width, height = struct.unpack_from("<HH", lossy, 6)
        return width & 0x3FFF, height & 0x3FFF
    if len(lossless := bodies.get(b"VP8L", b"")) >= 5 and lossless[0] == 0x2F:
        [bits] = struct.unpack_from("<I", lossless, 1)
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    raise PictureFault("broken")
