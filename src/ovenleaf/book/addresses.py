"""Where a book can be shared: a folder, or a place behind ssh, https or git's daemon. Nothing that starts a program.

An address is never shown with what may be a password in it.
"""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from pathlib import Path

from ovenleaf.errors import Refusal

_URL = re.compile(r"(?P<scheme>[A-Za-z][A-Za-z0-9+.-]*)://(?:(?P<who>[^/]*)@)?(?P<rest>.*)", re.DOTALL)
_SCHEMES = ("ssh", "https", "http", "git")
_SSH = re.compile(r"(?:[A-Za-z0-9_.-]+@)?[A-Za-z0-9][A-Za-z0-9.-]+:(?!//)[^\\].*")
_SECRET = re.compile(r"(?![A-Za-z]:[\\/])[^/\\@]*:[^@]*@")  # noor:secret@host, https:/noor:secret@host
_DRIVE = re.compile(r"[A-Za-z]:[\\/]?")


class BadAddress(Refusal):
    """An address that is not used. Facts: `shown`, `why`."""

    def __init__(self, shown: str, why: str) -> None:
        super().__init__(
            f"{shown} cannot be used as an address: {why}.",
            detail=(
                "Give a folder (on a stick, or one that your computers share), or an address that",
                "begins with ssh://, https:// or git://.",
            ),
        )
        self.shown = shown
        self.why = why


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """Where a book is shared: `folder` for a folder of parts, else None; `shown` is fit for any screen."""

    text: str
    shown: str
    folder: Path | None = None


def address(typed: str, start: Path) -> Address:
    """The address that was typed; a folder is taken from `start`. Raises BadAddress."""
    typed = typed.lstrip(" ")
    shown = _shown(typed)
    if not typed.strip() or any(ord(letter) < 32 or ord(letter) == 127 for letter in typed):
        raise BadAddress(shown or "Nothing", "it holds what cannot be seen")
    if typed.startswith("-"):
        raise BadAddress(shown, "it begins with a hyphen")
    if re.match(r"[A-Za-z0-9+.-]*::", typed):
        raise BadAddress(shown, "it would start a program")
    if (url := _URL.fullmatch(typed)) is not None:
        return _url(typed, shown, url)
    if _SECRET.match(typed):
        raise BadAddress(shown, "it holds a password, which does not belong in an address")
    if _SSH.fullmatch(typed) and not _DRIVE.match(typed):
        return Address(text=typed, shown=shown)
    folder = Path(os.path.normpath((start / Path(typed).expanduser()).absolute()))
    return Address(text=str(folder), shown=typed, folder=folder)


def _url(typed: str, shown: str, url: re.Match[str]) -> Address:
    scheme, who = url["scheme"].lower(), url["who"] or ""
    if scheme == "file":
        raise BadAddress(shown, "a folder is named by its path alone, without file://")
    if scheme not in _SCHEMES:
        raise BadAddress(shown, f"{scheme} is not one of the ways a book travels")
    if ":" in who:
        raise BadAddress(shown, "it holds a password, which does not belong in an address")
    if not url["rest"].strip("/") or url["rest"].startswith("-") or who.startswith("-"):
        raise BadAddress(shown, "it does not say where")
    return Address(text=typed, shown=shown)


def _shown(typed: str) -> str:
    """The address without what stands before the @ of a web address: that may be a password."""
    url = _URL.fullmatch(typed)
    if url is None and (secret := _SECRET.match(typed)):
        return f"...@{typed[secret.end() :]}"
    if url is None or not url["who"] or (url["scheme"].lower() == "ssh" and ":" not in url["who"]):
        return typed
    return f"{url['scheme']}://...@{url['rest']}"
