"""What stands around every command: parsing, words for what went wrong, exit codes, streams."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
import typer.main

from ovenleaf import __version__
from ovenleaf.cli import reports, table
from ovenleaf.cli.main import app
from support import MADE_UP

TESTS = Path(__file__).resolve().parent.parent
SOURCE = TESTS.parent / "src"


@pytest.fixture(autouse=True)
def _made_up_commands(request, monkeypatch):
    """The commands of the table are made up, unless a test wants the real ones."""
    if "real_commands" not in request.fixturenames:
        monkeypatch.setattr(table, "COMMANDS", MADE_UP)
        monkeypatch.setattr(table, "BARE", next(one for one in MADE_UP if one.name == "world"))


@pytest.fixture
def real_commands():
    """Asks for the table as it is."""


def test_version_is_said_on_stdout(oven):
    """`--version` says which ovenleaf this is and needs no book."""
    ran = oven("--version")
    assert (ran.code, ran.out, ran.err) == (0, f"ovenleaf {__version__}\n", "")


def test_help_lists_the_commands_in_the_order_of_the_work(oven, golden, real_commands):
    """The list stands under its headings and fits 80 columns."""
    ran = oven("--help")
    assert (ran.code, ran.err) == (0, "")
    assert max(map(len, ran.out.splitlines())) <= 80
    golden("help", ran.out)


def test_every_name_in_the_table_is_unique_and_explained(real_commands):
    """No command is listed twice or without a line."""
    names = [command.name for command in table.COMMANDS]
    assert len(set(names)) == len(names)
    assert all(command.line and command.group and ":" in command.target for command in table.COMMANDS)


def test_compare_is_the_same_command_as_diff(real_commands):
    """Both names lead to one function."""
    targets = {command.name: command.target for command in table.COMMANDS}
    assert targets["compare"] == targets["diff"]


def test_a_command_shows_its_own_help(oven):
    """`COMMAND --help` and `-h` show what the function says of itself."""
    ran = oven("bake --help")
    assert ran.code == 0
    assert "Wants a formula." in ran.out
    assert oven("bake -h") == ran


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (["say", "crumb", "5,", "crust", "7"], "['crumb', '5,', 'crust', '7']"),
        (["say", "+6", "g", "water", "-5", "C", "-.5", "-,5"], "['+6', 'g', 'water', '-5', 'C', '-.5', '-,5']"),
        (["say", "-"], "['-']"),
        (["say", "--", "--note", "x"], "['--note', 'x']"),
        (["say"], "[]"),
    ],
)
def test_words_stay_words(oven, typed, said):
    """Figures below zero, a plus and a lone dash are words, never options."""
    ran = oven(*typed)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == f"{said} crumb=None note='' step=[] json=False\n"


@pytest.mark.parametrize(
    "typed",
    [
        ["say", "roll", "tight", "--crumb", "5.5", "--note", "-3 C out", "--step", "mix", "--step", "bulk", "--json"],
        ["say", "--json", "--step=mix", "--crumb=5.5", "roll", "--step=bulk", "tight", "--note=-3 C out"],
        ["say", "--note", "-3 C out", "--step", "mix", "roll", "--json", "tight", "--step", "bulk", "--crumb", "5.5"],
    ],
)
def test_options_may_stand_anywhere(oven, typed):
    """Options before, between and after the words come to the same."""
    assert oven(*typed).out == "['roll', 'tight'] crumb=5.5 note='-3 C out' step=['mix', 'bulk'] json=True\n"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (["sya", "x"], "There is no command sya. Did you mean say?"),
        (["SAY"], "There is no command SAY. Did you mean say?"),
        (["zzzz"], "There is no command zzzz."),
        (["say", "--crum", "5"], "ovenleaf say has no option --crum. Did you mean --crumb?"),
        (["say", "-q"], "ovenleaf say has no option -q."),
        (["--bok", "x", "say"], "ovenleaf has no option --bok. Did you mean --book?"),
        (["say", "--book", "x"], "--book stands before the command: ovenleaf --book DIR COMMAND."),
        (["say", "roll", "--crumb"], "--crumb wants something after it."),
        (["--book"], "--book wants something after it."),
        (["say", "--crumb"], "--crumb wants something after it."),
        (["say", "--json=yes"], "--json takes nothing after it."),
        (["say", "--crumb", "seven"], "--crumb: 'seven' is not a number."),
        (["bake", "roll", "--pieces", "1.5"], "--pieces: '1.5' is not a whole number."),
        (["bake"], "FORMULA is missing."),
        (["bake", "roll", "two", "three"], "This is more than ovenleaf bake takes: two three"),
        (["bake", "roll", "(two)"], "This is more than ovenleaf bake takes: (two)"),
    ],
)
def test_wrong_usage_is_told_in_plain_words(oven, typed, said):
    """What was mistyped, what was probably meant, and where help is; exit code 2 and nothing on stdout."""
    ran = oven(*typed)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith(f"{said}\n\nNext\n  ovenleaf")
    assert "--help" in ran.err.splitlines()[3]


def test_a_mistyped_word_cannot_drive_the_terminal(oven):
    """An escape in what was typed is shown as its code."""
    ran = oven("\x1b[2J")
    assert ran.code == 2
    assert "\x1b" not in ran.err
    assert r"\x1b[2J" in ran.err


def test_a_refusal_is_told_on_stderr(oven, golden):
    """What, where, in detail, what next; exit code 3 and nothing on stdout."""
    ran = oven("refuse")
    assert (ran.code, ran.out) == (3, "")
    golden("refusal", ran.err)


def test_a_page_refused_lists_all_its_faults(oven, golden):
    """Each fault with its line as typed and how to mend it."""
    ran = oven("refuse-page")
    assert (ran.code, ran.out) == (3, "")
    golden("page-refused", ran.err)


def test_a_refusal_is_data_for_scripts(oven):
    """With --json a refusal is one JSON document on stderr, stdout stays empty, the exit code is the same."""
    ran = oven("refuse", "--json")
    assert (ran.code, ran.out) == (3, "")
    said = json.loads(ran.err)
    assert list(said) == ["format", "what", "where", "detail", "findings", "next"]
    assert said["format"] == "ovenleaf.refusal/1"
    assert said["where"] == {"path": "market-roll.yaml", "line": 9, "text": "  strong wheat flour: 80%"}
    assert said["next"] == [{"command": "ovenleaf enter market-roll.yaml", "words": "when it is put right"}]
    assert said["findings"] == []


def test_the_faults_of_a_page_are_data_for_scripts(oven):
    """With --json each finding carries its code."""
    said = json.loads(oven("refuse-page", "--json").err)
    assert said["where"] is None
    assert [finding["code"] for finding in said["findings"]] == ["wrong-type", "unknown-field"]
    assert said["findings"][0]["line"] == 14


def test_wrong_usage_is_data_for_scripts_too(oven):
    """With --json wrong usage is a refusal document as well, with exit code 2."""
    ran = oven("bake", "--json")
    assert (ran.code, ran.out) == (2, "")
    assert json.loads(ran.err)["what"] == "ovenleaf bake has no option --json."


def test_a_command_chooses_its_exit_code(oven):
    """What a command ends with is what the program ends with."""
    assert oven("leave").code == 1


@pytest.mark.parametrize(
    ("command", "said"),
    [
        ("stop", "Stopped. Nothing was changed.\n"),
        ("stop-unsaved", "Stopped, and not saved: market roll r3. Nothing was changed.\n"),
        ("stop-saved", "Stopped, but this was saved already: market roll r3.\n"),
        ("ask", "Stopped. Nothing was changed.\n"),
    ],
)
def test_ctrl_c_says_what_became_of_the_book(oven, command, said):
    """Ctrl-C, and input that ends at a question, stop with code 130 and say whether anything was saved."""
    ran = oven(command)
    assert (ran.code, ran.out, ran.err) == (130, "", said)


def test_a_question_gets_what_was_typed(oven):
    """stdin reaches a command."""
    assert oven("ask", typed="yes\n").out == "answer: yes\n"


def test_our_own_fault_is_one_line_and_a_report(oven, tmp_path, monkeypatch):
    """A bug ends with code 5 and one line; the report lies in the book's own state folder."""
    monkeypatch.setenv("OVENLEAF_SECRET", "do not tell")
    (tmp_path / ".git").mkdir()
    (tmp_path / "book.yaml").write_text("format: book/1\n")
    ran = oven("boom")
    assert (ran.code, ran.out) == (5, "")
    assert ran.err.count("\n") == 1
    (kept,) = (tmp_path / ".git" / "ovenleaf" / "reports").iterdir()
    assert str(kept) in ran.err
    report = kept.read_text(encoding="utf-8")
    assert __version__ in report
    assert "$ ovenleaf boom" in report
    assert "ZeroDivisionError: no flour" in report
    assert "do not tell" not in report
    assert reports.newest(tmp_path) == kept


def test_our_own_fault_outside_a_book_goes_to_the_temporary_folder(oven, tmp_path, monkeypatch):
    """Without a book, and in a copy without history, the report lies in the temporary folder."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "tmp"))
    (tmp_path / "book.yaml").write_text("format: book/1\n")
    assert oven("boom").code == 5
    (kept,) = (tmp_path / "tmp").iterdir()
    assert reports.newest(tmp_path) == kept
    assert not (tmp_path / ".git").exists()


def test_a_report_does_not_follow_a_link_out_of_the_book(oven, tmp_path, monkeypatch):
    """A state folder that leads elsewhere gets no report."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "tmp"))
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / ".git").mkdir()
    (tmp_path / ".git" / "ovenleaf").symlink_to(tmp_path / "elsewhere")
    (tmp_path / "book.yaml").write_text("format: book/1\n")
    assert oven("boom").code == 5
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_a_report_names_no_home(tmp_path, monkeypatch):
    """The home folder is left out of the report."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "tmp"))
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    kept = reports.keep(ValueError(f"in {tmp_path}/book"), ["enter", f"{tmp_path}/roll.yaml"], None)
    text = kept.read_text(encoding="utf-8")
    assert str(tmp_path) not in text
    assert "~/book" in text


def test_a_report_that_nothing_takes_is_no_second_fault(tmp_path, monkeypatch):
    """Where no folder takes the report, there is none."""
    (tmp_path / "file").write_text("")
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "file"))
    assert reports.keep(ValueError(), [], None) is None


def test_a_broken_pipe_inside_is_our_fault(oven, tmp_path, monkeypatch):
    """A pipe that broke somewhere else is not taken for a reader who has left."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "tmp"))
    assert oven("break-pipe").code == 5


def test_the_world_comes_to_a_command(oven, tmp_path):
    """Folder, fixed clock, terminal and the few variables reach a command; the rest of the environment does not."""
    ran = oven("world", now="2026-11-12T07:39:00.5+01:00", env={"EDITOR": "ed", "LESS": "x"}, terminal=True)
    assert ran.code == 0
    book, cwd, now, interactive, environ = ran.out.rstrip("\n").split(" | ")
    assert (book, cwd, now, interactive) == ("None", str(tmp_path), "2026-11-12T07:39:00+01:00", "True")
    assert "'EDITOR': 'ed'" in environ
    assert "LESS" not in environ
    assert oven("world").out.split(" | ")[3] == "False"


def test_the_clock_runs_when_it_is_not_fixed(oven):
    """Without OVENLEAF_NOW the time has an offset and whole seconds."""
    now = oven("world", now=None).out.split(" | ")[2]
    assert now.endswith("+01:00")
    assert "." not in now


@pytest.mark.parametrize("fixed", ["yesterday", "2026-11-12T07:39:00"])
def test_a_fixed_clock_needs_its_offset(oven, fixed):
    """OVENLEAF_NOW that is no time with an offset is refused."""
    ran = oven("world", now=fixed)
    assert (ran.code, ran.out) == (3, "")
    assert f"OVENLEAF_NOW is not a time with its offset: {fixed}." in ran.err


def test_the_book_is_found(oven, tmp_path):
    """`--book` wins over OVENLEAF_BOOK, and that over the nearest folder upward with a book.yaml."""
    inside = tmp_path / "ferry-lane" / "formulas"
    inside.mkdir(parents=True)
    (tmp_path / "ferry-lane" / "book.yaml").write_text("format: book/1\n")

    def book(*words, **world):
        return Path(oven(*words, cwd=inside, **world).out.split(" | ")[0])

    assert book("world") == tmp_path / "ferry-lane"
    assert book("world", env={"OVENLEAF_BOOK": str(tmp_path / "b")}) == tmp_path / "b"
    assert book("world", env={"OVENLEAF_BOOK": ""}) == tmp_path / "ferry-lane"
    assert book("--book", "c", "world", env={"OVENLEAF_BOOK": str(tmp_path / "b")}) == inside / "c"


def test_bare_ovenleaf_runs_its_own_command(oven, tmp_path):
    """Without a command the overview runs, in the book that was named."""
    ran = oven("--book", "x")
    assert ran.code == 0
    assert ran.out.startswith(str(tmp_path / "x"))


def test_a_degree_sign_never_stops_a_command(oven):
    """Output is UTF-8 on a console that claims to know ASCII only."""
    assert oven("degree").out == "25.5 °C\n"


def test_a_folder_taken_away_is_told(tmp_path):
    """A command in a folder that is gone is refused in words."""
    gone = tmp_path / "gone"
    script = f"import os; os.mkdir({str(gone)!r}); os.chdir({str(gone)!r}); os.rmdir({str(gone)!r})"
    if os.name == "nt":
        pytest.skip("Windows keeps a folder that a program stands in")
    done = _outside(f"{script}; raise SystemExit(main(['world']))")
    assert done.returncode == 3
    assert b"The folder you are in is not there any more." in done.stderr


def test_a_reader_who_leaves_is_no_fault():
    """Output into a pipe that nobody reads any more ends quietly."""
    with subprocess.Popen(
        _python("raise SystemExit(main(['much']))"), stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=_environ()
    ) as child:
        assert child.stdout.readline() == b"row 0\n"
        child.stdout.close()
        assert child.stderr.read() == b""
        assert child.wait(30) == 0


def test_a_reader_who_has_left_before_the_first_word_is_no_fault():
    """Output so short that it is written at the very end finds the pipe closed, and says nothing of it."""
    with subprocess.Popen(
        _python("raise SystemExit(main(['ask-and-leave']))"),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=_environ(),
    ) as child:
        child.stdout.close()
        child.stdin.write(b"go\n")
        child.stdin.close()
        assert child.stderr.read() == b""
        assert child.wait(30) == 0


def test_run_ends_the_process_with_the_exit_code():
    """`python -m ovenleaf` ends as `main` says."""
    done = subprocess.run(
        [sys.executable, "-m", "ovenleaf", "no-such-command"], capture_output=True, env=_environ(), check=False
    )
    assert done.returncode == 2
    assert done.stdout == b""
    assert done.stderr.startswith(b"There is no command no-such-command.")


def test_the_group_offers_names_without_loading():
    """Names come from the table."""
    group = typer.main.get_command(app)
    assert group.list_commands(None) == [command.name for command in MADE_UP]


def _python(script: str) -> list[str]:
    before = "from support import MADE_UP; from ovenleaf.cli import table; table.COMMANDS = MADE_UP; "
    return [sys.executable, "-c", f"{before}from ovenleaf.cli.main import main; {script}"]


def _environ() -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": os.pathsep.join((str(SOURCE), str(TESTS)))}


def _outside(script: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(_python(script), capture_output=True, env=_environ(), check=False)
