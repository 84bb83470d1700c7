"""What shows at the first look over a page's text, before it is taken apart, and is refused there.

Looks at lines and signs only; knows nothing of the tree they make.
"""

from __future__ import annotations

import re
from typing import Final

from ovenleaf.records.page_bytes import MAX_BYTES, too_long
from ovenleaf.records.page_fault import line_at, refuse
from ovenleaf.records.scalars import UNSEEN

_TWO_VERSIONS: Final = re.compile(r"^(?:<<<<<<< |=======$|>>>>>>> )", re.MULTILINE)
_TAB_SET_IN: Final = re.compile(r"^ *\t", re.MULTILINE)
_DIRECTIVE: Final = re.compile(r"^%", re.MULTILINE)
_PAGE_MARK: Final = re.compile(r"^(?:---|\.\.\.)(?=[ \n])", re.MULTILINE)
_CONTENT: Final = re.compile(r"^ *[^#\s]", re.MULTILINE)


def look_over(text: str, path: str) -> None:
    """Refuse (PageFault) what shows before the text is taken apart."""
    if (found := UNSEEN.search(text)) is not None:
        sign = f"U+{ord(found[0]):04X}"
        refuse(
            "control",
            "A character that cannot be seen stands in this line.",
            (text, path, found.start()),
            f"Its number is {sign}. Type the line again without it.",
        )
    if len(text) > MAX_BYTES or len(text.encode()) > MAX_BYTES:
        raise too_long(path)
    _look_for_two_versions(text, path)
    if (found := _TAB_SET_IN.search(text)) is not None:
        refuse("tab", "This line is set in with a tab.", (text, path, found.start()), "Use spaces instead.")
    if (found := _DIRECTIVE.search(text)) is not None:
        refuse(
            "directive",
            "A line of a page cannot begin with a percent sign.",
            (text, path, found.start()),
            "Take the line out, or put # before it to make it a remark.",
        )
    _look_for_second_page(text, path)


def _look_for_two_versions(text: str, path: str) -> None:
    found = _TWO_VERSIONS.search(text)
    if found is None:
        return
    first, last = line_at(text, found.start()), 0
    closing = re.compile(r"^>>>>>>> ", re.MULTILINE).search(text, found.start())
    if closing is not None:
        last = line_at(text, closing.start())
    if last > first:
        refuse(
            "two versions",
            f"Two versions of this page stand in it, one after the other, lines {first} to {last}.",
            (text, path, found.start()),
            "Keep the lines you want, and take out the others and the lines of <, = and >.",
        )
    refuse(
        "two versions",
        "This line is left over from two versions of this page standing one after the other.",
        (text, path, found.start()),
        "Take the line out, and see that the lines about it stand as you want them.",
    )


def _look_for_second_page(text: str, path: str) -> None:
    """Allow one opening `---` and one closing `...`; everything else would be a second page."""
    closed = False
    for mark in _PAGE_MARK.finditer(text):
        opens = text.startswith("---", mark.start())
        if closed or (opens and _CONTENT.search(text, 0, mark.start())):
            break
        if not opens and _CONTENT.search(text, mark.end()):
            break
        closed = True if not opens else closed
        if opens and re.compile(r"--- *(?:#.*)?\n").match(text, mark.start()) is None:
            break
    else:
        return
    refuse(
        "documents",
        "This line would end the page and begin another in the same file.",
        (text, path, mark.start()),
        "Take the line out, or put what follows into a file of its own.",
    )
