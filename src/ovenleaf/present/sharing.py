"""What `share`, `join` and `settle` say: what went where, what came from whom, what there is to settle."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import mark
from ovenleaf.domain.revision import revision_name
from ovenleaf.errors import Next
from ovenleaf.present.open_questions import asked_blocks, asked_next, spoken_name
from ovenleaf.present.screen import blocks, count, date_words, day_words, join_words, next_block, rows, short_date, wrap
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.compare.news import BroughtTogether, Contents, NewBake, NewRevision, News, Renamed
    from ovenleaf.domain.revision import RevisionName
    from ovenleaf.results import Invited, Joined, Settled, Shared


def shared_screen(result: Shared) -> str:
    """A book was shared, or waits for a place that does not answer."""
    if not result.reached:
        return _waiting_screen(result)
    asked = result.asked
    return blocks(
        ahead(result),
        _head(result),
        _news(result, "Came in", "from", result.came),
        _news(result, "Went out from you", "", result.went),
        *(_together(result, one) for one in result.together),
        *asked_blocks(asked, result.me),
        "\n".join(map(wrap, (*map(_renamed, result.renamed), *result.notes))),
        _unsaved(result),
        next_block((*asked_next(asked), *_apart(result)), "Next, one of these, or any value between")
        if asked
        else _next(result),
    )


def _apart(result: Shared) -> tuple[Next, ...]:
    """The way out for two who each want their own, where the first question is of a formula and one side is mine."""
    first = result.asked[0]
    of_formula = any(one.formula == first.page for one in result.together)
    if not of_formula or result.me not in {proposal.by for proposal in first.proposals}:
        return ()
    own = f"{first.page}-{result.me}"
    return (Next(f"ovenleaf settle {first.page} --keep-both {own}", "yours becomes a formula of its own"),)


def _head(result: Shared) -> str:
    clock = result.at[11:16]
    first = wrap(f"Shared: {result.title}, {date_words(result.at)}, {clock}.")
    if result.first:
        told = f"{_counted(result.contents)} are at {result.shown} now. Nothing came in."
        return f"{first}\n{wrap(told[:1].upper() + told[1:])}"
    if result.came.empty and not result.sent and not result.together:
        return f"{first}\n{wrap('There was nothing new on either side.')}"
    return first


def _counted(contents: Contents) -> str:
    said = [count(contents.formulas, "formula"), count(contents.trials, "trial")]
    return join_words([*said, *([count(contents.photos, "photograph")] if contents.photos else [])])


def _news(result: Shared, heading: str, whom: str, news: News) -> str:
    """A block for each baker whose news it is; one's own news in one block."""
    told = list(_rows(result, news))
    found = []
    for name in dict.fromkeys(by for by, _ in told) if whom else [""]:
        lines = [wrap(words, 2) for by, words in told if not whom or by == name]
        head = _heading(heading, whom, name, result.me) if whom else heading
        found.append("\n".join((head, *lines)) if lines else "")
    return blocks(*found)


def _heading(heading: str, whom: str, name: str, me: str) -> str:
    """Whose news it is; nobody hears of herself that something came in from her."""
    if name == me:
        return f"{heading}, about your own"
    if me in name.split("."):
        return f"{heading}, brought together with yours"
    return f"{heading} {whom} {spoken_name(name, me)}" if name else heading


def _rows(result: Shared, news: News) -> Iterator[tuple[str, str]]:
    """Everything new, each with who did it."""
    for revision in news.revisions:
        yield ".".join(revision.revision.handles), _revision_words(revision, result.me)
    for bake in news.bakes:
        yield bake.by, _bake_words(bake, result.me)
    yield from news.more
    if news.photos:
        yield "", count(news.photos, "photograph")


def _revision_words(one: NewRevision, me: str) -> str:
    why = f', "{one.why}"' if one.why else ""
    return f"{one.title}, {_spoken(one.revision, me)}: {one.words or 'new'}{why}"


def _spoken(name: RevisionName, me: str) -> str:
    return f"revision {name.number} by {join_words([spoken_name(handle, me) for handle in name.handles])}"


def _bake_words(bake: NewBake, me: str) -> str:
    name = revision_name(bake.revision)
    of = _spoken(name, me) if name else bake.revision
    given = (("crumb", bake.crumb), ("crust", bake.crust))
    said = [f"{name} {mark(value)}" for name, value in given if value is not None]
    return f"trial {bake.code}, {bake.title}, {of}: {', '.join(said) or 'not scored yet'}"


def _together(result: Shared, one: BroughtTogether) -> str:
    """The revision that holds both, with whose value is whose, and what is open in it."""
    bakers = [handle for handle in one.revision.handles if handle != result.me]
    others = join_words(bakers)
    who = f"You and {others} both" if result.me in one.revision.handles else f"{join_words(one.revision.handles)} both"
    head = f"{who} changed {one.title.lower()}, so there is a revision {one.revision.number}, not yet baked."
    lines = [(item, value, _whose(whose, result.me)) for item, value, whose in one.rows]
    for asked in result.asked:
        if asked.page == one.formula:
            said = ", ".join(f"{spoken_name(p.by, result.me)} {_short(p.value)}" for p in asked.proposals)
            lines.append((asked.item, "open", said))
    return "\n".join(filter(None, (wrap(head), rows(lines, "<<<") if lines else "")))


def _short(value: str) -> str:
    return value if len(value) <= 24 else f"{value[:21]}..."


def _whose(handles: tuple[str, ...], me: str) -> str:
    return "yours" if me in handles else f"{join_words(handles)}'s"


def _renamed(one: Renamed) -> str:
    """What was made under one name in two copies, and which of the two has another now."""
    if one.kind == "code":
        _, formula, bake = one.path.removesuffix(".yaml").split("/")
        day, baker = bake[: len("2026-11-12")], bake[len("2026-11-12-") :]
        return (
            f"Two bakes were given the code {one.was} meanwhile. The one of {formula.replace('-', ' ')}"
            f" of {day_words(day)} by {baker} is {one.now} now: change its tape and pictures."
        )
    if one.kind == "trial":
        return f"Two bakes lay in {one.was}, so one of them lies in {one.path} now."
    return f"Two copies of the book saved a revision {one.was}. One of them is {one.now} now; both are kept."


def _unsaved(result: Shared) -> str:
    if not result.unsaved:
        return ""
    pages = join_words(result.unsaved[:3]) if len(result.unsaved) < 4 else count(len(result.unsaved), "page")
    return wrap(f"Edited by hand and not saved, so not sent: {pages}.")


def _next(result: Shared) -> str:
    if result.first:
        name = result.title.lower().replace(" ", "-")
        return next_block(
            (Next(f"ovenleaf join {_typed(result.shown)} {name} --baker YOUR-NAME"),), "Next, for your co-baker to type"
        )
    return next_block((Next("ovenleaf list", "what is in the book"),))


def _typed(shown: str) -> str:
    return f'"{shown}"' if " " in shown else shown


def _waiting_screen(result: Shared) -> str:
    waits = f"{count(result.waiting, 'entry', 'entries')} of yours waits" if result.waiting == 1 else ""
    waits = waits or f"{count(result.waiting, 'entry', 'entries')} of yours wait"
    waits = f"{waits[:1].upper()}{waits[1:]}" if result.waiting else "Nothing of yours waits"
    return blocks(
        wrap(f"Not sent: {result.shown} {result.why_not}. {waits}; nothing is lost."),
        next_block((Next("ovenleaf share", "when it can be reached again"),)),
    )


def preview_screen(result: Shared) -> str:
    """What would go, and that nothing went."""
    contents = result.contents
    if not result.first:
        waits = count(result.waiting, "entry", "entries")
        return blocks(
            wrap(f"Nothing has been sent. {waits[:1].upper()}{waits[1:]} would go to {result.shown}."),
            _news(result, "Would go out from you", "", result.went),
            _unsaved(result),
            next_block((Next("ovenleaf share", "send it, and take in what is there"),)),
        )
    days = dict.fromkeys(map(short_date, (contents.first_day, contents.last_day))) if contents.trials else ()
    table = [
        (_figure(contents.formulas, "formula"), f"{_figure(contents.revisions, 'revision')} in all"),
        (_figure(contents.trials, "trial"), " to ".join(days)),
        *([(_figure(contents.photos, "photograph"), "")] if contents.photos else []),
        (_figure(len(contents.names), "name"), ", ".join(contents.names)),
    ]
    return blocks(
        wrap(f"Nothing has been sent. This would go to {result.shown}:"),
        rows(table, "<<"),
        wrap(
            "The whole book goes, with its earlier pages; a part of it cannot be held back, and what was sent cannot"
            " be called back. A formula that must stay with you belongs in a second book."
        ),
        _unsaved(result),
        next_block((Next(f"ovenleaf share --at {_typed(result.shown)}", "send it"),)),
    )


def _figure(number: int, noun: str) -> str:
    return f"{number} {noun if number == 1 else noun + 's'}"


_OWN_FOLDER = (
    "The folder is named as your computer names it. On theirs a stick or a common folder may be called otherwise: they"
    " put their own name for it in its place."
)


def invited_screen(result: Invited) -> str:
    """A note to send on."""
    if not result.shared:
        return blocks(
            wrap("The book has not been sent there yet, so there is nothing to join."),
            next_block((Next("ovenleaf share", "send it first"),)),
        )
    return blocks(
        "A note to send:",
        "\n".join(
            (
                wrap(f"{result.title} is a book of bread formulas and bakes, kept with ovenleaf.", 2),
                wrap("When ovenleaf is on your computer, type this for a copy of your own:", 2),
                "",
                f"    ovenleaf join {_typed(result.shown)} {result.folder} --baker YOUR-NAME",
                "",
                wrap("YOUR-NAME is yours in the book: one word, in small letters.", 2),
            )
        ),
        "" if "://" in result.shown else wrap(_OWN_FOLDER),
    )


def joined_screen(result: Joined) -> str:
    """A copy of one's own."""
    last = f"Last written by {result.last_by}, {_when(result)}."
    return blocks(
        ahead(result),
        "\n".join(
            (
                wrap(f"Joined: {result.title}, in the folder {result.folder}. You bake here as {result.me}."),
                wrap(f"{_first_up(_counted(result.contents))}. {last}"),
            )
        ),
        next_block((Next(f"cd {result.folder}"), Next("ovenleaf list", "what is in the book"))),
    )


def _first_up(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _when(result: Joined) -> str:
    if result.last_at[:10] == result.now[:10]:
        return f"today at {result.last_at[11:16]}"
    return date_words(result.last_at)


def settled_screen(result: Settled) -> str:
    """Questions that were settled, and what is still open."""
    if result.spoken:
        head = f"Settled: {result.title}, {result.spoken}, made from {result.made_from}, not yet baked."
    else:
        head = f"Settled: {result.title}."
    table = rows([(row.item, row.value, _settled_whose(row.whose, result.me)) for row in result.rows], "<<<")
    return blocks(
        ahead(result),
        wrap(head),
        table,
        _settled_words(result),
        next_block(_settled_next(result)),
    )


def _settled_whose(whose: str, me: str) -> str:
    return "" if not whose else "yours" if me in whose.split(".") else f"{spoken_name(whose, me)}'s"


def _settled_words(result: Settled) -> str:
    said = ["The flours still come to 100 %."] if result.spoken else []  # else it would not have been kept
    said.append(f"Still open: {join_words(result.left)}." if result.left else "Nothing else is open.")
    if result.new_name:
        said.append(f"Your own way goes on as {result.new_name}, a formula of its own.")
    if result.kept:
        said.append(f"The revisions of both stay as they were, under the names {join_words(result.kept)}.")
    return wrap(" ".join(said))


def _settled_next(result: Settled) -> tuple[Next, ...]:
    show = Next(f"ovenleaf show {result.page}", "as it stands now")
    if not result.shares:
        return (show,)
    wait = count(result.waiting, "entry", "entries")
    return (Next("ovenleaf share", f"{wait} not yet shared"), show)
