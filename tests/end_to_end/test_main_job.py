"""The main job on a published formula: enter, tweak, edit by hand, record, compare, rank. Every screen is golden."""

from __future__ import annotations

import json
import re
import shutil

import pytest

from refusals_support import reads_well

PAGE = """\
formula: poolish-bread
title: Poolish bread
makes: 2 loaves of 500 g
aims:
  crust: crackling, deep brown
  crumb: open, a little chewy

ingredients:
  wheat flour: 100%
  water: 68%          # a published formula; e-ISBN 9780062447937
  salt: 2%
  instant yeast: 0.5%

preferments:
  poolish:
    takes: 33% of the flour
    wheat flour: 100%
    water: 100%
    instant yeast: 0.1%
    rest: 12 h at 21 C

process:
  - mix: 6 min, low, dough 24 C
  - bulk: 2 h at 24 C, until doubled
  - divide: 500 g
  - final proof: 60 min at 24 C
  - bake: 35 min at 240 C, steam
"""

STORY = [
    ("start", "start stall --title Stall --baker noor", "2026-11-04T18:00"),
    ("enter", "enter -", "2026-11-04T18:10"),
    ("record-1", "record poolish-bread crumb 6, crust 7, dough 24C, a little tight", "2026-11-05T13:00"),
    ("score-1", "score A1 --taster tomas --crumb 6 --crust 8", "2026-11-05T19:00"),
    (
        "record-2",
        'record poolish-bread --crumb 7 --crust 7 --batch "587 g flour" --weighed water=402g',
        "2026-11-07T13:00",
    ),
    ("score-2", "score last --taster tomas --crumb 7 --crust 8 --hours-after 5", "2026-11-07T19:00"),
    ("tweak-whole", 'tweak poolish-bread water=71% --why "a more open crumb"', "2026-11-08T18:00"),
    ("record-3", "record poolish-bread crumb 8, crust 7, dough 25C", "2026-11-09T13:00"),
    ("score-3", "score A3 --taster tomas --crumb 8 --crust 7", "2026-11-09T19:00"),
    ("tweak-part", 'tweak poolish-bread poolish:water=110% --why "a softer poolish"', "2026-11-10T18:00"),
    ("record-4", "record poolish-bread --crumb 8 --crust 8 --dough-temp 24.5C", "2026-11-11T13:00"),
    ("tweak-step", 'tweak poolish-bread bulk.time=150min --why "more time for flavour"', "2026-11-12T18:00"),
    ("record-5", "record poolish-bread --crumb 8 --crust 7 --taster tomas", "2026-11-13T13:00"),
    ("edit", "", ""),
    ("save", 'save --why "a darker crust"', "2026-11-14T18:00"),
    ("record-6", "record poolish-bread --crumb 8 --crust 9", "2026-11-15T13:00"),
    ("list", "list", "2026-11-16T08:00"),
    ("show", "show poolish-bread", "2026-11-16T08:00"),
    ("show-trial", "show A2", "2026-11-16T08:00"),
    ("diff", "diff poolish-bread", "2026-11-16T08:00"),
    ("diff-1-2", "diff poolish-bread r1 r2", "2026-11-16T08:00"),
    ("diff-2-3", "diff poolish-bread r2 r3", "2026-11-16T08:00"),
    ("rank", "rank poolish-bread", "2026-11-16T08:00"),
    ("rank-by-revision", "rank poolish-bread --by revision", "2026-11-16T08:00"),
    ("history", "history poolish-bread", "2026-11-16T08:00"),
    ("check", "check", "2026-11-16T08:00"),
    ("now", "--book . ", "2026-11-16T08:00"),
]


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    """Every screen of the story, by name, and the book that it leaves."""
    from support import run_ovenleaf

    folder = tmp_path_factory.mktemp("story")
    book = folder / "stall"
    screens = {}
    for name, line, at in STORY:
        if name == "edit":
            page = book / "formulas/poolish-bread.yaml"
            page.write_text(page.read_text().replace("35 min at 240 C", "38 min at 240 C"))
            continue
        words = ["--book", "."] if name == "now" else None
        world = {
            "cwd": folder if name == "start" else book,
            "now": f"{at}:00+01:00",
            "typed": PAGE if name == "enter" else "",
        }
        ran = run_ovenleaf(*words, **world) if words else run_ovenleaf(line, **world)
        assert ran.code == 0, (name, ran.err)
        screens[name] = ran.out
    return screens, book


@pytest.mark.parametrize("name", [name for name, _, _ in STORY if name != "edit"])
def test_every_screen_of_the_main_job_reads_well(name, told, golden):
    """80 columns, no git word, no sign in front of a line; each screen is as it was last read by eye."""
    screen = told[0][name]
    reads_well(screen)
    assert max(map(len, screen.splitlines())) <= 80
    golden(f"main_job/{name}", screen)


def run(book, *words):
    """One reading command over the finished book, as JSON."""
    from support import run_ovenleaf

    ran = run_ovenleaf(*words, "--json", cwd=book, now="2026-11-16T08:00:00+01:00")
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def test_json_has_the_keys_that_scripts_rely_on(told):
    """The keys of each document stand."""
    book = told[1]
    diff = run(book, "diff", "poolish-bread", "r1", "r2")
    assert {"formula", "from", "to", "ingredients", "totals", "process", "changes", "outcome"} <= set(diff)
    assert set(diff["ingredients"][0]) == {"item", "stage", "from_pct", "to_pct", "change_points"}
    assert set(diff["totals"][0]) == {"name", "from_pct", "to_pct", "change_points"}
    assert {"doughs", "crumb", "crust", "score"} == set(diff["outcome"]["from"])
    assert (diff["from"], diff["to"], diff["changes"]) == ("r1.noor", "r2.noor", 1)
    rank = run(book, "rank", "poolish-bread")
    assert {"scale", "weights", "rows", "left_out"} <= set(rank)
    assert {"place", "trial", "code", "formula", "revision", "score", "crumb", "crust", "tasters"} <= set(
        rank["rows"][0]
    )
    revisions = run(book, "rank", "poolish-bread", "--by", "revision")
    assert {"place", "revision", "doughs", "mean", "low", "high", "lowest", "chance_best"} <= set(revisions["rows"][0])
    history = run(book, "history", "poolish-bread")
    wanted = {"revision", "number", "by", "saved", "why", "mark", "pin", "doughs", "crumb", "crust", "score"}
    assert wanted <= set(history["revisions"][0])
    assert {"ingredients", "preferments", "final_dough", "totals"} <= set(run(book, "show", "poolish-bread"))
    assert run(book, "check")["findings"] == []
    steps = run(book, "diff", "poolish-bread", "r3", "r4")["process"]
    assert steps == [{"step": "bulk", "field": "time", "from": "2 h", "to": "2 h 30 min"}]
    weigh = run(book, "weigh", "poolish-bread")
    assert {"flour_g", "dough_g", "pieces", "each_g", "bowls", "water_temperature_c", "ice_g"} <= set(weigh)
    assert set(weigh["bowls"][0]) >= {"name", "lines"}
    assert set(weigh["bowls"][0]["lines"][0]) >= {"item", "pct", "grams"}


def test_a_finding_has_the_keys_that_scripts_rely_on(told, tmp_path):
    """What check finds says what, how bad, where, and how to mend it."""
    from support import run_ovenleaf

    book = shutil.copytree(told[1], tmp_path / "stall")
    page = book / "formulas/poolish-bread.yaml"
    page.write_text(page.read_text().replace("  salt: 2%", "  salt: two"))
    ran = run_ovenleaf("check --json", cwd=book, now="2026-11-16T08:00:00+01:00")
    assert ran.code == 1
    (finding,) = json.loads(ran.out)["findings"]
    assert {"code", "severity", "path", "line", "message", "fix"} <= set(finding)
    assert (finding["severity"], finding["path"]) == ("error", "formulas/poolish-bread.yaml")
    assert page.read_text().splitlines()[finding["line"] - 1] == "  salt: two"


def test_only_the_poolish_moved_when_the_poolish_was_tweaked(told):
    """The whole stays; the split of the poolish has a row of its own."""
    diff = run(told[1], "diff", "poolish-bread", "r2", "r3")
    assert diff["changes"] == 1
    assert [row["item"] for row in diff["ingredients"] if row["stage"] == "poolish"] == ["water"]
    assert not any(row["change_points"] for row in diff["ingredients"] if row["stage"] is None)


def test_next_commands_can_be_typed_as_they_stand(told):
    """Each reading command that a screen offers next, without a blank to fill in, works."""
    from support import run_ovenleaf

    screens, book = told
    offered = {
        c
        for s in screens.values()
        for c in re.findall(r"^  ovenleaf ((?:list|show|diff|rank|history|check|weigh)\b.*?)(?:\s{3,}|$)", s, re.M)
    }
    assert offered
    for command in sorted(offered):
        if "FORMULA" not in command:
            assert run_ovenleaf(command, cwd=book, now="2026-11-16T08:00:00+01:00").code == 0, command
