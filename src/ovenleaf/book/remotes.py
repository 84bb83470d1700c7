"""Places behind ssh, https or git's daemon: what is there, fetching it, sending to it. The one door to GitPython.

Only here git sees the user's own settings, for signing in. Hooks, helpers that start programs, and every way
but the four a book travels are shut off. git's own words never pass through: they become a reason.
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from ovenleaf.book import git_child, layout, settings
from ovenleaf.book.write_faults import FULL, CannotWrite, reason_in
from ovenleaf.errors import Refusal

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.book.addresses import Address

ARRIVED = "refs/ovenleaf/arrived"
BRANCH = "refs/heads/main"
_FIXED = {
    "core.hooksPath": os.devnull,
    "core.fsmonitor": "false",
    "core.bigFileThreshold": "16m",  # a file that says it is huge is not unpacked in memory
    "core.attributesFile": os.devnull,
    "core.pager": "cat",
    "fetch.fsckObjects": "true",
    "transfer.fsckObjects": "true",
    "fetch.recurseSubmodules": "false",
    "push.recurseSubmodules": "no",
    "submodule.recurse": "false",
    "push.gpgSign": "false",
    "protocol.allow": "never",
    "protocol.ssh.allow": "always",
    "protocol.https.allow": "always",
    "protocol.http.allow": "always",
    "protocol.git.allow": "always",
    "gc.auto": "0",
    "maintenance.auto": "false",
}


class NotReached(Refusal):
    """The place did not answer. Fact: `shown`. Nothing is wrong: what is written waits."""

    def __init__(self, shown: str) -> None:
        super().__init__(
            f"{shown} cannot be reached now.",
            detail=("See that this computer is on the network, and the address is spelled as you were given it.",),
        )
        self.shown = shown


class SignInFailed(Refusal):
    """The place wants to know who asks, and was not satisfied. Fact: `shown`."""

    def __init__(self, shown: str) -> None:
        super().__init__(
            f"{shown} did not let you in.",
            detail=(
                "For an ssh address, whoever keeps the place has to know your public key, and your computer the place:",
                "sign in there once with ssh. For https, let your computer keep your name and password for it.",
            ),
        )
        self.shown = shown


class SentBack(Refusal):
    """The place does not take what is sent. Facts: `shown`, `why`."""

    def __init__(self, shown: str, why: str) -> None:
        super().__init__(
            f"{shown} does not take the book: {why}.",
            detail=("What came in from there is in your book. Ask whoever keeps the place; yours is safe here.",),
        )
        self.shown = shown
        self.why = why


class Unsound(Refusal):
    """What is there is damaged, or made to do harm; git refused its objects. Fact: `shown`."""

    def __init__(self, shown: str) -> None:
        super().__init__(
            f"What is at {shown} was not taken in: parts of it are damaged.",
            detail=("Your book is as it was. Another copy of the book may be sound; share with that one.",),
        )
        self.shown = shown


class _Failed(Exception):
    def __init__(self, said: str) -> None:
        super().__init__(said)
        self.said = said


def fetch(root: Path, address: Address) -> str | None:
    """The entry that is there, with all that came before it taken in; None where nothing is there yet.

    Raises NotReached, SignInFailed, Unsound. Nothing in the book moves.
    """
    try:
        there = _git(root, "ls-remote", "--quiet", address.text, BRANCH).split()
        if not there:
            return None
        # A lock file left by a fetch that was killed; nobody else writes this name.
        (layout.git_folder(root) / f"{ARRIVED}.lock").unlink(missing_ok=True)
        _git(
            root, "fetch", "--quiet", "--no-tags", "--no-write-fetch-head", "--no-recurse-submodules",
            "--no-auto-maintenance", address.text, f"+{BRANCH}:{ARRIVED}",
        )  # fmt: skip
        return _git(root, "rev-parse", "--verify", "--quiet", f"{ARRIVED}^{{commit}}").strip()
    except _Failed as failed:
        raise _in_words(address, failed.said) from failed


def send(root: Path, address: Address, entry: str) -> bool:
    """Send an entry and all before it; False where somebody else was faster, so that theirs comes first.

    Raises NotReached, SignInFailed, SentBack.
    """
    try:
        _git(root, "push", "--quiet", "--porcelain", "--no-verify", address.text, f"{entry}:{BRANCH}")
    except _Failed as failed:
        if any(words in failed.said for words in _FASTER):
            return False
        if _NOT_EXPORTED in failed.said:
            raise SentBack(address.shown, "it can be read only") from failed
        raise _in_words(address, failed.said) from failed
    return True


_NOT_EXPORTED = "access denied or repository not exported"  # git's daemon says it of both
_FASTER = (
    "fetch first",
    "non-fast-forward",
    "stale info",
    "failed to update ref",
    "cannot lock ref",
    "incorrect old value",
)
_SIGN_IN = (
    "Permission denied",
    "Authentication failed",
    "could not read Username",
    "could not read Password",
    "Host key verification failed",
    "terminal prompts disabled",
    "returned error: 401",
    "returned error: 403",
)
_DAMAGED = (
    "fsck error",
    "unpack failed",
    "index-pack failed",
    "bad object",
    "did not send all necessary",
    "inflate",
    "corrupt",
)
_NOT_TAKEN = {
    "pre-receive hook declined": "it has a rule of its own against it",
    "hook declined": "it has a rule of its own against it",
    "protected branch": "it is set to take nothing that is sent straight to it",
    "remote rejected": "it has a rule of its own against it",
    "service not enabled": "it can be read only",
    "the remote end hung up": "it broke off",
}


def _in_words(address: Address, said: str) -> Refusal:
    theirs = "\n".join(line for line in said.splitlines() if line.startswith("remote:"))
    if reason_in(theirs) == FULL:
        return SentBack(address.shown, "its disk is full")
    if reason_in(said) == FULL:
        return CannotWrite(FULL)
    if any(words in said for words in _SIGN_IN):
        return SignInFailed(address.shown)
    if any(words in said for words in _DAMAGED):
        return Unsound(address.shown)
    if why := next((why for words, why in _NOT_TAKEN.items() if words in said), ""):
        return SentBack(address.shown, why) if "hung up" not in said else NotReached(address.shown)
    return NotReached(address.shown)


def _git(root: Path, *args: str) -> str:
    """Run git by GitPython on the book, with the user's sign-in settings. Raises _Failed with what it said."""
    settings.check(root)
    fixed = [part for key, value in _FIXED.items() for part in ("-c", f"{key}={value}")]
    here = {
        "GIT_DIR": str(layout.git_folder(root).absolute()),
        "GIT_WORK_TREE": str(root.absolute()),
        "GIT_TERMINAL_PROMPT": "0",
        "GIT_ATTR_NOSYSTEM": "1",
        "GIT_NO_REPLACE_OBJECTS": "1",
        "LC_ALL": "C",
    }
    with git_child.nothing_handed_down() as program:
        import git as library  # loaded when a place is asked and not before: it takes a tenth of a second

        runner = library.Git(str(root.absolute()))
        command = [program, *fixed, *args]
        code, out, said = runner.execute(command, env=here, with_extended_output=True, with_exceptions=False)
    if code != 0:
        raise _Failed(f"{said}\n{out}")
    return str(out)
