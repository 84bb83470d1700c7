"""What a job returns: frozen facts for a screen, for JSON, for a test. No words of a screen in here."""

from __future__ import annotations

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
from ovenleaf.results.tasting import TastingSetUp as TastingSetUp
from ovenleaf.results.tasting import TastingShown as TastingShown
from ovenleaf.results.tasting import TastingTold as TastingTold
from ovenleaf.results.weighing import Weighed as Weighed
from ovenleaf.results.weighing import WeighUp as WeighUp
