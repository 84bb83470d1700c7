"""One code given in several copies at once: each bake ends with a code of its own, and nobody is asked about it."""

from __future__ import annotations

import re
from collections import Counter

import pytest

from sharing_support import MONDAY, pages, two_copies

pytestmark = pytest.mark.counted
# All are of one evening, so that ben's and jo's pages come before noor's, and hers gives way.
LINE = 'record caraway-rye r1 --crumb 6 --note "of {}"'


@pytest.fixture(scope="module")
def kitchens(tmp_path_factory):
    """Four copies; noor's bake reached lena, and ben and jo gave its code meanwhile, jo one more besides."""
    made = two_copies(tmp_path_factory.mktemp("codes"))
    for baker in ("lena", "ben", "jo"):
        made.type(made.folder, f"join stick/ferry-lane {baker} --baker {baker}", MONDAY)
    made.type(made.noor, LINE.format("noor"), MONDAY)
    made.type(made.noor, "share", MONDAY)
    made.type(made.folder / "lena", "share", MONDAY)
    for baker, bakes in (("ben", ("ben",)), ("jo", ("jo", "jo again"))):
        for bake in bakes:
            made.type(made.folder / baker, LINE.format(bake), MONDAY)
    made.type(made.folder / "ben", "share --at ../by-noor", MONDAY)
    made.type(made.noor, "share --at ../../by-noor", MONDAY)
    made.type(made.folder / "jo", "share --at ../by-lena", MONDAY)
    made.type(made.folder / "lena", "share --at ../by-lena", MONDAY)
    return made


def test_a_bake_that_got_a_code_in_two_sharings_keeps_the_higher_one(kitchens):
    """Both were given without a baker, so neither is asked about; the page tells both."""
    roots = [kitchens.noor, *(kitchens.folder / baker for baker in ("lena", "ben", "jo"))]
    codes = [_codes(root)["noor"] for root in roots[:2]]  # as it was brought together with ben's, and with jo's
    assert codes[0] != codes[1]
    for _ in range(2):
        for root in roots:
            where = "../../by-noor" if root == kitchens.noor else "../by-noor"
            kitchens.type(root, f"share --at {where}", MONDAY)
    first, *others = (pages(root) for root in roots)
    assert all(other == first for other in others)
    ends = _codes(kitchens.noor)
    assert ends["noor"] == max(codes)
    assert max(Counter(ends.values()).values()) == 1, ends
    kitchens.type(kitchens.noor, "check", MONDAY)
    shown = kitchens.type(kitchens.noor, f"show {ends['noor']}", MONDAY).out
    assert all(code in shown for code in codes)


def _codes(root):
    """The code of each bake, by its note."""
    texts = [page.read_text() for page in (root / "trials").rglob("*.yaml")]
    return {
        note[1]: re.search(r"^code: (\S+)$", text, re.MULTILINE)[1]
        for text in texts
        if (note := re.search(r"of (\w+(?: again)?)", text))
    }
