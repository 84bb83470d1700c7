"""Who is told how far long work has come."""

from ovenleaf.book.steps.onlooker import look_on

__all__ = ["look_on"]
