"""Pieces of work that two jobs share: open a book, take a formula off its shelf, keep a page."""
