"""How many hostile books there are."""

from __future__ import annotations

import pytest

from hostile import test_addresses, test_arriving, test_folders, test_lying_about, test_pages

pytestmark = pytest.mark.counted


def test_there_are_enough_of_them():
    """Each kind counted; the folder of tests would be of little use with a handful."""
    books = {
        "folders with programs": len(test_folders.BOOKS) + 1,
        "histories made by hand": len(test_arriving.BOOKS) + len(test_arriving.SIGNED) + 4,
        "links": 2 * len(test_lying_about.LINKS),
        "pipes": len(test_lying_about.PIPES),
        "states that lie": len(test_lying_about.LIES) + 1,
        "pages": len(test_pages.PAGES) + 1,
        "addresses": len(test_addresses.ADDRESSES) + len(test_addresses.WITH_PASSWORD),
    }
    print(f"\n{sum(books.values())} hostile books: " + ", ".join(f"{kind} {number}" for kind, number in books.items()))
    assert sum(books.values()) >= 170
