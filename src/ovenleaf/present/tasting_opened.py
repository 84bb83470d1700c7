"""What came of an opened tasting as text: marks, what the panel's ranks can tell, the triangle's count."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import mark, score
from ovenleaf.errors import Next
from ovenleaf.evidence.panel import RARE
from ovenleaf.present.marks import weights_words
from ovenleaf.present.screen import blocks, count, join_words, next_block, number_word, rows, wrap

if TYPE_CHECKING:
    from ovenleaf.domain.tasting import Tasting
    from ovenleaf.evidence.panel import PanelResult
    from ovenleaf.evidence.tasting import TriangleVerdict, Verdict
    from ovenleaf.results import TastingShown


def opened_blocks(shown: TastingShown, kept: tuple[tuple[str, str], ...] = ()) -> str:
    """What came of an opened tasting, in words a baker and a statistician can both live with."""
    tasting = shown.tasting
    away = [f"Nothing came from {taster}: {why}." for taster, why in tasting.absent]
    if shown.triangle is not None:
        body = [_triangle_block(tasting, shown.triangle)]
    else:
        assert shown.verdict is not None
        body = _marks_blocks(shown, shown.verdict)
    return blocks(
        wrap(f"All is in, and the codes are open. {_who_tasted(shown)}"),
        wrap(" ".join(away)) if away else "",
        *body,
        _kept_words(kept),
        next_block(_next_open(shown)),
    )


def _who_tasted(shown: TastingShown) -> str:
    told = {t for t, _, _ in shown.tasting.marks} | {t for t, _ in shown.tasting.odd}
    names = [taster for taster in shown.tasting.tasters if taster in told]
    return f"Tasted by {join_words(names)}, not knowing which bread was which." if names else "Nobody tasted."


def _marks_blocks(shown: TastingShown, found: Verdict) -> list[str]:
    breads = {bread.code: bread for bread in shown.breads}
    lines = []
    for plate in found.plates:
        bread = breads.get(plate.bread)
        name = f"{plate.name}, {bread.title}, {bread.spoken}" if bread else plate.name
        of = plate.outcome
        marks = ["blank" if value is None else mark(value) for value in (of.crumb, of.crust)]
        lines.append((name, plate.code, *marks, "no score" if of.score is None else score(of.score)))
    table = rows(lines, "<>>>>", heading=("bread", "code", "crumb", "crust", "score"))
    head = wrap(f"Score is {weights_words(shown.book.weights)}, averaged over the tasters.")
    return [f"{head}\n\n{table}", "What this can tell\n" + wrap(" ".join(_verdict_words(found)), 2)]


def _verdict_words(found: Verdict) -> list[str]:
    told = _panel_words(found.panel, found.complete) if found.panel else _no_panel(found.complete)
    if found.repeats:
        gaps = join_words([f"{taster} {score(apart)}" for taster, apart in found.repeats])
        told.append(f"One bread came twice; the two marks of each taster for it lie this far apart: {gaps}.")
    if found.panel and any(
        one.removesuffix(" again") == other.removesuffix(" again") for one, other in found.panel.apart
    ):
        told.append("Two plates of one bread were told apart, which no bread explains: take the rest with care.")
    told.append("These are tasters, and each bread is one dough: another bake may turn it round.")
    return told


def _no_panel(complete: tuple[str, ...]) -> list[str]:
    if not complete:
        return ["No taster marked every bread, so the tasters cannot be compared."]
    return [f"Only {complete[0]} marked every bread. One taster's order is an opinion, and no test of it."]


def _panel_words(panel: PanelResult, complete: tuple[str, ...]) -> list[str]:
    sums = sorted(panel.sums, key=lambda row: -row[1])
    told = ", ".join(f"{name} {_figure(total)}" for name, total in sums)
    how = "counted over every order there could be" if panel.exact else "by chi-square, which is rough for few tasters"
    words = [
        f"Ranked by each of {count(len(complete), 'taster')}, the most liked highest, the rank sums are {told}.",
        f"Ranks dealt out by lot would lie this far apart {chance_words(panel.chance)} ({how}).",
        f"The tasters' agreement is {panel.agreement:.2f}, where 1 is complete and 0 none (Kendall's W).",
    ]
    if not panel.differ:
        return [*words, "So these tasters cannot tell the breads apart; that does not show them to be alike."]
    return [*words, _apart_words(panel, sums)]


def _apart_words(panel: PanelResult, sums: list[tuple[str, float]]) -> str:
    least = f"{panel.least:.1f}"
    if len(sums) == 2:
        return f"So these tasters do tell them apart, {sums[0][0]} above {sums[1][0]}."
    if not panel.apart:
        return f"So not all are alike, but no two rank sums lie {least} apart, so which differ cannot be told."
    order = [name for name, _ in sums]
    pairs = [sorted(pair, key=order.index) for pair in panel.apart]
    told = join_words([f"{better} above {other}" for better, other in pairs])
    return f"So not all are alike: {told}, whose rank sums lie at least {least} apart; the others cannot be told apart."


def _figure(total: float) -> str:
    return f"{total:.1f}".removesuffix(".0")


def chance_words(chance: float) -> str:
    """A chance as a count a baker can picture.

    >>> chance_words(0.0038), chance_words(0.12), chance_words(0.00001)
    ('about 4 times in 1000', 'about 12 times in 100', 'less than once in 1000 times')
    """
    if chance > 0.995:
        return "every time"
    if chance < 0.001:
        return "less than once in 1000 times"
    if chance < 0.01:
        return f"about {_times(round(chance * 1000))} in 1000"
    return f"about {_times(round(chance * 100))} in 100"


def _times(number: int) -> str:
    return "once" if number == 1 else f"{number} times"


def _triangle_block(tasting: Tasting, found: TriangleVerdict) -> str:
    one, other = tasting.breads
    if not found.tasters:
        return "What this can tell\n" + wrap("Nobody named an odd one, so nothing can be said.", 2)
    first = f"{_of_all(found)} found the odd one."
    guess = f"Guessing alone finds that many or more {chance_words(found.chance)}."
    if found.chance <= RARE:
        so = f"So {one} and {other} can be told apart; by how much, and which is better, was not asked."
    elif found.least is None:
        so = "So few tasters could not show it even if all were right; it takes three at least."
    else:
        least = number_word(found.least)
        so = f"It would have taken {least} of them. That does not show {one} and {other} to be alike."
    return "What this can tell\n" + wrap(f"{first} {guess} {so}", 2)


def _of_all(found: TriangleVerdict) -> str:
    return f"{number_word(found.right).capitalize()} of {count(found.tasters, 'taster')}"


def _kept_words(kept: tuple[tuple[str, str], ...]) -> str:
    if not kept:
        return ""
    told = join_words([f"{taster}'s of {bread}" for taster, bread in kept])
    return wrap(f"Marks that stood in a trial before stay there: {told}. The blind ones stand in the tasting.")


def _next_open(shown: TastingShown) -> tuple[Next, ...]:
    formulas = tuple(dict.fromkeys(bread.formula for bread in shown.breads))
    if shown.triangle is not None:
        again = f"ovenleaf taste {' '.join(shown.tasting.breads)} --tasters {','.join(shown.tasting.tasters)}"
        return (Next(again, "which is better, by marks"),)
    rank = " ".join(("ovenleaf rank", *formulas))
    return (Next(rank, "the bakes by their scores"),) if formulas else ()
