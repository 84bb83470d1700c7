"""What the three readers of pictures share: a picture's facts, its faults, and the one thing kept of its notes.

A camera's notes (Exif) are a small TIFF file; of them only how the picture is to be turned is read and written.
Tags and types: JEITA CP-3451, Exif 2.3, and TIFF 6.0 (1992).
"""

from __future__ import annotations

import struct
from dataclasses import dataclass

UPRIGHT = 1
_TURNED = 0x0112  # the tag Orientation
_PLACE = 0x8825  # the tag that points at where it was taken
_SHORT = 3
_ENTRY = 12  # bytes of one entry


class PictureFault(ValueError):
    """A file that cannot be taken as a picture. Facts: `kind`, one of `not a picture`, `cannot be cleaned`,
    `broken`, `too wide`; `what`, the format or the trouble in a word."""

    def __init__(self, kind: str, what: str = "") -> None:
        super().__init__(f"{kind} {what}".strip())
        self.kind = kind
        self.what = what


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture without notes: its format, its sides in pixels, its bytes, and what was taken out, in words."""

    format: str
    width: int
    height: int
    data: bytes
    taken_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Notes:
    """What a camera's notes say that matters here: how the picture is turned, and whether they tell a place."""

    turned: int = UPRIGHT
    place: bool = False


def read_notes(tiff: bytes) -> Notes:
    """What the notes say; notes that make no sense say nothing, and are taken out all the same.

    >>> read_notes(turned_notes(6)).turned
    6
    """
    order = {b"II*\0": "<", b"MM\0*": ">"}.get(tiff[:4])
    if order is None:
        return Notes()
    try:
        [at] = struct.unpack_from(f"{order}I", tiff, 4)
        [count] = struct.unpack_from(f"{order}H", tiff, at)
        entries = [struct.unpack_from(f"{order}HHIHH", tiff, at + 2 + _ENTRY * n) for n in range(count)]
    except struct.error:
        return Notes()
    turned = next((value for tag, kind, _, value, _ in entries if (tag, kind) == (_TURNED, _SHORT)), UPRIGHT)
    place = any(tag == _PLACE for tag, *_ in entries)
    return Notes(turned=turned if 1 <= turned <= 8 else UPRIGHT, place=place)


def turned_notes(turned: int) -> bytes:
    """Notes that say how the picture is turned and nothing else."""
    return b"MM\0*" + struct.pack(">IH", 8, 1) + struct.pack(">HHIHH", _TURNED, _SHORT, 1, turned, 0) + bytes(4)
