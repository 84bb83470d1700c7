"""Those who bring two histories together with git itself get what `share` gives, or both versions, never one alone."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from ovenleaf.book import combiner
from sharing_support import EVENING, GIT_WORDS, MONDAY, SUNDAY, two_copies

pytestmark = [
    pytest.mark.counted,
    pytest.mark.skipif(sys.platform == "win32", reason="the program's place on the path is told otherwise there"),
]
PROGRAMS = Path(sys.executable).parent


@pytest.fixture
def copies(tmp_path):
    """Two copies of the test's own."""
    return two_copies(tmp_path)


def plain(root, *words, path, code=0):
    """Plain git, as somebody who knows it has it."""
    who = {f"GIT_{who}_{what}": "petra" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")}
    env = {"PATH": path, "HOME": str(root.parent), "GIT_CONFIG_NOSYSTEM": "1"} | who
    ran = subprocess.run(("git", "-C", str(root), *words), env=env, capture_output=True, text=True)
    assert ran.returncode == code, ran.stdout + ran.stderr
    return ran.stdout.strip()


WITH = os.pathsep.join((str(PROGRAMS), os.environ["PATH"]))


def by_git(copies, *, path, code=0):
    """A second copy of tomas's, in which noor's last entry is brought in by plain git."""
    other = copies.folder / "by-git"
    shutil.copytree(copies.tomas, other)
    plain(other, "fetch", "-q", str(copies.noor), "main", path=path)
    plain(other, "merge", "-q", "--no-edit", "FETCH_HEAD", path=path, code=code)
    return other


@pytest.mark.parametrize("clash", [False, True], ids=["no clash", "an open question"])
def test_git_and_save_come_to_the_pages_that_share_comes_to(copies, clash, golden):
    """The same tree, revision of both included: formulas, marks, a bake scored by both, the ingredient list."""
    noor, tomas = copies.noor, copies.tomas
    copies.type(tomas, 'tweak caraway-rye salt=1.8% --why "less"', SUNDAY)
    if clash:
        copies.type(tomas, 'tweak caraway-rye water=77% --why "dry"', SUNDAY)
    copies.type(tomas, "score A1 --taster tomas --crumb 7 --crust 8", SUNDAY)
    copies.type(tomas, 'mark caraway-rye r1 superseded --why "too dry"', SUNDAY)
    copies.type(tomas, "ingredient rye crisp --kind seed --water 6 --source 'the bag'", SUNDAY)
    copies.type(noor, 'tweak caraway-rye water=76% --why "tight"', MONDAY)
    copies.type(noor, "score A1 --taster petra --crumb 5 --crust 7", MONDAY)
    copies.type(noor, 'mark caraway-rye r1 keeper --why "for the stall"', MONDAY)
    copies.type(noor, "ingredient oat crisp --kind seed --water 8 --source 'the bag'", MONDAY)

    other = by_git(copies, path=WITH)
    copies.type(noor, "share", MONDAY)
    copies.type(tomas, "share", EVENING, code=4 if clash else 0)
    saved = copies.type(other, "save", EVENING)

    number = 4 if clash else 3
    assert f"caraway-rye, revision {number}" in saved.out
    assert not GIT_WORDS.search(saved.out)
    trees = {plain(root, "rev-parse", "HEAD^{tree}", path=WITH) for root in (tomas, other)}
    assert len(trees) == 1
    assert (tomas / f"formulas/caraway-rye/r{number}.noor.tomas.yaml").exists()
    copies.type(other, "check", EVENING, code=1 if clash else 0)
    copies.type(other, "save", EVENING, code=3)
    if clash:
        golden("sharing/saved_combined", saved.out)


def test_where_the_program_is_missing_both_versions_stand_in_the_page(copies):
    """Between marks, which every command recognises; what is not in the book's pages is brought together as ever."""
    path = os.pathsep.join(("/usr/bin", "/bin"))
    if shutil.which("ovenleaf", path=path) or not shutil.which("git", path=path):
        pytest.skip("git alone cannot be had here")
    copies.type(copies.tomas, 'tweak caraway-rye salt=1.8% --why "less"', SUNDAY)
    copies.type(copies.noor, 'tweak caraway-rye water=76% --why "tight"', MONDAY)

    other = by_git(copies, path=path, code=1)

    page = (other / "formulas/caraway-rye.yaml").read_text()
    assert page.count("<<<<<<< ") == page.count(">>>>>>> ") >= 1
    assert "water: 76%" in page
    assert "salt: 1.8%" in page
    for line in ("show caraway-rye", "weigh caraway-rye", 'tweak caraway-rye salt=2% --why "x"', "save"):
        ran = copies.type(other, line, EVENING, code=3)
        assert "versions" in ran.err, line


@pytest.mark.parametrize("spoil", ["formulas/caraway-rye.yaml", "trials"])
def test_what_the_rules_have_no_outcome_for_is_left_to_both(copies, spoil):
    """A page that cannot be read, and two bakes at one place: both versions stand in the page."""
    if spoil == "trials":
        copies.type(copies.tomas, "record caraway-rye r1 --baked-on 2026-11-22 --crumb 7", SUNDAY)
        mine = next((copies.tomas / "trials/caraway-rye").glob("2026-11-22*"))
        copies.type(copies.noor, "record caraway-rye r1 --baked-on 2026-11-22 --crumb 4", MONDAY)
        theirs = next((copies.noor / "trials/caraway-rye").glob("2026-11-22*"))
        for root, page in ((copies.tomas, mine), (copies.noor, theirs)):
            page.rename(page.with_name("2026-11-22-petra.yaml"))
            plain(root, "add", "-A", path=WITH)
            plain(root, "commit", "-qm", "moved", path=WITH)
        spoil = "trials/caraway-rye/2026-11-22-petra.yaml"
    else:
        for root, text in ((copies.tomas, "water: [74\n"), (copies.noor, "water: 76%\n")):
            (root / spoil).write_text(text)
            plain(root, "commit", "-qam", "by hand", path=WITH)

    other = by_git(copies, path=WITH, code=1)

    assert "<<<<<<< " in (other / spoil).read_text()


def test_a_copy_that_git_made_is_told_of_and_set_up_by_the_next_share(copies):
    """`check` says what git would do there; sharing puts it right, and once is enough."""
    config, attributes = copies.tomas / ".git/config", copies.tomas / ".git/info/attributes"
    assert combiner.is_set_up(copies.tomas)
    before = config.read_bytes()
    copies.type(copies.tomas, "share", SUNDAY)
    assert config.read_bytes() == before
    attributes.unlink()
    config.write_bytes(before[: before.index(b"[merge")])

    ran = copies.type(copies.tomas, "check", SUNDAY)
    copies.type(copies.tomas, "share", SUNDAY)

    assert "how two bakers' pages are combined" in " ".join(ran.out.split())
    assert config.read_bytes() == before
    assert "combined" not in copies.type(copies.tomas, "check", SUNDAY).out
