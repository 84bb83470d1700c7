"""Links and pipes in a book's folder, files of its state that lie, programs that lie in it: nothing leaves the book."""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from hostile_support import FORMULA, KEPT, LOOKING, WRITING, go_through, plain_git
from ovenleaf.book import index

pytestmark = [
    pytest.mark.counted,
    pytest.mark.skipif(sys.platform == "win32", reason="links and pipes need rights of their own there"),
]

MORE_WRITING = (
    "enter ../../caraway-rye.yaml --why x",
    "score last --taster petra --crumb 6",
    "photo last ../../outside/x.png",
    'mark caraway-rye r1 keeper --why "it is"',
    'tweak caraway-rye salt=1.6% --why "less"',
    "check --repair",
    "check --whole",
    "publish caraway-rye --as recipe --out ../../outside-too/x.txt",
)
LINKS = {
    "a formula's page": FORMULA,
    "a kept revision": KEPT,
    "the folder of kept revisions": "formulas/caraway-rye",
    "the folder of formulas": "formulas",
    "the folder of trials": "trials",
    "the book's own page": "book.yaml",
    "the list of ingredients": "ingredients.yaml",
    "the folder of pictures": "photos",
    "the folder of tastings": "tastings",
    "marks": "formulas/caraway-rye/marks.yaml",
    "the history": ".git",
    "the state of the copy": ".git/ovenleaf",
    "what is remembered": ".git/ovenleaf/index.sqlite",
    "who bakes": ".git/ovenleaf/baker",
    "the lock": ".git/ovenleaf/lock",
    "the note of what is unfinished": ".git/ovenleaf/pending",
    "reports": ".git/ovenleaf/reports",
    "what is kept": ".git/objects",
    "where the history ends": ".git/refs/heads/main",
    "settings": ".git/config",
}


@pytest.mark.parametrize("to", ["outside", "nowhere"])
@pytest.mark.parametrize("name", LINKS)
def test_a_link_is_not_followed(name, to, kitchens):
    """Neither to a file or folder that is there, nor to one that a write would make."""
    book, link = kitchens.noor, kitchens.noor / LINKS[name]
    target = kitchens.folder / "elsewhere" / link.name
    target.parent.mkdir()
    if link.exists() and to == "outside":
        link.rename(target)
    elif link.is_dir():
        shutil.rmtree(link)
    elif link.exists():
        link.unlink()
    elif to == "outside":
        target.write_text("format: formula/1\nformula: caraway-rye\ntitle: a secret of the house\n")
    link.parent.mkdir(parents=True, exist_ok=True)
    link.symlink_to(target)
    go_through(kitchens, book, (*LOOKING, *WRITING, *MORE_WRITING))
    assert target.exists() is (to == "outside")


def test_a_plain_write_does_follow_a_link(kitchens):
    """What the links of the table would come to, for a reader and a writer that take no care."""
    page, secret = kitchens.noor / FORMULA, kitchens.folder / "outside/secret.yaml"
    page.unlink()
    page.symlink_to(secret)
    assert "a secret of the house" in page.read_text()
    page.write_text("over it")
    assert secret.read_text() == "over it"


PIPES = (FORMULA, KEPT, "book.yaml", "ingredients.yaml", "photos", "formulas", ".git/ovenleaf/index.sqlite",
         ".git/ovenleaf/sharing.json", ".git/ovenleaf/baker", ".git/ovenleaf/pending", ".git/ovenleaf/lock",
         ".git/config", ".git/HEAD", ".git/index", ".git/packed-refs", ".git/info/attributes", ".git/logs/HEAD",
         ".git/refs/heads/main", ".gitattributes", ".gitignore")  # fmt: skip


@pytest.mark.parametrize("name", PIPES)
def test_a_pipe_keeps_nobody_waiting(name, kitchens):
    """A plain reader waits for ever for somebody to write into it."""
    path = kitchens.noor / name
    if path.is_dir():
        shutil.rmtree(path)
    path.unlink(missing_ok=True)
    path.parent.mkdir(parents=True, exist_ok=True)
    os.mkfifo(path)
    go_through(kitchens, kitchens.noor, (*LOOKING, *WRITING, "check --repair"), seconds=8)
    with pytest.raises(subprocess.TimeoutExpired):
        subprocess.run(["cat", path], timeout=0.2, check=False)


def lying(name, book):
    """State of a copy that was made by hand."""
    state = book / ".git/ovenleaf"

    def who_bakes():
        (state / "baker").write_text("../../../outside/x\n")

    def where_it_is_shared():
        (state / "sharing.json").write_text(json.dumps({"at": "ext::x", "there": "--all", "seen": {"../x": "--all"}}))

    def where_it_is_shared_without_end():
        (state / "sharing.json").write_text("[" * 200_000)

    def an_unfinished_entry():
        pages = {"../../outside/secret.yaml": "0" * 40, ".git/hooks/pre-commit": "0" * 40}
        (state / "pending").write_text(json.dumps({"what": "x", "pages": pages, "before": None, "entry": "--all"}))

    def remembered():
        with closing(sqlite3.connect(state / index.NAME)) as made, made:
            made.execute("CREATE TABLE page(x)")
            made.execute("CREATE VIEW answer AS SELECT load_extension('/outside/x.so')")

    def a_graft():
        first = plain_git(book, "rev-list", "--max-parents=0", "HEAD").stdout.strip()
        (book / ".git/info").mkdir(exist_ok=True)
        (book / ".git/info/grafts").write_text(f"{plain_git(book, 'rev-parse', 'HEAD').stdout.strip()} {first}\n")

    def an_entry_that_stands_in_for_another():
        first = plain_git(book, "rev-list", "--max-parents=0", "HEAD").stdout.strip()
        plain_git(book, "replace", "HEAD~1", first, check=True)

    def a_second_folder():
        folder = book / ".git/worktrees/x"
        folder.mkdir(parents=True)
        (folder / "gitdir").write_text(f"{book.parents[1]}/outside/.git\n")
        (folder / "commondir").write_text("../..\n")
        (folder / "HEAD").write_text("ref: refs/heads/main\n")

    def an_end_by_an_odd_name():
        (book / ".git/HEAD").write_text("ref: refs/heads/../../../../outside/x\n")

    def a_list_with_ways_out():
        data = kept_list(book, b"../../outside/secret.yaml")
        (book / ".git/index").write_bytes(data)

    locals()[name]()


def kept_list(book, path):
    """git's list of files, with one that lies outside: made by hand, since git itself makes none."""
    import hashlib

    plain_git(book, "update-index", "--add", "--cacheinfo", f"100644,{'1' * 40},{'a' * len(path)}")
    data = (book / ".git/index").read_bytes()[:-20].replace(b"a" * len(path), path)
    return data + hashlib.sha1(data, usedforsecurity=False).digest()


LIES = (
    "who_bakes", "where_it_is_shared", "where_it_is_shared_without_end", "an_unfinished_entry", "remembered", "a_graft",
    "an_entry_that_stands_in_for_another", "a_second_folder", "an_end_by_an_odd_name", "a_list_with_ways_out",
)  # fmt: skip


@pytest.mark.parametrize("name", LIES)
def test_a_state_that_lies_is_believed_in_nothing_that_does_harm(name, kitchens):
    """Looking goes on; writing goes on or is refused in words; what lies around the book stays as it is."""
    lying(name, kitchens.noor)
    looked = go_through(kitchens, kitchens.noor, LOOKING)
    assert looked["show caraway-rye"] == 0
    go_through(kitchens, kitchens.noor, (*WRITING, *MORE_WRITING))


def test_programs_that_lie_in_a_book_are_not_taken_for_others(kitchens):
    """Not even where the search path names the folder one stands in; a shell that stands there does take them."""
    mark = kitchens.folder / "mark"
    for name in ("git", "git.exe", "ovenleaf", "ssh", "sh", "less", "vi"):
        (kitchens.noor / name).write_text(f"#!/bin/sh\necho $0 >>'{mark}'\n")
        (kitchens.noor / name).chmod(0o755)
    for name in ("typer", "sitecustomize", "usercustomize", "yaml", "git", "json"):
        (kitchens.noor / f"{name}.py").write_text(f"open({str(mark)!r}, 'a').write({name!r})\n")
    script = Path(sys.executable).with_name("ovenleaf")
    assert script.exists()
    env = {**os.environ, "PATH": os.pathsep.join([".", "", os.environ["PATH"]])}
    for words in (("list",), ("tweak", "caraway-rye", "salt=1.5%", "--why", "less"), ("share",)):
        ran = subprocess.run([script, *words], cwd=kitchens.noor, env=env, capture_output=True, text=True, check=False)
        assert ran.returncode == 0, ran.stderr
    assert not mark.exists(), mark.read_text()
    subprocess.run(["git", "version"], cwd=kitchens.noor, env=env, check=False)
    assert mark.exists()
