"""A formula page with what a baker asked to change: the page's words stay, the figures move."""

from __future__ import annotations

import difflib
import re
from typing import TYPE_CHECKING

from ovenleaf.domain.benchline import read as read_line
from ovenleaf.domain.edits import NONE, REST, Edit, EditFault, edit, meant
from ovenleaf.domain.ingredients import Kind, Pantry
from ovenleaf.domain.numbers import HUNDRED, ZERO, plain, portion, rounded
from ovenleaf.domain.percent import is_in_shares
from ovenleaf.domain.quantity import AmountFault, amount, split_note
from ovenleaf.errors import Next, Refusal, SayWhich
from ovenleaf.records.codec import editing
from ovenleaf.records.codec.amounts import amount_words
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.nodes import find

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from ovenleaf.domain.formula import Formula, Line
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.records.codec.reading import Where
    from ovenleaf.records.nodes import Page

FIELDS = ("time", "temperature", "dough temperature", "core", "until", "speed", "weight", "ph")


class CannotTweak(Refusal):
    """A change that cannot be made. Fact: `typed`."""

    def __init__(self, typed: str, what: str, *detail: str, next: Sequence[Next] = ()) -> None:
        super().__init__(f"Not tweaked: {what}", detail=detail, next=next)
        self.typed = typed


def tweaked_page(page: Page, before: Sheet, edits: Sequence[str], pantry: Pantry) -> Page:
    """The page after all edits; points are counted from `before`. Raises CannotTweak."""
    read = [_read(typed) for typed in edits]
    if not read:
        raise CannotTweak("", "nothing to change was said.", "Say it as ITEM=AMOUNT, as in water=68%")
    for one in read:
        if one.word != REST:
            page = _apply(page, one, before, pantry)
    for one in read:
        if one.word == REST:
            page = _take_up_the_rest(page, one, before, pantry)
    return page


def _read(typed: str) -> Edit:
    try:
        return edit(typed)
    except EditFault as fault:
        if fault.fault is None:
            raise CannotTweak(
                typed, f"{typed} does not say what becomes what.", "Say it as ITEM=AMOUNT, as in water=68%"
            ) from None
        raise CannotTweak(typed, *amount_words(typed.partition("=")[0], fault.fault)) from None


def _apply(page: Page, one: Edit, before: Sheet, pantry: Pantry) -> Page:
    if one.part:
        return _in_part(page, one, before, pantry)
    formula = before.formula
    items = tuple(line.item for line in formula.ingredients)
    if found := meant(one.item, items):
        return _in_block(page, ("ingredients",), _only(one, one.item, found), one, formula.ingredients, before)
    if (changed := _in_step(page, one, formula)) is not None:
        return changed
    if (part := _takes_of(one, formula)) is not None:
        return _takes(page, one, part)
    return _new_item(page, one, before, items)


class MoreThanOne(SayWhich):
    """A short name that several things of the formula share. Facts: `typed`, the change, and `names`, it in full."""

    def __init__(self, one: Edit, short: str, found: tuple[str, ...]) -> None:
        value = one.typed.partition("=")[2].strip()
        part = f"{one.part}:" if one.part else ""
        item = one.item.startswith(short)
        super().__init__(
            f"Not tweaked: {short} can mean more than one: {', '.join(found)}.",
            one.typed,
            tuple(
                f"{part}{name}{one.item[len(short) :]}={value}" if item else f"{name}:{one.item}={value}"
                for name in found
            ),
            detail=("Say which.",),
        )


def _only(one: Edit, short: str, found: tuple[str, ...]) -> str:
    if len(found) > 1:
        raise MoreThanOne(one, short, found)
    return found[0]


def _in_part(page: Page, one: Edit, before: Sheet, pantry: Pantry) -> Page:
    formula = before.formula
    for block, parts in (
        ("preferments", formula.preferments),
        ("soakers", formula.soakers),
        ("stages", formula.stages),
    ):
        names = tuple(part.name for part in parts)
        if found := meant(one.part, names):
            part = next(part for part in parts if part.name == _only(one, one.part, found))
            if one.item in ("takes", "share", "rest"):
                return (
                    _takes(page, one, (block, part.name)) if one.item != "rest" else _rest(page, one, block, part.name)
                )
            items = meant(one.item, tuple(line.item for line in part.lines))
            if items:
                return _in_block(page, (block, part.name), _only(one, one.item, items), one, part.lines, before)
            return _added(page, (block, part.name), one, part.lines)
    known = tuple(part.name for part in (*formula.preferments, *formula.soakers, *formula.stages))
    raise CannotTweak(
        one.typed,
        f"{formula.label} has no part called {one.part}.{_did_you_mean(one.part, known)}",
        f"Its parts: {', '.join(known) or 'none'}.",
    )


def _did_you_mean(typed: str, names: Sequence[str]) -> str:
    """The nearest name, spelled out or in one of its words: both may be typed."""
    meant_by = {word: name for name in reversed(names) for word in (*name.split(), name)}
    near = difflib.get_close_matches(typed.lower(), meant_by, n=1, cutoff=0.6)
    return f" Did you mean {meant_by[near[0]]}?" if near else ""


def _in_block(page: Page, block: Where, item: str, one: Edit, lines: tuple[Line, ...], before: Sheet) -> Page:
    where = (*block, item)
    if one.word == NONE:
        return editing.without_item(page, where)
    line = next(line for line in lines if line.item == item)
    return editing.with_amount(page, where, _amount(one, line, block, before))


def _amount(one: Edit, line: Line, block: Where, before: Sheet) -> str:
    """The new amount as the page should say it, in the unit the line is in."""
    in_shares = line.amount is None or line.amount.is_share
    if one.points is not None:
        base = line.amount.value if line.amount and in_shares else _pct(before, line.item)
        if base + one.points <= 0:
            raise CannotTweak(
                one.typed, f"that would leave {line.item} at nothing.", f"To leave it out: {line.item}=none"
            )
        return _share(base + one.points, before, in_shares=in_shares)
    if one.amount is None:
        raise CannotTweak(one.typed, *_no_amount(one, line.item))
    if not one.amount.value:
        raise CannotTweak(one.typed, f"that would leave {line.item} at nothing.", f"To leave it out: {line.item}=none")
    if one.amount.is_share and not in_shares and len(block) == 1:
        return _share(one.amount.value, before, in_shares=False)
    return str(one.amount)


def _no_amount(one: Edit, item: str) -> tuple[str, str]:
    """What is wrong with an amount that is none, and how to say it."""
    head, note = split_note(one.text)
    try:
        amount(head)
    except AmountFault as fault:
        if note[:1].isdigit():
            what, fix = amount_words(item, fault, note)
            return what, fix.replace(f"{item}: ", f"{item}=")
    return f"{one.text} is not an amount of {item}.", f"Say it as in {item}=68% or {item}=+3points"


def _pct(before: Sheet, item: str) -> Decimal:
    return next((share.pct for share in before.worked.whole if share.item == item), ZERO)


def _share(pct: Decimal, before: Sheet, *, in_shares: bool) -> str:
    """A share of all the flour; on a page in measures, the grams that it is of the page's flour."""
    if in_shares or before.worked.flour_g is None:
        return f"{plain(rounded(pct, 4))}%"
    return f"{plain(rounded(portion(pct, before.worked.flour_g), 1))} g"


def _takes_of(one: Edit, formula: Formula) -> tuple[str, str] | None:
    for block, parts in (("preferments", formula.preferments), ("soakers", formula.soakers)):
        for part in parts:
            if part.name == one.item:
                return block, part.name
    return None


def _takes(page: Page, one: Edit, part: tuple[str, str]) -> Page:
    """Another share of the flour for a preferment: `poolish=25%`."""
    where = (*part, "takes")
    if one.word == NONE:
        only = find(page.root, (part[0],))
        alone = only is not None and len(getattr(only, "entries", ())) == 1
        return editing.without_item(page, (part[0],) if alone else part)
    if one.amount is None or not one.amount.is_share or find(page.root, where) is None:
        raise CannotTweak(one.typed, f"what {part[1]} takes is a share of the flour.", f"Say it as in {part[1]}=25%")
    return editing.with_value(page, where, f"{one.amount} of the flour")


def _rest(page: Page, one: Edit, block: str, name: str) -> Page:
    where = (block, name, "rest")
    if find(page.root, where) is None:
        return editing.with_item(page, (block, name), "rest", one.text)
    return editing.with_value(page, where, one.text)


def _in_step(page: Page, one: Edit, formula: Formula) -> Page | None:
    """A step's field (`bulk.time=60min`), its whole line (`bulk=60 min at 26 C`) or the step itself (`fold=none`)."""
    step, _, field = one.item.partition(".")
    places = editing.step_places(page)
    found = meant(step.strip(), tuple(places))
    if one.amount is not None and not field and step.strip().lower() not in found:
        found = ()  # an amount alone is a new ingredient's, sooner than that of a step named in short
    if not found:
        if field:
            raise CannotTweak(
                one.typed,
                f"{formula.label} has no step called {step}.{_did_you_mean(step, tuple(places))}",
                f"Its steps: {', '.join(places) or 'none'}.",
            )
        return None
    where = places[_only(one, step.strip(), found)]
    if one.word == NONE and not field:
        return editing.without_step(page, where)
    if not field:
        return editing.with_step_line(page, where, one.text)
    wanted = {"dough": "dough temperature", "core temperature": "core", "temp": "temperature"}.get(field, field)
    if wanted not in FIELDS:
        raise CannotTweak(one.typed, f"a step has no {field}.", f"It may have: {', '.join(FIELDS)}.")
    return editing.with_step_field(page, where, wanted, _understood(one, wanted))


def _understood(one: Edit, field: str) -> str:
    """The text of a field, after a look at whether the bench line will read it as that field."""
    line = editing.line_with_field("", field, one.text)
    read = read_line(line)
    if read.doubts or read.get(field) is None:
        bare = re.fullmatch(r"[0-9.,]+", one.text)
        what = (
            f"{one.text} has no {'scale' if 'temperature' in field else 'unit'}"
            if bare
            else f"{one.text} is no {field}"
        )
        raise CannotTweak(one.typed, f"{what}.", "As in bulk.time=60min, bake.temperature=230C")
    return re.sub(r"(?<=\d)(?=[a-z°])", " ", one.text, flags=re.IGNORECASE)  # on a page a figure stands off its unit


def _new_item(page: Page, one: Edit, before: Sheet, items: tuple[str, ...]) -> Page:
    if one.amount is None or not items:
        steps = tuple(step.name for step in before.formula.process)
        raise CannotTweak(
            one.typed,
            f"{before.formula.label} has no {one.item}.{_did_you_mean(one.item, (*items, *steps))}",
            f"Its ingredients: {', '.join(items) or 'see its bowls'}.",
            *([f"Its steps: {', '.join(steps)}."] if steps else []),
        )
    return _added(page, ("ingredients",), one, before.formula.ingredients, before)


def _added(page: Page, block: Where, one: Edit, lines: tuple[Line, ...], before: Sheet | None = None) -> Page:
    if one.amount is None:
        raise CannotTweak(one.typed, f"there is no {one.item} in {block[-1]}.")
    text = str(one.amount)
    if before is not None and one.amount.is_share and not is_in_shares(lines):
        text = _share(one.amount.value, before, in_shares=False)
    return editing.with_item(page, block, one.item.lower(), text)


def _take_up_the_rest(page: Page, one: Edit, before: Sheet, pantry: Pantry) -> Page:
    """`wheat=rest`: the flour that is left to 100 % when the other flours are what they are now."""
    formula = read_formula(page, name=before.formula.name)
    items = tuple(line.item for line in formula.ingredients)
    item = _only(one, one.item, meant(one.item, items)) if meant(one.item, items) else ""
    if not item or pantry.get(item).kind is not Kind.FLOUR or not is_in_shares(formula.ingredients):
        flours = [name for name in items if pantry.get(name).kind is Kind.FLOUR] or ["strong wheat flour"]
        raise CannotTweak(
            one.typed,
            "only a flour of a formula in percent can take up the rest.",
            f'Say it as in "{flours[-1]}=rest"',
        )
    others = sum(
        (
            portion(pantry.get(line.item).flour, line.amount.value)
            for line in formula.ingredients
            if line.amount is not None and line.item != item
        ),
        ZERO,
    )
    if others >= HUNDRED:
        raise CannotTweak(one.typed, f"the other flours come to {plain(others)} % already; nothing is left for {item}.")
    return editing.with_amount(page, ("ingredients", item), f"{plain(HUNDRED - others)}%")
