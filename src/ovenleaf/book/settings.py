"""What may stand in a book's `.git/config`, read as plain text before git reads it.

git runs programs that its settings name, and a book can come from anyone. So the file is held
against a short list and anything else is refused. Must not call git.
"""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING, NamedTuple

from ovenleaf.book import combiner, layout
from ovenleaf.errors import Place, Refusal

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

SIZE_LIMIT = 64_000  # bytes; a book shared with fifty bakers needs a tenth of it
# The exact lines that may stand behind `merge.ovenleaf.driver`.
COMBINERS = frozenset({combiner.DRIVER})


class NoHistory(Refusal):
    """The folder has pages but no history of its own, so nothing can be kept in it."""

    def __init__(self) -> None:
        super().__init__(
            "This copy of the book has no history, so nothing can be written in it.",
            detail=(
                "A book keeps its history in a folder .git beside book.yaml; this copy came without it.",
                "It can still be read. To write, use the copy it was made from.",
            ),
        )


class SettingsRefused(Refusal):
    """A setting or file in `.git` that is not on the list. Facts: `path`, `line` (None for a whole file)."""

    def __init__(self, why: str, remedy: str, *, path: str, line: int | None = None, text: str = "") -> None:
        super().__init__(why, where=Place(path, line, text), detail=(remedy,))
        self.path = path
        self.line = line


class Setting(NamedTuple):
    """One line of the file; `section` and `key` in small letters, `name` as typed between the quotes."""

    section: str
    name: str | None
    key: str
    value: str


def check(root: Path) -> None:
    """Refuses a book whose `.git` could make git do more than keep pages.

    NoHistory without a whole `.git`; SettingsRefused for a line or a file that is not on the list.
    """
    folder = layout.git_folder(root)
    if folder.is_symlink() or folder.is_file():
        raise SettingsRefused(
            "This book's history lies somewhere else: .git is not a folder here.",
            "Use the folder that holds the history itself, or a whole copy made by ovenleaf join.",
            path=".git",
        )
    if not (folder / "HEAD").is_file():
        raise NoHistory
    _refuse_side_files(folder)
    if (folder / "config").is_dir():
        raise strange_file("config")
    for number, line in _lines(folder / "config"):
        _check_line(number, line)


def _refuse_side_files(folder: Path) -> None:
    for name in ("config.worktree", "commondir", "objects/info/alternates"):
        if (folder / name).exists() or (folder / name).is_symlink():
            raise strange_file(name)
    attributes = folder / "info" / "attributes"
    if attributes.is_file() and attributes.read_bytes().replace(b"\r\n", b"\n") not in _KNOWN_ATTRIBUTES:
        raise strange_file("info/attributes")
    for name in ("", "info", "objects", "refs", "logs", layout.state_folder(folder.parent).name):
        _refuse_links(folder, name)


def _refuse_links(folder: Path, name: str) -> None:
    """A link in `.git` would let git write somewhere else; a pipe would keep us waiting for ever."""
    inner: list[str] = []
    try:
        with os.scandir(folder / name) as found:
            for one in found:
                if one.is_symlink() or not (one.is_file() or one.is_dir()):
                    raise strange_file(f"{name}/{one.name}".lstrip("/"))
                if name.startswith(("refs", "logs")) and one.is_dir():
                    inner.append(f"{name}/{one.name}")
    except (FileNotFoundError, NotADirectoryError):
        return
    for one_name in inner:
        _refuse_links(folder, one_name)


_KNOWN_ATTRIBUTES = (b"", b"\n", combiner.ATTRIBUTES)  # some programs leave an empty file behind


def strange_file(name: str, where: str = ".git/") -> SettingsRefused:
    """The refusal of a file that the book must not have there."""
    path = f"{where}{name}"
    return SettingsRefused(
        f"This book has {path}, which ties it to things outside the book.",
        f"If you did not put it there, delete {path} and run the command again. "
        "Otherwise work in a whole copy made by ovenleaf join.",
        path=path,
    )


class _Line(NamedTuple):
    raw: str
    setting: Setting | None  # None where the line could not be read


def _lines(path: Path) -> Iterator[tuple[int, _Line]]:
    """The numbered lines that set something or cannot be read; blanks, comments and headings are passed."""
    section: str | None = None
    name: str | None = None
    for number, raw in enumerate(_text(path).split("\n"), start=1):
        line = raw.removesuffix("\r")
        if any(ord(letter) < 32 and letter != "\t" for letter in line):
            yield number, _Line(line, None)
        elif heading := _HEADING.fullmatch(line):
            section, name = heading[1].lower(), heading[2]
        elif not _BLANK.fullmatch(line):
            yield number, _Line(line, _read_setting(section, name, line))


# git allows more: a setting behind the heading, `[remote.x]`, a line continued by a backslash, a key
# without a value. git itself writes none of these, so they count as not understood and are refused.
_BLANK = re.compile(r"[ \t]*(?:[#;].*)?")
_HEADING = re.compile(r'[ \t]*\[([A-Za-z0-9-]+)(?:[ \t]+"([^"\\]*)")?\][ \t]*(?:[#;].*)?')
_SETTING = re.compile(r"[ \t]*([A-Za-z][A-Za-z0-9-]*)[ \t]*=(.*)")


def _text(path: Path) -> str:
    try:
        with path.open("rb") as stream:
            data = stream.read(SIZE_LIMIT + 1)
        if len(data) <= SIZE_LIMIT:
            return data.decode("utf-8-sig")
    except FileNotFoundError:
        return ""
    except UnicodeDecodeError:
        pass
    raise SettingsRefused(
        "The settings of this book, in .git/config, cannot be read as text.",
        "Take .git/config from a sound copy of the book, or make a new copy with ovenleaf join.",
        path=".git/config",
    )


def _read_setting(section: str | None, name: str | None, line: str) -> Setting | None:
    match = _SETTING.fullmatch(line)
    value = _read_value(match[2]) if match else None
    if match is None or section is None or value is None:
        return None
    return Setting(section, name, match[1].lower(), value)


def _read_value(text: str) -> str | None:
    r"""What stands behind the equals sign, without quotes and comment; None for escapes but `\"` and `\\`."""
    letters: list[str] = []
    quoted = False
    rest = iter(text)
    for letter in rest:
        if letter == "\\":
            following = next(rest, "")
            if following not in ('"', "\\"):
                return None
            letters.append(following)
        elif letter == '"':
            quoted = not quoted
        elif letter in "#;" and not quoted:
            break
        else:
            letters.append(letter)
    return None if quoted else "".join(letters).strip(" \t")


def _check_line(number: int, line: _Line) -> None:
    found = line.setting
    if found is not None:
        allowed = _ALLOWED.get((found.section, found.key))
        named = found.section in _NAMED_SECTIONS
        if allowed is not None and named == bool(found.name) and allowed(found):
            return
    raise SettingsRefused(
        "The settings of this book hold a line that ovenleaf does not work with, "
        "since such a line can start programs on your computer.",
        f"Open .git/config in a text editor, delete line {number}, save, and run the command again. "
        "If you did not write the line, ask whoever gave you the book.",
        path=".git/config",
        line=number,
        text=line.raw.strip(),
    )


def _any(setting: Setting) -> bool:
    return True


def _one_of(*words: str) -> Callable[[Setting], bool]:
    return lambda setting: setting.value.lower() in words


def _address(setting: Setting) -> bool:
    """False where git would take the address for an option or for a program to run (`ext::sh ...`)."""
    return not re.match(r"-|[A-Za-z0-9+.-]*::", setting.value)


def _combining(setting: Setting) -> bool:
    return setting.name == "ovenleaf" and (setting.key == "name" or setting.value in COMBINERS)


_YES_OR_NO = _one_of("true", "false", "yes", "no", "on", "off", "1", "0")
_NO = _one_of("false", "no", "off", "0")
_NAMED_SECTIONS = frozenset({"remote", "branch", "merge"})
_ALLOWED: dict[tuple[str, str], Callable[[Setting], bool]] = {
    ("core", "repositoryformatversion"): _one_of("0", "1"),
    ("core", "filemode"): _YES_OR_NO,
    ("core", "bare"): _NO,
    ("core", "logallrefupdates"): _one_of("true", "false", "always"),
    ("core", "ignorecase"): _YES_OR_NO,
    ("core", "precomposeunicode"): _YES_OR_NO,
    ("core", "symlinks"): _YES_OR_NO,
    ("core", "autocrlf"): _NO,
    ("extensions", "objectformat"): _one_of("sha1"),
    ("user", "name"): _any,
    ("user", "email"): _any,
    ("remote", "url"): _address,
    ("remote", "pushurl"): _address,
    ("remote", "fetch"): _any,
    ("branch", "remote"): _address,  # git takes an address here too
    ("branch", "merge"): _any,
    ("branch", "rebase"): _one_of("true", "false", "merges"),
    ("merge", "name"): _combining,
    ("merge", "driver"): _combining,
    ("gc", "auto"): lambda setting: re.fullmatch(r"[0-9]{1,9}", setting.value) is not None,
    ("init", "defaultbranch"): _any,
}
