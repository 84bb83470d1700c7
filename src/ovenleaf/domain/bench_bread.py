"""Pieces and weights told at the bench: how many, how heavy the dough, how heavy the bread when it is cold."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain.batch import dough_in_batch
from ovenleaf.domain.bench_clock import minutes_between
from ovenleaf.domain.bench_echo import AsWords, Bread, Echo, Kept, Stands
from ovenleaf.domain.bench_limits import unusual_loss
from ovenleaf.domain.bench_plan import Kind
from ovenleaf.domain.benchline import read
from ovenleaf.domain.benchvalues import Pieces
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.figures import grams as in_words
from ovenleaf.domain.losses import baked_loss
from ovenleaf.domain.measures import in_grams
from ovenleaf.domain.numbers import number
from ovenleaf.domain.quantity import GRAMS_PER, Amount, AmountFault, Unit, amount

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime
    from decimal import Decimal

    from ovenleaf.domain.bench_clauses import Clause
    from ovenleaf.domain.bench_log import Runs
    from ovenleaf.domain.said import Pairs
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial

_BAKED = ("cold", "cool", "cooled", "baked", "out", "hot", "warm")
_DIVIDING = ("divide", "scale")
_COLD = ("cold", "cool", "cooled")


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """What the scale is asked about: the trial as it stands, its sheet, its runs, and when it was weighed."""

    trial: Trial
    sheet: Sheet
    runs: Runs
    at: datetime


def weighed_bread(clause: Clause, scale: Scale) -> tuple[tuple[Echo, ...], Pairs] | None:
    """What a clause with pieces or a weight says, and what of it goes among what was measured; None where nothing."""
    pieces = next((field.value for field in clause.fields if isinstance(field.value, Pieces)), None)
    weight = next((f.value for f in clause.fields if f.name == "weight" and isinstance(f.value, Amount)), None)
    words = clause.words.lower().replace(",", " ").split() or (["out"] if clause.is_of_bake else [])
    if weight is not None and not (pieces and pieces.each) and any(word in _BAKED for word in words):
        return _baked(clause, pieces, weight, words, scale)
    if weight is not None and any(word in ("dough", "raw") for word in words):
        return _one("dough weight", str(weight), scale.trial)
    if weight is None and pieces is not None and not words:
        return _one("pieces", str(pieces.count), scale.trial, shown=str(pieces))
    return None


def _one(name: str, text: str, trial: Trial, shown: str = "") -> tuple[tuple[Echo, ...], Pairs]:
    stands = dict(trial.measured).get(name)
    if stands is not None:
        return (Stands(name=name, said=text, stands=stands) if stands != text else Kept(name=name, text=text),), ()
    return (Kept(name=name, text=shown or text),), ((name, text),)


def _baked(
    clause: Clause, pieces: Pieces | None, weight: Amount, words: Iterable[str], scale: Scale
) -> tuple[tuple[Echo, ...], Pairs]:
    stands = dict(scale.trial.measured).get("baked weight")
    if stands is not None:
        return (Stands(name="baked weight", said=str(weight), stands=stands),), ()
    baked = in_grams(weight.value, weight.unit)
    dough, of = _dough(pieces, scale)
    if dough is not None and baked > dough:
        why = f"that is more than the dough, {in_words(dough)}, {of or 'as weighed'}"
        return (AsWords(text=clause.typed, why=why),), ()
    cold = any(word in _COLD for word in words)
    hot = "" if cold or not any(word in ("hot", "warm") for word in words) else ", hot"
    after = _since_out(scale) if cold else None
    loss = None if dough is None else baked_loss(dough, baked)
    found = [("baked weight", f"{weight}{hot}")]
    known = dict(scale.trial.measured)
    if pieces is not None and "pieces" not in known:
        found.insert(0, ("pieces", str(pieces.count)))
    if after is not None and "cooled" not in known:
        found.append(("cooled", str(after)))
    echo = Bread(
        pieces=str(pieces) if pieces else "",
        weight=str(weight),
        after=after,
        loss=loss,
        dough=dough,
        of=of,
        usual="" if loss is None else unusual_loss(loss),
    )
    return (echo,), tuple(found)


def _since_out(scale: Scale) -> Duration | None:
    out = next((run.ended for run in reversed(scale.runs) if run.step.kind is Kind.BAKE and run.ended), None)
    if out is None or out >= scale.at:
        return None
    minutes = number(str(minutes_between(out, scale.at)))
    return Duration(low=minutes, high=minutes)


def _dough(pieces: Pieces | None, scale: Scale) -> tuple[Decimal | None, str]:
    """The dough that the bread was, in g, and how that is known: weighed, so many pieces as planned, or the batch."""
    said = dict(scale.trial.measured).get("dough weight")
    if said is not None and (weight := _weight(said)) is not None:
        return weight, ""
    divided = next((value for run in scale.runs if isinstance(value := run.get("weight"), Amount)), None)
    each = _each(divided, scale.sheet)
    if pieces is not None and each is not None:
        return each * pieces.count, f"{pieces.count} pieces of {in_words(each)}"
    batch = None if scale.trial.shares_dough_with else dough_in_batch(scale.trial.batch, scale.sheet.worked)
    return batch, "" if batch is None else "all the dough of the batch"


def loss_by_pieces(trial: Trial, sheet: Sheet) -> tuple[Decimal, str] | None:
    """The bake loss in percent where the dough itself was not weighed, but its pieces are known, with what they were;
    None where the bread was not weighed or the pieces are not known."""
    told = dict(trial.measured)
    baked, count = _weight(told.get("baked weight", "")), told.get("pieces", "")
    weights = (step.line.get("weight") for step in trial.steps if step.name.startswith(_DIVIDING))
    each = _each(next((value for value in weights if isinstance(value, Amount)), None), sheet)
    if baked is None or each is None or not count.isdecimal() or not int(count):
        return None
    dough = each * int(count)
    return baked_loss(dough, baked), f"{in_words(dough)}, which is {count} pieces of {in_words(each)}"


def _each(divided: Amount | None, sheet: Sheet) -> Decimal | None:
    """What one piece of dough weighs: as it was divided, or as the page divides it."""
    lines = [step.line for step in sheet.formula.process if step.name.startswith(_DIVIDING)]
    lines.append(read(sheet.formula.makes))
    planned = (line.get("weight") for line in lines)
    each = divided or next((value for value in planned if isinstance(value, Amount)), None)
    return in_grams(each.value, each.unit) if each is not None and each.unit in GRAMS_PER else None


def _weight(text: str) -> Decimal | None:
    try:
        found = amount(text, bare=Unit.G)
    except AmountFault:
        return None
    return in_grams(found.value, found.unit) if found.unit in GRAMS_PER else None
