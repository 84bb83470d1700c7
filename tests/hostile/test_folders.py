"""A book that was handed over as a folder, its history folder and all: nothing in it is ever run.

Each is held against plain git, which does run it: the same mark that must not be there with us is there with git.
"""

from __future__ import annotations

import os
import subprocess
import sys
from typing import NamedTuple

import pytest

from hostile_support import FORMULA, LOOKING, WRITING, go_through, plain_git, program

pytestmark = [
    pytest.mark.counted,
    pytest.mark.skipif(sys.platform == "win32", reason="the programs that leave the marks are shell scripts"),
]

COMMIT = ("commit", "--allow-empty", "-qm", "x")
STATUS = ("status",)
SIGN_IN = "protocol=https\nhost=nowhere.invalid\n\n"


class Rigged(NamedTuple):
    """`config` is added to the book's settings, `files` lie beside it, `plain` is what plain git is asked.

    In all of them RUN stands for the program, BOOK for the folder. `goes_on` where it is harmless, not refused.
    """

    plain: tuple[str, ...]
    config: str = ""
    files: dict[str, str] = {}  # noqa: RUF012 - a table
    typed: str = ""
    goes_on: bool = False


HOOKS = (
    "pre-commit", "commit-msg", "post-commit", "reference-transaction", "post-index-change", "post-checkout",
    "pre-merge-commit", "post-merge", "pre-push", "pre-auto-gc", "post-rewrite", "fsmonitor-watchman",
)  # fmt: skip
FILTERED = {".gitattributes": "*.yaml filter=x\n"}
BOOKS = {
    "hooks": Rigged(COMMIT, files={f".git/hooks/{name}": "#!/bin/sh\nexec RUN\n" for name in HOOKS}, goes_on=True),
    "hooks elsewhere": Rigged(
        COMMIT, "[core]\n\thooksPath = BOOK/.git/more\n", {".git/more/pre-commit": "#!/bin/sh\nexec RUN\n"}
    ),
    "filter on the way in": Rigged(
        ("hash-object", f"--path={FORMULA}", "book.yaml"), '[filter "x"]\n\tclean = RUN\n', FILTERED
    ),
    "filter on the way out": Rigged(
        ("checkout-index", "-a", "--prefix=x/"), '[filter "x"]\n\tsmudge = RUN\n', FILTERED
    ),
    "filter that stays": Rigged(
        ("hash-object", f"--path={FORMULA}", "book.yaml"), '[filter "x"]\n\tprocess = RUN\n', FILTERED
    ),
    "filter by rules of the copy": Rigged(
        ("hash-object", f"--path={FORMULA}", "book.yaml"),
        '[filter "x"]\n\tclean = RUN\n',
        {".git/info/attributes": "*.yaml filter=x\n"},
    ),
    "text conversion": Rigged(
        ("diff", "HEAD~1"), '[diff "x"]\n\ttextconv = RUN\n', {".gitattributes": "*.yaml diff=x\n"}
    ),
    "another diff": Rigged(("diff", "HEAD~1"), "[diff]\n\texternal = RUN\n"),
    "another way to combine": Rigged(
        ("revert", "--no-edit", "HEAD~1"), '[merge "x"]\n\tdriver = RUN\n', {".git/info/attributes": "*.yaml merge=x\n"}
    ),
    "our way to combine, made another": Rigged(
        ("revert", "--no-edit", "HEAD~1"),
        '[merge "ovenleaf"]\n\tdriver = RUN\n',
        {".gitattributes": "*.yaml merge=ovenleaf\n"},
    ),
    "a watcher of files": Rigged(STATUS, "[core]\n\tfsmonitor = RUN\n"),
    "an editor": Rigged(("commit", "--amend", "--allow-empty"), "[core]\n\teditor = RUN\n"),
    "an editor of lists": Rigged(("rebase", "-i", "HEAD~1"), "[sequence]\n\teditor = RUN\n"),
    "an ssh command": Rigged(("ls-remote", "ssh://nowhere.invalid/x"), "[core]\n\tsshCommand = RUN\n"),
    "a go-between": Rigged(("ls-remote", "git://nowhere.invalid/x"), "[core]\n\tgitProxy = RUN\n"),
    "a short name": Rigged(("st",), "[alias]\n\tst = !RUN\n"),
    "settings taken in": Rigged(STATUS, "[include]\n\tpath = more\n", {".git/more": "[core]\n\tfsmonitor = RUN\n"}),
    "settings taken in by place": Rigged(
        STATUS, '[includeIf "gitdir:**/.git"]\n\tpath = more\n', {".git/more": "[core]\n\tfsmonitor = RUN\n"}
    ),
    "settings of a second folder": Rigged(
        STATUS,
        "[core]\n\trepositoryformatversion = 1\n[extensions]\n\tworktreeConfig = true\n",
        {".git/config.worktree": "[core]\n\tfsmonitor = RUN\n"},
    ),
    "a keeper of passwords": Rigged(("credential", "fill"), "[credential]\n\thelper = !RUN\n", typed=SIGN_IN),
    "an asker for passwords": Rigged(("credential", "fill"), "[core]\n\taskPass = RUN\n", typed=SIGN_IN),
    "an address that stands for a program": Rigged(
        ("ls-remote", "https://nowhere.invalid/x"),
        '[url "ext::RUN "]\n\tinsteadOf = https://nowhere.invalid/\n[protocol "ext"]\n\tallow = always\n',
    ),
    "a place that is a program": Rigged(
        ("ls-remote", "a"), '[remote "a"]\n\turl = ext::RUN\n[protocol "ext"]\n\tallow = always\n'
    ),
    "a place with a program": Rigged(("ls-remote", "a"), '[remote "a"]\n\turl = BOOK\n\tuploadpack = RUN\n'),
    "a seal": Rigged(COMMIT, "[commit]\n\tgpgSign = true\n[gpg]\n\tprogram = RUN\n"),
    "a book within the book": Rigged(
        STATUS,
        files={
            "sub/.git/HEAD": "ref: refs/heads/main\n",
            "sub/.git/config": '[core]\n\tfsmonitor = RUN\n[filter "x"]\n\tclean = RUN\n',
            "sub/.git/refs/heads/none": "",
            "sub/.git/objects/none": "",
            "sub/.gitattributes": "* filter=x\n",
            ".gitmodules": '[submodule "sub"]\n\tpath = sub\n\turl = ./sub\n',
        },
        goes_on=True,
    ),
}


def rig(name, book, mark):
    """Puts what a row of the table says into a book."""
    rigged = BOOKS[name]
    run = str(program(book, mark))

    def told(text):
        return text.replace("RUN", run).replace("BOOK", str(book))

    for path, text in rigged.files.items():
        target = book / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(told(text))
        target.chmod(0o755)
    with (book / ".git/config").open("a") as stream:
        stream.write(told(rigged.config))
    if name == "a book within the book":
        within_it(book)
    return rigged


def within_it(book):
    """The folder `sub` is a history of its own, with a page that looks changed; the book lists it as such."""
    sub, config = book / "sub", book / "sub/.git/config"
    rules = config.read_text()
    config.write_text("")
    (sub / "page.yaml").write_text("formula: x\n")
    plain_git(sub, "add", "page.yaml", check=True)
    plain_git(sub, *COMMIT, check=True)
    (sub / "page.yaml").write_text("formula: y\n")
    head = plain_git(sub, "rev-parse", "HEAD", check=True).stdout.strip()
    plain_git(book, "update-index", "--add", "--cacheinfo", f"160000,{head},sub", check=True)
    config.write_text(rules)


@pytest.mark.parametrize("name", BOOKS)
def test_nothing_in_a_folder_that_was_handed_over_is_run(name, kitchens):
    """Reading goes on, writing goes on or is refused in words; plain git does run what lies there."""
    mark = kitchens.folder / "mark"
    rigged = rig(name, kitchens.noor, mark)
    looked = go_through(kitchens, kitchens.noor, LOOKING)
    wrote = go_through(kitchens, kitchens.noor, (*WRITING, "check --repair", "check --whole"))
    assert not mark.exists(), mark.read_text()
    assert {looked[line] for line in LOOKING[1:6]} == {0}
    assert (wrote[WRITING[0]] == 0) is rigged.goes_on, wrote
    plain = plain_git(kitchens.noor, *rigged.plain, typed=rigged.typed)
    assert mark.exists(), plain.stderr


def test_a_pager_is_not_run(kitchens):
    """Not on a terminal either, which is where plain git runs it."""
    import pty

    mark = kitchens.folder / "mark"
    run = program(kitchens.noor, mark)
    with (kitchens.noor / ".git/config").open("a") as stream:
        stream.write(f"[core]\n\tpager = {run}\n")
    assert go_through(kitchens, kitchens.noor, LOOKING + WRITING)[WRITING[0]] == 3
    assert not mark.exists()
    ours, theirs = pty.openpty()
    subprocess.run(["git", "-C", kitchens.noor, "log"], stdout=theirs, stderr=theirs, check=False, timeout=20)
    os.close(theirs)
    os.close(ours)
    assert mark.exists()
