"""Whatever `show` found, as text or as a document: the one place that asks what it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.sheet import Sheet
from ovenleaf.present.documents import bakes, formulas
from ovenleaf.present.formula import sheet_screen
from ovenleaf.present.ingredient import ingredient_screen
from ovenleaf.present.trial import trial_screen
from ovenleaf.results import IngredientView, ShownTrial

if TYPE_CHECKING:
    from ovenleaf.present.documents.common import Document


def screen(found: Sheet | ShownTrial | IngredientView) -> str:
    """The screen of a formula, a trial or an ingredient."""
    match found:
        case Sheet():
            return sheet_screen(found)
        case ShownTrial():
            return trial_screen(found)
        case IngredientView():
            return ingredient_screen(found.ingredient)


def document(found: Sheet | ShownTrial | IngredientView) -> Document:
    """The document of a formula, a trial or an ingredient."""
    match found:
        case Sheet():
            return formulas.formula(found)
        case ShownTrial():
            return bakes.trial(found)
        case IngredientView():
            return formulas.ingredient(found.ingredient)
