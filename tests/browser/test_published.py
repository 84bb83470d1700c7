"""Published pages in headless Chromium: a sheet prints on one page of either paper, and pages load as meant."""

from __future__ import annotations

import base64
import hashlib
import re
import shutil
import subprocess

import pytest

NOW = "2026-11-25T12:00:00+01:00"
BROWSER = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
FORMULAS = ("market-roll", "caraway-rye", "honey-milk-bun", "olive-flatbread", "seeded-roll", "advent-loaf")
PLANNED = "--room 20C --flour-temp 19C --ready 2026-11-29T07:00"

pytestmark = [
    pytest.mark.counted,
    pytest.mark.skipif(BROWSER is None, reason="Chromium is not installed: apt-get install chromium"),
]


def browse(tmp_path, *options):
    """Runs the browser with a home of its own; what it says on stderr."""
    words = (
        BROWSER,
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--enable-logging=stderr",
        "--no-pdf-header-footer",
    )
    home = f"--user-data-dir={tmp_path / 'browser'}"
    ran = subprocess.run([*words, home, *options], capture_output=True, text=True, timeout=120, check=True)
    return ran.stderr


def on_paper(page, size):
    """The page with its paper named, its content policy true to the style as it is then."""
    page = page.replace("@page { margin", f"@page {{ size: {size}; margin")
    style = re.search(r"<style>(.*?)</style>", page, re.DOTALL)[1]
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    return re.sub(r"sha256-[^&]*", f"sha256-{digest}", page, count=1)


@pytest.mark.parametrize("size", ["A4", "letter"])
@pytest.mark.parametrize("name", FORMULAS)
def test_a_sheet_prints_on_one_page(name, size, sample_book, oven, tmp_path):
    """With a plan and all its blanks, whatever the formula holds."""
    ran = oven(f"publish {name} --as sheet {PLANNED} --out ../sheet.html", cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err
    sheet = sample_book.parent / "sheet.html"
    sheet.write_text(on_paper(sheet.read_text(encoding="utf-8"), size), encoding="utf-8")
    printed = tmp_path / "sheet.pdf"
    browse(tmp_path, f"--print-to-pdf={printed}", sheet.as_uri())
    pdf = printed.read_bytes()
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == 1
    width = float(re.search(rb"/MediaBox\s*\[\s*0 0 ([0-9.]+)", pdf)[1])
    assert width == pytest.approx(595 if size == "A4" else 612, abs=1)


@pytest.mark.parametrize("kind", ["recipe", "sheet"])
def test_a_page_loads_without_a_complaint(kind, sample_book, oven, tmp_path):
    """The browser refuses nothing of it by its content policy, and its style is in force."""
    ran = oven(f"publish advent-loaf --as {kind} --out ../page.html", cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err
    page = sample_book.parent / "page.html"
    said = browse(tmp_path, "--dump-dom", page.as_uri())
    assert "CONSOLE" not in said, said
    broken = page.with_name("broken.html")
    broken.write_text(page.read_text(encoding="utf-8").replace("<style>", "<style>p{}"), encoding="utf-8")
    assert "CONSOLE" in browse(tmp_path, "--dump-dom", broken.as_uri())  # so that the check above can fail
