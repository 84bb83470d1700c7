"""A JPEG without its notes, segment by segment; the picture itself is not touched.

Kept: the frame, its tables and scans, the JFIF head without its small picture, the colour profile, Adobe's colour
mark. Whatever stands behind the end of the picture goes: phones put further pictures with notes of their own there.
Markers: ITU-T T.81 (1992), table B.1; JFIF: ITU-T T.871 (2011); profile: ICC.1, annex B.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.records.pictures.parts import UPRIGHT, Notes, Picture, PictureFault, read_notes, turned_notes

if TYPE_CHECKING:
    from collections.abc import Iterator

START = b"\xff\xd8"
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_TABLES = frozenset({0xC4, 0xCC, 0xDB, 0xDC, 0xDD})
_SCAN, _END = 0xDA, 0xD9
_ALONE = frozenset({0x01, *range(0xD0, 0xD8)})  # markers without a length
_JFIF, _NOTES, _PROFILE, _ADOBE, _COMMENT = 0xE0, 0xE1, 0xE2, 0xEE, 0xFE
_APPS = range(0xE0, 0xF0)
_EXIF = b"Exif\0\0"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Segment:
    """A marker with its own bytes, and the scan behind it where it begins one."""

    marker: int
    data: bytes
    scan: bytes = b""


def cleaned(data: bytes) -> Picture:
    """The picture alone. Raises PictureFault for a file that breaks off or makes no sense."""
    segments = list(_segments(data))
    width, height = _sides(segments)
    notes = [read_notes(one.data[6:]) for one in segments if one.marker == _NOTES and one.data.startswith(_EXIF)]
    turned = next((one.turned for one in notes if one.turned != UPRIGHT), UPRIGHT)
    kept = [_kept(one) for one in segments]
    head = [one for one in kept if one and one.marker == _JFIF]
    rest = [one for one in kept if one and one.marker != _JFIF]
    if turned != UPRIGHT:
        head.append(_Segment(marker=_NOTES, data=_EXIF + turned_notes(turned)))
    clean = START + b"".join(_written(one) for one in (*head, *rest)) + bytes((0xFF, _END))
    return Picture(
        format="JPEG", width=width, height=height, data=clean, taken_out=_taken_out(segments, notes, data, clean)
    )


def _segments(data: bytes) -> Iterator[_Segment]:
    at = len(START)
    while True:
        marker, at = _marker(data, at)
        if marker == _END:
            return
        if marker in _ALONE:
            continue
        if at + 2 > len(data):
            raise PictureFault("broken")
        [length] = struct.unpack_from(">H", data, at)
        end = at + length
        if length < 2 or end > len(data):
            raise PictureFault("broken")
        scan_end = _scan_end(data, end) if marker == _SCAN else end
        yield _Segment(marker=marker, data=data[at + 2 : end], scan=data[end:scan_end])
        at = scan_end


def _marker(data: bytes, at: int) -> tuple[int, int]:
    """The marker at a place, fill bytes before it passed over; and the place behind it."""
    if data[at : at + 1] != b"\xff":
        raise PictureFault("broken")
    while data[at : at + 1] == b"\xff":
        at += 1
    if at >= len(data) or not data[at]:
        raise PictureFault("broken")
    return data[at], at + 1


def _scan_end(data: bytes, at: int) -> int:
    """Where a scan ends: at the next marker that is no restart and no stuffed byte."""
    while (at := data.find(b"\xff", at)) >= 0:
        behind = data[at + 1 : at + 2]
        if not behind:
            break
        if behind != b"\xff" and behind[0] and behind[0] not in _ALONE:
            return at
        at += 1 if behind == b"\xff" else 2
    raise PictureFault("broken")


def _sides(segments: list[_Segment]) -> tuple[int, int]:
    frame = next((one.data for one in segments if one.marker in _FRAMES), b"")
    if len(frame) < 6 or not any(one.marker == _SCAN for one in segments):
        raise PictureFault("broken")
    height, width = struct.unpack_from(">HH", frame, 1)
    return width, height


def _kept(one: _Segment) -> _Segment | None:
    """The segment if the picture needs it; None for notes, comments and what nobody knows."""
    if one.marker == _JFIF:
        without_small_picture = one.data[:12] + bytes(2)
        return _Segment(marker=_JFIF, data=without_small_picture) if one.data[:5] == b"JFIF\0" else None
    profile = one.marker == _PROFILE and one.data.startswith(b"ICC_PROFILE\0")
    adobe = one.marker == _ADOBE and one.data.startswith(b"Adobe")
    picture = one.marker in _FRAMES or one.marker in _TABLES or one.marker == _SCAN
    return one if profile or adobe or picture else None


def _written(one: _Segment) -> bytes:
    return bytes((0xFF, one.marker)) + struct.pack(">H", len(one.data) + 2) + one.data + one.scan


def _taken_out(segments: list[_Segment], notes: list[Notes], data: bytes, clean: bytes) -> tuple[str, ...]:
    found = []
    if any(one.place for one in notes):
        found.append("the place")
    if notes or any(one.marker in _APPS and _kept(one) is None and one.marker != _JFIF for one in segments):
        found.append("camera details")
    if any(one.marker == _COMMENT for one in segments):
        found.append("a comment")
    return tuple(found) or (("what stood behind the picture",) if len(clean) < len(data) - 64 else ())
