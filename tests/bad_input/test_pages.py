"""Pages with a slip of the hand or of an editor: file, line, and the line put right; and the book as it was."""

from __future__ import annotations

import pytest

from refusals_support import as_document, refused

pytestmark = pytest.mark.counted

FLOUR = "formula: test-loaf\ningredients:\n  strong wheat flour: 100%\n"

PAGES = {
    "bracket-left-open": FLOUR + "aims:\n  crust: [thin\n  crumb: soft\nmakes: 2 loaves\n",
    "quote-left-open": FLOUR + 'why: "softer\nmakes: 2 loaves\n',
    "words-behind-a-quote": 'formula: test-loaf\nwhy: "old" rye, softer\n' + FLOUR[19:],
    "begins-with-a-sign": FLOUR + "why: *best* of three\n",
    "begins-with-percent": FLOUR + "  water: %65\n",
    "set-in-with-a-tab": FLOUR + "\twater: 65%\n",
    "set-in-too-far": FLOUR + "   water: 65%\n",
    "no-space-behind-the-colon": FLOUR + "  water:65%\n",
    "no-colon": FLOUR + "  water 65%\n",
    "two-pages-in-one": FLOUR + "---\n" + FLOUR,
    "a-list-alone": "- strong wheat flour: 100%\n- water: 65%\n",
    "prose-alone": "Mix the flour and the water.\n",
    "alias-bomb-by-lines": FLOUR + "aims: &a\n  x: &b [*a, *a, *a, *a, *a, *a, *a]\n  y: [*b, *b, *b, *b, *b]\n",
    "lines-of-another-block": "formula: test-loaf\n<<: {title: Loaf}\n" + FLOUR[19:],
    "unseen-character": FLOUR + "why: so\x1b[2Jfter\n",
    "fifty-one-levels": FLOUR + "aims:\n" + "".join(f"{'  ' * depth}a:\n" for depth in range(1, 55)),
    "nothing-behind-the-name": FLOUR + "  water:\n",
    "nothing-at-all-behind": FLOUR + "  water: ~\n",
    "misspelt-takes": FLOUR + "preferments:\n  poolish:\n    take: 20% of the flour\n    water: 100%\n",
    "thousands-comma": "formula: test-loaf\ningredients:\n  strong wheat flour: 1,000 g\n  water: 650 g\n",
    "decimal-comma-parted": FLOUR + "  water: 62, 5 %\n",
    "far-too-much": FLOUR + "  water: 65000000000000000%\n",
    "another-kind-of-page": "format: trial/1\n" + FLOUR,
    "no-kind-of-page": "format: recipe/1\n" + FLOUR,
    "name-with-capitals": "formula: Market Roll!\n" + FLOUR[19:],
    "revision-in-words": "formula: test-loaf\nrevision: two\n" + FLOUR[19:],
    "half-of-two-versions": FLOUR + "  water: 65%\n>>>>>>> theirs\n",
    "temperature-without-scale": FLOUR + "process:\n  - bake:\n      temperature: 220\n      time: 18\n",
    "long-line": FLOUR + f"why: [{'softer crumb, ' * 30}\n",
    "several-kinds-at-once": FLOUR + "  water: lots\nmaked: 2 loaves\naims: thin\n",
}


@pytest.fixture
def book(oven, tmp_path):
    """A book with one baker and no formula."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    return tmp_path / "stall"


@pytest.mark.parametrize("name", PAGES)
def test_a_slip_on_a_page_is_refused_in_words(name, book, oven, golden):
    """Exit 3, nothing on stdout, file and line, a golden message, and the book byte for byte as before."""
    (book.parent / "page.yaml").write_text(PAGES[name], newline="\n")
    said = refused(oven, "enter ../page.yaml", book)
    assert "../page.yaml" in said
    golden(f"bad/pages/{name}", said)


@pytest.mark.parametrize("name", ["bracket-left-open", "several-kinds-at-once", "thousands-comma"])
def test_a_slip_on_a_page_is_a_document_with_its_line(name, book, oven):
    """With --json behind the command, scripts find the file and the line of each fault."""
    (book.parent / "page.yaml").write_text(PAGES[name], newline="\n")
    document = as_document(oven("enter ../page.yaml --json", cwd=book))
    assert document["what"]


@pytest.mark.parametrize(
    ("name", "better"),
    [
        ("begins-with-a-sign", 'why: "*best* of three"'),
        ("words-behind-a-quote", "why: '\"old\" rye, softer'"),
        ("no-space-behind-the-colon", "water: 65%"),
        ("thousands-comma", "strong wheat flour: 1000 g"),
        ("decimal-comma-parted", "water: 62,5 %"),
    ],
)
def test_the_line_as_it_is_put_right_is_taken(name, better, book, oven):
    """What the message says to write, written there, makes a page that is entered."""
    bad = PAGES[name]
    key = better.partition(":")[0]
    lines = [
        f"{' ' * (len(line) - len(line.lstrip()))}{better}" if line.strip().startswith(f"{key}:") else line
        for line in bad.splitlines()
    ]
    (book.parent / "page.yaml").write_text("\n".join([*lines, ""]))
    ran = oven("enter ../page.yaml", cwd=book)
    assert ran.code == 0, ran.err


def test_a_page_on_standard_input_is_called_so_and_can_be_handed_in_again(book, oven, golden):
    """There is no file to name: the commands that are offered say - again, and work."""
    page = FLOUR + "  water: 70%\n  levain: 20%\n  salt: 2%\n"
    said = refused(oven, "enter -", book, typed=page)
    golden("bad/pages/standard-input", said)
    for reading in ("on-top", "counted-in"):
        assert f"  ovenleaf enter - --levain {reading}" in said
    assert oven("enter - --levain on-top", cwd=book, typed=page).code == 0
    changed = page.replace("2%", "1.8%")
    golden("bad/pages/standard-input-name", refused(oven, "enter -", book, typed=FLOUR[19:]))
    golden("bad/pages/standard-input-why", refused(oven, "enter - --levain on-top", book, typed=changed))


def test_a_file_with_a_space_in_its_name_is_quoted_in_commands(book, oven):
    """The command that is offered can be typed as it stands."""
    (book / "my page.yaml").write_text(FLOUR + "  water: 70%\n  levain: 20%\n")
    said = refused(oven, "enter 'my page.yaml'", book)
    assert "  ovenleaf enter 'my page.yaml' --levain on-top" in said
    assert oven("enter 'my page.yaml' --levain on-top", cwd=book).code == 0


def test_a_trial_page_with_slips_is_refused_in_words(sample_book, oven, golden):
    """record --from: every fault at once, with its line; an unreadable page too."""
    page = sample_book.parent / "bake.yaml"
    page.write_text("bake_date: 2026-02-30\nscores:\n  noor:\n    crumb: seven\nmeasured: heavy\n")
    said = refused(oven, "record market-roll --from ../bake.yaml", sample_book, now="2026-11-25T12:00:00+01:00")
    golden("bad/pages/trial", said)
    page.write_text("format: trial/9\nscores:\n  noor:\n    crumb: 7\n")
    said = refused(oven, "record market-roll --from ../bake.yaml", sample_book, now="2026-11-25T12:00:00+01:00")
    golden("bad/pages/trial-newer", said)
