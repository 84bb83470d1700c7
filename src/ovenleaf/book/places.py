"""What lies beside the pages in a book's folder, by name. Loads nothing, for those who must not wait."""

from __future__ import annotations

HISTORY = ".git"  # the folder of the book's history
STATE = "ovenleaf"  # in there: what belongs to this copy alone
