"""A blind tasting as a document. The key is empty until all is in."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ovenleaf.evidence.tasting import TriangleVerdict, Verdict
    from ovenleaf.present.documents.common import Document
    from ovenleaf.results import TastingShown


def tasting(result: TastingShown) -> Document:
    """`taste`."""
    page = result.tasting
    away = dict(page.absent)
    return {
        "format": "ovenleaf.tasting/1",
        "tasting": page.name,
        "design": page.design.value,
        "by": page.by,
        "set_up": page.set_up,
        "question": page.question or None,
        "breads": [
            {"code": one.code, "formula": one.formula, "revision": one.revision, "bake_date": one.bake_date or None}
            for one in result.breads
        ],
        "tasters": [
            {"taster": taster, "order": list(order), "absent": away.get(taster)} for taster, order in page.orders
        ],
        "still_to_come": [{"taster": taster, "codes": list(codes)} for taster, codes in page.still_to_come],
        "opened": page.opened or None,
        "key": [{"code": code, "bread": bread} for code, bread in page.key],
        "marks": None if result.verdict is None else _verdict(result.verdict),
        "triangle": None if result.triangle is None else _triangle(result.triangle),
    }


def _verdict(found: Verdict) -> Document:
    panel = found.panel
    return {
        "rows": [
            {
                "code": plate.code,
                "bread": plate.bread,
                "crumb": plate.outcome.crumb,
                "crust": plate.outcome.crust,
                "score": plate.outcome.score,
            }
            for plate in found.plates
        ],
        "tasters": list(found.complete),
        "rank_sums": [{"bread": name, "sum": total} for name, total in panel.sums] if panel else [],
        "friedman": panel.statistic if panel else None,
        "chance": panel.chance if panel else None,
        "exact": panel.exact if panel else None,
        "kendall_w": panel.agreement if panel else None,
        "least_difference": panel.least if panel else None,
        "apart": [list(pair) for pair in panel.apart] if panel else [],
    }


def _triangle(found: TriangleVerdict) -> Document:
    return {"right": found.right, "tasters": found.tasters, "chance": found.chance, "needed": found.least}
