"""A blind tasting from the codes to the verdict: nothing shows which is which until all is in."""

from __future__ import annotations

import json
import re

import pytest

from refusals_support import reads_well, refused, whole

NOW = "2026-11-25T12:00:00+01:00"
LOT = {"OVENLEAF_LOT": "a fixed lot"}
PAGE = """
formula: loaf
aims:
  crumb: open and moist
ingredients:
  strong wheat flour: 100%
  water: {water}%
  salt: 2%
  instant yeast: 0.6%
"""


@pytest.fixture
def book(oven, tmp_path):
    """A loaf of two revisions with one bake each, not tasted yet: A1 and A2."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    book = tmp_path / "stall"
    assert oven("enter -", cwd=book, typed=PAGE.format(water=68)).code == 0
    assert oven("record loaf --note plain", cwd=book).code == 0
    assert oven("tweak loaf water=72% --why wetter", cwd=book).code == 0
    assert oven("record loaf --note wet", cwd=book).code == 0
    return book


@pytest.fixture
def run(oven, book):
    """One command that must go well; gives its screen."""

    def go(line, **world):
        ran = oven(line, cwd=book, now=NOW, env=LOT, **world)
        assert ran.code == 0, ran.err
        reads_well(ran.out)
        return ran.out

    return go


@pytest.fixture
def doc(oven, book):
    """The tasting under way, or the last, as a document."""
    return lambda: json.loads(oven("taste --json", cwd=book, now=NOW).out)


@pytest.fixture
def key(run, book):
    """Which code is which bread, from the list for whoever cuts: nothing else tells it."""

    def read():
        run("taste --labels ../cut.txt")
        text = (book.parent / "cut.txt").read_text(encoding="utf-8")
        (book.parent / "cut.txt").unlink()
        return dict(re.findall(r"^  (\d{3}) +(\w+),", text, re.MULTILINE))

    return read


MARKS = {
    "noor": {"A1": (6, 7), "A2": (8, 7)},
    "tomas": {"A1": (5, 7), "A2": (8, 8)},
    "petra": {"A1": (6, 6), "A2": (7, 7)},
    "anna": {"A1": (4, 6), "A2": (7, 6)},
    "ben": {"A1": (6, 6), "A2": (8, 7)},
    "jo": {"A1": (6, 5), "A2": (7, 8)},
}


@pytest.fixture
def tell_all(run, doc, key):
    """Types every taster's marks by code, in serving order; gives each screen."""

    def go():
        under = key()
        screens = []
        for row in doc()["still_to_come"]:
            for code in row["codes"]:
                crumb, crust = MARKS[row["taster"]][under[code]]
                screens.append(run(f"taste {code} --taster {row['taster']} --crumb {crumb} --crust {crust}"))
        return screens

    return go


def test_a_tasting_from_the_codes_to_the_verdict(run, tell_all, key, doc, golden):
    """Set up, told by code, opened by the last mark: golden, and read by eye."""
    golden("tasting/set-up", run("taste A1 A2 --tasters noor,tomas,petra,anna,ben,jo --question 'worth the water?'"))
    golden("tasting/under-way", run("taste"))
    screens = tell_all()
    golden("tasting/told", screens[0])
    golden("tasting/opened", screens[-1])
    made = doc()
    assert made["marks"]["rank_sums"] == [{"bread": b, "sum": {"A1": 6, "A2": 12}[b]} for b in key().values()]
    assert (made["marks"]["exact"], made["marks"]["kendall_w"]) == (True, 1)
    assert made["marks"]["chance"] == pytest.approx(2 / 2**6, abs=1e-6)


def test_nothing_shows_which_is_which_until_all_is_in(run, tell_all, key, doc, book, oven):
    """No screen, no document, no page names a code beside its bread; then the key is on the page."""
    run("taste A1 A2 --tasters noor,tomas")
    under = key()
    beside = re.compile("|".join(f"{code}\\W+{bread}|{bread}\\W+{code}" for code, bread in under.items()))
    page = next((book / "tastings").iterdir())
    for line in ("taste", "taste --json", "taste --sentences", "list", "show A1", "check", ""):
        assert not beside.search(oven(line, cwd=book, now=NOW).out), line
    assert not beside.search(page.read_text(encoding="utf-8"))
    *before, last = tell_all()
    assert not [screen for screen in before if beside.search(screen)]
    assert all(f"{code}: {bread}" in page.read_text(encoding="utf-8") for code, bread in under.items())
    assert "codes are open" in last


def test_blind_marks_go_to_the_trials_when_it_is_opened(run, tell_all, book):
    """Each taster's, marked blind; not before."""
    run("taste A1 A2 --tasters noor,tomas")
    pages = sorted((book / "trials/loaf").iterdir())
    before = [page.read_text(encoding="utf-8") for page in pages]
    assert not any("crumb" in text for text in before)
    tell_all()
    after = json.loads(run("show A2 --json"))["scores"]
    assert [(one["taster"], one["crumb"], one["blind"]) for one in after] == [("noor", 8, True), ("tomas", 8, True)]


@pytest.mark.counted
def test_marks_that_stood_in_a_trial_stay_there(run, tell_all, book):
    """They were given knowing the bread, and a trial only gains; the blind ones stand in the tasting."""
    run("score A1 --crumb 9 --crust 9")
    assert "Marked already, not blind: noor A1." in run("taste A1 A2 --tasters noor,tomas")
    assert "Marks that stood in a trial before stay there: noor's of A1." in " ".join(tell_all()[-1].split())
    scores = {one["taster"]: one for one in json.loads(run("show A1 --json"))["scores"]}
    assert (scores["noor"]["crumb"], scores["noor"]["blind"]) == (9, None)
    assert (scores["tomas"]["crumb"], scores["tomas"]["blind"]) == (5, True)


def test_sheets_for_tasters_and_a_list_for_whoever_cuts(run, book, golden):
    """The sheets have codes and blanks, the list has the key and says who should not see it."""
    run("taste A1 A2 --tasters noor,tomas --sheet ../sheets.txt --labels ../cut.txt")
    sheets, cut = ((book.parent / name).read_text(encoding="utf-8") for name in ("sheets.txt", "cut.txt"))
    assert sheets.count("Taster: ") == sheets.count("\f") + 1 == 2
    assert not re.search(r"\bA[12]\b", sheets)
    golden("tasting/sheets", sheets)
    golden("tasting/cut", cut)
    assert max(len(line) for line in (sheets + cut).splitlines()) <= 80


@pytest.mark.counted
def test_a_triangle(run, doc, key, golden, book):
    """Six tasters, five of whom find the odd one: guessing does that about 2 times in 100 (binomial, 13/729)."""
    golden("tasting/triangle-set-up", run("taste A1 A2 --triangle --tasters noor,tomas,petra,anna,ben,jo"))
    run("taste --sheet ../odd.txt")
    golden("tasting/triangle-sheets", (book.parent / "odd.txt").read_text(encoding="utf-8"))
    under = key()
    for place, row in enumerate(doc()["still_to_come"]):
        breads = [under[code] for code in row["codes"]]
        odd = next(code for code, bread in zip(row["codes"], breads, strict=True) if breads.count(bread) == 1)
        wrong = next(code for code in row["codes"] if code != odd)
        last = run(f"taste {odd if place else wrong} --odd --taster {row['taster']}")
    golden("tasting/triangle-opened", last)
    made = doc()["triangle"]
    assert (made["right"], made["tasters"], made["needed"]) == (5, 6, 5)
    assert made["chance"] == pytest.approx(13 / 729, abs=1e-6)


@pytest.mark.counted
def test_one_bread_twice_shows_who_can_repeat_himself(run, doc, key, golden):
    """A hidden second plate of one bread."""
    run("taste A1 A2 A1 --tasters noor,tomas")
    under = key()
    for row in doc()["still_to_come"]:
        for step, code in enumerate(row["codes"]):
            last = run(f"taste {code} --taster {row['taster']} crumb {6 + step}, crust 7")
    assert sorted(under.values()) == ["A1", "A1", "A2"]
    golden("tasting/twice", last)


@pytest.mark.counted
def test_a_slip_is_put_right_visibly_until_it_is_opened(run, oven, doc, book, golden):
    """With a reason; the old mark stays on the page."""
    run("taste A1 A2 --tasters noor,tomas")
    code = doc()["still_to_come"][0]["codes"][0]
    run(f"taste {code} --crumb 1 --crust 7")
    golden("tasting/again", refused(oven, f"taste {code} --crumb 7", book, now=NOW, env=LOT))
    assert "Put right" in run(f"taste {code} --crumb 7 --why 'typed the wrong mark'")
    page = next((book / "tastings").iterdir()).read_text(encoding="utf-8")
    assert f"field: marks.noor.{code}.crumb" in page
    assert '"1"' in page or "was: 1" in page


def test_a_taster_from_whom_nothing_comes_is_not_waited_for(run, oven, doc, book, golden):
    """Said with a reason; what came in counts, and when nobody else is awaited the tasting opens."""
    run("taste A1 A2 --tasters noor,tomas")
    golden("tasting/not-open-yet", refused(oven, "taste --open", book, now=NOW, env=LOT))
    for code in doc()["still_to_come"][0]["codes"]:
        run(f"taste {code} --taster noor --crumb 7 --crust 7")
    golden("tasting/absent-no-why", refused(oven, "taste --absent tomas", book, now=NOW, env=LOT))
    golden("tasting/absent", run("taste --absent tomas --why 'had to leave'"))
    golden("tasting/open-already", refused(oven, "taste --open", book, now=NOW, env=LOT))


@pytest.mark.counted
def test_blank_marks_keep_it_closed_until_it_is_said_that_they_stay_blank(run, doc, golden):
    """A forgotten crust is not found out too late."""
    run("taste A1 A2 --tasters noor")
    one, two = doc()["still_to_come"][0]["codes"]
    run(f"taste {one} --crumb 7")
    golden("tasting/blank", run(f"taste {two} --crumb 7 --crust 6"))
    assert doc()["opened"] is None
    golden("tasting/open-blank", run("taste --open"))
    assert doc()["opened"] is not None


REFUSED = {
    "no-tasting": "taste",
    "no-code": "taste 417 --crumb 7",
    "one-bread": "taste A1 --tasters noor",
    "same-bread": "taste A1 A1 --tasters noor",
    "no-tasters": "taste A1 A2",
    "near-taster": "taste A1 A2 --tasters noor,nooor",
    "triangle-of-three": "taste A1 A2 A1 --triangle --tasters noor",
    "unknown-trial": "taste A1 Z9 --tasters noor",
    "too-many": "taste A1 A2 A1 A2 A1 A2 A1 A2 A1 --tasters noor",
    "unknown-day": "taste 2026-01-01",
}


@pytest.mark.counted
def test_a_tasting_that_cannot_be(oven, book, golden):
    """One clear next step, and a book that stays as it was."""
    for name, line in REFUSED.items():
        golden(f"tasting/{name}", refused(oven, line, book, now=NOW, env=LOT))


UNDER_WAY = {
    "not-a-taster": "taste CODE --taster zoe --crumb 7",
    "no-marks": "taste CODE",
    "nonsense": "taste CODE dough 24C",
    "off-the-scale": "taste CODE --crumb 11",
    "code-not-there": "taste 100 --crumb 7",
    "not-awaited": "taste --absent zoe --why ill",
}


@pytest.mark.counted
def test_what_cannot_be_taken_down(oven, run, doc, book, golden):
    """Nothing is written, and what is awaited is said."""
    run("taste A1 A2 --tasters noor,tomas")
    code = doc()["still_to_come"][0]["codes"][0]
    for name, line in UNDER_WAY.items():
        golden(f"tasting/{name}", refused(oven, line.replace("CODE", code), book, now=NOW, env=LOT))


@pytest.mark.counted
def test_a_preview_writes_nothing(run, doc, book, oven):
    """Neither a tasting nor its files, nor a mark."""
    before = whole(book)
    assert "A preview" in run("taste A1 A2 --tasters noor --sheet ../sheets.txt --preview")
    assert whole(book) == before
    assert not (book.parent / "sheets.txt").exists()
    run("taste A1 A2 --tasters noor")
    before = whole(book)
    assert "A preview" in run(f"taste {doc()['still_to_come'][0]['codes'][0]} --crumb 7 --crust 7 --preview")
    assert whole(book) == before


@pytest.mark.counted
def test_check_tells_of_a_tasting_that_is_out_of_order(run, book, oven):
    """A key that was changed by hand, a bread that is not there, a page that lies elsewhere."""
    run("taste A1 A2 --tasters noor")
    assert "nothing found" in run("check")
    page = next((book / "tastings").iterdir())
    text = page.read_text(encoding="utf-8")
    page.write_text(text.replace("  - A1\n", "  - Z9\n").replace("tasting: 2026", "tasting: 2025"), encoding="utf-8")
    codes = {one["code"] for one in json.loads(oven("check --json", cwd=book, now=NOW).out)["findings"]}
    assert codes == {"misnamed", "unknown-trial", "unreadable-key"}
    page.write_text(text.replace("design: marks", "design: guess"), encoding="utf-8")
    assert "design" in oven("check", cwd=book, now=NOW).out
    assert oven("save --why x", cwd=book, now=NOW).code == 3


@pytest.mark.counted
def test_without_a_fixed_lot_two_tastings_differ(oven, book):
    """Codes are drawn anew each time."""
    for _ in range(2):
        assert oven("taste A1 A2 --tasters noor,tomas,petra", cwd=book, now=NOW).code == 0
    sealed = {page.read_text(encoding="utf-8").split("sealed: ")[1] for page in (book / "tastings").iterdir()}
    assert len(sealed) == 2
