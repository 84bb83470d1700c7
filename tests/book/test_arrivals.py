"""What arrives is looked at strictly before anything in the book moves."""

from __future__ import annotations

import pytest

from ovenleaf.book import addresses, arrivals, git

EMPTY = "e69de29bb2d1d6434b8b29ae775ad8c2e48c5391"


@pytest.fixture(scope="module")
def root(tmp_path_factory):
    folder = tmp_path_factory.mktemp("arrivals")
    git.init(folder)
    git.store_blob(folder, b"")
    return folder


def entry(root, files: dict[bytes, str]) -> str:
    """An entry with these names and kinds, as somebody could make it who wants to do harm."""
    tree: dict = {}
    for path, mode in files.items():
        *folders, name = path.split(b"/")
        here = tree
        for folder in folders:
            here = here.setdefault(folder, {})
        here[name] = mode
    return make(root, tree)


def make(root, tree) -> str:
    rows = []
    for name, inner in tree.items():
        if isinstance(inner, dict):
            rows.append((b"40000", name, make(root, inner)))
        else:
            rows.append((inner.encode(), name, "1" * 40 if inner == "160000" else EMPTY))
    rows.sort(key=lambda row: row[1])
    data = b"".join(mode + b" " + name + b"\0" + bytes.fromhex(there) for mode, name, there in rows)
    return git.run(root, "hash-object", "-w", "-t", "tree", "--stdin", "--literally", input=data).decode().strip()


def told(root, *paths: bytes, mode: str = "100644") -> str:
    files = {b"book.yaml": "100644"} | dict.fromkeys(paths, mode)
    with pytest.raises(arrivals.NotTakenIn) as refused:
        arrivals.check(root, entry(root, files))
    return refused.value.what


def test_a_book_as_it_should_be_is_taken_in(root):
    """Pages, photographs, and a note for those who look at it elsewhere."""
    good = (b"book.yaml", b"README.md", b".gitattributes", b"formulas/rye.yaml", b"formulas/rye/r1.noor.yaml",
            b"trials/rye/2026-11-12-noor.yaml", b"photos/rye/D2.jpg")  # fmt: skip
    arrivals.check(root, entry(root, dict.fromkeys(good, "100644")))


@pytest.mark.parametrize(
    ("path", "mode", "why"),
    [
        (b"formulas/rye.yaml", "120000", "is a link"),
        (b"formulas", "120000", "is a link"),
        (b"formulas/rye.yaml", "160000", "is not a plain file"),
        (b"scripts/run.sh", "100644", "no folder of a book"),
        (b".github/workflows/x.yml", "100644", "no folder of a book"),
        (b"formulas/.git", "100644", "own history"),
        (b"formulas/.GIT/config", "100644", "own history"),
        (b".gitmodules", "100644", "own history"),
        (b"formulas/git~1", "100644", "own history"),
        (b"formulas/con.yaml", "100644", "keep for themselves"),
        (b"photos/aux/a.jpg", "100644", "keep for themselves"),
        (b"trials/rye/nul", "100644", "keep for themselves"),
        (b"formulas/rye.yaml.", "100644", "point or a space"),
        (b"formulas/rye ", "100644", "point or a space"),
        (b"formulas/a:b.yaml", "100644", "sign in its name"),
        (b"formulas/a\\b.yaml", "100644", "sign in its name"),
        (b"formulas/a\nb.yaml", "100644", "sign in its name"),
        ("formulas/a\u202eb.yaml".encode(), "100644", "sign in its name"),
        ("formulas/a\u200bb.yaml".encode(), "100644", "sign in its name"),
        ("formulas/cafe\u0301.yaml".encode(), "100644", "written in two ways"),
        (b"formulas/\xff.yaml", "100644", "cannot be read"),
        (b"formulas/" + b"a" * 201, "100644", "too long"),
    ],
)
def test_what_a_book_cannot_hold_is_refused_with_its_name(root, path, mode, why):
    """Links, foreign folders, git's own names, names that some computers cannot keep."""
    assert why in told(root, path, mode=mode)


def test_names_that_are_one_on_some_computers_are_refused(root):
    """Case, and letters that look alike."""
    assert "one name on some computers" in told(root, b"formulas/rye.yaml", b"formulas/Rye.yaml")
    assert "one name on some computers" in told(root, b"formulas/rye/r1.a.yaml", b"formulas/RYE/r2.a.yaml")


@pytest.mark.parametrize("path", [b"formulas/../../x", b"/etc/passwd", b"formulas/..", b"a//b"])
def test_names_that_lead_out_of_the_book_are_refused(root, path):
    """git would not write them; neither would we."""
    files = {b"book.yaml": "100644", path: "100644"}

    with pytest.raises((arrivals.NotTakenIn, git.GitFault)):
        arrivals.check(root, entry(root, files))


def test_what_is_no_book_is_refused(root):
    """There is no book.yaml in it."""
    with pytest.raises(arrivals.NotTakenIn):
        arrivals.check(root, entry(root, {b"README.md": "100644"}))


# --- addresses ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "typed",
    ["ext::sh -c touch% x", "-u./run", "--upload-pack=run", "file:///srv/x", "ftp://host/x", "https://noor:pw@host/x",
     "ssh://-oProxyCommand=run/x", "https://", "", "a\nb", "fd::17", "testgit::/x", "https://-x/y"],
)  # fmt: skip
def test_an_address_that_could_start_a_program_is_refused(typed, tmp_path):
    """And nothing that may be a password is shown."""
    with pytest.raises(addresses.BadAddress) as refused:
        addresses.address(typed, tmp_path)
    assert "pw" not in refused.value.what


@pytest.mark.parametrize(
    ("typed", "is_folder"),
    [
        ("ssh://host/book", False),
        ("git@host:book.git", False),
        ("host:book", False),
        ("https://token@host/book", False),
        ("git://host/book", False),
        ("/media/stick/book", True),
        ("stick", True),
        ("./a:b", True),
    ],
)
def test_where_an_address_leads(typed, is_folder, tmp_path):
    """A folder, or a place behind ssh, https or git's daemon."""
    found = addresses.address(typed, tmp_path)

    assert (found.folder is not None) is is_folder
    assert "token" not in found.shown
