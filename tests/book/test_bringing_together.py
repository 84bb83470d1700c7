"""Two histories of one book come to one entry, the same whoever brings them together."""

from __future__ import annotations

from datetime import datetime

import pytest

from ovenleaf.book import git, histories
from ovenleaf.book.steps.bringing_together import OtherBook, bring_together
from ovenleaf.book.steps.sides import kind_of
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.yaml_text import read

AT = datetime.fromisoformat("2026-11-12T12:00:00+01:00")

RYE = """\
format: formula/1
formula: rye
revision: 1
by: noor
saved: 2026-11-04T12:00:00+01:00
ingredients:
  medium rye flour: 100%
  water: 80%
  salt: 2%
"""
TRIAL = """\
format: trial/1
trial: rye/2026-11-12-{0}
formula: rye
revision: r1.noor
code: {1}
baker: {0}
state: done
bake_date: 2026-11-12
pin: "{2}"
"""
BASE = {"book.yaml": "format: book/1\ntitle: Rye\n", "formulas/rye.yaml": RYE, "formulas/rye/r1.noor.yaml": RYE}


class Histories:
    """A folder of entries made by hand."""

    def __init__(self, root):
        self.root = root
        git.init(root)
        (root / ".git/ovenleaf").mkdir()

    def entry(self, pages: dict[str, str], *parents: str, by: str = "noor") -> str:
        ids = {path: git.store_blob(self.root, text.encode()) for path, text in pages.items()}
        index = self.root / ".git/ovenleaf/test-index"
        git.read_tree(self.root, None, index=index)
        git.set_in_index(self.root, ids, index=index)
        tree = git.write_tree(self.root, index=index)
        who = git.signature(by, f"{by}@book.invalid", AT)
        return git.write_entry(self.root, tree, parents, "made by hand\n", who=who)

    def pages(self, entry: str) -> dict[str, str]:
        ids = git.tree_ids(self.root, entry)
        blobs = git.read_blobs(self.root, ids.values())
        return {path: blobs[name].decode() for path, name in ids.items()}

    def together(self, one: str, other: str) -> dict[str, str]:
        """Both ways round, which must be the same to the last byte."""
        made = bring_together(self.root, one, other)
        assert made.entry == bring_together(self.root, other, one).entry
        return self.pages(made.entry)


@pytest.fixture
def made(tmp_path):
    return Histories(tmp_path)


def tweaked(handle: str, number: int, *swaps: tuple[str, str]) -> dict[str, str]:
    text = RYE.replace("revision: 1\nby: noor", f"revision: {number}\nby: {handle}").replace(
        "saved: 2026-11-04T12:00:00+01:00", "saved: 2026-11-05T12:00:00+01:00\nmade_from: r1.noor"
    )
    for old, new in swaps:
        text = text.replace(old, new)
    return BASE | {"formulas/rye.yaml": text, f"formulas/rye/r{number}.{handle}.yaml": text}


def test_a_side_that_has_all_of_the_other_is_the_outcome(made):
    """Nothing is combined where one went on from the other."""
    first = made.entry(BASE)
    later = made.entry(tweaked("noor", 2, ("80%", "82%")), first)

    assert bring_together(made.root, first, later).entry == later
    assert bring_together(made.root, later, first).combined is None


def test_strangers_are_two_books(made):
    """They are not put together."""
    with pytest.raises(OtherBook):
        bring_together(made.root, made.entry(BASE), made.entry({"book.yaml": "format: book/1\ntitle: Other\n"}))


def test_a_combined_formula_is_kept_as_a_revision_of_both(made):
    """The current page and the kept one are equal to the byte, and both bakers' own stand beside it."""
    base = made.entry(BASE)
    one = made.entry(tweaked("noor", 2, ("80%", "82%")), base)
    other = made.entry(tweaked("tomas", 2, ("salt: 2%", "salt: 1.8%")), base, by="tomas")

    pages = made.together(one, other)

    assert pages["formulas/rye.yaml"] == pages["formulas/rye/r3.noor.tomas.yaml"]
    assert "water: 82%" in pages["formulas/rye.yaml"]
    assert "salt: 1.8%" in pages["formulas/rye.yaml"]
    assert {"formulas/rye/r2.noor.yaml", "formulas/rye/r2.tomas.yaml"} <= set(pages)


def test_where_each_combined_the_others_the_ancestors_are_folded(made):
    """Criss-cross: two entries that both follow, and one outcome all the same."""
    base = made.entry(BASE)
    one = made.entry(tweaked("noor", 2, ("80%", "82%")), base)
    other = made.entry(tweaked("tomas", 2, ("salt: 2%", "salt: 1.8%")), base, by="tomas")
    middle = bring_together(made.root, one, other).entry
    pages = made.pages(middle)
    left = made.entry(pages | {"formulas/rye.yaml": pages["formulas/rye.yaml"] + "source: mine\n"}, one, other)
    right = made.entry(pages | {"formulas/rye.yaml": "# noted\n" + pages["formulas/rye.yaml"]}, other, one)
    assert len(histories.where_parted(made.root, left, right)) == 2

    final = made.together(left, right)

    assert "source: mine" in final["formulas/rye.yaml"]
    assert "# noted" in final["formulas/rye.yaml"]
    assert "water: 82%" in final["formulas/rye.yaml"]


def test_two_bakes_at_one_place_both_stay(made):
    """The later id takes the next free number, and its page says so."""
    base = made.entry(BASE)
    path = "trials/rye/2026-11-12-noor.yaml"
    one = made.entry(BASE | {path: TRIAL.format("noor", "A1", "x")}, base)
    other = made.entry(BASE | {path: TRIAL.format("noor", "A2", "y")}, base)

    pages = made.together(one, other)

    assert {kind_of(name) for name in pages} == {"book", "formula", "kept", "trial"}
    found = {name: read_trial(read(text, path=name)) for name, text in pages.items() if name.startswith("trials/")}
    assert sorted(trial.code for trial in found.values()) == ["A1", "A2"]
    assert {f"trials/{trial.name}.yaml" for trial in found.values()} == set(found)


def test_a_code_given_twice_is_changed_in_the_open_and_what_refers_to_it_follows(made):
    """The bake that shares its dough is told too."""
    base = made.entry(BASE)
    one = made.entry(BASE | {"trials/rye/2026-11-12-noor.yaml": TRIAL.format("noor", "A1", "x")}, base)
    shared = TRIAL.format("tomas-2", "A2", "x").replace("state:", "shares_dough_with: A1\nstate:")
    theirs = {
        "trials/rye/2026-11-12-tomas.yaml": TRIAL.format("tomas", "A1", "x"),
        "trials/rye/2026-11-12-tomas-2.yaml": shared,
    }
    other = made.entry(BASE | theirs, base, by="tomas")

    pages = made.together(one, other)

    found = {name: read_trial(read(text, path=name)) for name, text in pages.items() if name.startswith("trials/")}
    assert {name[22:-5]: (trial.code, trial.shares_dough_with) for name, trial in found.items()} == {
        "noor": ("A1", ""), "tomas": ("A3", ""), "tomas-2": ("A2", "A3"),
    }  # fmt: skip
    assert [made.was for made in found["trials/rye/2026-11-12-tomas.yaml"].corrections] == ["A1"]


def test_what_is_added_later_to_a_bake_that_was_moved_goes_where_it_lies(made):
    """Its other copy did not know of the move yet."""
    base = made.entry(BASE)
    path = "trials/rye/2026-11-12-noor.yaml"
    one = made.entry(BASE | {path: TRIAL.format("noor", "A1", "x")}, base)
    other = made.entry(BASE | {path: TRIAL.format("noor", "A2", "y")}, base)
    middle = bring_together(made.root, one, other).entry
    at = {read_trial(read(text, path=name)).code: name for name, text in made.pages(middle).items() if "trials" in name}
    moved, entry = ("A1", one) if at["A2"] == path else ("A2", other)
    mine = made.pages(entry)
    later = made.entry(mine | {path: mine[path].replace("state:", "batch: 900 g flour\nstate:")}, entry)

    pages = made.together(middle, later)

    assert "batch: 900 g flour" in pages[at[moved]]
    assert "batch" not in pages[path]


def test_two_revisions_of_one_name_both_stay(made):
    """One gets part of its id in its name, and the bakes from it follow."""
    base = made.entry(BASE)
    sides = [tweaked("noor", 2, ("80%", water)) for water in ("82%", "84%")]
    entries = []
    for side, (code, day) in zip(sides, (("A1", "13"), ("A2", "14")), strict=True):
        pin = git.blob_id(side["formulas/rye.yaml"].encode())
        bake = TRIAL.format("noor", code, pin).replace("r1.noor", "r2.noor").replace("2026-11-12", f"2026-11-{day}")
        entries.append(made.entry(side | {f"trials/rye/2026-11-{day}-noor.yaml": bake}, base))

    pages = made.together(*entries)

    kept = [name for name in pages if name.startswith("formulas/rye/r2.")]
    assert len(kept) == 2
    for name, text in pages.items():
        if name.startswith("trials/"):
            trial = read_trial(read(text, path=name))
            assert git.blob_id(pages[f"formulas/rye/{trial.revision}.yaml"].encode()) == trial.pin


@pytest.mark.parametrize("bad", ["water: [", "<<<<<<< a\n=======\n>>>>>>> b\n", "format: formula/2\nnew: thing\n"])
def test_a_page_that_cannot_be_read_is_put_aside_and_kept(made, bad):
    """The one that can be read stands, the other lies beside, and both are told of."""
    base = made.entry(BASE)
    one = made.entry(tweaked("noor", 2, ("80%", "82%")), base)
    other = made.entry(BASE | {"formulas/rye.yaml": bad}, base, by="tomas")

    done = bring_together(made.root, one, other)
    pages = made.together(one, other)

    assert "water: 82%" in pages["formulas/rye.yaml"]
    assert [path for path, _ in done.combined.aside] == ["formulas/rye.yaml"]
    assert bad in [text for name, text in pages.items() if name.startswith("aside/")]


def test_a_page_taken_away_by_one_and_changed_by_the_other_stays(made):
    """Nothing is lost."""
    base = made.entry(BASE | {"ingredients.yaml": "format: ingredients/1\n"})
    one = made.entry(BASE, base)
    other = made.entry(BASE | {"ingredients.yaml": "format: ingredients/1\n# mine\n"}, base, by="tomas")

    assert "ingredients.yaml" in made.together(one, other)


def test_two_pictures_of_one_name_both_stay(made):
    """By what is in them."""
    base = made.entry(BASE)
    one, other = (made.entry(BASE | {"photos/rye/D2.jpg": text}, base) for text in ("one", "other"))

    pages = made.together(one, other)

    assert sorted(text for name, text in pages.items() if name.startswith("photos/")) == ["one", "other"]
