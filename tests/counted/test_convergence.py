"""Three copies that share in any order, by two folders, end with the same pages, and nobody's word is missing."""

from __future__ import annotations

import shutil
import tempfile
from collections import Counter
from pathlib import Path
from textwrap import dedent

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from ovenleaf.book import git
from sharing_support import RYE, pages
from support import run_ovenleaf

pytestmark = pytest.mark.counted

COUNTED: Counter[str] = Counter()
BAKERS = ("noor", "tomas", "petra")
bakers = st.sampled_from(BAKERS)
hubs = st.sampled_from(("shop", "stick"))


class ThreeCopies(RuleBasedStateMachine):
    """What three bakers may do, each in a copy of her own, in any order."""

    @initialize()
    def begin(self):
        self.folder = Path(tempfile.mkdtemp())
        self.minute = 0
        self.notes: set[str] = set()
        (self.folder / "caraway-rye.yaml").write_text(dedent(RYE))
        self.type("", "start noor --title Rye --baker noor")
        self.type("noor", "enter ../caraway-rye.yaml")
        self.type("noor", "record caraway-rye --crumb 6 --crust 6")
        self.type("noor", "share --at ../shop")
        self.type("noor", "share --at ../stick")
        for baker in BAKERS[1:]:
            self.type("", f"join shop {baker} --baker {baker}")
        shutil.copytree(self.folder / "petra", self.folder / "backup")

    def type(self, where, line, codes=(0,)):
        self.minute += 1
        now = f"2026-11-24T{8 + self.minute // 60:02}:{self.minute % 60:02}:00+01:00"
        ran = run_ovenleaf(line, cwd=self.folder / where, now=now)
        assert ran.code in codes, (where, line, ran.code, ran.out, ran.err)
        return ran

    @rule(baker=bakers, water=st.integers(70, 80))
    def tweak(self, baker, water):
        self.type(baker, f'tweak caraway-rye water={water}% --why "wetter"', (0, 3, 4))

    @rule(baker=bakers, rye=st.integers(55, 65))
    def flours(self, baker, rye):
        line = (
            f'tweak caraway-rye "medium rye flour={rye}%" "strong wheat flour=rest" bulk.time={rye}min --why "darker"'
        )
        self.type(baker, line, (0, 3, 4))

    @rule(baker=bakers)
    def record(self, baker):
        self.type(baker, f"record caraway-rye r1 --crumb 6 --note said-{self.minute}")
        self.notes.add(f"said-{self.minute - 1}")

    @rule(baker=bakers, mark=st.integers(3, 9))
    def score(self, baker, mark):
        self.type(baker, f'score A1 --crust {mark} --why "tasted again"', (0, 3))

    @rule(baker=bakers)
    def mark(self, baker):
        self.type(baker, f'mark caraway-rye r1 keeper --why "for {baker}"', (0, 3))

    @rule(baker=bakers)
    def edit_by_hand(self, baker):
        page = self.folder / baker / "formulas/caraway-rye.yaml"
        page.write_text(page.read_text() + f"# noted-{self.minute}-{baker}\n")
        self.type(baker, "save")
        self.notes.add(f"noted-{self.minute - 1}-{baker}")

    @rule(baker=bakers, whose=bakers)
    def settle(self, baker, whose):
        self.type(baker, f"settle caraway-rye water={whose}", (0, 3))

    @rule(one=bakers, other=bakers, hub=hubs)
    def settle_at_once(self, one, other, hub):
        """Each her own way, before either has heard of the other's."""
        for baker in dict.fromkeys((one, other)):
            self.type(baker, f"share --at ../{hub}", (0, 4))
        for baker in dict.fromkeys((one, other)):
            self.type(baker, f"settle caraway-rye water={70 + len(baker)}%", (0, 3))

    @rule(baker=bakers, loss=st.integers(1, 9))
    def correct(self, baker, loss):
        """Two in two ways are a question on the trial."""
        self.type(baker, f'correct A1 "measured.baked weight=80{loss} g" --why "read again"', (0, 3))

    @rule(baker=bakers)
    def settle_a_bake(self, baker):
        self.type(baker, 'settle A1 "measured.baked weight=805 g"', (0, 3))

    @rule(baker=bakers, water=st.integers(81, 89))
    def take_back(self, baker, water):
        """What was just written and not shared goes back, visibly."""
        if self.type(baker, f'tweak caraway-rye water={water}% --why "wetter"', (0, 3, 4)).code == 0:
            self.type(baker, "undo")

    @rule(baker=bakers)
    def put_in_an_ingredient(self, baker):
        self.type(baker, f"ingredient {baker} crisp --kind seed --water 6 --source 'the bag'", (0, 3))

    @rule(one=bakers, other=bakers)
    def by_stick(self, one, other):
        """A pair alone, by a folder of theirs."""
        if one != other:
            for baker in (one, other, one):
                self.type(baker, f"share --at ../{'-'.join(sorted((one, other)))}", (0, 4))

    @rule(baker=bakers, hub=hubs)
    def share(self, baker, hub):
        self.type(baker, f"share --at ../{hub}", (0, 4))

    @rule()
    def petras_disk_breaks(self):
        """What she had not shared is gone with it, so it is shared first; the copy is one from the first day."""
        self.type("petra", "share --at ../stick", (0, 4))
        shutil.rmtree(self.folder / "petra")
        shutil.copytree(self.folder / "backup", self.folder / "petra")
        self.type("petra", "share --at ../stick", (0, 4))

    @invariant()
    def nothing_lies_unsaved(self):
        for baker in BAKERS if hasattr(self, "folder") else ():
            assert git.changed(self.folder / baker) == ()

    def teardown(self):
        """Everybody shares with both places until nobody has news: at most three rounds for three copies."""
        if not hasattr(self, "folder"):
            return
        for _ in range(3):
            for baker in BAKERS:
                for hub in ("shop", "stick"):
                    self.type(baker, f"share --at ../{hub}", (0, 4))
        heads = {git.head(self.folder / baker) for baker in BAKERS}
        assert len(heads) == 1
        first, *others = (pages(self.folder / baker) for baker in BAKERS)
        assert all(other == first for other in others)
        everything = b"".join(first.values()).decode()
        missing = [note for note in self.notes if note not in everything]
        assert missing == []
        self.type("noor", "check", (0, 1))
        for revision in (self.folder / "noor/formulas/caraway-rye").glob("r*.yaml"):
            self.type("noor", f"show caraway-rye {revision.stem}")
        COUNTED.update(books=1, commands=self.minute, notes=len(self.notes), lost=len(missing))
        print(f"\nconvergence, all so far: {', '.join(f'{count} {what}' for what, count in COUNTED.items())}")
        shutil.rmtree(self.folder)


TestConvergence = ThreeCopies.TestCase
TestConvergence.settings = settings(
    max_examples=25,
    stateful_step_count=14,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=list(HealthCheck),
)
