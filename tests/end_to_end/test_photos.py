"""Pictures with a bake: copies in the book, named by the trial, telling no place and no camera."""

from __future__ import annotations

import json
import shutil

import pytest

from ovenleaf.book.steps.photos import LIMIT
from picture_builders import PLACE, jpeg, jpeg_alone, png, webp
from refusals_support import reads_well, refused

NOW = "2026-11-25T12:00:00+01:00"


@pytest.fixture
def run(oven, sample_book):
    """One command in a sample book of the test's own, which must go well."""

    def go(*words):
        ran = oven(*words, cwd=sample_book, now=NOW)
        assert ran.code == 0, ran.err
        reads_well(ran.out)
        return ran.out

    return go


@pytest.fixture
def pictures(tmp_path):
    """A picture of each kind, each with a place in it."""
    for name, data in {"IMG_2041.jpg": jpeg(), "cut face.png": png(), "crust.webp": webp()}.items():
        (tmp_path / name).write_bytes(data)
    return tmp_path


def test_pictures_are_kept_with_their_trial(run, pictures, sample_book, golden):
    """Copies named by the trial, listed on its page, in one entry; the place is nowhere in the book."""
    screen = run("photo C2 ../IMG_2041.jpg '../cut face.png' ../crust.webp")
    golden("photos/kept", screen)

    page = (sample_book / "trials/market-roll/2026-10-15-noor.yaml").read_text()
    files = [f"photos/market-roll/c2-noor-{name}" for name in ("1.jpg", "2.png", "3.webp")]
    assert "".join(f"  - {file}\n" for file in files) in page
    assert all(PLACE not in (sample_book / file).read_bytes() for file in files)
    assert (pictures / "IMG_2041.jpg").read_bytes() == jpeg()
    assert json.loads(run("show C2 --json"))["photos"] == files
    assert "photos/market-roll/c2-noor-2.png" in run("show C2")
    assert "nothing found" in run("check")
    assert "Nothing is unsaved" in run()


def test_numbers_go_on_and_a_picture_is_kept_once(run, pictures, golden):
    """A second time the same picture is named, not kept again."""
    run("photo C2 ../IMG_2041.jpg")
    golden("photos/once_more", run("photo C2 ../IMG_2041.jpg ../crust.webp"))


def test_a_preview_keeps_nothing(run, pictures, sample_book):
    """It says what would be kept."""
    assert "A preview" in run("photo C2 ../IMG_2041.jpg --preview")
    assert not list(sample_book.rglob("c2-noor-*"))


def test_a_picture_that_has_nothing_to_take_out_is_said_to_have_none(run, tmp_path):
    """Neither praised nor doubted."""
    (tmp_path / "plain.jpg").write_bytes(jpeg_alone())
    assert "There was nothing to take out of it" in run("photo C2 ../plain.jpg")


REFUSED = {
    "no_picture": ("notes.txt", b"crumb was fine\n"),
    "named_like_one": ("crumb.jpg", b"crumb was fine\n"),
    "heic": ("IMG_2042.HEIC", b"\0\0\0\x18ftypheic\0\0\0\0"),
    "gif": ("crumb.gif", b"GIF89a"),
    "breaks_off": ("half.jpg", jpeg_alone()[:400]),
    "too_large": ("large.jpg", jpeg_alone() + bytes(LIMIT)),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_kept(name, oven, sample_book, pictures, golden):
    """All or none: a picture beside it is not kept either."""
    file, data = REFUSED[name]
    (pictures / file).write_bytes(data)
    golden(f"photos/{name}", refused(oven, f"photo C2 ../IMG_2041.jpg ../{file}", sample_book, now=NOW))


OTHERS = {
    "no_file": "photo C2 ../IMG_9999.jpg",
    "folder": "photo C2 ../ferry-lane",
    "no_trial": "photo Z9 ../IMG_2041.jpg",
    "many": "photo C2" + " ../IMG_2041.jpg" * 25,
}


@pytest.mark.parametrize("name", OTHERS)
def test_what_else_is_refused(name, oven, sample_book, pictures, golden):
    """With the one step that helps."""
    golden(f"photos/{name}", refused(oven, OTHERS[name], sample_book, now=NOW))


def test_the_same_picture_alone_is_refused(run, oven, sample_book, pictures, golden):
    """It is there, and as what."""
    run("photo C2 ../IMG_2041.jpg")
    golden("photos/known", refused(oven, "photo C2 ../IMG_2041.jpg", sample_book, now=NOW))


def test_check_tells_of_pictures_that_are_not_in_order(run, oven, sample_book, pictures, golden):
    """Gone, put there by hand with its place, no picture at all, and one that no trial names."""
    run("photo C2 ../IMG_2041.jpg '../cut face.png' ../crust.webp")
    folder = sample_book / "photos/market-roll"
    (folder / "c2-noor-1.jpg").unlink()
    (folder / "c2-noor-2.png").write_bytes(png())
    (folder / "c2-noor-3.webp").write_text("crumb")
    shutil.copy(pictures / "IMG_2041.jpg", folder / "beach.jpg")
    ran = oven("check", cwd=sample_book, now=NOW)

    assert ran.code == 1
    golden("photos/check", ran.out)


def test_a_picture_that_is_not_clean_is_cleaned_where_it_lies(run, oven, sample_book, pictures):
    """As `check` says to do; it is not kept twice."""
    run("photo C2 '../cut face.png'")
    file = sample_book / "photos/market-roll/c2-noor-1.png"
    clean = file.read_bytes()
    file.write_bytes(png())
    assert oven("check", cwd=sample_book, now=NOW).code == 1
    run("photo C2 photos/market-roll/c2-noor-1.png")

    assert file.read_bytes() == clean
    assert json.loads(run("show C2 --json"))["photos"] == ["photos/market-roll/c2-noor-1.png"]
    assert "nothing found" in run("check")


def test_a_name_that_leads_out_of_the_book_is_not_followed(run, oven, sample_book):
    """A page by someone else may name anything."""
    page = sample_book / "trials/market-roll/2026-10-15-noor.yaml"
    text = page.read_text()
    page.write_text(text.replace("\npin:", "\nphotos:\n  - photos/../../roll.jpg\n  - ../roll.jpg\npin:", 1))
    ran = oven("check", cwd=sample_book, now=NOW)

    assert ran.code == 1
    assert ran.out.count("roll.jpg") >= 2
