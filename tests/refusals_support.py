"""What the tests of refusals share: a book before and after, and whether a message reads well."""

from __future__ import annotations

import json
import subprocess

GIT_WORDS = (
    "commit branch head hash repository remote push pull merge fetch clone stash tag checkout origin conflict blob"
)
JARGON = "key mapping scalar string none null token parse parser yaml exception stdin"


def snapshot(root):
    """Every file below a folder, with its bytes; what git and we rewrite for speed alone is left out."""
    files = (p for p in root.rglob("*") if p.is_file() and p.name.split(".")[0] not in ("index", "lock"))
    return {p.relative_to(root).as_posix(): p.read_bytes() for p in files}


def whole(root):
    """All of a book: files and folders with their bytes, leftovers too, and what its history holds and lists.

    What git has put away that no entry names is harmless and left out; its index is read, since git writes
    the same list with other times. What was read from pages before is no part of the book.
    """
    found = {}
    for path in root.rglob("*"):
        name = path.relative_to(root).as_posix()
        if not name.startswith(".git/objects/") and name not in (".git/index", ".git/ovenleaf/index.sqlite"):
            found[name] = path.read_bytes() if path.is_file() else None
    if (root / ".git/HEAD").is_file():
        for words in (("rev-list", "--objects", "--all"), ("ls-files", "-s")):
            ran = subprocess.run(["git", "-C", root, *words], capture_output=True, check=True)
            found[words[0]] = ran.stdout
    return found


def reads_well(text):
    """80 columns, no git word, no sign in front of a line, no escape, no traceback."""
    for line in text.splitlines():
        command = line.startswith("  ovenleaf ")  # never broken: it is there to be copied
        assert len(line) <= 80 or " " not in line.strip() or command, line
        assert not line.startswith(("+", "-")), line
    words = {word.strip(".,:;()").lower() for word in text.split()}
    assert not words & set(GIT_WORDS.split()), words & set(GIT_WORDS.split())
    assert "\x1b" not in text
    assert "Traceback" not in text


def refused(oven, command, book, **world):
    """Runs a command that must be refused: exit 3, nothing on stdout, words that read well, and a book left alone.

    The same command with --json says the same in a document. Gives what stood on stderr, without the folder's name.
    """
    before = whole(book)
    ran = oven(command, cwd=book, **world)
    assert (ran.code, ran.out) == (3, ""), (command, ran.out, ran.err)
    reads_well(ran.err)
    words = {word.strip(".,:;()").lower() for word in ran.err.split()}
    assert not words & set(JARGON.split()), words & set(JARGON.split())
    assert whole(book) == before
    return ran.err.replace(str(book), "BOOK").replace(str(book.parent), "ABOVE")


def as_document(ran):
    """A refusal that was asked for in JSON."""
    document = json.loads(ran.err)
    assert document["format"] == "ovenleaf.refusal/1"
    assert document["what"]
    return document


def offered(text):
    """The commands that a refusal offers, each without the program's name."""
    return [line[len("  ovenleaf ") :].split("   ")[0] for line in text.splitlines() if line.startswith("  ovenleaf ")]
