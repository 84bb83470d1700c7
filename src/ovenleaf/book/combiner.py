"""What lets those who use git directly have pages combined by the book's own rules. It belongs to this copy alone.

The program behind the bars leaves both versions in the page, between marks, where ovenleaf is missing or gives up,
so that one side never stands alone. Must not call git.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import layout

if TYPE_CHECKING:
    from pathlib import Path

COMMAND = "combine-page"
DRIVER = f"ovenleaf {COMMAND} %O %A %B %P || git merge-file -q %A %O %B"
_PAGES = (
    "/book.yaml",
    "/ingredients.yaml",
    "/formulas/*.yaml",
    "/formulas/*/marks.yaml",
    "/trials/*/*.yaml",
    "/tastings/*.yaml",
)
ATTRIBUTES = "".join(f"{pages} merge=ovenleaf\n" for pages in _PAGES).encode()
_SETTING = f'[merge "ovenleaf"]\n\tname = combined page by page\n\tdriver = {DRIVER}\n'.encode()


def set_up(root: Path) -> None:
    """Put the rules in this copy's own settings, where they are not there yet."""
    config, attributes = _files(root)
    if not attributes.exists():
        attributes.parent.mkdir(exist_ok=True)
        layout.replace_file(attributes, ATTRIBUTES, temporary=attributes.with_suffix(".new"))
    text = config.read_bytes() if config.exists() else b""
    if DRIVER.encode() not in text:
        end = b"" if text.endswith(b"\n") or not text else b"\n"
        layout.replace_file(config, text + end + _SETTING, temporary=config.with_suffix(".new"))


def is_set_up(root: Path) -> bool:
    """True where git, brought to combine two histories of this copy by hand, asks ovenleaf."""
    config, attributes = _files(root)
    try:
        return attributes.read_bytes() == ATTRIBUTES and DRIVER.encode() in config.read_bytes()
    except OSError:
        return False


def _files(root: Path) -> tuple[Path, Path]:
    folder = layout.git_folder(root)
    return folder / "config", folder / "info" / "attributes"
