"""A formula, a weigh-up and an ingredient as documents."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import HUNDRED, portion
from ovenleaf.present.documents.common import open_questions
from ovenleaf.present.formula import batch_flour

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Ingredient
    from ovenleaf.domain.percent import Share
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.present.documents.common import Document
    from ovenleaf.results import CardView, More, Weighed, WeighUp


def formula(sheet: Sheet) -> Document:
    """`show FORMULA`: the whole, the parts, the final dough (worked out, weights only), the totals."""
    flour = batch_flour(sheet)
    return {
        "format": "ovenleaf.formula/1",
        "formula": sheet.formula.name,
        "title": sheet.formula.label,
        "revision": None if sheet.revision is None else str(sheet.revision),
        "draft": sheet.draft,
        "by": list(sheet.formula.by),
        "saved": sheet.formula.saved or None,
        "why": sheet.formula.why or None,
        "makes": sheet.formula.makes or None,
        "open": open_questions(sheet.formula.open),
        "flour_g": flour,
        "ingredients": [_share(share, flour) for share in sheet.worked.whole],
        "preferments": [
            {
                "name": part.name,
                "leavened": part.leavened,
                "flour_pct": part.flour,
                "into": part.into or None,
                "grams": portion(part.pct, flour),
                "lines": [
                    {"item": line.item, "own_pct": line.own, "pct": line.pct, "grams": portion(line.pct, flour)}
                    for line in part.lines
                ],
            }
            for part in sheet.worked.parts
        ],
        "final_dough": [{"item": s.item, "grams": portion(s.pct, flour)} for s in sheet.worked.final],
        "totals": [{"name": name, "pct": pct} for name, pct in _totals(sheet)],
        "not_known": [{"item": item, "parts": list(parts)} for item, parts in sheet.totals.not_known],
        "process": [
            {"step": step.name, "text": step.line.typed, "words": step.line.words} for step in sheet.formula.process
        ],
        "allergens": list(sheet.allergens),
    }


def _share(share: Share, flour: Decimal) -> Document:
    return {"item": share.item, "pct": share.pct, "grams": portion(share.pct, flour), "note": share.note or None}


def _totals(sheet: Sheet) -> list[tuple[str, Decimal]]:
    t = sheet.totals
    return [
        ("water as poured", t.water_poured),
        ("all water", t.all_water),
        ("salt", t.salt),
        ("fat", t.fat),
        ("added sugar", t.added_sugar),
        ("milk sugar", t.milk_sugar),
        ("yeast as instant", t.yeast_as_instant),
        ("prefermented flour", t.prefermented_flour),
        ("dough yield", t.dough_yield),
        ("total", t.total),
    ]


def weigh(result: Weighed) -> Document:
    """`weigh`: the first formula's figures at the top, and one entry for each formula."""
    ups = [_weigh_up(up) for up in result.ups]
    first = {key: value for key, value in ups[0].items() if key not in ("formula", "revision")}
    return {
        "format": "ovenleaf.weigh/1",
        "formula": ups[0]["formula"],
        "revision": ups[0]["revision"],
        **first,
        "formulas": ups,
        "flours": [{"item": item, "grams": grams} for item, grams in result.flours],
    }


def _weigh_up(up: WeighUp) -> Document:
    spoons = dict(up.household)
    return {
        "formula": up.sheet.formula.name,
        "revision": None if up.sheet.revision is None else str(up.sheet.revision),
        "flour_g": up.batch.flour,
        "dough_g": up.batch.dough,
        "pieces": up.batch.pieces,
        "each_g": up.batch.each,
        "bench_loss_pct": up.bench.pct,
        "bake_loss_pct": up.bake.pct,
        "bowls": [
            {
                "name": bowl.name,
                "kept_g": bowl.kept,
                "lines": [
                    {
                        "item": line.item,
                        "pct": line.pct,
                        "grams": line.grams,
                        "household": spoons.get(f"{bowl.name}:{line.item}") or None,
                    }
                    for line in bowl.lines
                ],
            }
            for bowl in up.bowls
        ],
        "water_temperature_c": up.water.answer.water if up.water else None,
        "ice_g": up.water.ice_g if up.water else None,
        "schedule": [{"step": s.name, "begins": s.begins.isoformat(), "ends": s.ends.isoformat()} for s in up.slots],
    }


def card(view: CardView) -> Document:
    """`show FORMULA --card`: the card word for word, each line with what is known of it."""
    told = view.card
    return {
        "format": "ovenleaf.card/1",
        "formula": view.name,
        "title": view.title,
        "adopted": told.adopted,
        "by": told.by,
        "file": told.file or None,
        "found_in": told.found_in or None,
        "source": told.source or None,
        "measures": told.measures or None,
        "lines": [
            {
                "card": one.line.card,
                "bowl": one.line.bowl or None,
                "item": one.line.item or None,
                "taken": one.line.taken or None,
                "least": one.line.least or None,
                "most": one.line.most or None,
                "how": one.line.how or None,
                "source": one.line.source or None,
                "known_by": one.sure or None,
                "weighed_g": one.weighed,
                "trial": one.trial or None,
                "on": one.on or None,
            }
            for one in view.lines
        ],
        "notes": list(told.notes),
        "text": told.text,
    }


def more(result: More) -> Document:
    """`show FORMULA --more`: the numbers for the sceptic."""
    told = result.numbers
    return {
        "format": "ovenleaf.more/1",
        "formula": result.sheet.formula.name,
        "revision": None if result.sheet.revision is None else str(result.sheet.revision),
        "draft": result.sheet.draft,
        "dough_yield_g": told.poured if told.poured > HUNDRED else None,
        "all_water_yield_g": told.all_water,
        "gross_yield_g": told.gross,
        "loss_from": told.loss.source,
        "loss_bakes": told.loss.bakes,
        "bread": [
            {
                "bake_loss_pct": one.loss,
                "bread_yield_g": one.bread_yield,
                "salt_g": one.salt,
                "sodium_mg": one.sodium_mg,
                "solids_pct": one.solids,
            }
            for one in told.baked
        ],
        "enough_loss_pct": told.enough_loss,
        "water_not_known": list(told.water_not_known),
        "volumes": [{"trial": one.code, "ml_per_g": one.specific} for one in told.volumes],
        "flours": [
            {
                "item": one.item,
                "dry_ash_g": one.dry_ash,
                "types": [{"table": table, "names": list(names)} for table, names in one.types],
            }
            for one in told.flours
        ],
    }


def ingredient(one: Ingredient) -> Document:
    """`show INGREDIENT`: g per 100 g, household weights in g; null is not known."""
    fat, sugars, salt = ("fat", "saturates"), ("sugars", "fibre", "milk_sugar"), ("salt", "sodium")
    figures = ("flour", "water", *fat, "protein", "carbohydrate", *sugars, *salt, "ash")
    household = ("cup", "tablespoon", "teaspoon", "packet", "piece")
    return {
        "format": "ovenleaf.ingredient/1",
        "ingredient": one.name,
        "kind": one.kind.value,
        "also": list(one.also),
        "per_100_g": {name: getattr(one, name) for name in figures},
        "density_g_per_ml": one.density,
        "household_g": {name: value for name in household if (value := getattr(one, name)) is not None},
        "household_otherwise": [
            {"measure": other.measure, "how": other.how, "grams": other.grams, "source": other.source}
            for other in one.weighed_otherwise
        ],
        "as_instant_yeast": one.instant,
        "made_of": dict(one.made_of),
        "reaches_dough": one.reaches_dough,
        "allergens": list(one.allergens),
        "source": one.source or None,
        "sources": dict(one.sources),
        "note": one.note or None,
    }
