"""Pictures for tests, made here: each with a place, a camera and text in it wherever its format can hold them."""

from __future__ import annotations

import io
import struct
import zlib

from PIL import Image, PngImagePlugin

PLACE = b"GPS-52.0705N-4.3007E"  # stands wherever a place could hide
XMP = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><exif:GPSLatitude>52,4.2N</exif:GPSLatitude>' + PLACE + b"</x:xmpmeta>"
IPTC = b"Photoshop 3.0\x008BIM\x04\x04\0\0\0\0\0\x1c\x1c\x02\x5a\0\x0e" + PLACE + b"\0\0"
PROFILE = b"made-up profile of colours " * 20


def image(size=(48, 32), mode="RGB"):
    """A picture that is not the same when turned or mirrored."""
    made = Image.new(mode, size)
    places = [(x, y) for y in range(size[1]) for x in range(size[0])]
    bands = [((x * 5) % 256, (y * 7) % 256, (x * y) % 256, (128 + x) % 256)[: len(made.getbands())] for x, y in places]
    points = [band[0] for band in bands] if len(made.getbands()) == 1 else bands
    made.putdata(points)
    return made


def notes(turned=6):
    """A camera's notes: the place, the camera, when it was taken, and how the picture is turned."""
    exif = Image.Exif()
    exif[0x010F] = "Made-up Cameras"
    exif[0x0110] = PLACE.decode()
    exif[0x0132] = "2026:11:12 11:02:00"
    if turned:
        exif[0x0112] = turned
    exif.get_ifd(0x8825).update({1: "N", 2: (52.0, 4.0, 13.8), 3: "E", 4: (4.0, 18.0, 2.5)})
    return exif


def jpeg(turned=6, *, progressive=False, mode="RGB"):
    """A JPEG with notes, XMP, IPTC, a comment, a second picture behind the first, and a colour profile."""
    saved = io.BytesIO()
    image(mode=mode).save(
        saved, "JPEG", exif=notes(turned), icc_profile=PROFILE, progressive=progressive, comment=PLACE
    )
    data = saved.getvalue()
    more = (
        _segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0" + XMP)
        + _segment(0xED, IPTC)
        + _segment(0xE2, b"FPXR\0" + PLACE)
    )
    return data[:2] + more + data[2:] + jpeg_alone() + PLACE


def jpeg_alone():
    """A JPEG with nothing in it but the picture."""
    saved = io.BytesIO()
    image().save(saved, "JPEG")
    return saved.getvalue()


def _segment(marker, body):
    return bytes((0xFF, marker)) + struct.pack(">H", len(body) + 2) + body


def png(turned=6, *, mode="RGBA"):
    """A PNG with notes, texts of all three kinds, a time, and something behind its end."""
    texts = PngImagePlugin.PngInfo()
    texts.add_text("Comment", PLACE.decode())
    texts.add_text("Place", PLACE.decode() * 9, zip=True)
    texts.add_itxt("XML:com.adobe.xmp", XMP.decode())
    saved = io.BytesIO()
    image(mode=mode).save(saved, "PNG", exif=notes(turned), pnginfo=texts, icc_profile=PROFILE, dpi=(72, 72))
    data = saved.getvalue()
    return data[:-12] + chunk(b"tIME", bytes(7)) + chunk(b"vpAg", PLACE) + data[-12:] + PLACE


def chunk(name, body):
    """One chunk of a PNG."""
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def webp(turned=6, *, mode="RGBA", lossless=False, frames=1):
    """A WebP with notes and XMP; with more frames it moves."""
    saved = io.BytesIO()
    others = [image(mode=mode).point(lambda value, n=n: 255 - value // n) for n in range(1, frames)]
    more = {"save_all": True, "append_images": others} if others else {}
    image(mode=mode).save(saved, "WEBP", exif=notes(turned), xmp=XMP, icc_profile=PROFILE, lossless=lossless, **more)
    data = saved.getvalue() + b"JUNK" + struct.pack("<I", len(PLACE)) + PLACE
    return data[:4] + struct.pack("<I", len(data) - 8) + data[8:]
