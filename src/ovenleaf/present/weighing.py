"""A weigh-up as text: bowls in the order they are weighed, then water, swaps, schedule."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.figures import pct
from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.domain.quantity import GRAMS_PER, Unit
from ovenleaf.errors import Next
from ovenleaf.present.formula import cautions, revision_words
from ovenleaf.present.screen import blocks, clock, count, date_words, join_words, next_block, rows, wrap
from ovenleaf.present.watering import water_block

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.losses import Loss
    from ovenleaf.domain.scaling import Bowl, Dilution
    from ovenleaf.domain.schedule import Slot
    from ovenleaf.domain.yeast import Swap
    from ovenleaf.results import Weighed, WeighUp


def weigh_screen(result: Weighed) -> str:
    """One formula's weigh-up, or several with one list of the flour they need together."""
    parts = [_up(up, result) for up in result.ups]
    name = result.ups[0].sheet.formula.name
    written = [f"Written: {path}." for path in (result.sheet_path, result.calendar) if path]
    return blocks(
        *parts,
        _flours(result) if len(result.ups) > 1 else "",
        "\n".join(written),
        cautions(result.ups[0].sheet),
        next_block(
            (
                Next(f"ovenleaf record {name} --crumb 7 --crust 8", "when it is baked"),
                *(
                    ()
                    if result.ups[0].water
                    else (Next(f"ovenleaf weigh {name} --water-temp --room 20C --flour-temp 19C"),)
                ),
            )
        ),
    )


def _up(up: WeighUp, result: Weighed) -> str:
    return blocks(
        _head(up),
        *(_swap(one) for one in up.swaps),
        *(_bowl(bowl, up, result.unit) for bowl in up.bowls),
        *(_dilution(one) for one in up.dilutions),
        _check(up),
        water_block(up.water) if up.water else "",
        _schedule(up.slots),
    )


def _head(up: WeighUp) -> str:
    formula = up.sheet.formula
    keeper = ", your keeper" if up.keeper else ""
    first = f"{formula.label}, {revision_words(up.sheet)}{keeper}: weigh-up for {_for_what(up)}."
    scale = up.scale
    fine = f", and to {weight(scale.fine)} below {weight(scale.below)}" if scale.fine != scale.step else ""
    return "\n".join(
        filter(None, (wrap(first), wrap(_dough(up)), wrap(_losses(up)), f"Your scale: to {weight(scale.step)}{fine}."))
    )


def _for_what(up: WeighUp) -> str:
    wanted = up.wanted
    if wanted.pieces is not None and wanted.each is not None:
        baked = " when baked" if wanted.baked else ""
        return f"{wanted.pieces} {_noun(up)} of {weight(wanted.each)}{baked}"
    if wanted.dough is not None:
        return f"{weight(wanted.dough)} of dough"
    return f"{weight(up.batch.flour)} of flour"


def _noun(up: WeighUp) -> str:
    """What the formula calls its pieces."""
    said = benchline.read(up.sheet.formula.makes).get("pieces")
    return said.noun if isinstance(said, benchline.Pieces) else "pieces"


def _dough(up: WeighUp) -> str:
    made = up.batch
    said = f"Dough {weight(rounded(made.dough, 0))}"
    if made.pieces and made.each and made.lost:
        kept = rounded(made.dough - made.lost, 0)
        said += f": {weight(kept)} for the pieces, {weight(rounded(made.dough, 0) - kept)} for bowl and bench"
    if up.wanted.baked and made.each:
        said += f". A piece is {weight(rounded(made.each, 1))} of dough"
    return f"{said}."


_FROM = {
    "given": "as you said",
    "formula": "as the formula says",
    "none": "none was given, and none was measured",
}


def _losses(up: WeighUp) -> str:
    said = []
    if up.bench.pct:
        said.append(f"Bench loss {_loss(up.bench)}.")
    if up.wanted.baked:
        said.append(f"Bake loss {_loss(up.bake)}.")
    return " ".join(said)


def _loss(loss: Loss) -> str:
    source = (
        f"as {count(loss.bakes, 'bake')} of this formula measured" if loss.source == "trials" else _FROM[loss.source]
    )
    return f"{pct(loss.pct)}, {source}"


def weight(grams: Decimal) -> str:
    """A weight in g as a scale shows it."""
    return f"{plain(grams)} g"


def in_unit(grams: Decimal, unit: str) -> str:
    """A weight in g, or in oz below a pound and in lb and oz above."""
    if unit == "g":
        return weight(grams)
    ounces = grams / GRAMS_PER[Unit.OZ]
    pounds, rest = divmod(ounces, 16)
    small = f"{plain(rounded(rest, 2))} oz"
    return f"{plain(pounds)} lb {small}" if pounds else small


def _bowl(bowl: Bowl, up: WeighUp, unit: str) -> str:
    measures = dict(up.household)
    lines = [
        (
            ", ".join(filter(None, (line.item, line.note))),
            in_unit(line.grams, unit),
            measures.get(f"{bowl.name}:{line.item}", ""),
        )
        for line in bowl.lines
    ]
    total = (bowl.name if bowl.name != "final dough" else "dough", in_unit(bowl.total, unit), "")
    rest = f", then {bowl.rest}" if bowl.rest else ""
    heading = f"{bowl.name.capitalize()}{rest}"
    loose = "  Cups and spoons differ from hand to hand; go by the weights." if measures else ""
    return "\n".join(filter(None, (heading, rows([*lines, total], "<><"), loose)))


def _dilution(one: Dilution) -> str:
    return wrap(
        f"{weight(rounded(one.exact, 2))} of {one.item} is too little for your scale. Stir {weight(one.stir)} of it"
        f" into {weight(one.water)} of water, put {weight(one.take)} of that in the {one.bowl}, and take"
        f" {weight(one.less)} less water there.",
        2,
    )


def _check(up: WeighUp) -> str:
    """What the rounding did to the whole formula."""
    planned = {share.item: share.pct for share in up.sheet.worked.whole}
    told = [f"{item} {pct(share)}" for item, share in up.weighed if item in planned and not _is_main(up, item)]
    few = any(line.few for bowl in up.bowls for line in bowl.lines)
    small = " Lines too small for the scale are counted as written." if few and not up.dilutions else ""
    return wrap(f"Rounded like this the whole dough has, of all its flour, {join_words(told)}.{small}") if told else ""


def _is_main(up: WeighUp, item: str) -> bool:
    flours = [name for name, kind in up.sheet.kinds if kind.value == "flour"]
    return flours == [item]


def _swap(one: Swap) -> str:
    return wrap(
        f"{pct(one.old)} {one.old_item} times {plain(rounded(one.factor, 3))} is {pct(one.new)} {one.new_item};"
        f" {pct(abs(one.water))} {'more' if one.water > 0 else 'less'} water keeps the dough as heavy. This is for this"
        f" bake alone; the formula stays."
    )


def _schedule(slots: tuple[Slot, ...]) -> str:
    if not slots:
        return ""
    lines, day = [], ""
    for slot in slots:
        today = date_words(slot.begins.isoformat())
        words = ", ".join(filter(None, (_span(slot), f"until {slot.sign}" if slot.sign else "", slot.adjusted)))
        lines.append((today if today != day else "", clock(slot.begins), slot.name, words))
        day = today
    end = slots[-1].ends
    ended = date_words(end.isoformat())
    lines.append((ended if ended != day else "", clock(end), "ready", ""))
    signs = wrap("The signs decide, not the clock.", 2)
    table = rows([(f"{day}, {at}" if day else at, name, words) for day, at, name, words in lines], "<<<")
    return f"Schedule\n{table}\n{signs}"


def _span(slot: Slot) -> str:
    low, high = (rounded(minutes, 0) for minutes in (slot.low, slot.high))
    if high >= 120:
        told = [f"{plain(rounded(minutes / 60, 1))} h" for minutes in (low, high)]
    else:
        told = [f"{plain(minutes)} min" for minutes in (low, high)]
    return told[0] if told[0] == told[1] else f"{told[0].split()[0]} to {told[1]}"


def _flours(result: Weighed) -> str:
    return "Flour for all of them\n" + rows(
        [(item, in_unit(grams, result.unit)) for item, grams in result.flours], "<>"
    )
