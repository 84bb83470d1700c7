"""What a job returns: frozen facts for a screen, for JSON, for a test. No words of a screen in here.

Each shelf is loaded when one of its names is asked for: a command pays for its own results only.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ovenleaf.results.adopting import Adopted as Adopted
    from ovenleaf.results.adopting import CardView as CardView
    from ovenleaf.results.adopting import DraftSettled as DraftSettled
    from ovenleaf.results.bakes import BegunBake as BegunBake
    from ovenleaf.results.bakes import Corrected as Corrected
    from ovenleaf.results.bakes import Finished as Finished
    from ovenleaf.results.bakes import Jotted as Jotted
    from ovenleaf.results.bakes import OnPaper as OnPaper
    from ovenleaf.results.bakes import Photographed as Photographed
    from ovenleaf.results.bakes import Recorded as Recorded
    from ovenleaf.results.bakes import Scored as Scored
    from ovenleaf.results.bakes import ShownTrial as ShownTrial
    from ovenleaf.results.bakes import TakenBack as TakenBack
    from ovenleaf.results.books import Answered as Answered
    from ovenleaf.results.books import CheckReport as CheckReport
    from ovenleaf.results.books import Found as Found
    from ovenleaf.results.books import Gaps as Gaps
    from ovenleaf.results.books import ListedFormula as ListedFormula
    from ovenleaf.results.books import Listing as Listing
    from ovenleaf.results.books import Now as Now
    from ovenleaf.results.books import Repaired as Repaired
    from ovenleaf.results.books import Started as Started
    from ovenleaf.results.books import Undone as Undone
    from ovenleaf.results.common import Written as Written
    from ovenleaf.results.comparing import Diff as Diff
    from ovenleaf.results.comparing import RankedTrials as RankedTrials
    from ovenleaf.results.comparing import Side as Side
    from ovenleaf.results.formulas import AddedIngredient as AddedIngredient
    from ovenleaf.results.formulas import Copied as Copied
    from ovenleaf.results.formulas import Entered as Entered
    from ovenleaf.results.formulas import History as History
    from ovenleaf.results.formulas import HistoryRow as HistoryRow
    from ovenleaf.results.formulas import IngredientView as IngredientView
    from ovenleaf.results.formulas import Marked as Marked
    from ovenleaf.results.formulas import More as More
    from ovenleaf.results.formulas import Poured as Poured
    from ovenleaf.results.formulas import Retired as Retired
    from ovenleaf.results.formulas import Saved as Saved
    from ovenleaf.results.formulas import Tweaked as Tweaked
    from ovenleaf.results.planning import BakePlanned as BakePlanned
    from ovenleaf.results.planning import NextBakes as NextBakes
    from ovenleaf.results.sharing import Invited as Invited
    from ovenleaf.results.sharing import Joined as Joined
    from ovenleaf.results.sharing import Settled as Settled
    from ovenleaf.results.sharing import SettledRow as SettledRow
    from ovenleaf.results.sharing import Shared as Shared
    from ovenleaf.results.tasting import TastingSetUp as TastingSetUp
    from ovenleaf.results.tasting import TastingShown as TastingShown
    from ovenleaf.results.tasting import TastingTold as TastingTold
    from ovenleaf.results.weighing import Weighed as Weighed
    from ovenleaf.results.weighing import WeighUp as WeighUp

_SHELVES = {
    "adopting": ("Adopted", "CardView", "DraftSettled"),
    "bakes": (
        "BegunBake",
        "Corrected",
        "Finished",
        "Jotted",
        "OnPaper",
        "Photographed",
        "Recorded",
        "Scored",
        "ShownTrial",
        "TakenBack",
    ),
    "books": (
        "Answered",
        "CheckReport",
        "Found",
        "Gaps",
        "ListedFormula",
        "Listing",
        "Now",
        "Repaired",
        "Started",
        "Undone",
    ),
    "common": ("Written",),
    "comparing": ("Diff", "RankedTrials", "Side"),
    "formulas": (
        "AddedIngredient",
        "Copied",
        "Entered",
        "History",
        "HistoryRow",
        "IngredientView",
        "Marked",
        "More",
        "Poured",
        "Retired",
        "Saved",
        "Tweaked",
    ),
    "planning": ("BakePlanned", "NextBakes"),
    "sharing": ("Invited", "Joined", "Settled", "SettledRow", "Shared"),
    "tasting": ("TastingSetUp", "TastingShown", "TastingTold"),
    "weighing": ("Weighed", "WeighUp"),
}
_SHELF_OF = {name: shelf for shelf, names in _SHELVES.items() for name in names}


def __getattr__(name: str) -> object:
    """The result of that name, from its shelf."""
    if name not in _SHELF_OF:
        raise AttributeError(name)
    return getattr(importlib.import_module(f"ovenleaf.results.{_SHELF_OF[name]}"), name)
