"""Runs one command of ovenleaf and is killed on the way; the victim of test_killed_commands.

Arguments: a stage, how many milliseconds after its first coming, whom to kill (`parent` or `group`), then the command.
The stages are those of a write, what sharing does around it (take in, combine, send), and `start`, the program's own.
What has been told on standard output is what the baker takes for done.
"""

from __future__ import annotations

import os
import signal
import sys
import threading

from ovenleaf.book import store
from ovenleaf.book.steps import exchanging
from ovenleaf.cli.main import main

STAGE, DELAY, WHOM, *COMMAND = sys.argv[1:]
struck = []


def kill():
    if WHOM == "group":
        os.killpg(0, signal.SIGKILL)
    os.kill(os.getpid(), signal.SIGKILL)


def at_stage(reached):
    if reached == STAGE and not struck:
        struck.append(reached)
        if float(DELAY) == 0:
            kill()
        timer = threading.Timer(float(DELAY) / 1000, kill)
        timer.daemon = reached == "start"  # at any moment: it may be over before
        timer.start()


def told(name, step):
    """The step, telling that it begins."""

    def told_step(*args, **more):
        at_stage(name)
        return step(*args, **more)

    return told_step


at_stage("start")
store.write.__kwdefaults__["at_stage"] = at_stage
exchanging.receive = told("take in", exchanging.receive)
exchanging.bring_together = told("combine", exchanging.bring_together)
exchanging.deliver = told("send", exchanging.deliver)
sys.exit(main(COMMAND))
