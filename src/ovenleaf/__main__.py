"""`python -m ovenleaf` is the same as `ovenleaf`."""

from ovenleaf.cli.front import run

run()
