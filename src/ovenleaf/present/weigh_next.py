"""What can be typed after a weigh-up: the same batch with its water, to paper, and on to the bake."""

from __future__ import annotations

import shlex
from itertools import pairwise
from typing import TYPE_CHECKING

from ovenleaf.errors import Next
from ovenleaf.present.screen import WIDTH, next_block, width_of

if TYPE_CHECKING:
    from ovenleaf.results import Weighed, WeighUp


def weighed_next(result: Weighed, typed: str) -> str:
    """The water where it was not asked for, the sheet where none was written, and so to the bake."""
    up = result.ups[0]
    name = up.sheet.formula.name
    draft = (Next(f'ovenleaf save {name} --why "..."', "keep what the page says now"),) if up.newer_draft else ()
    sheet = Next(f"ovenleaf {typed} --sheet {name}.txt", "to print, tick and fill in")
    ways = (
        *([] if up.water else _to_water(typed)),
        *([] if result.sheet_path or result.water_alone or width_of(sheet.command) > WIDTH - 2 else [sheet]),
        Next(" ".join(filter(None, ("ovenleaf record", name, up.older))), "when it is baked"),
    )
    if (up.swaps or up.other_swaps) and len(result.ups) == 1:
        ways = (_with_swaps(up, typed), *ways)
    return next_block((*draft, *ways[:2]))


def _with_swaps(up: WeighUp, typed: str) -> Next:
    """A bake begun with the same swaps, so that its page says them."""
    words = shlex.split(typed)
    behind = [after for option, after in pairwise(words) if option == "--swap"]
    given = [*behind, *(word.partition("=")[2] for word in words if word.startswith("--swap="))]
    told = [part for one in given for part in ("--swap", shlex.quote(one))]
    command = " ".join(filter(None, ("ovenleaf begin", up.sheet.formula.name, up.older, *told)))
    return Next(command, "kept as the plan of this bake, not as a new revision")


def _to_water(typed: str) -> list[Next]:
    """The same batch with its water; a long line leaves the temperatures to be asked for."""
    ways = (
        Next(f"ovenleaf {typed} --water-temp --room 20C --flour-temp 19C"),
        Next(f"ovenleaf {typed} --water-temp", "how warm to pour the water"),
    )
    return [way for way in ways if width_of(way.command) <= WIDTH - 2][:1]
