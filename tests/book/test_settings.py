"""A book's own settings are read as text and held against a short list, before git sees them."""

from __future__ import annotations

import re
import subprocess

import pytest
from hypothesis import HealthCheck, example, given
from hypothesis import settings as runs
from hypothesis import strategies as st

from ovenleaf.book import combiner, git, settings


@pytest.fixture
def book(tmp_path):
    root = tmp_path / "book"
    root.mkdir()
    git.init(root)
    return root


def set_config(book, text):
    data = text if isinstance(text, bytes) else text.encode()
    (book / ".git/config").write_bytes(data)


ALLOWED = [
    "",
    "# only a remark\n; and another\n\n",
    "[core]\n\trepositoryformatversion = 0\n\tfilemode = true\n\tbare = false\n\tlogallrefupdates = true\n",
    "[core]\n\trepositoryformatversion = 1\n\tignorecase = true\n\tprecomposeunicode = true\n\tsymlinks = false\n",
    "[CORE]\n\tAutoCRLF = False\n",
    "[core]\n\tautocrlf = no # off\n",
    "\ufeff[core]\n\tbare = false\n",
    "[core]\r\n\tbare = false\r\n",
    '[user]\n\tname = "Noor Öz; baker" # a remark\n\temail = noor@example.org\n',
    '[user]\n\tname = Noor \\"N\\" \\\\ Oz\n',
    '[remote "stall"]\n\turl = ssh://stall.example/ferry-lane\n\tfetch = +refs/heads/*:refs/remotes/stall/*\n',
    '[remote "stall"]\n\turl = noor@stall.example:ferry-lane\n\tpushurl = https://stall.example/ferry-lane\n',
    '[remote "stick"]\n\turl = C:\\\\books\\\\ferry-lane\n',
    '[branch "main"]\n\tremote = stall\n\tmerge = refs/heads/main\n\trebase = false\n',
    '[merge "ovenleaf"]\n\tname = page by page\n',
    "[gc]\n\tauto = 500\n[init]\n\tdefaultBranch = main\n",
    "[extensions]\n\tobjectformat = sha1\n",
    '[filter "lfs"]\n',
]


@pytest.mark.parametrize("text", ALLOWED)
def test_what_git_and_bakers_need_is_allowed(book, text):
    """The settings git itself writes, names, addresses and upkeep pass, in each way git spells them."""
    set_config(book, text)
    settings.check(book)
    subprocess.run(["git", "-C", book, "config", "--list", "--local"], check=True, capture_output=True)


# Each with the line it is refused at.
REFUSED = [
    ("[core]\n\thooksPath = /tmp/hooks\n", 2),
    ("[core]\n\tfsmonitor = /tmp/x\n", 2),
    ("[core]\n\tfsmonitor = true\n", 2),
    ("[core]\n\tsshCommand = touch x\n", 2),
    ("[core]\n\tpager = less\n", 2),
    ("[core]\n\teditor = vi\n", 2),
    ("[core]\n\taskPass = x\n", 2),
    ("[core]\n\tgitProxy = x\n", 2),
    ("[core]\n\tworktree = /\n", 2),
    ("[core]\n\tattributesFile = x\n", 2),
    ("[core]\n\tbare = true\n", 2),
    ("[core]\n\tautocrlf = true\n", 2),
    ("[core]\n\tautocrlf = input\n", 2),
    ("[core]\n\trepositoryformatversion = 2\n", 2),
    ("[core]\n\tfilemode = maybe\n", 2),
    ("[core]\n\tbare = false\n[include]\n\tpath = ../evil\n", 4),
    ('[includeIf "gitdir:/"]\n\tpath = x\n', 2),
    ("[alias]\n\tstatus = !touch x\n", 2),
    ('[filter "x"]\n\tclean = touch x\n', 2),
    ('[diff "x"]\n\ttextconv = touch x\n', 2),
    ("[diff]\n\texternal = touch x\n", 2),
    ('[merge "ovenleaf"]\n\tdriver = touch x\n', 2),
    ('[merge "other"]\n\tname = x\n', 2),
    ("[merge]\n\ttool = x\n", 2),
    ("[credential]\n\thelper = !touch x\n", 2),
    ('[url "ext::sh -c x"]\n\tinsteadOf = https://\n', 2),
    ("[http]\n\tproxy = x\n", 2),
    ('[remote "a"]\n\turl = ext::sh -c touch% x\n', 2),
    ('[remote "a"]\n\turl = "ext::sh"\n', 2),
    ('[remote "a"]\n\turl = --upload-pack=touch\n', 2),
    ('[remote "a"]\n\tpushurl = fd::7\n', 2),
    ('[remote "a"]\n\turl = ::x\n', 2),
    ('[remote "a"]\n\tuploadpack = touch x\n', 2),
    ('[remote "a"]\n\tvcs = x\n', 2),
    ('[remote "a"]\n\tproxy = x\n', 2),
    ('[branch "main"]\n\tremote = ext::sh\n', 2),
    ('[branch "main"]\n\trebase = interactive\n', 2),
    ("[remote]\n\turl = x\n", 2),
    ('[remote ""]\n\turl = x\n', 2),
    ('[core "x"]\n\tbare = false\n', 2),
    ("[gpg]\n\tprogram = x\n", 2),
    ("[gc]\n\tauto = -1\n", 2),
    ("[gc]\n\trecentObjectsHook = x\n", 2),
    ("[extensions]\n\tworktreeConfig = true\n", 2),
    ("[extensions]\n\tpartialClone = a\n", 2),
    ("[extensions]\n\tobjectformat = sha256\n", 2),
    ("[uploadpack]\n\tpackObjectsHook = x\n", 2),
    ('[submodule "x"]\n\tupdate = !x\n', 2),
    # spelled so that a careless reader would look past it
    ("[core] hooksPath = x\n", 1),
    ("[core]hooksPath = x\n", 1),
    ("[core] # \\\n[alias]\n\tx = !y\n", 3),
    ("[CoRe]\n\tHOOKSPATH=x\n", 2),
    ("[core]\n\tbare\n", 2),
    ("[core]\n\tbare = fal\\\nse\n", 2),
    ("[user]\n\tname = x \\\n\thooksPath = y\n", 2),
    ('[user]\n\tname = "x\n\temail = y"\n', 2),
    ("[user]\n\tname = x\\ny\n", 2),
    ('[user]\n\tname = # "\n[alias]\n\tx = !y # "\n', 4),
    ("[remote.a]\n\turl = x\n", 1),
    ("[user]\n\tname = x\r\r\n", 2),
    ("[user]\n\tname = x\x0b[alias]\n", 2),
    ("[user]\n\tname = x\x00\n", 2),
    ("[user\n\tname = x\n", 1),
    ('[remote "a\\"b"]\n\turl = x\n', 1),
    ('[remote "a"] url = ext::sh\n', 1),
    ("bare = false\n", 1),
    ("what is this\n", 1),
]


@pytest.mark.parametrize(("text", "line"), REFUSED)
def test_anything_else_is_refused_by_line(book, text, line):
    """What could run a program, or reads in two ways, is refused with its line, before git is called."""
    set_config(book, text)
    with pytest.raises(settings.SettingsRefused) as caught:
        git.head(book)
    refusal = caught.value
    assert (refusal.path, refusal.line) == (".git/config", line)
    assert refusal.where.line == line
    assert refusal.where.text == text.split("\n")[line - 1].strip()
    assert f"delete line {line}" in refusal.detail[0]


# Pieces of which both sound and wicked settings are made.
PIECES = st.sampled_from(
    ["[core]", "[user]", '[remote "a"]', '[remote "a', "[alias]", "[include]", "bare", "url", "name", "x", "path",
     " = ", "=", "false", "ext::sh", "-x", "!y", '"', "\\", "#", ";", "\n", "\n", "\n\t", "\r", " ", "\t", "]", "\x0b"]
)  # fmt: skip
LISTED = re.compile(r"core\.bare|user\.(name|email)|remote\..*\.(url|pushurl|fetch)")


@runs(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(PIECES, max_size=14).map("".join))
@example("[core]\n\tbare = false\n[user]\n\tname = x\n")
def test_git_reads_nothing_in_settings_that_pass_but_what_is_listed(book, text):
    """However oddly a file is spelled, what our reader lets pass holds nothing else for git either."""
    set_config(book, text)
    try:
        settings.check(book)
    except settings.SettingsRefused:
        return
    command = ["git", "config", "--file", book / ".git/config", "--no-includes", "--list", "-z"]
    listed = subprocess.run(command, check=True, capture_output=True).stdout.decode().split("\0")[:-1]
    for row in listed:
        key, _, value = row.partition("\n")
        assert LISTED.fullmatch(key), row
        assert "url" not in key or not re.match(r"\s*(-|[\w+.-]*::)", value), row


@pytest.mark.parametrize("data", [b"[user]\n\tname = \xff\n", b"[core]\n" + b"#\n" * 40_000])
def test_settings_that_are_no_text_are_refused_whole(book, data):
    """A settings file in no known writing, or of a size nobody typed, is not read on."""
    set_config(book, data)
    with pytest.raises(settings.SettingsRefused) as caught:
        settings.check(book)
    assert caught.value.line is None


def test_a_history_without_settings_is_taken(book):
    """git has its own defaults; a missing file runs nothing."""
    (book / ".git/config").unlink()
    settings.check(book)


@pytest.mark.parametrize(
    "name", ["config.worktree", "commondir", "objects/info/alternates", "info/attributes", "ovenleaf"]
)
def test_files_that_tie_the_book_to_other_places_are_refused(book, tmp_path, name):
    """A history that leans on another folder, or brings rules of its own, is named and refused."""
    path = book / ".git" / name
    path.parent.mkdir(exist_ok=True)
    if name == "ovenleaf":
        path.symlink_to(tmp_path)
    else:
        path.write_text("*.yaml filter=x\n")
    with pytest.raises(settings.SettingsRefused) as caught:
        git.changed(book)
    assert (caught.value.path, caught.value.line) == (f".git/{name}", None)
    assert f"delete .git/{name}" in caught.value.detail[0]


def test_an_empty_attributes_file_is_taken(book):
    """Some programs leave an empty one behind."""
    (book / ".git/info").mkdir()
    (book / ".git/info/attributes").write_text("\n")
    settings.check(book)


def test_our_own_rules_for_combining_are_taken_and_none_that_look_like_them(book):
    """To the letter: a line more, or a word more behind the program, is refused."""
    combiner.set_up(book)
    settings.check(book)
    config, attributes = book / ".git/config", book / ".git/info/attributes"
    text = config.read_text()
    config.write_text(text.replace("git merge-file", "touch x; git merge-file"))
    with pytest.raises(settings.SettingsRefused):
        settings.check(book)
    config.write_text(text)
    attributes.write_bytes(combiner.ATTRIBUTES + b"*.md filter=x\n")
    with pytest.raises(settings.SettingsRefused):
        settings.check(book)


def test_a_history_that_lies_elsewhere_is_refused(book, tmp_path):
    """Where .git is a file or a link, the history belongs to another folder."""
    moved = (book / ".git").rename(tmp_path / "moved")
    (book / ".git").write_text(f"gitdir: {moved}\n")
    with pytest.raises(settings.SettingsRefused):
        git.head(book)
    (book / ".git").unlink()
    (book / ".git").symlink_to(moved)
    with pytest.raises(settings.SettingsRefused):
        git.head(book)


def test_a_copy_without_history_is_told_from_bad_settings(tmp_path):
    """A copy that came without .git, or with an empty one, has no history, and that is what is said."""
    with pytest.raises(settings.NoHistory):
        settings.check(tmp_path)
    (tmp_path / ".git").mkdir()
    with pytest.raises(settings.NoHistory) as caught:
        settings.check(tmp_path)
    assert caught.value.what.startswith("This copy of the book has no history")
