"""What a baker types to put a trial right: `weighed.salt=10g`, `scores.noor.crumb=7`, `steps.bulk.time=58 min`.

Knows which values a trial can have and how each is named; not what is on a page, nor whether a value can be so.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain.edits import NONE

if TYPE_CHECKING:
    from collections.abc import Collection

PLAIN = (
    "revision",
    "state",
    "bake_date",
    "started",
    "baker",
    "batch",
    "shares_dough_with",
    "question",
    "as_planned",
    "left_out",
)
# What a trial is called by for ever, and what ovenleaf alone writes.
NEVER = ("format", "trial", "formula", "code", "entered", "scale", "pin", "corrections", "photos", "taken")
OPEN = ("kitchen", "measured", "plan")  # blocks that may hold what no formula names
MEASURED = ("dough temperature", "core temperature", "dough weight", "baked weight", "pieces", "cooled", "pH", "rise")
KITCHEN = ("room", "mixer", "oven")
MARKS = ("crumb", "crust", "flavour", "bake_again", "hours_after", "blind", "note")
STEP_FIELDS = ("time", "temperature", "dough temperature", "core", "speed", "until", "weight", "ph")


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One value as typed. `field` is its name, `value` what it should be, "" to take it away."""

    typed: str
    field: str
    value: str

    @property
    def block(self) -> str:
        """The block of the page that the value stands in: `weighed`, or the name itself."""
        return self.field.partition(".")[0]

    @property
    def rest(self) -> str:
        """The name within its block, "" for a value that stands by itself."""
        return self.field.partition(".")[2]


class ChangeFault(ValueError):
    """Words that do not say what becomes what. Fact: `typed`."""

    def __init__(self, typed: str) -> None:
        super().__init__(typed)
        self.typed = typed


def change(typed: str) -> Change:
    """Read one FIELD=VALUE. Raises ChangeFault where there is no `=`, or nothing on one side of it.

    >>> change("weighed.poolish.water = 120 g").field, change("measured.pieces=none").value
    ('weighed.poolish.water', '')
    """
    field, equals, value = typed.partition("=")
    field, value = " ".join(field.split()), value.strip()
    if not equals or not field or not value:
        raise ChangeFault(typed)
    return Change(typed=typed, field=field, value="" if value.lower() == NONE else value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """The names of values that one trial has, and of those it may have besides, as corrections write them.

    `steps` are the steps that were recorded or planned.
    """

    recorded: tuple[str, ...]
    possible: tuple[str, ...]
    steps: tuple[str, ...]


def field_meant(typed: str, names: Names) -> str | None:
    """The field that a typed name means: one that is there, may be there, or a new one in an open block; else None.

    Capitals and hyphens do not matter, and a bowl may be parted from its item by a point.

    >>> names = Names(recorded=("weighed.poolish:water",), possible=("kitchen.room",), steps=("bulk",))
    >>> field_meant("Weighed.poolish.water", names), field_meant("steps.bulk.time", names)
    ('weighed.poolish:water', 'steps.bulk.time')
    >>> field_meant("kitchen.draught", names), field_meant("kitchen.rom", names), field_meant("salt", names)
    ('kitchen.draught', None, None)
    """
    wanted = folded(typed)
    for known in (*names.recorded, *names.possible):
        if wanted in (folded(known), folded(known.replace(":", "."))):
            return known
    block, _, rest = typed.partition(".")
    block = block.lower()
    if block == "steps":
        return _step_field(rest, names.steps)
    if block in OPEN and rest and not nearest(typed, names):
        return f"{block}.{rest}"
    return None


def _step_field(rest: str, steps: tuple[str, ...]) -> str | None:
    """`bulk`, or `bulk.time`, under the step's own name."""
    for step in sorted(steps, key=len, reverse=True):
        if folded(rest) == folded(step):
            return f"steps.{step}"
        head, _, field = rest.rpartition(".")
        if head and folded(head) == folded(step) and (known := _SAID.get(folded(field), field.lower())) in STEP_FIELDS:
            return f"steps.{step}.{known}"
    return None


_SAID = {"dough": "dough temperature", "core temperature": "core", "temp": "temperature"}


def nearest(typed: str, names: Names) -> tuple[str, ...]:
    """Names that may have been meant, the likeliest first: the same at their end, a word of them, or spelled nearly so.

    >>> names = Names(recorded=("weighed.salt", "flours.medium rye flour"), possible=("measured.pieces",), steps=())
    >>> nearest("salt", names), nearest("wieghed.salt", names), nearest("flours.rye", names)
    (('weighed.salt',), ('weighed.salt',), ('flours.medium rye flour',))
    """
    known = (*names.recorded, *names.possible, *(f"steps.{step}" for step in names.steps))
    by_fold = {folded(name): name for name in known}
    wanted = folded(typed)
    block, point, rest = wanted.partition(".")
    within = {name: full for name, full in by_fold.items() if name.startswith(f"{block}.")} if point else {}
    among = within or by_fold
    last = rest or wanted
    tails = {name.partition(".")[2]: name for name in among}
    ends = [name for name in among if name.endswith((f".{wanted}", f":{wanted}", f".{last}"))]
    words = [name for tail, name in tails.items() if f" {last}" in f" {tail}"]
    spelled = [] if within else difflib.get_close_matches(wanted, among, n=2, cutoff=0.75)
    near = [tails[tail] for tail in difflib.get_close_matches(last, tails, n=2, cutoff=0.75)]
    return tuple(among[name] for name in (ends or words or spelled or near)[:3])


def in_block(typed: str, names: Names) -> tuple[str, ...]:
    """What may stand in the block that a typed name begins with; what is recorded at all where it begins with none.

    >>> in_block("steps.knead", Names(recorded=("batch",), possible=("weighed.salt",), steps=("mix", "bake")))
    ('steps.mix', 'steps.bake')
    """
    block, point, _ = typed.partition(".")
    if block.lower() == "steps":
        return tuple(f"steps.{step}" for step in names.steps)
    known = dict.fromkeys((*names.recorded, *names.possible))
    within = tuple(name for name in known if point and name.startswith(f"{block.lower()}."))
    return within or tuple(name for name in names.recorded if "." in name)


def folded(name: str) -> str:
    """A name without what does not matter in it.

    >>> folded("Measured.Dough-weight"), folded("bake date")
    ('measured.dough weight', 'bake date')
    """
    return " ".join(name.lower().replace("-", " ").replace("_", " ").split())


def possible_fields(
    items: Collection[str], bowls: Collection[tuple[str, str]], flours: Collection[str], tasters: Collection[str]
) -> tuple[str, ...]:
    """The names of values that a bake of a formula may record: by its items, those of its bowls, its flours."""
    return (
        *PLAIN,
        *(f"weighed.{item}" for item in items),
        *(f"weighed.{bowl}:{item}" for bowl, item in bowls),
        *(f"flours.{flour}" for flour in flours),
        *(f"kitchen.{name}" for name in KITCHEN),
        *(f"measured.{name}" for name in MEASURED),
        *(f"scores.{taster}.{mark}" for taster in tasters for mark in MARKS),
    )
