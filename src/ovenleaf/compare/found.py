"""Bakes looked through for what is asked: what of each fits, and what those that fit have in common.

Having a thing in common is no cause of anything.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.domain.finding import Asked, Baked, Figure, FindFault, NotRecorded, Standing, Words

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from ovenleaf.compare.looked import Looked
    from ovenleaf.compare.trial_view import TrialView


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """A bake that fits: for each thing asked, what of it fits, in words; "" where the bake's row says it."""

    view: TrialView
    why: tuple[str, ...]


# --- what fits ----------------------------------------------------------------------------------


def settled(asked: tuple[Asked, ...], bakes: Sequence[Looked]) -> tuple[Asked, ...]:
    """What is asked, each figure with the kind it can only mean here. Raises FindFault for one that means none."""
    return tuple(_settled(one, bakes) if isinstance(one, Figure) else one for one in asked)


def _settled(asked: Figure, bakes: Sequence[Looked]) -> Figure:
    facts = [fact for bake in bakes for fact in bake.facts]
    kinds = {fact.kind for fact in facts if _means(asked.name, fact.name)}
    if not facts or asked.bounds.kind in kinds:
        return asked
    if asked.bounds.kind == "plain" and kinds and "heat" not in kinds and "share" in kinds:
        return replace(asked, bounds=replace(asked.bounds, kind="share"), said=f"{asked.said} %")
    if kinds:
        how = _UNITS[sorted(kinds)[0]]
        raise FindFault(asked.said, f"{asked.name} is told {how[0]}", f"write it as in {asked.name} above {how[1]}")
    near = _near(asked.name, sorted({fact.name for fact in facts if fact.kind == asked.bounds.kind}))
    mean = f"did you mean {near}?" if near else "write it as in dough above 26 C, crumb below 6, bulk above 60 min"
    raise FindFault(asked.said, f"no bake in this book tells {asked.name} {_UNITS[asked.bounds.kind][0]}", mean)


def _near(typed: str, names: Sequence[str]) -> str:
    """The name that is spelled most like what was typed, or that has a word which is."""
    words = {word: name for name in reversed(names) for word in (name, *_plain(name).split())}
    return next((words[near] for near in difflib.get_close_matches(typed, words, n=1, cutoff=0.7)), "")


_UNITS = {
    "heat": ("in degrees C or F", "26 C"),
    "time": ("in minutes or hours", "60 min"),
    "share": ("in percent of the flour", "2 %"),
    "mass": ("as a weight", "884 g"),
    "plain": ("as a plain figure", "6"),
}


def fitting(asked: tuple[Asked, ...], bakes: Sequence[Looked]) -> tuple[Fit, ...]:
    """The bakes that fit all that is asked, in the order they are given in."""
    by_gaps = {one.name for one in asked if isinstance(one, NotRecorded) and _is_a_gap(one.name, bakes)}
    found = []
    for bake in bakes:
        why = [_why(one, bake, by_gaps) for one in asked]
        if None not in why:
            found.append(Fit(view=bake.view, why=tuple(words or "" for words in why)))
    return tuple(found)


def _is_a_gap(name: str, bakes: Sequence[Looked]) -> bool:
    return any(_means(name, gap.words) for bake in bakes for gap in bake.view.gaps)


def _why(asked: Asked, bake: Looked, by_gaps: set[str]) -> str | None:
    """What of the bake fits, in words; None where it does not fit."""
    match asked:
        case Figure():
            return _figure_in(asked, bake)
        case Baked():
            return "" if asked.days.holds(bake.view.trial.bake_date) else None
        case Words():
            return _words_in(asked, bake)
        case NotRecorded():
            return "" if _missing_in(asked.name, bake, asked.name in by_gaps) else None
        case Standing():
            return _standing(asked.state, bake)


def _figure_in(asked: Figure, bake: Looked) -> str | None:
    meant = [fact for fact in bake.facts if fact.kind == asked.bounds.kind and _means(asked.name, fact.name)]
    exact = [fact for fact in meant if _plain(fact.name) == _plain(asked.name)]
    for fact in exact or meant:
        if any(asked.bounds.holds(value) for value in fact.values):
            return f"{fact.name} {fact.shown}"
    return None


def _missing_in(name: str, bake: Looked, by_gaps: bool) -> bool:
    if by_gaps:
        return any(_means(name, gap.words) for gap in bake.view.gaps)
    told = any(fact.recorded and _means(name, fact.name) for fact in bake.facts)
    return not told and not any(text and _means(name, place) for place, text in bake.texts)


_WHOLE = ("revision", "by", "taster", "trial")  # a name is meant whole: r3 is not r31


def _words_in(asked: Words, bake: Looked) -> str | None:
    wanted = _plain(asked.text)
    begins = re.compile(rf"(?<!\w){re.escape(wanted)}")
    for place, text in bake.texts:
        if asked.place not in ("", place):
            continue
        whole = place in _WHOLE
        if text and (_plain(text) == wanted if whole else begins.search(_plain(text))):
            return None if asked.absent else ("" if place in ("formula", "trial", "revision") else f"{place}: {text}")
    return "" if asked.absent else None


def _standing(state: str, bake: Looked) -> str | None:
    trial = bake.view.trial
    late = bool(trial.entered) and not trial.entered.startswith(trial.bake_date)
    stands = {
        "left out": (bool(trial.left_out), f"left out: {trial.left_out}"),
        "not scored": (not trial.scores, "not scored"),
        "told late": (late, f"told on {trial.entered[:10]}"),
        "with pictures": (bool(trial.photos), f"pictures: {len(trial.photos)}"),
    }
    holds, words = stands.get(state, (trial.state == state, state))
    return words if holds else None


def _means(asked: str, name: str) -> bool:
    """True where all the words that were said are among the words of a name."""
    return set(_plain(asked).split()) <= set(_plain(name).split())


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[-,:;()]", " ", text.casefold()).split())


# --- what they have in common -------------------------------------------------------------------


def in_common(fits: Sequence[Fit], bakes: Sequence[Looked], asked: tuple[Asked, ...]) -> tuple[tuple[str, str], ...]:
    """What all the bakes that fit recorded: (name, from lowest to highest), or the text where it is the same."""
    found = [bake for bake in bakes if any(bake.view is fit.view for fit in fits)]
    if len(found) < 2:
        return ()
    figures = [one.name for one in asked if isinstance(one, Figure)]
    names = dict.fromkeys(fact.name for fact in found[0].facts if fact.recorded and fact.kind in ("heat", "time"))
    spans = [(name, _span(name, found)) for name in names if not any(_means(one, name) for one in figures)]
    return (*_same_texts(found), *((name, span) for name, span in spans if span))


def _span(name: str, bakes: Iterable[Looked]) -> str:
    facts = [next((fact for fact in bake.facts if fact.recorded and fact.name == name), None) for bake in bakes]
    told = [fact for fact in facts if fact is not None]
    courses = {fact.shown for fact in told if len(set(fact.values)) > 1}
    if len(told) < len(facts) or (courses and len({fact.shown for fact in told}) > 1):
        return ""
    lowest, highest = min(told, key=lambda fact: fact.values[0]), max(told, key=lambda fact: fact.values[-1])
    return lowest.shown if lowest.shown == highest.shown else f"{lowest.shown} to {highest.shown}"


def _same_texts(bakes: Sequence[Looked]) -> list[tuple[str, str]]:
    shared = set.intersection(*({(p, t) for p, t in bake.texts if p in ("flour", "oven", "fault")} for bake in bakes))
    return sorted(shared)
