"""git is run in a clean room: nothing of the caller, the machine or the book steers it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from ovenleaf.book import git, layout, settings
from ovenleaf.errors import ExitCode


@pytest.fixture
def book(tmp_path):
    root = tmp_path / "ferry-lane"
    root.mkdir()
    git.init(root)
    return root


def plain_git(root, *args, **env):
    """What someone who knows git gets by typing it in the book, with no settings of this machine."""
    quiet = {"PATH": os.environ["PATH"], "GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1"}
    who = {"GIT_AUTHOR_NAME": "x", "GIT_AUTHOR_EMAIL": "x@y", "GIT_COMMITTER_NAME": "x", "GIT_COMMITTER_EMAIL": "x@y"}
    command = ("git", "-C", str(root), *args)
    return subprocess.run(command, env=quiet | who | env, capture_output=True, check=True).stdout.decode()


def keep_all(root, message="all"):
    plain_git(root, "add", "-A")
    plain_git(root, "commit", "-q", "-m", message)


def fake_git(folder, script):
    """A folder whose only program is a `git` that does what `script` says."""
    folder.mkdir()
    program = folder / "git"
    program.write_text(f"#!/bin/sh\n{script}\n")
    program.chmod(0o755)
    return str(folder)


def test_init_writes_only_the_settings_that_our_own_list_allows(book):
    """A new history lies in .git alone, without hooks, on main, and passes our own check."""
    assert [path.name for path in book.iterdir()] == [".git"]
    assert {path.name for path in (book / ".git").iterdir()} == {"HEAD", "config", "objects", "refs"}
    assert (book / ".git/HEAD").read_text() == "ref: refs/heads/main\n"
    settings.check(book)
    assert git.head(book) is None


def test_init_in_a_folder_with_bad_settings_is_refused_before_git_runs(book):
    """Beginning again over someone's settings does not let them loose."""
    with (book / ".git/config").open("a") as config:
        config.write("[alias]\n\tx = !true\n")
    with pytest.raises(settings.SettingsRefused):
        git.init(book)


def test_a_folder_inside_another_history_without_its_own_is_refused(book):
    """The history around a book that lost its own is never touched or read."""
    inner = book / "inner"
    inner.mkdir()
    (inner / "book.yaml").write_text("format: book/1\n")
    keep_all(book)
    with pytest.raises(settings.NoHistory):
        git.head(inner)


def test_an_entry_lists_its_files_with_their_ids(book):
    """Paths with any letter come back as they are, links are left out."""
    (book / "photos").mkdir()
    (book / "book.yaml").write_text("a\n")
    (book / "photos" / 'loaf "ä".jpg').write_bytes(b"\xff\xd8")
    (book / "link.yaml").symlink_to("book.yaml")
    keep_all(book)
    assert git.tree_ids(book) == {
        "book.yaml": git.blob_id(b"a\n"),
        'photos/loaf "ä".jpg': git.blob_id(b"\xff\xd8"),
    }
    paths = ["book.yaml", "none.yaml", "photos/none missing"]
    assert git.ids_at(book, "HEAD", paths) == dict(zip(paths, [git.blob_id(b"a\n"), None, None], strict=True))


def test_an_empty_history_lists_nothing(book):
    """Before the first entry there is no file, and that is not a fault."""
    assert git.tree_ids(book) == {}
    assert git.ids_at(book, None, ["book.yaml"]) == {"book.yaml": None}


def test_bytes_are_kept_as_they_are_and_read_back(book):
    """No filter, line-ending rule or attribute touches what is kept."""
    (book / ".gitattributes").write_text("* text eol=crlf\n*.yaml ident\n")
    parts = [b"", b"a\r\nb\n", b"$Id$\n", bytes(range(256)), b"\n\n"]
    ids = [git.store_blob(book, part) for part in parts]
    assert ids == [git.blob_id(part) for part in parts]
    assert git.read_blobs(book, [*ids, ids[0]]) == dict(zip(ids, parts, strict=True))


def test_what_was_kept_cannot_be_stood_in_for(book):
    """git can be told to show other bytes in place of some; a kept revision is not read through that."""
    kept, other = git.store_blob(book, b"kept"), git.store_blob(book, b"other")
    plain_git(book, "replace", kept, other)
    assert plain_git(book, "cat-file", "blob", kept) == "other"
    assert git.read_blobs(book, [kept]) == {kept: b"kept"}


def test_reading_an_id_that_is_not_there_tells_of_a_damaged_history(book):
    """Asking for bytes the book never had is told apart from git failing."""
    with pytest.raises(git.HistoryDamaged):
        git.read_blobs(book, ["1" * 40])


def test_changed_lists_new_edited_and_missing_files(book):
    """What differs from the last entry is listed, and looking writes nothing."""
    for name in ("a.yaml", "b.yaml", "c.yaml", "ä b.yaml"):
        (book / name).write_text(name)
    assert git.changed(book) == ("a.yaml", "b.yaml", "c.yaml", "ä b.yaml")
    keep_all(book)
    assert git.changed(book) == ()
    (book / "a.yaml").write_text("other")
    (book / "b.yaml").unlink()
    (book / "trials").mkdir()
    (book / "trials/new.yaml").write_text("new")
    (book / "c.yaml").touch()
    before = (book / ".git/index").read_bytes()
    assert git.changed(book) == ("a.yaml", "b.yaml", "trials/new.yaml")
    assert (book / ".git/index").read_bytes() == before


def test_git_variables_of_the_caller_do_not_leak_in(book, tmp_path, monkeypatch):
    """A caller that is itself run by git, from a hook say, does not turn us to its own history."""
    other = tmp_path / "other"
    other.mkdir()
    git.init(other)
    (other / "other.yaml").write_text("other")
    keep_all(other)
    (book / "book.yaml").write_text("mine")
    keep_all(book)
    monkeypatch.setenv("GIT_DIR", str(other / ".git"))
    monkeypatch.setenv("GIT_WORK_TREE", str(other))
    monkeypatch.setenv("GIT_INDEX_FILE", str(tmp_path / "stray-index"))
    monkeypatch.setenv("GIT_OBJECT_DIRECTORY", str(tmp_path / "stray-objects"))
    monkeypatch.setenv("GIT_CONFIG_COUNT", "1")
    monkeypatch.setenv("GIT_CONFIG_KEY_0", "core.fsmonitor")
    monkeypatch.setenv("GIT_CONFIG_VALUE_0", f"touch {tmp_path}/ran")
    assert list(git.tree_ids(book)) == ["book.yaml"]
    assert git.changed(book) == ()
    git.set_in_index(book, {"book.yaml": git.store_blob(book, b"mine")})
    assert not list(tmp_path.glob("stray-*"))
    assert not (tmp_path / "ran").exists()


def test_settings_of_the_machine_are_shut_out(book, tmp_path, monkeypatch):
    """A baker's own git settings neither change what is kept nor run anything."""
    home = tmp_path / "home"
    home.mkdir()
    (home / "ignored").write_text("*.yaml\n")
    (home / "attributes").write_text("*.yaml filter=loud\n")
    canary = tmp_path / "ran"
    (home / ".gitconfig").write_text(
        "[core]\n"
        f"\tfsmonitor = touch {canary}\n\texcludesFile = {home}/ignored\n\tattributesFile = {home}/attributes\n"
        f'\tautocrlf = true\n[filter "loud"]\n\tclean = touch {canary}; tr a b\n\trequired = true\n'
        "[status]\n\tshort = true\n\tbranch = true\n\tshowUntrackedFiles = no\n"
    )
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(home))
    (book / "a.yaml").write_text("aaa\r\n")
    assert git.changed(book) == ("a.yaml",)
    assert git.store_blob(book, b"aaa\r\n") == git.blob_id(b"aaa\r\n")
    assert not canary.exists()


def test_a_failing_call_carries_command_code_and_words(book):
    """A fault keeps for a report what no baker is shown."""
    with pytest.raises(git.GitFault) as caught:
        git.run(book, "cat-file", "blob", "1" * 40)
    assert caught.value.command == ("cat-file", "blob", "1" * 40)
    assert caught.value.code == 128
    assert "1" * 40 in caught.value.stderr


def test_a_missing_git_is_refused_with_how_to_get_it(book, tmp_path, monkeypatch):
    """Without git the refusal says what is needed; a git that lies in the current folder is not taken."""
    monkeypatch.chdir(fake_git(tmp_path / "bin", "echo git version 2.39.5"))
    for path in ("", ".", os.pathsep, str(tmp_path)):
        monkeypatch.setenv("PATH", path)
        with pytest.raises(git.NeedsGit) as caught:
            git.require()
        assert caught.value.found is None
        assert caught.value.what == "ovenleaf needs the program git, 2.38 or newer."
        assert caught.value.exit_code == ExitCode.REFUSED
        assert caught.value.next[0].command == "sudo apt install git"
    with pytest.raises(git.NeedsGit):
        git.head(book)


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("git version 2.30", "2.30"),
        ("git version 2.37.9 (Apple Git-137)", "2.37.9 (Apple Git-137)"),
        ("git version 1.99.1", "1.99.1"),
        ("something else", "something else"),
    ],
)
def test_an_old_git_is_refused_with_the_version_found(tmp_path, monkeypatch, said, found):
    """A git before 2.38 is named in the refusal."""
    monkeypatch.setenv("PATH", fake_git(tmp_path / "bin", f"echo '{said}'"))
    with pytest.raises(git.NeedsGit) as caught:
        git.require()
    assert caught.value.found == found
    assert caught.value.detail == (f"Found here: {found}.",)


@pytest.mark.parametrize("said", ["2.38.0", "2.39.5.windows.1", "2.50.1 (Apple Git-155)", "3.0.0"])
def test_a_git_that_is_new_enough_is_taken_and_asked_once(tmp_path, monkeypatch, said):
    """2.38 and later serve, by number and not by letter; the question is put once for each program."""
    asked = tmp_path / "asked"
    path = fake_git(tmp_path / "bin", f"echo x >>{asked}; echo 'git version {said}'")
    monkeypatch.setenv("PATH", path)
    git.require()
    git.require()
    assert asked.read_text() == "x\n"


def test_a_stand_in_that_only_says_how_to_get_git_counts_as_none(tmp_path, monkeypatch):
    """A Mac without git has a program of that name that fails."""
    monkeypatch.setenv("PATH", fake_git(tmp_path / "bin", "echo 'no developer tools' >&2; exit 1"))
    with pytest.raises(git.NeedsGit) as caught:
        git.require()
    assert caught.value.found is None


def test_ctrl_c_lets_the_running_git_end_by_itself(book, tmp_path, monkeypatch):
    """A git call that is interrupted is waited for: ended halfway it would leave lock files."""
    started, ended = tmp_path / "started", tmp_path / "ended"
    script = f"trap '' INT; touch {started}; sleep 0.4; touch {ended}"
    monkeypatch.setenv("PATH", fake_git(tmp_path / "bin", script) + os.pathsep + "/usr/bin" + os.pathsep + "/bin")
    caller = os.fork()
    if caller == 0:
        code = 2
        try:
            signal.signal(signal.SIGINT, signal.default_int_handler)
            git.run(book, "anything")
        except KeyboardInterrupt:
            code = 0 if ended.exists() else 1
        finally:
            os._exit(code)
    while not started.exists():
        time.sleep(0.01)
    os.kill(caller, signal.SIGINT)
    assert os.waitstatus_to_exitcode(os.waitpid(caller, 0)[1]) == 0


def test_pending_locks_finds_gits_own_lock_files(book):
    """Lock files of git are found where it makes them, and taken away only on request."""
    names = ["index.lock", "HEAD.lock", "packed-refs.lock", "refs/heads/main.lock", "refs/heads/a/b.lock"]
    for name in names:
        path = book / ".git" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch()
    assert {path.relative_to(book / ".git").as_posix() for path in git.pending_locks(book)} == set(names)
    git.remove_locks(book)
    assert git.pending_locks(book) == ()


def test_working_pages_are_plain_files_of_the_known_folders(book, tmp_path):
    """Links, hidden names, other folders and other kinds are not pages."""
    for page in (
        "book.yaml", "ingredients.yaml", "formulas/a.yaml", "formulas/a/r1.noor.yaml", "trials/a/2026-11-18-noor.yaml",
        "notes.yaml", "formulas/a.txt", "formulas/.#a.yaml", "photos/a/x.yaml", "trials/.hidden/x.yaml",
    ):  # fmt: skip
        (book / page).parent.mkdir(parents=True, exist_ok=True)
        (book / page).write_text("x")
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "x.yaml").write_text("x")
    (book / "formulas/link").symlink_to(outside)
    (book / "formulas/link.yaml").symlink_to(outside / "x.yaml")
    assert layout.working_pages(book) == (
        "book.yaml", "formulas/a.yaml", "formulas/a/r1.noor.yaml", "ingredients.yaml", "trials/a/2026-11-18-noor.yaml",
    )  # fmt: skip


def test_a_linked_folder_of_pages_is_not_followed(tmp_path):
    """A book whose formulas lie behind a link, or that has none, lists none."""
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere/a.yaml").write_text("x")
    root = tmp_path / "book"
    root.mkdir()
    (root / "formulas").symlink_to(tmp_path / "elsewhere")
    assert layout.working_pages(root) == ()


@pytest.mark.parametrize(
    "page",
    [
        "../x.yaml", "/etc/passwd", "formulas/../../x", "formulas//x.yaml", "", ".", ".git/config", ".GIT/config",
        "formulas/.git/x", ".git./config", "git~1/config", "a\\b.yaml", "c:x.yaml", "a\nb.yaml", "link.yaml",
        "link/x.yaml", "folder", "none.yaml", "long.yaml",
    ],
)  # fmt: skip
def test_a_page_that_is_not_a_page_is_refused(tmp_path, page):
    """No name leads out of the book, into its history, over a link, to a folder or to a huge file."""
    root = tmp_path / "book"
    (root / "folder").mkdir(parents=True)
    (tmp_path / "x.yaml").write_text("secret")
    (root / "link.yaml").symlink_to("../x.yaml")
    (root / "link").symlink_to("..")
    (root / "long.yaml").write_bytes(b"x" * 1_000_001)
    with pytest.raises(layout.NotAPage) as caught:
        layout.read_page(root, page)
    assert caught.value.page == page


def test_a_page_of_one_megabyte_is_read(tmp_path):
    """The limit itself is still a page."""
    (tmp_path / "a.yaml").write_bytes(b"x" * 1_000_000)
    assert len(layout.read_page(tmp_path, "a.yaml")) == 1_000_000


def test_loading_the_door_to_git_loads_no_heavy_library():
    """The write path starts without GitPython, YAML or schema libraries."""
    code = (
        "import sys, ovenleaf.book.store; print(*sorted({'git', 'ruamel', 'jsonschema', 'typer'} & set(sys.modules)))"
    )
    source = str(Path(git.__file__).parents[2])
    done = subprocess.run([sys.executable, "-c", code], env={"PYTHONPATH": source}, capture_output=True, check=True)
    assert done.stdout.decode().strip() == ""
