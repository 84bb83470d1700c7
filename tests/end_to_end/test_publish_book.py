"""publish --as book: a folder of pages that lead to one another, ask nobody for anything, and leave nothing out."""

from __future__ import annotations

import re
import shutil
from html import unescape
from html.parser import HTMLParser

import pytest

from refusals_support import reads_well, snapshot
from support import run_ovenleaf

pytestmark = pytest.mark.counted
NOW = "2026-11-25T12:00:00+01:00"


@pytest.fixture(scope="module")
def book(sample_as_built, tmp_path_factory):
    """A sample book for those who publish it."""
    folder = tmp_path_factory.mktemp("browsing") / "ferry-lane"
    shutil.copytree(sample_as_built, folder)
    return folder


@pytest.fixture(scope="module")
def told(book):
    """The screen of publishing it, once for all who look at the pages."""
    before = snapshot(book)
    ran = run_ovenleaf("publish --as book --out ../pages", cwd=book, now=NOW)
    assert ran.code == 0, ran.err
    assert snapshot(book) == before  # nobody outside reads it, so the book notes nothing
    return ran.out


@pytest.fixture(scope="module")
def pages(book, told):
    """Each page, by its address below the folder."""
    folder = book.parent / "pages"
    return {page.relative_to(folder).as_posix(): Page(page) for page in sorted(folder.rglob("*.html"))}


class Page(HTMLParser):
    """What stands in a page: its words, where it leads, its places, and the heads of its tables."""

    def __init__(self, path):
        super().__init__()
        self.path, self.words, self.leads, self.places, self.tags = path, "", [], set(), []
        self.text = path.read_text(encoding="utf-8")
        self.feed(self.text)
        self.words = " ".join(self.words.split())

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        told = dict(attrs)
        self.places |= {told["id"]} if "id" in told else set()
        self.leads += [told[name] for name in ("src", "href") if name in told]

    def handle_data(self, data):
        self.words += data


def test_the_screen_says_what_went_out(told, golden):
    """How much, where it begins, that it needs no network, and that all that is saved is in it."""
    reads_well(told)
    golden("publish/book", told)


def test_every_way_leads_to_a_page_or_a_place_on_one(pages):
    """Nothing leads out of the folder, and nothing leads nowhere."""
    lost = []
    for page in pages.values():
        for lead in page.leads:
            file, _, place = lead.partition("#")
            target = (page.path.parent / file).resolve() if file else page.path
            name = target.relative_to(pages["index.html"].path.parent).as_posix()
            if not target.is_file() or (place and place not in pages[name].places):
                lost.append((page.path.name, lead))
    assert lost == []
    assert len(pages) > 60


def test_every_page_forbids_all_that_is_not_its_own(pages):
    """The policy allows the folder's own pictures and style, and a script on the search page alone."""
    for name, page in pages.items():
        policy = "default-src &#x27;none&#x27;; img-src &#x27;self&#x27;; style-src &#x27;self&#x27;"
        assert policy in page.text, name
        assert page.tags.count("script") == (name == "search.html"), name
        assert "style" not in page.tags, name
        assert not re.search(r"\b(on\w+|style)=|https?:|unsafe", page.text), name


def test_a_formula_tells_its_revisions_and_how_its_scores_moved(pages, golden):
    """Newest first, each with its reason, its sheet and those beside it; the picture's figures are in words."""
    golden("publish/book-formula", told_in_lines(pages["formulas/market-roll.html"]))


def test_two_revisions_stand_side_by_side(pages, golden):
    """The older left, with the change in words, as `diff` says it."""
    golden("publish/book-compare", told_in_lines(pages["formulas/market-roll.r2.noor.r3.noor.html"]))


def test_a_revision_has_its_sheet_and_its_bakes(pages, golden):
    """All that `show` tells, and each bake with planned left of actual, its marks and its log."""
    golden("publish/book-revision", told_in_lines(pages["formulas/market-roll.r2.noor.html"]))


@pytest.mark.parametrize("name", ["index", "ranking", "search"])
def test_the_pages_of_the_whole_book(name, pages, golden):
    """What is in the book, how each formula's revisions came out, and every bake to be looked through."""
    golden(f"publish/book-{name}", told_in_lines(pages[f"{name}.html"]))


def told_in_lines(page):
    """The words of a page, each row, sentence and heading on a line of its own, as they are heard."""
    inside = re.search(r"<body>(.*)</body>", page.text, re.DOTALL)[1].replace("\n", " ")
    apart = re.sub(r"</(td|th|a|span)>", r" \g<0> ", inside)
    lines = re.sub(r"<(?=/?(tr|p|h\d|li|nav|figcaption|section|main|img)\b)", "\n<", apart)
    plain = re.sub(r"<img [^>]*alt=\"([^\"]*)\"[^>]*>", r"(picture: \1)", lines)
    words = re.sub(r"<[^>]*>", "", plain)
    return "\n".join(filter(None, (" ".join(unescape(line).split()) for line in words.split("\n")))) + "\n"


def test_photographs_are_in_it_without_place_and_camera(book, told, pages):
    """Every photograph of a trial lies in the folder and is shown beside its bake, with words for who cannot see it."""
    shown = [page for page in pages.values() if re.search(r'<img src="[^"]*photos/', page.text)]
    assert shown
    for page in shown:
        for alt in re.findall(r'<img src="[^"]*photos/[^"]*" alt="([^"]*)"', page.text):
            assert re.fullmatch(r"Picture \d+ of [A-Z]\d+", alt)


def test_an_empty_folder_is_taken(book, oven, tmp_path):
    """A folder that is there and holds nothing is as good as a new one."""
    (tmp_path / "empty").mkdir()
    ran = oven(f"publish --as book --out {tmp_path / 'empty'} --preview", cwd=book, now=NOW)
    assert ran.code == 0, ran.err
    assert not list((tmp_path / "empty").iterdir())
    assert ran.out.startswith("A preview: nothing was written.")
    assert "in 75 files" in ran.out
