"""Pictures are cleaned: nothing but the picture is left, it is untouched, and stands as the camera held it.

Referee: Pillow reads what we wrote, and compares every pixel.
"""

from __future__ import annotations

import contextlib
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageOps

from builders import QUICK
from ovenleaf.records.pictures.cleaning import SIDE, cleaned
from ovenleaf.records.pictures.parts import PictureFault, read_notes, turned_notes
from picture_builders import PLACE, PROFILE, chunk, image, jpeg, jpeg_alone, png, webp

MADE = {
    "jpeg": lambda turned: jpeg(turned),
    "jpeg progressive": lambda turned: jpeg(turned, progressive=True),
    "jpeg grey": lambda turned: jpeg(turned, mode="L"),
    "jpeg cmyk": lambda turned: jpeg(turned, mode="CMYK"),
    "png": lambda turned: png(turned),
    "png grey": lambda turned: png(turned, mode="L"),
    "webp": lambda turned: webp(turned),
    "webp lossless": lambda turned: webp(turned, lossless=True),
    "webp without a see-through part": lambda turned: webp(turned, mode="RGB"),
    "webp moving": lambda turned: webp(turned, frames=3),
}


def opened(data):
    """As the referee reads it."""
    read = Image.open(io.BytesIO(data))
    read.load()
    return read


@pytest.mark.parametrize("turned", [0, 1, 3, 6, 8])
@pytest.mark.parametrize("made", MADE)
def test_nothing_is_left_but_the_picture(made, turned):
    """No place, camera, time, text or profile of anything else; pixels, colours and the way it is turned stay."""
    before = MADE[made](turned)
    assert PLACE in before
    picture = cleaned(before)
    one, other = opened(before), opened(picture.data)

    assert PLACE not in picture.data
    assert b"xmpmeta" not in picture.data
    assert b"Made-up Cameras" not in picture.data
    assert dict(other.getexif()) == ({0x0112: turned} if turned > 1 else {})
    assert other.getexif().get_ifd(0x8825) == {}
    assert not {"xmp", "comment", "photoshop", "Comment", "Place", "XML:com.adobe.xmp"} & set(other.info)
    assert (other.mode, other.size, other.tobytes()) == (one.mode, one.size, one.tobytes())
    assert other.info.get("icc_profile") == PROFILE
    assert ImageOps.exif_transpose(other).tobytes() == ImageOps.exif_transpose(one).tobytes()
    assert (picture.width, picture.height) == one.size
    assert picture.taken_out[0] == "the place"


@pytest.mark.parametrize("made", MADE)
def test_what_is_clean_stays_byte_for_byte(made):
    """Cleaning again changes nothing, and there is nothing to take out."""
    clean = cleaned(MADE[made](6)).data
    again = cleaned(clean)

    assert again.data == clean
    assert "the place" not in again.taken_out


def test_every_frame_of_a_moving_picture_stays():
    """The referee counts them and compares each."""
    before = webp(1, frames=3)
    one, other = opened(before), opened(cleaned(before).data)

    assert other.n_frames == one.n_frames == 3
    for frame in range(3):
        one.seek(frame)
        other.seek(frame)
        assert other.tobytes() == one.tobytes()


def test_a_second_picture_behind_the_first_goes():
    """Telephones put one there, with a place of its own."""
    assert cleaned(jpeg_alone() + jpeg()).data == cleaned(jpeg_alone()).data


def test_a_small_picture_in_the_head_goes():
    """JFIF can hold one, of what was there before the picture was cut."""
    data = jpeg_alone()
    assert data[6:11] == b"JFIF\0"
    small = bytes((2, 1)) + b"\x01\x02\x03" * 2
    with_small = data[:4] + (2 + 12 + len(small)).to_bytes(2, "big") + data[6:18] + small + data[20:]

    assert opened(with_small).size == (48, 32)
    assert cleaned(with_small).data == cleaned(data).data


@pytest.mark.parametrize(
    ("data", "kind", "what"),
    [
        (b"", "not a picture", ""),
        (b"formula: market-roll\n", "not a picture", ""),
        (b"%PDF-1.7", "not a picture", ""),
        (b"RIFF\x04\0\0\0WAVE", "not a picture", ""),
        (b"\0\0\0\x18ftypheic\0\0\0\0", "cannot be cleaned", "HEIC"),
        (b"\0\0\0\x1cftypavif\0\0\0\0", "cannot be cleaned", "AVIF"),
        (b"GIF89a", "cannot be cleaned", "GIF"),
        (b"II*\0\x08\0\0\0", "cannot be cleaned", "TIFF"),
        (b"BM\x36\0\0\0", "cannot be cleaned", "BMP"),
        (b"\xff\xd8\xff", "broken", ""),
        (b"\x89PNG\r\n\x1a\n", "broken", ""),
        (b"RIFF\x04\0\0\0WEBP", "broken", ""),
        (b"RIFF\xff\0\0\0WEBP", "broken", ""),
        (
            b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", bytes(13)) + chunk(b"MORE", b""),
            "cannot be cleaned",
            "PNG of a kind unknown here",
        ),
    ],
)
def test_what_is_no_picture_or_cannot_be_cleaned(data, kind, what):
    """Told apart, and never kept as it is."""
    with pytest.raises(PictureFault) as caught:
        cleaned(data)
    assert (caught.value.kind, caught.value.what) == (kind, what)


@pytest.mark.parametrize("made", [jpeg_alone, png, webp])
def test_a_file_that_breaks_off_is_refused(made):
    """Wherever it does."""
    whole = cleaned(made()).data
    for cut in range(1, len(whole) - 1, 7):
        with pytest.raises(PictureFault):
            cleaned(whole[:cut])


def test_a_png_whose_sums_do_not_come_out_is_refused():
    """A flipped bit is seen."""
    whole = bytearray(cleaned(png()).data)
    whole[len(whole) // 2] ^= 1
    with pytest.raises(PictureFault, match="broken"):
        cleaned(bytes(whole))


def test_a_side_beyond_all_cameras_is_refused():
    """With its size."""
    saved = io.BytesIO()
    image(size=(SIDE + 1, 1), mode="L").save(saved, "PNG")
    with pytest.raises(PictureFault) as caught:
        cleaned(saved.getvalue())
    assert (caught.value.kind, caught.value.what) == ("too wide", "20001 by 1 pixels")


def test_notes_that_make_no_sense_say_nothing():
    """They are no reason to refuse a picture: they go anyway."""
    assert read_notes(b"").turned == 1
    assert read_notes(b"II*\0\xff\xff\xff\xff").turned == 1
    assert read_notes(turned_notes(6).replace(b"\0\x06\0\0", b"\0\x63\0\0")).turned == 1


@QUICK
@given(st.sampled_from([jpeg_alone(), png(), webp(), jpeg()]), st.data())
def test_damage_is_refused_or_cleaned_and_never_breaks_us(whole, data):
    """A few bytes changed or cut anywhere: a fault of the picture's, or a picture without a place."""
    damaged = bytearray(whole)
    for _ in range(data.draw(st.integers(1, 4))):
        damaged[data.draw(st.integers(0, len(damaged) - 1))] = data.draw(st.integers(0, 255))
    with contextlib.suppress(PictureFault):
        cleaned(bytes(damaged[: data.draw(st.integers(1, len(damaged)))]))
