"""What a book says of itself: its title, its scale, its weights, its bakers; and marks on revisions."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ovenleaf.domain.trial import ScoreScale

KEEPER = "keeper"
TAKEN_BACK = "taken back"
MARKS = (KEEPER, "superseded", "dropped")
USUAL_SCALE = ScoreScale(low=Decimal(0), high=Decimal(10))


@dataclass(frozen=True, slots=True, kw_only=True)
class BookPage:
    """The page book.yaml. `anchors` say in words what marks on the scale mean; `persons` whose second copy of the
    book a handle writes for, by that handle; `names` what bakers are called, by handle."""

    title: str = ""
    scale: ScoreScale = USUAL_SCALE
    anchors: tuple[tuple[str, str], ...] = ()
    weights: tuple[tuple[str, Decimal], ...] = (("crumb", Decimal(1)), ("crust", Decimal(1)))
    bakers: tuple[str, ...] = ()
    names: tuple[tuple[str, str], ...] = ()
    persons: tuple[tuple[str, str], ...] = ()
    tasters: tuple[str, ...] = ()
    places: tuple[tuple[str, str], ...] = ()
    scales: str = ""

    @property
    def top(self) -> str:
        """What the highest mark means, in the book's own words, or ""."""
        return dict(self.anchors).get(str(self.scale.high), "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """What a revision is worth: keeper, superseded, dropped or taken back. Marks are only added."""

    revision: str
    mark: str
    by: str
    at: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """An answer to a question of `check`, remembered: yes, that was meant; or that answer `taken_back`."""

    revision: str
    about: str
    by: str
    at: str
    why: str
    taken_back: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PutAway:
    """A formula put away, or taken out again: `state` is `away` or `back`."""

    state: str
    by: str
    at: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """A page that went out to readers: of which revision, as what, into which file; or that the one before it, of the
    same kind and file, is out no more (`taken_back`). `contains` are the allergens it names, `leans_on` what it says
    of bakes, for a batch with so much `flour`; `keeper` is the one of that time."""

    revision: str
    kind: str
    file: str
    by: str
    at: str
    contains: tuple[str, ...] = ()
    leans_on: tuple[str, ...] = ()
    flour: str = ""
    keeper: str = ""
    taken_back: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class MarksPage:
    """The page marks.yaml of one formula."""

    formula: str
    marks: tuple[Mark, ...] = ()
    meant: tuple[Meant, ...] = ()
    retired: tuple[PutAway, ...] = ()
    published: tuple[Published, ...] = ()

    @property
    def _live(self) -> tuple[Mark, ...]:
        """The marks that were not taken back, in the order they were given.

        Taken back takes the last mark of its revision away; where it has none, it is the revision that is.
        """
        live: list[Mark] = []
        for mark in self.marks:
            own = [place for place, one in enumerate(live) if one.revision == mark.revision]
            if mark.mark != TAKEN_BACK or not own:
                live.append(mark)
            elif live[own[-1]].mark != TAKEN_BACK:
                del live[own[-1]]
        return tuple(live)

    @property
    def standing(self) -> dict[str, str]:
        """The mark that stands for each revision: the last one given to it that was not taken back."""
        return {mark.revision: mark.mark for mark in self._live}

    @property
    def taken_back(self) -> frozenset[str]:
        """The revisions that were taken back themselves, and not marked as anything since."""
        return frozenset(revision for revision, mark in self.standing.items() if mark == TAKEN_BACK)

    @property
    def keeper(self) -> str:
        """The revision marked keeper last, if that mark still stands, or ""."""
        standing = self.standing
        keepers = [mark.revision for mark in self._live if mark.mark == KEEPER]
        return next((r for r in reversed(keepers) if standing.get(r) == KEEPER), "")

    @property
    def answers(self) -> tuple[Meant, ...]:
        """What was answered to be meant, and not taken back since."""
        found: list[Meant] = []
        for one in self.meant:
            if one.taken_back:
                found = [old for old in found if (old.revision, old.about) != (one.revision, one.about)]
            else:
                found.append(one)
        return tuple(found)

    @property
    def out(self) -> tuple[Published, ...]:
        """The pages that are out: of each kind and form the last one that was not taken back."""
        found: list[Published] = []
        for one in self.published:
            if one.taken_back:
                found = [old for old in found if (old.kind, old.file) != (one.kind, one.file)]
            else:
                found.append(one)
        return tuple({(one.kind, one.file.rpartition(".")[2]): one for one in found}.values())

    @property
    def is_away(self) -> bool:
        """True if the formula is put away."""
        return bool(self.retired) and self.retired[-1].state == "away"
