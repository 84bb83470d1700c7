"""What a recipe is made of, wherever it was read from: title, lines under headings, method, yield, source."""

from __future__ import annotations

import re
from dataclasses import dataclass

# A line that stands for a whole bowl: `all of the sponge`.
ALL_OF = re.compile(r"all\s+(?:of\s+)?the\s+(?P<bowl>[a-z][a-z -]{1,40})", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class RecipeParts:
    """A recipe taken apart, every line in its own words.

    `lines` are pairs of the heading a line stands under ("" where under none) and the line. `text` is the original
    word for word; `found_in` says what it stood in (`text`, `recipe data`, `recipe data in a page`, `published
    recipe`). `step_names` has a name for each step, "" where it is not named, or is empty; `kept` are bowls and what is
    kept of each for next time.
    """

    title: str
    lines: tuple[tuple[str, str], ...]
    steps: tuple[str, ...]
    text: str
    makes: str = ""
    source: str = ""
    notes: tuple[str, ...] = ()
    found_in: str = "text"
    step_names: tuple[str, ...] = ()
    kept: tuple[tuple[str, str], ...] = ()


class RecipeFault(ValueError):
    """A text that cannot be taken for one recipe. Facts: `kind` and `said`.

    `kind`: `empty`, `not text`, `letters`, `not data`, `page without data`, `no recipe`, `two recipes`,
    `no ingredients`, `no flour`, `mixed letters`, `negative`, `too much`.
    """

    def __init__(self, kind: str, said: tuple[str, ...] = ()) -> None:
        super().__init__(f"{kind}: {', '.join(said)}")
        self.kind = kind
        self.said = said
