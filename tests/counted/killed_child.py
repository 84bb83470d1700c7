"""Runs commands of ovenleaf that are killed on the way; the victims of test_killed_commands.

Each line of standard input is a plan, in JSON: the folder, a stage, how many milliseconds after its first coming, whom
to kill (`parent` or `group`), a file for what is told, and the command. Each is run by a process of its own, begun from
this one, which has read in the whole program and done nothing else; how it ended is answered by a line.
The stages are those of a write, what sharing does around it (take in, combine, send), and `start`, the command's own.
What has been told on standard output is what the baker takes for done.
"""

from __future__ import annotations

import importlib
import json
import os
import pkgutil
import signal
import sys
import threading

import ovenleaf
from ovenleaf.book import store
from ovenleaf.book.steps import exchanging
from ovenleaf.cli.main import main


def kill(whom):
    if whom == "group":
        os.killpg(0, signal.SIGKILL)
    os.kill(os.getpid(), signal.SIGKILL)


def telling(stage, delay, whom):
    """What to call at each stage: at its first coming, the time of the victim runs."""
    struck = []

    def at_stage(reached):
        if reached == stage and not struck:
            struck.append(reached)
            if delay == 0:
                kill(whom)
            timer = threading.Timer(delay / 1000, kill, [whom])
            timer.daemon = reached == "start"  # at any moment: it may be over before
            timer.start()

    return at_stage


def told(name, step, at_stage):
    """The step, telling that it begins."""

    def told_step(*args, **more):
        at_stage(name)
        return step(*args, **more)

    return told_step


def victim(root, stage, delay, whom, file, *command):
    """Runs the command in a group of its own, and ends."""
    os.setsid()
    os.chdir(root)
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    os.dup2(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), 1)
    at_stage = telling(stage, delay, whom)
    at_stage("start")
    store.write.__kwdefaults__["at_stage"] = at_stage
    exchanging.receive = told("take in", exchanging.receive, at_stage)
    exchanging.bring_together = told("combine", exchanging.bring_together, at_stage)
    exchanging.deliver = told("send", exchanging.deliver, at_stage)
    sys.exit(main(command))


# A command reads in what it needs only when it runs; here that is done once, and not by every victim anew.
for room in pkgutil.walk_packages(ovenleaf.__path__, "ovenleaf."):
    if not room.name.endswith("__main__"):
        importlib.import_module(room.name)
for line in sys.stdin:
    child = os.fork()
    if child == 0:
        victim(*json.loads(line))
    print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)
