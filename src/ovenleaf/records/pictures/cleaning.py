"""The one door to pictures: what a file is, and the picture in it without anything else."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.records.pictures import jpeg, png, webp
from ovenleaf.records.pictures.parts import Picture, PictureFault

if TYPE_CHECKING:
    from collections.abc import Callable

SIDE = 20_000  # pixels; no camera that bakers carry makes a longer side
ENDINGS = {"JPEG": "jpg", "PNG": "png", "WebP": "webp"}

# Pictures that are known by how they begin, and cannot be cleaned here: (where, bytes, name).
_OTHERS = (
    (4, b"ftyphei", "HEIC"),
    (4, b"ftyphev", "HEIC"),
    (4, b"ftypmif1", "HEIC"),
    (4, b"ftypavi", "AVIF"),
    (0, b"GIF8", "GIF"),
    (0, b"II*\0", "TIFF"),
    (0, b"MM\0*", "TIFF"),
    (0, b"BM", "BMP"),
    (0, b"\xff\x0a", "JPEG XL"),
    (0, b"\0\0\0\x0cJXL ", "JPEG XL"),
    (0, b"\0\0\0\x0cjP  ", "JPEG 2000"),
)


def cleaned(data: bytes) -> Picture:
    """The picture in a file, without place, camera, text and all else that is no picture. Raises PictureFault.

    Cleaning what is clean gives the same bytes.
    """
    reader = _reader(data)
    if reader is None:
        other = next((name for at, begins, name in _OTHERS if data[at:].startswith(begins)), "")
        raise PictureFault("cannot be cleaned", other) if other else PictureFault("not a picture")
    picture = reader(data)
    if not 0 < min(picture.width, picture.height) <= max(picture.width, picture.height) <= SIDE:
        raise PictureFault("too wide", f"{picture.width} by {picture.height} pixels")
    return picture


def _reader(data: bytes) -> Callable[[bytes], Picture] | None:
    if data.startswith(jpeg.START + b"\xff"):
        return jpeg.cleaned
    if data.startswith(png.START):
        return png.cleaned
    if data.startswith(webp.START) and data[8:12] == webp.KIND:
        return webp.cleaned
    return None
