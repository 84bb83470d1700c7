"""What results of writing share."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What every writing job tells ahead of all else: that it is a preview, or what became of an earlier
    entry that was cut off; "" otherwise."""

    ahead: str = ""
