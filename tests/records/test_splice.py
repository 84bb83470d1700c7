"""Changes to a page's text: only the meant place changes."""

from __future__ import annotations

from decimal import Decimal
from textwrap import dedent

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from ovenleaf.records import splice
from ovenleaf.records.meant import SpliceFault
from ovenleaf.records.nodes import ListNode, MapNode, Node, Page, ScalarNode, find, plain
from ovenleaf.records.places import next_sign, remarks, spans
from ovenleaf.records.scalars import double_quoted, scalar_text
from ovenleaf.records.splice import append, insert, remove, set_value
from ovenleaf.records.yaml_text import read

LAWS = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)

FORMULA = dedent(
    """\
    format: formula/1
    title: 'Market roll'
    revision: 2                      # the newest

    ingredients:                     # the whole formula
      strong wheat flour: 100%
      water: 65%                     # of all the flour
      # soft, not melted
      butter: 3%, soft
      # perhaps honey one day

    preferments:
      poolish:
        takes: 20% of the flour
        rest: 12 h at 21 C, covered
    outside:                         # never in the percentages
    faults: [too pale, "tight"]  # both
    scores: {crumb: 7, crust: 8.50}
    note: |
      First line.
      Second line.

    # how it is made
    process:
      - first mix: 3 min, low
        bowl: large
      - bulk: 60 min   # covered
      - bake: 18 min
    """
)


def page(text: str) -> Page:
    return read(text, path="market-roll.yaml")


def changed_lines(old: str, new: str) -> tuple[list[str], list[str]]:
    """The lines of the old and the new text between what both begin and end with."""
    before, after = old.splitlines(), new.splitlines()
    while before and after and before[0] == after[0]:
        del before[0], after[0]
    while before and after and before[-1] == after[-1]:
        del before[-1], after[-1]
    return before, after


# --- a value ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "new", "line"),
    [
        (("ingredients", "water"), "68%", "  water: 68%                     # of all the flour"),
        (("ingredients", "water"), "65.25%, warm", "  water: 65.25%, warm            # of all the flour"),
        (("ingredients", "water"), "65%, " + "warm " * 6 + "x", f"  water: 65%, {'warm ' * 6}x # of all the flour"),
        (("revision",), 13, "revision: 13                     # the newest"),
        (("title",), "Noor's roll", "title: 'Noor''s roll'"),
        (("title",), "two\nlines", 'title: "two\\nlines"'),
        (("title",), 7, "title: 7"),
        (("outside",), "egg", "outside: egg                     # never in the percentages"),
        (("outside",), True, "outside: true                    # never in the percentages"),
        (("faults", 0), "pale, here", 'faults: ["pale, here", "tight"] # both'),
        (("faults", 1), "dense", 'faults: [too pale, "dense"]  # both'),
        (("scores", "crust"), Decimal("8.5"), "scores: {crumb: 7, crust: 8.5}"),
        (("process", 1, "bulk"), "75 min", "  - bulk: 75 min   # covered"),
        (("ingredients", "butter"), "soft: 3%", '  butter: "soft: 3%"'),
        (("ingredients", "butter"), None, "  butter: null"),
    ],
)
def test_one_value_changes_in_its_own_line(path, new, line):
    """A value is put in place, quotes and the column of a remark kept, and no other line is touched."""
    text = set_value(page(FORMULA), path, new)
    assert changed_lines(FORMULA, text)[1] == [line]
    assert plain(find(page(text).root, path)) == new


def test_block_text_becomes_one_line_and_keeps_its_remark():
    """Text over several lines is replaced whole; the remark on its first line stays."""
    text = set_value(page("note: | # from the stall\n  one\n  two\n\ntitle: x\n"), ("note",), "three")
    assert text == "note: three  # from the stall\n\ntitle: x\n"


def test_the_same_value_changes_nothing():
    """Setting what stands there already leaves the page byte for byte."""
    assert set_value(page("a: 'x'   # y\n"), ("a",), "x") == "a: 'x'   # y\n"


def test_digits_as_asked_for_are_written():
    """8.5 and 8.50 are the same number and are still typed differently."""
    assert set_value(page("a: 8.5\n"), ("a",), Decimal("8.50")) == "a: 8.50\n"


# --- a new line -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "key", "value", "after", "lines"),
    [
        (("ingredients",), "salt", "2%", "water", ["  salt: 2%"]),
        (("ingredients",), "salt", "2%", "last", ["  salt: 2%"]),
        (("ingredients",), "salt", "2%", None, ["  salt: 2%"]),
        ((), "by", "noor", "revision", ["by: noor"]),
        ((), "aims", {"crust": "thin", "list": ["a", {"b": 1, "c": []}]}, "note",
         ["aims:", "  crust: thin", "  list:", "    - a", "    - b: 1", "      c: []"]),
        (("preferments", "poolish"), "water: all", "100%", "takes", ['    "water: all": 100%']),
        (("outside",), "egg", "as needed", "last", ["  egg: as needed"]),
        (("process", 0), "dough", "25 C", "first mix", ["    dough: 25 C"]),
    ],
)  # fmt: skip
def test_new_lines_stand_among_their_siblings(path, key, value, after, lines):
    """A new name comes where it was asked for, set in like its siblings; no line is changed."""
    text = insert(page(FORMULA), path, key, value, after=after)
    assert changed_lines(FORMULA, text) == ([], lines)
    assert remove(page(text), (*path, key)) == FORMULA if path != ("outside",) else True


def test_new_lines_come_before_what_leads_the_next_section():
    """At the end of a section means before the blank line, and before remarks not set in deeper."""
    text = insert(page("a:\n  b: 1\n  # c, one day\n\n# next\nd: 1\n"), ("a",), "e", 2)
    assert text == "a:\n  b: 1\n  e: 2\n  # c, one day\n\n# next\nd: 1\n"
    text = insert(page("a:\n  b: 1\n  # c, one day\n\n# next\nd: 1\n"), (), "e", 2, after="a")
    assert text == "a:\n  b: 1\n  # c, one day\ne: 2\n\n# next\nd: 1\n"


def test_first_on_the_line_of_a_dash():
    """A name put in first takes the place behind the dash."""
    text = insert(page("a:\n  - b: 1\n    c: 2\n"), ("a", 0), "z", 0, after=None)
    assert text == "a:\n  - z: 0\n    b: 1\n    c: 2\n"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a: {b: 1} # x\n", 'a: {b: 1, "k?": "v,w"} # x\n'),
        ("a: {}\n", 'a: {"k?": "v,w"}\n'),
        ("a: {b: }\n", 'a: {b: , "k?": "v,w" }\n'),
        ("a: {\n  b: 1, # x\n}\n", 'a: {\n  b: 1, "k?": "v,w", # x\n}\n'),
    ],
)
def test_new_name_inside_brackets(before, after):
    """Inside brackets a new name stays in the line, quoted where brackets need it."""
    assert insert(page(before), ("a",), "k?", "v,w") == after


@pytest.mark.parametrize(
    ("before", "value", "after"),
    [
        ("a:\n  - b\nc: 1\n", "d", "a:\n  - b\n  - d\nc: 1\n"),
        ("a:\n- b # x\n\nc: 1\n", "d", "a:\n- b # x\n- d\n\nc: 1\n"),
        ("a:\n  - b", {"x": 1, "y": ["z"]}, "a:\n  - b\n  - x: 1\n    y:\n      - z\n"),
        ("a: [b]\n", ["c", {"d": 1}], "a: [b, [c, {d: 1}]]\n"),
        ("a: []\n", "b", "a: [b]\n"),
        ("a: # none yet\nc: 1\n", "b", "a: # none yet\n  - b\nc: 1\n"),
        ("a:\n  -\n", "b", "a:\n  -\n  - b\n"),
    ],
)
def test_append(before, value, after):
    """A new value comes at the end of its list, with the dash under the other dashes."""
    assert append(page(before), ("a",), value) == after


# --- a line less ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("before", "path", "after"),
    [
        ("a: 1\nb: 2 # x\nc: 3\n", ("b",), "a: 1\nc: 3\n"),
        ("# top\na: 1\n# of b\nb: 2\n\n# of c\nc: 3\n", ("b",), "# top\na: 1\n# of b\n\n# of c\nc: 3\n"),
        ("a: 1\nb:\n  c: 1\n  d:\n    - 2\n  # end\ne: 1\n", ("b",), "a: 1\n  # end\ne: 1\n"),
        ("a:\n  - b: 1 # x\n    c: 2\n", ("a", 0, "b"), "a:\n  - c: 2\n"),
        ("a:\n  - b: 1 # x\n    # of c\n    c: 2\n", ("a", 0, "b"), "a:\n  - \n    # of c\n    c: 2\n"),
        ("a:\n  - b\n  # of c\n  - c\n", ("a", 1), "a:\n  - b\n  # of c\n"),
        ("a:\n  -\n  - c\n", ("a", 0), "a:\n  - c\n"),
        ("a:\n  - - b\n    - c\n", ("a", 0, 0), "a:\n  - - c\n"),
        ("a: [b, c, d]\n", ("a", 0), "a: [c, d]\n"),
        ("a: [b, c, d]\n", ("a", 2), "a: [b, c]\n"),
        ("a: {b: 1, c: 2,}\n", ("a", "c"), "a: {b: 1,}\n"),
        ("a: {b: , c: 2}\n", ("a", "c"), "a: {b: }\n"),
        ("a: [\n  b, # x\n  c, # y\n]\n", ("a", 1), "a: [\n  b # x\n  , # y\n]\n"),
        ("a: [\n  b, # x\n  c # y\n]\n", ("a", 0), "a: [\n   # x\n  c # y\n]\n"),
    ],
)
def test_remove(before, path, after):
    """A line goes with its own remark; remarks on lines of their own stay."""
    assert remove(page(before), path) == after


def test_block_text_above_swallows_nothing():
    """With the line below block text gone, deeper remarks and blank lines do not become part of it."""
    text = remove(page("a: |\n  t\nb:\n  c: 1\n  # deep\nd: 1\n"), ("b",))
    assert text == "a: |\n  t\n# deep\nd: 1\n"
    text = remove(page("a: |+\n  t\nb: 1\n\nd: 1\n"), ("b",))
    assert text == "a: |+\n  t\nd: 1\n"


@pytest.mark.parametrize(
    "change",
    [
        lambda p: set_value(p, ("nowhere",), 1),
        lambda p: set_value(p, ("ingredients",), 1),
        lambda p: insert(p, ("ingredients",), "water", 1),
        lambda p: insert(p, ("ingredients",), "salt", 1, after="honey"),
        lambda p: insert(p, ("title",), "a", 1),
        lambda p: insert(p, ("process",), "a", 1),
        lambda p: append(p, ("ingredients",), 1),
        lambda p: append(p, ("title",), 1),
        lambda p: remove(p, ()),
        lambda p: remove(p, ("nowhere",)),
        lambda p: remove(p, ("preferments", "poolish")),
        lambda p: insert(p, (), "k" * 2000, 1),
    ],
)
def test_what_cannot_be_meant_is_our_fault(change):
    """A place that is not there, a name twice, the only line of its kind: none gives a text."""
    with pytest.raises(SpliceFault):
        change(page(FORMULA))


def test_a_change_gone_wrong_gives_no_text(monkeypatch):
    """What reads otherwise than meant is never given out."""
    monkeypatch.setattr(splice, "_words", lambda *_, **__: "other")
    with pytest.raises(SpliceFault, match="other than meant"):
        set_value(page("a: 1\n"), ("a",), 2)
    monkeypatch.setattr(splice, "_words", lambda *_, **__: "x: y")
    with pytest.raises(SpliceFault, match="could not be read"):
        set_value(page("a: 1\n"), ("a",), 2)


def test_true_is_not_taken_for_one(monkeypatch):
    """A change that reads as true where 1 was meant is caught."""
    monkeypatch.setattr(splice, "_words", lambda *_, **__: "true")
    with pytest.raises(SpliceFault):
        set_value(page("a: 2\n"), ("a",), 1)


# --- laws -----------------------------------------------------------------------------------------

WORDS = st.text("abcé °🍞", min_size=1, max_size=8).map(str.strip).filter(bool).map(lambda words: f"w{words}")
ODD_TEXT = st.text("ab é:#'\"\\,[]{}!&*?|>%@`-=<~.\n\t0\x07\u2028", max_size=8)
NUMBERS = st.integers(-(10**6), 10**6) | st.decimals("-99", "99", places=2)
SCALARS = WORDS | ODD_TEXT | NUMBERS | st.booleans() | st.none()
VALUES = st.recursive(
    SCALARS,
    lambda below: st.lists(below, max_size=3) | st.dictionaries(WORDS | ODD_TEXT, below, max_size=3),
    max_leaves=6,
)


@st.composite
def texts(draw: st.DrawFn) -> str:
    """A page as a baker might type it: remarks, blank lines, quotes, brackets, block text."""
    count = iter(range(10_000))

    def maybe_remark() -> str:
        return " " * draw(st.integers(1, 9)) + f"# r{next(count)}" if draw(st.integers(0, 2)) == 0 else ""

    def leading(column: int) -> list[str]:
        kinds = draw(st.lists(st.sampled_from(["", "remark"]), max_size=2)) if draw(st.booleans()) else []
        return [" " * column + f"# r{next(count)}" if kind else "" for kind in kinds]

    def in_line(flow: bool, depth: int) -> str:
        kind = draw(st.sampled_from(["word", "word", "number", "one", "two", "list", "map", "empty", "true"]))
        if kind == "number":
            return str(draw(NUMBERS))
        if kind == "one":
            return "'" + draw(WORDS).replace("é", "''") + "'"
        if kind == "two":
            return double_quoted(draw(WORDS | ODD_TEXT))
        if kind == "list" and depth < 3:
            items = [value for _ in range(draw(st.integers(0, 3))) if (value := in_line(True, depth + 1))]
            return "[" + ", ".join(items) + "]"
        if kind == "map" and depth < 3:
            pairs = [f"k{next(count)}: {in_line(True, depth + 1)}" for _ in range(draw(st.integers(0, 3)))]
            return "{" + ", ".join(pairs) + "}"
        if kind == "empty":
            return ""
        return "true" if kind == "true" else draw(WORDS)

    def below(column: int, depth: int) -> list[str]:
        """What stands behind a colon or dash: the first line is to be joined to it."""
        kind = draw(st.sampled_from(["line", "line", "line", "text", "map", "list", "folded"]))
        if kind == "text":
            head = draw(st.sampled_from(["|", "|-", "|+", ">", ">-"]))
            body = [" " * (column + 2) + draw(WORDS) for _ in range(draw(st.integers(1, 2)))]
            return [f" {head}{maybe_remark()}", *body, *[""] * draw(st.integers(0, 1))]
        if kind == "folded":
            return [f" {draw(WORDS)}", " " * (column + 3) + draw(WORDS) + maybe_remark()]
        if kind in ("map", "list") and depth < 3:
            step = draw(st.sampled_from([2, 4]) if kind == "map" else st.sampled_from([0, 2]))
            lines = block(column + step, depth + 1, kind)
            trail = [" " * (column + step) + f"# r{next(count)}"] if draw(st.booleans()) and step else []
            return [maybe_remark(), *lines, *trail]
        words = in_line(False, depth)
        return [f" {words}{maybe_remark()}" if words else maybe_remark()]

    def block(column: int, depth: int, kind: str) -> list[str]:
        lines: list[str] = []
        for _ in range(draw(st.integers(1, 3))):
            lines += leading(column)
            if kind == "list":
                if draw(st.booleans()):
                    inner = [f"k{next(count)}:{in_line_spaced(depth)}" for _ in range(draw(st.integers(1, 2)))]
                    lines += [" " * column + f"- {inner[0]}", *(" " * column + f"  {line}" for line in inner[1:])]
                    continue
                head = "-"
            else:
                head = f"k{next(count)}:"
            first, *rest = below(column, depth)
            if head == "-" and rest and not rest[0].startswith(" " * (column + 1)):
                first, rest = f" {draw(WORDS)}", []
            lines += [" " * column + head + first, *rest]
        return lines

    def in_line_spaced(depth: int) -> str:
        words = in_line(False, depth)
        return (f" {words}" if words else "") + maybe_remark()

    return "\n".join(block(0, 0, "map")) + "\n"


def leaves(node: Node, path: tuple[str | int, ...] = ()) -> dict[tuple[str | int, ...], object]:
    """Every place of a page with its value; places that hold others hold their kind."""
    if isinstance(node, ScalarNode):
        return {path: (type(node.value), node.value)}
    found: dict[tuple[str | int, ...], object] = {path: type(node)}
    if isinstance(node, MapNode):
        for entry in node.entries:
            found |= leaves(entry.node, (*path, entry.key))
    else:
        for at, item in enumerate(node.items):
            found |= leaves(item, (*path, at))
    return found


def places(of: Page, kind: type) -> list[tuple[str | int, ...]]:
    return [path for path in leaves(of.root) if isinstance(find(of.root, path), kind)]


def remark_words(of: Page) -> list[str]:
    return [of.text[start:end] for start, end in remarks(of)]


@LAWS
@given(texts())
def test_pages_made_here_are_read(text):
    """The pages these laws are tried on can be read, and each of their remarks is found."""
    old = page(text)
    assert len(remark_words(old)) == sum("# r" in line for line in text.splitlines())
    typed = [text[start:end] for start, end in spans(old.root)]
    assert all(words == words.strip() or words.startswith("|+") for words in typed)


@LAWS
@given(texts(), st.data())
def test_setting_changes_only_its_place(text, data):
    """After a value is set, every other place, remark and line is as it was."""
    old = page(text)
    path = data.draw(st.sampled_from(places(old, ScalarNode) or [()]))
    assume(path)
    node, value = find(old.root, path), data.draw(SCALARS)
    text_now = set_value(old, path, value)
    now = page(text_now)
    before, after = leaves(old.root), leaves(now.root)
    written = plain(find(now.root, path))
    assert written == value
    assert isinstance(written, bool) == isinstance(value, bool)
    assert {**after, path: 0} == {**before, path: 0}
    assert remark_words(now) == remark_words(old)
    if text_now == text:
        return  # it stood there already
    first, last = text[: node.start].count("\n"), text[: node.end].count("\n")
    lines, lines_now = text.split("\n"), text_now.split("\n")
    assert lines_now[:first] == lines[:first]
    assert lines_now[first + 1 :] == lines[last + 1 :]


@LAWS
@given(texts(), st.data())
def test_a_value_set_back_is_as_it_was(text, data):
    """A value changed and changed back gives the page byte for byte, unless its remark had to give way."""
    old = page(text)
    paths = [path for path in places(old, ScalarNode) if typed_as_written(find(old.root, path), text)]
    assume(paths)
    path = data.draw(st.sampled_from(paths))
    node = find(old.root, path)
    now = page(set_value(old, path, data.draw(WORDS if node.style else WORDS | NUMBERS | st.booleans())))
    assume(columns(old) == columns(now))
    assert set_value(now, path, node.value) == text


def typed_as_written(node: ScalarNode, text: str) -> bool:
    """In one line, and in the way the splicer itself writes it."""
    typed = text[node.start : node.end]
    if node.style == "'":
        return "\n" not in typed
    return typed in (scalar_text(node.value), double_quoted(str(node.value)))


def columns(of: Page) -> list[int]:
    return [start - of.text.rfind("\n", 0, start) for start, _ in remarks(of)]


def test_a_blank_line_behind_a_remark_stays_where_the_text_above_keeps_its_own():
    """It belongs to the page, not to the block text with `+`."""
    text = "k0: |+\n  wa\n# r1\n\nk2: wa\n"
    assert remove(page(insert(page(text), (), "new", "x", after="k0")), ("new",)) == text


@LAWS
@given(texts(), st.data())
def test_inserting_adds_one_place_and_removing_it_undoes_it(text, data):
    """A new name changes no other place, line or remark, and taking it out again gives the page as it was."""
    old = page(text)
    path = data.draw(st.sampled_from([path for path in places(old, MapNode) if find(old.root, path).entries]))
    keys = [entry.key for entry in find(old.root, path).entries]
    after = data.draw(st.sampled_from([None, "last", *keys]))
    key, value = data.draw((WORDS | ODD_TEXT).filter(lambda key: key not in keys)), data.draw(VALUES)
    text_now = insert(old, path, key, value, after=after)
    now = page(text_now)
    place = 0 if after is None else keys.index(after) + 1 if after in keys else len(keys)
    assert [entry.key for entry in find(now.root, path).entries] == [*keys[:place], key, *keys[place:]]
    assert plain(find(now.root, (*path, key))) == value
    others = {at: leaf for at, leaf in leaves(now.root).items() if at[: len(path) + 1] != (*path, key)}
    assert others == leaves(old.root)
    assert remark_words(now) == remark_words(old)
    assert remove(now, (*path, key)) == text


@LAWS
@given(texts(), st.data())
def test_appending_adds_one_place_and_removing_it_undoes_it(text, data):
    """A value put at the end of a list changes nothing else, and taking it out gives the page as it was."""
    old = page(text)
    lists = [path for path in places(old, ListNode) if find(old.root, path).items]
    assume(lists)
    path, value = data.draw(st.sampled_from(lists)), data.draw(VALUES)
    now = page(append(old, path, value))
    count = len(find(old.root, path).items)
    assert plain(find(now.root, (*path, count))) == value
    others = {at: leaf for at, leaf in leaves(now.root).items() if at[: len(path) + 1] != (*path, count)}
    assert others == leaves(old.root)
    assert remark_words(now) == remark_words(old)
    assert remove(now, (*path, count)) == text


@LAWS
@given(texts(), st.data())
def test_removing_takes_only_its_own_lines(text, data):
    """After a removal the other places hold what they held, and remarks outside its lines are there."""
    old = page(text)
    path = data.draw(st.sampled_from([path for path in leaves(old.root) if path] or [()]))
    assume(path)
    above = find(old.root, path[:-1])
    assume(len(above.entries if isinstance(above, MapNode) else above.items) > 1)
    now = page(remove(old, path))
    kept = plain(old.root)
    holder = kept
    for step in path[:-1]:
        holder = holder[step]
    del holder[path[-1]]
    assert plain(now.root) == kept
    start, end = own_lines(old, path)
    outside = [text[a:b] for a, b in remarks(old) if not start <= a < end]
    assert [words for words in remark_words(now) if words in outside] == outside


def own_lines(of: Page, path: tuple[str | int, ...]) -> tuple[int, int]:
    """From a name or a dash to the end of the line in which its value ends."""
    above, node = find(of.root, path[:-1]), find(of.root, path)
    end = of.text.index("\n", node.end)
    if isinstance(above, MapNode):
        return next(entry.key_start for entry in above.entries if entry.key == path[-1]), end
    if above.flow:
        return node.start, end
    before = above.items[path[-1] - 1].end if path[-1] else above.start
    return next_sign(of.text, before), end
