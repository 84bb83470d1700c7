"""A disk so small that it soon is full, for tests."""

from __future__ import annotations

import shutil
import subprocess
from contextlib import contextmanager

import pytest


@contextmanager
def small_disk(folder, *, megabytes):
    """A disk of so many megabytes at `folder`; skips the test where none can be made."""
    folder.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", f"size={megabytes}m", "tmpfs", str(folder)]
    if shutil.which("mount") is None or subprocess.run(command, capture_output=True).returncode != 0:
        pytest.skip("a small disk can be made by root on Linux only; test_store stands for it elsewhere")
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)
