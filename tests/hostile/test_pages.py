"""Pages made to do harm: too large, too deep, without end; and harm in every text that a page may hold."""

from __future__ import annotations

import csv
import json
import os
import shutil
import time
from html.parser import HTMLParser

import pytest

from hostile_support import FORMULA, KEPT, LOOKING, go_through
from ovenleaf.errors import Refusal
from ovenleaf.records.codec.books import read_book, read_marks
from ovenleaf.records.codec.cards import read_card_page
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.codec.ingredients import read_ingredients
from ovenleaf.records.codec.tastings import read_tasting
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.nodes import ListNode, MapNode, ScalarNode
from ovenleaf.records.yaml_text import read
from support import run_ovenleaf

pytestmark = pytest.mark.counted

NOW = "2026-11-25T12:00:00+01:00"
PLACES = (
    FORMULA,
    KEPT,
    "formulas/caraway-rye/marks.yaml",
    "book.yaml",
    "ingredients.yaml",
    "tastings/2026-11-20-noor.yaml",
)


def ten_million_keys():
    """A hundred megabytes."""
    part = "".join(f"k{number:06}:\n" for number in range(1_000_000)).encode()
    return b"".join(part.replace(b"k", bytes([97 + number])) for number in range(10))


PAGES = {
    "deep in brackets": lambda: b"a: " + b"[" * 900_000,
    "deep in lines": lambda: b"".join(b" " * depth + b"a:\n" for depth in range(1_300)),
    "a bomb of references": lambda: (
        b"a0: &a0 x\n"
        + b"".join(b"a%d: &a%d [%s]\n" % (n, n, b",".join([b"*a%d" % (n - 1)] * 10)) for n in range(1, 12))
    ),
    "ten million keys": ten_million_keys,
    "one line of 600 kB": lambda: b"title: " + b"x" * 600_000 + b"\n",
    "a number of half a million figures": lambda: b"revision: " + b"9" * 500_000 + b"\nwhy: 1e999999999\n",
    "a program for a value": lambda: b"title: !!python/object/apply:os.system ['touch mark']\n",
    "NUL all over": lambda: bytes(200_000),
    "no text": lambda: bytes(range(128, 256)) * 4_000,
    "another page in the same": lambda: b"--- \na: 1\n" * 50_000,
}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_made_to_hang_whoever_reads_it_is_told_of(name, kitchens):
    """In the place of each kind of page; every screen answers in good time, and the page is named."""
    data = PAGES[name]()
    first = kitchens.noor / PLACES[0]
    first.write_bytes(data)
    for place in PLACES[1:]:
        path = kitchens.noor / place
        path.unlink(missing_ok=True)
        path.parent.mkdir(exist_ok=True)
        os.link(first, path)
    trial = next((kitchens.noor / "trials").rglob("*.yaml"))
    trial.unlink()
    os.link(first, trial)
    before = time.perf_counter()
    codes = go_through(kitchens, kitchens.noor, LOOKING, seconds=60)
    assert time.perf_counter() - before < 30
    assert codes["check"] == 1
    assert first.read_bytes() == data


def test_readers_that_take_no_care_are_brought_down_by_them(tmp_path):
    """Too deep for one, too many for another; the third runs what stands there."""
    yaml = pytest.importorskip("yaml")
    with pytest.raises(RecursionError):
        yaml.safe_load(PAGES["deep in lines"]())
    grown = yaml.safe_load(PAGES["a bomb of references"]())
    leaves = {"a0": 1}
    for number in range(1, 12):
        leaves[f"a{number}"] = leaves[f"a{number - 1}"] * len(grown[f"a{number}"])
    assert leaves["a11"] == 10**11
    yaml.unsafe_load(PAGES["a program for a value"]().replace(b"touch mark", f"touch {tmp_path}/mark".encode()))
    assert (tmp_path / "mark").exists()


# --- harm in every text ---

HARM = (
    "\x1b[2J\x1b]0;x\x07\u202e\u2066\u200b\u2028</script><script>alert(1)</script><img src=x onerror=alert(1)>"
    "[b]`touch x`$(x)%s{0}{{7*7}}\"'"
)
NEVER = ("format", "pin", "was", "id")
NAMES = ("formula", "revision", "code", "by", "baker", "trial", "state")  # with harm in these not much else is shown
FORMULAIC = "=HYPERLINK(1)"


def reader_of(page):
    """What reads a page of this place."""
    parts = page.split("/")
    if page == "book.yaml":
        return read_book
    if page == "ingredients.yaml":
        return read_ingredients
    if parts[-1] == "marks.yaml":
        return read_marks
    if parts[-1] == "card.yaml":
        return read_card_page
    if parts[0] == "tastings":
        return read_tasting
    if parts[0] == "trials":
        return read_trial
    return lambda read_page: read_formula(read_page, name=parts[1].removesuffix(".yaml"))


def texts(node, under=""):
    """Every text of a page, and under which name it stands."""
    if isinstance(node, MapNode):
        for entry in node.entries:
            yield from texts(entry.node, entry.key)
    elif isinstance(node, ListNode):
        for item in node.items:
            yield from texts(item, under)
    elif isinstance(node, ScalarNode) and isinstance(node.value, str) and node.value:
        yield node, under


def harmed(text, page):
    """The page with harm in each text that may hold some, and the names of those."""
    reader, held = reader_of(page), []
    for node, under in sorted(texts(read(text, path=page).root), key=lambda found: -found[0].start):
        if under in NEVER or (under in NAMES and not page.startswith("trials/caraway-rye")):
            continue
        for value in (f"{FORMULAIC} {HARM} {node.value}", f"{node.value} {HARM}", f"{node.value}, {HARM}"):
            tried = text[: node.start] + json.dumps(value) + text[node.end :]
            try:
                reader(read(tried, path=page))
            except Refusal:
                continue
            text = tried
            held.append(under)
            break
    return text, held


FEW = ("caraway-rye", "market-roll", "tea-cake")  # of the sample book: all of it would take three times as long
TRIALS = 3  # of each formula


def first_trials(folder):
    return sorted(folder.iterdir())[:TRIALS]


@pytest.fixture(scope="module")
def poisoned(sample_as_built, tmp_path_factory):
    """The sample book with harm in every text of it, and how many texts of which names hold some."""
    book = tmp_path_factory.mktemp("poisoned") / "ferry-lane"
    shutil.copytree(sample_as_built, book)
    (book / "ingredients.yaml").write_text(
        "format: ingredients/1\ningredients:\n  x flour:\n    kind: flour\n    note: x\n    source: x\n"
    )
    held = {}
    for path in sorted(book.rglob("*.yaml")):
        page = path.relative_to(book).as_posix()
        if ".git" in path.parts or not (any(name in page for name in FEW) or "/" not in page or "tastings" in page):
            continue
        if page.startswith("trials/") and path not in first_trials(path.parent):
            continue
        text, names = harmed(path.read_text(encoding="utf-8"), page)
        path.write_text(text, encoding="utf-8")
        for name in names:
            held[name] = held.get(name, 0) + 1
    return book, held


def test_harm_stands_in_many_texts(poisoned):
    """Counted, so that the screens below are known to show some of each."""
    _, held = poisoned
    print(f"\nharm in {sum(held.values())} texts of {len(held)} names: {', '.join(sorted(held))}")
    assert sum(held.values()) > 150
    assert len(held) > 25
    assert {"title", "why", "note", "question", "crust", "crumb", "makes", "baker", "source"} - set(held) <= {"baker"}


SCREENS = (
    "", "list", "list --gaps", "check", "rank", "rank --by revision", "history caraway-rye",
    "history market-roll --chart",
    "show caraway-rye", "show market-roll", "show market-roll r2", "show tea-cake --card", "show tea-cake", "show A1",
    "show D3", "show C7", "show last", "diff caraway-rye", "diff market-roll r1 r2", "diff --trials A1 A2",
    "weigh caraway-rye", "weigh market-roll --household", "next market-roll", "next caraway-rye", "find softer",
    "find crumb above 5", "taste", "undo --preview", "share --at ../stick --preview", "save --preview --why x",
    'tweak caraway-rye salt=1.5% --why "less" --preview',
)  # fmt: skip


@pytest.mark.parametrize("way", ["", " --sentences", " --json"])
def test_no_screen_lets_harm_out(poisoned, way):
    """No sign that a terminal obeys, on any screen; a document is one, with the signs as they stand, spelled."""
    book, _ = poisoned
    seen = 0
    for line in SCREENS:
        ran = run_ovenleaf(*[part for part in [f"{line}{way}".strip()] if part], cwd=book, now=NOW)
        assert ran.code in (0, 1, 2, 3), (line, ran.code, ran.err)
        for text in ran.out.split("\n") + ran.err.split("\n"):
            assert text.isprintable(), (line, text)
        seen += "alert(1)" in ran.out
        if way == " --json" and ran.code in (0, 1):
            json.loads(ran.out)
    print(f"\n{seen} of {len(SCREENS)} screens{way} show it")
    assert seen >= 10


class Page(HTMLParser):
    """What a browser would find in a page: what is run, what is fetched."""

    def __init__(self):
        super().__init__()
        self.run, self.fetched, self.shown = [], [], ""

    def handle_starttag(self, tag, attrs):
        named = dict(attrs)
        kind = named.get("type", "")
        if tag in ("script", "iframe", "object", "embed", "form") and kind != "application/ld+json":
            self.run.append(tag)
        self.run += [name for name in named if name.startswith("on")]
        places = [named[name] for name in ("src", "href", "action", "srcset") if named.get(name)]
        self.fetched += [
            place for place in places if ":" in place.split("/")[0] and not place.startswith("data:image/")
        ]

    def handle_data(self, data):
        self.shown += data


def published(book, tmp_path, words):
    """The files that a kind of page makes, by their endings."""
    ran = run_ovenleaf(f"publish {words}", cwd=book, now=NOW)
    assert ran.code in (0, 3), (words, ran.code, ran.err)
    assert all(line.isprintable() for line in (ran.out + ran.err).split("\n"))
    return ran.code


def test_no_page_that_is_published_lets_harm_out(poisoned, tmp_path):
    """Nothing to run and nothing to fetch in any HTML; plain lines in any text; cells that are no formulas."""
    book, out = poisoned[0], tmp_path
    kinds = [f"{name} --as {kind} --out {out}/{name}-{kind}.{ending}" for name in FEW for kind, ending in (
        ("recipe", "html"), ("recipe", "txt"), ("sheet", "html"), ("jsonld", "json"), ("label", "txt"))]  # fmt: skip
    made = [
        published(book, tmp_path, words)
        for words in [*kinds, f"--as csv --out {out}/t.csv", f"--as book --out {out}/b"]
    ]
    run_ovenleaf(f"weigh market-roll --ready 2026-11-28T08:00 --calendar {out}/w.ics", cwd=book, now=NOW)
    assert made.count(0) >= 8
    held = 0
    for path in sorted(out.rglob("*.*")):
        if path.suffix in (".jpg", ".png", ".webp", ".svg"):
            continue
        text = path.read_bytes().decode("utf-8-sig")
        held += "alert(1)" in text
        if path.suffix == ".html":
            page = Page()
            page.feed(text)
            own = ["script"] if path.name == "search.html" else []  # the one program of ours, let in by its digest
            assert (page.run, page.fetched) == (own, []), path
        if path.suffix == ".csv":
            cells = [cell for row in csv.reader(text.splitlines()) for cell in row]
            assert not [cell for cell in cells if cell.lstrip().startswith(("=", "+", "@"))]
        if path.suffix == ".json":
            json.loads(text)
        assert all(line.isprintable() for line in text.replace("\t", " ").replace("\xa0", " ").splitlines()), path
        assert "\u202e" not in text
    print(f"\n{made.count(0)} of {len(made)} published; {held} files show it")
    assert held >= 5


def test_a_browser_would_run_it_as_it_stands():
    """What is typed is harm: unescaped it runs, and a terminal obeys it."""
    page = Page()
    page.feed(HARM)
    assert page.run == ["script", "onerror"]
    assert not HARM.isprintable()
