"""Writes in a book until it is done or killed; the crash test's victim.

Arguments: book, a name for its entries, how many, then optionally a stage, which coming of it, and
whom to kill there (`parent` or `group`). One line goes to standard output for each entry that was
confirmed; the stages go to the file NAME.stages beside the book.
"""

from __future__ import annotations

import os
import signal
import sys
from datetime import UTC, datetime
from pathlib import Path

from ovenleaf.book import store
from ovenleaf.errors import Interrupted

AT = datetime(2026, 11, 18, 7, 39, tzinfo=UTC)


def changes(name, number):
    """A formula's page, a kept revision and a trial that is new or gone: what one command writes."""
    text = f"format: formula/1\nwhy: {name} {number}\n".encode() + b"# line\n" * 40
    return {
        "formulas/market-roll.yaml": text,
        f"formulas/market-roll/r{name}-{number}.yaml": text,
        "trials/now.yaml": text if number % 2 == 0 else None,
    }


def main(root, name, count, stage="", coming="1", whom="parent"):
    record = os.open(root.parent / f"{name}.stages", os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    seen = []

    def at_stage(reached):
        os.write(record, f"{reached}\n".encode())
        seen.append(reached)
        if reached == stage and seen.count(reached) == int(coming):
            if whom == "group":
                os.killpg(0, signal.SIGKILL)
            os.kill(os.getpid(), signal.SIGKILL)

    for number in range(count):
        entry = store.Entry(subject=f"{name} {number}", by="noor", at=AT)
        try:
            written = store.write(root, changes(name, number), entry, at_stage=at_stage)
        except Interrupted as stop:
            print("interrupted", stop.saved, flush=True)
            return
        os.write(record, b"between\n")
        print(written.entry, flush=True)


main(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]), *sys.argv[4:])
