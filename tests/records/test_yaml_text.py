"""Pages as text: what is read, what is refused and in which words, what is written."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from decimal import Decimal
from pathlib import Path
from textwrap import dedent
from unittest import mock

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ovenleaf.errors import Place, Refusal
from ovenleaf.records import page_bytes, plain_lines, yaml_text
from ovenleaf.records.nodes import ListNode, MapNode, find, line_of, plain
from ovenleaf.records.page_bytes import MAX_BYTES, decode, page_id
from ovenleaf.records.page_fault import PageFault
from ovenleaf.records.scalars import resolve, scalar_text
from ovenleaf.records.yaml_out import dump
from ovenleaf.records.yaml_text import pure_events, read

FORMULA = dedent(
    """\
    format: formula/1
    formula: market-roll
    title: Market roll
    revision: 2
    by: noor
    saved: 2026-11-11T19:10:00+01:00
    why: softer crumb, so water up from 62 to 65 %
    makes: 24 rolls of 85 g
    aims:
      crust: thin and crackling

    ingredients:                     # the whole formula
      strong wheat flour: 100%
      water: 65%
      salt: 2%
      butter: 3%, soft
      instant yeast: 0.62%

    preferments:
      poolish:
        takes: 20% of the flour
        strong wheat flour: 100%     # in shares of its own flour
        water: 100%
        rest: 12 h at 21 C, covered

    outside:                         # never in the percentages

    note: |
      Sold by ten.

    process:
      - first mix: 3 min, low
      - bulk: 60 to 75 min at 26 C
      - bake: 18 min at 240 C
    faults: [too pale, "tight, inside"]
    scores: {crumb: 7, crust: 8.50}
    """
)


def value_of(typed: str) -> object:
    return plain(read(f"a: {typed}\n", path="p.yaml").root)["a"]


def fault_of(text: str) -> PageFault:
    with pytest.raises(PageFault) as caught:
        read(text, path="p.yaml")
    return caught.value


# --- what a value means -------------------------------------------------------------------------


@pytest.mark.parametrize(
    "typed",
    [
        "no", "yes", "on", "off", "No", "True", "NULL", "12:30", "1:30", "8:05:30", "0o7", "010", "0x1F", "0b11",
        "1_000", "2026-11-18", "2026-11-11T19:10:00+01:00", ".5", "5.", "+5", ".nan", ".inf", "-.inf", "~",
        "1e", "e5", "--1", "1.2.3", "65%", "-01", "00", "1,5", "nan", "Infinity", "=", "½",
    ],
)  # fmt: skip
def test_stays_text(typed):
    """What is not a JSON number or word reads as typed."""
    assert value_of(typed) == typed


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("0", 0), ("7", 7), ("-3", -3), ("10", 10), ("-0", 0), ("9" * 30, int("9" * 30)),
        ("1.10", Decimal("1.10")), ("-0.5", Decimal("-0.5")), ("1e3", Decimal("1E+3")),
        ("2.50E-2", Decimal("0.0250")), ("1e99", Decimal("1e99")), ("1e-99", Decimal("1e-99")),
        ("true", True), ("false", False), ("null", None), ("", None), ("# remark", None),
    ],
)  # fmt: skip
def test_numbers_and_words(typed, value):
    """JSON numbers keep their digits; true, false, null and nothing are what they say."""
    read_value = value_of(typed)
    assert type(read_value) is type(value)
    assert str(read_value) == str(value)


@pytest.mark.parametrize("typed", ["9" * 31, "0." + "1" * 30, "1e100", "1e-100", "1e" + "9" * 5000, "9" * 5000])
def test_huge_numbers_stay_text(typed):
    """More than 30 digits, or a power beyond 99, is kept as typed and never worked out."""
    assert resolve(typed) == typed


@pytest.mark.parametrize(("typed", "value"), [('"65"', "65"), ("'true'", "true"), ('""', ""), ("|\n  1", "1\n")])
def test_quoted_is_text(typed, value):
    """Quotes and block marks make text of anything."""
    assert value_of(typed) == value


def test_keys_are_text():
    """A name is text, whatever it looks like."""
    page = read('1.10: a\ntrue: b\nnull: c\n"x: y": d\n2026-11-18 : e\n', path="p")
    assert list(plain(page.root)) == ["1.10", "true", "null", "x: y", "2026-11-18"]


# --- the tree -------------------------------------------------------------------------------------


def test_places_of_a_formula():
    """Each name and value knows its characters and its line; an empty value stands behind its colon."""
    page = read(FORMULA, path="market-roll.yaml")
    water = find(page.root, ("ingredients", "water"))
    assert (FORMULA[water.start : water.end], water.line, water.style) == ("65%", 14, "")
    tight = find(page.root, ("faults", 1))
    assert (FORMULA[tight.start : tight.end], tight.style, tight.value) == ('"tight, inside"', '"', "tight, inside")
    outside = find(page.root, ("outside",))
    assert FORMULA[: outside.start].endswith("outside:")
    assert (outside.start, outside.value) == (outside.end, None)
    note = find(page.root, ("note",))
    assert FORMULA[note.start : note.end] == "|\n  Sold by ten."
    process = find(page.root, ("process",))
    assert isinstance(process, ListNode)
    assert FORMULA[process.start : process.end].startswith("- first mix")
    assert FORMULA[process.start : process.end].endswith("18 min at 240 C")
    scores = find(page.root, ("scores",))
    assert isinstance(scores, MapNode)
    assert FORMULA[scores.start : scores.end] == "{crumb: 7, crust: 8.50}"
    assert [FORMULA[e.key_start : e.key_end] for e in scores.entries] == ["crumb", "crust"]


def test_signs_beyond_the_first_plane_count_as_one_character():
    """Places are counted in characters, so that a picture or an umlaut shifts nothing."""
    page = read("a: 🥖 é\nb: x\n", path="p")
    node = find(page.root, ("b",))
    assert page.text[node.start : node.end] == "x"


@pytest.mark.parametrize(
    ("path", "line"),
    [
        ((), 1),
        (("title",), 3),
        (("ingredients",), 12),
        (("ingredients", "rye"), 12),
        (("preferments", "poolish"), 20),
        (("preferments", "poolish", "rest"), 24),
        (("preferments", "poolish", "rest", 0), 24),
        (("process", 1), 33),
        (("process", 1, "bulk"), 33),
        (("process", 9), 31),
        (("nowhere", 3), 1),
    ],
)
def test_line_of_the_nearest_part(path, line):
    """A place that is not there is told by the line of the nearest part that is."""
    assert line_of(read(FORMULA, path="p"), path) == line


def test_find_what_is_not_there():
    """A path that leads nowhere finds nothing, also where names and places are mixed up."""
    page = read(FORMULA, path="p")
    assert [find(page.root, path) for path in [("rye",), ("title", "x"), ("process", "x"), (0,), ("faults", -1)]] == [
        None
    ] * 5


# --- bytes ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("data", "kept"),
    [
        (b"a: 1\n", b"a: 1\n"),
        (b"\xef\xbb\xbfa: 1\r\nb: 2\r", b"a: 1\nb: 2\n"),
        (b"a: 1", b"a: 1\n"),
        ("a: ½ °\n".encode(), "a: ½ °\n".encode()),
        (b"", b""),
    ],
)
def test_normalised_bytes(data, kept):
    """UTF-8 without mark, line ends of one kind, the last one there; doing it twice changes nothing."""
    assert decode(data, "p").encode() == kept == decode(kept, "p").encode()


@pytest.mark.parametrize("data", [b"a: 1\n", b"\xef\xbb\xbfa: \xc3\xa9\r\n", b"", b"a: 1", b"\xff\xfe\r\n"])
def test_page_id_is_what_git_says(data, tmp_path):
    """A page's id equals git's own name for the same normalised bytes."""
    page = tmp_path / "page"
    page.write_bytes(page_bytes._even_out(data))
    said = subprocess.run(
        ["git", "hash-object", "--no-filters", str(page)], check=True, capture_output=True, text=True, cwd=tmp_path
    )
    assert page_id(data) == said.stdout.strip()


def test_not_utf8_names_the_line():
    """Letters saved another way are refused at their line."""
    with pytest.raises(PageFault) as caught:
        decode(b"a: 1\r\nb: cr\xe8me\n", "p.yaml")
    assert (caught.value.kind, caught.value.line) == ("bytes", 2)


def test_too_long():
    """A page over a million bytes is refused, as bytes and as text."""
    with pytest.raises(PageFault) as caught:
        decode(b"a" * (MAX_BYTES + 1), "p")
    assert caught.value.kind == "size"
    assert fault_of("a: " + "é" * (MAX_BYTES // 2)).kind == "size"


# --- what is refused --------------------------------------------------------------------------------

REFUSED = [
    ("empty", 1, "", "There is nothing on this page."),
    ("empty", 1, "# only a remark\n", "There is nothing on this page."),
    ("root", 1, "bread\n", "A page is made of names, each with a colon and what belongs to it."),
    ("root", 2, "# x\n- a\n", "A page is made of names, each with a colon and what belongs to it."),
    ("duplicate", 4, "a:\n  water: 1\n  salt: 2\n  water: 3\n", "water stands twice, in line 2 and in line 4."),
    ("duplicate", 1, "{a: 1, 'a': 2}\n", "a stands twice, in line 1 and in line 1."),
    ("merge", 2, "a: 1\n<<: b\n", "A line cannot begin with <<."),
    ("anchor", 1, "a: &x 1\nb: 2\n", "A value cannot begin with & unless it is in quotes."),
    ("anchor", 1, "a: *x\n", "A value cannot begin with * unless it is in quotes."),
    ("anchor", 1, "&x a: 1\n", "A value cannot begin with & unless it is in quotes."),
    ("anchor", 1, "*x : 1\n", "A value cannot begin with * unless it is in quotes."),
    ("tag", 2, "a:\n  b: !!python/object:os.system x\n", "A value cannot begin with ! unless it is in quotes."),
    ("tag", 1, "!!str a: 1\n", "A value cannot begin with ! unless it is in quotes."),
    ("directive", 1, "%YAML 1.1\n---\na: 1\n", "A line of a page cannot begin with a percent sign."),
    ("documents", 2, "a: 1\n---\nb: 1\n", "This line would end the page and begin another in the same file."),
    ("documents", 2, "a: 1\n...\nb: 1\n", "This line would end the page and begin another in the same file."),
    ("documents", 2, "---\n---\na: 1\n", "This line would end the page and begin another in the same file."),
    ("documents", 1, "--- {a: 1}\n", "This line would end the page and begin another in the same file."),
    ("key", 1, "{a: 1}: b\n", "Here should stand a name, a colon, a space and then the value."),
    ("key", 1, "[a]: b\n", "Here should stand a name, a colon, a space and then the value."),
    ("key", 1, "? a\n: b\n", "Here should stand a name, a colon, a space and then the value."),
    ("key", 1, "a: {b}\n", "Here should stand a name, a colon, a space and then the value."),
    ("control", 2, "a: 1\nb: x\x1b[31m\n", "A character that cannot be seen stands in this line."),
    ("control", 1, "a: \u2028b\n", "A character that cannot be seen stands in this line."),
    ("control", 1, "a: \x85b\n", "A character that cannot be seen stands in this line."),
    ("tab", 2, "a:\n\tb: 1\n", "This line is set in with a tab."),
    ("tab", 1, "a: b\tc\n", "A tab stands in this line."),
    ("tab", 1, "a:\tb\n", "A tab stands in this line."),
    ("tab", 1, "a: b#c\td\n", "A tab stands in this line."),
    ("depth", 1, "a: " + "[" * 60 + "]" * 60 + "\n", "This page is set in more than 50 levels deep."),
    ("depth", 51, "".join("  " * n + "a:\n" for n in range(60)), "This page is set in more than 50 levels deep."),
    ("two versions", 2, "a: 1\n<<<<<<< one\nb: 1\n=======\nb: 2\n>>>>>>> other\nc: 1\n",
     "Two versions of this page stand in it, one after the other, lines 2 to 6."),
    ("two versions", 2, "a: 1\n=======\nb: 2\n",
     "This line is left over from two versions of this page standing one after the other."),
    ("syntax", 2, "a: 1\n b: 2\n", "This line cannot be read as it stands."),
    ("syntax", 1, "a: [b, c\n", "A bracket that is opened in this line is not closed."),
    ("syntax", 1, 'a: "\\ud800"\n', "This line cannot be read as it stands."),
    ("syntax", 1, '"\\ud800": a\n', "This line cannot be read as it stands."),
    ("syntax", 1, "a: |#x\n  b\n", "This line cannot be read as it stands."),
    ("syntax", 1, "a: |\n \n  b\n", "This line cannot be read as it stands."),
    ("syntax", 1, "a: [b:2]\n", "Inside brackets, words with a colon or a question mark need quotes."),
    ("syntax", 1, "a: [too dense, why?]\n", "Inside brackets, words with a colon or a question mark need quotes."),
    ("syntax", 1, "a: [b: 2]\n", "Inside brackets, words with a colon or a question mark need quotes."),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "line", "text", "sentence"), REFUSED)
def test_refused(kind, line, text, sentence):
    """What a page may not hold is refused in words, with its line, and with what to do."""
    fault = fault_of(text)
    assert isinstance(fault, Refusal)
    assert (fault.kind, fault.line, fault.sentence) == (kind, line, sentence)
    assert fault.what == fault.sentence
    assert fault.where == Place("p.yaml", line, text.split("\n")[line - 1])
    assert fault.detail


@pytest.mark.parametrize(("kind", "line", "text", "sentence"), REFUSED)
def test_refused_without_the_compiled_parser_too(kind, line, text, sentence):
    """The parser without a compiled part refuses the same pages."""
    by_parser = mock.patch.object(plain_lines, "tree", return_value=None)
    with by_parser, mock.patch.object(yaml_text, "_parser", return_value=pure_events):
        fault = fault_of(text)
    assert (fault.kind, fault.line, fault.sentence) == (kind, line, sentence)


GIT_WORDS = {
    "commit", "branch", "head", "hash", "repository", "remote", "push", "pull", "merge", "fetch", "clone", "stash",
    "tag", "checkout", "origin", "conflict", "blob",
}  # fmt: skip


@pytest.mark.parametrize("text", [text for _, _, text, _ in REFUSED])
def test_no_word_of_git_in_a_refusal(text):
    """A refusal speaks the baker's language."""
    fault = fault_of(text)
    said = " ".join([fault.what, *fault.detail]).lower().replace(text.lower(), "")
    assert not GIT_WORDS & set(said.replace(".", " ").replace(",", " ").split())


@pytest.mark.parametrize(
    ("text", "line", "better"),
    [
        ("why: softer: more water\n", 1, 'why: "softer: more water"'),
        ('a: 1\nnote: "quote" then text\nb: 2\n', 2, "note: '\"quote\" then text'"),
        ("note: @home\n", 1, 'note: "@home"'),
        ("process:\n  - mix: 3 min: low\n  - bake: 1 h\n", 2, '  - mix: "3 min: low"'),
        ("process:\n  - 3 min: low: warm\n", 2, '  - 3 min: "low: warm"'),
        ("process:\n  - @home\n", 2, '  - "@home"'),
        ("note: *soft*\n", 1, 'note: "*soft*"'),
        ("note: !wow\n", 1, 'note: "!wow"'),
        ("note: %of flour\n", 1, 'note: "%of flour"'),
        ("note: `x`\n", 1, 'note: "`x`"'),
        ("note: *soft*   # as ever\n", 1, 'note: "*soft*"   # as ever'),
        ("note: [crumb] soft\n", 1, 'note: "[crumb] soft"'),
        ("note: > soft\n", 1, 'note: "> soft"'),
        ("note: - soft\n", 1, 'note: "- soft"'),
        ('note: "it\'s" so\n', 1, 'note: "\\"it\'s\\" so"'),
        ("note: 'tis soft\nb: 2\n", 1, 'note: "\'tis soft"'),
        ("note: 'tis soft\nb: it's\nc: 3\n", 1, 'note: "\'tis soft"'),
        ("water:65%\nsalt: 2%\n", 1, "water: 65%"),
        ("a:\n  why: one: two\nb:\n  why: three: four\n", 2, '  why: "one: two"'),
    ],
)
def test_the_line_put_right(text, line, better):
    """Where quotes or a space are all that is missing, the line is given as it should be, and it reads."""
    fault = fault_of(text)
    assert (fault.line, fault.detail[-1]) == (line, f"  {better}")
    lines = text.split("\n")
    mended = "\n".join([*lines[: line - 1], better, *lines[line:]])
    assert yaml_text._first_fault_line(mended, "p") > line


def test_no_line_is_offered_that_does_not_help():
    """A page whose fault is another one gets no false advice about quotes."""
    fault = fault_of("note: \"fine\"\na: 1\n b: 2\nwhy: 'also fine'\n")
    assert (fault.line, fault.sentence) == (3, "This line cannot be read as it stands.")


@pytest.mark.parametrize(
    "text", ["---\na: 1\n", "# x\n---\na: 1\n...\n", "a: '\tx'\n# a\tb\nb: |\n  x\ty\n", "a: 1", "{}\n", '"a\tb": c\n']
)
def test_odd_but_fine(text):
    """One opening and one closing mark, tabs where they are text, and a last line without end are read."""
    assert isinstance(read(text, path="p").root, MapNode)


# --- both parsers -------------------------------------------------------------------------------------

PIECES = [
    "a", "b", "key", "x y", "1.10", "65%", "true", "null", "~", ": ", ":", "- ", "-", "\n", "\n  ", "\n    ", "# c",
    " # d", "#", '"', "'", '"q"', "'r'", "[", "]", "{", "}", ",", ", ", "|", ">", "|-", "|+", "|2", "\t", " ", "?",
    "? ", "*", "&", "!", "%", "@", "`", "<<", "---", "...", "\\", "\\n", "\\ud800", "é", "🥖", "k1: ", "k2: ",
    "\nk3: ", "\n  k4: v", "\nk5:\n  - ", "\nk6: |\n  ", "\nk7: {a: 1, ", "\nl: [", "\n\n", "+", "0", "\xa0",
]  # fmt: skip


def outcome(text: str) -> object:
    try:
        return read(text, path="p").root
    except PageFault:
        return "refused"


def same_with_both(text: str) -> object:
    """What each of the ways to read a page makes of it: line by line where it is plain, by this parser, by that."""
    with mock.patch.object(plain_lines, "tree", return_value=None):
        fast = outcome(text)
        with mock.patch.object(yaml_text, "_parser", return_value=pure_events):
            assert outcome(text) == fast
    told = outcome(text)
    assert repr(told) == repr(fast)  # by its words: 1 is not True, nor 1.10 the same as 1.1
    return fast


@pytest.fixture(autouse=True, scope="module")
def _compiled_parser_is_there():
    """The parser with a compiled part is what the tests below compare with: it is a dependency of ours."""
    assert yaml_text._parser() is not pure_events


@pytest.mark.parametrize("text", [FORMULA, *(text for _, _, text, _ in REFUSED)])
def test_both_parsers_give_the_same_tree(text):
    """With and without the compiled parser a page gives the same tree, or is refused."""
    same_with_both(text)


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=14), st.sampled_from(["", "k0: ", "k0:\n  - "]))
def test_both_parsers_agree_on_odd_pages(pieces, head):
    """Whatever is typed, a page never reads differently for want of the compiled parser."""
    same_with_both(head + "".join(pieces))


@settings(max_examples=100, deadline=None)
@given(st.integers(0, len(FORMULA)), st.integers(0, 6), st.sampled_from(PIECES))
def test_both_parsers_agree_on_slips(at, cut, piece):
    """A slip of the keys in a good page reads or is refused alike."""
    same_with_both(FORMULA[:at] + piece + FORMULA[at + cut :])


LINES = [
    "a: b", "b: 1.10", "c: -5 C", "d: '65%'", 'e: "x, y: z"', "f:", "g: 2026-11-18T19:10:00+01:00 m", "h: (so) # w",
    "strong wheat flour: 100%     # in shares", "2026: true", "i: null", "- a", "- b: 1", "- c:", "-   d: 2", "- - e",
    "-", "- 'q'", "# remark", "", "j: x:y", "k: x #", "l: x#y", "m: é 🥖", "n : 1", "o:1", "p: ~", "q: .5", "r: /a/b",
    "s: 'a", "just words", "- just words", "t: |", "u: [a]", "v: -", "w: - a", "x: a: b", "'y': 1", "z?: 1", "a: ?b",
    "a: 1e3  ",
]  # fmt: skip


@settings(max_examples=400, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 4), st.sampled_from(LINES)), min_size=1, max_size=9))
def test_a_page_of_plain_lines_reads_as_the_parser_reads_it(lines):
    """However lines are set in one under another, reading them one by one gives the parser's tree, or leaves it."""
    same_with_both("".join(f"{' ' * column}{line}\n" for column, line in lines))


def test_the_pages_of_a_book_are_plain():
    """What is written and kept by the book is read line by line: that no page is would show nowhere else."""
    for path in sorted(Path(__file__).parents[2].glob("sample-book/trials/*/*.yaml")):
        assert plain_lines.tree(path.read_text(encoding="utf-8")) is not None, path


# --- writing ------------------------------------------------------------------------------------------

TEXTS = st.text(max_size=20) | st.text("ab é:#'\"\\,[]{}!&*?|>%@`-=<~.\n\t0\x07\u2028\ufeff", max_size=8)
NUMBERS = st.integers(-(10**29), 10**29) | st.decimals(
    allow_nan=False, allow_infinity=False, places=3, min_value=-(10**9), max_value=10**9
)
SCALARS = TEXTS | NUMBERS | st.booleans() | st.none()
KEYS = TEXTS.filter(lambda key: "\ud800" not in key)
DATA = st.dictionaries(
    KEYS,
    st.recursive(
        SCALARS, lambda below: st.lists(below, max_size=3) | st.dictionaries(KEYS, below, max_size=3), max_leaves=8
    ),
    max_size=4,
)


@settings(max_examples=100, deadline=None)
@given(DATA)
def test_what_is_written_is_read(data):
    """Reading a written page gives the same names, order and values, with either parser."""
    page = read(dump(data), path="p")
    assert plain(page.root) == data
    assert list(plain(page.root)) == list(data)
    assert repr_of_kinds(plain(page.root)) == repr_of_kinds(data)
    same_with_both(dump(data))


def repr_of_kinds(data: object) -> object:
    """True is not 1: tell values by kind as well, whole numbers alike however they are held."""
    if isinstance(data, dict):
        return {key: repr_of_kinds(value) for key, value in data.items()}
    if isinstance(data, list):
        return [repr_of_kinds(value) for value in data]
    return "number" if isinstance(data, Decimal) else "number" if type(data) is int else type(data).__name__


@settings(max_examples=200, deadline=None)
@given(SCALARS)
def test_one_value_is_one_line_and_reads_the_same(value):
    """A value is written in one line, in the open and inside brackets."""
    for context, text in (("block", "a: {}\n"), ("flow", "a: [{}, b]\n")):
        typed = scalar_text(value, context=context)
        assert "\n" not in typed
        found = plain(read(text.replace("{}", typed), path="p").root)["a"]
        found = found[0] if context == "flow" else found
        assert found == value
        assert isinstance(found, bool) == isinstance(value, bool)


@pytest.mark.parametrize(
    ("value", "typed"),
    [
        ("softer crumb, so water up", "softer crumb, so water up"),
        ("12 h at 21 C, covered", "12 h at 21 C, covered"),
        ("2026-11-18", "2026-11-18"),
        ("12:30", "12:30"),
        ("no", "no"),
        ("-5 C", "-5 C"),
        ("65", '"65"'),
        ("true", '"true"'),
        ("", '""'),
        ("softer: more", '"softer: more"'),
        ("100 # x", '"100 # x"'),
        ("a\nb", '"a\\nb"'),
        ('"so"', '"\\"so\\""'),
        (Decimal("1.10"), "1.10"),
        (Decimal("1E+3"), "1E+3"),
        (7, "7"),
        (True, "true"),
        (None, "null"),
    ],
)
def test_plain_where_it_can_be(value, typed):
    """Quotes only where the value would read as something else without them."""
    assert scalar_text(value) == typed


@pytest.mark.parametrize(
    "value", [Decimal("NaN"), Decimal("Infinity"), 10**30, Decimal("1e100"), "\ud800", Decimal("0." + "1" * 30)]
)
def test_what_cannot_be_written(value):
    """A number that would be read as text, and half of a character pair, are never written."""
    with pytest.raises(ValueError):
        scalar_text(value)


def test_house_style():
    """A new page is set in by two, lists by two under their name, one fact a line."""
    data = {
        "format": "formula/1",
        "aims": {"crust": "thin"},
        "process": [{"mix": "3 min", "bowl": "large"}, "rest", ["a", "b"]],
        "faults": [],
        "outside": {},
        "note": None,
        "a: b": "x" * 300,
    }
    assert dump(data) == dedent(
        f"""\
        format: formula/1
        aims:
          crust: thin
        process:
          - mix: 3 min
            bowl: large
          - rest
          - - a
            - b
        faults: []
        outside: {{}}
        note: null
        "a: b": {"x" * 300}
        """
    )


# --- cost -----------------------------------------------------------------------------------------------


def test_ruamel_is_not_loaded_before_a_page_is_read():
    """Commands that read no page do not wait for the parser."""
    code = "import sys, ovenleaf.records.yaml_text; sys.exit(any('ruamel' in name for name in sys.modules))"
    environ = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    assert subprocess.run([sys.executable, "-c", code], check=False, env=environ).returncode == 0


def test_a_page_is_read_in_less_than_a_millisecond():
    """A formula's page takes well under a millisecond (best of 50, so that a busy machine does not fail it)."""
    times = []
    for _ in range(50):
        before = time.perf_counter()
        read(FORMULA, path="p")
        times.append(time.perf_counter() - before)
    assert min(times) < 0.001


HOSTILE = [
    "[" * 900_000,
    "a: " + "{a: " * 200_000,
    "a: &a [x]\nb: [" + "*a," * 200_000 + "]\n",
    "- " * 400_000,
    "a: b: " + " " * 900_000 + "\n",
    "a: |\n  x" + "\n" * 900_000 + "  y\n b\n",
    "a:\n" + "  -\n" * 200_000 + " b\n",
    "a:\n" + "".join(f"  k{n}:\n" for n in range(90_000)) + " b\n",
    "a: '" + "x\n" * 400_000,
    "a: b\n" + "#\t\n" * 200_000 + "c\n",
]


@pytest.mark.parametrize("number", range(len(HOSTILE)))
def test_a_hostile_page_is_refused_in_good_time(number):
    """Deep nesting, a bomb of references, a wall of space cost no more than a long page does."""
    before = time.perf_counter()
    fault_of(HOSTILE[number])
    assert time.perf_counter() - before < 5
