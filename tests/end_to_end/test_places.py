"""Real places on this machine alone: git's daemon, its http backend with and without a password, and ssh.

Each is started and stopped by its test, on the loopback address.
"""

from __future__ import annotations

import base64
import getpass
import os
import shutil
import socket
import stat
import subprocess
import sys
import threading
import time
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from ovenleaf.book import git
from sharing_support import EVENING, FRIDAY, GIT_WORDS, MONDAY, SUNDAY, Copies, pages

pytestmark = [
    pytest.mark.counted,
    pytest.mark.skipif(sys.platform == "win32", reason="git's servers are POSIX programs"),
]


@pytest.fixture
def kitchens(tmp_path):
    """Noor's book, an empty place to share it at, and room for Tomas."""
    made = Copies(tmp_path)
    for folder in ("noor", "tomas", "srv"):
        (tmp_path / folder).mkdir()
    subprocess.run(["git", "init", "-q", "--bare", "-b", "main", tmp_path / "srv/book.git"], check=True)
    made.type(tmp_path / "noor", 'start ferry-lane --title "Ferry Lane" --baker noor', FRIDAY)
    (tmp_path / "rye.yaml").write_text(
        "formula: rye\ningredients:\n  medium rye flour: 100%\n  water: 80%\n  salt: 2%\n"
    )
    made.type(made.noor, "enter ../../rye.yaml", FRIDAY)
    return made


def free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return found.getsockname()[1]


def exchanged(made: Copies, address: str) -> None:
    """Shared, joined, changed by both, and one in the end."""
    made.type(made.noor, f"share --at {address}", FRIDAY)
    made.type(made.folder / "tomas", f"join {address} ferry-lane --baker tomas", SUNDAY)
    made.type(made.tomas, 'tweak rye salt=1.8% --why "less"', SUNDAY)
    made.type(made.noor, 'tweak rye water=82% --why "softer"', MONDAY)
    made.type(made.noor, "share", MONDAY)
    made.type(made.tomas, "share", EVENING)
    made.type(made.noor, "share", EVENING)
    assert git.head(made.noor) == git.head(made.tomas)
    assert pages(made.noor) == pages(made.tomas)
    assert "water: 82%" in (made.noor / "formulas/rye.yaml").read_text()
    assert "salt: 1.8%" in (made.noor / "formulas/rye.yaml").read_text()


@contextmanager
def daemon(folder: Path, *more: str):
    port = free_port()
    command = ["git", "daemon", "--reuseaddr", "--export-all", f"--base-path={folder}", "--listen=127.0.0.1",
               f"--port={port}", *more, str(folder)]  # fmt: skip
    with subprocess.Popen(command, stderr=subprocess.DEVNULL) as child:
        try:
            for _ in range(100):
                with socket.socket() as probe:
                    if probe.connect_ex(("127.0.0.1", port)) == 0:
                        break
                time.sleep(0.05)
            yield f"git://127.0.0.1:{port}/book.git"
        finally:
            child.terminate()


def test_a_book_is_shared_through_gits_daemon(kitchens):
    """With what both changed, combined."""
    with daemon(kitchens.folder / "srv", "--enable=receive-pack") as address:
        exchanged(kitchens, address)
    made = kitchens.type(kitchens.noor, "share", EVENING)
    assert "cannot be reached now" in " ".join(made.out.split())


def test_a_place_that_can_only_be_read_says_so(kitchens):
    """What is ours stays with us, and nothing is lost."""
    with daemon(kitchens.folder / "srv") as address:
        ran = kitchens.type(kitchens.noor, f"share --at {address}", FRIDAY, code=3)
    assert "git:" in ran.err
    assert "it can be read only" in " ".join(ran.err.split())


def test_a_place_that_has_a_rule_against_it_says_so(kitchens):
    """In the baker's words; what is ours stays, and waits."""
    hook = kitchens.folder / "srv/book.git/hooks/pre-receive"
    with daemon(kitchens.folder / "srv", "--enable=receive-pack") as address:
        kitchens.type(kitchens.noor, f"share --at {address}", FRIDAY)
        hook.parent.mkdir(exist_ok=True)
        hook.write_text("#!/bin/sh\necho no pushing on Mondays >&2\nexit 1\n")
        hook.chmod(hook.stat().st_mode | stat.S_IXUSR)
        kitchens.type(kitchens.noor, 'tweak rye salt=1.8% --why "less"', MONDAY)
        ran = kitchens.type(kitchens.noor, "share", MONDAY, code=3)
        assert "it has a rule of its own against it" in " ".join(ran.err.split())
        assert not GIT_WORDS.search(ran.err.replace(address, ""))
        assert "One entry not shared yet" in kitchens.type(kitchens.noor, "", MONDAY).out
        hook.unlink()
        kitchens.type(kitchens.noor, "share", MONDAY)
    assert "not shared yet" not in kitchens.type(kitchens.noor, "", MONDAY).out


@pytest.mark.parametrize("how", ["rewritten", "emptied"])
def test_a_history_rewritten_at_the_place_is_noticed_and_nothing_is_dropped(kitchens, how):
    """What was there comes back from the copies, beside what was put there instead."""
    bare, work = kitchens.folder / "srv/book.git", kitchens.folder / "work"
    env = os.environ | {f"GIT_{who}_{what}": "petra" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")}

    def plain(*words):
        return subprocess.run(["git", *words], check=True, env=env, capture_output=True, text=True).stdout.strip()

    with daemon(kitchens.folder / "srv", "--enable=receive-pack") as address:
        kitchens.type(kitchens.noor, f"share --at {address}", FRIDAY)
        kitchens.type(kitchens.folder / "tomas", f"join {address} ferry-lane --baker tomas", SUNDAY)
        kitchens.type(kitchens.noor, 'tweak rye salt=1.8% --why "less"', MONDAY)
        kitchens.type(kitchens.noor, "share", MONDAY)
        if how == "emptied":
            plain("-C", str(bare), "update-ref", "-d", "refs/heads/main")
        else:
            plain("clone", "-q", str(bare), str(work))
            plain("-C", str(work), "reset", "-q", "--hard", "HEAD~1")
            (work / "ingredients.yaml").write_text(
                "format: ingredients/1\ningredients:\n  rye crisp:\n    kind: seed\n"
            )
            plain("-C", str(work), "add", "-A")
            plain("-C", str(work), "commit", "-qm", "another way on")
            plain("-C", str(work), "push", "-qf", "origin", "main")
        ran = kitchens.type(kitchens.noor, "share", EVENING)
        kitchens.type(kitchens.tomas, "share", EVENING)
        again = kitchens.type(kitchens.noor, "share", EVENING)

    said = " ".join(ran.out.split())
    told = "somebody rewrote it there" if how == "rewritten" else "any more, though the book had been shared there"
    assert told in said
    assert "Your book has all of it still, and it is there again now." in said
    assert told not in " ".join(again.out.split())
    assert not GIT_WORDS.search(ran.out.replace(address, ""))
    assert pages(kitchens.noor) == pages(kitchens.tomas)
    assert "salt: 1.8%" in (kitchens.tomas / "formulas/rye.yaml").read_text()
    assert (kitchens.tomas / "ingredients.yaml").exists() == (how == "rewritten")


def test_a_history_made_to_do_harm_is_refused_and_nothing_moves(kitchens):
    """A link in the place of a formula's page."""
    work = kitchens.folder / "evil"
    bare = kitchens.folder / "srv/book.git"
    with daemon(kitchens.folder / "srv", "--enable=receive-pack") as address:
        kitchens.type(kitchens.noor, f"share --at {address}", FRIDAY)
        env = os.environ | {f"GIT_{who}_{what}": "x" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")}
        subprocess.run(["git", "clone", "-q", bare, work], check=True, env=env)
        (work / "formulas/rye.yaml").unlink()
        (work / "formulas/rye.yaml").symlink_to("/etc/passwd")
        subprocess.run(["git", "-C", work, "add", "-A"], check=True, env=env)
        subprocess.run(["git", "-C", work, "commit", "-qm", "x"], check=True, env=env)
        subprocess.run(["git", "-C", work, "push", "-q", "origin", "main"], check=True, env=env)
        before = git.head(kitchens.noor)
        ran = kitchens.type(kitchens.noor, "share", MONDAY, code=3)
    assert "is a link" in ran.err
    assert git.head(kitchens.noor) == before
    assert not (kitchens.noor / "formulas/rye.yaml").is_symlink()


def test_two_who_send_at_once_both_get_through(kitchens, monkeypatch):
    """The slower one takes in what was faster, and tries again."""
    from ovenleaf.book import remotes

    with daemon(kitchens.folder / "srv", "--enable=receive-pack") as address:
        kitchens.type(kitchens.noor, f"share --at {address}", FRIDAY)
        kitchens.type(kitchens.folder / "tomas", f"join {address} ferry-lane --baker tomas", SUNDAY)
        kitchens.type(kitchens.tomas, 'tweak rye salt=1.8% --why "less"', SUNDAY)
        kitchens.type(kitchens.noor, 'tweak rye water=82% --why "softer"', MONDAY)
        send, tries = remotes.send, []

        def after_tomas(root, place, entry):
            tries.append(entry)
            if len(tries) == 1:
                monkeypatch.setattr(remotes, "send", send)
                kitchens.type(kitchens.tomas, "share", MONDAY)
                monkeypatch.setattr(remotes, "send", after_tomas)
            return send(root, place, entry)

        monkeypatch.setattr(remotes, "send", after_tomas)
        kitchens.type(kitchens.noor, "share", MONDAY)
        monkeypatch.setattr(remotes, "send", send)
        kitchens.type(kitchens.tomas, "share", MONDAY)

    assert len(tries) == 2
    assert pages(kitchens.noor) == pages(kitchens.tomas)


# --- http -----------------------------------------------------------------------------------------------------


class Backend(BaseHTTPRequestHandler):
    """git's own http backend behind a plain server, with a password where one is wanted."""

    folder: Path
    password = ""

    def do_GET(self):
        self.answer()

    def do_POST(self):
        self.answer()

    def answer(self):
        wanted = "Basic " + base64.b64encode(f"noor:{self.password}".encode()).decode()
        if self.password and self.headers.get("Authorization") != wanted:
            self.send_response(401)
            self.send_header("WWW-Authenticate", 'Basic realm="book"')
            self.send_header("Content-Length", "0")
            self.end_headers()
            return
        path, _, query = self.path.partition("?")
        length = int(self.headers.get("Content-Length") or 0)
        body = self.chunks() if self.headers.get("Transfer-Encoding") == "chunked" else self.rfile.read(length)
        env = {
            "PATH": os.environ["PATH"], "GIT_PROJECT_ROOT": str(self.folder), "GIT_HTTP_EXPORT_ALL": "1",
            "PATH_INFO": path, "QUERY_STRING": query, "REQUEST_METHOD": self.command, "REMOTE_USER": "noor",
            "CONTENT_TYPE": self.headers.get("Content-Type", ""), "CONTENT_LENGTH": str(len(body)),
            "HTTP_CONTENT_ENCODING": self.headers.get("Content-Encoding", ""), "REMOTE_ADDR": "127.0.0.1",
            "GIT_PROTOCOL": self.headers.get("Git-Protocol", ""),
        }  # fmt: skip
        made = subprocess.run(["git", "http-backend"], input=body, env=env, capture_output=True).stdout
        head, _, out = made.partition(b"\r\n\r\n")
        fields = dict(line.split(": ", 1) for line in head.decode().split("\r\n"))
        self.send_response(int(fields.pop("Status", "200").split()[0]))
        for name, value in fields.items():
            self.send_header(name, value)
        self.send_header("Content-Length", str(len(out)))
        self.end_headers()
        self.wfile.write(out)

    def chunks(self) -> bytes:
        found = b""
        while size := int(self.rfile.readline(), 16):
            found += self.rfile.read(size)
            self.rfile.readline()
        return found

    def log_message(self, *args):
        """Says nothing."""


@contextmanager
def http(folder: Path, password: str = ""):
    subprocess.run(["git", "-C", folder / "book.git", "config", "http.receivepack", "true"], check=True)
    handler = type("Here", (Backend,), {"folder": folder, "password": password})
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/book.git"
    finally:
        server.shutdown()
        server.server_close()


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A user's own settings, which only the network step sees."""
    folder = tmp_path / "home"
    folder.mkdir()
    monkeypatch.setenv("HOME", str(folder))
    return folder


def test_a_book_is_shared_through_http(kitchens):
    """By git's own backend."""
    with http(kitchens.folder / "srv") as address:
        exchanged(kitchens, address)


def test_a_password_is_asked_of_the_users_own_settings(kitchens, home):
    """Without it one is told how to sign in; with it all goes as usual, and it is never shown."""
    with http(kitchens.folder / "srv", "s3cret") as address:
        refused = kitchens.type(kitchens.noor, f"share --at {address}", FRIDAY, code=3)
        helper = home / "helper"
        helper.write_text("#!/bin/sh\n[ \"$1\" = get ] && printf 'username=noor\\npassword=s3cret\\n'\nexit 0\n")
        helper.chmod(helper.stat().st_mode | stat.S_IXUSR)
        (home / ".gitconfig").write_text(f"[credential]\n\thelper = {helper}\n")
        exchanged(kitchens, address)

    assert "did not let you in" in refused.err
    assert "s3cret" not in refused.err + refused.out


# --- ssh --------------------------------------------------------------------------------------------------------


def test_a_book_is_shared_through_ssh(kitchens, home):
    """A stand-in for ssh runs here what it is asked to run there; the words sent are git's own."""
    ssh = home / "ssh"
    ssh.write_text('#!/bin/sh\nwhile [ "$1" != host ]; do shift; done\nshift\nexec sh -c "$*"\n')
    ssh.chmod(ssh.stat().st_mode | stat.S_IXUSR)
    (home / ".gitconfig").write_text(f"[core]\n\tsshCommand = {ssh}\n[ssh]\n\tvariant = simple\n")

    exchanged(kitchens, f"ssh://host{kitchens.folder}/srv/book.git")


SSHD = shutil.which("sshd", path=f"{os.environ['PATH']}:/usr/sbin")
needs_sshd = pytest.mark.skipif(
    SSHD is None or (hasattr(os, "geteuid") and os.geteuid() == 0 and not Path("/run/sshd").is_dir()),
    reason="no ssh server here, or not the empty folder that it wants as root; the stand-in above is for such machines",
)


@contextmanager
def ssh_server(folder: Path):
    """A server of this test's own, with its keys; how ssh is called to reach it, and the port."""
    for key in ("host", "noor", "stranger"):
        subprocess.run(["ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-f", folder / key], check=True)
    port = free_port()
    (folder / "known").write_text(f"[127.0.0.1]:{port} {(folder / 'host.pub').read_text()}")
    told = {
        "Port": port,
        "ListenAddress": "127.0.0.1",
        "HostKey": folder / "host",
        "AuthorizedKeysFile": folder / "noor.pub",
        "PidFile": "none",
        "StrictModes": "no",
        "UsePAM": "no",
        "PasswordAuthentication": "no",
        "PermitRootLogin": "yes",
    }
    (folder / "sshd").write_text("".join(f"{name} {value}\n" for name, value in told.items()))
    with subprocess.Popen([SSHD, "-D", "-e", "-f", folder / "sshd"], stderr=subprocess.DEVNULL) as child:
        try:
            for _ in range(100):
                with socket.socket() as probe:
                    if probe.connect_ex(("127.0.0.1", port)) == 0:
                        break
                time.sleep(0.05)
            yield f"ssh -F none -o UserKnownHostsFile={folder}/known -o IdentitiesOnly=yes -i {folder}/", port
        finally:
            child.terminate()


@needs_sshd
def test_a_book_is_shared_through_an_ssh_server(kitchens, home, tmp_path):
    """With the keys that it knows; a stranger is not let in, nor is a server trusted that the baker does not know."""
    keys = tmp_path / "keys"
    keys.mkdir()
    with ssh_server(keys) as (ssh, port):
        address = f"ssh://{getpass.getuser()}@127.0.0.1:{port}{kitchens.folder}/srv/book.git"
        (home / ".gitconfig").write_text(f"[core]\n\tsshCommand = {ssh}stranger\n")
        assert "did not let you in" in kitchens.type(kitchens.noor, f"share --at {address}", FRIDAY, code=3).err
        (home / ".gitconfig").write_text(f"[core]\n\tsshCommand = {ssh}noor\n")
        exchanged(kitchens, address)
        (keys / "known").write_text("")
        (home / ".gitconfig").write_text(f"[core]\n\tsshCommand = {ssh}noor -o StrictHostKeyChecking=yes\n")
        kitchens.type(kitchens.noor, "record rye --crumb 7 --crust 7", EVENING)
        assert "did not let you in" in kitchens.type(kitchens.noor, "share", EVENING, code=3).err


@pytest.mark.skipif(shutil.which("ssh") is None, reason="no ssh here")
def test_an_ssh_place_that_does_not_answer_is_told_as_such(kitchens):
    """A port at which nobody listens."""
    ran = kitchens.type(kitchens.noor, f"share --at ssh://127.0.0.1:{free_port()}/book.git", FRIDAY, code=3)

    assert "cannot be reached now" in ran.err
