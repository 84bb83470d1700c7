"""Which commands there are, as data: name, where its function lives, one line of help.

Imports none of them, so that the list can be shown without loading what they lean on.
"""

from __future__ import annotations

from typing import NamedTuple


class Command(NamedTuple):
    """One command: what is typed, the function as 'module:function', and its line in the list."""

    name: str
    target: str
    line: str
    group: str


_HERE = "ovenleaf.cli.commands"

# In the order of the work, within each group and from group to group.
COMMANDS: tuple[Command, ...] = (
    Command("enter", f"{_HERE}.enter:command", "put in a formula, asked line by line or from a page", "The formula"),
    Command("adopt", f"{_HERE}.adopt:command", "take in a household recipe, every weight shown", "The formula"),
    Command("tweak", f"{_HERE}.tweak:command", "make a new revision: what changes, and why", "The formula"),
    Command("save", f"{_HERE}.save:command", "keep what was edited by hand", "The formula"),
    Command("weigh", f"{_HERE}.weigh:command", "the weigh-up: bowls, water temperature, schedule", "The bake"),
    Command("begin", f"{_HERE}.begin:command", "begin a bake: a code for tape and tub, lines to follow", "The bake"),
    Command("jot", f"{_HERE}.jot:command", "a line at the bench, as you say it; alone, the bench prompt", "The bake"),
    Command("finish", f"{_HERE}.finish:command", "close a bake, with its marks", "The bake"),
    Command("mark", f"{_HERE}.mark:command", "say what a revision is worth, such as keeper", "The formula"),
    Command("copy", f"{_HERE}.copy:command", "begin a new formula from one that is there", "The formula"),
    Command("retire", f"{_HERE}.retire:command", "put a formula away", "The formula"),
    Command("record", f"{_HERE}.record:command", "log a bake: how it was done and how it came out", "The bake"),
    Command("score", f"{_HERE}.score:command", "add a taster's marks to a bake", "The bake"),
    Command("correct", f"{_HERE}.correct:command", "put a bake right, with the old value kept beside it", "The bake"),
    Command("photo", f"{_HERE}.photo:command", "put pictures with a bake", "The bake"),
    Command("diff", f"{_HERE}.diff:command", "two revisions side by side, and their bakes", "Comparing"),
    Command("compare", f"{_HERE}.diff:command", "the same as diff", "Comparing"),
    Command("rank", f"{_HERE}.rank:command", "order bakes or revisions by their crumb and crust scores", "Comparing"),
    Command("history", f"{_HERE}.history:command", "a formula's revisions, and why each was made", "Comparing"),
    Command("next", f"{_HERE}.next:command", "what to bake next, and what that would tell", "Comparing"),
    Command("taste", f"{_HERE}.taste:command", "a blind tasting: set up, told by code, opened", "Comparing"),
    Command("start", f"{_HERE}.start:command", "begin a book in a new folder", "The book"),
    Command("list", f"{_HERE}.list:command", "what is in the book", "The book"),
    Command("find", f"{_HERE}.find:command", "find bakes by what was measured, done and noted", "The book"),
    Command("ingredient", f"{_HERE}.ingredient:command", "add an ingredient to the book's own list", "The book"),
    Command("show", f"{_HERE}.show:command", "a formula's sheet, a trial or an ingredient", "The book"),
    Command("publish", f"{_HERE}.publish:command", "bring a formula out for others: a recipe", "The book"),
    Command("undo", f"{_HERE}.undo:command", "take the last entry back, visibly", "The book"),
    Command("share", f"{_HERE}.share:command", "exchange the book with co-bakers", "With others"),
    Command("join", f"{_HERE}.join:command", "your own copy of a book that is shared with you", "With others"),
    Command(
        "settle",
        f"{_HERE}.settle:command",
        "settle what two bakers changed in two ways, or a card leaves open",
        "With others",
    ),
    Command("check", f"{_HERE}.check:command", "look the whole book over for mistakes", "The book"),
    Command("completion", f"{_HERE}.completion:command", "let the shell finish names at Tab", "The book"),
)

# What `ovenleaf` alone runs: what is in hand and what is due next. Not in the list.
BARE = Command("now", f"{_HERE}.now:command", "", "")
