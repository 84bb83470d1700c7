"""Pictures in text and as SVG: everything has its place, within the edges, readable without colour."""

from __future__ import annotations

import itertools
import re
from decimal import Decimal
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.present.picture import picture
from ovenleaf.present.scales import QUARTERS, round_step, ticks
from ovenleaf.present.svg import HIGH, WIDE, Plot, Spot, svg

MARKS = st.lists(st.tuples(st.integers(0, 40), st.integers(0, 999)), max_size=30)
ALONG = tuple((Decimal(tick), str(tick)) for tick in (0, 10, 20, 30, 40))


@QUICK
@given(st.integers(-500, 5000), st.integers(0, 900), st.integers(2, 12))
def test_ticks_are_round_reach_over_all_values_and_are_not_too_many(low, span, most):
    """In halves or whole steps of ten, twenty, fifty; one step at least."""
    low, high = Decimal(low) / 4, Decimal(low + span) / 4
    found = ticks(low, high, most)

    assert found[0] <= low <= high <= found[-1]
    assert 2 <= len(found) <= most + 2
    assert len({later - earlier for earlier, later in itertools.pairwise(found)}) == 1


def test_a_scale_of_marks_goes_by_quarters():
    """As bakers give them; everything else by tenths, fifths, halves."""
    assert round_step(Decimal("2.25"), 14, QUARTERS) == Decimal("0.25")
    assert round_step(Decimal("2.25"), 14) == Decimal("0.2")


@QUICK
@given(MARKS)
def test_every_name_in_a_row_stands_alone_or_is_counted(marks):
    """No name covers another, no line is wider than the screen."""
    text = picture([("7.50", [(Decimal(at), f"A{code}") for at, code in marks])], ALONG)
    row = text.splitlines()[0]
    more = re.search(r" (no|one|two|three|four|five|six|seven|eight|nine|\d+) more$", row)
    shown = row[: more.start()].split()[1:] if more else row.split()[1:]

    assert all(len(line) <= 80 for line in text.splitlines())
    assert set(shown) <= {f"A{code}" for _, code in marks}
    assert bool(more) == (len(shown) < len(marks))


def test_names_stand_where_their_values_are():
    """From left to right by value, under their figures."""
    text = picture([("8.00", [(Decimal(40), "C3")]), ("7.00", [(Decimal(0), "A1"), (Decimal(20), "B2")])], ALONG)
    high, low, feet = text.splitlines()

    assert low.index("A1") < low.index("B2") < high.index("C3")
    assert abs(low.index("B2") - feet.index("20")) <= 2


def plot(**said):
    usual = {
        "title": "Rye <&> \x1b[2J wheat",
        "description": "Two doughs. A1: 62.0 %, score 7.00",
        "across_name": "water, %",
        "up_name": "score",
        "across": ALONG,
        "up": ((Decimal(0), "0"), (Decimal(10), "10")),
        "spots": (
            Spot(x=Decimal(0), y=Decimal(10), name="A1", kind=0),
            Spot(x=Decimal(40), y=Decimal(0), name="B2", kind=5),
        ),
        "kinds": ("revision 1", "revision 2"),
    }
    return ElementTree.fromstring(svg(Plot(**usual | said)).encode())


def test_a_picture_stands_alone_and_has_its_text_alternative():
    """Well-formed with any title, title and description named for a reader, nothing from elsewhere."""
    root = plot()
    space = "{http://www.w3.org/2000/svg}"

    assert root.get("role") == "img"
    assert [root.find(f"{space}{root.get('aria-labelledby').split()[n]}") is not None for n in (0, 1)] == [True, True]
    assert "A1: 62.0 %, score 7.00" in root.find(f"{space}desc").text
    assert "\x1b" not in ElementTree.tostring(root, encoding="unicode")
    assert not [node for node in root.iter() if node.tag.removeprefix(space) in ("script", "style", "image", "use")]
    assert not [name for node in root.iter() for name in node.attrib if "href" in name]


def test_a_picture_is_black_and_white():
    """Shapes tell revisions apart, never a colour."""
    root = plot(line=((Decimal(0), Decimal(2)), (Decimal(40), Decimal(8))))
    paints = {node.get(name) for node in root.iter() for name in ("fill", "stroke") if node.get(name)}

    assert paints == {"black", "white", "none"}


@pytest.mark.parametrize("count", [1, 40])
def test_everything_lies_within_the_edges(count):
    """One dough or forty on one spot."""
    spots = tuple(Spot(x=Decimal(40), y=Decimal(n % 3), name=f"C{n}", kind=n) for n in range(count))
    for node in plot(spots=spots).iter():
        if node.tag.endswith(("text", "circle")):
            x, y = (int(node.get("x") or node.get("cx")), int(node.get("y") or node.get("cy")))
            assert 0 <= x <= WIDE
            assert 0 <= y <= HIGH
