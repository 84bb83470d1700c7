"""Where the cards of adopted recipes lie. Reads none, so that a command that only asks for that stays fast."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.domain.trial import Trial

CARD = "card.yaml"


def card_page_of(name: str) -> str:
    """Where the card of an adopted formula lies: beside its kept revisions."""
    return f"formulas/{name}/{CARD}"


def is_card(page: str) -> bool:
    """True of the name of a card's page."""
    return page.startswith("formulas/") and page.count("/") == 2 and page.endswith(f"/{CARD}")


def weighs_a_card(root: Path, trial: Trial) -> bool:
    """True of a bake that weighed something of a formula that was adopted from a card."""
    return bool(trial.weighed) and (root / card_page_of(trial.formula)).is_file()
