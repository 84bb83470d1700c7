"""What the tests of refusals share: a book before and after, and whether a message reads well."""

from __future__ import annotations

GIT_WORDS = (
    "commit branch head hash repository remote push pull merge fetch clone stash tag checkout origin conflict blob"
)


def snapshot(root):
    """Every file below a folder, with its bytes; what git rewrites for its own speed is left out."""
    files = (p for p in root.rglob("*") if p.is_file() and p.name not in ("index", "lock"))
    return {p.relative_to(root).as_posix(): p.read_bytes() for p in files}


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
