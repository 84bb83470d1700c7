"""Numbered parts in a folder: a latecomer, a lost part, a damaged one, a rewritten one; nothing is dropped."""

from __future__ import annotations

import shutil

import pytest

from ovenleaf.book import bundles, git, sharing
from sharing_support import MONDAY, SUNDAY, pages, two_copies
from support import run_ovenleaf

pytestmark = pytest.mark.counted


@pytest.fixture(scope="module")
def three_parts(tmp_path_factory):
    """Noor's book shared three times over, and the folder it lies in."""
    copies = two_copies(tmp_path_factory.mktemp("parts"))
    for water in (75, 76):
        copies.type(copies.noor, f'tweak caraway-rye water={water}% --why "wetter"', SUNDAY)
        copies.type(copies.noor, "share", SUNDAY)
    return copies


@pytest.fixture
def stick(three_parts, tmp_path):
    """The folder, for the test to spoil."""
    return shutil.copytree(three_parts.folder / "stick/ferry-lane", tmp_path / "stick")


def join(tmp_path, name="petra"):
    """Petra's copy of what lies in the folder."""
    return run_ovenleaf(f"join stick {name} --baker {name}", cwd=tmp_path, now=MONDAY)


def part(stick, number):
    return stick / f"ferry-lane.noor.{number:04}.bundle"


def test_a_latecomer_reads_every_part(three_parts, stick, tmp_path):
    """However many were written before she came."""
    assert join(tmp_path).code == 0
    assert pages(tmp_path / "petra") == pages(three_parts.noor)


def test_a_lost_part_is_named_and_what_came_before_it_is_taken_in(stick, tmp_path, golden):
    """The second of three is gone: revision 1 came, 2 and 3 wait for it."""
    lost = part(stick, 2).read_bytes()
    part(stick, 2).unlink()

    assert join(tmp_path).code == 0
    assert not (tmp_path / "petra/formulas/caraway-rye/r2.noor.yaml").exists()
    ran = run_ovenleaf("share", cwd=tmp_path / "petra", now=MONDAY)
    golden("sharing/part_lost", ran.out)

    part(stick, 2).write_bytes(lost)
    run_ovenleaf("share", cwd=tmp_path / "petra", now=MONDAY)
    assert (tmp_path / "petra/formulas/caraway-rye/r3.noor.yaml").exists()


@pytest.mark.parametrize("spoil", ["lost", "damaged"])
def test_whoever_wrote_a_lost_part_mends_it_by_sharing_again(three_parts, stick, tmp_path, spoil):
    """Nothing is new in her book, and yet she sends what can no longer be read there."""
    noor = shutil.copytree(three_parts.noor, tmp_path / "noor")
    part(stick, 2).write_bytes(part(stick, 2).read_bytes()[:-1] + b"x")
    if spoil == "lost":
        part(stick, 2).unlink()

    run_ovenleaf("share", "--at", str(stick), cwd=noor, now=MONDAY)

    assert part(stick, 4).exists()
    assert join(tmp_path).code == 0
    assert pages(tmp_path / "petra") == pages(noor)
    run_ovenleaf("share", cwd=noor, now=MONDAY)
    assert not part(stick, 5).exists()


@pytest.mark.parametrize("spoil", ["cut", "flipped", "emptied", "no header"])
def test_a_damaged_part_is_named_and_left_alone(stick, tmp_path, spoil):
    """Cut short, changed inside, empty or not a part at all."""
    data = part(stick, 3).read_bytes()
    changed = {
        "cut": data[:-30],
        "flipped": data[:-60] + bytes([data[-60] ^ 255]) + data[-59:],
        "emptied": b"",
        "no header": b"what is this\n\n" + data,
    }[spoil]
    part(stick, 3).write_bytes(changed)

    assert join(tmp_path).code == 0
    ran = run_ovenleaf("share", cwd=tmp_path / "petra", now=MONDAY)

    assert "ferry-lane.noor.0003.bundle is damaged and was left alone" in " ".join(ran.out.split())
    assert (tmp_path / "petra/formulas/caraway-rye/r2.noor.yaml").exists()
    assert not (tmp_path / "petra/formulas/caraway-rye/r3.noor.yaml").exists()


def test_a_rewritten_part_is_told_of_and_nothing_is_dropped(three_parts, stick, tmp_path):
    """The second part leads elsewhere than when it was read."""
    join(tmp_path)
    part(stick, 2).write_bytes(part(stick, 1).read_bytes())

    ran = run_ovenleaf("share", cwd=tmp_path / "petra", now=MONDAY)

    assert "ferry-lane.noor.0002.bundle is no longer what it was" in " ".join(ran.out.split())
    assert pages(tmp_path / "petra") == pages(three_parts.noor)


def test_a_copy_restored_from_an_old_backup_catches_up_with_its_own_series(three_parts, tmp_path):
    """It reads its own parts, and writes the next number."""
    copies = two_copies(tmp_path)
    backup = shutil.copytree(copies.noor, tmp_path / "backup")
    copies.type(copies.noor, 'tweak caraway-rye water=75% --why "wetter"', SUNDAY)
    copies.type(copies.noor, "share", SUNDAY)
    shutil.rmtree(copies.noor)
    backup.rename(copies.noor)

    copies.type(copies.noor, 'mark caraway-rye r1 keeper --why "good"', MONDAY)
    copies.type(copies.noor, "share", MONDAY)
    copies.type(copies.tomas, "share", MONDAY)

    assert (copies.noor / "formulas/caraway-rye/r2.noor.yaml").exists()
    assert pages(copies.noor) == pages(copies.tomas)


def test_links_and_other_files_are_no_parts(stick):
    """Only plain files with a part's name are read."""
    (stick / "ferry-lane.evil.0001.bundle").symlink_to(part(stick, 1))
    (stick / "notes.txt").write_text("hello")

    assert {found.handle for found in bundles.parts_in(stick)} == {"noor"}


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"# v2 git bundle\n",
        b"# v3 git bundle\n@object-format=sha256\n\n",
        b"# v2 git bundle\nxyz HEAD\n\nPACK",
        b"# v2 git bundle\n" + b"a" * 40 + b" HEAD\n" + b"b" * 40 + b" refs/x\n\nPACK",
        b"# v2 git bundle\n-" + b"../" * 13 + b"a x\n" + b"a" * 40 + b" HEAD\n\n",
    ],
)
def test_a_head_that_makes_no_sense_is_no_head(data):
    """Nothing of it reaches git."""
    assert bundles.header_of(data) is None


def test_what_is_remembered_can_be_lost(three_parts, tmp_path):
    """A copy that forgot where it stood finds out again."""
    root = shutil.copytree(three_parts.tomas, tmp_path / "tomas")
    (root / ".git/ovenleaf/sharing.json").write_text("{")

    assert sharing.load(root) == sharing.Sharing()
    ran = run_ovenleaf("share", "--at", str(three_parts.folder / "stick/ferry-lane"), cwd=root, now=MONDAY)
    assert ran.code == 0
    assert git.head(root) == git.head(three_parts.noor)
