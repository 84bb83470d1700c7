"""What a taster says of one plate of a blind tasting: whether it can be taken down, and what of it is put right."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.marks_in_words import marks_said
from ovenleaf.book.steps.recording import check_marks
from ovenleaf.domain.figures import mark_as_given
from ovenleaf.domain.tasting import Design, Tasting
from ovenleaf.domain.trial import ATTRIBUTES, Correction, Marks
from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from ovenleaf.book.steps.signing import Stamp
    from ovenleaf.book.steps.telling import MarkOptions
    from ovenleaf.domain.book import BookPage

_ODD = "odd"


class NotTold(Refusal):
    """Something that cannot be taken down for a tasting. Fact: `about`."""

    def __init__(self, about: str, what: str, *detail: str, next: tuple[Next, ...] = ()) -> None:
        super().__init__(what, detail=detail, next=next)
        self.about = about


def awaited(tasting: Tasting) -> tuple[str, ...]:
    """What is still to come, a sentence for each taster."""
    return tuple(f"Awaited from {taster}: {', '.join(codes)}." for taster, codes in tasting.still_to_come)


def whom_to_leave_out(tasting: Tasting) -> Next:
    """How to say that nothing will come from the first who is awaited."""
    return Next(f'ovenleaf taste --absent {tasting.still_to_come[0][0]} --why "..."', "if nothing will come")


def check_plate(tasting: Tasting, taster: str, code: str) -> None:
    """Raise NotTold unless this taster has that plate and something is awaited from him."""
    orders = dict(tasting.orders)
    if taster not in orders:
        raise NotTold("taster", f"{taster} is not among the tasters: {', '.join(orders)}.", "Say who with --taster.")
    if code not in orders[taster]:
        raise NotTold("code", f"{code} was not on {taster}'s plates: {', '.join(orders[taster])}.")
    if taster in dict(tasting.absent):
        raise NotTold("taster", f"It was said that nothing will come from {taster}: {dict(tasting.absent)[taster]}.")


def marks_told(
    tasting: Tasting, taster: str, code: str, words: str, options: MarkOptions, book: BookPage, *, odd: bool
) -> Marks | None:
    """The marks as told; None for the odd one of a triangle. Raises NotTold, CannotRecord."""
    if tasting.design is Design.TRIANGLE:
        if odd or words.strip().lower() == _ODD:
            return None
        raise NotTold(
            "odd",
            "In a triangle the odd one of the three is named, and nothing is marked.",
            next=(Next(f"ovenleaf taste {code} --odd --taster {taster}", f"if {code} is the odd one"),),
        )
    marks = marks_said(words, taster, options)
    if marks is None:
        raise NotTold("words", f"This cannot be taken for marks: {words}.", "Say them as in: crumb 7, crust 8, dry")
    if marks == Marks(taster=taster):
        command = f"ovenleaf taste {code} --taster {taster} --crumb 7 --crust 8"
        raise NotTold("marks", f"No marks were given for {code}.", next=(Next(command),))
    check_marks(marks, book)
    return marks


def corrections_of(
    tasting: Tasting, taster: str, code: str, marks: Marks | None, why: str, stamp: Stamp
) -> tuple[Correction, ...]:
    """What changes of what was told before. Raises NotTold where no reason is given."""
    changed = _changed_odd(tasting, taster, code) if marks is None else _changed_marks(tasting, code, marks)
    if changed and not why:
        was = ", ".join(f"{field.rpartition('.')[2]} {old}" for field, old, _ in changed)
        raise NotTold(
            "again",
            f"{taster} has told of this already: {was}.",
            "To put it right, say why: what was told stays visible on the page.",
            next=(Next(_again(taster, code, changed, odd=marks is None)),),
        )
    return tuple(
        Correction(field=field, was=was, now=now, by=stamp.by, at=stamp.saved, why=why) for field, was, now in changed
    )


def _again(taster: str, code: str, changed: list[tuple[str, str, str]], *, odd: bool) -> str:
    """The same once more, with a reason."""
    told = "--odd" if odd else " ".join(f"--{field.rpartition('.')[2]} {now}" for field, _, now in changed)
    return f'ovenleaf taste {code} --taster {taster} {told} --why "typed the wrong mark"'


def _changed_odd(tasting: Tasting, taster: str, code: str) -> list[tuple[str, str, str]]:
    was = dict(tasting.odd).get(taster, code)
    return [(f"odd.{taster}", was, code)] if was != code else []


def _changed_marks(tasting: Tasting, code: str, marks: Marks) -> list[tuple[str, str, str]]:
    before = next((m for taster, of, m in tasting.marks if (taster, of) == (marks.taster, code)), None)
    found = []
    for name in ATTRIBUTES:
        old, new = getattr(before, name, None), getattr(marks, name)
        if old is not None and new is not None and old != new:
            found.append((f"marks.{marks.taster}.{code}.{name}", mark_as_given(old), mark_as_given(new)))
    return found
