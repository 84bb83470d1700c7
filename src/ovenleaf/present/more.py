"""Numbers for the sceptic as text: each with its definition, and whose it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import pct
from ovenleaf.domain.more import LEAST_SOLIDS
from ovenleaf.domain.numbers import HUNDRED, plain, rounded
from ovenleaf.errors import Next
from ovenleaf.present.formula import cautions, revision_words
from ovenleaf.present.screen import blocks, count, join_words, next_block, rows, wrap

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.flour_types import FlourTypes
    from ovenleaf.domain.more import Baked, Numbers
    from ovenleaf.results import More


def more_screen(more: More) -> str:
    """Yields, salt and solids of the bread, its volume, its flours by their ash."""
    formula, told = more.sheet.formula, more.numbers
    return blocks(
        wrap(f"{formula.label}, {revision_words(more.sheet)}: numbers for the sceptic."),
        _yields(told),
        _bread(told),
        _solids(told),
        _volume(told),
        _flours(told),
        cautions(more.sheet),
        next_block((Next(f"ovenleaf show {formula.name}", "the whole sheet"),)),
    )


def _yields(told: Numbers) -> str:
    poured = ("dough yield", _tenth(told.poured), "flour and the water that is poured")
    lines = [
        *([poured] if told.poured > HUNDRED else []),
        ("with all water", _tenth(told.all_water), "also the water inside other ingredients"),
        ("gross dough yield", _tenth(told.gross), "all that goes into the dough"),
    ]
    return f"Yields, in g to 100 g of flour (IREKS-Kompendium)\n{rows(lines, '<><')}"


def _bread(told: Numbers) -> str:
    heading = ("bake loss", "bread yield", "salt", "sodium", "solids")
    table = rows([_baked(one) for one in told.baked], "<>>>>", heading=heading)
    return "\n".join(
        (
            "The bread: yield to 100 g of flour; salt, sodium and solids in 100 g of it",
            table,
            wrap(_whence(told), 2),
            wrap(
                "The UK target for 2024 is at most 1.01 g of salt in 100 g of bread. Sodium is salt by 2.5, as an EU"
                " label counts.",
                2,
            ),
        )
    )


def _baked(one: Baked) -> tuple[str, ...]:
    solids = "not known" if one.solids is None else _tenth(one.solids)
    return (
        pct(one.loss),
        _tenth(one.bread_yield),
        f"{rounded(one.salt, 2)} g",
        f"{plain(rounded(one.sodium_mg, 0))} mg",
        solids,
    )


def _whence(told: Numbers) -> str:
    loss = told.loss
    if loss.source == "trials":
        return f"The loss is what {count(loss.bakes, 'bake')} of this formula measured."
    if loss.source == "none":
        return "No bake of this formula has measured its loss, and none is given; these three are for comparison."
    return f"The loss is as {'you' if loss.source == 'given' else 'the formula'} said."


def _solids(told: Numbers) -> str:
    law = f"21 CFR 136.110 wants {plain(LEAST_SOLIDS)} % of solids in what is sold as bread, rolls or buns in the US."
    if told.enough_loss is None:
        verb = "is" if len(told.water_not_known) == 1 else "are"
        return wrap(
            f"{law} The water inside {join_words(told.water_not_known)} {verb} not known, so solids cannot be told."
        )
    if not told.enough_loss:
        return wrap(f"{law} The dough itself holds as much.")
    return wrap(
        f"{law} This dough reaches it from a loss of {pct(told.enough_loss)}, if all that the oven takes is water."
    )


def _volume(told: Numbers) -> str:
    if not told.volumes:
        return ""
    lines = [(f"trial {one.code}", f"{rounded(one.specific, 2)} ml to the g") for one in told.volumes]
    return f"Specific volume, as measured\n{rows(lines, '<>')}"


def _flours(told: Numbers) -> str:
    if not told.flours:
        return ""
    known = [_flour(one) for one in told.flours]
    note = "By the ash of the ingredient list alone; what your sack is stands on the sack."
    return "\n".join(("Flours by their ash, in g to 100 g of dry flour", rows(known, "<><"), wrap(note, 2)))


def _flour(one: FlourTypes) -> tuple[str, str, str]:
    if one.dry_ash is None:
        return one.item, "not known", ""
    types = "; ".join(f"{' or '.join(names) if names else 'between types'} by {table}" for table, names in one.types)
    return one.item, f"{rounded(one.dry_ash, 2)} g", types


def _tenth(value: Decimal) -> str:
    return f"{rounded(value, 1)} g"
