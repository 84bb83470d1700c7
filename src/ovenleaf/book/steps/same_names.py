"""Two things of one name, made apart from each other: both stay, and one gets another name.

Which one is told by what the pages say, never by whose they are; what refers to it follows.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.names import FORMULAS, TRIALS, kept_page_of
from ovenleaf.book.steps.sides import Blobs, Tree, code_of, kind_of
from ovenleaf.compare.news import Renamed
from ovenleaf.domain.revision import RevisionName, revision_name
from ovenleaf.errors import Refusal
from ovenleaf.records import splice
from ovenleaf.records.codec import trial_edits
from ovenleaf.records.nodes import plain
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.records.nodes import Page, Plain


def page_at(blobs: Blobs, tree: Tree, path: str) -> Page | None:
    """A page of one side, or None where it cannot be read."""
    try:
        return read(decode(blobs.get(tree[path]), path), path=path)
    except Refusal:
        return None


def keep(blobs: Blobs, tree: Tree, path: str, page: Page) -> None:
    """Let a side hold this page."""
    tree[path] = blobs.keep(page.text.encode())


def data_of(page: Page | None) -> dict[str, Plain]:
    """What a page holds; nothing where there is none."""
    data = {} if page is None else plain(page.root)
    assert isinstance(data, dict)
    return data


# --- two trials at one place ---------------------------------------------------------------------------------


def part_trials(blobs: Blobs, base: Tree, one: Tree, other: Tree) -> Iterator[Renamed]:
    """A path that both added is two bakes: the later id takes the next free number. Changes the sides."""
    for path in sorted(set(one) & set(other) - set(base)):
        if kind_of(path) == "trial" and one[path] != other[path]:
            later = one if one[path] > other[path] else other
            page = page_at(blobs, later, path)
            if page is None:
                continue
            free = _free(path, one, other)
            name = free.removeprefix(f"{TRIALS}/").removesuffix(".yaml")
            keep(blobs, later, free, trial_edits.with_field(page, ("trial",), name))
            del later[path]
            yield Renamed(kind="trial", path=free, was=path, now=name)


def _free(path: str, *trees: Tree) -> str:
    number = 2
    while any(f"{path.removesuffix('.yaml')}-{number}.yaml" in tree for tree in trees):
        number += 1
    return f"{path.removesuffix('.yaml')}-{number}.yaml"


def follow_trials(blobs: Blobs, base: Tree, one: Tree, other: Tree) -> None:
    """Where one side moved a trial aside earlier, the other's changes to it go where it lies now. Changes the trees."""
    for moved, still in ((one, other), (other, one)):
        for path in sorted(set(base) & set(moved) & set(still)):
            if kind_of(path) != "trial" or base[path] in (moved[path], still[path]):
                continue
            code = code_of(blobs, base[path])
            if not code or code in _codes(blobs, moved, path):
                continue
            new = [there for there in moved if there.startswith(path.removesuffix(".yaml")) and there not in base]
            place = next((there for there in sorted(new) if code in _codes(blobs, moved, there)), None)
            page = None if place is None else page_at(blobs, still, path)
            if place is None or page is None:
                continue
            name = place.removeprefix(f"{TRIALS}/").removesuffix(".yaml")
            base[place] = base.pop(path)
            del still[path]
            keep(blobs, still, place, trial_edits.with_field(page, ("trial",), name))


def _codes(blobs: Blobs, tree: Tree, path: str) -> set[str]:
    """The code a trial has, and those it had."""
    codes = {code_of(blobs, tree[path])}
    made = data_of(page_at(blobs, tree, path)).get("corrections")
    for correction in made if isinstance(made, list) else []:
        if isinstance(correction, dict) and correction.get("field") == "code":
            codes.add(str(correction.get("was")))
    return codes


# --- one name on two revisions -------------------------------------------------------------------------------


def part_revisions(blobs: Blobs, base: Tree, one: Tree, other: Tree) -> Iterator[Renamed]:
    """A revision that two copies saved under one name: the later id gets part of it in its name. Changes the sides."""
    for path in sorted(set(one) & set(other) - set(base)):
        if kind_of(path) != "kept" or one[path] == other[path]:
            continue
        side = one if one[path] > other[path] else other
        formula, name = path.split("/")[1], revision_name(path.split("/")[2].removesuffix(".yaml"))
        page = page_at(blobs, side, path)
        if page is None or name is None:
            continue
        pin = side.pop(path)
        renamed = RevisionName(name.number, (*name.handles[:-1], f"{name.handles[-1][:30]}-{pin[:8]}"))
        there = kept_page_of(formula, renamed)
        keep(blobs, side, there, _by(page, renamed))
        _follow_revision(blobs, base, side, formula, (str(name), pin), (str(renamed), side[there]))
        yield Renamed(kind="revision", path=there, was=str(name), now=str(renamed))


def _by(page: Page, name: RevisionName) -> Page:
    where = ("by",) if len(name.handles) == 1 else ("by", len(name.handles) - 1)
    return read(splice.set_value(page, where, name.handles[-1]), path=page.path)


def _follow_revision(
    blobs: Blobs, base: Tree, side: Tree, formula: str, was: tuple[str, str], now: tuple[str, str]
) -> None:
    """The current page that stands on the revision, and the trials baked from it, follow its name."""
    current = f"{FORMULAS}/{formula}.yaml"
    if side.get(current) == was[1]:
        side[current] = now[1]
    for path in [path for path in side if path.startswith(f"{TRIALS}/{formula}/") and path not in base]:
        page = page_at(blobs, side, path)
        if page is not None and data_of(page).get("pin") == was[1]:
            page = trial_edits.with_field(page, ("revision",), now[0])
            keep(blobs, side, path, trial_edits.with_field(page, ("pin",), now[1]))
