"""Histories that somebody made by hand and laid on the stick: refused in words, or taken in and harmless."""

from __future__ import annotations

import subprocess
from typing import NamedTuple

import pytest

from hostile_support import (
    EVENING,
    FILE,
    HISTORY,
    LINK,
    LOOKING,
    PART,
    a_list,
    an_entry,
    around,
    go_through,
    plain_git,
    sent,
    with_files,
    within,
)
from ovenleaf.book import git
from sharing_support import pages

pytestmark = pytest.mark.counted

OTHER = b"format: formula/1\nformula: NAME\nrevision: 1\nby: petra\ningredients:\n  strong wheat flour: 100%\n"
TRIAL = b"""\
format: trial/1
trial: ../../x
formula: ../../y
revision: ../../r1.noor
code: ../../z
baker: ../../noor
state: done
bake_date: 2026-11-21
photos: [../../../outside/secret.yaml, /etc/passwd]
"""


DAMAGED = "damaged"


class Sent(NamedTuple):
    """Files put into the book that is sent, and what the refusal says: "" where they are taken in and do no harm,
    DAMAGED where the part is named and left out."""

    files: dict[bytes, tuple[bytes, object]]
    says: str = ""
    plain: bool = True  # plain git takes it


BOOKS = {
    "a link for a page": Sent({b"formulas/caraway-rye.yaml": (LINK, b"../../../outside/secret.yaml")}, "is a link"),
    "a link for a folder": Sent({b"photos": (LINK, b"../../outside")}, "is a link"),
    "a link for the history": Sent({b".git": (LINK, b"../../outside")}, DAMAGED, plain=False),
    "a folder .git": Sent({b".git/config": (FILE, b"[core]\n")}, DAMAGED, plain=False),
    "a folder .GIT": Sent({b"formulas/.GIT/config": (FILE, b"[core]\n")}, DAMAGED, plain=False),
    "a book within the book": Sent({b"photos/sub": (HISTORY, "1" * 40)}, "is not a plain file"),
    "modules": Sent({b".gitmodules": (FILE, b'[submodule "x"]\n\tpath = x\n\turl = -u./x\n')}, DAMAGED),
    "a way out of the folder": Sent({b"formulas/../../../outside/x": (FILE, OTHER)}, DAMAGED, plain=False),
    "a way out in one name": Sent({b"=../../outside/x": (FILE, OTHER)}, DAMAGED, plain=False),
    "a name from the root": Sent({b"=/outside": (FILE, OTHER)}, DAMAGED, plain=False),
    "a way out for one kind of computer": Sent({b"formulas/..\\..\\x.yaml": (FILE, OTHER)}, "sign in its name"),
    "a name of a device": Sent({b"formulas/con.yaml": (FILE, OTHER)}, "keep for themselves"),
    "a very long name": Sent({b"formulas/" + b"a" * 230 + b".yaml": (FILE, OTHER)}, "too long"),
    "folder in folder, two hundred deep": Sent({b"formulas/" + b"a/" * 200 + b"x.yaml": (FILE, OTHER)}, "end"),
    "folder in folder, twenty deep": Sent({b"formulas/" + b"aaaaaaaaaaaa/" * 20 + b"x": (FILE, OTHER)}, "too long"),
    "two names but for case": Sent({b"formulas/Caraway-rye.yaml": (FILE, OTHER)}, "one name on some computers"),
    "two names but for an accent": Sent(
        {"photos/é/1.jpg".encode(): (FILE, b"x"), "photos/e\u0301/2.jpg".encode(): (FILE, b"x")}, "written in two ways"
    ),
    "a name that turns about": Sent({"formulas/a\u202eb.yaml".encode(): (FILE, OTHER)}, "sign in its name"),
    "a name with an escape": Sent({b"formulas/a\x1b[2Jb.yaml": (FILE, OTHER)}, "sign in its name"),
    "a name that is no text": Sent({b"formulas/\xff.yaml": (FILE, OTHER)}, "has a name that cannot be read"),
    "a program": Sent({b"bin/ovenleaf": (b"100755", b"#!/bin/sh\n")}, "no folder of a book"),
    "a picture of 120 MB": Sent({b"photos/x/1.jpg": (FILE, bytes(120_000_000))}, "larger than 100 MB"),
    "a page of 12 MB": Sent({b"formulas/huge.yaml": (FILE, b"a: 1\n" * 2_400_000)}),
    "a page with NUL in it": Sent({b"formulas/x-loaf.yaml": (FILE, b"formula: x\0loaf\n")}),
    "a page that can be run": Sent({b"formulas/x-loaf.yaml": (b"100755", OTHER)}),
    "a look-alike of a formula": Sent({"formulas/caraway-ry\u0435.yaml".encode(): (FILE, OTHER)}),
    "a look-alike of kept revisions": Sent({"formulas/caraway-ry\u0435/r1.noor.yaml".encode(): (FILE, OTHER)}),
    "a look-alike of a baker": Sent({"formulas/caraway-rye/r4.n\u043eor.yaml".encode(): (FILE, OTHER)}),
    "a revision of a number beyond all": Sent({b"formulas/caraway-rye/r99999999999.petra.yaml": (FILE, OTHER)}),
    "ids that lead out": Sent({b"trials/caraway-rye/2026-11-21-petra.yaml": (FILE, TRIAL)}),
    "rules that change line ends": Sent({b".gitattributes": (FILE, b"* text eol=crlf filter=x merge=x diff=x\n")}),
    "a rule that hides all": Sent({b".gitignore": (FILE, b"*\n")}),
}
LOOK_ALIKE = "a look-alike"


def refused(made, book, says):
    """A share that takes nothing in, and a join that makes nothing; the words of the first."""
    before, head = pages(book), git.head(book)
    outside = around(made.folder, book, made.folder / "stick")
    ran = made.type(book, "share", EVENING, code=3)
    assert says in " ".join(ran.err.split()), ran.err
    joined = made.type(made.folder / "tomas", "join ../stick/ferry-lane new --baker ada", EVENING, code=3)
    assert (pages(book), git.head(book)) == (before, head)
    assert around(made.folder, book, made.folder / "stick") == outside
    assert all(line.isprintable() for line in (ran.err + joined.err).split("\n"))


def left_out(made, book, part):
    """The part is named and nothing of it is taken in; what else lies there is, and who joins has that."""
    ran = made.type(book, "share", EVENING)
    assert part.name in ran.out
    made.type(made.folder / "tomas", "join ../stick/ferry-lane new --baker ada", EVENING)
    assert pages(made.folder / "tomas/new") == pages(book)
    assert pages(book).keys() == pages(made.noor).keys() | {"formulas/caraway-rye/r2.tomas.yaml"} | {
        "formulas/caraway-rye/r4.noor.tomas.yaml"
    }


@pytest.mark.parametrize("name", BOOKS)
def test_what_was_put_into_a_history_is_refused_or_harmless(name, kitchens):
    """Whoever shares it, and whoever joins; plain git takes nearly all of it without a word."""
    files, says, plain = BOOKS[name]
    part = sent(kitchens, an_entry(kitchens.noor, with_files(kitchens.noor, files)))
    kitchens.type(kitchens.tomas, 'tweak caraway-rye water=75% --why "wetter"', EVENING)
    if says == DAMAGED:
        left_out(kitchens, kitchens.tomas, part)
    elif says:
        refused(kitchens, kitchens.tomas, says)
    else:
        go_through(kitchens, kitchens.tomas, ("share", *LOOKING, "check --whole"))
        kitchens.type(kitchens.tomas, 'tweak caraway-rye salt=1.7% --why "less"', EVENING)
        kitchens.type(kitchens.folder / "tomas", "join ../stick/ferry-lane new --baker ada", EVENING)
    if name.startswith(LOOK_ALIKE):
        assert "is not a page of this book" in " ".join(kitchens.run(kitchens.tomas, "check", EVENING).out.split())
        assert "\u0435" not in kitchens.run(kitchens.tomas, "list", EVENING).out
    fetched = plain_git(kitchens.folder / "noor/ferry-lane", "fetch", str(part), "evil:refs/heads/taken")
    assert fetched.returncode == 0 or not plain


def test_a_link_is_followed_by_whoever_takes_no_care(kitchens):
    """What the book of the table has for a page shows, with plain git, what lies outside."""
    sent(kitchens, an_entry(kitchens.noor, with_files(kitchens.noor, BOOKS["a link for a page"].files)))
    plain_git(kitchens.noor, "checkout", "-q", "evil", check=True)
    assert "a secret of the house" in (kitchens.noor / "formulas/caraway-rye.yaml").read_text()


def bomb(book):
    """Nine lists, each naming the next 99 times over: some 10^17 files in a few kilobytes."""
    there = a_list(book, {b"%02d" % number: (FILE, OTHER) for number in range(99)})
    for _ in range(8):
        there = a_list(book, {b"%02d" % number: (b"40000", there) for number in range(99)})
    return an_entry(book, with_files(book, {b"photos": (b"40000", there)}))


@pytest.mark.parametrize("hidden", [False, True])
def test_a_history_without_end_is_refused_before_it_is_laid_out(hidden, kitchens):
    """Also where the last entry is as it should be, and one before it is not."""
    entry = bomb(kitchens.noor)
    if hidden:
        plain = plain_git(kitchens.noor, "rev-parse", "HEAD^{tree}").stdout.strip()
        entry = an_entry(kitchens.noor, plain, after=entry)
    part = sent(kitchens, entry)
    assert part.stat().st_size < 40_000
    with within(20):
        refused(kitchens, kitchens.tomas, "more than a book can hold")


SIGNED = {
    "a zone that is nowhere": "petra <p@x> 1795000000 +9999",
    "a time no calendar has": "petra <p@x> 99999999999999 +0000",
    "a time no computer has": "petra <p@x> 9223372036854775807 +0000",
    "escapes in a name": "pe\x1b[2J\u202etra <p@x> 1795000000 +0100",
    "no name": " <p@x> 1795000000 +0100",
    "a name of 100 000 letters": "p" * 100_000 + " <p@x> 1795000000 +0100",
    "a name that is no text": "p\udcff <p@x> 1795000000 +0100",
    "mark-up for a name": "[b]$(touch x)`touch x`%s{0} <p@x> 1795000000 +0100",
    "parts of an answer in a name": "a\x1fb\x1fc <p@x> 1795000000 +0100",
}


@pytest.mark.parametrize("name", SIGNED)
def test_an_entry_that_is_signed_by_nobody_at_no_time_does_no_harm(name, kitchens):
    """It is taken in, combined with ours, and told of in plain letters; both who combine it write one entry."""
    tree = with_files(kitchens.noor, {b"formulas/caraway-rye/note.txt": (FILE, b"x")})
    sent(kitchens, an_entry(kitchens.noor, tree, by=SIGNED[name]))
    joined = kitchens.type(kitchens.folder / "tomas", "join ../stick/ferry-lane new --baker ada", EVENING)
    assert all(line.isprintable() for line in joined.out.split("\n"))
    assert len(joined.out) < 800
    kitchens.type(kitchens.tomas, 'tweak caraway-rye water=75% --why "wetter"', EVENING)
    assert go_through(kitchens, kitchens.tomas, ("share", *LOOKING, "check --whole"))["share"] == 0
    kitchens.type(kitchens.noor, "share", EVENING)
    assert git.head(kitchens.noor) == git.head(kitchens.tomas)


def test_the_zone_that_is_nowhere_stops_a_reader_that_takes_no_care():
    """What a plain reading of such a time comes to."""
    from datetime import timedelta, timezone

    with pytest.raises(ValueError, match="strictly between"):
        timezone(timedelta(hours=99, minutes=99))


def test_a_part_cut_or_spoiled_anywhere_is_named_and_nothing_of_it_is_taken_in(kitchens):
    """At forty places; the book stands as it was, and the whole part is taken in after all."""
    tree = with_files(kitchens.noor, {b"formulas/x-loaf.yaml": (FILE, OTHER.replace(b"NAME", b"x-loaf"))})
    part = sent(kitchens, an_entry(kitchens.noor, tree))
    kitchens.type(kitchens.tomas, "share", EVENING)
    whole, head = part.read_bytes(), git.head(kitchens.tomas)
    begins = whole.index(b"\n\n") + 2
    tree = with_files(kitchens.noor, {b"formulas/y-loaf.yaml": (FILE, OTHER.replace(b"NAME", b"y-loaf"))})
    whole = sent(kitchens, an_entry(kitchens.noor, tree, after="evil")).read_bytes()
    begins = whole.index(b"\n\n") + 2
    for number in range(20):
        at = begins + (len(whole) - begins) * number // 20
        for spoiled in (whole[:at], whole[:at] + bytes([whole[at] ^ 0x55]) + whole[at + 1 :]):
            part.write_bytes(spoiled)
            ran = kitchens.type(kitchens.tomas, "share", EVENING)
            assert part.name in ran.out, at
            assert git.head(kitchens.tomas) == head
    part.write_bytes(whole)
    kitchens.type(kitchens.tomas, "share", EVENING)
    assert (kitchens.tomas / "formulas/y-loaf.yaml").exists()
    assert subprocess.run(["git", "-C", kitchens.tomas, "fsck", "--strict"], check=False).returncode == 0


def test_a_part_that_says_it_holds_four_thousand_million_things_is_damaged(kitchens):
    """No room is made for what is only said."""
    part = kitchens.folder / PART
    head = (kitchens.folder / "stick/ferry-lane/ferry-lane.noor.0001.bundle").read_bytes()
    begins = head.index(b"\n\n") + 2
    part.write_bytes(
        b"# v2 git bundle\n" + b"1" * 40 + b" HEAD\n\n" + b"PACK\0\0\0\2\xff\xff\xff\xff" + head[begins + 12 :]
    )
    with within(20):
        ran = kitchens.type(kitchens.tomas, "share", EVENING)
    assert part.name in ran.out
