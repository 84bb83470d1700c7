"""Recipes that cannot be taken in, or only with a question: clear words, and nothing written."""

from __future__ import annotations

import json

import pytest

from refusals_support import reads_well, refused, whole

pytestmark = pytest.mark.counted

NOW = "2026-11-25T12:00:00+01:00"


def data(name="Rolls", **more):
    """schema.org data of a small recipe."""
    return {"@type": "Recipe", "name": name, "recipeIngredient": ["500 g flour", "300 g water", "10 g salt"], **more}


def page(inside, head=""):
    """A page of the web with something in its body."""
    return f"<!doctype html><html><head>{head}<title>Bread</title></head><body>{inside}</body></html>"


def script(recipe):
    """The element that holds data for machines."""
    return f'<script type="application/ld+json">{json.dumps(recipe, ensure_ascii=False)}</script>'


LATIN = page("", head='<meta charset="CHARSET">' + script(data("Br\u00f6tchen")))
REFUSED = {
    "empty.txt": "",
    "blank.txt": "\n \n\t\n",
    "no-flour.txt": "Meringue\n\n3 egg whites\n150 g sugar\n\nBeat and bake at 100 C.\n",
    "only-words.txt": "My grandmother made bread every day of her life.\n",
    "two-with-headings.txt": "Rolls\n\nIngredients\n500 g flour\n300 g water\n\nMethod\nMix and bake.\n\n"
    "Buns\n\nIngredients\n400 g flour\n200 g milk\n\nMethod\nMix and bake at 200 C.\n",
    "two-without.txt": "Rolls\n\n500 g flour\n300 g water\n\nMix and bake.\n\nBuns\n\n400 g flour\n200 g milk\n\nMix.",
    "two.json": json.dumps([data("Rolls"), data("Buns")]),
    "page-without-data.html": page("<h1>My bread</h1><p>500 g flour</p>"),
    "page-of-5-mb.html": page("<p>lorem ipsum dolor</p>" * 230_000, head=script(data())),
    "two-alphabets.txt": "Loaf\n\n500 g fl\u043eur\n300 g water\n",
    "two-alphabets-in-salt.txt": "Loaf\n\n500 g flour\n300 g water\n10 g s\u0430lt\n",
    "other-alphabet.txt": "\u0425\u043b\u0435\u0431\n\n500 \u0433 \u043c\u0443\u043a\u0438\n",
    "less-than-nothing.txt": "Loaf\n\n500 g flour\n-300 g water\n10 g salt\n",
    "less-than-nothing-of-flour.txt": "Flour \u22123 cups\n300 g water\n",
    "more-than-a-tonne.txt": "Loaf\n\n5000 kg flour\n300 g water\n",
    "lists-without-end.json": "[" * 5000 + "]" * 5000,
    "broken-off.json": '{"@type": "Recipe", "name": "Rolls", "recipeIngredient": ["500 g flour"',
    "a-person.json": '{"@type": "Person", "name": "Petra"}',
    "figures-for-lines.json": '{"@type": "Recipe", "name": 5, "recipeIngredient": [5, null, true, {"a": 1}]}',
    "not-utf-8.txt": "Br\u00f6tchen\n\n500 g flour\n".encode("latin-1"),
    "other-encoding-than-said.html": LATIN.replace("CHARSET", "shift_jis").encode("latin-1"),
    "binary.bin": bytes(range(256)) * 40,
    "photograph.jpg": b"\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01" + bytes(range(256)) * 4,
}
TAKEN = {
    "far-too-much-salt.txt": "Loaf\n\n500 g flour\n300 g water\n10 kg salt\n",
    "nothing-of-it.txt": "Loaf\n\n500 g flour\n0 g water\n10 g salt\n",
    "no-number.txt": "Loaf\n\n500 g flour\n1/0 cup water\n10 g salt\n",
    "lists-in-lists.json": json.dumps(
        data(
            recipeIngredient=[["500 g flour", ["300 g water"]], [[["10 g salt"]]]],
            recipeInstructions=[[["Mix."], ["Bake 30 min at 220 C."]]],
        )
    ),
    "signs-that-do-not-show.txt": "Loaf \x1b[2J\n\n500 g flour\n300\u200b g water\x07\n10 g salt\n",
    "utf-16.txt": "Loaf\n\n500 g flour\n300 g water\n10 g salt\n".encode("utf-16"),
    "said-encoding.html": LATIN.replace("CHARSET", "iso-8859-1").encode("latin-1"),
}


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """A book with one baker, and the files beside it."""
    folder = tmp_path_factory.mktemp("recipes")
    for name, text in {**REFUSED, **TAKEN}.items():
        (folder / name).write_bytes(text if isinstance(text, bytes) else text.encode())
    return folder / "stall"


@pytest.fixture(autouse=True)
def begun(book, oven):
    """The book, begun once."""
    if not book.exists():
        assert oven("start stall --baker noor", cwd=book.parent).code == 0


@pytest.mark.parametrize("name", [*REFUSED, "no-such-file.txt", "."])
def test_what_is_no_recipe_is_refused(name, book, oven, golden):
    """Clear words with one step to take, and a book left alone."""
    said = refused(oven, f"adopt ../{name} --name loaf", book, now=NOW)
    golden(f"bad_recipes/{'a-folder' if name == '.' else name.replace('.', '-')}", said)


@pytest.mark.parametrize("name", TAKEN)
def test_what_is_odd_is_taken_in_with_a_question(name, book, oven, golden):
    """What can be read is read, what cannot is asked about, and a preview writes nothing."""
    before = whole(book)
    ran = oven(f"adopt ../{name} --name loaf --preview", cwd=book, now=NOW)
    assert ran.code == 0, ran.err
    reads_well(ran.out)
    golden(f"bad_recipes/{name.replace('.', '-')}", ran.out)
    assert whole(book) == before


@pytest.mark.parametrize("line", ["--name x", "--name con", "--cups texan", "--say salt=10g", "--say 'water=a lot'"])
def test_what_is_said_beside_the_recipe_in_vain_is_refused(line, book, oven, golden):
    """A name no page can have, cups of nowhere, answers that say nothing or to what is not asked."""
    name = "" if "--name" in line else " --name loaf"
    said = refused(oven, f"adopt ../nothing-of-it.txt{name} {line}", book, now=NOW)
    golden(f"bad_recipes/said{''.join(sign if sign.isalnum() else '-' for sign in line.strip('-'))}".strip("-"), said)
