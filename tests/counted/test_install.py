"""The wheel and the sdist: what is installed away from the source tree does the main job."""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

pytestmark = pytest.mark.counted
ROOT = Path(__file__).parents[2]
PAGE = "formula: x-loaf\ningredients:\n  strong wheat flour: 100%\n  water: 65%\n  salt: 2%\n"


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """A wheel and an sdist of this tree."""
    folder = tmp_path_factory.mktemp("dist")
    pip = [sys.executable, "-m", "pip"]
    subprocess.run([*pip, "wheel", "-q", "--no-deps", "-w", folder, ROOT], check=True)
    venv = tmp_path_factory.mktemp("build")
    subprocess.run([sys.executable, "-m", "venv", venv], check=True)
    subprocess.run([venv / "bin/pip", "install", "-q", "hatchling"], check=True)
    subprocess.run([venv / "bin/python", "-m", "hatchling", "build", "-t", "sdist", "-d", folder], cwd=ROOT, check=True)
    return folder


def test_schemas_and_sample_book_travel(built):
    """Both hold the schemas, the sample book and the licence."""
    names = zipfile.ZipFile(next(built.glob("*.whl"))).namelist()
    assert "ovenleaf/assets/schemas/formula.v1.json" in names
    assert "ovenleaf/assets/sample-book/diary.yaml" in names
    assert "ovenleaf/ingredients.yaml" in names
    assert any(name.endswith("LICENSE") for name in names)
    with tarfile.open(next(built.glob("*.tar.gz"))) as sdist:
        packed = sdist.getnames()
    assert any(name.endswith("/schemas/formula.v1.json") for name in packed)
    assert any(name.endswith("/sample-book/diary.yaml") for name in packed)


def test_the_installed_wheel_does_the_main_job(built, tmp_path):
    """In a new environment without the test extra, away from the source: start, enter, record, diff, rank."""
    venv = tmp_path / "venv"
    subprocess.run([sys.executable, "-m", "venv", venv], check=True)
    subprocess.run([venv / "bin/pip", "install", "-q", next(built.glob("*.whl"))], check=True)
    env = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}

    def run(*words, cwd=tmp_path, typed=""):
        ran = subprocess.run(
            [venv / "bin/ovenleaf", *words], cwd=cwd, env=env, capture_output=True, text=True, input=typed, check=False
        )
        assert ran.returncode == 0, ran.stderr
        return ran.stdout

    run("start", "look", "--sample")
    assert "revision 3" in run("--book", "look", "rank", "market-roll")
    run("start", "stall", "--baker", "noor")
    book = tmp_path / "stall"
    run("enter", "-", cwd=book, typed=PAGE)
    run("record", "x-loaf", "--crumb", "7", "--crust", "8", cwd=book)
    run("tweak", "x-loaf", "water=68%", "--why", "softer", cwd=book)
    assert "up 3.0 points" in run("diff", "x-loaf", cwd=book)
    assert "nothing found" in run("check", cwd=book)
