"""`python -m ovenleaf` is the same as `ovenleaf`."""

from ovenleaf.cli.main import run

run()
