"""A weigh-up as text: bowls in the order they are weighed, then water, swaps, schedule."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.figures import pct
from ovenleaf.domain.numbers import rounded
from ovenleaf.domain.paper import heading
from ovenleaf.domain.scaling import FINAL
from ovenleaf.domain.yeast import swaps_in_words
from ovenleaf.present.findings import findings_block
from ovenleaf.present.formula import cautions, revision_words
from ovenleaf.present.screen import blocks, count, join_words, rows, wrap
from ovenleaf.present.spoons import spoons_block
from ovenleaf.present.timetable import timetable_block
from ovenleaf.present.watering import water_block
from ovenleaf.present.weigh_next import weighed_next
from ovenleaf.present.weights import as_weighed, cells, cells_weighed, columns, weight
from ovenleaf.present.words import in_degrees

if TYPE_CHECKING:
    from ovenleaf.domain.dilution import Dilution
    from ovenleaf.domain.losses import Loss
    from ovenleaf.domain.scaling import Bowl, Weight
    from ovenleaf.results import Weighed, WeighUp


def weigh_screen(result: Weighed, typed: str) -> str:
    """One formula's weigh-up, or several with one list of what they need together; `typed` is what asked for it."""
    first = result.ups[0]
    if result.water_alone and first.water:
        return blocks(
            _title(first), water_block(first.water, result.unit), all_cautions(result), weighed_next(result, typed)
        )
    written = [f"Written: {path}." for path in (result.sheet_path, result.calendar) if path]
    return blocks(
        *(_up(up, result) for up in result.ups),
        _together(result),
        "\n".join(written),
        all_cautions(result),
        findings_block(result.findings),
        weighed_next(result, typed),
    )


def all_cautions(result: Weighed) -> str:
    """What all the doughs contain between them, and what can hurt."""
    sheets = [up.sheet for up in result.ups]
    allergens = tuple(dict.fromkeys(one for sheet in sheets for one in sheet.allergens))
    kinds = tuple(kind for sheet in sheets for kind in sheet.kinds)
    return cautions(replace(sheets[0], allergens=allergens, kinds=kinds))


def _title(up: WeighUp) -> str:
    """Which revision it is, where the bowls are not shown."""
    keeper = ", your keeper" if up.keeper else ""
    return wrap(f"{up.sheet.formula.label}, {revision_words(up.sheet)}{keeper}: the water for {for_what(up, 'g')}.")


def _up(up: WeighUp, result: Weighed) -> str:
    unit = result.unit
    return blocks(
        _head(up, unit),
        *(wrap(said) for said in changes(up)),
        *(_bowl(bowl, up, unit) for bowl in up.bowls),
        *(wrap(dilution_words(one, unit), 2) for one in up.dilutions),
        wrap(_few(up, unit), 2),
        spoons_block(up),
        _check(up),
        water_block(up.water, unit) if up.water else "",
        timetable_block(up, result.now),
    )


def _head(up: WeighUp, unit: str) -> str:
    formula = up.sheet.formula
    keeper = ", your keeper" if up.keeper else ""
    scale = up.scale
    fine = f", and to {weight(scale.fine, unit)} below {weight(scale.below, unit)}" if scale.below else ""
    draft = f"The page of {formula.name} has changes that are not saved; they are not weighed up here."
    said = (
        f"{formula.label}, {revision_words(up.sheet)}{keeper}: weigh-up for {for_what(up, unit)}.",
        draft if up.newer_draft else "",
        _dough(up, unit),
        _losses(up),
        f"Your scale: to {weight(scale.step, unit)}{fine}.",
    )
    return "\n".join(wrap(sentence) for sentence in said if sentence)


def for_what(up: WeighUp, unit: str) -> str:
    """What is weighed up, in words: `24 rolls of 85 g`."""
    wanted = up.wanted
    if wanted.pieces is not None and wanted.each is not None:
        baked = " when baked" if wanted.baked else ""
        return f"{pieces_words(up, wanted.pieces)} of {weight(wanted.each, unit)}{baked}"
    if wanted.dough is not None:
        return f"{weight(rounded(wanted.dough, 1), unit)} of dough"
    return f"{weight(rounded(up.batch.flour, 1), unit)} of flour"


def pieces_words(up: WeighUp, pieces: int) -> str:
    """So many of what the formula calls its pieces: `24 rolls`, `1 loaf`."""
    said = benchline.read(up.sheet.formula.makes).get("pieces")
    noun = said.noun if isinstance(said, benchline.Pieces) else "pieces"
    return str(benchline.Pieces(count=pieces, noun=noun))


def _dough(up: WeighUp, unit: str) -> str:
    made = up.batch
    dough = rounded(made.dough, 0)
    said = f"Dough {weight(dough, unit)}"
    if made.lost:
        kept = rounded(made.dough - made.lost, 0)
        noun = pieces_words(up, 2).split(" ", 1)[1]
        said += f": {weight(kept, unit)} for the {noun}, {weight(dough - kept, unit)} for bowl and bench"
    if up.wanted.baked and made.each:
        said += f". Each is {weight(rounded(made.each, 1), unit)} of dough"
    return f"{said}."


_FROM = {"given": "as you said", "formula": "as the formula says"}


def _losses(up: WeighUp) -> str:
    bench = f"Bench loss {_loss(up.bench)}." if up.bench.pct else ""
    bake = f"Bake loss {_loss(up.bake)}." if up.wanted.baked else ""
    return " ".join(filter(None, (bench, bake)))


def _loss(loss: Loss) -> str:
    measured = f"as {count(loss.bakes, 'bake')} of this formula measured"
    return f"{pct(loss.pct)}, {_FROM.get(loss.source, measured)}"


def changes(up: WeighUp) -> list[str]:
    """What this bake has other than the formula."""
    said = list(swaps_in_words(up.swaps, up.other_swaps))
    if said:
        said[-1] += " This is for this bake alone; the formula stays."
    return said


def _bowl(bowl: Bowl, up: WeighUp, unit: str) -> str:
    measures = {place: told or "by weight" for place, told in up.household}
    total = (bowl.name if bowl.name != FINAL else "dough", *cells(bowl.total, unit))
    lines = [*((_name(line), *cells_weighed(line.grams, up.scale, unit)) for line in bowl.lines), total]
    spec = f"<{columns(unit)}"
    if measures:
        beside = [measures.get(f"{bowl.name}:{line.item}", "") for line in bowl.lines]
        lines = [(*cells_of, told) for cells_of, told in zip(lines, [*beside, ""], strict=True)]
        spec += "<"
    notes = [
        *(f"{line.item.capitalize()}: {in_degrees(line.note)}." for line in bowl.lines if _is_long(line)),
        _kept(bowl, unit),
        f"All of it goes into the {bowl.into}." if bowl.into and not bowl.kept else "",
    ]
    return "\n".join(
        (wrap(in_degrees(heading(bowl.name, bowl.rest))), rows(lines, spec), *(wrap(note, 2) for note in notes if note))
    )


_LONG = 40  # columns; a name with a longer note would push the weights off the screen


def _name(line: Weight) -> str:
    return line.item if not line.note or _is_long(line) else f"{line.item}, {in_degrees(line.note)}"


def _is_long(line: Weight) -> bool:
    """True where the note is told below the table."""
    return bool(line.note) and len(line.item) + len(line.note) > _LONG


def _kept(bowl: Bowl, unit: str) -> str:
    goes = f"the rest goes into the {bowl.into or FINAL}"
    return f"Keep {weight(bowl.kept, unit)} of it for next time; {goes}." if bowl.kept else ""


def dilution_words(one: Dilution, unit: str) -> str:
    """How to weigh what is too little for the scale."""
    stir, water = weight(one.stir, unit), weight(one.water, unit)
    again = f" Stir {stir} of that into {water} of fresh water." * one.again
    last = "the last" if one.again else "that"
    return (
        f"{weight(one.grams, unit)} of {one.item} is too little for your scale. Stir {stir} of it into {water} of"
        f" water.{again} Put {weight(one.take, unit)} of {last} in the {one.bowl}, and take {weight(one.less, unit)}"
        " less water there."
    )


def _few(up: WeighUp, unit: str) -> str:
    """What is too little to weigh well and is not diluted."""
    diluted = {(one.bowl, one.item) for one in up.dilutions}
    few = [
        f"{as_weighed(line.grams, up.scale, unit)} of {line.item}"
        for bowl in up.bowls
        for line in bowl.lines
        if line.few and line.exact and (bowl.name, line.item) not in diluted
    ]
    verb = "is" if len(few) == 1 else "are"
    return f"{join_words(few)} {verb} under ten steps of your scale; a finer one is better." if few else ""


def _check(up: WeighUp) -> str:
    """What the rounding did to the whole formula."""
    flours = [name for name, kind in up.sheet.kinds if kind.value == "flour"]
    planned = {share.item for share in up.sheet.worked.whole} - (set(flours) if len(flours) == 1 else set())
    told = [f"{item} {pct(share)}" for item, share in up.weighed if item in planned]
    return wrap(f"Rounded like this the whole dough has, of all its flour, {join_words(told)}.") if told else ""


def _together(result: Weighed) -> str:
    """What several doughs need between them."""
    if len(result.ups) < 2:
        return ""
    unit = result.unit
    spec = f"<{columns(unit)}"
    flours = "Flour for all of them\n" + rows([(item, *cells(grams, unit)) for item, grams in result.flours], spec)
    return blocks(flours, *(_build(bowl, unit, spec) for bowl in result.builds))


def _build(bowl: Bowl, unit: str, spec: str) -> str:
    lines = [(line.item, *cells(line.grams, unit)) for line in bowl.lines]
    total = [] if len(lines) == 1 else [(bowl.name, *cells(bowl.total, unit))]
    return f"{bowl.name.capitalize()} for all of them, built at once\n{rows([*lines, *total], spec)}"
