"""Revisions in their places with how sure that is, as text. A leader on one dough is never called a winner."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import score
from ovenleaf.errors import Next
from ovenleaf.evidence.tasters import TELLING, How
from ovenleaf.evidence.verdicts import Call
from ovenleaf.present.chance_words import (
    apart_words,
    blind_sentence,
    call_sentence,
    chance_words,
    leaning_sentence,
    more_words,
    range_words,
    scatter_sentence,
)
from ovenleaf.present.findings import findings_block
from ovenleaf.present.ranked import aim, left_out, of_other_scales, scale_words, spoken, tasters_line, what_words
from ovenleaf.present.screen import blocks, clean, count, join_words, next_block, number_word, rows, wrap

if TYPE_CHECKING:
    from ovenleaf.evidence.ranking import RankedRevision
    from ovenleaf.evidence.standing import Standing, Standings
    from ovenleaf.results import RankedTrials


def standing_screen(result: RankedTrials) -> str:
    """The ranking by revision."""
    revisions = result.revisions or ()
    shown = revisions if result.top is None else revisions[: result.top]
    doughs = sum(row.doughs for row in revisions)
    numbers = f"{count(len(revisions), 'revision')}, {count(doughs, 'dough')}" if revisions else "nothing scored yet"
    head = f"{what_words(result)}: {numbers}."
    alone = result.standings[0] if len(result.standings) == 1 else None
    return blocks(
        "\n".join(
            filter(
                None,
                (
                    wrap(head),
                    wrap(f"{aim(result)} Averaged over the doughs.") if revisions else "",
                    wrap(scale_words(result)),
                    wrap(tasters_line(result)),
                ),
            )
        ),
        *(_tables(result, shown) if shown else ("No revision could be ranked.",)),
        f"  and {count(len(revisions) - len(shown), 'more', 'more')} below" if len(shown) < len(revisions) else "",
        left_out(result),
        *(_said(result, alone) if alone else _several(revisions)),
        findings_block(result.findings),
        next_block(_next(result, alone)),
    )


def _tables(result: RankedTrials, shown: tuple[RankedRevision, ...]) -> tuple[str, ...]:
    """One table for each formula, since a place says nothing of one formula beside another."""
    wanted = {(row.formula, row.revision) for row in shown}
    order = dict.fromkeys(row.formula for row in shown)
    found = {of.formula: of for of in result.standings}
    return tuple(
        "\n".join(
            filter(
                None, (clean(name.replace("-", " ").capitalize()) if len(order) > 1 else "", _table(result, of, rows_))
            )
        )
        for name in order
        if (of := found[name]) and (rows_ := [s for s in of.rows if (name, s.row.revision) in wanted])
    )


def _table(result: RankedTrials, found: Standings, shown: list[Standing]) -> str:
    several = (f"best of the {number_word(len(found.rows))}",) if len(found.rows) > 1 else ()
    heading = ("place", "revision", "doughs", "mean", "likely range", "lowest", *several)
    return rows([_row(result, standing) for standing in shown], f"<<<>><{'<' if several else ''}", heading=heading)


def _row(result: RankedTrials, standing: Standing) -> tuple[str, ...]:
    row = standing.row
    return (
        f"{row.place} equal" if row.tied else str(row.place),
        spoken(result, row.formula, row.revision),
        str(row.doughs),
        score(row.mean),
        range_words(standing.low, standing.high),
        score(row.lowest),
        *(() if standing.chance is None else (chance_words(standing.chance),)),
    )


def _several(revisions: tuple[RankedRevision, ...]) -> tuple[str, ...]:
    if not revisions:
        return ()
    return (
        wrap(
            "Each formula is scored by its own aims, so a place or a chance says nothing of one formula beside another."
            " The true mean lies in the likely range nine times in ten."
        ),
    )


def _said(result: RankedTrials, found: Standings) -> tuple[str, ...]:
    """What the table can tell: who is ahead and how surely, by what scatter, and how it was tasted."""
    scatter = scatter_sentence(found.scatter, found.reckoned)
    ranges = "The true mean lies in the likely range nine times in ten."
    return (
        wrap(" ".join(filter(None, (_leader(result, found), _order(result, found))))),
        wrap(_gap(result, found)),
        wrap(f"{scatter} {ranges}"),
        wrap(" ".join(filter(None, (_alike(found), _compared(result, found), blind_sentence(found.blind))))),
    )


def _leader(result: RankedTrials, found: Standings) -> str:
    """Whether the likeliest best is the best, with its chance and the doughs that rests on."""
    if found.first is None or found.leader is None:
        return "There is no other revision with scored doughs to set beside it."
    if found.rows[0].chance == found.rows[1].chance and found.rows[0].row.tied:
        alike_ = [spoken(result, found.formula, s.row.revision) for s in found.rows if s.row.place == 1]
        return f"Nothing is ahead: {join_words(alike_)} came out the same, and which is best cannot be told."
    if same := _level_with(found, found.first):
        alike_ = [spoken(result, found.formula, s.row.revision) for s in same]
        return f"Nothing is ahead: by the marks that are compared, {join_words(alike_)} came out the same."
    row = found.first.row
    name = spoken(result, found.formula, row.revision)
    chance = chance_words(found.leader.chance)
    number = number_word(len(found.rows))
    rests = ", and that rests on one dough" if row.doughs == 1 else f", on {count(row.doughs, 'dough')}"
    if row.doughs > 1 and found.leader.fewest == 1:
        rests += ", though one beside it rests on one dough"
    match found.leader.call:
        case Call.BETTER:
            return f"{name.capitalize()} is better than the rest: {chance} to be the best of the {number}{rests}."
        case Call.LEANS:
            return f"{name.capitalize()} leans ahead, {chance} to be the best of the {number}{rests}; not proof yet."
        case Call.CANNOT_TELL:
            return (
                f"Ahead so far: {name}, and no more than that: {chance} to be the best{rests}. Which of the"
                f" {number} is best cannot be told yet."
            )


def _level_with(found: Standings, first: Standing) -> list[Standing]:
    """The likeliest best and what is just as likely, by the same mean that is compared; none where it stands alone."""
    same = [one for one in found.rows if (one.chance, one.compared) == (first.chance, first.compared)]
    return same if len(same) > 1 else []


def _order(result: RankedTrials, found: Standings) -> str:
    """Why the likeliest best does not stand first, where that is so."""
    top = found.rows[0]
    if found.first is None or top.chance == found.first.chance:
        return ""
    name = spoken(result, found.formula, top.row.revision).capitalize()
    why = "has fewer doughs behind it" if top.row.doughs < found.first.row.doughs else "was tasted by other people"
    return f"{name} has the higher mean but {why}."


def _gap(result: RankedTrials, found: Standings) -> str:
    """The two that are worth setting beside each other: how far apart, and how far that may be in truth."""
    gap = found.gap
    if gap is None or found.first is None:
        return ""
    above, below = (spoken(result, found.formula, name) for name in (gap.above, gap.below))
    call = call_sentence(gap, above, below) if len(found.rows) > 2 else ""  # of two, the leader's sentence says it
    how = {
        How.ALL: "",
        How.SHARED: f"By the marks of {join_words(found.tasters.shared)}",
        How.ADJUSTED: "With each taster's leaning taken out",
    }[found.tasters.how]
    return " ".join(filter(None, (call, apart_words(gap, above, below, how), more_words(gap))))


def _alike(found: Standings) -> str:
    """How doughs that not the same people tasted were set beside each other, and how the tasters mark."""
    tasters = found.tasters
    leaning = leaning_sentence(tasters.leanings, TELLING)
    match tasters.how:
        case How.ALL:
            both = "Both" if len(tasters.tasters) == 2 else "All"
            return f"{leaning} {both} tasted every dough, so that favours no revision." if leaning else ""
        case How.SHARED:
            return (
                f"Not everyone tasted every dough: ranges and chances go by the marks of"
                f" {join_words(tasters.shared)}, who tasted all; means are of all who tasted."
            )
        case How.ADJUSTED:
            return (
                "Not everyone tasted every dough: for ranges and chances each taster's leaning is taken out; means are"
                f" as marked. {leaning}".strip()
            )


def _compared(result: RankedTrials, found: Standings) -> str:
    """The means that ranges and chances go by, where they are not those of the table."""
    other = [one for one in found.rows if score(one.compared) != score(one.row.mean)]
    told = [f"{score(one.compared)} for {spoken(result, found.formula, one.row.revision)}" for one in other]
    return f"The means that are compared so: {join_words(told)}." if told else ""


def _next(result: RankedTrials, found: Standings | None) -> tuple[Next, ...]:
    scales = of_other_scales(result)
    unscored = [trial for trial, why in result.ranking.left_out if why.endswith(("not scored", "not scored yet"))]
    if not result.revisions and unscored:
        return (*scales, Next(f"ovenleaf score {unscored[-1].code}", "what a taster says"))
    if found is None or found.first is None:
        names = [*result.formulas, *(row.formula for row in result.revisions or ())]
        return (*scales, *(Next(f"ovenleaf history {name}", "what each revision changed") for name in names[:1]))
    lead = found.first.row
    typed = f"{lead.formula} {typed_revision(result, lead)}"
    if lead.doughs == 1:
        return (*scales, Next(f"ovenleaf record {typed}", "a second dough would tell most"))
    return (*scales, Next(f"ovenleaf history {lead.formula}", "what each revision changed"))


def typed_revision(result: RankedTrials, row: RankedRevision) -> str:
    """A revision as it may be typed: `r5` while only one baker has that number."""
    short = row.revision.split(".")[0]
    only = spoken(result, row.formula, row.revision) == f"revision {short.removeprefix('r')}"
    return short if only else row.revision
