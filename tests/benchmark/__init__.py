"""How long a baker waits, beside what else could be run for the same answer: `python -m tests.benchmark`."""
