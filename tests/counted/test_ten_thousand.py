"""Ten thousand bakes of one formula: every question of the evidence is answered, in words, and no figure is none."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest

from support import run_ovenleaf

pytestmark = pytest.mark.counted

NOW = "2026-11-25T12:00:00+01:00"
PAGE = """
formula: plain-loaf
ingredients:
  strong wheat flour: 100%
  water: 70%
  salt: 2%
  instant yeast: 0.4%
process:
  - bulk: 2 h at 25 C
  - bake: 40 min at 230 C
"""
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
QUESTIONS = {
    "rank plain-loaf --top 5": "Plain loaf: 10000 trials, 8571 ranked, by the scores entered.",
    "rank plain-loaf --by revision": "the true gap may be less than 0.1 either way",
    "diff plain-loaf": "likely less than 0.1 either way; cannot tell",
    "history plain-loaf --against water": "and 8559 more only the plan is known",
    "history plain-loaf": "4285 doughs: crumb 6.0, crust 6.0, score 6.00",
    "next plain-loaf": "Plain loaf: nothing presses.",
    "list --gaps": "of 10000 bakes, none can be repeated",
}


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """Two revisions of 5,000 bakes each; some nobody scored whole, all of them by one taster but one."""
    folder = tmp_path_factory.mktemp("many")
    book = folder / "stall"
    for line, where, typed in (
        ("start stall --baker noor", folder, ""),
        ("enter -", book, PAGE),
        ("record plain-loaf r1 --baked-on 2026-11-01 --crumb 6 --crust 6", book, ""),
        ("score last --taster petra --crumb 9 --crust 9 --new-taster", book, ""),
        ('tweak plain-loaf water=72% --why "softer"', book, ""),
        ("record plain-loaf r2 --baked-on 2026-11-02 --crumb 6 --crust 6", book, ""),
    ):
        ran = run_ovenleaf(line, cwd=where, now=NOW, typed=typed)
        assert ran.code == 0, ran.err
    trials = book / "trials/plain-loaf"
    patterns = [(trials / f"2026-11-0{day}-noor.yaml").read_text(encoding="utf-8") for day in (1, 2)]
    patterns[0] = re.sub(r"  petra:\n(    .*\n)+", "", patterns[0])
    for number in range(9_998):
        day = (date(1999, 1, 1) + timedelta(days=number)).isoformat()
        text = re.sub(r"2026-11-0\d", day, patterns[number % 2])
        text = re.sub(r"code: .*", f"code: {LETTERS[number % 26]}{number // 26 + 100}", text)
        text = (
            text.replace("crumb: 6", f"crumb: {4 + number % 5}") if number % 7 else text.replace("    crumb: 6\n", "")
        )
        (trials / f"{day}-noor.yaml").write_text(text, encoding="utf-8")
    return book


@pytest.mark.parametrize(("question", "said"), QUESTIONS.items(), ids=QUESTIONS)
def test_ten_thousand_bakes_are_answered_in_words(book, question, said):
    """No traceback, no figure that is none, and a screen that can be read."""
    ran = run_ovenleaf(question, cwd=book, now=NOW)
    assert ran.code == 0, ran.err
    assert said in " ".join(ran.out.split())
    assert not {"nan", "inf", "infinity"} & set(re.findall(r"\w+", ran.out.lower()))
    assert ran.out.count("\n") < 150
