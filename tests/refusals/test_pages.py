"""Pages with something to put right: a clear word with file and line, and a book that stays as it was."""

from __future__ import annotations

from pathlib import Path

import pytest

from refusals_support import reads_well, snapshot

PAGES = sorted((Path(__file__).parent / "pages").glob("*.yaml"))


@pytest.fixture
def book(oven, tmp_path):
    """A book with one baker and no formula."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    return tmp_path / "stall"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_a_bad_page_is_refused_in_words(page, book, oven, golden):
    """Exit 3, nothing on stdout, a golden message, and the book byte for byte as before."""
    (book.parent / page.name).write_bytes(page.read_bytes())
    before = snapshot(book)
    ran = oven("enter", f"../{page.name}", cwd=book)
    assert (ran.code, ran.out) == (3, "")
    reads_well(ran.err)
    golden(f"refusals/{page.stem}", ran.err)
    assert snapshot(book) == before


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("over-1-mb", b"formula: test-loaf\nwhy: " + b"x" * 1_000_001 + b"\n"),
        ("nested-too-deep", b"formula: test-loaf\nwhy: " + b"[" * 60 + b"]" * 60 + b"\n"),
        ("not-utf-8", "formula: test-loaf\ntitle: Bäckerlaib\n".encode("latin-1")),
        ("empty", b""),
        ("binary", bytes(range(256))),
    ],
)
def test_a_file_that_is_no_page_is_refused_in_words(name, data, book, oven, golden):
    """Too long, too deep, not text, empty: a clear word, and the book as before."""
    (book.parent / "page.yaml").write_bytes(data)
    before = snapshot(book)
    ran = oven("enter", "../page.yaml", cwd=book)
    assert (ran.code, ran.out) == (3, "")
    reads_well(ran.err)
    golden(f"refusals/file-{name}", ran.err)
    assert snapshot(book) == before


@pytest.mark.parametrize("reading", ["on-top", "counted-in"])
def test_each_reading_of_a_levain_can_be_accepted(reading, book, oven):
    """The command that a refusal offers for 100 flour, 70 water, 20 levain does what it says."""
    (book / "page.yaml").write_bytes((Path(__file__).parent / "pages" / "two-readings.yaml").read_bytes())
    refused = oven("enter page.yaml", cwd=book)
    assert f"ovenleaf enter page.yaml --levain {reading}" in refused.err
    accepted = oven(f"enter page.yaml --levain {reading}", cwd=book)
    assert accepted.code == 0
    assert ("90.91 %" in accepted.out) == (reading == "on-top")
    assert ("60.0 %" in accepted.out) == (reading == "counted-in")


@pytest.mark.parametrize(("reading", "flour"), [("on-top", "90.91 %"), ("counted-in", "90.0 %")])
def test_each_reading_of_a_levain_within_a_levain_can_be_accepted(reading, flour, book, oven):
    """A levain that is fed from the last one, in shares of its own flour, raises the same question in its own block."""
    own = "    strong wheat flour: 100%\n    water: 100%\n    levain: 20%\n    rest: 10 h\n"
    whole = "ingredients:\n  strong wheat flour: 100%\n  water: 74%\n\n"
    page = f"{whole}preferments:\n  sour:\n    takes: 20% of the flour\n{own}"
    (book / "page.yaml").write_text(page)
    refused = oven("enter page.yaml", cwd=book)
    assert f"ovenleaf enter page.yaml --levain {reading}" in refused.err
    accepted = oven(f"enter page.yaml --levain {reading}", cwd=book)
    assert accepted.code == 0, accepted.err
    assert flour in accepted.out


def test_line_ends_and_marks_of_other_editors_are_no_fault(book, oven):
    """CRLF and a byte order mark are evened out; the page in the book has neither."""
    text = "formula: test-loaf\r\ningredients:\r\n  strong wheat flour: 100%\r\n  water: 65%\r\n"
    (book / "page.yaml").write_bytes(b"\xef\xbb\xbf" + text.encode())
    assert oven("enter page.yaml", cwd=book).code == 0
    data = (book / "formulas/test-loaf.yaml").read_bytes()
    assert b"\r" not in data
    assert not data.startswith(b"\xef\xbb\xbf")


def test_refusals_can_be_read_by_scripts(book, oven):
    """With --json a refusal is a document on stderr, with its findings and what to type next."""
    import json

    ran = oven("show nothing --json", cwd=book)
    document = json.loads(ran.err)
    assert document["format"] == "ovenleaf.refusal/1"
    assert document["next"][0]["command"] == "ovenleaf list"
