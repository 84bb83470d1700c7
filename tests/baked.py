"""Made-up trials for the tests of evidence."""

from __future__ import annotations

from decimal import Decimal

from ovenleaf.domain.trial import Marks, ScoreScale, Trial

EQUAL = (("crumb", Decimal(1)), ("crust", Decimal(1)))
TEN = ScoreScale(low=Decimal(0), high=Decimal(10))


def marks(crumb=None, crust=None, taster="noor", **said):
    """One taster's marks; None is a blank."""
    given = {"crumb": crumb, "crust": crust}
    return Marks(taster=taster, **{n: None if v is None else Decimal(str(v)) for n, v in given.items()}, **said)


def baked(code, *scores, revision="r1.noor", **said):
    """One trial of the market roll."""
    facts = {"formula": "market-roll", "bake_date": "2026-11-12", "scale": TEN} | said
    return Trial(name=f"{facts['formula']}/{code.lower()}", code=code, revision=revision, scores=scores, **facts)


def story(taken=()):
    """The eight bakes of four revisions that the design tells of, both tasters at one; `taken` leaves some out."""
    told = {
        "r1.noor": ((5.5, 7), (6.5, 7.5)),
        "r2.noor": ((7, 7.5), (6, 7)),
        "r3.noor": ((8, 7), (8.5, 8), (7.5, 7.5)),
        "r4.noor": ((8.5, 8),),
    }
    codes = iter(f"A{number}" for number in range(1, 10))
    return [
        baked(code, marks(*pair), marks(*pair, "tomas"), revision=revision)
        for revision, pairs in told.items()
        for pair in pairs
        if (code := next(codes)) not in taken
    ]
